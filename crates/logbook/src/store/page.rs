//! Entries page by page, newest first: only the page's own entries are read, however many the log holds.

use super::{Book, Error, place_of, seq_of};
use crate::entry::{Entry, Id};
use crate::settled::Seen;
use rusqlite::named_params;
use std::collections::BTreeSet;

/// Rows looked at for one page of a kind: a rare kind gives a short page with a next one, not a walk through the log.
const STRETCH: u64 = 5_000;

/// Which entries a page is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted<'a> {
    /// Thing they name, by id; None: all.
    pub about: Option<&'a str>,
    /// Kind; None: every.
    pub kind: Option<&'a str>,
    /// Which of them exist.
    pub seen: Seen,
    /// Only with a smaller number.
    pub before: u64,
    /// At most so many.
    pub most: u64,
}

/// A page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// Entries, newest first.
    pub entries: Vec<Entry>,
    /// Where the next page begins: only entries with a smaller number; None: this was the last.
    pub next: Option<u64>,
}

impl Book {
    /// A page of a log; empty for a log or a thing that this book does not hold.
    pub fn page(&self, log: &str, wanted: Wanted) -> Result<Page, Error> {
        let Some(row) = self.log_row(log)? else { return Ok(Page::default()) };
        let wanted = Wanted { before: wanted.before.min(row.size), ..wanted };
        match wanted.about {
            Some(id) => self.page_about(row.num, id, wanted),
            None => self.page_of_all(row.num, wanted),
        }
    }

    fn page_of_all(&self, log: i64, wanted: Wanted) -> Result<Page, Error> {
        let from = wanted.before.saturating_sub(STRETCH);
        let places = self.places(
            include_str!("page.sql"),
            named_params! {
                ":before": place_of(log, wanted.before)?, ":from": place_of(log, from)?, ":kind": wanted.kind,
                ":known_ms": wanted.seen.known_ms, ":at_ms": wanted.seen.at_ms, ":most": wanted.most,
            },
        )?;
        let full = places.len() as u64 >= wanted.most;
        let next = if full { places.last().map(|place| seq_of(*place)) } else { Some(from) };
        Ok(Page { entries: self.each(&places)?, next: next.filter(|seq| *seq > 0) })
    }

    fn page_about(&self, log: i64, id: &str, wanted: Wanted) -> Result<Page, Error> {
        let Some(thing) = self.place_by_id(id)? else { return Ok(Page::default()) };
        let most = wanted.most + 1;
        let mut places: BTreeSet<i64> = self
            .places(
                include_str!("page_about.sql"),
                named_params! {
                    ":thing": thing, ":log": log, ":before": wanted.before, ":kind": wanted.kind,
                    ":known_ms": wanted.seen.known_ms, ":at_ms": wanted.seen.at_ms, ":most": most,
                },
            )?
            .into_iter()
            .collect();
        places.extend(self.places(
            include_str!("page_naming.sql"),
            named_params! {
                ":thing": thing, ":before": place_of(log, wanted.before)?, ":from": place_of(log, 0)?,
                ":kind": wanted.kind, ":known_ms": wanted.seen.known_ms, ":at_ms": wanted.seen.at_ms, ":most": most,
            },
        )?);
        places.extend(self.versions_of(log, thing, wanted)?);
        let more = places.len() as u64 > wanted.most;
        let most = usize::try_from(wanted.most).unwrap_or(usize::MAX);
        let places: Vec<i64> = places.into_iter().rev().take(most).collect();
        let next = if more { places.last().map(|place| seq_of(*place)) } else { None };
        Ok(Page { entries: self.each(&places)?, next })
    }

    /// Places of the making of a thing and of its corrections, as far as they are wanted.
    fn versions_of(&self, log: i64, thing: i64, wanted: Wanted) -> Result<Vec<i64>, Error> {
        let range = place_of(log, 0)?..place_of(log, wanted.before)?;
        let fits = |entry: &Entry| {
            wanted.kind.is_none_or(|kind| entry.body.kind() == kind)
                && entry.entered_ms <= wanted.seen.known_ms
                && entry.happened_ms <= wanted.seen.at_ms
        };
        let mut places = Vec::new();
        for entry in self.with_amendments([thing].into())?.iter().filter(|entry| fits(entry)) {
            places.extend(self.place_by_id(&entry.id)?.filter(|place| range.contains(place)));
        }
        Ok(places)
    }

    fn each(&self, places: &[i64]) -> Result<Vec<Entry>, Error> {
        let one = |place: &i64| {
            self.entry_of(*place)?.ok_or_else(|| Error::Damaged(format!("entry {} is missing", seq_of(*place))))
        };
        places.iter().map(one).collect()
    }

    /// Ids of the joints added to a part, withdrawn ones and corrections too, in order of making.
    pub fn joints_of(&self, part: &str) -> Result<Vec<Id>, Error> {
        let Some(part) = self.place_by_id(part)? else { return Ok(Vec::new()) };
        let mut ask = self.sql(include_str!("joints_of.sql"))?;
        let rows = ask.query_map(named_params! { ":part": part }, |row| row.get(0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Number of an entry in its log; None: it is not in this book.
    pub fn seq(&self, id: &str) -> Result<Option<u64>, Error> {
        Ok(self.place_by_id(id)?.map(seq_of))
    }
}
