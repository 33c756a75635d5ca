//! Closing the window and quitting: with a tray, without one, with clocks and without, and the system's own request.

use tests::bus::Bus;
use tests::tray::Tray;
use tests::watching::{PATIENCE, RealShop, Sink};
use tests::window::{App, Screen, signal, until};

#[test]
fn closed_to_the_tray_the_web_view_goes_and_the_alarm_comes() {
    let screen = Screen::new();
    let bus = Bus::new();
    let mut service = bus.service();
    let tray = Tray::new(&bus);
    let real = RealShop::new(9, &bus.address, Sink::Null);
    let mut app = App::start(&real, &screen, &[]);
    let window = screen.wait_for_windows(1).remove(0);
    app.wait_for_page(None);
    tray.wait_for_item();
    real.pot();
    std::thread::sleep(std::time::Duration::from_millis(500));
    screen.close(&window);
    screen.wait_for_windows(0);
    until("the web process is gone", || app.pages().is_empty());
    assert!(app.lives());
    let got = service.wait_for(PATIENCE, |got| got.body.contains("pot life is over"));
    assert!(got.is_some(), "the alarm comes with the window closed");
    until("the record", || real.alarms("over").len() == 1);

    assert_eq!(tray.words(), ["Show the bench", "Quit"]);
    tray.press("Show the bench");
    screen.wait_for_windows(1);
    app.wait_for_page(None);
}

#[test]
fn the_tray_quits_at_once_where_nothing_runs() {
    let screen = Screen::new();
    let bus = Bus::new();
    let tray = Tray::new(&bus);
    let real = RealShop::new(600, &bus.address, Sink::Null);
    let mut app = App::start(&real, &screen, &["--hidden"]);
    tray.wait_for_item();
    tray.press("Quit");
    assert_eq!(app.end(), Some(0));
    assert_eq!(app.side()["ended"], true, "the alarms ended as asked");
}

#[test]
fn t18_without_a_tray_closing_asks_while_a_clock_runs() {
    let screen = Screen::new();
    let bus = Bus::new();
    let _service = bus.service();
    let real = RealShop::new(600, &bus.address, Sink::Null);
    let mut app = App::start(&real, &screen, &[]);
    let window = screen.wait_for_windows(1).remove(0);
    app.wait_for_page(None);
    real.pot();
    std::thread::sleep(std::time::Duration::from_millis(500));
    screen.close(&window);
    let both = screen.wait_for_windows(2);
    let dialog = both.into_iter().find(|one| *one != window).expect("a dialog");
    screen.key(&dialog, "Escape");
    screen.wait_for_windows(1);
    assert!(app.lives(), "kept open");

    screen.close(&window);
    let both = screen.wait_for_windows(2);
    let dialog = both.into_iter().find(|one| *one != window).expect("a dialog");
    screen.key(&dialog, "Tab");
    screen.key(&dialog, "Return");
    assert_eq!(app.end(), Some(0));
    assert_eq!(app.side()["ended"], true, "the alarms ended as asked");
}

#[test]
fn closing_quits_where_nothing_runs() {
    let screen = Screen::new();
    let bus = Bus::new();
    let _service = bus.service();
    let _tray = Tray::new(&bus);
    let real = RealShop::new(600, &bus.address, Sink::Null);
    let mut app = App::start(&real, &screen, &[]);
    let window = screen.wait_for_windows(1).remove(0);
    app.wait_for_page(None);
    screen.close(&window);
    assert_eq!(app.end(), Some(0));
}

#[test]
fn the_systems_request_to_end_leaves_the_alarms_ended_as_asked() {
    let screen = Screen::new();
    let bus = Bus::new();
    let real = RealShop::new(600, &bus.address, Sink::Null);
    let mut app = App::start(&real, &screen, &["--hidden"]);
    real.pot();
    signal(app.pid(), "TERM");
    assert_eq!(app.end(), Some(0));
    assert_eq!(app.side()["ended"], true);
}

#[test]
fn without_a_display_it_says_so_in_one_sentence() {
    let screen = Screen::new();
    let real = RealShop::new(600, "unix:path=/nowhere/bus", Sink::Null);
    let mut command = App::command(&real, &screen, &[]);
    let done = command.env_remove("DISPLAY").stderr(std::process::Stdio::piped()).output().expect("it ends");
    let said = String::from_utf8_lossy(&done.stderr).into_owned();
    assert_eq!((done.status.code(), said.lines().count()), (Some(1), 1), "{said}");
    assert!(said.contains("no display") && said.contains("gluewright watch"), "{said}");
}
