//! The desk at which one act is written: the book as it stands, the instant, who acts, and the entries so far.

use super::{names, text};
use crate::clock::Now;
use crate::judge::Judge;
use crate::time::Axis;
use crate::wire::{WireError, shown};
use logbook::entry::{Body, Draft, Entry, Id};
use logbook::settled::{Seen, Settled, settle};
use logbook::store::{Block, Book, Noun};
use std::sync::Arc;

/// Most entries looked back on for a session.
const LOOK_BACK: u64 = 512;

/// What an act is written with.
pub(crate) struct Desk<'a> {
    /// The book, inside the act's transaction.
    pub book: &'a Book,
    /// The axis now.
    pub axis: &'a Axis,
    /// The clocks now.
    pub now: &'a Now,
    /// Everything the book holds, as it stands before this act.
    pub judge: Judge<'a>,
    /// Who acts.
    pub person: Option<Id>,
    /// The person's name is what this act enters.
    pub names_itself: bool,
    /// When it happened.
    pub happened_ms: i64,
    /// The instant was typed: it is not now.
    pub typed_instant: bool,
    /// Why, as typed around the body.
    pub why: Option<String>,
    /// The entry that a correction replaces, as it is in force.
    pub replaces: Option<Arc<Settled>>,
    /// Entries to append.
    pub drafts: Vec<Draft>,
    /// Blocks of readings to store.
    pub blocks: Vec<Block>,
    /// The act that said the same already: nothing is appended and its receipt is repeated.
    pub same_as: Option<String>,
    ids: &'a mut dyn FnMut() -> String,
    tail: Option<Arc<Vec<Entry>>>,
}

impl<'a> Desk<'a> {
    /// An empty desk for a live act by nobody in particular.
    pub fn new(book: &'a Book, axis: &'a Axis, now: &'a Now, ids: &'a mut dyn FnMut() -> String) -> Desk<'a> {
        Desk {
            book,
            axis,
            now,
            judge: Judge::new(book, Seen::ALL, axis),
            person: None,
            names_itself: false,
            happened_ms: axis.now_ms,
            typed_instant: false,
            why: None,
            replaces: None,
            drafts: Vec::new(),
            blocks: Vec::new(),
            same_as: None,
            ids,
            tail: None,
        }
    }

    /// The latest instant that is not the future: the larger of axis and wall clock.
    pub fn latest_ms(&self) -> i64 {
        self.axis.now_ms.max(self.now.wall_ms)
    }

    /// A fresh id.
    pub fn fresh(&mut self) -> Id {
        (self.ids)()
    }

    /// The thing that a correction replaces.
    pub fn own_id(&self) -> Option<Id> {
        self.replaces.as_ref().map(|one| one.entry.id.clone())
    }

    /// Lays an entry down; under a correction it replaces the original. Gives the id of what is spoken of: the
    /// original's under a correction.
    pub fn put(&mut self, body: Body, about: Vec<Id>) -> Id {
        let id = self.fresh();
        self.put_as(id, body, about)
    }

    /// As [`Desk::put`], under an id drawn before.
    pub fn put_as(&mut self, id: Id, body: Body, mut about: Vec<Id>) -> Id {
        let corrects = self.own_id();
        if let Some(original) = &self.replaces {
            about.splice(0..0, original.entry.about.iter().map(|one| one.id.clone()));
        }
        self.drafts.push(Draft {
            id: id.clone(),
            body,
            about,
            happened_ms: self.happened_ms,
            corrects: corrects.clone(),
            why: self.why.clone(),
            person: self.person.clone(),
        });
        corrects.unwrap_or(id)
    }

    /// The id an entry about itself gets: a fresh one, or the original's under a correction.
    pub fn subject_id(&mut self) -> (Id, Id) {
        let id = self.fresh();
        let subject = self.own_id().unwrap_or_else(|| id.clone());
        (id, subject)
    }

    /// The thing of a name.
    pub fn find(&self, noun: Noun, field: &str, typed: &str) -> Result<Id, WireError> {
        names::resolve(self.book, noun, field, typed)
    }

    /// The thing of a name, where one was typed.
    pub fn find_if(&self, noun: Noun, field: &str, typed: Option<&str>) -> Result<Option<Id>, WireError> {
        typed.map(|typed| self.find(noun, field, typed)).transpose()
    }

    /// A name nobody else of this noun bears.
    pub fn unused(&self, noun: Noun, field: &str, typed: &str) -> Result<String, WireError> {
        let name = text::name(field, typed)?;
        let own = self.own_id();
        if self.book.find(noun, &name)?.iter().any(|id| Some(id) != own.as_ref()) {
            return Err(taken(noun, field, &name));
        }
        Ok(name)
    }

    /// One thing as it is in force.
    pub fn in_force(&self, id: &str) -> Result<Option<Arc<Settled>>, WireError> {
        Ok(self.judge.in_force(id)?)
    }

    /// The last hours of the own log before this act, as entered.
    pub fn tail(&mut self) -> Result<Arc<Vec<Entry>>, WireError> {
        if let Some(known) = &self.tail {
            return Ok(known.clone());
        }
        let tail = recent_tail(self.book, self.happened_ms)?;
        let tail = Arc::new(tail);
        self.tail = Some(tail.clone());
        Ok(tail)
    }

    /// The same, settled.
    pub fn recent(&mut self) -> Result<Vec<Settled>, WireError> {
        Ok(settle(&self.tail()?, Seen::ALL))
    }
}

/// The last hours of the own log before an instant, as entered, or its last 512 entries.
pub(crate) fn recent_tail(book: &Book, at_ms: i64) -> Result<Vec<Entry>, logbook::store::Error> {
    let from_ms = at_ms - super::session::SESSION_MS;
    let mut tail: Vec<Entry> = Vec::new();
    for count in [32, 128, LOOK_BACK] {
        tail = book.tail(count)?;
        let reached = tail.first().is_none_or(|oldest| oldest.order_ms <= from_ms || oldest.seq == 0);
        if reached {
            break;
        }
    }
    Ok(tail)
}

/// A mark used twice.
pub(super) fn taken(noun: Noun, field: &str, name: &str) -> WireError {
    let word = names::word(noun);
    let sentence = format!("{field} is \"{}\", which another {word} bears already.", shown(name));
    WireError::new("duplicate", sentence, "Choose another, or correct the entry that bears it.")
        .field(field)
        .value(name)
        .range(format!("a name that no {word} bears yet"))
}

/// A list that names something twice.
pub(super) fn twice(field: &str, name: &str) -> WireError {
    let sentence = format!("{field} names \"{}\" twice.", shown(name));
    WireError::new("duplicate", sentence, "Name it once.").field(field).value(name).range("each once")
}
