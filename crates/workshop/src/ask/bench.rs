//! What the bench shows: live clocks in the order of BENCH.md, the last reading of each place, alarms, what is owed.

use super::answer::{BenchAnswer, BenchPress, LastReading, PressAct, Saved};
use super::clocks::live;
use super::{Asking, lines};
use crate::judge::Reckoned;
use crate::judge::words::instant;
use crate::wire::WireError;
use glue::clock::{Direction, State};
use logbook::entry::Body;
use logbook::settled::settle;
use logbook::store::{Error, Noun};

/// A logger's minutes are looked for this far back, ms.
const LOOK_BACK_MS: i64 = 48 * 3_600_000;

/// Answers `bench`.
pub fn bench(asking: &Asking) -> Result<BenchAnswer, WireError> {
    let mut clocks = live(asking)?;
    clocks.sort_by_key(order);
    let held = asking.book.live()?;
    let mut readings = Vec::new();
    for (_, place) in asking.book.list(Noun::Place)? {
        readings.push(last_reading(asking, &place)?);
    }
    let mut alarms = Vec::new();
    for id in &held.alarms {
        if let Some(one) = asking.judge.in_force(id)?
            && let Body::Alarm(alarm) = &one.body
        {
            alarms.push(asking.alarm_line(&one.entry, alarm)?);
        }
    }
    let mut owed = Vec::new();
    for bond in &held.bonds {
        owed.extend(asking.judge.owed(bond)?);
    }
    let clocks = lines::clocks(&clocks);
    let size = asking.size()?;
    Ok(BenchAnswer {
        at: instant(asking.at_ms),
        size,
        clocks,
        readings,
        alarms,
        owed,
        next: None,
        strip: Vec::new(),
        rows: Vec::new(),
        primary: primary(),
        saved: Saved { size, said: format!("{size} entries") },
    })
}

/// *Hardener in*, before any number is typed.
fn primary() -> BenchPress {
    let act = PressAct { act: "press".to_owned(), body: serde_json::json!({ "press": "hardener-in" }) };
    BenchPress { word: "Hardener in".to_owned(), act: Some(act), choices: Vec::new() }
}

/// Must-not-exceed rows stand above must-reach rows; what is over stands first, then the next instant on top.
fn order(one: &Reckoned) -> (u8, i64, String) {
    let over = one.told.state == State::Over;
    let (rank, at) = match one.on.clock.direction() {
        Direction::MustNotExceed if over => (0, one.told.earliest_ms),
        Direction::MustNotExceed => (1, one.told.earliest_ms),
        Direction::MustReach => (2, one.told.latest_ms),
    };
    (rank, at.unwrap_or(i64::MAX), one.on.of.clone())
}

fn last_reading(asking: &Asking, place: &str) -> Result<LastReading, Error> {
    let at_ms = asking.at_ms;
    let hand = settle(&asking.book.hand_readings(place, at_ms, at_ms)?, asking.judge.seen);
    let by_hand = hand.iter().filter_map(|one| match &one.body {
        Body::Reading(it) if it.place == place => {
            Some((one.happened_ms, it.temperature.mk, it.humidity.as_ref().map(|share| share.ppm)))
        }
        _ => None,
    });
    let files = asking.book.minutes(place, at_ms - LOOK_BACK_MS, at_ms, asking.judge.seen.known_ms)?;
    let by_file =
        files.iter().filter_map(|source| source.minutes.last()).map(|it| (it.at_ms, it.mean_mk, it.humidity_ppm));
    let last = by_hand.chain(by_file).max_by_key(|(at, ..)| *at);
    Ok(LastReading {
        place: asking.judge.name(place)?,
        at: last.map(|(at, ..)| instant(at)),
        age_ms: last.map(|(at, ..)| at_ms - at),
        temperature_mk: last.map(|(_, mk, _)| mk),
        humidity_ppm: last.and_then(|(_, _, ppm)| ppm),
    })
}
