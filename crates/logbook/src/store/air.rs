//! What the air of a place was: hand readings, vouched floors, minutes from blocks.

use super::block::{Block, HOUR_MS, MINUTE_MS, Minute};
use super::{Book, Error, SourceMinutes};
use crate::entry::place::Readings;
use crate::entry::{Body, Entry, Id};
use crate::settled::{Seen, settle};
use rusqlite::{OptionalExtension, named_params};
use std::collections::{BTreeMap, BTreeSet};

/// Forecasts stand among the hand readings as a source of their own: the last one before a stretch counts as well.
const FORECASTS: i64 = -1;

impl Book {
    /// Indexes one version of a reading: under its own place and instant, pointing to its original.
    pub(crate) fn fold_air(&self, original: i64, _version: i64, body: &Body, happened_ms: i64) -> Result<(), Error> {
        match body {
            Body::Reading(reading) => {
                let Some(spot) = self.place_by_id(&reading.place)? else {
                    return Ok(());
                };
                let source = self.source_of(reading.instrument.as_deref())?;
                self.hand(spot, source, happened_ms, original)?;
                match reading.lowest.as_ref().and_then(|lowest| lowest.since_ms) {
                    Some(since) => self.cover(spot, since, happened_ms, original),
                    None => Ok(()),
                }
            }
            Body::Forecast(forecast) => match self.place_by_id(&forecast.place)? {
                Some(spot) => self.hand(spot, FORECASTS, happened_ms, original),
                None => Ok(()),
            },
            Body::Vouch(vouch) => match self.place_by_id(&vouch.place)? {
                Some(spot) => self.cover(spot, vouch.from_ms, vouch.until_ms, original),
                None => Ok(()),
            },
            Body::Readings(readings) => self.fold_hours(original, readings),
            _ => Ok(()),
        }
    }

    fn hand(&self, spot: i64, source: i64, at_ms: i64, place: i64) -> Result<(), Error> {
        let row = named_params! { ":spot": spot, ":source": source, ":at": at_ms, ":place": place };
        self.sql(include_str!("insert_hand.sql"))?.execute(row)?;
        Ok(())
    }

    pub(crate) fn source_of(&self, instrument: Option<&str>) -> Result<i64, Error> {
        match instrument {
            Some(id) => Ok(self.place_by_id(id)?.unwrap_or(0)),
            None => Ok(0),
        }
    }

    fn cover(&self, spot: i64, from_ms: i64, until_ms: i64, place: i64) -> Result<(), Error> {
        self.sql(include_str!("insert_cover.sql"))?.execute(named_params! {
        ":spot": spot, ":from": from_ms, ":until": until_ms, ":place": place })?;
        Ok(())
    }

    fn fold_hours(&self, original: i64, readings: &Readings) -> Result<(), Error> {
        let Some(spot) = self.place_by_id(&readings.place)? else {
            return Ok(());
        };
        for block in &readings.blocks {
            self.sql(include_str!("insert_hour.sql"))?
                .execute(named_params! { ":spot": spot, ":hour": block.hour_ms, ":place": original })?;
        }
        Ok(())
    }

    /// Hand readings, vouches and forecasts of a place that touch a stretch, corrections included, in fold order.
    /// Includes, for each instrument and for forecasts, the last reading before `from_ms` and the first after `to_ms`.
    pub fn hand_readings(&self, place: &str, from_ms: i64, to_ms: i64) -> Result<Vec<Entry>, Error> {
        let Some(spot) = self.place_by_id(place)? else {
            return Ok(Vec::new());
        };
        let stretch = named_params! { ":spot": spot, ":from": from_ms, ":to": to_ms };
        let mut places: BTreeSet<i64> = self.places(include_str!("cover.sql"), stretch)?.into_iter().collect();
        let mut source = i64::MIN;
        while let Some(next) = self.next_source(spot, source)? {
            source = next;
            let within = named_params! { ":spot": spot, ":source": source, ":from": from_ms, ":to": to_ms };
            places.extend(self.places(include_str!("hand_within.sql"), within)?);
            self.nearest(include_str!("hand_before.sql"), (spot, source, from_ms), &mut places)?;
            self.nearest(include_str!("hand_after.sql"), (spot, source, to_ms), &mut places)?;
        }
        self.with_amendments(places)
    }

    fn next_source(&self, spot: i64, after: i64) -> Result<Option<i64>, Error> {
        let mut ask = self.sql(include_str!("next_source.sql"))?;
        Ok(ask.query_row(named_params! { ":spot": spot, ":after": after }, |row| row.get(0)).optional()?)
    }

    /// Adds the nearest readings outside the stretch until one that was never corrected or withdrawn.
    fn nearest(&self, sql: &str, key: (i64, i64, i64), places: &mut BTreeSet<i64>) -> Result<(), Error> {
        let mut ask = self.sql(sql)?;
        let mut rows = ask.query(named_params! { ":spot": key.0, ":source": key.1, ":edge": key.2 })?;
        while let Some(row) = rows.next()? {
            let place: i64 = row.get(0)?;
            places.insert(place);
            if self.places(include_str!("amendments.sql"), named_params! { ":place": place })?.is_empty() {
                break;
            }
        }
        Ok(())
    }

    /// Minutes of a place's blocks in a stretch (both ends included), by source, merged by the written rule
    /// (docs/format.md), with the digest of every block used. Only blocks named by entries entered until `known_ms`
    /// and not withdrawn until then.
    pub fn minutes(&self, place: &str, from_ms: i64, to_ms: i64, known_ms: i64) -> Result<Vec<SourceMinutes>, Error> {
        let Some(spot) = self.place_by_id(place)? else {
            return Ok(Vec::new());
        };
        let stretch = named_params! {
        ":spot": spot, ":from": from_ms.saturating_sub(HOUR_MS - 1), ":to": to_ms };
        let places = self.places(include_str!("hours.sql"), stretch)?.into_iter().collect();
        let versions = self.with_amendments(places)?;
        let mut sources: BTreeMap<String, Gathered> = BTreeMap::new();
        for one in settle(&versions, Seen { at_ms: i64::MAX, known_ms }) {
            let Body::Readings(readings) = &one.body else { continue };
            if readings.place == place {
                let gathered = sources.entry(readings.source.clone()).or_default();
                gathered.instrument = gathered.instrument.take().or_else(|| readings.instrument.clone());
                self.gather(readings, (from_ms, to_ms), gathered)?;
            }
        }
        Ok(sources.into_iter().map(|(source, gathered)| gathered.merge(source)).collect())
    }

    fn gather(&self, readings: &Readings, stretch: (i64, i64), gathered: &mut Gathered) -> Result<(), Error> {
        for named in &readings.blocks {
            let outside = named.hour_ms > stretch.1 || named.hour_ms + HOUR_MS <= stretch.0;
            if outside || gathered.blocks.contains(&named.sha256) {
                continue;
            }
            let block = self.block(&named.sha256)?;
            gathered.blocks.insert(named.sha256.clone());
            let within = block.minutes.into_iter().filter(|at| at.at_ms >= stretch.0 && at.at_ms <= stretch.1);
            within.for_each(|minute| gathered.minutes.entry(minute.at_ms).or_default().push(minute));
        }
        Ok(())
    }

    /// One block by its digest (lower-case hex).
    pub fn block(&self, sha256: &str) -> Result<Block, Error> {
        let missing = || Error::Damaged(format!("the block {sha256} is missing"));
        let digest = hex::decode(sha256).map_err(|_| missing())?;
        let mut ask = self.sql(include_str!("block.sql"))?;
        let bytes: Option<Vec<u8>> = ask.query_row(named_params! { ":digest": digest }, |row| row.get(0)).optional()?;
        let block = Block::read(&bytes.ok_or_else(missing)?);
        block.ok_or_else(|| Error::Damaged(format!("the block {sha256} cannot be read")))
    }
}

/// Minutes of one source, from every block that has them.
#[derive(Default)]
struct Gathered {
    instrument: Option<Id>,
    blocks: BTreeSet<String>,
    minutes: BTreeMap<i64, Vec<Minute>>,
}

impl Gathered {
    fn merge(self, source: String) -> SourceMinutes {
        SourceMinutes {
            source,
            instrument: self.instrument,
            minutes: self.minutes.into_values().filter_map(|several| merge(&several)).collect(),
            blocks: self.blocks.into_iter().collect(),
        }
    }
}

/// One minute that several blocks of one source have: the lowest low, the highest high, the mean of the means and of
/// the humidities. The result does not depend on the order in which the blocks came.
fn merge(several: &[Minute]) -> Option<Minute> {
    let humidity: Vec<i64> = several.iter().filter_map(|minute| minute.humidity_ppm).collect();
    Some(Minute {
        at_ms: several.first()?.at_ms.div_euclid(MINUTE_MS) * MINUTE_MS,
        low_mk: several.iter().map(|minute| minute.low_mk).min()?,
        mean_mk: mean(several.iter().map(|minute| minute.mean_mk))?,
        high_mk: several.iter().map(|minute| minute.high_mk).max()?,
        humidity_ppm: mean(humidity.into_iter()),
    })
}

/// Mean of integers, rounded half to even.
fn mean(values: impl ExactSizeIterator<Item = i64>) -> Option<i64> {
    let count = i64::try_from(values.len()).ok().filter(|count| *count > 0)?;
    let sum: i64 = values.sum();
    let (floor, rest) = (sum.div_euclid(count), sum.rem_euclid(count));
    let up = 2 * rest > count || (2 * rest == count && floor % 2 != 0);
    Some(floor + i64::from(up))
}

#[cfg(test)]
mod tests {
    use super::mean;

    #[test]
    fn means_round_half_to_even() {
        assert_eq!(mean([1, 2].into_iter()), Some(2));
        assert_eq!(mean([2, 3].into_iter()), Some(2));
        assert_eq!(mean([-1, -2].into_iter()), Some(-2));
        assert_eq!(mean([1, 1, 2].into_iter()), Some(1));
        assert_eq!(mean([].into_iter()), None);
    }
}
