//! The two doors of the workshop as the command line uses them: values in, values out.

use serde_json::{Value, json};
use std::path::Path;
use workshop::Workshop;
use workshop::clock::{Clock, SystemClock};
use workshop::reader::Reader;
use workshop::wire::WireError;

/// The instants a question is judged at; None is now.
#[derive(Clone, Copy, Debug, Default)]
pub struct Instants {
    /// What happened later does not exist, ms UTC.
    pub at_ms: Option<i64>,
    /// What was entered later does not exist, ms UTC.
    pub known_ms: Option<i64>,
}

/// A book behind its doors.
pub struct Doors {
    instants: Instants,
    workshop: Workshop,
    /// Units in which answers are given.
    pub reader: Reader,
}

impl Doors {
    /// The doors of the book at a path that need not exist yet.
    pub fn new(path: &Path, instants: Instants, reader: Reader) -> Doors {
        let ids = Box::new(|| uuid::Uuid::new_v4().to_string());
        Doors { instants, reader, workshop: Workshop::new(path, Box::new(SystemClock::new()), ids).for_reader(reader) }
    }

    /// Tells what happened; gives the receipt.
    pub fn act(&mut self, act: Value) -> Result<Value, WireError> {
        let receipt = self.workshop.act(act)?;
        serde_json::to_value(receipt).map_err(|why| {
            // The act is done; only its receipt is lost, and the same key gives it again.
            WireError::new("fault", format!("The receipt cannot be written: {why}."), "Act again with the same key.")
        })
    }

    /// Asks with the whole question as given; gives the answer.
    pub fn ask(&self, question: Value) -> Result<Value, WireError> {
        self.workshop.ask(self.instants.at_ms, self.instants.known_ms, question)
    }

    /// Asks one question by its name.
    pub fn question(&self, question: &str, body: Value) -> Result<Value, WireError> {
        self.ask(json!({ "ask": question, "body": body }))
    }

    /// States in the record that the page of a part is handed out; gives the `issued` entry.
    pub fn issue(&mut self, mark: &str) -> Result<Value, WireError> {
        let receipt = self.act(json!({ "act": "issue", "body": { "subject": mark } }))?;
        let entries = receipt["entries"].as_array();
        let issued = entries.into_iter().flatten().find(|entry| entry["kind"] == "issued");
        let id = issued.map(|entry| entry["id"].clone()).unwrap_or_default();
        self.question("entry", json!({ "id": id }))
    }
}

/// Every act, question and answer as JSON Schema.
pub fn schema() -> Value {
    let mut all = workshop::ask::schema();
    all["acts"] = workshop::act::schema();
    all
}

/// Now, ms UTC.
pub fn now_ms() -> i64 {
    SystemClock::new().now().wall_ms
}

/// This computer's offset now, minutes east of Greenwich.
pub fn zone_min() -> i32 {
    SystemClock::new().now().zone_min
}
