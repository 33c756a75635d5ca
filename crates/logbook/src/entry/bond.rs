//! Bonds and the presses at the bench.

use super::Id;
use super::part::JointRef;
use super::typed::{Length, Pressure, Share, Taken, Temperature};
use serde::{Deserialize, Serialize};

/// One or many batches times one or many joints, at one stage.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bond {
    /// Its name: a number per log, from 1.
    pub number: u64,
    /// Batches, in the order they were spread.
    pub batches: Vec<BatchUse>,
    /// Joints.
    pub joints: Vec<JointRef>,
    /// Stage of the kind.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub stage: Option<String>,
    /// Presses: 6, or 2 for nailed and stapled joints.
    pub presses: u8,
    /// Where it is glued.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub place: Option<Id>,
    /// Where the place came from, when inherited.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub place_from: Option<Taken>,
    /// Bent or sprung.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub bent: Option<bool>,
    /// Wood moisture.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub moisture: Option<Share>,
    /// Where the moisture came from, when inherited.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub moisture_from: Option<Taken>,
    /// Temperature of the wood when glued.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub wood_temperature: Option<Temperature>,
    /// Where the wood was stored before.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub stored: Option<Id>,
    /// The bond whose layer this one is glued on.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub layer_below: Option<Id>,
    /// Pressure as measured.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub pressure: Option<Pressure>,
    /// Pressure as planned, confirmed by a press.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub pressure_as_planned: Option<bool>,
    /// How long setting the clamps takes, ms.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub clamping_ms: Option<i64>,
    /// Put together dry before, clamps counted.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub dry_run: Option<bool>,
}

/// A batch in a bond, with its stretch along the joint where known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BatchUse {
    /// Batch.
    pub batch: Id,
    /// Taken, along the joint.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub from: Option<Length>,
    /// To, along the joint.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub to: Option<Length>,
}

/// One press. Names exactly one bond or one batch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Press {
    /// `hardener-in`, `first-glue-on`, `together`, `all-tight`, `squeeze-out`, `first-clamp-off`, `pot-done`,
    /// `clamp-lost`, `re-tightened`, `used`. (`taken-back` is stored as a `withdrawn` entry.)
    pub press: String,
    /// Bond.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub bond: Option<Id>,
    /// Batch.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub batch: Option<Id>,
    /// Squeeze-out: `all-round`, `not-all-round`, `cannot-see`. Used: `planed`, `loaded`, `shipped`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub seen: Option<String>,
    /// Releases and uses: what the clocks said at that press.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub said: Option<Vec<Said>>,
}

/// What one clock said when a decision rested on it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Said {
    /// Clock.
    pub clock: String,
    /// State.
    pub state: String,
    /// Low progress.
    pub low_ppm: i64,
    /// Expected progress.
    pub expected_ppm: i64,
    /// High progress.
    pub high_ppm: i64,
    /// Name and version: `cure@2`.
    pub model: String,
}

/// A bond's parts went to another place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Moved {
    /// Bond.
    pub bond: Id,
    /// To.
    pub place: Id,
}

/// A wetting coat before a filled one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Coat {
    /// Bond.
    pub bond: Id,
    /// Batch it came from.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub batch: Option<Id>,
}

/// Faces made fresh, at `happened_ms`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Surface {
    /// Joints.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub joints: Vec<JointRef>,
    /// Whole parts.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub parts: Vec<Id>,
    /// `planed`, `scraped`, …
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub how: Option<String>,
}
