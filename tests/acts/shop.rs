//! A small shop behind the door: people, a card, cans, a kind with two parts.

use logbook::entry::{Body, Entry};
use logbook::store::{Book, Mode};
use serde_json::{Value, json};
use std::path::PathBuf;
use workshop::Workshop;
use workshop::clock::FixedClock;
use workshop::wire::{CODES, Receipt, WireError};

/// 2026-11-24T09:00:00Z, a Tuesday.
pub const T: i64 = 1_795_510_800_000;
/// One minute, ms.
pub const MIN: i64 = 60_000;

/// A book of its own and its clock.
pub struct Shop {
    pub dir: tempfile::TempDir,
    pub clock: FixedClock,
    pub door: Workshop,
}

/// Ids from a counter.
pub fn counted(mut n: u128) -> Box<dyn FnMut() -> String + Send> {
    Box::new(move || {
        n += 1;
        uuid::Builder::from_random_bytes(n.wrapping_mul(0x9E37_79B9_7F4A_7C15_F39C_C060_5CED_C835).to_be_bytes())
            .into_uuid()
            .to_string()
    })
}

impl Shop {
    /// No book yet.
    pub fn bare() -> Shop {
        let dir = tempfile::tempdir().unwrap();
        let clock = FixedClock::at(T);
        let door = Workshop::new(&dir.path().join("book"), Box::new(clock.clone()), counted(1));
        Shop { dir, clock, door }
    }

    /// With Ann and Ben, a loft and a store, an epoxy with four cans, and two ribs.
    pub fn new() -> Shop {
        let mut shop = Shop::bare();
        for (act, body) in [
            ("person", json!({"name": "ann"})),
            ("person", json!({"name": "ben"})),
            ("place", json!({"name": "loft"})),
            ("place", json!({"name": "store"})),
            ("instrument", json!({"name": "scale", "step": "0.1 g"})),
            ("card", card("amber")),
            ("lot", json!({"mark": "R-1", "card": "amber", "role": "resin", "expires": "2027-06-30"})),
            ("lot", json!({"mark": "H-1", "card": "amber", "role": "hardener", "expires": "2027-06-30"})),
            ("lot", json!({"mark": "F-1", "card": "amber", "role": "filler"})),
            ("container", json!({"mark": "r1", "lot": "R-1", "holds": "1 kg", "stored": "store"})),
            ("container", json!({"mark": "h1", "lot": "H-1", "holds": "500 g"})),
            (
                "kind",
                json!({"mark": "rib", "clamping": "6 min", "stages": [
                {"mark": "first", "joints": [{"mark": "J1", "sort": "gusset", "area": "12 cm2", "thickness": "9 mm"}, {"mark": "J2"}]},
                {"mark": "second", "joints": [{"mark": "J3", "thickness": "1/4 in"}]}]}),
            ),
            ("set", json!({"kind": "rib", "marks": ["R1-L", "R1-R"], "assembly": "left wing"})),
        ] {
            shop.ok(act, body);
        }
        shop
    }

    /// Closes the book; the next act opens it again.
    pub fn reopen(&mut self) {
        self.door = Workshop::new(&self.path(), Box::new(self.clock.clone()), counted(5_000));
    }

    pub fn path(&self) -> PathBuf {
        self.dir.path().join("book")
    }

    /// One act as it stands.
    pub fn act(&mut self, act: Value) -> Result<Receipt, WireError> {
        self.door.act(act)
    }

    /// An act that is done.
    pub fn ok(&mut self, act: &str, body: Value) -> Receipt {
        self.done(json!({"act": act, "person": null, "body": body}))
    }

    /// An act by Ann that is done.
    pub fn ann(&mut self, act: &str, body: Value) -> Receipt {
        self.done(json!({"act": act, "person": "ann", "body": body}))
    }

    /// A whole act that is done.
    pub fn done(&mut self, act: Value) -> Receipt {
        let text = act.to_string();
        self.act(act).unwrap_or_else(|error| panic!("{text} was refused: {error:?}"))
    }

    /// A whole act that is refused, and leaves size, root and every byte of every entry as they were.
    pub fn refused(&mut self, act: Value) -> WireError {
        let before = self.head();
        let text = act.to_string();
        let error = match self.act(act) {
            Ok(receipt) => panic!("{text} was done: {receipt:?}"),
            Err(error) => error,
        };
        assert_eq!(self.head(), before, "a refusal changed the book: {text}");
        assert!(CODES.contains(&error.code), "{error:?}");
        assert!(error.sentence.ends_with('.') && !error.advice.is_empty(), "{error:?}");
        error
    }

    /// Size and root of the own log; None: no book.
    pub fn head(&self) -> Option<(u64, [u8; 32])> {
        if !self.path().exists() {
            return None;
        }
        let book = Book::open(&self.path(), Mode::Read).unwrap();
        book.own().unwrap().map(|head| (head.size, head.root))
    }

    /// The entry of a kind in a receipt, as stored.
    pub fn entry(&self, receipt: &Receipt, kind: &str) -> Entry {
        let made =
            receipt.entries.iter().find(|made| made.kind == kind).unwrap_or_else(|| panic!("{kind}: {receipt:?}"));
        self.by_id(&made.id)
    }

    /// An entry by id, as stored.
    pub fn by_id(&self, id: &str) -> Entry {
        Book::open(&self.path(), Mode::Read).unwrap().entry(id).unwrap().unwrap()
    }

    /// The body of the entry of a kind in a receipt.
    pub fn body(&self, receipt: &Receipt, kind: &str) -> Value {
        match self.entry(receipt, kind).body {
            Body::Unknown(kind, _) => panic!("{kind}"),
            body => body.write().unwrap(),
        }
    }

    /// A good mix of the amber epoxy: a batch.
    pub fn mixed(&mut self) -> String {
        let body = json!({"card": "amber", "containers": ["r1", "h1"], "resin": "40.0 g", "hardener": "33.2 g",
                          "instrument": "scale", "place": "loft"});
        self.ann("mix", body).made["batch"].clone()
    }

    /// A bond of the first stage of both ribs.
    pub fn bonded(&mut self) -> String {
        let batch = self.mixed();
        let body = json!({"batches": [batch], "parts": ["R1-L", "R1-R"], "stage": "first", "moisture": "9.8 %"});
        self.ann("bond", body).made["bond"].clone()
    }
}

/// A made-up epoxy.
pub fn card(name: &str) -> Value {
    json!({"name": name, "class": "epoxy", "ratio": "100:83", "tolerance": "5 %", "minimum_cure": "10 C", "limits": [
        {"clock": "pot", "points": [{"at": "25 C", "time": "45 min", "mass": "100 g"}], "counted_from": "mixing"},
        {"clock": "open", "points": [{"at": "20 C", "time": "30 min"}]},
        {"clock": "closed", "points": [{"at": "20 C", "time": "20 min"}]},
        {"clock": "clamp", "points": [{"at": "20 C", "time": "12 h"}, {"at": "30 C", "time": "5-6 h"}]},
        {"clock": "machining", "points": [{"at": "20 C", "time": "24 h"}]},
        {"clock": "full-cure", "points": [{"at": "20 C", "time": "7 days"}]}]})
}
