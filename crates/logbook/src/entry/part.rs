//! Kinds, sets, parts and joints.

use super::Id;
use super::typed::{Area, Length, Pressure, Temperature, Time};
use serde::{Deserialize, Serialize};

/// A described part: what its stages are and which joints each stage glues.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kind {
    /// Unique in the shop.
    pub mark: String,
    /// What is glued at one go, in order.
    pub stages: Vec<Stage>,
    /// Presses per bond: 6, or 2 for nailed and stapled joints.
    pub presses: u8,
    /// Pressure as planned.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub pressure: Option<Pressure>,
    /// How long it takes to set the clamps.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub clamping: Option<Time>,
    /// Joints are bent or sprung.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub bent: Option<bool>,
    /// Highest temperature in service, as the builder names it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub service: Option<Temperature>,
}

/// What is glued at one go.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stage {
    /// Unique in its kind.
    pub mark: String,
    /// Its joints.
    pub joints: Vec<JointPlan>,
}

/// A joint as a kind describes it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JointPlan {
    /// Unique in its kind.
    pub mark: String,
    /// Lap, scarf, gusset, web in slot, …
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub sort: Option<String>,
    /// Glue area.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub area: Option<Area>,
    /// Total thickness of the members.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub thickness: Option<Length>,
}

/// Parts made from a kind in one act.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Set {
    /// Kind.
    pub kind: Id,
    /// The parts, in order.
    pub parts: Vec<Id>,
    /// Assembly they belong to.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub assembly: Option<String>,
}

/// One part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Unique in the shop.
    pub mark: String,
    /// Assembly it belongs to.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub assembly: Option<String>,
    /// Kind it was made from.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub kind: Option<Id>,
    /// Highest temperature in service; it goes before the kind's.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub service: Option<Temperature>,
}

/// A joint of one part, beyond those of its kind.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// Part.
    pub part: Id,
    /// The joint itself; its mark is unique in its part.
    pub joint: JointPlan,
}

/// A joint of a part: by part and mark.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JointRef {
    /// Part.
    pub part: Id,
    /// Mark within the part.
    pub mark: String,
}
