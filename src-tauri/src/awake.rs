//! Keeps the screen awake while a must-not-exceed clock runs and the settings allow it. Where the desktop has no such
//! service it says so and does nothing else.

use crate::host::{Host, locked};
use dbus::blocking::Connection;
use std::sync::Arc;
use std::thread::{JoinHandle, sleep, spawn};
use std::time::Duration;

/// A request to the desktop; it ends with the connection.
struct Held {
    connection: Connection,
    cookie: u32,
}

const NAME: &str = "org.freedesktop.ScreenSaver";
const PATH: &str = "/org/freedesktop/ScreenSaver";
const PATIENCE: Duration = Duration::from_secs(2);

/// Starts the thread; it ends when the host is told to.
pub fn start(host: Arc<Host>) -> JoinHandle<()> {
    spawn(move || {
        let mut held: Option<Held> = None;
        let mut wanted_before = false;
        while !host.ending() {
            sleep(Duration::from_millis(250));
            let wanted = host.settings().awake && locked(&host.seen).must_not_exceed;
            if wanted == wanted_before {
                continue;
            }
            wanted_before = wanted;
            let said = match (wanted, held.take()) {
                (true, _) => match hold() {
                    Ok(one) => {
                        held = Some(one);
                        "The screen is kept awake.".to_owned()
                    }
                    Err(why) => format!("The desktop cannot be asked to keep the screen awake: {why}."),
                },
                (false, Some(one)) => {
                    release(&one);
                    String::new()
                }
                (false, None) => String::new(),
            };
            *locked(&host.awake) = said;
        }
    })
}

fn hold() -> Result<Held, String> {
    let first = |error: dbus::Error| error.message().unwrap_or("no answer").lines().next().unwrap_or("").to_owned();
    let connection = Connection::new_session().map_err(first)?;
    let asked = ("Gluewright", "A clock runs that must not be exceeded");
    let answer = connection.with_proxy(NAME, PATH, PATIENCE).method_call(NAME, "Inhibit", asked);
    let (cookie,): (u32,) = answer.map_err(first)?;
    Ok(Held { connection, cookie })
}

fn release(held: &Held) {
    let proxy = held.connection.with_proxy(NAME, PATH, PATIENCE);
    let _: Result<(), _> = proxy.method_call(NAME, "UnInhibit", (held.cookie,));
}
