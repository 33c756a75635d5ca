//! The same with real processes: a stopped and a killed watch (T16, T17), a bus without a service, with a silent one,
//! without a bus (T19), without a sound device (T20), the answer (T22), a wall clock that is set (T5), another boot
//! (T7). Every case has a book, a bus and a sound sink of its own.

use crate::rig::SEC;
use logbook::entry::Body;
use serde_json::json;
use std::time::Duration;
use tests::binary::gluewright;
use tests::bus::Bus;
use tests::watching::{PATIENCE, RealShop, Sink, Watching, boot_ms};
use workshop::clock::{Clock, SystemClock};

fn sleep_ms(ms: i64) {
    std::thread::sleep(Duration::from_millis(ms.max(0).unsigned_abs()));
}

#[test]
fn t14_due_is_told_within_a_second_by_notification_and_sound() {
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(4, &bus.address, Sink::File);
    let mut watching = real.watch();
    real.pot();
    let limit = real.limit_ms();
    watching.wait_for_alarm("pot life is over");
    let got = service.wait_for(PATIENCE, |got| got.body.contains("pot life is over")).expect("a notification");
    assert_eq!((got.program.as_str(), got.urgency, got.timeout), ("Gluewright", 2, 0), "critical, until closed");
    assert!(got.body.contains("throw it away"), "says what to do: {}", got.body);
    let over = watching.wait_for_record(&real, "over");
    assert!(over.notified && over.sounded && over.trouble.is_none() && over.late.is_none(), "{over:?}");
    assert_eq!(over.due_ms, limit);
    assert!((0..SEC).contains(&(over.noticed_ms - limit)), "within a second: {over:?}");
    assert!(std::fs::metadata(real.sound_file()).is_ok_and(|file| file.len() > 100_000), "tones were written");
}

#[test]
fn t16_stopped_and_continued_it_says_how_late_it_is() {
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(3, &bus.address, Sink::Null);
    let mut watching = real.watch();
    watching.signal("STOP");
    let state = || std::fs::read_to_string(format!("/proc/{}/stat", watching.pid())).expect("its state");
    let end = boot_ms() + 5 * SEC;
    while !state().contains(") T ") {
        assert!(boot_ms() < end, "the lever: it is stopped: {}", state());
        sleep_ms(10);
    }
    let started = real.pot();
    sleep_ms(started + 6 * SEC - boot_ms());
    watching.signal("CONT");
    watching.wait_for_alarm("stood still");
    let over = watching.wait_for_record(&real, "over");
    assert!(over.noticed_ms - over.due_ms >= 2 * SEC, "{over:?}");
    assert_eq!(over.late.as_deref(), Some("the program stood still"));
    sleep_ms(SEC);
    let got = service.all();
    assert_eq!(got.len(), 1, "no burst: {got:?}");
    assert!(real.alarms("nearly-over").is_empty());
}

#[test]
fn t17_killed_around_the_limit_there_is_one_record() {
    let round = |offset: i64| {
        let bus = Bus::new();
        let _service = bus.service();
        let real = RealShop::new(3, &bus.address, Sink::Null);
        let watching = real.watch();
        real.pot();
        let limit = real.limit_ms();
        sleep_ms(limit + offset - SystemClock::new().now().wall_ms);
        watching.signal("KILL");
        assert_eq!(watching.end(), None, "the lever: a signal ended it");
        let before = real.alarms("over").len();
        let mut again = real.watch();
        let gap = again.seen.iter().find(|(_, line)| line.get("gap").is_some());
        assert!(gap.is_some(), "the gap is reported: {:?}", again.seen);
        again.wait_for_record(&real, "over");
        sleep_ms(SEC / 2);
        drop(again);
        let over = real.alarms("over");
        assert_eq!(over.len(), 1, "killed at {offset} ms, {before} before the restart");
        (offset, before)
    };
    let rounds: Vec<_> =
        [-100, -50, 0, 50, 100, 200, 400, 1_500].map(|offset| std::thread::spawn(move || round(offset))).into();
    let seen: Vec<(i64, usize)> =
        rounds.into_iter().map(|round| round.join().expect("a round that failed said why")).collect();
    assert!(
        seen.iter().any(|(_, before)| *before == 0) && seen.iter().any(|(_, before)| *before == 1),
        "the lever: some were killed before the record, some after it: {seen:?}"
    );
}

#[test]
fn t19_without_a_bus_a_service_or_an_answer_screen_and_sound_go_on() {
    let bus = Bus::new();
    let silent_bus = Bus::new();
    let silent = silent_bus.silent_service();
    let cases = [
        ("unix:path=/nowhere/bus", "no notification service"),
        (bus.address.as_str(), "no notification service"),
        (silent_bus.address.as_str(), "does not answer|no notification service"),
    ];
    let shops: Vec<RealShop> = cases.iter().map(|(address, _)| RealShop::new(4, address, Sink::Null)).collect();
    let mut all: Vec<Watching> = shops.iter().map(RealShop::watch).collect();
    for ((real, watching), (address, why)) in shops.iter().zip(&mut all).zip(cases) {
        real.pot();
        let limit = real.limit_ms();
        watching.wait_for_alarm("pot life is over");
        let over = watching.wait_for_record(real, "over");
        assert!(over.noticed_ms - limit < SEC, "on time on the screen, with {address}: {over:?}");
        assert!(!over.notified && over.sounded, "no error shown as success: {over:?}");
        let trouble = over.trouble.clone().unwrap_or_default();
        assert!(why.split('|').any(|why| trouble.contains(why)), "{trouble}");
        watching.drain();
        let said = watching.seen.iter().filter(|(_, line)| line.to_string().contains("not shown by the desktop"));
        assert_eq!(said.count(), 1, "said once: {:?}", watching.seen);
    }
    assert!(silent.asked() > 0, "the lever: the silent service was asked");
}

#[test]
fn t20_without_a_sound_device_it_is_shown_and_said() {
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(4, &bus.address, Sink::Absent);
    let mut watching = real.watch();
    real.pot();
    watching.wait_for_alarm("pot life is over");
    let over = watching.wait_for_record(&real, "over");
    assert!(over.notified && !over.sounded, "{over:?}");
    assert!(over.trouble.is_some_and(|trouble| trouble.contains("no sound device")));
    let silent = real.alarms("cannot-sound");
    assert_eq!(silent.len(), 1, "an alarm of its own, once");
    assert!(service.wait_for(PATIENCE, |got| got.body.contains("make no sound")).is_some());
}

#[test]
fn t22_an_answer_stops_the_sound_within_200_ms() {
    let bus = Bus::new();
    let _service = bus.service();
    let real = RealShop::new(2, &bus.address, Sink::File);
    let mut watching = real.watch();
    let mut best = i64::MAX;
    for _ in 0..3 {
        real.pot();
        watching.wait_for_alarm("pot life is over");
        let size = || std::fs::metadata(real.sound_file()).map_or(0, |file| file.len());
        let before = size();
        sleep_ms(300);
        assert!(size() > before, "it sounds");
        real.shop.act(&json!([{ "act": "answer-alarm", "person": "Ann", "body": {} }]));
        let answered = boot_ms();
        let mut last = (answered, size());
        while boot_ms() - last.0 < 500 {
            sleep_ms(5);
            if size() > last.1 {
                last = (boot_ms(), size());
            }
            assert!(boot_ms() - answered < 10 * SEC, "it never stops");
        }
        best = best.min(last.0 - answered);
        watching.wait_for(|line| line.get("answered").is_some());
    }
    assert!(best < 200, "the last sound was written {best} ms after the act was done, at best of three");
    let answers = real.entries().into_iter().filter(|entry| matches!(entry.body, Body::AlarmAnswered(_)));
    assert!(answers.clone().count() >= 3 && answers.clone().all(|entry| entry.person.is_some()), "who and when");
}

/// The wall clock of the watching process is moved by a preloaded library; its boot clock is not.
#[test]
fn t05_a_wall_clock_set_under_a_running_watch_is_recorded_and_moves_nothing() {
    const LIBRARY: &str = "/usr/lib/x86_64-linux-gnu/faketime/libfaketime.so.1";
    if !std::path::Path::new(LIBRARY).exists() {
        eprintln!("t05 in a process: SKIPPED, libfaketime is not installed (Debian package faketime)");
        return;
    }
    let real = RealShop::new(5, "unix:path=/nowhere/bus", Sink::Null);
    let shift = real.shop.folder.path().join("shift");
    std::fs::write(&shift, "+0").expect("written");
    let mut command = real.command(gluewright().to_str().expect("a path"));
    command.args(["--json", "watch", "--night", "--for", "20"]);
    command.env("LD_PRELOAD", LIBRARY).env("FAKETIME_TIMESTAMP_FILE", &shift);
    command.env("FAKETIME_NO_CACHE", "1").env("DONT_FAKE_MONOTONIC", "1").env("FAKETIME_DONT_FAKE_MONOTONIC", "1");
    let mut watching = Watching::start(command);
    real.pot();
    let limit = real.limit_ms();
    std::fs::write(&shift, "+7200").expect("written");
    let (_, line) = watching.wait_for(|line| line.get("clock_set_ms").is_some());
    let by_ms = line["clock_set_ms"].as_i64().expect("a number");
    assert!((by_ms - 7_200_000).abs() < 200, "the lever moved and was seen: {by_ms}");
    watching.wait_for_alarm("pot life is over");
    let over = watching.wait_for_record(&real, "over");
    assert_eq!(over.due_ms, limit, "the limit did not move");
    assert!((0..SEC).contains(&(over.noticed_ms - limit)), "{over:?}");
    let steps: Vec<i64> = real
        .entries()
        .into_iter()
        .filter_map(|entry| if let Body::ClockStep(step) = entry.body { Some(step.by_ms) } else { None })
        .collect();
    assert!(steps.len() == 1 && (steps[0] - 7_200_000).abs() < 200, "{steps:?}");
}

/// Another boot identity and another boot clock, in namespaces of their own.
#[test]
fn t07_another_boot_is_seen_by_a_real_process() {
    let real = RealShop::new(600, "unix:path=/nowhere/bus", Sink::Null);
    real.pot();
    let before = real.limit_ms();
    let fake = real.shop.folder.path().join("boot_id");
    std::fs::write(&fake, "5f0c3c1e-0000-4000-8000-0123456789ab\n").expect("written");
    let program = gluewright().display();
    let act = json!({ "act": "place", "body": { "name": "loft" } });
    let bind = format!("mount --bind {} /proc/sys/kernel/random/boot_id", fake.display());
    let script = format!("{bind} && {program} act '{act}' >/dev/null && exec {program} --json clocks");
    let mut command = real.command("unshare");
    command.args(["-m", "-T", "--boottime", "7200", "sh", "-c", &script]);
    let Ok(done) = command.output() else {
        eprintln!("t07 in a process: SKIPPED, unshare is not installed");
        return;
    };
    let text = String::from_utf8_lossy(&done.stdout).into_owned();
    let Ok(answer) = serde_json::from_str::<serde_json::Value>(&text) else {
        let why = String::from_utf8_lossy(&done.stderr).into_owned();
        eprintln!("t07 in a process: SKIPPED, no namespaces here (needs root): {why}");
        return;
    };
    let pot = &answer["clocks"][0];
    assert_eq!(crate::rig::ms(&pot["earliest"]), before, "the pot's limit stands by the wall clock");
    let last = real.entries().pop().expect("the act's entry");
    assert_eq!(last.boot, "5f0c3c1e-0000-4000-8000-0123456789ab", "the lever: another boot");
    assert!(last.boot_ms - boot_ms() > 7_100_000, "and another boot clock");
    assert_eq!(last.happened_ms, last.entered_ms, "placed by the wall clock across the restart");
}
