//! A place's air: hand readings, minutes of files, min-max thermometers and vouched floors, by source.

use super::Judge;
use glue::clock::{Air, Floor, Forecast, Knot, LOOK_BACK_MS, RAMP_MS, Shape, Source};
use logbook::entry::forecast as expected;
use logbook::entry::place::Reading;
use logbook::entry::{Body, Id};
use logbook::settled::settle;
use logbook::store::{Error, Minute, SourceMinutes};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Half-width of a sensor's error unless it is calibrated, K (docs/science/clocks.md).
const UNCALIBRATED_K: f64 = 1.0;
/// Minutes are read this far beyond the stretch asked for; where a source that speaks in it is silent there, further
/// and further, so that the rule for a long gap sees both its ends, ms. A gap that reaches more than eight days beyond
/// counts as open.
const AROUND_MS: [i64; 3] = [3 * 3_600_000, 26 * 3_600_000, 8 * 24 * 3_600_000];

/// Hand readings are read this far beyond the stretch, and the next one of each instrument however far, ms.
const HAND_MS: i64 = 26 * 3_600_000;

/// How far past the stretch asked for is read, ms.
const AHEAD_MS: i64 = 7 * 24 * 3_600_000;

/// The air of one place over a stretch, and what it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceAir {
    /// First instant that may be asked of it, ms.
    pub from_ms: i64,
    /// Last instant that may be asked of it, ms.
    pub to_ms: i64,
    /// For the clocks.
    pub air: Air,
    /// Digests of blocks with their hour's source, sorted.
    pub blocks: BTreeSet<String>,
    /// Hand readings: instant, entry id, body.
    pub by_hand: Vec<(i64, Id, Reading)>,
}

#[derive(Default)]
struct Gathered {
    error_k: Option<f64>,
    knots: Vec<Knot>,
    lowest: Vec<Floor>,
}

impl Judge<'_> {
    /// The air of a place for a stretch. What was read last is kept; reading anew looks a week ahead, since bonds are
    /// asked about in the order of their making.
    pub fn air(&self, place: &str, from_ms: i64, to_ms: i64) -> Result<Arc<PlaceAir>, Error> {
        let to_ms = to_ms.min(self.seen.at_ms);
        let known = self.airs.borrow().get(place).cloned();
        if let Some(known) = known.filter(|known| known.from_ms <= from_ms && known.to_ms >= to_ms) {
            return Ok(known);
        }
        let ahead_ms = to_ms.saturating_add(AHEAD_MS).min(self.seen.at_ms);
        let air = Arc::new(self.read_air(place, from_ms, ahead_ms)?);
        self.airs.borrow_mut().insert(place.to_owned(), air.clone());
        Ok(air)
    }

    fn read_air(&self, place: &str, from_ms: i64, to_ms: i64) -> Result<PlaceAir, Error> {
        let mut sources: BTreeMap<String, Gathered> = BTreeMap::new();
        let mut vouched = Vec::new();
        let mut by_hand = Vec::new();
        let mut forecasts = Vec::new();
        let (wide_from, wide_to) = (from_ms.saturating_sub(HAND_MS), to_ms.saturating_add(HAND_MS));
        let mut before: Option<i64> = None;
        let mut hand = settle(&self.book.hand_readings(place, wide_from, wide_to)?, self.seen);
        hand.sort_by_key(|one| (one.happened_ms, one.entry.order_ms, one.entry.seq));
        for one in &hand {
            match &one.body {
                Body::Reading(reading) if reading.place == place => {
                    let name = reading.instrument.clone().unwrap_or_else(|| "hand".to_owned());
                    let error_k = self.error_k(reading.instrument.as_deref())?;
                    take_reading(sources.entry(name).or_default(), reading, one.happened_ms, before, error_k);
                    before = Some(one.happened_ms);
                    by_hand.push((one.happened_ms, one.entry.id.clone(), reading.clone()));
                }
                Body::Vouch(vouch) if vouch.place == place => vouched.push(Floor {
                    from_ms: vouch.from_ms,
                    until_ms: vouch.until_ms,
                    k: vouch.floor.mk as f64 / 1000.0,
                }),
                Body::Forecast(forecast) if forecast.place == place => {
                    forecasts.push(stated(forecast, one.happened_ms, one.entry.zone_min));
                }
                _ => {}
            }
        }
        // A time constant that nobody stated comes from the last cool-down: read that far back.
        let cools = forecasts.last().is_some_and(|last| matches!(last.shape, Shape::Cooling { tau_ms: None, .. }));
        let back_ms = self.seen.at_ms.saturating_sub(LOOK_BACK_MS);
        if cools && from_ms > back_ms && to_ms >= self.seen.at_ms {
            return self.read_air(place, back_ms, to_ms);
        }
        let mut blocks = BTreeSet::new();
        for source in self.minutes(place, from_ms, to_ms)? {
            let error_k = self.error_k(source.instrument.as_deref())?;
            let gathered = sources.entry(source.source).or_default();
            gathered.error_k = Some(error_k);
            blocks.extend(source.blocks);
            gathered.knots.extend(source.minutes.iter().map(knot_of));
        }
        let air = Air { sources: sources.into_values().map(finish).collect(), vouched, forecasts };
        Ok(PlaceAir { from_ms, to_ms, air, blocks, by_hand })
    }

    /// Minutes of a stretch and as far around it as the gap rules look.
    fn minutes(&self, place: &str, from_ms: i64, to_ms: i64) -> Result<Vec<SourceMinutes>, Error> {
        let mut found = Vec::new();
        for (step, around) in AROUND_MS.into_iter().enumerate() {
            let end_ms = to_ms.saturating_add(around).min(self.seen.at_ms);
            found = self.book.minutes(place, from_ms.saturating_sub(around), end_ms, self.seen.known_ms)?;
            let speaks = |source: &SourceMinutes| {
                let before = source.minutes.first().is_some_and(|first| first.at_ms <= from_ms);
                let after = source.minutes.last().is_some_and(|last| last.at_ms >= to_ms);
                before && (after || end_ms >= self.seen.at_ms)
            };
            let enough = if found.is_empty() { step > 0 } else { found.iter().all(speaks) };
            if enough {
                break;
            }
        }
        Ok(found)
    }

    /// Half-width of an instrument's temperature error, K.
    fn error_k(&self, instrument: Option<&str>) -> Result<f64, Error> {
        let Some(id) = instrument else {
            return Ok(UNCALIBRATED_K);
        };
        let accuracy = self.in_force(id)?.and_then(|one| match &one.body {
            Body::Instrument(it) => it.temperature_accuracy.as_ref().map(|it| it.mk_wide as f64 / 1000.0),
            _ => None,
        });
        Ok(accuracy.unwrap_or(UNCALIBRATED_K))
    }
}

fn take_reading(into: &mut Gathered, reading: &Reading, at_ms: i64, before: Option<i64>, error_k: f64) {
    let k = reading.temperature.mk as f64 / 1000.0;
    into.error_k = Some(error_k);
    into.knots.push(Knot { at_ms, low_k: k, mean_k: k, high_k: k });
    if let Some(lowest) = &reading.lowest
        && let Some(since_ms) = lowest.since_ms.or(before)
        && since_ms < at_ms
    {
        into.lowest.push(Floor { from_ms: since_ms, until_ms: at_ms, k: lowest.temperature.mk as f64 / 1000.0 });
    }
}

fn stated(it: &expected::Forecast, at_ms: i64, zone_min: i32) -> Forecast {
    let kelvin = |mk: i64| mk as f64 / 1000.0;
    let shape = match &it.shape {
        expected::Shape::Hold(hold) => Shape::Hold { at_k: kelvin(hold.at.mk) },
        expected::Shape::Setback(it) => Shape::Setback {
            day_k: kelvin(it.day.mk),
            night_k: kelvin(it.night.mk),
            from_min: it.from_min,
            to_min: it.to_min,
            ramp_ms: it.ramp.as_ref().map_or(RAMP_MS, |ramp| ramp.time_ms),
        },
        expected::Shape::Cooling(it) => Shape::Cooling {
            towards_k: kelvin(it.towards.mk),
            tau_ms: it.time_constant.as_ref().map(|tau| tau.time_ms as f64),
        },
        expected::Shape::Day(it) => {
            Shape::Day { mean_k: kelvin(it.mean.mk), swing_k: kelvin(it.swing.mk_wide), warmest_min: it.warmest_min }
        }
    };
    Forecast { from_ms: at_ms, until_ms: it.until_ms, zone_min, shape }
}

fn knot_of(minute: &Minute) -> Knot {
    Knot {
        at_ms: minute.at_ms,
        low_k: minute.low_mk as f64 / 1000.0,
        mean_k: minute.mean_mk as f64 / 1000.0,
        high_k: minute.high_mk as f64 / 1000.0,
    }
}

/// Two knots of one source at one instant: the outer values count, and the mean of both.
fn finish(mut gathered: Gathered) -> Source {
    gathered.knots.sort_by_key(|knot| knot.at_ms);
    gathered.knots.dedup_by(|next, known| {
        let same = next.at_ms == known.at_ms;
        if same {
            known.low_k = known.low_k.min(next.low_k);
            known.high_k = known.high_k.max(next.high_k);
            known.mean_k = (known.mean_k + next.mean_k) / 2.0;
        }
        same
    });
    Source { error_k: gathered.error_k.unwrap_or(UNCALIBRATED_K), knots: gathered.knots, lowest: gathered.lowest }
}

impl PlaceAir {
    /// Mean air at an instant, K: a straight line between knots at most two hours apart, the last knot for 15 minutes.
    pub fn mean_k(&self, at_ms: i64) -> Option<f64> {
        let values: Vec<f64> = self.air.sources.iter().filter_map(|source| mean_at(&source.knots, at_ms)).collect();
        if values.is_empty() { None } else { Some(values.iter().sum::<f64>() / values.len() as f64) }
    }

    /// The last wood temperature read at most `within_ms` before an instant, K.
    pub fn wood_k(&self, at_ms: i64, within_ms: i64) -> Option<f64> {
        let fits = |at: i64| at <= at_ms && at_ms - at <= within_ms;
        self.by_hand
            .iter()
            .rev()
            .filter(|(at, ..)| fits(*at))
            .find_map(|(_, _, reading)| reading.wood_temperature.as_ref().map(|it| it.mk as f64 / 1000.0))
    }
}

fn mean_at(knots: &[Knot], at_ms: i64) -> Option<f64> {
    let next = knots.partition_point(|knot| knot.at_ms <= at_ms);
    let before = knots.get(next.checked_sub(1)?)?;
    match knots.get(next) {
        Some(after) if after.at_ms - before.at_ms <= 2 * 3_600_000 => {
            let share = (at_ms - before.at_ms) as f64 / (after.at_ms - before.at_ms) as f64;
            Some(before.mean_k + share * (after.mean_k - before.mean_k))
        }
        _ if at_ms - before.at_ms <= 15 * 60_000 => Some(before.mean_k),
        _ => None,
    }
}
