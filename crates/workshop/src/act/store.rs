//! The stores: lots and the cans under them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A lot of one component of a card.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Lot {
    /// Unique in the shop.
    pub mark: String,
    /// Card.
    pub card: String,
    /// `resin`, `hardener` or `filler`.
    pub role: String,
    /// Received: a day or an instant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub received: Option<String>,
    /// Good until the end of this day, or this instant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expires: Option<String>,
}

/// A can under a lot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Container {
    /// Unique in the shop.
    pub mark: String,
    /// Lot.
    pub lot: String,
    /// What it held when new: `1 kg` or `500 ml`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds: Option<String>,
    /// Place where it stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stored: Option<String>,
    /// Opened: a day or an instant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened: Option<String>,
}
