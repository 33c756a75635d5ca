//! A small shop on a fixed clock: Tuesday 2026-11-24, zone UTC.

use serde_json::{Value, json};
use std::path::PathBuf;
use workshop::Workshop;
use workshop::clock::FixedClock;
use workshop::wire::WireError;

/// 2026-11-24T00:00:00Z, ms.
pub const DAY: i64 = 1_795_478_400_000;

/// A shop.
pub struct Shop {
    pub door: Workshop,
    pub clock: FixedClock,
    pub path: PathBuf,
    _dir: tempfile::TempDir,
}

/// An instant of the day: `"10:20"`, `"10:20:30"`, or of a later one: `"+1 07:00"`.
pub fn ms(time: &str) -> i64 {
    let (days, time) = match time.strip_prefix('+') {
        Some(rest) => rest.split_once(' ').map(|(days, time)| (days.parse::<i64>().unwrap(), time)).unwrap(),
        None => (0, time),
    };
    let parts: Vec<i64> = time.split(':').map(|part| part.parse().unwrap()).collect();
    DAY + days * 86_400_000 + parts[0] * 3_600_000 + parts[1] * 60_000 + parts.get(2).copied().unwrap_or(0) * 1000
}

/// An instant of an answer, ms.
pub fn at(value: &Value) -> i64 {
    let text = value.as_str().unwrap_or_else(|| panic!("{value} is no instant"));
    assert!(text.ends_with('Z') && text.len() == 24, "{text} is not UTC with milliseconds");
    let (date, time) = text.trim_end_matches('Z').split_once('T').unwrap();
    let date: Vec<i64> = date.split('-').map(|part| part.parse().unwrap()).collect();
    let (hms, milli) = time.split_once('.').unwrap();
    let hms: Vec<i64> = hms.split(':').map(|part| part.parse().unwrap()).collect();
    assert_eq!((date[0], date[1]), (2026, 11), "the tests stay in one month: {text}");
    DAY + (date[2] - 24) * 86_400_000 + ((hms[0] * 60 + hms[1]) * 60 + hms[2]) * 1000 + milli.parse::<i64>().unwrap()
}

impl Shop {
    /// An empty shop at 08:00, with Ann and the bench, epoxy "E" and its cans "R" and "H".
    pub fn new() -> Shop {
        let mut shop = Shop::bare();
        shop.act("person", json!({ "name": "ann" }));
        shop.act("place", json!({ "name": "bench" }));
        shop.card("E", json!({}));
        shop
    }

    /// An empty shop at 08:00.
    pub fn bare() -> Shop {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("shop.gluewright");
        let clock = FixedClock::at(ms("08:00"));
        let mut next = 0_u64;
        let ids = move || {
            next += 1;
            format!("{next:08x}-0000-4000-8000-{next:012x}")
        };
        let door = Workshop::new(&path, Box::new(clock.clone()), Box::new(ids));
        Shop { door, clock, path, _dir: dir }
    }

    /// An epoxy card with lots and cans of its own. 12 h at 20 °C, one point, no cure below 10 °C; `more` adds or
    /// replaces fields.
    pub fn card(&mut self, name: &str, more: Value) {
        let mut card = json!({
            "name": name, "class": "epoxy", "ratio": "100:83", "tolerance": "5 %", "minimum_cure": "10 C",
            "limits": [
                { "clock": "pot", "points": [{ "at": "25 C", "time": "45 min", "mass": "100 g" }] },
                { "clock": "clamp", "points": [{ "at": "20 C", "time": "12 h" }] },
            ],
        });
        card.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        self.act("card", card);
        for (can, role) in [("R", "resin"), ("H", "hardener")] {
            let lot = format!("{can}-{name}-lot");
            self.act("lot", json!({ "mark": lot, "card": name, "role": role }));
            self.act("container", json!({ "mark": format!("{can}-{name}"), "lot": lot }));
        }
    }

    /// Clocks go to an instant.
    pub fn at(&mut self, time: &str) -> &mut Shop {
        let to = ms(time);
        let ahead = to - workshop::clock::Clock::now(&self.clock).wall_ms;
        assert!(ahead >= 0, "{time} is already past");
        self.clock.advance(ahead);
        self
    }

    /// Acts as Ann, who has been entered first; refusals fail the test.
    pub fn act(&mut self, act: &str, body: Value) -> Value {
        let person = if act == "person" { Value::Null } else { json!("ann") };
        self.try_act(json!({ "act": act, "person": person, "body": body }))
            .unwrap_or_else(|error| panic!("{act}: {error:?}"))
    }

    /// Acts with a whole envelope.
    pub fn try_act(&mut self, mut act: Value) -> Result<Value, WireError> {
        act.as_object_mut().unwrap().retain(|_, value| !value.is_null());
        self.door.act(act).map(|receipt| serde_json::to_value(receipt).unwrap())
    }

    /// One press on a bond or, for batch presses, on a batch.
    pub fn press(&mut self, press: &str, on: &str) -> Value {
        let body = match (press, on) {
            ("hardener-in", "") => json!({ "press": press }),
            ("hardener-in" | "pot-done", batch) => json!({ "press": press, "batch": batch }),
            ("all-round" | "not-all-round" | "cannot-see", bond) => {
                json!({ "press": "squeeze-out", "bond": bond, "seen": press })
            }
            ("planed" | "loaded" | "shipped", bond) => json!({ "press": "used", "bond": bond, "seen": press }),
            (press, bond) => json!({ "press": press, "bond": bond }),
        };
        self.act("press", body)
    }

    /// Hardener in and a mix of card E within tolerance; gives the batch's name.
    pub fn batch(&mut self) -> String {
        self.batch_of("E")
    }

    /// Hardener in and a mix of a card within tolerance; gives the batch's name.
    pub fn batch_of(&mut self, card: &str) -> String {
        let made = self.press("hardener-in", "");
        let name = made["made"]["batch"].as_str().unwrap().to_owned();
        let cans = [format!("R-{card}"), format!("H-{card}")];
        self.act("mix", json!({ "batch": name, "card": card, "containers": cans, "resin": "40.0 g", "hardener": "33.2 g", "place": "bench" }));
        name
    }

    /// A part with one joint "J", 12 mm thick.
    pub fn part(&mut self, mark: &str) {
        self.act("part", json!({ "mark": mark }));
        self.act("joint", json!({ "part": mark, "mark": "J", "thickness": "12 mm" }));
    }

    /// A bond of one part's joint J on the bench, wood at 20 °C and 10 %; `more` adds fields. Gives its number.
    pub fn bond(&mut self, batches: &[&str], part: &str, more: Value) -> String {
        let mut bond = json!({
            "batches": batches, "joints": [{ "part": part, "mark": "J" }], "place": "bench",
            "wood_temperature": "20.0 C", "moisture": "10.0 %",
        });
        bond.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        self.act("bond", bond)["made"]["bond"].as_str().unwrap().to_owned()
    }

    /// A hand reading on the bench, °C.
    pub fn read(&mut self, time: &str, celsius: &str) {
        self.at(time).act("reading", json!({ "place": "bench", "temperature": format!("{celsius} C") }));
    }

    /// Readings on the bench that were noted each quarter of an hour and are entered now; straight lines run between
    /// them.
    pub fn noted(&mut self, from: &str, to: &str, celsius: &str) {
        for at_ms in (ms(from)..=ms(to)).step_by(900_000) {
            let minutes = (at_ms - DAY) / 60_000;
            let happened = format!("2026-11-24T{:02}:{:02}:00Z", minutes / 60, minutes % 60);
            let body = json!({ "place": "bench", "temperature": format!("{celsius} C") });
            self.try_act(json!({ "act": "reading", "person": "ann", "happened": happened, "body": body })).unwrap();
        }
    }

    /// Asks now.
    pub fn ask(&self, ask: &str, body: Value) -> Value {
        self.ask_at(None, None, ask, body).unwrap_or_else(|error| panic!("{ask}: {error:?}"))
    }

    /// Asks about an instant, knowing what was entered until another.
    pub fn ask_at(&self, at: Option<&str>, known: Option<&str>, ask: &str, body: Value) -> Result<Value, WireError> {
        self.door.ask(at.map(ms), known.map(ms), json!({ "ask": ask, "body": body }))
    }

    /// The one clock of a bond at an instant; null when it is left out.
    pub fn clock_at(&self, time: &str, bond: &str, clock: &str) -> Value {
        let answer = self.ask_at(Some(time), None, "clocks", json!({ "bond": bond })).unwrap();
        find_clock(&answer, &format!("bond:{bond}"), clock)
    }

    /// State and owed of a bond now.
    pub fn state(&self, bond: &str) -> (String, Vec<String>) {
        let bonds = self.ask("bonds", json!({}));
        let one = bonds["bonds"].as_array().unwrap().iter().find(|one| one["id"] == bond).unwrap();
        (one["state"].as_str().unwrap().to_owned(), strings(&one["owed"]))
    }
}

/// One clock of an answer; null when there is none.
pub fn find_clock(answer: &Value, of: &str, clock: &str) -> Value {
    let all = answer["clocks"].as_array().unwrap();
    let mut found = all.iter().filter(|one| one["of"] == of && one["clock"] == clock);
    let one = found.next().cloned().unwrap_or(Value::Null);
    assert!(found.next().is_none(), "two clocks {clock} of {of}");
    one
}

/// Strings of an array.
pub fn strings(value: &Value) -> Vec<String> {
    value.as_array().unwrap().iter().map(|one| one.as_str().unwrap().to_owned()).collect()
}

/// Two instants agree to a second.
#[track_caller]
pub fn about(value: &Value, expected_ms: i64) {
    let got = at(value);
    assert!((got - expected_ms).abs() <= 1000, "{value} is {} ms off", got - expected_ms);
}
