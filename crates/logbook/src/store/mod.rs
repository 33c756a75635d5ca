//! The book: one SQLite file per shop.

use crate::entry::{Draft, Entry, Id, Stamp};
use std::path::Path;

/// How a book is opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mode {
    /// For questions: never changes a byte.
    Read,
    /// For acts.
    Write,
}

/// What can go wrong with a book.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// There is no such file.
    #[error("there is no book at this path")]
    Missing,
    /// The file is something else.
    #[error("this file is not a Gluewright book")]
    NotABook,
    /// Written by a newer program.
    #[error("this book was written by a newer program (format {found}; this one knows {known})")]
    Newer {
        /// Format found.
        found: i64,
        /// Newest format known.
        known: i64,
    },
    /// Another process holds it.
    #[error("another program holds this book")]
    Locked,
    /// It cannot be written.
    #[error("this book cannot be written: the file or its folder is read-only")]
    ReadOnly,
    /// Its bytes are damaged.
    #[error("this book is damaged: {0}")]
    Damaged(String),
    /// The disk is full or fails.
    #[error("the disk refused: {0}")]
    Disk(String),
    /// Something else moved the log on between reading and writing.
    #[error("the log moved on from {expected} to {found} entries")]
    Moved {
        /// Size expected.
        expected: u64,
        /// Size found.
        found: u64,
    },
    /// Our own mistake.
    #[error("internal fault: {0}")]
    Fault(String),
}

/// Size and root of a log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// Log.
    pub log: Id,
    /// `own`, `bench` or `foreign`.
    pub standing: String,
    /// Entries.
    pub size: u64,
    /// RFC 6962 root.
    pub root: [u8; 32],
}

/// What was appended, with the head after it.
#[derive(Clone, Debug, PartialEq)]
pub struct Appended {
    /// Head after the act.
    pub head: Head,
    /// The entries as stored, with their leaf hashes.
    pub entries: Vec<(Entry, [u8; 32])>,
}

/// What can be looked up by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noun {
    /// Person, by name.
    Person,
    /// Place, by name.
    Place,
    /// Instrument, by name.
    Instrument,
    /// Card, by name; only the newest revision.
    Card,
    /// Lot, by mark.
    Lot,
    /// Container, by mark.
    Container,
    /// Kind, by mark.
    Kind,
    /// Set (no mark: by id only).
    Set,
    /// Part, by mark.
    Part,
    /// Batch, by name; several days may share one.
    Batch,
    /// Bond, by number.
    Bond,
}

/// One minute of a source as stored in a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Minute {
    /// Start of the minute, ms UTC.
    pub at_ms: i64,
    /// Lowest, mk.
    pub low_mk: i64,
    /// Mean, mk.
    pub mean_mk: i64,
    /// Highest, mk.
    pub high_mk: i64,
    /// Mean relative humidity, ppm.
    pub humidity_ppm: Option<i64>,
}

/// A block of one source, one place, one hour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// Place.
    pub place: Id,
    /// Source.
    pub source: String,
    /// Start of the hour, ms UTC.
    pub hour_ms: i64,
    /// Minutes, rising.
    pub minutes: Vec<Minute>,
}

/// A shop's book, open.
pub struct Book {
    connection: rusqlite::Connection,
}

impl Book {
    /// Makes a new, empty book (no log yet). Fails if the file exists.
    pub fn create(path: &Path) -> Result<Book, Error> {
        let _ = path;
        todo!("logbook room")
    }

    /// Opens a book, checks its settings, its format, its last tile and edge.
    pub fn open(path: &Path, mode: Mode) -> Result<Book, Error> {
        let _ = (path, mode);
        todo!("logbook room")
    }

    /// Runs `f` in one write transaction (BEGIN IMMEDIATE): all of it is kept, or nothing.
    pub fn transact<T, E: From<Error>>(&mut self, f: impl FnOnce(&Book) -> Result<T, E>) -> Result<T, E> {
        let _ = &self.connection;
        f(self)
    }

    /// Runs `f` in one read transaction: all it reads is of one moment.
    pub fn read<T, E: From<Error>>(&self, f: impl FnOnce(&Book) -> Result<T, E>) -> Result<T, E> {
        f(self)
    }

    /// The log this book appends to; None in an empty book.
    pub fn own(&self) -> Result<Option<Head>, Error> {
        todo!("logbook room")
    }

    /// Every log held.
    pub fn logs(&self) -> Result<Vec<Head>, Error> {
        todo!("logbook room")
    }

    /// Begins a new own log; its first entry must be a `log-start`. Only inside [`Book::transact`].
    pub fn begin_log(&self, log: &str, stamp: &Stamp, start: Draft) -> Result<Appended, Error> {
        let _ = (log, stamp, start);
        todo!("logbook room")
    }

    /// Appends one act's entries to the own log. Only inside [`Book::transact`]. `expected` is the size the
    /// caller saw; the insert names it in its own statement. Blocks are stored first, under their digest.
    pub fn append(&self, expected: u64, stamp: &Stamp, drafts: Vec<Draft>, blocks: &[Block]) -> Result<Appended, Error> {
        let _ = (expected, stamp, drafts, blocks);
        todo!("logbook room")
    }

    /// What an act of this key appended, with the head as it was right after; None: no such act.
    pub fn by_act(&self, key: &str) -> Result<Option<Appended>, Error> {
        let _ = key;
        todo!("logbook room")
    }

    /// One entry by id.
    pub fn entry(&self, id: &str) -> Result<Option<Entry>, Error> {
        let _ = id;
        todo!("logbook room")
    }

    /// One entry by place.
    pub fn entry_at(&self, log: &str, seq: u64) -> Result<Option<Entry>, Error> {
        let _ = (log, seq);
        todo!("logbook room")
    }

    /// All entries whose `about`, body or `corrects` names this id (or is its making), corrections and withdrawals
    /// of those entries included, in fold order. Works for every id: parts, bonds, batches, lots, places, cards, …
    pub fn naming(&self, id: &str) -> Result<Vec<Entry>, Error> {
        let _ = id;
        todo!("logbook room")
    }

    /// How many entries of the own log are about a subject.
    pub fn count_about(&self, subject: &str) -> Result<u64, Error> {
        let _ = subject;
        todo!("logbook room")
    }

    /// Ids that bear a name (exact, NFC) or are that id, newest last. Withdrawn things are left out; corrected names count.
    pub fn find(&self, noun: Noun, name: &str) -> Result<Vec<Id>, Error> {
        let _ = (noun, name);
        todo!("logbook room")
    }

    /// All (name, id) of a noun in order of making.
    pub fn list(&self, noun: Noun) -> Result<Vec<(String, Id)>, Error> {
        let _ = noun;
        todo!("logbook room")
    }

    /// Hand readings and vouches of a place that touch a stretch, corrections included, in fold order.
    /// Includes the last reading before `from_ms` and the first after `to_ms`.
    pub fn hand_readings(&self, place: &str, from_ms: i64, to_ms: i64) -> Result<Vec<Entry>, Error> {
        let _ = (place, from_ms, to_ms);
        todo!("logbook room")
    }

    /// Minutes of a place's blocks in a stretch, by source, merged by the written rule (docs/format.md), with the
    /// digest of every block used. Only blocks named by entries entered until `known_ms`.
    pub fn minutes(&self, place: &str, from_ms: i64, to_ms: i64, known_ms: i64) -> Result<Vec<SourceMinutes>, Error> {
        let _ = (place, from_ms, to_ms, known_ms);
        todo!("logbook room")
    }

    /// Bonds and batches that may still have a live clock, by id, and alarms not answered.
    pub fn live(&self) -> Result<Live, Error> {
        todo!("logbook room")
    }

    /// The last `n` entries of the own log, newest last.
    pub fn tail(&self, n: u64) -> Result<Vec<Entry>, Error> {
        let _ = n;
        todo!("logbook room")
    }

    /// First entry and last time anchor (`time-confirmed`) of a boot in the own log.
    pub fn boot_anchor(&self, boot: &str) -> Result<Option<Entry>, Error> {
        let _ = boot;
        todo!("logbook room")
    }

    /// A number that changes when another connection wrote.
    pub fn data_version(&self) -> Result<i64, Error> {
        todo!("logbook room")
    }
}

/// Minutes of one source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceMinutes {
    /// Source.
    pub source: String,
    /// Instrument.
    pub instrument: Option<Id>,
    /// Minutes, rising.
    pub minutes: Vec<Minute>,
    /// Digests of the blocks, hex.
    pub blocks: Vec<String>,
}

/// What may still be live.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Live {
    /// Bonds without a `used` press (full cure may still run).
    pub bonds: Vec<Id>,
    /// Batches with hardener in and not done.
    pub batches: Vec<Id>,
    /// Alarms recorded and not answered.
    pub alarms: Vec<Id>,
}
