//! The readings behind a bond's clocks: digests, the lowest and highest met, and where none were taken.

use super::Asking;
use super::answer::{Gap, ReadingsAnswer};
use crate::judge::words::instant;
use crate::judge::{BondStory, Reckoned};
use glue::clock::State;
use logbook::store::Error;
use std::collections::BTreeSet;

/// A stretch longer than this without a reading is a gap, ms (docs/science/clocks.md).
pub const GAP_MS: i64 = 2 * 3_600_000;

/// The last reading holds for this long, ms (docs/science/clocks.md).
const HOLD_MS: i64 = 15 * 60_000;

/// Readings between the first start and the last end of a bond's clocks, with the one before that still counts there.
pub fn readings(asking: &Asking, story: &BondStory, clocks: &[Reckoned]) -> Result<ReadingsAnswer, Error> {
    let Some((from, to)) = window(asking.at_ms, clocks) else { return Ok(ReadingsAnswer::default()) };
    let mut seen = Seen::default();
    let places = asking.judge.places(story)?;
    for (index, (since, place)) in places.iter().enumerate() {
        let until = places.get(index + 1).map_or(to, |next| next.0.min(to));
        let since = (*since).max(from);
        if let Some(place) = place
            && since <= until
        {
            seen.take(asking, place, since, until)?;
        }
    }
    Ok(ReadingsAnswer {
        blocks: seen.blocks.into_iter().collect(),
        lowest_mk: seen.lowest,
        highest_mk: seen.highest,
        lowest: seen.lowest.map(|mk| asking.judge.reader.temperature(mk)),
        highest: seen.highest.map(|mk| asking.judge.reader.temperature(mk)),
        gaps: gaps(&seen.times, from, to),
        by_hand: seen.by_hand,
    })
}

fn window(at_ms: i64, clocks: &[Reckoned]) -> Option<(i64, i64)> {
    let from = clocks.iter().filter_map(|one| one.on.started_ms).min()?;
    let end = |one: &Reckoned| match (one.on.ended_ms, one.told.state) {
        (Some(ended), _) => ended,
        (None, State::Reached) => one.told.latest_ms.unwrap_or(at_ms),
        (None, _) => at_ms,
    };
    let to = clocks.iter().filter(|one| one.on.started_ms.is_some()).map(end).max()?;
    Some((from, to.min(at_ms).max(from)))
}

#[derive(Default)]
struct Seen {
    blocks: BTreeSet<String>,
    times: BTreeSet<i64>,
    by_hand: Vec<String>,
    lowest: Option<i64>,
    highest: Option<i64>,
}

impl Seen {
    fn take(&mut self, asking: &Asking, place: &str, from: i64, to: i64) -> Result<(), Error> {
        let air = asking.judge.air(place, from, to)?;
        let first = first_used(air.by_hand.iter().map(|(at, ..)| *at), from, to);
        for (at, id, reading) in &air.by_hand {
            if *at >= first && *at <= to {
                self.times.insert(*at);
                self.by_hand.push(id.clone());
                self.met(reading.temperature.mk, reading.temperature.mk);
                if let Some(lowest) = &reading.lowest {
                    self.met(lowest.temperature.mk, lowest.temperature.mk);
                }
            }
        }
        let mut minutes = asking.book.minutes(place, from, to, asking.judge.seen.known_ms)?;
        if minutes.iter().all(|source| source.minutes.is_empty()) {
            minutes = asking.book.minutes(place, from - HOLD_MS, to, asking.judge.seen.known_ms)?;
        }
        for source in minutes {
            self.blocks.extend(source.blocks);
            for minute in source.minutes {
                self.times.insert(minute.at_ms);
                self.met(minute.low_mk, minute.high_mk);
            }
        }
        Ok(())
    }

    fn met(&mut self, low: i64, high: i64) {
        self.lowest = Some(self.lowest.map_or(low, |known| known.min(low)));
        self.highest = Some(self.highest.map_or(high, |known| known.max(high)));
    }
}

/// The instant from which hand readings count for a stretch: that of the last one before it where it still holds then,
/// or where the next comes soon enough after it; else the stretch's own start.
fn first_used(times: impl Iterator<Item = i64> + Clone, from: i64, to: i64) -> i64 {
    let before = times.clone().filter(|at| *at < from).max();
    let next = times.filter(|at| (from..=to).contains(at)).min();
    let holds = |at: &i64| from - at <= HOLD_MS || next.is_some_and(|next| next - at <= GAP_MS);
    before.filter(holds).unwrap_or(from)
}

fn gaps(times: &BTreeSet<i64>, from: i64, to: i64) -> Vec<Gap> {
    let mut gaps = Vec::new();
    let mut last = from;
    for at in times.range(from..).copied().chain([to]) {
        if at - last > GAP_MS {
            gaps.push(Gap { from: instant(last), to: instant(at) });
        }
        last = at;
    }
    gaps
}
