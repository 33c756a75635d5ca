//! A shop's year: ten thousand bonds built through the doors, thirty a day, and how long the questions of the window
//! take then, process start included.

use super::logbook::{median, timed};
use serde_json::{Value, json};
use std::path::Path;
use std::process::Command;
use std::time::Duration;
use workshop::Workshop;
use workshop::clock::{Clock, FixedClock, SystemClock};

const BONDS: i64 = 10_000;
/// Bonds a day.
const DAILY: i64 = 30;
const H: i64 = 3_600_000;
const AIM: Duration = Duration::from_secs(1);

/// Prints each time with its aim.
pub fn run() {
    let Some(program) = super::doors::program() else {
        println!("SKIPPED: no release build of gluewright beside this benchmark (cargo xtask bench builds it)");
        return;
    };
    let folder = tempfile::tempdir().unwrap();
    let book = folder.path().join("book");
    let took = timed(|| year(&book));
    println!("{BONDS} bonds through the doors: {took:.1?}");
    let resting = logbook::store::Book::open(&book, logbook::store::Mode::Read).unwrap().resting().unwrap().len();
    println!("at rest: {resting} bonds and batches");
    let questions = [
        ("bench", json!({})),
        ("bonds", json!({})),
        ("parts", json!({})),
        ("owed", json!({})),
        ("clocks", json!({})),
        ("trace", json!({ "part": "P77" })),
    ];
    for (word, body) in questions {
        let asked = json!({ "ask": word, "body": body });
        let time = median((0..5).map(|_| timed(|| ask(&program, &book, &asked))).collect());
        let verdict = if time < AIM { "within" } else { "OVER" };
        println!("{word} at {BONDS} bonds with process start: {time:.1?}, aim {AIM:?}: {verdict}");
    }
}

fn ask(program: &Path, book: &Path, question: &Value) {
    let out =
        Command::new(program).arg("--book").arg(book).args(["--json", "ask", &question.to_string()]).output().unwrap();
    assert!(out.status.success(), "{question}: {}", String::from_utf8_lossy(&out.stdout));
}

struct Shop(Workshop, FixedClock);

impl Shop {
    fn act(&mut self, act: &str, body: Value) -> Value {
        let done = self.0.act(json!({ "act": act, "body": body }));
        json!(done.unwrap_or_else(|error| panic!("{act} {body}: {error:?}")))
    }

    fn press(&mut self, after_min: i64, body: Value) {
        self.1.advance(after_min * 60_000);
        self.act("press", body);
    }
}

/// Thirty bonds a day from so long ago that the last was closed three days back.
fn year(book: &Path) {
    let days = BONDS / DAILY + 3;
    let clock = FixedClock::at(SystemClock::new().now().wall_ms - days * 24 * H);
    let door = Workshop::new(book, Box::new(clock.clone()), Box::new(|| uuid::Uuid::new_v4().to_string()));
    let mut shop = Shop(door, clock);
    let limits = json!([
        { "clock": "pot", "points": [{ "at": "25 C", "time": "45 min", "mass": "100 g" }] },
        { "clock": "clamp", "points": [{ "at": "20 C", "time": "12 h" }] },
        { "clock": "full-cure", "points": [{ "at": "20 C", "time": "3 days" }] }
    ]);
    shop.act("place", json!({ "name": "bench" }));
    shop.act("card", json!({ "name": "made-up", "class": "epoxy", "ratio": "100:83", "limits": limits }));
    for (mark, role) in [("R", "resin"), ("H", "hardener")] {
        shop.act("lot", json!({ "mark": mark, "card": "made-up", "role": role }));
        shop.act("container", json!({ "mark": mark, "lot": mark }));
    }
    for n in 0..BONDS {
        if n % DAILY == 0 {
            let until = 24 * H - (n > 0) as i64 * DAILY * 16 * 60_000;
            for _ in 0..12 {
                shop.1.advance(until / 12);
                reading(&mut shop, n);
            }
        }
        if n % 4 == 0 {
            reading(&mut shop, n);
        }
        bond(&mut shop, n);
    }
}

fn reading(shop: &mut Shop, n: i64) {
    shop.act("reading", json!({ "place": "bench", "temperature": format!("{}.0 C", 19 + n % 4) }));
}

/// One bond: sixteen minutes at the bench. Its clamps come off a day's work later, by the bond thirty before.
fn bond(shop: &mut Shop, n: i64) {
    shop.act("part", json!({ "mark": format!("P{n}") }));
    shop.act("joint", json!({ "part": format!("P{n}"), "mark": "lap", "thickness": "12 mm" }));
    let mix = json!({ "card": "made-up", "containers": ["R", "H"], "resin": "40.0 g", "hardener": "33.2 g" });
    let mixed = shop.act("mix", mix);
    // A weekday and a number come again every week: the id is meant.
    let batch = mixed["entries"].as_array().unwrap().iter().find(|one| one["kind"] == "batch").unwrap()["id"].clone();
    shop.act("press", json!({ "press": "hardener-in", "batch": batch }));
    let bond = shop.act("bond", json!({ "batches": [batch], "joints": [format!("P{n}/lap")], "place": "bench" }));
    let bond = bond["made"]["bond"].clone();
    for (after, press) in [(1, "first-glue-on"), (5, "together"), (5, "all-tight")] {
        shop.press(after, json!({ "press": press, "bond": bond }));
    }
    shop.press(5, json!({ "press": "squeeze-out", "bond": bond, "seen": "all-round" }));
    if n >= DAILY {
        shop.press(0, json!({ "press": "first-clamp-off", "bond": (n + 1 - DAILY).to_string() }));
    }
}
