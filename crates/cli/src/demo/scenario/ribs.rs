//! Twenty ribs in five loads of four jigs, each glued on one face, turned over, and glued on the other. Among them:
//! a typing mistake and its correction, a logger without a battery, a day typed in late, and an old can of hardener.

use super::book::{ADA, JORI};
use super::cards::{EPOXY, EPOXY_OLD};
use crate::demo::calendar::{Calendar, MINUTE, written};
use crate::demo::job::Job;
use crate::demo::step::Step;
use crate::demo::weather::BATTERY_DAY;
use serde_json::{Value, json};

/// Minutes from *Hardener in* until the jigs stand in the warm box.
const INTO_BOX: i64 = 35;

/// All rib days.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    let mut steps: Vec<Step> = jobs(calendar).iter().flat_map(|job| job.steps(calendar)).collect();
    steps.extend(nobody_looked(calendar));
    steps.extend(mistyped(calendar));
    steps.extend(battery(calendar));
    steps.extend(old_can(calendar));
    steps
}

/// The bond of a load: four ribs, one face.
fn load(number: u8, face: &str) -> Value {
    let (inner, outer) = (2 * number - 1, 2 * number);
    let parts = [format!("R{inner}-L"), format!("R{inner}-R"), format!("R{outer}-L"), format!("R{outer}-R")];
    json!({ "parts": parts, "stage": face })
}

fn jobs(calendar: Calendar) -> Vec<Job> {
    let job = |name, back, time, number, face| {
        Job::new(name, calendar.at_ms(back, time), JORI, EPOXY, load(number, face)).moved(INTO_BOX, "warm box")
    };
    let (first, second) = ("first face", "second face");
    let late_ms = calendar.at_ms(4, (8, 21));
    vec![
        job("ribs-1a", 13, (8, 52), 1, first).pot("60.1 g", "26.3 g", "18.0 g").off(13, (17, 41)).planed(11, (16, 2)),
        job("ribs-1b", 12, (8, 47), 1, second).pot("60.0 g", "26.5 g", "16.5 g").off(12, (17, 40)).planed(10, (16, 1)),
        job("ribs-2a", 12, (10, 31), 2, first)
            .pot("60.2 g", "26.4 g", "17.0 g")
            .squeeze_out(None)
            .off(11, (8, 19))
            .planed(10, (16, 9)),
        job("ribs-2b", 11, (8, 49), 2, second).pot("55.0 g", "24.1 g", "12.5 g").off(11, (17, 42)).planed(9, (16, 3)),
        job("ribs-3a", 11, (10, 34), 3, first).pot("6.0 g", "26.4 g", "14.0 g").off(10, (8, 21)).planed(9, (16, 8)),
        job("ribs-3b", 10, (8, 44), 3, second).pot("55.3 g", "24.4 g", "11.0 g").off(10, (17, 39)).planed(8, (15, 4)),
        job("ribs-4a", BATTERY_DAY, (8, 51), 4, first)
            .pot("55.0 g", "24.3 g", "13.0 g")
            .off(BATTERY_DAY, (17, 44))
            .planed(7, (16, 6)),
        job("ribs-4b", 8, (8, 48), 4, second).pot("55.1 g", "24.2 g", "12.0 g").off(8, (17, 41)).planed(5, (16, 2)),
        job("ribs-5a", 5, (14, 6), 5, first)
            .pot("55.0 g", "24.2 g", "12.5 g")
            .moisture("9.8 %")
            .off(4, (8, 45))
            .planed(3, (16, 12))
            .late(late_ms, "typed in from the paper sheet: the computer was at the repairer's"),
        Job::new("ribs-5b", calendar.at_ms(4, (9, 2)), JORI, EPOXY_OLD, load(5, second))
            .moved(INTO_BOX, "warm box")
            .pot("55.0 g", "24.0 g", "10.0 g")
            .off(4, (17, 43))
            .planed(2, (16, 4)),
    ]
}

/// The squeeze-out of one load was looked at by nobody; the reason is given at the end of the day.
fn nobody_looked(calendar: Calendar) -> Vec<Step> {
    let text = "nobody looked: the jigs went into the box at once";
    let body = json!({ "of": "$ribs-2a", "text": text });
    vec![Step::new(calendar.at_ms(11, (17, 52)), JORI, "reason", body)]
}

/// Resin typed ten times too small, noticed half an hour later.
fn mistyped(calendar: Calendar) -> Vec<Step> {
    let right = json!({
        "batch": "$ribs-3a.pot1", "card": EPOXY.card, "containers": [EPOXY.resin_can, EPOXY.hardener_can],
        "resin": "60.0 g", "hardener": "26.4 g", "weighing": "retared", "instrument": "scale 1", "place": "bench room",
    });
    let body = json!({ "entry": "$ribs-3a.pot1.mix", "body": right, "why": "typed 6.0 g; the sheet by the scale says 60.0 g" });
    vec![Step::new(calendar.at_ms(11, (11, 12)), JORI, "correct", body)]
}

/// The box's logger had no battery for an afternoon; somebody vouches for the thermostat.
fn battery(calendar: Calendar) -> Vec<Step> {
    let until = written(calendar.at_ms(BATTERY_DAY, (16, 45)));
    let body = json!({ "place": "warm box", "floor": "24 C", "until": until });
    let step = Step::new(calendar.at_ms(BATTERY_DAY, (13, 5)), JORI, "vouch", body);
    vec![step.entered_late(
        calendar.at_ms(BATTERY_DAY, (17, 12)),
        "logger battery empty; the heater stood on its thermostat all afternoon",
    )]
}

/// The expired hardener was noticed the day after; one of its bonds is accepted, with the reason.
fn old_can(calendar: Calendar) -> Vec<Step> {
    let why = "two sample joints of the same cup, broken today, failed in the wood";
    let body = json!({ "bond": "$ribs-5b", "verdict": "accepted", "why": why });
    vec![Step::new(calendar.at_ms(2, (11, 5)) + MINUTE / 3, ADA, "decide", body)]
}
