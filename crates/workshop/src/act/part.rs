//! Kinds, sets, parts and joints.

use super::desk::{Desk, taken, twice};
use super::{Enact, text, typed};
use crate::wire::WireError;
use logbook::entry::{Body, Id, part};
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

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
    /// Highest temperature in service that the builder names: a dark skin in the sun. -40 to 260 C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub service: Option<String>,
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
    /// Highest temperature in service, where this part's differs from its kind's. -40 to 260 C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub service: Option<String>,
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

impl Enact for Kind {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let mark = desk.unused(Noun::Kind, "body.mark", &self.mark)?;
        text::few("body.stages", &self.stages, 100)?;
        let mut marks = BTreeSet::new();
        let mut joints = BTreeSet::new();
        let mut stages = Vec::new();
        for (at, stage) in self.stages.iter().enumerate() {
            stages.push(stage.parse(&format!("body.stages[{at}]"), &mut marks, &mut joints)?);
        }
        let body = part::Kind {
            mark,
            stages,
            presses: presses("body.presses", self.presses)?.unwrap_or(6),
            pressure: typed::maybe("body.pressure", self.pressure.as_deref(), typed::pressure)?,
            clamping: typed::maybe("body.clamping", self.clamping.as_deref(), typed::time)?,
            bent: self.bent,
            service: typed::maybe("body.service", self.service.as_deref(), typed::cure)?,
        };
        desk.put(Body::Kind(body), vec![]);
        Ok(())
    }
}

impl Stage {
    fn parse(
        &self,
        field: &str,
        marks: &mut BTreeSet<String>,
        joints: &mut BTreeSet<String>,
    ) -> Result<part::Stage, WireError> {
        let mark = text::name(&format!("{field}.mark"), &self.mark)?;
        if !marks.insert(mark.clone()) {
            return Err(twice(&format!("{field}.mark"), &mark));
        }
        text::few(&format!("{field}.joints"), &self.joints, 500)?;
        let mut plans = Vec::new();
        for (at, joint) in self.joints.iter().enumerate() {
            let field = format!("{field}.joints[{at}]");
            let plan = joint_plan(&field, &joint.mark, [&joint.sort, &joint.area, &joint.thickness])?;
            if !joints.insert(plan.mark.clone()) {
                return Err(twice(&format!("{field}.mark"), &plan.mark));
            }
            plans.push(plan);
        }
        Ok(part::Stage { mark, joints: plans })
    }
}

impl Enact for Set {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let kind = desk.find(Noun::Kind, "body.kind", &self.kind)?;
        let assembly = typed::maybe("body.assembly", self.assembly.as_deref(), text::name)?;
        text::few("body.marks", &self.marks, 1_000)?;
        if desk.replaces.is_some() {
            return self.correct(desk, kind, assembly);
        }
        let (mut parts, mut marks) = (Vec::new(), BTreeSet::new());
        for (at, mark) in self.marks.iter().enumerate() {
            let field = format!("body.marks[{at}]");
            let mark = desk.unused(Noun::Part, &field, mark)?;
            if !marks.insert(mark.clone()) {
                return Err(twice(&field, &mark));
            }
            let id = desk.fresh();
            let body = part::Part { mark, assembly: assembly.clone(), kind: Some(kind.clone()), service: None };
            desk.put_as(id.clone(), Body::Part(body), vec![id.clone()]);
            parts.push(id);
        }
        let about = parts.clone();
        desk.put(Body::Set(part::Set { kind, parts, assembly }), about);
        Ok(())
    }
}

impl Set {
    /// A corrected set names parts that exist; the parts themselves are corrected one by one.
    fn correct(&self, desk: &mut Desk, kind: Id, assembly: Option<String>) -> Result<(), WireError> {
        let mut parts = Vec::new();
        for (at, mark) in self.marks.iter().enumerate() {
            let field = format!("body.marks[{at}]");
            let part = desk.find(Noun::Part, &field, mark)?;
            if parts.contains(&part) {
                return Err(twice(&field, mark));
            }
            parts.push(part);
        }
        let about = parts.clone();
        desk.put(Body::Set(part::Set { kind, parts, assembly }), about);
        Ok(())
    }
}

impl Enact for Part {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let mark = desk.unused(Noun::Part, "body.mark", &self.mark)?;
        let assembly = typed::maybe("body.assembly", self.assembly.as_deref(), text::name)?;
        let kind = desk.find_if(Noun::Kind, "body.kind", self.kind.as_deref())?;
        let service = typed::maybe("body.service", self.service.as_deref(), typed::cure)?;
        let (id, subject) = desk.subject_id();
        desk.put_as(id, Body::Part(part::Part { mark, assembly, kind, service }), vec![subject]);
        Ok(())
    }
}

impl Enact for Joint {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let part = desk.find(Noun::Part, "body.part", &self.part)?;
        let joint = joint_plan("body", &self.mark, [&self.sort, &self.area, &self.thickness])?;
        let own = desk.own_id();
        let taken_already = joints_of(desk, &part)?
            .iter()
            .any(|one| one.plan.mark == joint.mark && (own.is_none() || one.entry != own));
        if taken_already {
            let mut error = taken(Noun::Part, "body.mark", &joint.mark);
            error.sentence =
                format!("body.mark is \"{}\", which another joint of this part bears already.", joint.mark);
            return Err(error.range("a mark that no joint of this part bears yet"));
        }
        let about = vec![part.clone()];
        desk.put(Body::Joint(part::Joint { part, joint }), about);
        Ok(())
    }
}

/// A joint of a part, with the stage its kind gives it, or the entry that added it.
pub(super) struct JointOf {
    /// The joint.
    pub plan: part::JointPlan,
    /// Stage of the kind; None: the joint was added to this part.
    pub stage: Option<String>,
    /// The `joint` entry, for an added one.
    pub entry: Option<Id>,
}

/// All joints of a part: those of its kind, then those added.
pub(super) fn joints_of(desk: &Desk, part: &str) -> Result<Vec<JointOf>, WireError> {
    let mut joints = planned(desk, part)?;
    joints.extend(added(desk, part)?);
    Ok(joints)
}

/// True when a part has a joint of that mark. What a kind plans is looked at first: it costs the same however much
/// was entered about the part.
pub(super) fn has_joint(desk: &Desk, part: &str, mark: &str) -> Result<bool, WireError> {
    let bears = |joints: Vec<JointOf>| joints.iter().any(|one| one.plan.mark == mark);
    Ok(bears(planned(desk, part)?) || bears(added(desk, part)?))
}

/// The joints that a part's kind plans.
pub(super) fn planned(desk: &Desk, part: &str) -> Result<Vec<JointOf>, WireError> {
    let stages = kind_of(desk, part)?.map(|kind| kind.stages).unwrap_or_default();
    let of_stage = |stage: part::Stage| {
        let mark = stage.mark;
        stage.joints.into_iter().map(move |plan| JointOf { plan, stage: Some(mark.clone()), entry: None })
    };
    Ok(stages.into_iter().flat_map(of_stage).collect())
}

/// The joints added to a part.
fn added(desk: &Desk, part: &str) -> Result<Vec<JointOf>, WireError> {
    let joint = |one: logbook::settled::Settled| match one.body {
        Body::Joint(added) if added.part == part => {
            Some(JointOf { plan: added.joint, stage: None, entry: Some(one.entry.id) })
        }
        _ => None,
    };
    Ok(desk.judge.subject(part)?.into_iter().filter_map(joint).collect())
}

/// The kind a part is made from.
pub(super) fn kind_of(desk: &Desk, part: &str) -> Result<Option<part::Kind>, WireError> {
    let Some(part) = desk.in_force(part)? else {
        return Ok(None);
    };
    let Body::Part(part::Part { kind: Some(kind), .. }) = &part.body else {
        return Ok(None);
    };
    let kind = desk.in_force(kind)?;
    Ok(kind.and_then(|one| if let Body::Kind(kind) = &one.body { Some(kind.clone()) } else { None }))
}

/// Presses per bond: 6 or 2.
pub(super) fn presses(field: &str, presses: Option<u8>) -> Result<Option<u8>, WireError> {
    match presses {
        None | Some(2 | 6) => Ok(presses),
        Some(other) => {
            let sentence = format!("{field} is {other}; a bond takes 6 presses, or 2 when it is nailed or stapled.");
            let error = WireError::new("out-of-range", sentence, "Write 6 or 2.").field(field);
            Err(error.value(&other.to_string()).range("6 or 2"))
        }
    }
}

fn joint_plan(
    field: &str,
    mark: &str,
    [sort, area, thickness]: [&Option<String>; 3],
) -> Result<part::JointPlan, WireError> {
    Ok(part::JointPlan {
        mark: text::name(&format!("{field}.mark"), mark)?,
        sort: typed::maybe(&format!("{field}.sort"), sort.as_deref(), text::name)?,
        area: typed::maybe(&format!("{field}.area"), area.as_deref(), typed::area)?,
        thickness: typed::maybe(&format!("{field}.thickness"), thickness.as_deref(), typed::length)?,
    })
}
