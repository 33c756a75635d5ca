//! What settles an owed reason or a broken limit.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Why something missing cannot be known.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Reason {
    /// The bond (all that is missing), the owed sentence itself, or `bond 47: squeeze-out`.
    pub of: String,
    /// The reason, at most 10 kB.
    pub text: String,
}

/// A bond's broken limits decided.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Decide {
    /// Bond.
    pub bond: String,
    /// `accepted`, `rejected` or `redo`.
    pub verdict: String,
    /// Why, at most 10 kB.
    pub why: String,
}
