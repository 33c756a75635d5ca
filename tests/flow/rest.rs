//! What is at rest answers as if it were judged anew: made-up shops live on for weeks, with readings that come late,
//! corrections of all sorts, things withdrawn, a restart; after every act each list is asked of the book as it is and
//! of a copy in which everything was woken, and both say the same, byte for byte.

use super::bench::{Bench, H, MIN, instant};
use super::random::{self, Dice};
use logbook::store::{Book, Mode};
use serde_json::{Value, json};
use std::path::Path;
use workshop::Workshop;
use workshop::clock::FixedClock;

/// Acts in the life of one shop after its first week.
const STEPS: i64 = 24;

/// What was seen in all shops, so that a test that compares nothing is noticed.
#[derive(Debug, Default)]
pub struct Seen {
    /// Comparisons with something at rest.
    pub rested: usize,
    /// Acts taken by the doors.
    pub acts: usize,
    /// Acts that woke something.
    pub woke: usize,
    /// Differences, in words.
    pub wrong: Vec<String>,
}

/// Lets a shop live on and compares after every act.
pub fn lives_on(seed: u64, seen: &mut Seen) {
    let mut dice = Dice::of(seed.wrapping_mul(104_729).wrapping_add(3));
    let mut bench = random::shop(seed);
    bench.pass(dice.whole(2, 9) * 24 * H);
    bench.try_act(json!({"act": "person", "body": {"name": "ann"}}));
    for step in 0..STEPS {
        bench.pass(dice.whole(7, 60) * H);
        if dice.percent(4) {
            bench.restart(step, dice.whole(1, 40) * H);
        }
        // An act that bears on nothing lets the round go on.
        bench.try_act(json!({"act": "part", "body": {"mark": format!("X{step}")}}));
        let before = resting(&bench.path());
        let act = act(&bench, &mut dice, step);
        let taken = bench.try_act(act.clone()).is_some();
        let after = resting(&bench.path());
        seen.acts += usize::from(taken);
        seen.woke += usize::from(before.iter().any(|one| !after.contains(one)));
        seen.rested += usize::from(!after.is_empty());
        compare(&bench, &format!("shop {seed}, step {step}, after {act}"), seen);
    }
}

fn resting(book: &Path) -> Vec<String> {
    let book = Book::open(book, Mode::Read).unwrap();
    book.resting().unwrap().into_iter().map(|one| format!("{} {}", one.id, one.kept)).collect()
}

fn compare(bench: &Bench, when: &str, seen: &mut Seen) {
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("book");
    for side in ["", "-wal"] {
        let named = |path: &Path| std::path::PathBuf::from(format!("{}{side}", path.display()));
        if named(&bench.path()).exists() {
            std::fs::copy(named(&bench.path()), named(&copy)).unwrap();
        }
    }
    let mut book = Book::open(&copy, Mode::Write).unwrap();
    book.transact(|book| book.wake_all()).unwrap();
    assert!(book.resting().unwrap().is_empty());
    drop(book);
    for question in ["bench", "bonds", "parts", "owed", "clocks", "work"] {
        let asked = |path: &Path| fresh(path, bench.clock()).ask(None, None, json!({"ask": question})).unwrap();
        let (kept, anew) = (asked(&bench.path()).to_string(), asked(&copy).to_string());
        if kept != anew {
            seen.wrong.push(format!("{when}: {question}\n  kept {kept}\n  anew {anew}"));
        }
    }
}

fn fresh(path: &Path, clock: FixedClock) -> Workshop {
    Workshop::new(path, Box::new(clock), Box::new(String::new))
}

/// Something somebody may enter weeks later. Whether the doors take it is theirs to say.
fn act(bench: &Bench, dice: &mut Dice, step: i64) -> Value {
    let long_ago = random::START + dice.whole(0, 20 * 24 * 60) * MIN;
    let ago = instant(long_ago.min(bench.now_ms()));
    let celsius = format!("{}.5 C", dice.whole(-5, 45));
    let place = *dice.one(&["bench", "box"]);
    let bond = bench.names.values().filter_map(|name| name.strip_prefix("bond:")).next().unwrap_or("1").to_owned();
    match dice.whole(0, 14) {
        0..=2 => json!({"act": "reading", "happened": ago, "why": "from paper",
            "body": {"place": place, "temperature": celsius}}),
        3 => json!({"act": "reading", "happened": ago, "why": "from paper",
            "body": {"place": place, "temperature": celsius, "instrument": "good"}}),
        4 => json!({"act": "vouch", "body": {"place": "bench", "floor": celsius, "from": ago,
            "until": instant(long_ago + dice.whole(1, 30) * H)}}),
        5 => json!({"act": "reading", "body": {"place": place, "temperature": celsius}}),
        6 => json!({"act": "withdraw", "body": {"entry": entry(bench, dice, None).0, "why": "wrong"}}),
        7 => {
            let (entry, mut body) = entry(bench, dice, Some("reading"));
            body["temperature"] = json!(celsius);
            json!({"act": "correct", "body": {"entry": entry, "body": body, "why": "misread"}})
        }
        8 => {
            let (entry, mut body) = entry(bench, dice, Some("lot"));
            body["expires"] = json!(ago);
            json!({"act": "correct", "body": {"entry": entry, "body": body, "why": "read off the can"}})
        }
        9 => {
            let (entry, mut body) = entry(bench, dice, Some("card"));
            body["minimum_cure"] = json!(format!("{}.03 C", dice.whole(5, 24)));
            json!({"act": "correct", "body": {"entry": entry, "body": body, "why": "new sheet"}})
        }
        10 => {
            let (entry, mut body) = entry(bench, dice, Some("mix"));
            body["hardener"] = json!(format!("{}.0 g", dice.whole(10, 200)));
            json!({"act": "correct", "body": {"entry": entry, "body": body, "why": "read again"}})
        }
        11 => json!({"act": "decide", "person": "ann", "body": {"bond": bond, "why": "looked at",
            "verdict": *dice.one(&["accepted", "rejected", "redo"])}}),
        13 => json!({"act": "forecast", "happened": ago, "why": "from paper",
            "body": {"place": place, "shape": "hold", "at": celsius}}),
        12 => json!({"act": "reason", "body": {"of": format!("bond {bond}"), "text": "nobody looked"}}),
        _ => json!({"act": "press", "happened": ago, "why": "from paper", "body": {"bond": bond,
            "press": *dice.one(&["squeeze-out", "first-clamp-off", "used", "re-tightened"]),
            "seen": if step % 2 == 0 { "all-round" } else { "loaded" }}}),
    }
}

/// An entry of a kind, or any, with the body of its act.
fn entry(bench: &Bench, dice: &mut Dice, kind: Option<&str>) -> (String, Value) {
    let of_kind = |event: &&Value| kind.is_none_or(|kind| event["act"]["act"] == kind);
    let events: Vec<&Value> = bench.events.iter().filter(of_kind).collect();
    if events.is_empty() {
        return (String::new(), json!({}));
    }
    let event = *dice.one(&events);
    let kind = event["act"]["act"].as_str().unwrap();
    let entries = event["receipt"]["entries"].as_array().unwrap();
    let found = entries.iter().find(|one| one["kind"] == kind).or(entries.last()).unwrap();
    (found["id"].as_str().unwrap().to_owned(), event["act"]["body"].clone())
}
