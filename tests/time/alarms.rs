//! Alarms and notices beyond the timer cases: conditions lost, a promised feed that is silent, the lead of *nearly
//! over*, quiet notices at night, what is owed in the evening, a command of this machine.

use crate::rig::{HOUR, MIN, MORNING, Rig, SEC, ms};
use serde_json::json;
use std::os::unix::fs::PermissionsExt;
use workshop::alarm::Options;
use workshop::alarm::voice::Pattern;
use workshop::clock::Clock;

fn reading(rig: &mut Rig, celsius: &str) {
    rig.act("reading", json!({ "place": "bench", "temperature": celsius }));
}

#[test]
fn cold_under_pressure_is_loud_says_when_it_is_back_and_rings_again_the_next_night() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    reading(&mut rig, "20.0 C");
    assert!(rig.step().rung.is_empty());
    rig.run(HOUR, 10 * MIN);
    // 15 °C is the sheet's least: 16.5 °C ± 1 K is above it, 15.5 °C ± 1 K is not for certain.
    reading(&mut rig, "16.5 C");
    assert!(rig.step().rung.is_empty());
    rig.run(10 * MIN, MIN);
    reading(&mut rig, "15.5 C");
    let step = rig.step();
    let line = step.rung[0].lines[0].clone();
    assert!(line.contains(&format!("(bond {bond}): too cold under pressure")) && line.contains("14.5 °C"), "{line}");
    assert!(line.contains("not coming back"), "{line}");
    assert_eq!(rig.ear.heard().sounds.last(), Some(&Pattern::Medium));
    rig.run(10 * MIN, MIN);
    reading(&mut rig, "15.6 C");
    assert!(rig.step().rung.is_empty(), "the same loss is not rung again");
    let lost = rig.alarms("conditions-lost");
    assert_eq!((lost.len(), lost[0].clock.as_deref()), (1, Some("clamp")));
    assert!(lost[0].due_ms <= lost[0].noticed_ms && lost[0].noticed_ms - lost[0].due_ms < SEC);
    reading(&mut rig, "20.0 C");
    rig.run(2 * HOUR, 10 * MIN);
    reading(&mut rig, "14.0 C");
    rig.clock.advance(10 * MIN);
    reading(&mut rig, "15.0 C");
    let step = rig.step();
    assert!(step.rung[0].lines[0].contains("back at about"), "warming 6 K an hour: {:?}", step.rung);
    assert_eq!(rig.alarms("conditions-lost").len(), 2, "another loss is another alarm");
}

#[test]
fn a_promised_feed_that_is_silent_for_half_an_hour_is_loud_and_a_place_without_a_promise_is_not() {
    for promised in [true, false] {
        let mut rig = Rig::new();
        rig.act("place", json!({ "name": "jig room", "feed": promised }));
        let bond = rig.clamped("P1");
        rig.act("moved", json!({ "bond": bond, "place": "jig room" }));
        rig.act("reading", json!({ "place": "jig room", "temperature": "20.0 C" }));
        rig.step();
        let steps = rig.run(29 * MIN, MIN);
        assert!(steps.iter().all(|step| step.rung.is_empty()));
        rig.run(2 * MIN, 10 * SEC);
        let lost = rig.alarms("conditions-lost");
        assert_eq!(lost.len(), usize::from(promised));
        if promised {
            assert_eq!(lost[0].due_ms, MORNING + 30 * MIN);
            assert!(lost[0].said.contains("no reading from jig room since 09:00"), "{}", lost[0].said);
        }
    }
}

/// Rule 17: the larger of five minutes and the clamping minutes before the limit, at most half the limit before.
#[test]
fn nearly_over_leaves_time_to_set_the_clamps() {
    for (clamping, lead) in [(None, 5 * MIN), (Some("8 min"), 8 * MIN), (Some("25 min"), 15 * MIN)] {
        let mut rig = Rig::new();
        let batch = rig.pot();
        let mut kind = json!({ "mark": "K", "stages": [{ "mark": "one", "joints": [{ "mark": "J" }] }] });
        if let Some(clamping) = clamping {
            kind["clamping"] = json!(clamping);
        }
        rig.act("kind", kind);
        rig.act("set", json!({ "kind": "K", "marks": ["P1"] }));
        rig.act("bond", json!({ "batches": [batch], "parts": ["P1"], "stage": "one", "place": "bench" }));
        rig.step();
        rig.run(30 * MIN - SEC, SEC);
        let nearly = rig.alarms("nearly-over");
        let pot: Vec<_> = nearly.iter().filter(|alarm| alarm.clock.as_deref() == Some("pot")).collect();
        assert_eq!(pot.len(), 1);
        assert_eq!(MORNING + 30 * MIN - pot[0].due_ms, lead, "clamping {clamping:?}");
    }
}

#[test]
fn quiet_notices_wait_for_the_morning_and_loud_alarms_do_not() {
    // 18:00 UTC: the clamps are due at 02:00.
    for night in [false, true] {
        let mut rig = Rig::at(MORNING + 9 * HOUR);
        rig.options = Options { night, command: None };
        let bond = rig.clamped("P1");
        let due = ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]);
        rig.step();
        rig.run(11 * HOUR + 59 * MIN, MIN);
        assert_eq!(rig.alarms("clamps-may-come-off").len(), usize::from(night), "at 05:59");
        rig.run(2 * MIN, MIN);
        let released = rig.alarms("clamps-may-come-off");
        assert_eq!((released.len(), released[0].due_ms), (1, due));
        let noticed = if night { due } else { MORNING + 21 * HOUR };
        assert!((noticed..=noticed + MIN).contains(&released[0].noticed_ms), "{released:?}");
        if !night {
            assert_eq!(released[0].late.as_deref(), Some("held back for the night"));
        }
    }
    let mut rig = Rig::at(MORNING + 16 * HOUR);
    rig.pot();
    rig.step();
    rig.run(31 * MIN, MIN);
    assert_eq!(rig.alarms("over").len(), 1, "at half past one at night");
}

#[test]
fn reasons_owed_are_called_up_once_in_the_evening() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    rig.clock.advance(MIN);
    rig.press("first-clamp-off", &bond);
    rig.step();
    let steps = rig.run(7 * HOUR + 55 * MIN, 5 * MIN);
    assert!(steps.iter().flat_map(|step| &step.rung).all(|rung| rung.title != "Reasons are owed"), "before five");
    rig.run(2 * HOUR, 5 * MIN);
    let owed = rig.alarms("reasons-owed");
    assert_eq!(owed.len(), 1);
    assert_eq!(owed[0].due_ms, MORNING + 8 * HOUR);
    assert!(owed[0].said.contains(&format!("Bond {bond}")), "{}", owed[0].said);
}

#[test]
fn a_command_runs_on_an_alarm_only_from_a_private_file_and_without_a_shell() {
    for (mode, runs) in [(0o600, true), (0o644, false)] {
        let mut rig = Rig::new();
        let file = rig.folder.path().join("on-alarm");
        let made = rig.folder.path().join("made; $(by) alarm");
        std::fs::write(&file, format!("touch\n{}\n", made.display())).expect("written");
        std::fs::set_permissions(&file, std::fs::Permissions::from_mode(mode)).expect("set");
        rig.options = Options { night: false, command: Some(file) };
        rig.pot();
        rig.step();
        let steps = rig.run(31 * MIN, MIN);
        let trouble: Vec<&String> = steps.iter().flat_map(|step| &step.trouble).collect();
        for _ in 0..200 {
            if made.exists() || !runs {
                break;
            }
            std::thread::sleep(std::time::Duration::from_millis(10));
        }
        assert_eq!(made.exists(), runs, "mode {mode:o}: {trouble:?}");
        assert_eq!(trouble.iter().any(|said| said.contains("mode 644")), !runs);
        assert!(rig.clock.now().wall_ms > MORNING + 30 * MIN);
    }
}
