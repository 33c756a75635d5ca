//! Looking things up: entries by id, by place, by what they name, by act.

use super::{Appended, Book, Error, Live, SEQ_BITS, place_of};
use crate::entry::{Entry, Id};
use crate::settled::fold_key;
use rusqlite::{OptionalExtension, Params, named_params};
use std::collections::BTreeSet;

impl Book {
    /// What an act of this key appended to an own log, with the head as it was right after; None: no such act.
    pub fn by_act(&self, key: &str) -> Result<Option<Appended>, Error> {
        let mut ask = self.sql(include_str!("by_act.sql"))?;
        let mut rows = ask.query(named_params! { ":act": key })?;
        let mut entries = Vec::new();
        while let Some(row) = rows.next()? {
            let bytes: Vec<u8> = row.get(0)?;
            entries.push((Entry::from_bytes(&bytes)?, row.get(1)?));
        }
        let Some((last, _)) = entries.last() else {
            return Ok(None);
        };
        let head = self.head_at(&last.log, last.seq + 1)?;
        let head = head.ok_or_else(|| Error::Damaged(format!("log {} is shorter than its entries", last.log)))?;
        Ok(Some(Appended { head, entries }))
    }

    /// One entry by id.
    pub fn entry(&self, id: &str) -> Result<Option<Entry>, Error> {
        self.one(include_str!("entry_by_id.sql"), named_params! { ":id": id })
    }

    /// One entry by place.
    pub fn entry_at(&self, log: &str, seq: u64) -> Result<Option<Entry>, Error> {
        match self.log_row(log)? {
            Some(row) => self.entry_of(place_of(row.num, seq)?),
            None => Ok(None),
        }
    }

    pub(crate) fn entry_of(&self, place: i64) -> Result<Option<Entry>, Error> {
        self.one(include_str!("entry_by_place.sql"), named_params! { ":place": place })
    }

    fn one(&self, sql: &str, params: impl Params) -> Result<Option<Entry>, Error> {
        let bytes: Option<Vec<u8>> = self.sql(sql)?.query_row(params, |row| row.get(0)).optional()?;
        Ok(bytes.map(|bytes| Entry::from_bytes(&bytes)).transpose()?)
    }

    pub(crate) fn place_by_id(&self, id: &str) -> Result<Option<i64>, Error> {
        let mut ask = self.sql(include_str!("thing_by_id.sql"))?;
        Ok(ask.query_row(named_params! { ":id": id }, |row| row.get(0)).optional()?)
    }

    /// All entries whose `about`, body or `corrects` names this id (or is its making), corrections and withdrawals
    /// of those entries included, in fold order. Works for every id: parts, bonds, batches, lots, places, cards, …
    /// Entries that name it only as their person are left out.
    pub fn naming(&self, id: &str) -> Result<Vec<Entry>, Error> {
        let Some(thing) = self.place_by_id(id)? else {
            return Ok(Vec::new());
        };
        let mut places = BTreeSet::from([thing]);
        places.extend(self.places(include_str!("naming.sql"), named_params! { ":thing": thing })?);
        self.with_amendments(places)
    }

    /// One entry with its corrections and withdrawals, in fold order, without what else names it: the cost does not
    /// grow with how often a card or a place is used.
    pub fn versions(&self, id: &str) -> Result<Vec<Entry>, Error> {
        match self.place_by_id(id)? {
            Some(place) => self.with_amendments([place].into()),
            None => Ok(Vec::new()),
        }
    }

    pub(crate) fn places(&self, sql: &str, params: impl Params) -> Result<Vec<i64>, Error> {
        let mut ask = self.sql(sql)?;
        let rows = ask.query_map(params, |row| row.get(0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The entries at these places, their corrections and withdrawals, and what these correct or withdraw.
    pub(crate) fn with_amendments(&self, mut places: BTreeSet<i64>) -> Result<Vec<Entry>, Error> {
        let mut open: Vec<i64> = places.iter().copied().collect();
        while let Some(place) = open.pop() {
            for other in self.places(include_str!("amendments.sql"), named_params! { ":place": place })? {
                if places.insert(other) {
                    open.push(other);
                }
            }
        }
        self.entries_of(places)
    }

    fn entries_of(&self, places: BTreeSet<i64>) -> Result<Vec<Entry>, Error> {
        let mut entries = Vec::with_capacity(places.len());
        for place in places {
            let found = self.entry_of(place)?;
            entries.push(found.ok_or_else(|| Error::Damaged(format!("entry {} is missing", seq_of(place))))?);
        }
        entries.sort_by(|a, b| fold_key(a).cmp(&fold_key(b)));
        Ok(entries)
    }

    /// How many entries of the own log are about a subject.
    pub fn count_about(&self, subject: &str) -> Result<u64, Error> {
        let (Some(log), Some(thing)) = (self.own_row()?, self.place_by_id(subject)?) else {
            return Ok(0);
        };
        let mut ask = self.sql(include_str!("last_about.sql"))?;
        let n = ask.query_row(named_params! { ":subject": thing, ":log": log.num }, |row| row.get(0)).optional()?;
        Ok(n.unwrap_or(0))
    }

    /// Bonds and batches that may still have a live clock, by id, and alarms not answered; each in order of making.
    pub fn live(&self) -> Result<Live, Error> {
        let mut ask = self.sql(include_str!("live.sql"))?;
        let mut rows = ask.query([])?;
        let mut live = Live::default();
        while let Some(row) = rows.next()? {
            let (what, id): (String, Id) = (row.get(0)?, row.get(1)?);
            match what.as_str() {
                "bond" => live.bonds.push(id),
                "batch" => live.batches.push(id),
                _ => live.alarms.push(id),
            }
        }
        Ok(live)
    }

    /// The last `n` entries of the own log, newest last.
    pub fn tail(&self, n: u64) -> Result<Vec<Entry>, Error> {
        let Some(log) = self.own_row()? else {
            return Ok(Vec::new());
        };
        let first = log.size.saturating_sub(n);
        let places = (first..log.size).map(|seq| place_of(log.num, seq)).collect::<Result<_, _>>()?;
        self.entries_of(places)
    }
}

/// Sequence number in a place.
pub(crate) fn seq_of(place: i64) -> u64 {
    (place & ((1 << SEQ_BITS) - 1)) as u64
}
