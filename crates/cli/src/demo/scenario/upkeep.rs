//! What is read off thermometers and loggers: by hand twice a day, from the loggers' files three times a day; and what
//! the bench room's stove is set to do at night.

use super::book::{ADA, JORI};
use crate::demo::calendar::{Calendar, DAYS, MINUTE};
use crate::demo::step::{File, Step};
use crate::demo::weather::{self, Spot};
use serde_json::json;

/// Readings by hand and files, and the alarms of the night answered.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    let mut steps = files(calendar);
    let answer = |back| Step::new(calendar.at_ms(back, (8, 7)), ADA, "answer-alarm", json!({}));
    steps.extend(super::WATCHED.map(answer));
    steps.push(nights(calendar));
    for back in 1..DAYS {
        steps.extend(by_hand(calendar, back));
    }
    steps
}

/// The stove's timer, as set on the evening before T: a little less at night.
fn nights(calendar: Calendar) -> Step {
    let body = json!({
        "place": "bench room", "shape": "setback", "day": "21 C", "night": "17.5 C", "from": "18:00", "to": "06:30",
    });
    Step::new(calendar.at_ms(1, (17, 41)), ADA, "forecast", body)
}

/// The loggers' files, each from where the one before ended.
fn files(calendar: Calendar) -> Vec<Step> {
    let mut from_ms = calendar.begin_ms();
    let mut steps = Vec::new();
    for to_ms in imports(calendar) {
        let files = Spot::ALL.into_iter().zip(0i64..);
        steps.extend(files.map(|(spot, index)| Step::file(to_ms + index * 700, File { spot, from_ms, to_ms })));
        from_ms = to_ms;
    }
    steps
}

/// When the loggers were read out.
fn imports(calendar: Calendar) -> Vec<i64> {
    let times = [(8, 5), (12, 32), (17, 33)];
    let mut all: Vec<i64> = (1..DAYS).rev().flat_map(|back| times.map(|time| calendar.at_ms(back, time))).collect();
    all.extend([171, 62, 21].map(|minute| calendar.until_ms - minute * MINUTE));
    all.push(calendar.until_ms - 4_000);
    all
}

/// The thermometers on the wall, and the meter pushed into the wood.
fn by_hand(calendar: Calendar, back: i64) -> Vec<Step> {
    let morning = bench_room(calendar, calendar.at_ms(back, (8, 11)), JORI, back);
    let noon = bench_room(calendar, calendar.at_ms(back, (13, 2)), ADA, back);
    let mut steps = vec![morning, noon];
    if back % 3 == 0 {
        steps.push(wood_store(calendar, calendar.at_ms(back, (8, 17)), back));
    }
    steps
}

/// Wood moisture as read, by day.
const WOOD: [&str; 7] = ["9.8 %", "9.6 %", "9.7 %", "9.9 %", "10.1 %", "9.8 %", "9.5 %"];

fn moisture(back: i64) -> &'static str {
    WOOD.get(back.rem_euclid(7) as usize).copied().unwrap_or("9.8 %")
}

/// A reading in the bench room; the timber on the racks lags an hour behind the air.
pub fn bench_room(calendar: Calendar, at_ms: i64, person: &'static str, back: i64) -> Step {
    let body = json!({
        "place": "bench room", "temperature": weather::shown(calendar, Spot::Bench, at_ms), "humidity": "46 %",
        "wood": { "temperature": weather::shown(calendar, Spot::Bench, at_ms - 60 * MINUTE), "moisture": moisture(back) },
    });
    Step::new(at_ms, person, "reading", body)
}

fn wood_store(calendar: Calendar, at_ms: i64, back: i64) -> Step {
    let air = weather::shown(calendar, Spot::Store, at_ms);
    let body =
        json!({ "place": "wood store", "temperature": air, "wood": moisture(back), "instrument": "wood meter 1" });
    Step::new(at_ms, JORI, "reading", body)
}
