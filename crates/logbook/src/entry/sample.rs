//! Sample joints: glued beside the work from the same batch, or cut from it, and broken.

use super::Id;
use super::typed::{Force, Length, Share};
use serde::{Deserialize, Serialize};

/// A sample joint that was broken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sample {
    /// Part it speaks for; absent where it speaks for a bond.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub part: Option<Id>,
    /// Bond it speaks for.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub bond: Option<Id>,
    /// Load at which it broke.
    pub load: Force,
    /// Width of the glued face.
    pub width: Length,
    /// Its length along the load.
    pub length: Length,
    /// Share of the face on which the wood broke and not the glue.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub wood_failure: Option<Share>,
    /// What else was seen, as typed.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub note: Option<String>,
}
