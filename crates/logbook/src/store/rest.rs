//! What is at rest: bonds and batches to which nothing can happen by time alone, with what was judged of them. Outside
//! the logs; each row may be dropped at any time without loss. What wakes them stands in `wake.rs`.

use super::{Book, Error, place_of};
use crate::entry::Id;
use rusqlite::{OptionalExtension, named_params};

/// How many of the newest entries may have been dated a moment ahead of the clock.
const NEWEST: u64 = 256;

/// A bond or batch at rest. What is kept of it is the caller's; the store only keeps it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Resting {
    /// Bond or batch.
    pub id: Id,
    /// The first instant its clocks looked at, ms.
    pub first_ms: i64,
    /// The last instant its clocks looked at, ms.
    pub last_ms: i64,
    /// Zone its sentences are said in, minutes east; None: it has none.
    pub zone_min: Option<i32>,
    /// The model that judged it.
    pub model: String,
    /// What was judged of it.
    pub kept: String,
}

impl Book {
    /// Keeps what was judged of these bonds and batches until an entry comes that may change it. Only inside
    /// [`Book::transact`]; nothing true rests on it.
    pub fn rest(&self, all: &[Resting]) -> Result<(), Error> {
        for one in all {
            let Some(place) = self.place_by_id(&one.id)? else { continue };
            self.sql(include_str!("rest.sql"))?.execute(named_params! {
            ":place": place, ":first": one.first_ms, ":last": one.last_ms, ":zone": one.zone_min,
            ":model": one.model, ":kept": one.kept })?;
        }
        Ok(())
    }

    /// All that is at rest, in order of making.
    pub fn resting(&self) -> Result<Vec<Resting>, Error> {
        let mut ask = self.sql(include_str!("resting.sql"))?;
        let rows = ask.query_map([], |row| {
            Ok(Resting {
                id: row.get(0)?,
                first_ms: row.get(1)?,
                last_ms: row.get(2)?,
                zone_min: row.get(3)?,
                model: row.get(4)?,
                kept: row.get(5)?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Some that are awake after a place, oldest first: place, id, whether it is a bond.
    pub fn awake(&self, after: i64, most: u32) -> Result<Vec<(i64, Id, bool)>, Error> {
        let mut ask = self.sql(include_str!("awake.sql"))?;
        let rows = ask.query_map(named_params! { ":after": after, ":most": most }, |row| {
            Ok((row.get(0)?, row.get(1)?, row.get::<_, String>(2)? == "bond"))
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Place of the n-th oldest that is awake, from 0.
    pub fn awake_nth(&self, n: u64) -> Result<Option<i64>, Error> {
        let mut ask = self.sql(include_str!("awake_nth.sql"))?;
        Ok(ask.query_row(named_params! { ":n": n }, |row| row.get(0)).optional()?)
    }

    /// A new bond or batch is awake.
    pub(crate) fn new_awake(&self, place: i64) -> Result<(), Error> {
        self.sql(include_str!("new_awake.sql"))?.execute(named_params! { ":place": place })?;
        Ok(())
    }

    /// Wakes everything. Only inside [`Book::transact`].
    pub fn wake_all(&self) -> Result<(), Error> {
        self.sql(include_str!("wake_all.sql"))?.execute([])?;
        Ok(())
    }

    /// Whether one of the newest entries is dated after an instant: what is judged at that instant leaves it out.
    pub fn ahead_of(&self, now_ms: i64) -> Result<bool, Error> {
        let Some(log) = self.own_row()? else { return Ok(false) };
        let from = place_of(log.num, log.size.saturating_sub(NEWEST))?;
        let to = place_of(log.num, log.size)?;
        let mut ask = self.sql(include_str!("ahead.sql"))?;
        let count: i64 = ask.query_row(named_params! { ":from": from, ":to": to, ":now": now_ms }, |row| row.get(0))?;
        Ok(count > 0)
    }
}
