//! What one act has written so far: a log where there is none, what is owed about time itself, the act's entries.

use crate::clock::Now;
use crate::time::{self, Axis};
use crate::wire::WireError;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use logbook::entry::book::{Continues, LogStart};
use logbook::entry::{Body, Draft, Stamp};
use logbook::store::{Appended, Block, Book, Head, Home};

type Ids = Box<dyn FnMut() -> String + Send>;

/// Entries of one act in one transaction.
pub(super) struct Written<'a> {
    book: &'a Book,
    stamp: &'a Stamp,
    appended: Option<Appended>,
}

impl<'a> Written<'a> {
    /// Nothing yet.
    pub fn new(book: &'a Book, stamp: &'a Stamp) -> Written<'a> {
        Written { book, stamp, appended: None }
    }

    /// A log to append to: the first of a new book, or a new one that goes on from the old when the book was copied,
    /// restored or opened on another machine. A clock without a machine (a made-up shop's) leaves no home.
    pub fn own_log(&mut self, now: &Now, ids: &mut Ids, file: &str, made_up: bool) -> Result<(), WireError> {
        let here = Home { machine: now.machine.clone(), file: file.to_owned() };
        let Some(head) = self.book.own()? else {
            return self.begin(ids, LogStart { program: program(), made_up: made_up.then_some(true), continues: None });
        };
        if here.machine.is_empty() || here.file.is_empty() {
            return Ok(());
        }
        match self.book.home()? {
            Some(home) if home == here => Ok(()),
            None => Ok(self.book.set_home(&here)?),
            Some(_) => {
                self.book.set_home(&here)?;
                let made_up = self.made_up(&head)?;
                let continues = Continues { log: head.log, size: head.size, root: STANDARD.encode(head.root) };
                self.begin(ids, LogStart { program: program(), made_up, continues: Some(continues) })
            }
        }
    }

    /// A log that goes on from invented data is invented too.
    fn made_up(&self, head: &Head) -> Result<Option<bool>, WireError> {
        let first = self.book.entry_at(&head.log, 0)?;
        Ok(first.and_then(|entry| if let Body::LogStart(start) = entry.body { start.made_up } else { None }))
    }

    fn begin(&mut self, ids: &mut Ids, start: LogStart) -> Result<(), WireError> {
        let draft = draft(ids(), Body::LogStart(start), self.stamp.entered_ms);
        let appended = self.book.begin_log(&ids(), self.stamp, draft)?;
        self.add(appended);
        Ok(())
    }

    /// Writes what is owed about time itself, and gives the axis that then holds.
    pub fn time(&mut self, now: &Now, ids: &mut Ids) -> Result<Axis, WireError> {
        let axis = time::axis(self.book, now)?;
        let owed = time::owed(&axis, now);
        if owed.is_empty() {
            return Ok(axis);
        }
        let drafts = owed.into_iter().map(|(body, at_ms)| draft(ids(), body, at_ms)).collect();
        self.append(drafts, &[])?;
        Ok(time::axis(self.book, now)?)
    }

    /// Appends entries to the own log.
    pub fn append(&mut self, drafts: Vec<Draft>, blocks: &[Block]) -> Result<(), WireError> {
        let size = match &self.appended {
            Some(appended) => appended.head.size,
            None => self.book.own()?.map_or(0, |head| head.size),
        };
        let appended = self.book.append(size, self.stamp, drafts, blocks)?;
        self.add(appended);
        Ok(())
    }

    fn add(&mut self, more: Appended) {
        match &mut self.appended {
            Some(appended) => {
                appended.head = more.head;
                appended.entries.extend(more.entries);
            }
            None => self.appended = Some(more),
        }
    }

    /// Everything written.
    pub fn done(self) -> Result<Appended, WireError> {
        self.appended.ok_or_else(|| WireError::new("fault", "An act wrote nothing.", ""))
    }
}

fn draft(id: String, body: Body, happened_ms: i64) -> Draft {
    Draft { id, body, about: vec![], happened_ms, corrects: None, why: None, person: None }
}

fn program() -> String {
    env!("CARGO_PKG_VERSION").to_owned()
}
