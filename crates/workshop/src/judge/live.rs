//! Live clocks asked again and again: the book is read anew only when something was written; in between each clock
//! goes on from what it has gone through.

use super::prepared::{Prepared, Reckoned};
use super::{Judge, said};
use crate::reader::Reader;
use crate::time::Axis;
use logbook::settled::Seen;
use logbook::store::{Book, Error};
use std::sync::Arc;

/// An act may say that it happened up to this much after now; what was read before then is read once more, ms.
pub(crate) const AHEAD_MS: i64 = 2_000;

/// Live clocks as they were read last, those together whose sentences speak of each other.
#[derive(Default)]
pub struct Live {
    groups: Vec<Vec<Arc<Prepared>>>,
    read: Option<Read>,
}

/// When and of what the clocks were read.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Read {
    version: i64,
    size: u64,
    zone_min: i32,
    reader: Reader,
    at_ms: i64,
    /// Nothing that was known then lay ahead of then.
    firm: bool,
}

impl Live {
    /// All live clocks now. `version` is the book's [`Book::data_version`], asked before its transaction began.
    pub fn clocks(
        &mut self,
        book: &Book,
        version: i64,
        axis: &Axis,
        zone_min: i32,
        reader: Reader,
    ) -> Result<Vec<Reckoned>, Error> {
        let size = book.own()?.map_or(0, |head| head.size);
        let now = Read { version, size, zone_min, reader, at_ms: axis.now_ms, firm: false };
        if !self.holds(&now) {
            return self.read(book, now, axis);
        }
        Ok(self.groups.iter().flat_map(|group| told(group, axis)).collect())
    }

    /// Entries in the own log when it was read.
    pub fn size(&self) -> u64 {
        self.read.map_or(0, |read| read.size)
    }

    fn holds(&self, now: &Read) -> bool {
        let of = |read: &Read| (read.version, read.size, read.zone_min, read.reader);
        self.read.is_some_and(|read| {
            let ahead = now.at_ms - read.at_ms;
            of(&read) == of(now) && ahead >= 0 && (read.firm || ahead <= AHEAD_MS)
        })
    }

    fn read(&mut self, book: &Book, mut read: Read, axis: &Axis) -> Result<Vec<Reckoned>, Error> {
        read.firm = self.read.is_some_and(|last| last.version == read.version && last.size == read.size);
        let seen = Seen { at_ms: axis.now_ms, known_ms: i64::MAX };
        let groups = Judge::new(book, seen, axis).in_zone(read.zone_min).for_reader(read.reader).live_groups()?;
        self.groups = groups.iter().map(|group| group.iter().map(|one| one.on.clone()).collect()).collect();
        self.read = Some(read);
        Ok(groups.into_iter().flatten().collect())
    }
}

fn told(group: &[Arc<Prepared>], axis: &Axis) -> Vec<Reckoned> {
    let reckon = |on: &Arc<Prepared>| {
        let told = on.tell(axis.now_ms, axis);
        let nearly_ms = on.nearly_ms(&told);
        Reckoned { on: on.clone(), told, nearly_ms, said: String::new() }
    };
    let mut clocks: Vec<Reckoned> = group.iter().map(reckon).collect();
    said::say_all(&mut clocks, axis.now_ms);
    clocks
}
