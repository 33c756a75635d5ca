//! Heads, past heads and proofs, from the stored tile hashes and at most one tile of leaves.

use super::append::LogRow;
use super::{Book, Error, Head, place_of};
use crate::entry::Entry;
use crate::tree::{self, Edge, Hash, Stored};
use rusqlite::{OptionalExtension, named_params};

impl Book {
    /// The log this book appends to; None in an empty book.
    pub fn own(&self) -> Result<Option<Head>, Error> {
        Ok(self.own_row()?.map(|row| row.head()))
    }

    /// Every log held, in the order they came.
    pub fn logs(&self) -> Result<Vec<Head>, Error> {
        Ok(self.log_rows()?.iter().map(LogRow::head).collect())
    }

    pub(crate) fn log_rows(&self) -> Result<Vec<LogRow>, Error> {
        let mut ask = self.sql(include_str!("logs.sql"))?;
        let mut rows = ask.query([])?;
        let mut logs = Vec::new();
        while let Some(row) = rows.next()? {
            logs.push(LogRow::read(row)?);
        }
        Ok(logs)
    }

    pub(crate) fn log_row(&self, log: &str) -> Result<Option<LogRow>, Error> {
        let mut ask = self.sql(include_str!("log_by_id.sql"))?;
        let mut rows = ask.query(named_params! { ":id": log })?;
        rows.next()?.map(LogRow::read).transpose()
    }

    /// Head of a log when it had `size` entries; None when there is no such log or it is shorter.
    pub fn head_at(&self, log: &str, size: u64) -> Result<Option<Head>, Error> {
        let Some(row) = self.log_row(log)?.filter(|row| size <= row.size) else {
            return Ok(None);
        };
        let mut head = row.head();
        if size != row.size {
            head.size = size;
            head.root = tree::root_at(&mut Tiles { book: self, log: &row }, size)?;
        }
        Ok(Some(head))
    }

    /// Proof that an entry is in the log of `size` entries: hashes, nearest first. None when it is not.
    pub fn inclusion(&self, log: &str, seq: u64, size: u64) -> Result<Option<Vec<Hash>>, Error> {
        let Some(row) = self.log_row(log)?.filter(|row| size <= row.size && seq < size) else {
            return Ok(None);
        };
        tree::inclusion(&mut Tiles { book: self, log: &row }, seq, size).map(Some)
    }

    /// Proof that the log of `old` entries is the beginning of the log of `new`. None when either is not held.
    pub fn consistency(&self, log: &str, old: u64, new: u64) -> Result<Option<Vec<Hash>>, Error> {
        let Some(row) = self.log_row(log)?.filter(|row| old <= new && new <= row.size) else {
            return Ok(None);
        };
        tree::consistency(&mut Tiles { book: self, log: &row }, old, new).map(Some)
    }

    /// Checks each log's last tile and edge, and that its last entry is one this build reads.
    pub(crate) fn check_end(&self) -> Result<(), Error> {
        self.log_rows()?.iter().try_for_each(|log| self.check_log_end(log))
    }

    fn check_log_end(&self, log: &LogRow) -> Result<(), Error> {
        let Some(last) = log.size.checked_sub(1) else {
            return Ok(());
        };
        let first = (last >> tree::TILE_BITS) << tree::TILE_BITS;
        let mut edge = Edge::default();
        let mut tiles = Vec::new();
        let mut ask = self.sql(include_str!("last_tile.sql"))?;
        let mut rows =
            ask.query(named_params! { ":from": place_of(log.num, first)?, ":to": place_of(log.num, last)? })?;
        while let Some(row) = rows.next()? {
            let bytes: Vec<u8> = row.get(1)?;
            let leaf = tree::leaf(&bytes);
            let (place, stored): (i64, Vec<u8>) = (row.get(0)?, row.get(2)?);
            if stored != leaf {
                return Err(Error::Damaged(format!("entry {} of log {} was changed", place & 0xff_ffff_ffff, log.id)));
            }
            if edge.size() == last - first {
                Entry::from_bytes(&bytes)?;
            }
            edge.push(leaf, &mut tiles);
        }
        let whole = match tiles.first() {
            Some((_, _, hash)) => self.tile(log.num, 1, first >> tree::TILE_BITS)?.as_ref() == Some(hash),
            None => edge.size() == log.size - first && log.edge.peaks().ends_with(edge.peaks()),
        };
        if whole {
            Ok(())
        } else {
            Err(Error::Damaged(format!("the last entries of log {} do not fit its edge", log.id)))
        }
    }

    pub(crate) fn tile(&self, log: i64, level: u8, at: u64) -> Result<Option<Hash>, Error> {
        Ok(self
            .sql(include_str!("tile.sql"))?
            .query_row(named_params! { ":log": log, ":level": level, ":at": at }, |row| row.get(0))
            .optional()?)
    }
}

/// A log's stored hashes.
struct Tiles<'a> {
    book: &'a Book,
    log: &'a LogRow,
}

impl Stored for Tiles<'_> {
    type Error = Error;

    fn hash(&mut self, level: u8, at: u64) -> Result<Hash, Error> {
        let found = if level == 0 {
            self.book
                .sql(include_str!("leaf.sql"))?
                .query_row(named_params! { ":place": place_of(self.log.num, at)? }, |row| row.get(0))
                .optional()?
        } else {
            self.book.tile(self.log.num, level, at)?
        };
        found.ok_or_else(|| Error::Damaged(format!("the hash at level {level}, place {at} is missing")))
    }

    fn known(&self, height: u32, at: u64) -> Option<Hash> {
        self.log.edge.peak(height, at)
    }
}
