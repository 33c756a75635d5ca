//! The two doors of the workshop as the command line uses them: values in, values out.

use serde_json::{Value, json};
use std::path::Path;
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
}

impl Doors {
    /// The doors of the book at a path that need not exist yet.
    pub fn new(path: &Path, instants: Instants) -> Doors {
        let ids = Box::new(|| uuid::Uuid::new_v4().to_string());
        let _ = (path, ids);
        Doors { instants }
    }

    /// Tells what happened; gives the receipt.
    pub fn act(&mut self, act: Value) -> Result<Value, WireError> {
        let _ = act;
        Err(not_yet())
    }

    /// Asks with the whole question as given; gives the answer.
    pub fn ask(&self, question: Value) -> Result<Value, WireError> {
        let _ = (question, self.instants);
        Err(not_yet())
    }

    /// Asks one question by its name.
    pub fn question(&self, question: &str, body: Value) -> Result<Value, WireError> {
        self.ask(json!({ "ask": question, "body": body }))
    }

    /// States in the record that the page of a part is handed out; gives the `issued` entry.
    pub fn issue(&mut self, mark: &str) -> Result<Value, WireError> {
        let receipt = self.act(json!({ "act": "issue", "body": { "part": mark } }))?;
        self.question("entry", json!({ "id": receipt["entries"][0]["id"] }))
    }

    /// Every act, question and answer as JSON Schema.
    pub fn schema() -> Value {
        Value::Null
    }
}

fn not_yet() -> WireError {
    WireError::new("fault", "The doors are not built yet.", "")
}
