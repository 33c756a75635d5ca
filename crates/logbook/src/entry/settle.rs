//! What settles an owed reason, and what withdraws an entry.

use super::Id;
use serde::{Deserialize, Serialize};

/// Why something missing cannot be known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reason {
    /// Bond.
    pub bond: Id,
    /// Keys of what is settled: `missing:squeeze-out`, …
    pub of: Vec<String>,
    /// As typed.
    pub text: String,
}

/// A bond's broken limits decided.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Decide {
    /// Bond.
    pub bond: Id,
    /// `accepted`, `rejected`, `redo`.
    pub verdict: String,
    /// Keys of what was found when it was decided; what is found later holds the bond again.
    pub found: Vec<String>,
    /// Why it was decided; the entry's own why may say why it was corrected or entered late. Absent in older entries:
    /// the entry's own why.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub why: Option<String>,
}

impl Decide {
    /// Why it was decided: its own why, else that of its entry.
    pub fn why<'a>(&'a self, of_entry: Option<&'a str>) -> Option<&'a str> {
        self.why.as_deref().or(of_entry)
    }
}

/// An entry withdrawn; both stay.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Withdrawn {
    /// The entry.
    pub entry: Id,
    /// True when it was taken back within ten seconds, no reason asked.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub taken_back: Option<bool>,
}
