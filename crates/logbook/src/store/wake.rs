//! What wakes what is at rest: in the transaction of every new entry the rows go that it may bear on. When in doubt,
//! too many.

use super::fold::amended;
use super::{Book, Error, Noun};
use crate::entry::place::Readings;
use crate::entry::{Body, Entry};
use rusqlite::named_params;
use std::collections::BTreeSet;

/// Readings of files bear on what lies up to this far before them: the eight days that a gap is looked across, and the
/// week that is read ahead (`judge/air.rs` of the workshop), and a day, ms.
const ACROSS_MS: i64 = 16 * 24 * 3_600_000;

impl Book {
    /// Wakes what a new entry may bear on. Its rows in the other read models are there already.
    pub(crate) fn wake(&self, place: i64, entry: &Entry) -> Result<(), Error> {
        let any: bool = self.sql(include_str!("any_rest.sql"))?.query_row([], |row| row.get(0))?;
        if !any {
            return Ok(());
        }
        let Some(target) = amended(entry) else {
            return self.wake_by(entry, false);
        };
        let Some(target) = self.place_by_id(target)? else { return self.wake_all() };
        for version in self.with_amendments(BTreeSet::from([target, place]))? {
            self.wake_by(&version, true)?;
        }
        Ok(())
    }

    /// By an entry, or by a version of one that was changed.
    fn wake_by(&self, entry: &Entry, changed: bool) -> Result<(), Error> {
        match &entry.body {
            Body::Reading(reading) => {
                let since = reading.lowest.as_ref().and_then(|lowest| lowest.since_ms).unwrap_or(i64::MAX);
                let before = self.hand_before(&reading.place, reading.instrument.as_deref(), entry.happened_ms)?;
                self.wake_from(before.min(since))
            }
            Body::Readings(readings) => self.wake_by_hours(readings),
            Body::Vouch(vouch) => self.wake_from(vouch.from_ms),
            // A pot without a place stands in the only place of a book.
            Body::Place(_) if !changed && self.list(Noun::Place)?.len() > 2 => Ok(()),
            Body::Lot(_) | Body::Container(_) if changed => self.wake_by_stores(entry),
            Body::Card(_) | Body::Instrument(_) | Body::Kind(_) | Body::Part(_) | Body::Set(_) if !changed => Ok(()),
            Body::Lot(_) | Body::Container(_) => Ok(()),
            Body::LogStart(_)
            | Body::Person(_)
            // What is at rest has come to its end: no estimate is left that a forecast could move.
            | Body::Forecast(_)
            // A broken sample decides nothing by itself: somebody reads it and decides.
            | Body::Sample(_)
            | Body::AlarmAnswered(_)
            | Body::TimeConfirmed(_)
            | Body::ClockStep(_)
            | Body::CheckpointGiven(_)
            | Body::Issued(_)
            | Body::Withdrawn(_) => Ok(()),
            Body::Joint(_)
            | Body::Surface(_)
            | Body::Batch(_)
            | Body::Mix(_)
            | Body::TopUp(_)
            | Body::Filler(_)
            | Body::Cup(_)
            | Body::ThrowAway(_)
            | Body::Bond(_)
            | Body::Press(_)
            | Body::Moved(_)
            | Body::Coat(_)
            | Body::Reason(_)
            | Body::Decide(_)
            | Body::Alarm(_) => self.wake_about(entry),
            Body::Place(_)
            | Body::Card(_)
            | Body::Instrument(_)
            | Body::Kind(_)
            | Body::Part(_)
            | Body::Set(_)
            | Body::Unknown(..) => self.wake_all(),
        }
    }

    /// The bonds and batches an entry is about, bonds made of these, and bonds over those. Parts count where their faces
    /// or joints do; of lots every bond speaks, so that only their own corrections count.
    fn wake_about(&self, entry: &Entry) -> Result<(), Error> {
        let parts = matches!(&entry.body, Body::Joint(_) | Body::Surface(_));
        for about in &entry.about {
            let things = named_params! { ":id": about.id, ":parts": parts };
            for thing in self.places(include_str!("woken_by.sql"), things)? {
                self.wake_thing(thing)?;
                for bond in self.places(include_str!("bonds_naming.sql"), named_params! { ":thing": thing })? {
                    self.wake_thing(bond)?;
                }
            }
        }
        Ok(())
    }

    fn wake_thing(&self, thing: i64) -> Result<(), Error> {
        self.sql(include_str!("wake.sql"))?.execute(named_params! { ":thing": thing })?;
        self.sql(include_str!("wake_named.sql"))?.execute(named_params! { ":thing": thing })?;
        Ok(())
    }

    /// Everything that was glued out of a lot or a can.
    fn wake_by_stores(&self, version: &Entry) -> Result<(), Error> {
        let id = version.corrects.as_ref().unwrap_or(&version.id);
        for user in self.naming(id)? {
            match &user.body {
                Body::Container(_) if user.id != *id => {
                    for mix in self.naming(&user.id)? {
                        self.wake_about(&mix)?;
                    }
                }
                _ => self.wake_about(&user)?,
            }
        }
        Ok(())
    }

    fn wake_from(&self, from_ms: i64) -> Result<(), Error> {
        self.sql(include_str!("wake_from.sql"))?.execute(named_params! { ":from": from_ms })?;
        Ok(())
    }

    /// The reading by the same instrument in the same place before an instant, never changed: what lies before it is
    /// settled, ms. None: the beginning.
    fn hand_before(&self, spot: &str, instrument: Option<&str>, at_ms: i64) -> Result<i64, Error> {
        let Some(spot) = self.place_by_id(spot)? else { return Ok(i64::MIN) };
        let source = self.source_of(instrument)?;
        let mut ask = self.sql(include_str!("hand_before.sql"))?;
        let mut rows = ask.query(named_params! { ":spot": spot, ":source": source, ":edge": at_ms })?;
        while let Some(row) = rows.next()? {
            let place: i64 = row.get(0)?;
            if self.places(include_str!("amendments.sql"), named_params! { ":place": place })?.is_empty()
                && let Some(entry) = self.entry_of(place)?
            {
                return Ok(entry.happened_ms);
            }
        }
        Ok(i64::MIN)
    }

    /// A file's readings bear on what lies after the hour that the same source had before them.
    fn wake_by_hours(&self, readings: &Readings) -> Result<(), Error> {
        let Some(first_ms) = readings.blocks.iter().map(|block| block.hour_ms).min() else { return Ok(()) };
        let Some(spot) = self.place_by_id(&readings.place)? else { return self.wake_all() };
        let far_ms = first_ms.saturating_sub(ACROSS_MS);
        let mut ask = self.sql(include_str!("hours_before.sql"))?;
        let mut rows = ask.query(named_params! { ":spot": spot, ":from": far_ms, ":to": first_ms - 1 })?;
        let mut known = BTreeSet::new();
        while let Some(row) = rows.next()? {
            let (hour_ms, place): (i64, i64) = (row.get(0)?, row.get(1)?);
            if known.insert(place) && self.has_source(place, &readings.source)? {
                return self.wake_from(hour_ms);
            }
        }
        self.wake_from(far_ms)
    }

    /// An entry of readings that was never changed and is of this source.
    fn has_source(&self, place: i64, source: &str) -> Result<bool, Error> {
        let sound = self.places(include_str!("amendments.sql"), named_params! { ":place": place })?.is_empty();
        let entry = self.entry_of(place)?;
        Ok(sound && entry.is_some_and(|entry| matches!(&entry.body, Body::Readings(one) if one.source == source)))
    }
}
