//! Bonds: batches times joints at one stage; moves, coats, fresh faces.

use super::desk::{Desk, twice};
use super::{Enact, joints, part, session, text, typed};
use crate::wire::WireError;
use logbook::entry::part::JointRef;
use logbook::entry::{Body, Entry, Id, bond};
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

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
    /// Put together dry before, clamps counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_run: Option<bool>,
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

impl Enact for Bond {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let batches = self.batches(desk)?;
        let joints = joints::of_bond(desk, &self.joints, &self.parts, self.stage.as_deref())?;
        let planned = Planned::of(desk, &joints)?;
        let (place, place_from) = match desk.find_if(Noun::Place, "body.place", self.place.as_deref())? {
            Some(place) => (Some(place), None),
            None => session::place(desk)?.unzip(),
        };
        let (moisture, moisture_from) = match typed::maybe("body.moisture", self.moisture.as_deref(), typed::moisture)?
        {
            Some(moisture) => (Some(moisture), None),
            None => session::moisture(desk)?.unzip(),
        };
        let clamping = typed::maybe("body.clamping", self.clamping.as_deref(), typed::time)?;
        let layer_below = desk.find_if(Noun::Bond, "body.layer_below", self.layer_below.as_deref())?;
        let (id, subject) = desk.subject_id();
        let body = bond::Bond {
            number: number(desk)?,
            stage: typed::maybe("body.stage", self.stage.as_deref(), text::name)?,
            presses: part::presses("body.presses", self.presses)?.unwrap_or(planned.presses),
            place,
            place_from,
            bent: self.bent.or(planned.bent),
            moisture,
            moisture_from,
            wood_temperature: typed::maybe("body.wood_temperature", self.wood_temperature.as_deref(), typed::air)?,
            stored: desk.find_if(Noun::Place, "body.stored", self.stored.as_deref())?,
            layer_below,
            pressure: typed::maybe("body.pressure", self.pressure.as_deref(), typed::pressure)?,
            pressure_as_planned: self.pressure_as_planned,
            clamping_ms: clamping.map(|time| time.time_ms).or(planned.clamping_ms),
            dry_run: self.dry_run,
            batches,
            joints,
        };
        let about = about(desk, subject, &body)?;
        desk.put_as(id, Body::Bond(body), about);
        Ok(())
    }
}

impl Bond {
    fn batches(&self, desk: &Desk) -> Result<Vec<bond::BatchUse>, WireError> {
        text::few("body.batches", &self.batches, 100)?;
        let mut used: Vec<bond::BatchUse> = Vec::new();
        for (at, one) in self.batches.iter().enumerate() {
            let field = format!("body.batches[{at}]");
            let made = one.parse(desk, &field)?;
            if made.from.is_none() && used.iter().any(|earlier| earlier.batch == made.batch) {
                return Err(twice(&field, one.name()));
            }
            used.push(made);
        }
        Ok(used)
    }
}

impl BatchUse {
    fn name(&self) -> &str {
        match self {
            BatchUse::Name(name) => name,
            BatchUse::Stretch(stretch) => &stretch.batch,
        }
    }

    fn parse(&self, desk: &Desk, field: &str) -> Result<bond::BatchUse, WireError> {
        let batch = desk.find(Noun::Batch, field, self.name())?;
        let BatchUse::Stretch(stretch) = self else {
            return Ok(bond::BatchUse { batch, from: None, to: None });
        };
        let along =
            |name: &str, text: &Option<String>| typed::maybe(&format!("{field}.{name}"), text.as_deref(), typed::along);
        Ok(bond::BatchUse { batch, from: along("from", &stretch.from)?, to: along("to", &stretch.to)? })
    }
}

/// What the kinds of a bond's parts plan for it.
struct Planned {
    presses: u8,
    bent: Option<bool>,
    clamping_ms: Option<i64>,
}

impl Planned {
    /// The most careful of the kinds: six presses if any takes six, bent if any is, the longest clamping.
    fn of(desk: &Desk, joints: &[JointRef]) -> Result<Planned, WireError> {
        let parts: BTreeSet<&Id> = joints.iter().map(|joint| &joint.part).collect();
        let mut kinds = Vec::new();
        for part in parts {
            kinds.push(part::kind_of(desk, part)?);
        }
        let two = kinds.iter().all(|kind| kind.as_ref().is_some_and(|kind| kind.presses == 2));
        let known = || kinds.iter().flatten();
        Ok(Planned {
            presses: if two { 2 } else { 6 },
            bent: known().any(|kind| kind.bent == Some(true)).then_some(true),
            clamping_ms: known().filter_map(|kind| kind.clamping.as_ref().map(|time| time.time_ms)).max(),
        })
    }
}

/// The next number of the own log; a correction keeps its own.
fn number(desk: &mut Desk) -> Result<u64, WireError> {
    if let Some(original) = &desk.replaces
        && let Body::Bond(bond) = &original.body
    {
        return Ok(bond.number);
    }
    let standing = desk.book.newest_name(Noun::Bond)?.and_then(|name| name.parse::<u64>().ok()).unwrap_or(0);
    let numbers = |entry: &Entry| {
        if let Body::Bond(bond) = &entry.body { Some(bond.number) } else { None }
    };
    let withdrawn = desk.tail()?.iter().filter_map(numbers).max().unwrap_or(0);
    Ok(standing.max(withdrawn) + 1)
}

/// A bond is about itself, its parts, its batches and their lots.
fn about(desk: &Desk, id: Id, bond: &bond::Bond) -> Result<Vec<Id>, WireError> {
    let mut about = vec![id];
    about.extend(bond.joints.iter().map(|joint| joint.part.clone()));
    about.extend(bond.batches.iter().map(|used| used.batch.clone()));
    for used in &bond.batches {
        about.extend(super::mix::lots_of_batch(desk, &used.batch)?);
    }
    Ok(about)
}

/// What an entry on a bond is about: the bond, its parts, its batches.
pub(super) fn subjects(desk: &Desk, id: &str) -> Result<Vec<Id>, WireError> {
    let mut about = vec![id.to_owned()];
    if let Some(one) = desk.in_force(id)?
        && let Body::Bond(bond) = &one.body
    {
        about.extend(bond.joints.iter().map(|joint| joint.part.clone()));
        about.extend(bond.batches.iter().map(|used| used.batch.clone()));
    }
    Ok(about)
}

impl Enact for Moved {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let bond = desk.find(Noun::Bond, "body.bond", &self.bond)?;
        let place = desk.find(Noun::Place, "body.place", &self.place)?;
        let about = subjects(desk, &bond)?;
        desk.put(Body::Moved(bond::Moved { bond, place }), about);
        Ok(())
    }
}

impl Enact for Coat {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let bond = desk.find(Noun::Bond, "body.bond", &self.bond)?;
        let batch = desk.find_if(Noun::Batch, "body.batch", self.batch.as_deref())?;
        let mut about = subjects(desk, &bond)?;
        about.extend(batch.clone());
        desk.put(Body::Coat(bond::Coat { bond, batch }), about);
        Ok(())
    }
}

impl Enact for Surface {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let joints = joints::named(desk, &self.joints)?;
        let mut parts = Vec::new();
        for (at, mark) in self.parts.iter().enumerate() {
            parts.push(desk.find(Noun::Part, &format!("body.parts[{at}]"), mark)?);
        }
        if joints.is_empty() && parts.is_empty() {
            let sentence = "body.joints and body.parts are both missing: whose faces were made fresh?";
            let error = WireError::new("missing", sentence, "Name the joints or the parts.").field("body.joints");
            return Err(error.range("at least one joint or part"));
        }
        let how = typed::maybe("body.how", self.how.as_deref(), text::name)?;
        let about = joints.iter().map(|joint| joint.part.clone()).chain(parts.iter().cloned()).collect();
        desk.put(Body::Surface(bond::Surface { joints, parts, how }), about);
        Ok(())
    }
}
