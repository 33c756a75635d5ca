//! One window a person, one owner of a book's alarms.

use serde_json::json;
use tests::bus::Bus;
use tests::watching::{PATIENCE, RealShop, Sink};
use tests::window::{App, Screen, until};

#[test]
fn t30_a_second_start_shows_the_first_and_there_is_one_alarm() {
    let screen = Screen::new();
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(6, &bus.address, Sink::Null);
    let mut app = App::start(&real, &screen, &["--hidden"]);
    assert!(screen.windows().is_empty());
    let second = App::command(&real, &screen, &[]).output().expect("it ends");
    assert!(second.status.success(), "{second:?}");
    screen.wait_for_windows(1);
    assert!(app.lives());
    real.pot();
    assert!(service.wait_for(PATIENCE, |got| got.body.contains("pot life is over")).is_some());
    until("the record", || !real.alarms("over").is_empty());
    std::thread::sleep(std::time::Duration::from_secs(1));
    let over = service.all().into_iter().filter(|got| got.body.contains("pot life is over")).count();
    assert_eq!((over, real.alarms("over").len()), (1, 1), "no double alarm");
}

#[test]
fn another_settings_folder_is_another_window_and_leaves_the_alarms_where_they_are() {
    let screen = Screen::new();
    let bus = Bus::new();
    let _service = bus.service();
    let real = RealShop::new(600, &bus.address, Sink::Null);
    let app = App::start(&real, &screen, &["--hidden"]);
    let mut command = App::command(&real, &screen, &[]);
    command.env("XDG_CONFIG_HOME", real.shop.folder.path().join("other"));
    let mut other = command.spawn().expect("it starts");
    screen.wait_for_windows(1);
    assert_eq!(app.side()["pid"], app.pid());
    other.kill().expect("killed");
    other.wait().expect("it ends");
}

#[test]
fn where_a_watch_has_the_alarms_the_window_waits_and_takes_them_over() {
    let screen = Screen::new();
    let bus = Bus::new();
    let mut service = bus.service();
    let real = RealShop::new(9, &bus.address, Sink::Null);
    let watching = real.watch();
    let mut command = App::command(&real, &screen, &[]);
    let mut child = command.spawn().expect("it starts");
    screen.wait_for_windows(1);
    real.pot();
    drop(watching);
    let got = service.wait_for(PATIENCE, |got| got.body.contains("pot life is over")).expect("it is told all the same");
    assert_eq!(got.program, "Gluewright");
    until("the record", || real.alarms("over").len() == 1);
    let side = std::fs::read_to_string(format!("{}.alarms", real.shop.book().display())).expect("the side file");
    assert!(side.contains(&format!("\"pid\":{}", child.id())), "{side}");
    child.kill().expect("killed");
    child.wait().expect("it ends");
}

#[test]
fn t21_no_clock_can_be_paused() {
    let real = RealShop::new(600, "unix:path=/nowhere/bus", Sink::Null);
    let schema = real.shop.run(&["schema"]);
    let schema: serde_json::Value = serde_json::from_str(&schema.out).expect("JSON");
    let words: Vec<&String> = schema["acts"].as_object().expect("acts").keys().collect();
    assert!(words.len() > 20 && !words.iter().any(|word| ["pause", "resume", "hold"].contains(&word.as_str())));
    for word in ["pause", "resume"] {
        let done = real.shop.run_with(&["act"], json!({ "act": word, "body": {} }).to_string().as_bytes());
        assert_eq!(done.status, 2, "{done:?}");
    }
}
