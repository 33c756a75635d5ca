//! Somebody sets the wall clock, or the zone changes: T5, T6, T10 to T12; long spans: T27; readings that move a
//! limit: T28; starts entered late: T29; times that cannot be: T25.

use crate::rig::{HOUR, MIN, Rig, SEC, instant, ms};
use logbook::entry::Body;
use serde_json::json;
use workshop::clock::Clock;

fn steps_recorded(rig: &Rig) -> Vec<i64> {
    let step = |entry: logbook::entry::Entry| match entry.body {
        Body::ClockStep(step) => Some(step.by_ms),
        _ => None,
    };
    rig.entries().into_iter().filter_map(step).collect()
}

#[test]
fn t05_wall_two_hours_ahead_moves_no_pot() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    rig.step();
    rig.run(5 * MIN, MIN);
    let before = rig.pot_left(&batch);
    let wall = rig.clock.now().wall_ms;
    rig.clock.step_wall(2 * HOUR);
    assert_eq!(rig.clock.now().wall_ms, wall + 2 * HOUR, "the lever moved");
    let step = rig.step();
    assert_eq!(step.clock_set_ms, Some(2 * HOUR), "noticed and shown");
    assert_eq!(rig.pot_left(&batch), before, "remaining unchanged");
    assert_eq!(steps_recorded(&rig), [2 * HOUR], "recorded");
    rig.run(MIN, 10 * SEC);
    assert_eq!(steps_recorded(&rig), [2 * HOUR], "once");
    assert!(rig.alarms("over").is_empty());
    let stamped = rig.of_kind("clock-step")[0].clone();
    assert_eq!(stamped.entered_ms - stamped.happened_ms, 2 * HOUR, "entered by the wall, happened on the axis");
}

#[test]
fn t05_a_step_while_nobody_watches_is_recorded_by_the_next_act() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    let before = rig.pot_left(&batch);
    rig.clock.step_wall(2 * HOUR);
    rig.act("place", json!({ "name": "loft" }));
    assert_eq!(steps_recorded(&rig), [2 * HOUR]);
    assert_eq!(rig.pot_left(&batch), before);
}

#[test]
fn t06_wall_two_hours_back_frees_no_clamp() {
    let mut rig = Rig::new();
    let bond = rig.clamped("P1");
    rig.step();
    rig.run(HOUR, 10 * MIN);
    let before = ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]);
    let now = rig.step().axis.now_ms;
    rig.clock.step_wall(-2 * HOUR);
    let step = rig.step();
    assert_eq!((step.axis.now_ms, step.clock_set_ms), (now, Some(-2 * HOUR)));
    assert_eq!(ms(&rig.clock_of(json!({ "bond": bond }), "clamp")["latest"]), before, "remaining unchanged");
    assert_eq!(steps_recorded(&rig), [-2 * HOUR]);
    rig.run(before - now - MIN, 10 * MIN);
    assert!(rig.alarms("clamps-may-come-off").is_empty(), "never early");
    rig.run(2 * MIN, 30 * SEC);
    assert_eq!(rig.alarms("clamps-may-come-off").len(), 1);
}

/// Summer time begins and ends within a cure: the zone's offset jumps, no instant does.
#[test]
fn t10_summer_time_bends_no_cure() {
    for (from_min, to_min) in [(60, 120), (120, 60)] {
        let mut rig = Rig::new();
        rig.clock.set(|now| now.zone_min = from_min);
        let bond = rig.clamped("P1");
        rig.step();
        let machining = rig.clock_of(json!({ "bond": bond }), "machining");
        let (started, latest) = (ms(&machining["started"]), ms(&machining["latest"]));
        rig.run(4 * HOUR, HOUR);
        rig.clock.set(|now| now.zone_min = to_min);
        rig.act("place", json!({ "name": "loft" }));
        let after = rig.clock_of(json!({ "bond": bond }), "machining");
        assert_eq!((ms(&after["started"]), ms(&after["latest"])), (started, latest), "to the millisecond");
        assert!(steps_recorded(&rig).is_empty());
        let zones: Vec<i32> = rig.entries().iter().map(|entry| entry.zone_min).collect();
        assert!(zones.contains(&from_min) && zones.contains(&to_min), "both offsets are kept: {zones:?}");
        let local = |zone_min: i64| instant(latest + 59_999 + zone_min * MIN)[11..16].to_owned();
        let said = after["said"].as_str().unwrap_or_default().to_owned();
        assert!(said.contains(&local(i64::from(to_min))), "{said}: shown in this computer's zone now");
    }
}

#[test]
fn t11_another_zone_changes_nothing() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    rig.step();
    let mut left = rig.pot_left(&batch);
    for (at, zone_min) in [330, -210, 345, 765, -720].into_iter().enumerate() {
        rig.clock.set(|now| now.zone_min = zone_min);
        assert!(rig.step().rung.is_empty());
        assert_eq!(rig.pot_left(&batch), left, "zone {zone_min}");
        rig.run(MIN, MIN);
        left -= MIN;
        rig.act("place", json!({ "name": format!("place {at}") }));
        assert_eq!(rig.entries().last().map(|entry| entry.zone_min), Some(zone_min), "the record keeps the offset");
    }
    assert!(steps_recorded(&rig).is_empty());
}

#[test]
fn t12_slewing_for_twelve_hours_is_no_step() {
    for sign in [1, -1] {
        let mut rig = Rig::new();
        let bond = rig.clamped("P1");
        rig.step();
        let latest = ms(&rig.clock_of(json!({ "bond": bond }), "machining")["latest"]);
        let start = rig.clock.now();
        for _ in 0..720 {
            rig.clock.step_wall(sign * 30);
            rig.run(MIN, MIN);
        }
        let now = rig.clock.now();
        let slewed = (now.wall_ms - start.wall_ms) - (now.boot_ms - start.boot_ms);
        assert_eq!(slewed, sign * 21_600, "the lever: 500 ppm over twelve hours");
        let axis = rig.step().axis.now_ms;
        assert!((axis - now.wall_ms).abs() < MIN, "error below a minute");
        rig.act("place", json!({ "name": "loft" }));
        assert!(steps_recorded(&rig).is_empty(), "no jump recorded");
        assert_eq!(ms(&rig.clock_of(json!({ "bond": bond }), "machining")["latest"]), latest);
    }
}

#[test]
fn t13_a_leap_second_is_no_step() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    rig.step();
    let left = rig.pot_left(&batch);
    for by_ms in [SEC, -SEC, -SEC] {
        rig.clock.step_wall(by_ms);
        assert_eq!(rig.step().clock_set_ms, None);
    }
    assert_eq!(rig.pot_left(&batch), left);
    assert!(steps_recorded(&rig).is_empty());
}

#[test]
fn t25_times_that_cannot_be_are_refused_with_their_range() {
    let mut rig = Rig::new();
    let size = rig.entries().len();
    for time in ["0 min", "-5 min", "NaN h", "inf h", "400 d", "soon", ""] {
        let card = json!({ "act": "card", "body": { "name": "X", "class": "epoxy", "ratio": "100:83", "limits": [
            { "clock": "pot", "points": [{ "at": "20 C", "time": time }] }] } });
        let (code, sentence) = rig.refused(card);
        assert!(["out-of-range", "missing"].contains(&code.as_str()), "{time:?}: {code}");
        assert!(sentence.contains("time"), "{time:?}: {sentence}");
    }
    assert_eq!(rig.entries().len(), size, "nothing was appended");
}

#[test]
fn t27_beyond_49_days_2038_and_2100() {
    let after_2038 = 2_147_483_648_000 - 10 * MIN;
    let after_2100 = 4_102_444_800_000 - 10 * MIN;
    for wall_ms in [after_2038, after_2100] {
        let folder = tempfile::tempdir().expect("a folder");
        let clock = workshop::clock::FixedClock::at(wall_ms);
        clock.set(|now| {
            now.boot_ms = (1_i64 << 32) - 10 * MIN;
            now.awake_ms = now.boot_ms;
        });
        let mut rig = {
            let book = folder.path().join("shop.book");
            Rig::on(folder, book, clock)
        };
        let batch = rig.pot();
        rig.step();
        let left = rig.pot_left(&batch);
        assert!((25 * MIN..=30 * MIN).contains(&left), "{left}");
        let mut rung = 0;
        for step in rig.run(left, MIN) {
            rung += step.rung.len();
        }
        let now = rig.clock.now();
        assert!(now.boot_ms > 1_i64 << 32 && now.wall_ms > wall_ms + 10 * MIN, "both edges were crossed");
        assert_eq!((rig.alarms("nearly-over").len(), rig.alarms("over").len()), (1, 1));
        assert!(rung >= 2 && rig.alarms("over")[0].late.is_none());
        assert_eq!(rig.alarms("over")[0].due_ms, now.wall_ms);
    }
}

#[test]
fn t28_a_reading_moves_the_limit_and_only_itself_is_recorded() {
    let mut rig = Rig::new();
    rig.act("reading", json!({ "place": "bench", "temperature": "20.0 C" }));
    let points = json!([{ "at": "20 C", "time": "30 min" }]);
    let limits = json!([{ "clock": "pot", "points": points, "counted_from": "mixing" }]);
    rig.act("card", json!({ "name": "H", "class": "epoxy", "ratio": "1:1 by volume", "limits": limits }));
    let receipt = rig.act("press", json!({ "press": "hardener-in" }));
    let batch = receipt["made"]["batch"].as_str().expect("a batch was made").to_owned();
    rig.act("mix", json!({ "batch": batch, "card": "H", "containers": ["can R1", "can H1"], "place": "bench" }));
    rig.step();
    rig.run(2 * MIN, MIN);
    let before = rig.pot_left(&batch);
    let size = rig.entries().len();
    rig.act("reading", json!({ "place": "bench", "temperature": "30.0 C" }));
    let step = rig.step();
    assert!(step.looked, "noticed at once");
    let after = rig.pot_left(&batch);
    assert!(after < before - MIN, "warmer: {after} instead of {before}");
    assert_eq!(rig.entries().len(), size + 1, "the reading; a moved limit is shown and not recorded");
    // The reading ages while the pot stands, which moves the limit further, each time without an entry.
    rig.run(before, SEC);
    assert_eq!((rig.alarms("nearly-over").len(), rig.alarms("over").len()), (1, 1));
    assert_eq!(rig.entries().len(), size + 3);
    let over = &rig.alarms("over")[0];
    assert!(over.noticed_ms - over.due_ms <= SEC && over.late.is_none(), "{over:?}");
}

#[test]
fn t29_a_start_entered_late_keeps_both_times() {
    let mut rig = Rig::new();
    rig.step();
    let now = rig.clock.now().wall_ms;
    let happened = instant(now - 4 * MIN);
    let press =
        json!({ "act": "press", "happened": happened, "why": "hands full", "body": { "press": "hardener-in" } });
    let receipt = rig.envelope(press);
    let batch = receipt["made"]["batch"].as_str().expect("a batch").to_owned();
    let mix = json!({ "batch": batch, "card": "T", "containers": ["can R1", "can H1"], "place": "bench" });
    rig.act("mix", mix);
    let entry = rig.of_kind("press").pop().expect("the press");
    assert_eq!((entry.happened_ms, entry.entered_ms), (now - 4 * MIN, now), "both times are stored");
    assert_eq!(entry.why.as_deref(), Some("hands full"));
    assert_eq!(ms(&rig.clock_of(json!({ "batch": batch }), "pot")["started"]), now - 4 * MIN);
    let future = json!({ "act": "press", "happened": instant(now + 10 * SEC), "body": { "press": "hardener-in" } });
    assert_eq!(rig.refused(future).0, "future");
}

#[test]
fn t29_a_pot_entered_when_it_was_over_rings_and_says_why_late() {
    let mut rig = Rig::new();
    rig.step();
    rig.run(2 * HOUR, HOUR);
    let happened = instant(rig.clock.now().wall_ms - HOUR);
    let press = json!({ "act": "press", "happened": happened, "body": { "press": "hardener-in" } });
    let batch = rig.envelope(press)["made"]["batch"].as_str().expect("a batch").to_owned();
    let cans = ["can R1", "can H1"];
    let mix = json!({ "batch": batch, "card": "T", "containers": cans, "place": "bench" });
    rig.envelope(json!({ "act": "mix", "happened": happened, "body": mix }));
    rig.step();
    let over = rig.alarms("over");
    assert_eq!(over.len(), 1);
    assert_eq!(over[0].late.as_deref(), Some("entered afterwards"));
    assert!(over[0].noticed_ms - over[0].due_ms > 25 * MIN);
}
