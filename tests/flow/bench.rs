//! A bench on a fixed clock: acts through the door, every act kept with its receipt for the outside oracle.

use serde_json::{Value, json};
use std::collections::BTreeMap;
use workshop::Workshop;
use workshop::clock::FixedClock;

/// One minute and one hour in ms.
pub const MIN: i64 = 60_000;
/// One hour in ms.
pub const H: i64 = 60 * MIN;

/// A book of its own, its clock, and everything that went through the door.
pub struct Bench {
    /// Folder of the book.
    pub dir: tempfile::TempDir,
    shop: Workshop,
    clock: FixedClock,
    now_ms: i64,
    zone_min: i32,
    /// Acts, receipts and instants as the oracle reads them.
    pub events: Vec<Value>,
    /// Oracle's name of a bond or batch -> the door's.
    pub names: BTreeMap<String, String>,
    /// Instants asked and what the doors answered.
    pub asks: Vec<Value>,
}

/// Ids that differ from run to run of nothing: the same seed gives the same book.
fn seeded(mut state: u64) -> impl FnMut() -> String + Send {
    move || {
        let mut half = || {
            state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut z = state;
            z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            z ^ (z >> 31)
        };
        uuid::Builder::from_random_bytes(((u128::from(half()) << 64) | u128::from(half())).to_be_bytes())
            .into_uuid()
            .to_string()
    }
}

/// RFC 3339 with milliseconds.
pub fn instant(ms: i64) -> String {
    let (days, rest) = (ms.div_euclid(86_400_000), ms.rem_euclid(86_400_000));
    // Civil date from days since 1970 (proleptic Gregorian).
    let z = days + 719_468;
    let era = z.div_euclid(146_097);
    let doe = z.rem_euclid(146_097);
    let yoe = (doe - doe / 1_460 + doe / 36_524 - doe / 146_096) / 365;
    let doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
    let mp = (5 * doy + 2) / 153;
    let (day, month) = (doy - (153 * mp + 2) / 5 + 1, if mp < 10 { mp + 3 } else { mp - 9 });
    let year = yoe + era * 400 + i64::from(month <= 2);
    let (h, m, s, milli) = (rest / H, rest / MIN % 60, rest / 1000 % 60, rest % 1000);
    format!("{year:04}-{month:02}-{day:02}T{h:02}:{m:02}:{s:02}.{milli:03}Z")
}

impl Bench {
    /// An empty shop at an instant.
    pub fn at(start_ms: i64, seed: u64) -> Bench {
        let dir = tempfile::tempdir().unwrap();
        let clock = FixedClock::at(start_ms);
        let shop = Workshop::new(&dir.path().join("book"), Box::new(clock.clone()), Box::new(seeded(seed)));
        Bench { dir, shop, clock, now_ms: start_ms, zone_min: 0, events: vec![], names: BTreeMap::new(), asks: vec![] }
    }

    /// The shop lies so many minutes east of Greenwich.
    pub fn east(&mut self, minutes: i32) {
        self.zone_min = minutes;
        self.clock.set(|now| now.zone_min = minutes);
    }

    /// Lets time pass up to an instant.
    pub fn until(&mut self, ms: i64) {
        assert!(ms >= self.now_ms, "time does not run back");
        self.clock.advance(ms - self.now_ms);
        self.now_ms = ms;
    }

    /// An act at an instant of the lived time; its receipt.
    pub fn act(&mut self, ms: i64, act: &str, body: Value) -> Value {
        self.until(ms);
        self.send(ms, json!({"act": act, "body": body}))
    }

    /// An act typed in now that happened earlier.
    pub fn late(&mut self, happened_ms: i64, act: &str, body: Value) -> Value {
        self.send(happened_ms, json!({"act": act, "happened": instant(happened_ms), "why": "from paper", "body": body}))
    }

    /// A reading that will turn out to be wrong; its entry.
    pub fn reading_to_correct(&mut self, ms: i64, celsius: &str) -> String {
        id_of(&self.act(ms, "reading", json!({"place": "shop", "temperature": celsius})), "reading")
    }

    /// Corrects a reading's temperature, now.
    pub fn correct(&mut self, entry: &str, celsius: &str) {
        let body = json!({"entry": entry, "body": {"place": "shop", "temperature": celsius}, "why": "misread"});
        self.send(self.now_ms, json!({"act": "correct", "body": body}));
    }

    /// An act now, if the door takes it; its receipt.
    pub fn try_act(&mut self, act: Value) -> Option<Value> {
        let receipt = serde_json::to_value(self.shop.act(act.clone()).ok()?).unwrap();
        self.remember(&receipt);
        self.events.push(json!({"act": act, "receipt": receipt, "t": self.now_ms, "entered": self.now_ms,
            "zone_min": self.zone_min}));
        Some(receipt)
    }

    /// Lets time pass.
    pub fn pass(&mut self, ms: i64) {
        self.until(self.now_ms + ms);
    }

    /// The machine was off for a while.
    pub fn restart(&mut self, n: i64, off_ms: i64) {
        self.now_ms += off_ms;
        self.clock.reboot(&format!("boot after {n}"), self.now_ms);
    }

    /// The book.
    pub fn path(&self) -> std::path::PathBuf {
        self.dir.path().join("book")
    }

    /// Its clock.
    pub fn clock(&self) -> FixedClock {
        self.clock.clone()
    }

    /// Now, ms.
    pub fn now_ms(&self) -> i64 {
        self.now_ms
    }

    fn send(&mut self, happened_ms: i64, act: Value) -> Value {
        let receipt = self.shop.act(act.clone()).unwrap_or_else(|e| panic!("{act} was refused: {e:?}"));
        let receipt = serde_json::to_value(receipt).unwrap();
        self.remember(&receipt);
        self.events.push(json!({"act": act, "receipt": receipt, "t": happened_ms, "entered": self.now_ms,
            "zone_min": self.zone_min}));
        receipt
    }

    /// Rows of a logger's file, beside the act that named it.
    pub fn rows(&mut self, rows: &[(i64, String)]) {
        self.events.last_mut().unwrap()["act"]["body"]["rows"] = json!(rows);
    }

    fn remember(&mut self, receipt: &Value) {
        for noun in ["bond", "batch"] {
            if let Some(name) = receipt["made"][noun].as_str() {
                self.names.insert(format!("{noun}:{}", id_of(receipt, noun)), format!("{noun}:{name}"));
            }
        }
    }

    /// A question through the door.
    pub fn question(&self, at_ms: i64, known_ms: Option<i64>, question: &Value) -> Value {
        match self.shop.ask(Some(at_ms), known_ms, question.clone()) {
            Ok(answer) => answer,
            // What had not happened by then has no clocks.
            Err(error) if error.code == "not-found" => json!({"clocks": []}),
            Err(error) => panic!("{error:?}"),
        }
    }

    /// The clocks of every bond and batch as the door answers them at an instant, kept for the oracle.
    pub fn ask(&mut self, at_ms: i64, known_ms: Option<i64>) {
        let mut answers = serde_json::Map::new();
        for oracle_name in self.names.keys().cloned().collect::<Vec<_>>() {
            let (noun, id) = oracle_name.split_once(':').unwrap();
            let clocks = self.question(at_ms, known_ms, &json!({"ask": "clocks", "body": {noun: id}}));
            answers.insert(oracle_name, clocks["clocks"].clone());
        }
        self.asks.push(json!({"at": at_ms, "known": known_ms, "answers": answers}));
    }
}

/// The id of the receipt's entry of a kind.
pub fn id_of(receipt: &Value, kind: &str) -> String {
    let entries = receipt["entries"].as_array().unwrap();
    let entry = entries.iter().find(|e| e["kind"] == kind).unwrap_or_else(|| panic!("no {kind} in {receipt}"));
    entry["id"].as_str().unwrap().to_owned()
}
