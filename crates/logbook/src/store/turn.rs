//! Turns: the few entries at which time itself may have turned. The first entry of every run (a stretch written under
//! one boot whose boot clock never went back), every confirmation of the time, every step of the wall clock.

use super::look::seq_of;
use super::{Book, Error, SEQ_BITS};
use crate::entry::{Body, Entry};
use rusqlite::named_params;
use serde::Deserialize;

/// A turn.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// The entry.
    pub entry: Entry,
    /// A run starts with it.
    pub starts: bool,
}

impl Book {
    /// The turns of a log, in order.
    pub fn turns(&self, log: &str) -> Result<Vec<Turn>, Error> {
        let Some(log) = self.log_row(log)? else {
            return Ok(Vec::new());
        };
        let mut ask = self.sql(include_str!("turns.sql"))?;
        let mut rows = ask.query(named_params! { ":from": log.num << SEQ_BITS, ":to": (log.num + 1) << SEQ_BITS })?;
        let mut turns = Vec::new();
        while let Some(row) = rows.next()? {
            let bytes: Vec<u8> = row.get(0)?;
            turns.push(Turn { entry: Entry::from_bytes(&bytes)?, starts: row.get(1)? });
        }
        Ok(turns)
    }

    /// Notes a new entry's turn, if it is one.
    pub(crate) fn fold_turn(&self, place: i64, entry: &Entry) -> Result<(), Error> {
        let starts = !self.goes_on(place, entry)?;
        if starts || matches!(entry.body, Body::TimeConfirmed(_) | Body::ClockStep(_)) {
            self.sql(include_str!("insert_turn.sql"))?.execute(named_params! { ":place": place, ":starts": starts })?;
        }
        Ok(())
    }

    /// True when the entry before was written under the same boot, whose clock has not gone back since. Every append
    /// asks, so only these two fields are read.
    fn goes_on(&self, place: i64, entry: &Entry) -> Result<bool, Error> {
        let now = Written { place, boot: entry.boot.clone(), boot_ms: entry.boot_ms };
        let before = self.newest.replace(Some(now));
        if seq_of(place) == 0 {
            return Ok(false);
        }
        if let Some(before) = before.filter(|before| before.place == place - 1) {
            return Ok(before.boot == entry.boot && before.boot_ms <= entry.boot_ms);
        }
        let mut ask = self.sql(include_str!("entry_by_place.sql"))?;
        let before = ask.query_row(named_params! { ":place": place - 1 }, |row| {
            Ok(serde_json::from_slice::<Boot>(row.get_ref(0)?.as_blob()?).ok())
        })?;
        Ok(before.is_some_and(|before| before.boot == entry.boot && before.boot_ms <= entry.boot_ms))
    }
}

/// Under which boot an entry was written.
pub(super) struct Written {
    place: i64,
    boot: String,
    boot_ms: i64,
}

/// The boot of an entry; its other fields are passed over.
#[derive(Deserialize)]
struct Boot {
    boot: String,
    boot_ms: i64,
}
