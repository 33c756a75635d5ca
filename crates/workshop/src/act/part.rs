//! Kinds, sets, parts and joints.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A described part: its stages and which joints each stage glues.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Kind {
    /// Unique in the shop.
    pub mark: String,
    /// What is glued at one go, in order.
    pub stages: Vec<Stage>,
    /// Presses per bond: 6 (preset), or 2 for nailed and stapled joints.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub presses: Option<u8>,
    /// Pressure as planned, 0.1 kPa to 20 MPa.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure: Option<String>,
    /// How long it takes to set the clamps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clamping: Option<String>,
    /// Its joints are bent or sprung.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bent: Option<bool>,
}

/// What is glued at one go.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stage {
    /// Unique in its kind.
    pub mark: String,
    /// Its joints.
    pub joints: Vec<JointPlan>,
}

/// A joint as a kind describes it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JointPlan {
    /// Unique in its kind.
    pub mark: String,
    /// Lap, scarf, gusset, web in slot, …
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sort: Option<String>,
    /// Glue area, 1 mm2 to 100 m2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// Total thickness of the members, 0.001 mm to 50 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Option<String>,
}

/// Parts made from a kind in one act.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Set {
    /// Kind.
    pub kind: String,
    /// Marks of the parts, each unique in the shop.
    pub marks: Vec<String>,
    /// Assembly they belong to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub assembly: Option<String>,
}

/// One part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Unique in the shop.
    pub mark: String,
    /// Assembly it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub assembly: Option<String>,
    /// Kind it is made from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<String>,
}

/// A joint of one part, beyond those of its kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// Part.
    pub part: String,
    /// Unique in its part.
    pub mark: String,
    /// Lap, scarf, gusset, web in slot, …
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sort: Option<String>,
    /// Glue area, 1 mm2 to 100 m2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// Total thickness of the members, 0.001 mm to 50 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Option<String>,
}
