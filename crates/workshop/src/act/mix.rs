//! Batches: what went in, what was added, what was left.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What went into a batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Mix {
    /// Batch; absent: the one whose hardener went in within four hours and that has no mix, else a new one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
    /// Card in force.
    pub card: String,
    /// Cans; absent: those of this person's last mix of this card within four hours.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub containers: Vec<String>,
    /// Resin, net: `40.0 g` (0.05 g to 50 kg) or `50 ml` (0.05 ml to 50 l).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resin: Option<String>,
    /// Hardener, net.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hardener: Option<String>,
    /// `retared` (preset), `one-cup`, or the running totals read: `12.4/52.4/60.7 g` (cup, cup and resin, all).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weighing: Option<String>,
    /// Scale.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// Temperature of the components, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start_temperature: Option<String>,
    /// Where the pot stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
}

/// More of the components into a running batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TopUp {
    /// Batch.
    pub batch: String,
    /// Card in force.
    pub card: String,
    /// Cans; absent: those of this person's last mix of this card within four hours.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub containers: Vec<String>,
    /// Resin, net: `40.0 g` (0.05 g to 50 kg) or `50 ml` (0.05 ml to 50 l).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resin: Option<String>,
    /// Hardener, net.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hardener: Option<String>,
    /// `retared` (preset), `one-cup`, or the running totals read: `12.4/52.4/60.7 g` (cup, cup and resin, all).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weighing: Option<String>,
    /// Scale.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// Temperature of the components, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start_temperature: Option<String>,
    /// Where the pot stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
}

/// Filler added to a batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Filler {
    /// Batch.
    pub batch: String,
    /// Lot of the filler.
    pub lot: String,
    /// How much, 0.05 g to 50 kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass: Option<String>,
}

/// What was left of a batch and thrown away.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ThrowAway {
    /// Batch.
    pub batch: String,
    /// How much, 0.05 g to 50 kg.
    pub mass: String,
}
