//! The screen is kept awake while a must-not-exceed clock runs, and no longer.

use dbus::blocking::Connection;
use dbus::channel::{Channel, MatchingReceiver};
use dbus::message::MatchRule;
use dbus_crossroads::Crossroads;
use serde_json::json;
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;
use tests::bus::Bus;
use tests::watching::{PATIENCE, RealShop, Sink};
use tests::window::{App, Screen};

const NAME: &str = "org.freedesktop.ScreenSaver";

/// A screen saver that tells what it is asked. Its thread ends with the bus.
fn saver(bus: &Bus) -> Receiver<&'static str> {
    let mut to_bus = Channel::open_private(&bus.address).expect("the bus answers");
    to_bus.register().expect("the bus lets us in");
    let connection = Connection::from(to_bus);
    connection.request_name(NAME, false, true, false).expect("the name is free");
    let (tell, told) = channel();
    std::thread::spawn(move || {
        let mut cross = Crossroads::new();
        let token = cross.register(NAME, move |saver| {
            let again = tell.clone();
            saver.method("Inhibit", ("who", "why"), ("cookie",), move |_, (), (who, _): (String, String)| {
                let _ = tell.send(if who == "Gluewright" { "awake" } else { "somebody else" });
                Ok((7_u32,))
            });
            saver.method("UnInhibit", ("cookie",), (), move |_, (), (cookie,): (u32,)| {
                let _ = again.send(if cookie == 7 { "asleep" } else { "another cookie" });
                Ok(())
            });
        });
        cross.insert("/org/freedesktop/ScreenSaver", &[token], ());
        connection.start_receive(
            MatchRule::new_method_call(),
            Box::new(move |message, connection| {
                let _ = cross.handle_message(message, connection);
                true
            }),
        );
        while connection.process(Duration::from_millis(50)).is_ok() {}
    });
    told
}

#[test]
fn the_screen_is_kept_awake_while_a_pot_runs() {
    let (screen, bus) = (Screen::new(), Bus::new());
    let _service = bus.service();
    let told = saver(&bus);
    let real = RealShop::new(600, &bus.address, Sink::Null);
    let _app = App::start(&real, &screen, &["--hidden"]);
    assert!(told.recv_timeout(Duration::from_millis(1_500)).is_err(), "nothing runs");
    real.pot();
    assert_eq!(told.recv_timeout(PATIENCE), Ok("awake"));
    let batches = real.shop.run(&["--json", "list", "batch"]).object();
    let batch = batches["list"][0]["name"].clone();
    real.shop.act(&json!([{ "act": "press", "person": "Ann", "body": { "press": "pot-done", "batch": batch } }]));
    assert_eq!(told.recv_timeout(PATIENCE), Ok("asleep"));
}
