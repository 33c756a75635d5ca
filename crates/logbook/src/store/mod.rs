//! The book: one SQLite file per shop. One `.sql` file per question lies beside the function that asks it.

mod acted;
mod air;
mod append;
pub mod block;
mod error;
mod fold;
mod home;
mod look;
mod name;
pub(crate) mod open;
mod page;
mod proof;
mod rest;
#[cfg(test)]
mod steps;
mod turn;
mod wake;

pub use block::{Block, Minute};
pub use error::Error;
pub use home::Home;
pub(crate) use look::seq_of;
pub use page::{Page, Wanted};
pub use rest::Resting;
pub use turn::Turn;

use crate::entry::{Entry, Id};
use rusqlite::{CachedStatement, Transaction, TransactionBehavior};
use std::cell::{Cell, RefCell};
use std::path::PathBuf;

/// How a book is opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mode {
    /// For questions: never changes a byte.
    Read,
    /// For acts.
    Write,
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
    /// Batches made and not done.
    pub batches: Vec<Id>,
    /// Alarms recorded and not answered.
    pub alarms: Vec<Id>,
}

/// A shop's book, open.
pub struct Book {
    pub(crate) connection: rusqlite::Connection,
    mode: Mode,
    /// A commit failed: what is on disk is not known, so this connection does nothing more.
    lost: Cell<bool>,
    /// Boot of the entry this connection appended last, so that the next append need not read it again.
    newest: RefCell<Option<turn::Written>>,
}

impl Book {
    /// Runs `f` in one write transaction (BEGIN IMMEDIATE): all of it is kept, or nothing. When the commit itself
    /// fails, what was kept is not known: the error is [`Error::Disk`], and this book must be opened again.
    pub fn transact<T, E: From<Error>>(&mut self, f: impl FnOnce(&Book) -> Result<T, E>) -> Result<T, E> {
        self.usable()?;
        if self.mode == Mode::Read {
            return Err(Error::ReadOnly.into());
        }
        let transaction = self.begin(TransactionBehavior::Immediate)?;
        let done = f(self).inspect_err(|_| {
            // What was appended is rolled back: another entry may take its place.
            self.newest.replace(None);
        })?;
        if let Err(error) = transaction.commit() {
            self.lost.set(true);
            return Err(
                Error::Disk(format!("{error}; whether this act was kept is not known, open the book again")).into()
            );
        }
        Ok(done)
    }

    /// Runs `f` in one read transaction: all it reads is of one moment. Inside another transaction it just runs.
    pub fn read<T, E: From<Error>>(&self, f: impl FnOnce(&Book) -> Result<T, E>) -> Result<T, E> {
        self.usable()?;
        if !self.connection.is_autocommit() {
            return f(self);
        }
        let transaction = self.begin(TransactionBehavior::Deferred)?;
        let done = f(self)?;
        transaction.commit().map_err(Error::from)?;
        Ok(done)
    }

    fn begin(&self, behavior: TransactionBehavior) -> Result<Transaction<'_>, Error> {
        Ok(Transaction::new_unchecked(&self.connection, behavior)?)
    }

    fn usable(&self) -> Result<(), Error> {
        if self.lost.get() {
            return Err(Error::Disk("a commit failed before; open the book again".into()));
        }
        Ok(())
    }

    /// A book over a connection that is prepared already.
    pub(crate) fn over(connection: rusqlite::Connection) -> Book {
        Book { connection, mode: Mode::Write, lost: Cell::new(false), newest: RefCell::default() }
    }

    pub(crate) fn connection(&self) -> &rusqlite::Connection {
        &self.connection
    }

    pub(crate) fn sql(&self, text: &str) -> Result<CachedStatement<'_>, Error> {
        self.usable()?;
        Ok(self.connection.prepare_cached(text)?)
    }

    /// The file, as it was opened.
    pub fn path(&self) -> Option<PathBuf> {
        self.connection.path().map(PathBuf::from)
    }

    /// A number that changes when another connection wrote.
    pub fn data_version(&self) -> Result<i64, Error> {
        Ok(self.sql("PRAGMA data_version")?.query_row([], |row| row.get(0))?)
    }
}

/// Bits of an entry's place that hold its sequence number; above them stands the log's number.
pub(crate) const SEQ_BITS: u32 = 40;

/// The row number of an entry: the log's number and the sequence in one integer.
pub(crate) fn place_of(log: i64, seq: u64) -> Result<i64, Error> {
    let seq = i64::try_from(seq).map_err(|_| Error::Fault("sequence number too large".into()))?;
    if seq >> SEQ_BITS != 0 {
        return Err(Error::Fault("sequence number too large".into()));
    }
    Ok((log << SEQ_BITS) | seq)
}
