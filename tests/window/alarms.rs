//! Alarms of the window's program: without a window, behind a minimised one, with the page killed or stopped, with no
//! sound device, no service, a clock that steps, and the answer that stops them.

use logbook::entry::Body;
use serde_json::json;
use std::time::Duration;
use tests::bus::Bus;
use tests::watching::{PATIENCE, RealShop, Sink, boot_ms};
use tests::window::{App, Screen, signal, until};

const SEC: i64 = 1_000;

/// Waits for the one record of this word.
fn recorded(real: &RealShop, word: &str) -> logbook::entry::book::Alarm {
    until(&format!("a record: {word}"), || !real.alarms(word).is_empty());
    let mut all = real.alarms(word);
    assert_eq!(all.len(), 1, "once: {all:?}");
    all.remove(0)
}

/// The pot's end was told on the bus, sounded, and recorded within a second.
fn on_time(real: &RealShop, service: &mut tests::bus::Service) {
    let got = service.wait_for(PATIENCE, |got| got.body.contains("pot life is over")).expect("a notification");
    assert_eq!((got.program.as_str(), got.urgency, got.timeout), ("Gluewright", 2, 0), "critical, until closed");
    let over = recorded(real, "over");
    assert!(over.notified && over.sounded && over.late.is_none(), "{over:?}");
    assert!((0..SEC).contains(&(over.noticed_ms - over.due_ms)), "within a second: {over:?}");
}

#[test]
fn t14_without_a_window_minimised_and_on_another_desktop_it_is_told_within_a_second() {
    let screen = Screen::new();
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(5, &bus.address, Sink::Null);
    let mut app = App::start(&real, &screen, &["--hidden"]);
    assert!(screen.windows().is_empty() && app.pages().is_empty(), "the lever: there is no window");
    real.pot();
    on_time(&real, &mut service);
    assert!(app.lives());
    drop(app);

    for hide in [["windowminimize", "set_desktop"], ["set_desktop", "windowminimize"]] {
        let bus = Bus::new();
        let mut service = bus.service();
        let real = RealShop::new(8, &bus.address, Sink::Null);
        let app = App::start(&real, &screen, &[]);
        let window = screen.wait_for_windows(1).remove(0);
        app.wait_for_page(None);
        real.pot();
        let id = window.split(' ').next().expect("an id");
        let words = if hide[0] == "windowminimize" { vec![hide[0], id] } else { vec![hide[0], "1"] };
        screen.says("xdotool", &words);
        on_time(&real, &mut service);
        screen.says("xdotool", &["set_desktop", "0"]);
    }
}

#[test]
fn t15_with_its_page_killed_it_is_told_and_the_window_is_built_anew() {
    let screen = Screen::new();
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(8, &bus.address, Sink::Null);
    let mut app = App::start(&real, &screen, &[]);
    let page = app.wait_for_page(None);
    screen.wait_for_windows(1);
    real.pot();
    signal(page, "KILL");
    let again = app.wait_for_page(Some(page));
    assert_ne!(page, again);
    screen.wait_for_windows(1);
    on_time(&real, &mut service);
    assert!(app.lives());
}

#[test]
fn t15_with_its_page_stopped_it_is_told() {
    let screen = Screen::new();
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(6, &bus.address, Sink::Null);
    let app = App::start(&real, &screen, &[]);
    let page = app.wait_for_page(None);
    screen.wait_for_windows(1);
    real.pot();
    signal(page, "STOP");
    on_time(&real, &mut service);
    let state = std::fs::read_to_string(format!("/proc/{page}/stat")).expect("its state");
    assert!(state.contains(") T "), "the lever: it is stopped: {state}");
    signal(page, "CONT");
}

#[test]
fn a_page_that_keeps_breaking_is_given_up_with_words_and_the_alarms_go_on() {
    let screen = Screen::new();
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(25, &bus.address, Sink::Null);
    let mut app = App::start(&real, &screen, &[]);
    real.pot();
    let mut page = app.wait_for_page(None);
    for _ in 0..3 {
        signal(page, "KILL");
        page = app.wait_for_page(Some(page));
    }
    signal(page, "KILL");
    let got = service.wait_for(PATIENCE, |got| got.title.contains("window is closed")).expect("it is said");
    assert!(got.body.contains("alarms go on"), "{got:?}");
    screen.wait_for_windows(0);
    on_time(&real, &mut service);
    assert!(app.lives());
}

#[test]
fn t16_stopped_and_continued_it_says_how_late_it_is() {
    let screen = Screen::new();
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(3, &bus.address, Sink::Null);
    let app = App::start(&real, &screen, &["--hidden"]);
    // Past its first look at the sound device: stopped in the middle of that, it would rightly say so too.
    let watched = |beat: &serde_json::Value| {
        beat["last_boot_ms"].as_i64() >= beat["first_boot_ms"].as_i64().map(|ms| ms + 2 * SEC)
    };
    until("two seconds watched", || watched(&app.side()["beats"][0]));
    signal(app.pid(), "STOP");
    let started = real.pot();
    until("six seconds", || boot_ms() - started > 6 * SEC);
    signal(app.pid(), "CONT");
    let over = recorded(&real, "over");
    assert!(over.noticed_ms - over.due_ms >= 2 * SEC, "{over:?}");
    assert_eq!(over.late.as_deref(), Some("the program stood still"));
    std::thread::sleep(Duration::from_secs(1));
    let got = service.all();
    assert_eq!(got.len(), 1, "no burst: {got:?}");
}

#[test]
fn t17_killed_before_the_limit_the_next_start_records_it_once() {
    let screen = Screen::new();
    let bus = Bus::new();
    let _service = bus.service();
    let real = RealShop::new(3, &bus.address, Sink::Null);
    let app = App::start(&real, &screen, &["--hidden"]);
    real.pot();
    signal(app.pid(), "KILL");
    drop(app);
    until("the limit passes", || tests::watching::ms(&real.shop.ask("clocks", json!({}))["at"]) > real.limit_ms());
    let app = App::start(&real, &screen, &["--hidden"]);
    recorded(&real, "over");
    assert_eq!(app.side()["ended"], false);
}

#[test]
fn t19_without_a_notification_service_it_sounds_and_is_recorded_so() {
    let screen = Screen::new();
    let bus = Bus::new();
    let real = RealShop::new(4, &bus.address, Sink::File);
    let _app = App::start(&real, &screen, &["--hidden"]);
    real.pot();
    let over = recorded(&real, "over");
    assert!(!over.notified && over.sounded, "no error shown as success: {over:?}");
    assert!(over.trouble.is_some_and(|trouble| trouble.contains("no notification service")));
    assert!(std::fs::metadata(real.sound_file()).is_ok_and(|file| file.len() > 100_000), "tones were written");
}

#[test]
fn t20_without_a_sound_device_it_is_shown_and_said() {
    let screen = Screen::new();
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(4, &bus.address, Sink::Absent);
    let _app = App::start(&real, &screen, &["--hidden"]);
    real.pot();
    assert!(service.wait_for(PATIENCE, |got| got.body.contains("make no sound")).is_some());
    let over = recorded(&real, "over");
    assert!(over.notified && !over.sounded, "{over:?}");
    assert!(over.trouble.is_some_and(|trouble| trouble.contains("no sound device")));
    assert_eq!(real.alarms("cannot-sound").len(), 1, "an alarm of its own, once");
}

#[test]
fn t22_an_answer_stops_the_sound_within_200_ms() {
    let screen = Screen::new();
    let bus = Bus::new();
    let _service = bus.service();
    let real = RealShop::new(2, &bus.address, Sink::File);
    let _app = App::start(&real, &screen, &["--hidden"]);
    let size = || std::fs::metadata(real.sound_file()).map_or(0, |file| file.len());
    let mut best = i64::MAX;
    for round in 1..=3 {
        real.pot();
        until("the alarm", || real.alarms("over").len() == round);
        let before = size();
        until("it sounds", || size() > before);
        real.shop.act(&json!([{ "act": "answer-alarm", "person": "Ann", "body": {} }]));
        let answered = boot_ms();
        let mut last = (answered, size());
        until("it stops", || {
            if size() > last.1 {
                last = (boot_ms(), size());
            }
            boot_ms() - last.0 > 500
        });
        best = best.min(last.0 - answered);
    }
    assert!(best < 200, "the last sound was written {best} ms after the act was done, at best of three");
}

/// The wall clock of the program is stepped by a preloaded library by one second, as at a leap second.
#[test]
fn t13_a_leap_second_is_no_event() {
    const LIBRARY: &str = "/usr/lib/x86_64-linux-gnu/faketime/libfaketime.so.1";
    if !std::path::Path::new(LIBRARY).exists() {
        eprintln!("t13 in the window: SKIPPED, libfaketime is not installed (Debian package faketime)");
        return;
    }
    let screen = Screen::new();
    for step in ["+1", "-1"] {
        let bus = Bus::new();
        let mut service = bus.service();
        let real = RealShop::new(6, &bus.address, Sink::Null);
        let shift = real.shop.folder.path().join("shift");
        std::fs::write(&shift, "+0").expect("written");
        let mut command = App::command(&real, &screen, &["--hidden"]);
        command.env("LD_PRELOAD", LIBRARY).env("FAKETIME_TIMESTAMP_FILE", &shift);
        command.env("FAKETIME_NO_CACHE", "1").env("DONT_FAKE_MONOTONIC", "1").env("FAKETIME_DONT_FAKE_MONOTONIC", "1");
        let mut app = App::of(command, &real.shop.book());
        real.pot();
        std::fs::write(&shift, step).expect("written");
        on_time(&real, &mut service);
        assert!(app.lives());
        assert!(!real.entries().iter().any(|entry| matches!(entry.body, Body::ClockStep(_))), "no event");
    }
}
