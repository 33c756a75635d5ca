//! Sample joints that were broken: what a shop knows of its glue by test and not by clock.

use super::desk::Desk;
use super::{Enact, bond, text, typed};
use crate::wire::WireError;
use logbook::entry::{Body, sample};
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A sample joint that was broken, glued beside a part or a bond from the same glue. Name `part` or `bond`. It settles
/// nothing by itself.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Sample {
    /// Part it speaks for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// Bond it speaks for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bond: Option<String>,
    /// Load at which it broke, 0.1 N to 10000 kN.
    pub load: String,
    /// Width of the glued face, as lengths of a joint.
    pub width: String,
    /// Its length along the load.
    pub length: String,
    /// Share of the face on which the wood broke, 0 to 100 %; absent: not recorded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wood_failure: Option<String>,
    /// What else was seen, at most 10 kB.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

impl Enact for Sample {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let part = desk.find_if(Noun::Part, "body.part", self.part.as_deref())?;
        let bond = desk.find_if(Noun::Bond, "body.bond", self.bond.as_deref())?;
        let about = match (&part, &bond) {
            (Some(part), None) => vec![part.clone()],
            (None, Some(bond)) => bond::subjects(desk, bond)?,
            (None, None) => {
                let sentence = "body.part and body.bond are both missing: a sample speaks for one of them.";
                let error = WireError::new("missing", sentence, "Name the part or the bond.").field("body.part");
                return Err(error.range("a part or a bond"));
            }
            (Some(_), Some(_)) => {
                let sentence = "body.part stands beside body.bond: a sample speaks for one of them.";
                let error = WireError::new("contradicts", sentence, "Name the bond alone; its parts follow from it.");
                return Err(error.field("body.part").value(self.part.as_deref().unwrap_or_default()));
            }
        };
        let body = sample::Sample {
            part,
            bond,
            load: typed::force("body.load", &self.load)?,
            width: typed::length("body.width", &self.width)?,
            length: typed::length("body.length", &self.length)?,
            wood_failure: typed::maybe("body.wood_failure", self.wood_failure.as_deref(), typed::humidity)?,
            note: typed::maybe("body.note", self.note.as_deref(), text::note)?.filter(|note| !note.is_empty()),
        };
        desk.put(Body::Sample(body), about);
        Ok(())
    }
}
