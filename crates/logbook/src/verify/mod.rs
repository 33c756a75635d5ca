//! Checking a book without trusting the program that wrote it: read-only, by its own reading path.
//!
//! Three depths. *bytes*: the hash of every entry, the tree, the copies in columns, the numbering, the blocks.
//! *meaning*: also canonical form, references, order, blocks against their entries, counts and checkpoints stated in
//! entries. *rebuild*: also every read model, folded anew into a scratch file. Whatever is wrong is a sentence in the
//! report; only a book that cannot be opened at all is an error.

mod bytes;
mod meaning;
mod ratio;
mod rebuild;
mod references;
mod schema;

use crate::checkpoint::{Checkpoint, root_text};
use crate::entry::Id;
use crate::store::{Error, Mode, open};
use crate::tree::{self, Edge, Hash};
use rusqlite::Connection;
use serde::Serialize;
use std::ops::ControlFlow;
use std::path::Path;

/// How far to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Depth {
    /// Hashes, tree, columns, numbering, blocks.
    Bytes,
    /// Also canonical form, references, order, what entries state about others.
    Meaning,
    /// Also the read models.
    Rebuild,
}

/// What sort of thing is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// An entry's bytes do not have their leaf hash.
    Leaf,
    /// A column differs from the bytes it copies.
    Column,
    /// Something is missing: an entry, or a number in a running count.
    Gap,
    /// An entry stands where it does not belong, or time order is broken.
    Order,
    /// Bytes that are not canonical JSON of a known form.
    NotCanonical,
    /// An id that names nothing, or a thing of the wrong kind.
    Reference,
    /// A stored subtree hash or the right edge does not fit the entries.
    Tile,
    /// A block of readings is missing or changed.
    Block,
    /// A photograph or sheet is missing or changed.
    Attachment,
    /// A worked-out table, or a part of the file itself, is not as it should be.
    ReadModel,
    /// A checkpoint does not fit.
    Checkpoint,
}

/// One thing found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Found {
    /// Log, where it concerns one.
    pub log: Option<Id>,
    /// Entry, where it concerns one; of several, the first.
    pub seq: Option<u64>,
    /// What sort.
    pub what: What,
    /// In words.
    pub sentence: String,
}

/// A log as the book has it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LogHead {
    /// Log.
    pub log: Id,
    /// `own`, `bench` or `foreign`.
    pub standing: String,
    /// Entries.
    pub size: u64,
    /// Root, base64.
    pub root: String,
}

/// What a look at the book showed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Report {
    /// Nothing was found and the look went to its end.
    pub ok: bool,
    /// How far.
    pub depth: Depth,
    /// The logs.
    pub logs: Vec<LogHead>,
    /// What is wrong.
    pub found: Vec<Found>,
    /// What a look of this kind cannot show.
    pub cannot_show: Vec<String>,
}

/// How far a long look has come. The caller answers `Break` to stop it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Entries looked at.
    pub done: u64,
    /// Entries to look at, over all depths.
    pub of: u64,
}

/// Called now and then.
pub type OnProgress<'a> = &'a mut dyn FnMut(Progress) -> ControlFlow<()>;

/// More findings than this are not listed.
const MOST_FOUND: usize = 10_000;

/// A log while it is looked at.
pub(crate) struct Log {
    pub num: i64,
    pub id: String,
    pub standing: String,
    pub size: u64,
    pub edge: Vec<u8>,
}

/// One look at a book.
pub(crate) struct Look<'a> {
    pub connection: &'a Connection,
    pub logs: Vec<Log>,
    pub found: Vec<Found>,
    pub cannot_show: Vec<String>,
    pub checkpoint: Option<&'a Checkpoint>,
    progress: Progress,
    on_progress: OnProgress<'a>,
    stopped: bool,
}

/// Looks at a book and reports. Errors only when it cannot be opened as a book at all.
pub fn verify(
    path: &Path,
    depth: Depth,
    checkpoint: Option<&Checkpoint>,
    progress: OnProgress,
) -> Result<Report, Error> {
    let connection = open::connect(path, Mode::Read)?;
    open::check_format(&connection)?;
    open::set(&connection, Mode::Read)?;
    connection.execute_batch("BEGIN")?;
    let logs = read_logs(&connection)?;
    let rounds = 1 + u64::from(depth >= Depth::Meaning) + u64::from(depth >= Depth::Rebuild);
    let of = logs.iter().map(|log| log.size).sum::<u64>() * rounds;
    let mut look = Look {
        connection: &connection,
        logs,
        found: Vec::new(),
        cannot_show: Vec::new(),
        checkpoint,
        progress: Progress { done: 0, of },
        on_progress: progress,
        stopped: false,
    };
    look.bytes();
    if depth >= Depth::Meaning {
        look.meaning();
    }
    if depth >= Depth::Rebuild {
        look.rebuild(path);
    }
    look.schema();
    Ok(look.report(depth))
}

fn read_logs(connection: &Connection) -> Result<Vec<Log>, Error> {
    let gone = |error: rusqlite::Error| match Error::from(error) {
        Error::Fault(text) => Error::Damaged(text),
        other => other,
    };
    connection.query_row("SELECT count(*) FROM entry WHERE place = 0", [], |_| Ok(())).map_err(gone)?;
    let mut ask = connection.prepare(include_str!("logs.sql")).map_err(gone)?;
    let rows = ask.query_map([], |row| {
        Ok(Log { num: row.get(0)?, id: row.get(1)?, standing: row.get(2)?, size: row.get(3)?, edge: row.get(4)? })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

impl Look<'_> {
    /// Adds a finding about an entry.
    pub fn find(&mut self, log: &str, seq: u64, what: What, sentence: String) {
        self.add(Found { log: Some(log.to_owned()), seq: Some(seq), what, sentence });
    }

    /// Adds a finding that concerns no entry.
    pub fn find_in_file(&mut self, what: What, sentence: String) {
        self.add(Found { log: None, seq: None, what, sentence });
    }

    fn add(&mut self, found: Found) {
        match self.found.len() {
            len if len < MOST_FOUND => self.found.push(found),
            MOST_FOUND => {
                self.cannot_show.push(format!("more than {MOST_FOUND} things are wrong; the rest is not listed"))
            }
            _ => {}
        }
    }

    /// Counts one entry; false when the caller wants to stop.
    pub fn go_on(&mut self) -> bool {
        self.progress.done += 1;
        if self.progress.done.is_multiple_of(1024) && (self.on_progress)(self.progress).is_break() {
            self.stopped = true;
        }
        !self.stopped
    }

    pub fn stopped(&self) -> bool {
        self.stopped
    }

    fn report(mut self, depth: Depth) -> Report {
        if self.stopped {
            self.cannot_show.insert(0, "this look was stopped before its end".into());
        }
        self.say_limits();
        Report {
            ok: self.found.is_empty() && !self.stopped,
            depth,
            logs: self.logs.iter().map(head).collect(),
            found: self.found,
            cannot_show: self.cannot_show,
        }
    }

    fn say_limits(&mut self) {
        match self.checkpoint {
            None => {
                self.cannot_show.push("a cut tail without a checkpoint held outside".into());
                self.cannot_show.push(
                    "a record rewritten as a whole, every hash worked out anew, without a checkpoint held outside"
                        .into(),
                );
            }
            Some(checkpoint) => self.cannot_show.push(format!(
                "what was cut or rewritten after the first {} entries of log {}, where the checkpoint ends",
                checkpoint.size, checkpoint.log
            )),
        }
        self.cannot_show.push("who a person was, and whether what was entered is true".into());
    }
}

fn head(log: &Log) -> LogHead {
    let root = Edge::read(log.size, &log.edge).map(|edge| root_text(&edge.root()));
    LogHead {
        log: log.id.clone(),
        standing: log.standing.clone(),
        size: log.size,
        root: root.unwrap_or_else(|| "unreadable".into()),
    }
}

/// The stored hashes, for past roots.
pub(crate) struct StoredHashes<'a> {
    pub connection: &'a Connection,
    pub log: i64,
}

impl tree::Stored for StoredHashes<'_> {
    type Error = rusqlite::Error;

    fn hash(&mut self, level: u8, at: u64) -> Result<Hash, rusqlite::Error> {
        let sql = include_str!("hash.sql");
        self.connection.prepare_cached(sql)?.query_row((self.log, level, at), |row| row.get(0))
    }
}
