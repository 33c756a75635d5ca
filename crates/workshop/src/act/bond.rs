//! Bonds: batches times joints at one stage; moves, coats, fresh faces.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One or many batches times one or many joints, at one stage. Name `joints`, or `parts` with or without a `stage`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bond {
    /// Batches in the order they were spread: names, or objects with the stretch along the joint.
    pub batches: Vec<BatchUse>,
    /// Joints: `R3-L/J2`, a mark unique in the book, or an object.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub joints: Vec<JointName>,
    /// Parts: all their joints, or those of `stage`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<String>,
    /// Stage of the kind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage: Option<String>,
    /// Where it is glued; absent: the place last named by this person within four hours.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// Bent or sprung; absent: as the kind says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bent: Option<bool>,
    /// Wood moisture, 0 to 100 %; absent: measured last within four hours.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moisture: Option<String>,
    /// Temperature of the wood, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wood_temperature: Option<String>,
    /// Place where the wood was before.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stored: Option<String>,
    /// Bond whose layer this one is glued on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub layer_below: Option<String>,
    /// Pressure as measured, 0.1 kPa to 20 MPa.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure: Option<String>,
    /// Pressure as planned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_as_planned: Option<bool>,
    /// How long setting the clamps takes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clamping: Option<String>,
    /// 6 or 2; absent: as the kind says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub presses: Option<u8>,
}

/// A batch in a bond.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum BatchUse {
    /// By name.
    Name(String),
    /// With its stretch along the joint.
    Stretch(Stretch),
}

/// A batch and its stretch along the joint.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stretch {
    /// Batch.
    pub batch: String,
    /// From, along the joint.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// To, along the joint.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
}

/// A joint.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum JointName {
    /// `R3-L/J2` or a mark unique in the book.
    Text(String),
    /// By part and mark.
    Full(JointFull),
}

/// A joint by part and mark.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JointFull {
    /// Part.
    pub part: String,
    /// Mark within the part.
    pub mark: String,
}

/// A bond's parts went to another place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Moved {
    /// Bond.
    pub bond: String,
    /// To.
    pub place: String,
}

/// A wetting coat before a filled one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Coat {
    /// Bond.
    pub bond: String,
    /// Batch it came from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
}

/// Faces made fresh.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Surface {
    /// Joints.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub joints: Vec<JointName>,
    /// Whole parts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<String>,
    /// `planed`, `scraped`, …
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub how: Option<String>,
}
