//! Joints by name: `R3-L/J2`, a mark unique in the whole book, or part and mark; and all joints of a stage.

use super::bond::JointName;
use super::desk::{Desk, twice};
use super::part::{JointOf, has_joint, joints_of, kind_of, planned};
use super::text;
use crate::wire::{WireError, shown};
use logbook::entry::part::JointRef;
use logbook::store::Noun;

/// Most joints one act names.
const MOST: usize = 2_000;

/// The joints of a bond: named one by one, or those of parts at a stage.
pub(super) fn of_bond(
    desk: &Desk,
    joints: &[JointName],
    parts: &[String],
    stage: Option<&str>,
) -> Result<Vec<JointRef>, WireError> {
    let mut found = named(desk, joints)?;
    for (at, mark) in parts.iter().enumerate() {
        let field = format!("body.parts[{at}]");
        for joint in of_part(desk, &field, mark, stage)? {
            if found.contains(&joint) {
                return Err(twice(&field, mark));
            }
            found.push(joint);
        }
    }
    if found.is_empty() {
        let sentence = "body.joints is missing: a bond needs at least one joint, or parts with their stage.";
        let error = WireError::new("missing", sentence, "Name the joints, or the parts and the stage.");
        return Err(error.field("body.joints").range("at least one joint"));
    }
    Ok(found)
}

/// Joints named one by one.
pub(super) fn named(desk: &Desk, joints: &[JointName]) -> Result<Vec<JointRef>, WireError> {
    if !joints.is_empty() {
        text::few("body.joints", joints, MOST)?;
    }
    let mut found: Vec<JointRef> = Vec::new();
    for (at, joint) in joints.iter().enumerate() {
        let field = format!("body.joints[{at}]");
        let one = joint.resolve(desk, &field)?;
        if found.contains(&one) {
            return Err(twice(&field, &joint.said()));
        }
        found.push(one);
    }
    Ok(found)
}

impl JointName {
    fn said(&self) -> String {
        match self {
            JointName::Text(text) => text.clone(),
            JointName::Full(full) => format!("{}/{}", full.part, full.mark),
        }
    }

    fn resolve(&self, desk: &Desk, field: &str) -> Result<JointRef, WireError> {
        match self {
            JointName::Full(full) => {
                let part = desk.find(Noun::Part, &format!("{field}.part"), &full.part)?;
                let mark = text::name(&format!("{field}.mark"), &full.mark)?;
                in_part(desk, field, &self.said(), part, mark)
            }
            JointName::Text(typed) => by_text(desk, field, typed),
        }
    }
}

/// `R3-L/J2`; both marks may hold a slash, so every slash is tried. Else a mark unique in the book.
fn by_text(desk: &Desk, field: &str, typed: &str) -> Result<JointRef, WireError> {
    let name = text::name(field, typed)?;
    for (at, _) in name.match_indices('/') {
        let (part, mark) = (name[..at].trim(), name[at + 1..].trim());
        if let [part] = desk.book.find(Noun::Part, part)?.as_slice() {
            return in_part(desk, field, typed, part.clone(), mark.to_owned());
        }
    }
    let mut found = Vec::new();
    for (_, part) in desk.book.list(Noun::Part)? {
        if has_joint(desk, &part, &name)? {
            found.push(JointRef { part, mark: name.clone() });
        }
    }
    match found.as_slice() {
        [one] => Ok(one.clone()),
        [] => Err(missing(field, typed)),
        many => {
            let sentence =
                format!("{field} is \"{}\", and {} parts have a joint of that mark.", shown(typed), many.len());
            let error = WireError::new("ambiguous", sentence, "Name the part too: \"R3-L/J2\".").field(field);
            Err(error.value(typed).range("one joint"))
        }
    }
}

fn in_part(desk: &Desk, field: &str, typed: &str, part: String, mark: String) -> Result<JointRef, WireError> {
    if has_joint(desk, &part, &mark)? {
        return Ok(JointRef { part, mark });
    }
    Err(missing(field, typed))
}

fn missing(field: &str, typed: &str) -> WireError {
    let sentence = format!("{field} is \"{}\", but no part in this book has that joint.", shown(typed));
    WireError::new("not-found", sentence, "Check the marks, or add the joint to its part first.")
        .field(field)
        .value(typed)
        .range("a joint in this book")
}

/// A part's joints at a stage; without a stage all of them, where its kind is glued in one.
fn of_part(desk: &Desk, field: &str, mark: &str, stage: Option<&str>) -> Result<Vec<JointRef>, WireError> {
    let part = desk.find(Noun::Part, field, mark)?;
    let stage = stage.map(|stage| text::name("body.stage", stage)).transpose()?;
    if stage.is_none()
        && let Some(kind) = kind_of(desk, &part)?
        && kind.stages.len() > 1
    {
        let stages: Vec<&str> = kind.stages.iter().map(|stage| stage.mark.as_str()).collect();
        let range = stages.join(", ");
        let sentence = format!("body.stage is missing: \"{}\" is glued in the stages {range}.", shown(mark));
        return Err(WireError::new("missing", sentence, "Name the stage.").field("body.stage").range(range));
    }
    let joints = if stage.is_some() { planned(desk, &part)? } else { joints_of(desk, &part)? };
    let wanted = |joint: &&JointOf| stage.is_none() || joint.stage == stage;
    let found: Vec<JointRef> = joints
        .iter()
        .filter(wanted)
        .map(|joint| JointRef { part: part.clone(), mark: joint.plan.mark.clone() })
        .collect();
    if found.is_empty() {
        let which = stage.as_deref().unwrap_or("");
        let sentence =
            format!("{field} is \"{}\", which has no joints to glue at stage \"{}\".", shown(mark), shown(which));
        let error = WireError::new("not-found", sentence, "Check the stage, or add the joints to the part.");
        return Err(error.field(field).value(mark).range("a part with joints"));
    }
    Ok(found)
}
