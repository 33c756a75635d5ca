//! The alarms of the book in use, on a thread of their own: the loop that `gluewright watch` drives too. It needs no
//! window and waits for none; it notes what it sees, and others tell the page, the tray and the screen saver.

use crate::host::{Host, locked};
use crate::voice::Overheard;
use serde_json::{Value, json};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::thread::{JoinHandle, sleep, spawn};
use std::time::Duration;
use workshop::alarm::judged::Judged;
use workshop::alarm::owner::Taken;
use workshop::alarm::voice::Desktop;
use workshop::alarm::watched::Watched;
use workshop::alarm::{Alarms, Options, Refused, Step, say};
use workshop::clock::SystemClock;
use workshop::judge::words::{instant, stretch};

/// How often the alarms are asked for again where another program has them, in tenths of a second.
const AGAIN_TENTHS: u32 = 10;

/// A window that opens is drawn first: on two cores the alarms' first look, at the whole book, would keep it waiting.
const WINDOW_FIRST: Duration = Duration::from_millis(500);

/// What the alarms last showed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    /// They are given here.
    pub here: bool,
    /// Who gives them, in a sentence.
    pub said: String,
    /// One sounds until it is answered.
    pub sounding: bool,
    /// Given and not saved, as the page shows an alarm.
    pub unsaved: Vec<Value>,
    /// Clocks that run.
    pub running: usize,
    /// One of them must not be exceeded.
    pub must_not_exceed: bool,
}

/// Starts the thread; it ends when the host is told to. `hidden`: no window opens with it.
pub fn start(host: Arc<Host>, hidden: bool) -> JoinHandle<()> {
    spawn(move || {
        if !hidden {
            sleep(WINDOW_FIRST);
        }
        while !host.ending() {
            let turn = host.turn();
            let Some(book) = host.book() else {
                note(&host, Seen { said: "No book is open.".to_owned(), ..Seen::default() });
                pause(&host, turn);
                continue;
            };
            match take(&host, &book) {
                Ok(alarms) => watch(&host, turn, alarms),
                Err(said) => {
                    note(&host, Seen { said, ..Seen::default() });
                    pause(&host, turn);
                }
            }
        }
    })
}

/// Waits a second, less when another book is opened.
fn pause(host: &Host, turn: u64) {
    for _ in 0..AGAIN_TENTHS {
        if host.ending() || host.turn() != turn {
            return;
        }
        sleep(Duration::from_millis(100));
    }
}

fn take(host: &Host, book: &Path) -> Result<Alarms, String> {
    let voice = Overheard { desktop: Desktop::new(true), trouble: Arc::clone(&host.sound) };
    let options = Options { night: host.settings().night, command: Some(host.folders.own().join("on-alarm")) };
    let clock = Box::new(SystemClock::new());
    let reader = host.settings().reader();
    let judged = Box::new(Judged::for_reader(reader));
    let taken = Alarms::new(book, clock, judged, Box::new(voice), options);
    taken.map(|alarms| alarms.for_reader(reader)).map_err(|refused| match refused {
        Refused::Owner(Taken::By { pid }) => {
            format!("Alarms are given by another program on this computer (process {pid}).")
        }
        Refused::Owner(Taken::Disk(why)) => {
            format!("No alarms: the side file beside the book cannot be used: {why}.")
        }
        Refused::Book(why) => format!("No alarms: {why}."),
    })
}

fn watch(host: &Host, turn: u64, mut alarms: Alarms) {
    if let Some((false, gap)) = alarms.gap() {
        let since = gap.map_or("the computer was started anew since".to_owned(), |ms| {
            format!("nobody watched for {}", stretch(ms))
        });
        host.notice(format!("The alarms did not end as asked last time (killed, or power lost): {since}."));
    }
    let mut seen = Seen::default();
    while !host.ending() && host.turn() == turn {
        let step = alarms.step();
        seen = after(seen, &step, &alarms.look().clocks);
        note(host, seen.clone());
        if step.rung.iter().any(|rung| rung.loud) {
            host.raise.store(true, Ordering::Relaxed);
        }
        alarms.wait(&step);
    }
}

/// What is seen after a step.
fn after(before: Seen, step: &Step, clocks: &[Watched]) -> Seen {
    let mut unsaved = before.unsaved;
    for rung in &step.rung {
        let lines = rung.ids.iter().zip(&rung.lines);
        unsaved.extend(lines.map(|(id, said)| alarm_line(id, said, rung.loud, step.axis.now_ms)));
    }
    unsaved.retain(|line| step.unsaved > 0 && !step.saved.iter().any(|id| line["id"] == **id));
    let running = |one: &&Watched| ["running", "held", "never"].contains(&say::state(one.state));
    let exceed = |one: Watched| ["pot", "open", "closed"].contains(&one.clock.word());
    let said = if step.elsewhere {
        "This book was last written on another computer: its clocks are shown and give no alarm here until an act is \
         made here."
    } else {
        "This program gives the alarms."
    };
    Seen {
        here: !step.elsewhere,
        said: said.to_owned(),
        sounding: step.sounding,
        unsaved,
        running: clocks.iter().filter(running).count(),
        must_not_exceed: clocks.iter().filter(running).cloned().any(exceed),
    }
}

/// An alarm that is in no book yet, in the shape of those that are.
fn alarm_line(id: &str, said: &str, loud: bool, now_ms: i64) -> Value {
    json!({ "alarm": "not-saved", "loud": loud, "clock": null, "due": instant(now_ms), "said": said, "answered_by": null, "seq": 0,
            "id": id, "of": null })
}

fn note(host: &Host, seen: Seen) {
    *locked(&host.seen) = seen;
}
