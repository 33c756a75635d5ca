//! Corrections and withdrawals: both entries stay.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// A full replacement body in the shape of its act.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Correct {
    /// The original entry, by id or by its place in the own log: `812`.
    pub entry: String,
    /// The whole body as it should have been.
    pub body: Value,
    /// Why; needed here or around the body.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// An entry withdrawn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Withdraw {
    /// The entry, by id or by its place in the own log.
    pub entry: String,
    /// Why; needed here or around the body.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}
