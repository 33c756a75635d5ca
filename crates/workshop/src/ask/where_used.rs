//! From a lot to every part it went into: mixes, top-ups, second pots, filler.

use super::Asking;
use super::answer::{UsedBatch, UsedPart, WhereUsedAnswer};
use super::question::WhereUsed;
use crate::judge::words::list;
use crate::judge::{BatchStory, BondStory};
use crate::wire::WireError;
use logbook::entry::{Body, Id};
use logbook::settled::Settled;
use logbook::store::{Error, Noun};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Answers `where-used`.
pub fn where_used(asking: &Asking, asked: &WhereUsed) -> Result<WhereUsedAnswer, WireError> {
    let id = asking.find(Noun::Lot, "body.lot", &asked.lot)?;
    let mut batches = Vec::new();
    let mut by_part: BTreeMap<Id, Vec<(Arc<BondStory>, String)>> = BTreeMap::new();
    for batch in batches_with(asking, &id)? {
        let by = by(asking, &batch, &id)?;
        for bond in &batch.bonds {
            let Some(story) = asking.judge.bond(bond)? else { continue };
            for part in story.parts() {
                by_part
                    .entry(part)
                    .or_default()
                    .push((story.clone(), format!("batch {} ({})", batch.name, by.join(", "))));
            }
        }
        batches.push(UsedBatch {
            day: batch.day.clone(),
            name: batch.name.clone(),
            id: batch.id.clone(),
            by,
            bonds: names(asking, &batch.bonds)?,
        });
    }
    batches.sort();
    let mut parts =
        by_part.iter().map(|(part, uses)| used_part(asking, part, uses)).collect::<Result<Vec<_>, Error>>()?;
    parts.sort();
    Ok(WhereUsedAnswer { lot: asking.judge.name(&id)?, id, parts, batches })
}

/// How many parts a lot went into.
pub(super) fn parts_of(asking: &Asking, lot: &str) -> Result<u64, Error> {
    let mut parts = BTreeSet::new();
    for batch in batches_with(asking, lot)? {
        for bond in &batch.bonds {
            parts.extend(asking.judge.bond(bond)?.map(|story| story.parts()).unwrap_or_default());
        }
    }
    Ok(parts.len() as u64)
}

fn used_part(asking: &Asking, part: &str, uses: &[(Arc<BondStory>, String)]) -> Result<UsedPart, Error> {
    let ids: Vec<Id> = uses.iter().map(|(story, _)| story.id.clone()).collect();
    let mut joints = BTreeSet::new();
    for (story, _) in uses {
        joints.extend(story.bond.joints.iter().filter(|joint| joint.part == part).map(|joint| joint.mark.clone()));
    }
    let joints: Vec<String> = joints.into_iter().collect();
    let from: BTreeSet<String> = uses.iter().map(|(_, from)| from.clone()).collect();
    let from: Vec<String> = from.into_iter().collect();
    Ok(UsedPart {
        mark: asking.judge.name(part)?,
        bonds: names(asking, &ids)?,
        r#where: format!("joints {}; {}", list(&joints), list(&from)),
        id: part.to_owned(),
    })
}

/// Bond names in the order of their numbers.
fn names(asking: &Asking, bonds: &[Id]) -> Result<Vec<String>, Error> {
    let mut all: BTreeSet<(u64, String)> = BTreeSet::new();
    for bond in bonds {
        if let Some(story) = asking.judge.bond(bond)? {
            all.insert((story.bond.number, story.name.clone()));
        }
    }
    Ok(all.into_iter().map(|(_, name)| name).collect())
}

/// Batches that hold a lot, through any can that belongs to it now, corrections applied.
fn batches_with(asking: &Asking, lot: &str) -> Result<Vec<Arc<BatchStory>>, Error> {
    let settled = asking.judge.subject(lot)?;
    let mut ids: BTreeSet<Id> = settled.iter().filter_map(batch_of).collect();
    for one in &settled {
        if matches!(one.body, Body::Container(_)) {
            ids.extend(asking.judge.subject(&one.entry.id)?.iter().filter_map(batch_of));
        }
    }
    let mut batches = Vec::new();
    for id in ids {
        let Some(batch) = asking.judge.batch(&id)? else { continue };
        if asking.judge.lots_of(&batch)?.iter().any(|used| used.id == lot) {
            batches.push(batch);
        }
    }
    Ok(batches)
}

fn batch_of(one: &Settled) -> Option<Id> {
    match &one.body {
        Body::Mix(mix) | Body::TopUp(mix) => Some(mix.batch.clone()),
        Body::Filler(filler) => Some(filler.batch.clone()),
        _ => None,
    }
}

/// How a lot came into a batch: `mix`, `top-up`, `filler`.
fn by(asking: &Asking, batch: &BatchStory, lot: &str) -> Result<Vec<String>, Error> {
    let mut by = BTreeSet::new();
    for (top_up, mix) in &batch.mixes {
        for can in &mix.what.containers {
            let of = asking.judge.in_force(can)?.map(|one| match &one.body {
                Body::Container(can) => can.lot.clone(),
                _ => one.entry.id.clone(),
            });
            if of.as_deref() == Some(lot) {
                by.insert(if *top_up { "top-up" } else { "mix" }.to_owned());
            }
        }
    }
    if batch.fillers.iter().any(|filler| filler.what.lot == lot) {
        by.insert("filler".to_owned());
    }
    Ok(by.into_iter().collect())
}
