//! One thing somebody did: when, who, which act with which body, and how later steps call what it made.

use super::weather::Spot;
use serde_json::{Value, json};

/// One act of the scenario. In bodies, a text of the form `$name` stands for the id kept under that name.
#[derive(Clone, Debug)]
pub struct Step {
    /// When it is entered, ms UTC.
    pub at_ms: i64,
    /// Who enters it.
    pub person: Option<&'static str>,
    /// Which act.
    pub act: &'static str,
    /// Its body.
    pub body: Value,
    /// When it happened, where that is not now, ms UTC.
    pub happened_ms: Option<i64>,
    /// Why, as typed.
    pub why: Option<&'static str>,
    /// Name to keep an entry's id under, and that entry's kind.
    pub keep: Option<(String, &'static str)>,
    /// The logger's file it hands in.
    pub file: Option<File>,
}

/// A logger's file: where it stood, and which stretch it holds.
#[derive(Clone, Copy, Debug)]
pub struct File {
    /// Where the logger stood.
    pub spot: Spot,
    /// First instant, ms UTC.
    pub from_ms: i64,
    /// End, exclusive, ms UTC.
    pub to_ms: i64,
}

impl Step {
    /// An act entered when it happens.
    pub fn new(at_ms: i64, person: &'static str, act: &'static str, body: Value) -> Step {
        Step { person: Some(person), ..Step::nobody(at_ms, act, body) }
    }

    /// The same with nobody named.
    pub fn nobody(at_ms: i64, act: &'static str, body: Value) -> Step {
        Step { at_ms, person: None, act, body, happened_ms: None, why: None, keep: None, file: None }
    }

    /// A logger's file handed in; the driver writes the file and names its path.
    pub fn file(at_ms: i64, file: File) -> Step {
        let body = json!({ "place": file.spot.name() });
        Step { file: Some(file), ..Step::nobody(at_ms, "readings-file", body) }
    }

    /// Keeps the id of the entry of this kind that the step makes.
    pub fn kept(mut self, name: impl Into<String>, kind: &'static str) -> Step {
        self.keep = Some((name.into(), kind));
        self
    }

    /// Enters it later than it happened.
    pub fn entered_late(mut self, at_ms: i64, why: &'static str) -> Step {
        self.happened_ms = Some(self.at_ms);
        self.at_ms = at_ms;
        self.why = Some(why);
        self
    }
}
