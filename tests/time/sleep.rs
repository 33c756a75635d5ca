//! The computer sleeps: T1 to T4; and many clocks at once: T24, T26.

use crate::rig::{HOUR, MIN, Rig, SEC, ms};
use serde_json::json;
use workshop::alarm::voice::Pattern;
use workshop::clock::Clock;

#[test]
fn t01_sleep_within_the_pot_life_is_counted() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    rig.step();
    rig.run(5 * MIN, MIN);
    let before = rig.pot_left(&batch);
    let awake = rig.clock.now().awake_ms;
    rig.clock.sleep(15 * MIN);
    assert_eq!(rig.clock.now().awake_ms, awake, "the clock that skips sleep stood still");
    let step = rig.step();
    assert_eq!(rig.pot_left(&batch), before - 15 * MIN, "shown at once, no catching up");
    assert!(step.rung.is_empty(), "not due yet: {:?}", step.rung);
    assert!(rig.alarms("over").is_empty());
}

#[test]
fn t02_sleep_past_the_end_is_one_alarm_that_says_so() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    rig.step();
    rig.run(5 * MIN, MIN);
    let limit = rig.pot_left(&batch);
    rig.clock.sleep(limit + 20 * MIN);
    let step = rig.step();
    assert_eq!(step.rung.len(), 1, "{:?}", step.rung);
    let line = &step.rung[0].lines[0];
    assert!(line.contains("20 min ago") && line.contains("asleep"), "{line}");
    let over = rig.alarms("over");
    assert_eq!(over.len(), 1);
    assert_eq!((over[0].noticed_ms - over[0].due_ms, over[0].late.as_deref()), (20 * MIN, Some("asleep")));
    assert!(over[0].notified && over[0].sounded && over[0].trouble.is_none());
    assert!(rig.alarms("nearly-over").is_empty(), "nearly over is no news any more");
    let heard = rig.ear.heard();
    assert_eq!((heard.notes.len(), heard.sounds.as_slice()), (1, [Pattern::High].as_slice()));
    drop(heard);
    assert_eq!(rig.clock_of(json!({ "batch": batch }), "pot")["state"], "over", "until a person does something");
}

#[test]
fn t03_five_pots_over_asleep_are_one_alarm_and_five_records() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P0");
    for _ in 0..5 {
        rig.pot();
        rig.run(10 * SEC, 10 * SEC);
    }
    rig.step();
    rig.clock.sleep(9 * HOUR);
    let step = rig.step();
    assert_eq!(step.rung.len(), 1, "one alarm");
    let rung = &step.rung[0];
    assert_eq!((rung.lines.len(), rung.loud), (6, true), "{:?}", rung.lines);
    let kinds: Vec<bool> = rung.lines.iter().map(|line| line.contains("pot life is over")).collect();
    assert_eq!(kinds, [true, true, true, true, true, false], "most serious first: {:?}", rung.lines);
    assert!(rung.lines[5].contains(&format!("(bond {bond}): clamps may come off")), "{:?}", rung.lines);
    let over = rig.alarms("over");
    assert_eq!(over.len(), 5, "five separate records");
    assert!(over.windows(2).all(|two| two[0].batch != two[1].batch));
    assert_eq!(rig.ear.heard().notes.len(), 1);
    assert_eq!(rig.ear.heard().sounds, [Pattern::High]);
    assert_eq!(rig.step().rung, [], "no burst afterwards");
}

#[test]
fn t04_sleep_counts_for_the_clamps() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    rig.step();
    rig.run(HOUR, 10 * MIN);
    let before = rig.clock_of(json!({ "bond": bond }), "clamp");
    let latest = ms(&before["latest"]);
    rig.clock.sleep(6 * HOUR);
    rig.step();
    let after = rig.clock_of(json!({ "bond": bond }), "clamp");
    assert_eq!(ms(&after["latest"]), latest, "the vouched floor gave credit asleep as awake");
    assert!(after["progress_ppm"]["low"].as_i64() > before["progress_ppm"]["low"].as_i64());
    assert_eq!(after["state"], "running");
    let left = latest - rig.clock.now().wall_ms;
    rig.clock.sleep(left);
    let step = rig.step();
    assert!(step.rung[0].lines[0].contains("clamps may come off"), "{:?}", step.rung);
    let released = rig.alarms("clamps-may-come-off");
    assert_eq!(released.len(), 1);
    assert_eq!(released[0].due_ms, latest, "not a moment too early");
    assert_eq!(released[0].progress.as_ref().map(|said| said.low_ppm >= 1_000_000), Some(true));
    assert_eq!(rig.ear.heard().sounds, [Pattern::Low], "a quiet notice, once");
}

#[test]
fn t24_fifty_at_once_are_rung_together_and_looked_at_rarely() {
    let mut rig = Rig::new();
    let batches: Vec<String> = (0..50).map(|_| rig.pot()).collect();
    rig.step();
    let left = rig.pot_left(&batches[0]);
    let steps = rig.run(left - MIN, MIN);
    let nearly: usize = steps.iter().flat_map(|step| &step.rung).map(|rung| rung.lines.len()).sum();
    assert_eq!(nearly, 50, "each is nearly over once");
    let steps = rig.run(MIN + SEC, 100);
    let over: Vec<_> = steps.iter().flat_map(|step| &step.rung).collect();
    assert_eq!(over.len(), 1, "one alarm");
    assert_eq!(over[0].lines.len(), 50);
    let records = rig.alarms("over");
    assert_eq!(records.len(), 50);
    assert!(records.iter().all(|alarm| alarm.noticed_ms - alarm.due_ms <= SEC && alarm.late.is_none()));
    let looks = steps.iter().filter(|step| step.looked).count();
    assert!(looks <= 20, "{looks} looks in {} steps", steps.len());
}

#[test]
fn t26_two_in_the_same_millisecond_keep_their_order() {
    let mut rig = Rig::new();
    let (one, other) = (rig.pot(), rig.pot());
    assert_ne!(one, other);
    rig.step();
    rig.run(40 * MIN, MIN);
    let over = rig.alarms("over");
    assert_eq!(over.len(), 2, "both kept");
    assert_eq!(over[0].due_ms, over[1].due_ms);
    assert!(over[0].batch < over[1].batch, "in the order of their ids");
    let hardener: Vec<i64> = rig.of_kind("press").iter().map(|entry| entry.happened_ms).collect();
    assert_eq!(hardener[0], hardener[1], "the lever: the same millisecond");
}
