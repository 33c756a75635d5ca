//! The computer is started anew, or is another one: T7 to T9, T31, T32.

use crate::rig::{HOUR, MIN, Rig, SEC, ms};
use logbook::entry::Body;
use serde_json::json;
use workshop::clock::Clock;

fn confirmed_by(rig: &Rig) -> Vec<String> {
    let by = |entry: logbook::entry::Entry| match entry.body {
        Body::TimeConfirmed(confirmed) => Some(confirmed.by),
        _ => None,
    };
    rig.entries().into_iter().filter_map(by).collect()
}

fn reboot(rig: &mut Rig, off_ms: i64) {
    let before = rig.clock.now();
    rig.stop();
    rig.clock.reboot("boot-2", before.wall_ms + off_ms);
    let after = rig.clock.now();
    assert!(after.boot != before.boot && after.boot_ms < before.boot_ms, "the lever: another boot");
}

fn assumed(clock: &serde_json::Value) -> String {
    clock["used"]["assumed"].to_string()
}

#[test]
fn t07_a_restart_with_the_clock_right_counts_at_once_for_the_pot_only() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    let batch = rig.pot();
    rig.step();
    rig.run(5 * MIN, MIN);
    let left = rig.pot_left(&batch);
    let clamp = rig.clock_of(json!({ "bond": bond }), "clamp");
    reboot(&mut rig, 10 * MIN);
    assert_eq!(rig.pot_left(&batch), left - 10 * MIN, "off-time counts against the pot");
    let after = rig.clock_of(json!({ "bond": bond }), "clamp");
    let waited = ms(&after["latest"]) - ms(&clamp["latest"]);
    assert!((10 * MIN - 11 * SEC..=10 * MIN).contains(&waited), "no credit while it is not confirmed: {waited}");
    assert!(assumed(&after).contains("was off is not confirmed"), "marked as across a restart: {after}");
    let step = rig.step();
    assert!(step.axis.to_confirm && confirmed_by(&rig).is_empty());
    rig.clock.set(|now| now.synchronised = true);
    rig.run(2 * SEC, SEC);
    assert_eq!(confirmed_by(&rig), ["synchronised"], "once");
    let sure = rig.clock_of(json!({ "bond": bond }), "clamp");
    assert_eq!(ms(&sure["latest"]), ms(&clamp["latest"]), "the off-time counts now");
}

#[test]
fn t07_another_boot_is_a_restart_though_its_boot_clock_is_ahead() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    let before = rig.clock.now();
    let clamp = rig.clock_of(json!({ "bond": bond }), "clamp");
    rig.clock.reboot("boot-2", before.wall_ms + 10 * MIN);
    // It had run for long when the program was started: by its number alone the boot clock just went on.
    rig.clock.set(|now| now.boot_ms = before.boot_ms + 10 * MIN);
    let after = rig.clock_of(json!({ "bond": bond }), "clamp");
    let waited = ms(&after["latest"]) - ms(&clamp["latest"]);
    assert_eq!(waited, 10 * MIN, "no credit while it is not confirmed");
    assert!(assumed(&after).contains("was off is not confirmed"), "marked as across a restart: {after}");
}

#[test]
fn t08_a_restart_with_the_clock_gone_back_trusts_nothing_until_somebody_says_the_time() {
    for back_to in [946_684_800_000, crate::rig::MORNING - HOUR] {
        let mut rig = Rig::new();
        let bond = rig.clamped("P1");
        let batch = rig.pot();
        rig.step();
        rig.run(5 * MIN, MIN);
        let wall = rig.clock.now().wall_ms;
        let clamp = rig.clock_of(json!({ "bond": bond }), "clamp");
        rig.stop();
        rig.clock.reboot("boot-2", back_to);
        assert!(rig.clock.now().wall_ms < wall, "the lever: the wall clock went back");
        let step = rig.step();
        assert!(step.axis.lost_ms.is_some() && step.axis.now_ms >= wall);
        assert_eq!(rig.clock_of(json!({ "batch": batch }), "pot")["state"], "over", "the pot counts as over");
        let rung: Vec<&String> = step.rung.iter().flat_map(|rung| &rung.lines).collect();
        assert!(rung.iter().any(|line| line.contains("confirm the time")), "asked: {rung:?}");
        let lost = rig.clock_of(json!({ "bond": bond }), "clamp");
        assert_eq!(lost["state"], "running", "not proven");
        assert!(ms(&lost["latest"]) >= ms(&clamp["latest"]));
        assert_eq!(rig.alarms("over").len(), 1);
        // Two hours were really off; somebody sets the wall clock and confirms it.
        rig.clock.set(|now| now.wall_ms = wall + 2 * HOUR);
        rig.step();
        rig.act("confirm-time", json!({}));
        let step = rig.step();
        assert_eq!((step.axis.lost_ms, step.axis.now_ms), (None, wall + 2 * HOUR));
        let sure = rig.clock_of(json!({ "bond": bond }), "clamp");
        assert_eq!(ms(&sure["latest"]), ms(&clamp["latest"]), "the clamp's two hours count now");
    }
}

#[test]
fn t09_a_restart_with_the_clock_ahead_frees_no_clamp() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    let batch = rig.pot();
    rig.step();
    rig.run(7 * HOUR, 10 * MIN);
    let clamp = rig.clock_of(json!({ "bond": bond }), "clamp");
    let fresh = rig.pot();
    rig.step();
    reboot(&mut rig, 3 * HOUR);
    let step = rig.step();
    assert_eq!(rig.clock_of(json!({ "batch": fresh }), "pot")["state"], "over");
    assert_ne!(batch, fresh);
    assert!(rig.clock.now().wall_ms > ms(&clamp["latest"]), "by the wall clock it would be due");
    let held = rig.clock_of(json!({ "bond": bond }), "clamp");
    assert_eq!(held["state"], "running");
    assert!(rig.alarms("clamps-may-come-off").is_empty() && step.axis.to_confirm, "asks for confirmation instead");
    // The clock was three hours ahead: it is set right and confirmed. The pot is not over after all.
    rig.clock.step_wall(-3 * HOUR + MIN);
    rig.step();
    rig.act("confirm-time", json!({}));
    rig.step();
    assert_eq!(rig.clock_of(json!({ "batch": fresh }), "pot")["state"], "running");
    let left = rig.pot_left(&fresh);
    let before = rig.ear.heard().notes.len();
    rig.run(left + SEC, MIN);
    let over = rig.alarms("over").into_iter().filter(|alarm| alarm.noticed_ms <= rig.clock.now().wall_ms).count();
    assert_eq!(over, 2, "the first pot, and the fresh one when it really ran out");
    assert!(rig.ear.heard().notes.len() > before, "it rings again, although it rang in error before");
    assert!(rig.alarms("clamps-may-come-off").is_empty());
}

#[test]
fn t31_on_another_computer_nothing_is_armed_silently() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    let batch = rig.pot();
    rig.step();
    let clamp = ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]);
    rig.stop();
    rig.clock.set(|now| now.machine = "machine-2".to_owned());
    rig.clock.reboot("boot-of-machine-2", rig.clock.now().wall_ms);
    let sounds = rig.ear.heard().sounds.len();
    let size = rig.entries().len();
    let steps = rig.run(HOUR, 10 * MIN);
    assert!(steps.iter().all(|step| step.elsewhere && step.rung.is_empty()), "shown as running elsewhere");
    assert_eq!((rig.entries().len(), rig.ear.heard().sounds.len()), (size, sounds), "nothing written, no sound");
    rig.stop();
    let copy = rig.folder.path().join("copy.book");
    for (from, to) in [("shop.book", "copy.book"), ("shop.book-wal", "copy.book-wal")] {
        let (from, to) = (rig.folder.path().join(from), rig.folder.path().join(to));
        if from.exists() {
            std::fs::copy(from, to).expect("a copy");
        }
    }
    rig.book = copy;
    assert!(rig.step().elsewhere, "a copy of the file neither");
    rig.stop();
    rig.clock.set(|now| now.machine = "machine-1".to_owned());
    assert!(rig.step().elsewhere, "nor a copy on its own computer");
    rig.clock.set(|now| now.machine = "machine-2".to_owned());
    rig.stop();
    rig.book = rig.folder.path().join("shop.book");
    rig.act("reading", json!({ "place": "bench", "temperature": "20.0 C" }));
    let step = rig.step();
    assert!(!step.elsewhere, "an act made here makes it at home here");
    assert_eq!(rig.entries()[0].body.kind(), "log-start", "in a log of its own");
    assert!(step.axis.to_confirm && !step.axis.pending.is_empty(), "the time in between is not proven");
    let later = ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]);
    assert!(later >= clamp + HOUR, "and earns no credit until it is: {}", later - clamp);
    assert!(step.rung.iter().flat_map(|rung| &rung.lines).any(|line| line.contains(&format!("Batch {batch}"))));
}

#[test]
fn t32_a_boot_clock_that_went_back_is_a_restart() {
    went_back(true);
}

/// The same, but only the alarms' heartbeat knows how far the boot clock had been.
#[test]
fn t32_a_boot_clock_that_went_back_behind_the_heartbeat_is_a_restart() {
    went_back(false);
}

fn went_back(written: bool) {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    let batch = rig.pot();
    rig.step();
    rig.run(10 * MIN, MIN);
    if written {
        rig.act("place", json!({ "name": "loft" }));
    }
    let left = rig.pot_left(&batch);
    let clamp = ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]);
    let before = rig.clock.now();
    // A snapshot of the machine taken eight minutes ago is brought back five minutes later; the book lies outside it.
    rig.clock.set(|now| {
        now.boot_ms -= 8 * MIN;
        now.awake_ms -= 8 * MIN;
        now.wall_ms += 5 * MIN;
    });
    let after = rig.clock.now();
    assert!(after.boot == before.boot && after.boot_ms < before.boot_ms, "the lever: same boot, earlier boot clock");
    rig.step();
    assert_eq!(rig.pot_left(&batch), left - 5 * MIN, "counts against the pot");
    let pending = ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]);
    assert!(pending > clamp + 4 * MIN, "not proven for the clamp");
    rig.run(2 * MIN, SEC);
    assert_eq!(rig.pot_left(&batch), left - 7 * MIN, "and goes on from there");
    rig.act("confirm-time", json!({}));
    let sure = ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]);
    assert!(if written { sure == clamp } else { sure >= clamp }, "{}", sure - clamp);
    assert_eq!(rig.pot_left(&batch), left - 7 * MIN);
}

/// Hibernation that the boot clock did not count: the same boot, the wall clock hours ahead.
#[test]
fn t32_a_sleep_the_boot_clock_missed_counts_when_it_is_confirmed() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    let batch = rig.pot();
    rig.step();
    let clamp = ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]);
    rig.clock.step_wall(2 * HOUR);
    let step = rig.step();
    assert_eq!(step.clock_set_ms, Some(2 * HOUR), "shown; indistinguishable from a clock that was set");
    assert_eq!(rig.clock_of(json!({ "batch": batch }), "pot")["state"], "running");
    rig.act("confirm-time", json!({}));
    rig.step();
    assert_eq!(rig.clock_of(json!({ "batch": batch }), "pot")["state"], "over", "the safe side for the pot");
    assert_eq!(rig.alarms("over").len(), 1);
    let after = ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]);
    assert!(after >= clamp + 2 * HOUR - SEC, "and for the clamp: the presses lie before the jump");
}
