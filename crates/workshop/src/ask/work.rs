//! What can be glued next: per kind and stage the parts whose joints are in no bond yet, and joints added to single
//! parts. A bond that was rejected, or is to be done again, leaves its joints open.

use super::Asking;
use super::answer::{WorkAnswer, WorkJoint, WorkKind, WorkLoose, WorkPart, WorkStage};
use crate::judge::rest::Outline;
use crate::judge::words::instant;
use crate::wire::WireError;
use logbook::entry::part::{JointPlan, JointRef, Kind, Part, Stage};
use logbook::entry::{Body, Id};
use logbook::store::{Error, Noun};
use std::collections::BTreeMap;

/// Which joints are in which bonds, by the bonds' names.
#[derive(Default)]
pub(super) struct Glued {
    joints: BTreeMap<Id, BTreeMap<String, Vec<String>>>,
}

impl Glued {
    /// From all bonds.
    pub fn of(outlines: &[(Id, Outline)]) -> Glued {
        let mut glued = Glued::default();
        for (_, one) in outlines.iter().filter(|(_, one)| one.counts) {
            glued.take(&one.name, &one.joints);
        }
        glued
    }

    /// From the bonds' stories alone: nothing is judged that is not kept.
    fn of_book(asking: &Asking) -> Result<Glued, Error> {
        let resting = asking.judge.resting()?;
        let mut glued = Glued::default();
        for (_, id) in asking.book.list(Noun::Bond)? {
            if resting.contains_key(&id) {
                if let Some(one) = asking.judge.outline(&id)?.filter(|one| one.counts) {
                    glued.take(&one.name, &one.joints);
                }
            } else if let Some(story) = asking.judge.bond(&id)?.filter(|story| story.counts()) {
                glued.take(&story.name, &story.bond.joints);
            }
        }
        Ok(glued)
    }

    fn take(&mut self, bond: &str, joints: &[JointRef]) {
        for joint in joints {
            let of_part = self.joints.entry(joint.part.clone()).or_default();
            of_part.entry(joint.mark.clone()).or_default().push(bond.to_owned());
        }
    }

    /// Bonds a joint is in, by name; none: it is open.
    pub fn bonds(&self, part: &str, mark: &str) -> &[String] {
        self.joints.get(part).and_then(|joints| joints.get(mark)).map_or(&[], Vec::as_slice)
    }

    /// Every joint of a stage of a part is in a bond.
    pub fn whole(&self, part: &str, stage: &Stage) -> bool {
        stage.joints.iter().all(|joint| !self.bonds(part, &joint.mark).is_empty())
    }
}

/// Answers `work`.
pub fn work(asking: &Asking) -> Result<WorkAnswer, WireError> {
    let glued = Glued::of_book(asking)?;
    let parts = asking.parts()?;
    let mut kinds = Vec::new();
    for (id, one) in asking.all(Noun::Kind)? {
        let Body::Kind(kind) = &one.body else { continue };
        let of_kind: Vec<&(Id, Part)> = parts.iter().filter(|(_, part)| part.kind.as_ref() == Some(&id)).collect();
        let stages = kind.stages.iter().map(|stage| self::stage(asking, stage, &of_kind, &glued)).collect();
        kinds.push(WorkKind { kind: kind.mark.clone(), id, stages });
    }
    let mut loose = Vec::new();
    for (id, part) in &parts {
        let joints = asking.added(id)?.iter().map(|plan| joint(asking, id, plan, &glued)).collect::<Vec<_>>();
        if !joints.is_empty() {
            loose.push(WorkLoose { mark: part.mark.clone(), id: id.clone(), joints });
        }
    }
    Ok(WorkAnswer { at: instant(asking.at_ms), kinds, loose })
}

fn stage(asking: &Asking, stage: &Stage, parts: &[&(Id, Part)], glued: &Glued) -> WorkStage {
    let parts: Vec<WorkPart> = parts.iter().map(|(id, part)| at_stage(asking, stage, id, part, glued)).collect();
    let open = parts.iter().filter(|part| part.state == "open").count();
    let joints = stage.joints.len();
    let each = format!("{joints} joint{} each", if joints == 1 { "" } else { "s" });
    let said = match (open, parts.len()) {
        (_, 0) => "no parts of this kind yet".to_owned(),
        (0, all) => format!("all {all} parts glued"),
        (open, all) => format!("{open} of {all} parts to glue, {each}"),
    };
    WorkStage { stage: stage.mark.clone(), parts, open: open as u64, said }
}

fn at_stage(asking: &Asking, stage: &Stage, id: &str, part: &Part, glued: &Glued) -> WorkPart {
    let bonds = |plan: &JointPlan| glued.bonds(id, &plan.mark).to_vec();
    let open: Vec<&JointPlan> = stage.joints.iter().filter(|plan| bonds(plan).is_empty()).collect();
    let whole = open.is_empty();
    let counted = if whole { stage.joints.iter().collect() } else { open };
    let mut names: Vec<String> = stage.joints.iter().flat_map(bonds).collect();
    in_order(&mut names);
    let area_mm2 = area_of(&counted);
    WorkPart {
        mark: part.mark.clone(),
        id: id.to_owned(),
        joints: counted.len() as u64,
        area: area_mm2.map(|mm2| asking.judge.reader.area(mm2)),
        area_mm2,
        state: if whole { "glued" } else { "open" }.to_owned(),
        bonds: names,
    }
}

/// Areas together, mm²; None: one is not recorded.
pub(super) fn area_of(joints: &[&JointPlan]) -> Option<i64> {
    joints.iter().map(|joint| joint.area.as_ref().map(|area| area.mm2)).sum()
}

fn joint(asking: &Asking, part: &str, plan: &JointPlan, glued: &Glued) -> WorkJoint {
    let bonds = glued.bonds(part, &plan.mark).to_vec();
    let reader = asking.judge.reader;
    WorkJoint {
        mark: plan.mark.clone(),
        sort: plan.sort.clone(),
        area: plan.area.as_ref().map(|area| reader.area(area.mm2)),
        thickness: plan.thickness.as_ref().map(|it| reader.length(it.um)),
        state: if bonds.is_empty() { "open" } else { "glued" }.to_owned(),
        bonds,
    }
}

/// Names of bonds in the order of their numbers, each once.
pub(super) fn in_order(names: &mut Vec<String>) {
    names.sort_by_key(|name| (name.parse::<u64>().unwrap_or(u64::MAX), name.clone()));
    names.dedup();
}

impl Asking<'_> {
    /// All parts as they are in force, in order of making.
    pub fn parts(&self) -> Result<Vec<(Id, Part)>, Error> {
        let part = |(id, one): (Id, std::sync::Arc<logbook::settled::Settled>)| match &one.body {
            Body::Part(part) => Some((id, part.clone())),
            _ => None,
        };
        Ok(self.all(Noun::Part)?.into_iter().filter_map(part).collect())
    }

    /// The kind of a part; None: it has none.
    pub fn kind_of(&self, part: &Part) -> Result<Option<Kind>, Error> {
        let Some(id) = &part.kind else { return Ok(None) };
        Ok(self.judge.in_force(id)?.and_then(|one| match &one.body {
            Body::Kind(kind) => Some(kind.clone()),
            _ => None,
        }))
    }

    /// Joints added to a part, beyond those of its kind.
    pub fn added(&self, part: &str) -> Result<Vec<JointPlan>, Error> {
        let mut plans = Vec::new();
        for id in self.book.joints_of(part)? {
            if let Some(one) = self.judge.in_force(&id)?
                && let Body::Joint(joint) = &one.body
                && joint.part == part
            {
                plans.push(joint.joint.clone());
            }
        }
        Ok(plans)
    }
}
