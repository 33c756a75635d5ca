//! What crosses every door: the one error and the receipt.

use serde::Serialize;

/// The one wire error. `code` is from a closed set (CODES).
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WireError {
    /// One of [`CODES`].
    pub code: &'static str,
    /// Path of the field: `body.resin`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub field: Option<String>,
    /// Value as given, control characters shown, cut at 200 characters.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<String>,
    /// Range allowed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub range: Option<String>,
    /// What is wrong, in one sentence that names field, value and range.
    pub sentence: String,
    /// What to do.
    pub advice: String,
}

/// The closed set of error codes.
pub const CODES: &[&str] = &[
    "bad-json", "unknown-field", "missing", "out-of-range", "contradicts", "not-found", "ambiguous", "duplicate",
    "future", "conflict", "locked", "read-only", "newer", "not-a-book", "damaged", "disk", "fault",
];

impl WireError {
    /// A refusal or fault with a sentence and advice.
    pub fn new(code: &'static str, sentence: impl Into<String>, advice: impl Into<String>) -> WireError {
        WireError { code, field: None, value: None, range: None, sentence: sentence.into(), advice: advice.into() }
    }

    /// Exit status of the command line: 1 fault, 2 refused, 4 book not usable.
    pub fn exit(&self) -> u8 {
        match self.code {
            "fault" => 1,
            "locked" | "read-only" | "newer" | "not-a-book" | "damaged" | "disk" => 4,
            _ => 2,
        }
    }
}

/// What an act answers.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Receipt {
    /// Log appended to.
    pub log: String,
    /// Size after the act.
    pub size: u64,
    /// Root after the act, base64.
    pub root: String,
    /// Entries made.
    pub entries: Vec<Made>,
    /// Names made: `{"bond":"47"}`, `{"batch":"Tue 3"}`, `{"part":"R3-L"}`, `{"entry":"<id>"}` …
    pub made: std::collections::BTreeMap<String, String>,
    /// What changed: `bond:47`.
    pub changed: Vec<String>,
    /// What is owed on what changed, in sentences.
    pub owed: Vec<String>,
    /// The same key was acted before.
    pub repeat: bool,
}

/// One entry in a receipt.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Made {
    /// Place in the log.
    pub seq: u64,
    /// Id.
    pub id: String,
    /// Kind.
    pub kind: String,
    /// Leaf hash, hex.
    pub leaf: String,
}
