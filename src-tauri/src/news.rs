//! Tells the page what changed, by looking: at the book's files, at what the alarms show, once a second at the time.

use crate::book;
use crate::host::{Host, locked};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread::{JoinHandle, sleep, spawn};
use std::time::{Duration, SystemTime};
use workshop::clock::{Clock, SystemClock};
use workshop::judge::words::instant;

const LOOK: Duration = Duration::from_millis(100);
const LOOKS_A_BEAT: u32 = 10;

/// What was told last, so that nothing is told twice.
#[derive(Default)]
struct Told {
    follower: u64,
    files: Files,
    size: Option<Value>,
    alarm: Value,
    state: Value,
}

/// Length and last change of the book and of the log beside it.
type Files = (PathBuf, [Option<(u64, SystemTime)>; 2]);

fn files(book: &Path) -> Files {
    let mut log = book.as_os_str().to_os_string();
    log.push("-wal");
    let look = |path: &Path| std::fs::metadata(path).ok().and_then(|meta| Some((meta.len(), meta.modified().ok()?)));
    (book.to_owned(), [look(book), look(Path::new(&log))])
}

/// Starts the thread; it ends when the host is told to.
pub fn start(host: Arc<Host>) -> JoinHandle<()> {
    spawn(move || {
        let clock = SystemClock::new();
        let mut told = Told::default();
        let mut looks = 0;
        while !host.ending() {
            sleep(LOOK);
            looks = (looks + 1) % LOOKS_A_BEAT;
            let follower = host.tell.follower();
            if follower == 0 {
                continue;
            }
            if told.follower != follower {
                told = Told { follower, ..Told::default() };
            }
            look(&host, &mut told, looks == 0);
            if looks == 0 {
                host.tell.tell(json!({ "tell": "beat", "at": instant(clock.now().wall_ms) }));
            }
        }
    })
}

fn look(host: &Host, told: &mut Told, on_the_beat: bool) {
    let seen = locked(&host.seen).clone();
    let files = host.book().map(|book| files(&book)).unwrap_or_default();
    let written = std::mem::replace(&mut told.files, files.clone()) != files;
    if written {
        changed(host, told);
    }
    if written || told.alarm["sounding"] != seen.sounding || !seen.unsaved.is_empty() {
        alarm(host, told, seen.sounding, seen.unsaved.clone());
    }
    if on_the_beat || written {
        // The state itself is asked by the page; here only whether it is another.
        let trouble = locked(&host.sound).clone();
        let word = book::standing(host, host.book().as_deref());
        let state = json!([word, seen.said, seen.unsaved.len(), trouble, host.tray(), host.noticed()]);
        if std::mem::replace(&mut told.state, state.clone()) != state {
            host.tell.tell(json!({ "tell": "state" }));
        }
    }
}

fn changed(host: &Host, told: &mut Told) {
    let Ok(head) = host.ask(json!({ "ask": "head", "body": {} }), None, None) else { return };
    let size = head["logs"][0]["size"].clone();
    if told.size.as_ref() != Some(&size) {
        let names = host.changed();
        if told.size.is_some() {
            host.tell.tell(json!({ "tell": "changed", "size": size.as_u64().unwrap_or(0), "changed": names }));
        }
        told.size = Some(size);
    }
}

fn alarm(host: &Host, told: &mut Told, sounding: bool, unsaved: Vec<Value>) {
    let bench = host.ask(json!({ "ask": "bench", "body": {} }), None, None).unwrap_or_default();
    let mut alarms = bench["alarms"].as_array().cloned().unwrap_or_default();
    let known: Vec<Value> = alarms.iter().map(|line| line["id"].clone()).collect();
    alarms.extend(unsaved.into_iter().filter(|line| !known.contains(&line["id"])));
    let now = json!({ "tell": "alarm", "sounding": sounding, "alarms": alarms });
    if std::mem::replace(&mut told.alarm, now.clone()) != now {
        host.tell.tell(now);
    }
}
