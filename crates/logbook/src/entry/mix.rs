//! Batches: their names, what went in, what was left.

use super::Id;
use super::typed::{Amount, Mass, Taken, Temperature};
use serde::{Deserialize, Serialize};

/// A batch gets its name. The batch's id is this entry's id.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Batch {
    /// Weekday and count of its local day: `Tue 3`.
    pub name: String,
    /// Local day: `2026-11-24`.
    pub day: String,
}

/// What went into a batch; as a top-up, what more.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mix {
    /// Batch.
    pub batch: Id,
    /// Card in force.
    pub card: Id,
    /// Cans.
    pub containers: Vec<Id>,
    /// Where the cans came from, when inherited.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub containers_from: Option<Taken>,
    /// Resin, net.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub resin: Option<Amount>,
    /// Hardener, net.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub hardener: Option<Amount>,
    /// `retared` or `one-cup`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub weighing: Option<String>,
    /// Running totals of a one-cup weighing as read: cup, cup and first, all.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub totals: Option<Vec<Mass>>,
    /// Scale.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub instrument: Option<Id>,
    /// Temperature of the components.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub start_temperature: Option<Temperature>,
    /// Where the pot stands.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub place: Option<Id>,
    /// Where the place came from, when inherited.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub place_from: Option<Taken>,
    /// The ratio as judged when entered.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub judged: Option<RatioJudged>,
}

/// A ratio verdict as said, with the model that said it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RatioJudged {
    /// `within`, `outside`, `cannot-tell`, `none`.
    pub verdict: String,
    /// Deviation of hardener per resin, signed.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub error_ppm: Option<i64>,
    /// Expanded uncertainty (k = 2) of that deviation.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub uncertainty_ppm: Option<i64>,
    /// The inverse ratio fits.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub swapped: Option<bool>,
    /// Name and version: `ratio@1`.
    pub model: String,
}

/// Filler added to a batch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Filler {
    /// Batch.
    pub batch: Id,
    /// Lot of the filler.
    pub lot: Id,
    /// How much.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mass: Option<Mass>,
}

/// How warm the glue in a batch's cup was.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cup {
    /// Batch.
    pub batch: Id,
    /// As measured in the glue.
    pub temperature: Temperature,
}

/// What was left of a batch and thrown away.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThrowAway {
    /// Batch.
    pub batch: Id,
    /// How much.
    pub mass: Mass,
}
