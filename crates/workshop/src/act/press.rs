//! The presses at the bench.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One press at the bench; it names a bond or a batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Press {
    /// `hardener-in`, `first-glue-on`, `together`, `all-tight`, `squeeze-out`, `first-clamp-off`, `pot-done`, `clamp-lost`, `re-tightened`, `used` or `taken-back`.
    pub press: String,
    /// Bond: `47`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bond: Option<String>,
    /// Batch: `Tue 3`. Hardener in without one takes the batch just mixed, else makes one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
    /// Squeeze-out: `all-round`, `not-all-round`, `cannot-see`. Used: `planed`, `loaded`, `shipped`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen: Option<String>,
    /// Taken back: the press itself, by id or place in the log.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<String>,
}
