//! A shop on a fixed clock: acts through the door, the alarms' public loop driven step by step, an ear that writes
//! down what was rung.

use crate::voice::Ear;
use logbook::entry::book::Alarm;
use logbook::entry::{Body, Entry};
use logbook::store::{Book, Mode};
use serde_json::{Value, json};
use std::path::PathBuf;
use workshop::Workshop;
use workshop::alarm::judged::Judged;
use workshop::alarm::{Alarms, Options, Step};
use workshop::clock::{Clock, FixedClock};

/// One second, minute and hour in ms.
pub const SEC: i64 = 1_000;
pub const MIN: i64 = 60_000;
pub const HOUR: i64 = 60 * MIN;

/// Tuesday 24 November 2026, 09:00 UTC: by day, so that quiet notices are given.
pub const MORNING: i64 = 1_795_510_800_000;

/// A shop, its clock and its alarms.
pub struct Rig {
    pub folder: tempfile::TempDir,
    pub book: PathBuf,
    pub clock: FixedClock,
    pub ear: Ear,
    pub shop: Workshop,
    /// What is set on this machine.
    pub options: Options,
    alarms: Option<Alarms>,
    person: bool,
}

impl Rig {
    /// A furnished shop without readings, never below 20 °C for a month as vouched: pot 30 min, open 20, closed 30 at
    /// 30 °C, which is the heat taken where nothing is read; clamp 8 h, machining 16 h, full cure 7 days at 20 °C, which
    /// is the floor vouched for. So only time moves these clocks.
    pub fn new() -> Rig {
        Rig::at(MORNING)
    }

    /// The same at another instant.
    pub fn at(wall_ms: i64) -> Rig {
        let folder = tempfile::tempdir().expect("a folder for the test");
        let book = folder.path().join("shop.book");
        Rig::on(folder, book, FixedClock::at(wall_ms))
    }

    /// The same on a clock and a path of the test's own.
    pub fn on(folder: tempfile::TempDir, book: PathBuf, clock: FixedClock) -> Rig {
        let ids = Box::new(|| uuid::Uuid::new_v4().to_string());
        let shop = Workshop::new(&book, Box::new(clock.clone()), ids);
        let mut rig = Rig {
            folder,
            book,
            clock,
            ear: Ear::default(),
            shop,
            options: Options::default(),
            alarms: None,
            person: false,
        };
        rig.furnish();
        rig
    }

    fn furnish(&mut self) {
        self.act("person", json!({ "name": "Ann" }));
        self.person = true;
        self.act("place", json!({ "name": "bench" }));
        let until = instant(self.clock.now().wall_ms + 30 * 24 * HOUR);
        self.act("vouch", json!({ "place": "bench", "floor": "20 C", "until": until }));
        let at = |celsius: &str, time: &str| json!([{ "at": celsius, "time": time }]);
        self.act(
            "card",
            json!({ "name": "T", "class": "epoxy", "ratio": "1:1 by volume", "minimum_cure": "15 C", "limits": [
                { "clock": "pot", "points": at("30 C", "30 min"), "counted_from": "mixing" },
                { "clock": "open", "points": at("30 C", "20 min"), "counted_from": "spreading" },
                { "clock": "closed", "points": at("30 C", "30 min"), "counted_from": "closing" },
                { "clock": "clamp", "points": at("20 C", "8 h") },
                { "clock": "machining", "points": at("20 C", "16 h") },
                { "clock": "full-cure", "points": at("20 C", "7 d") },
            ]}),
        );
        for (mark, role) in [("R1", "resin"), ("H1", "hardener")] {
            self.act("lot", json!({ "mark": mark, "card": "T", "role": role }));
            self.act("container", json!({ "mark": format!("can {mark}"), "lot": mark }));
        }
    }

    /// One act that must be taken; gives its receipt.
    pub fn act(&mut self, act: &str, body: Value) -> Value {
        self.envelope(json!({ "act": act, "body": body }))
    }

    /// One act with its envelope.
    pub fn envelope(&mut self, mut act: Value) -> Value {
        if self.person {
            act["person"] = json!("Ann");
        }
        let receipt = self.shop.act(act.clone()).unwrap_or_else(|error| panic!("{act}: {error:?}"));
        serde_json::to_value(receipt).expect("a receipt is JSON")
    }

    /// One act that must be refused; gives the code and the sentence.
    pub fn refused(&mut self, act: Value) -> (String, String) {
        match self.shop.act(act.clone()) {
            Ok(receipt) => panic!("{act} was taken: {receipt:?}"),
            Err(error) => (error.code.to_owned(), error.sentence),
        }
    }

    /// A question.
    pub fn ask(&self, question: &str, body: Value) -> Value {
        let asked = json!({ "ask": question, "body": body });
        self.shop.ask(None, None, asked).unwrap_or_else(|error| panic!("{question}: {error:?}"))
    }

    /// Hardener in and a mix; gives the batch's name.
    pub fn pot(&mut self) -> String {
        let receipt = self.act("press", json!({ "press": "hardener-in" }));
        let batch = receipt["made"]["batch"].as_str().expect("a batch was made").to_owned();
        let cans = ["can R1", "can H1"];
        self.act("mix", json!({ "batch": batch, "card": "T", "containers": cans, "place": "bench" }));
        batch
    }

    /// A bond of a new part from a batch; gives its name.
    pub fn bond(&mut self, batch: &str, mark: &str) -> String {
        self.act("part", json!({ "mark": mark }));
        self.act("joint", json!({ "part": mark, "mark": "J", "thickness": "20 mm" }));
        let bond = json!({
            "batches": [batch], "joints": [format!("{mark}/J")], "place": "bench", "wood_temperature": "20 C"
        });
        let receipt = self.act("bond", bond);
        receipt["made"]["bond"].as_str().expect("a bond was made").to_owned()
    }

    /// One press on a bond.
    pub fn press(&mut self, press: &str, bond: &str) {
        self.act("press", json!({ "press": press, "bond": bond }));
    }

    /// A bond under pressure since now.
    pub fn clamped(&mut self, mark: &str) -> String {
        let batch = self.pot();
        let bond = self.bond(&batch, mark);
        for press in ["first-glue-on", "together", "all-tight"] {
            self.press(press, &bond);
        }
        bond
    }

    /// The clock of a word among those of a bond or batch.
    pub fn clock_of(&self, of: Value, word: &str) -> Value {
        let clocks = self.ask("clocks", of);
        let all = clocks["clocks"].as_array().expect("clocks").clone();
        all.into_iter().find(|clock| clock["clock"] == word).unwrap_or_else(|| panic!("no {word} in {clocks}"))
    }

    /// Time left to a pot's limit, ms.
    pub fn pot_left(&self, batch: &str) -> i64 {
        let answer = self.ask("clocks", json!({ "batch": batch }));
        let limit = ms(&answer["clocks"][0]["earliest"]);
        limit - ms(&answer["at"])
    }

    /// Starts the alarms, if they are not on, and steps until nothing is on its way.
    pub fn step(&mut self) -> Step {
        if self.alarms.is_none() {
            self.start();
        }
        let alarms = self.alarms.as_mut().expect("started");
        alarms.step()
    }

    /// Starts the alarms.
    pub fn start(&mut self) {
        let clock = Box::new(self.clock.clone());
        let (judged, ear) = (Box::new(Judged::default()), Box::new(self.ear.clone()));
        let alarms = Alarms::new(&self.book, clock, judged, ear, self.options.clone());
        self.alarms = Some(alarms.unwrap_or_else(|error| panic!("the alarms start: {error}")));
    }

    /// Ends the alarms.
    pub fn stop(&mut self) {
        self.alarms = None;
    }

    /// Time passes awake, a step every so often.
    pub fn run(&mut self, for_ms: i64, every_ms: i64) -> Vec<Step> {
        let mut steps = Vec::new();
        let mut left = for_ms;
        while left > 0 {
            let ms = every_ms.min(left);
            self.clock.advance(ms);
            steps.push(self.step());
            left -= ms;
        }
        steps
    }

    /// Every entry of the own log.
    pub fn entries(&self) -> Vec<Entry> {
        let book = Book::open(&self.book, Mode::Read).expect("the book opens");
        book.tail(u64::MAX).expect("the log reads")
    }

    /// Entries of a kind.
    pub fn of_kind(&self, kind: &str) -> Vec<Entry> {
        self.entries().into_iter().filter(|entry| entry.body.kind() == kind).collect()
    }

    /// Alarms recorded, of one word.
    pub fn alarms(&self, word: &str) -> Vec<Alarm> {
        let alarm = |entry: Entry| match entry.body {
            Body::Alarm(alarm) if alarm.alarm == word => Some(alarm),
            _ => None,
        };
        self.entries().into_iter().filter_map(alarm).collect()
    }
}

/// An instant on the wire as ms.
pub fn ms(value: &Value) -> i64 {
    let text = value.as_str().unwrap_or_else(|| panic!("no instant: {value}"));
    chrono::DateTime::parse_from_rfc3339(text).expect("RFC 3339").timestamp_millis()
}

/// Ms as an instant on the wire.
pub fn instant(ms: i64) -> String {
    let at = chrono::DateTime::from_timestamp_millis(ms).expect("in range");
    at.to_rfc3339_opts(chrono::SecondsFormat::Millis, true)
}
