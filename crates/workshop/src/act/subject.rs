//! What a page or bundle can be about, and how many entries there are about it and all it rests on.

use super::desk::Desk;
use crate::wire::{WireError, shown};
use logbook::entry::{About, Body, Id};
use logbook::store::Noun;
use std::collections::BTreeSet;

const NOUNS: [Noun; 4] = [Noun::Part, Noun::Bond, Noun::Batch, Noun::Lot];

/// A part by mark, `part:R3-L`, `bond:47`, `batch:Tue 3`, `lot:R-118`, or an id.
pub(super) fn find(desk: &Desk, field: &str, typed: &str) -> Result<Id, WireError> {
    let (word, rest) = typed.split_once(':').unwrap_or(("", typed));
    if let Some(noun) = NOUNS.into_iter().find(|noun| noun.word() == word.trim()) {
        return desk.find(noun, field, rest);
    }
    if typed.len() <= 1_000 {
        for noun in NOUNS {
            if desk.in_force(typed.trim())?.is_some_and(|one| one.body.kind() == noun.word()) {
                return Ok(typed.trim().to_owned());
            }
        }
    }
    let known = desk.find(Noun::Part, field, typed);
    known.map_err(|mut error| {
        if error.code == "not-found" {
            error.sentence = format!(
                "{field} is \"{}\", but no part, bond, batch or lot of that name is in this book.",
                shown(typed)
            );
            error.range = Some("part:, bond:, batch: or lot: and a name".to_owned());
        }
        error
    })
}

/// Entries about a subject and all it rests on, sorted by id.
pub(super) fn counts(desk: &Desk, subject: &str) -> Result<Vec<About>, WireError> {
    let mut ids = BTreeSet::from([subject.to_owned()]);
    match desk.in_force(subject)?.as_ref().map(|one| &one.body) {
        Some(Body::Part(_)) => {
            for one in desk.judge.subject(subject)? {
                if matches!(&one.body, Body::Bond(bond) if bond.joints.iter().any(|joint| joint.part == subject)) {
                    of_bond(desk, &one.entry.id, &mut ids)?;
                }
            }
        }
        Some(Body::Bond(_)) => of_bond(desk, subject, &mut ids)?,
        Some(Body::Batch(_)) => ids.extend(super::mix::lots_of_batch(desk, subject)?),
        _ => {}
    }
    let mut counts = Vec::new();
    for id in ids {
        let n = desk.book.count_about(&id)?;
        counts.push(About { id, n });
    }
    Ok(counts)
}

fn of_bond(desk: &Desk, bond: &str, ids: &mut BTreeSet<Id>) -> Result<(), WireError> {
    ids.insert(bond.to_owned());
    let Some(story) = desk.judge.bond(bond)? else {
        return Ok(());
    };
    for used in &story.bond.batches {
        ids.insert(used.batch.clone());
        ids.extend(super::mix::lots_of_batch(desk, &used.batch)?);
    }
    Ok(())
}

/// The act that issued the same counts last: since then only that issue itself was entered about the subject.
pub(super) fn unchanged_since(desk: &Desk, subject: &str, counts: &[About]) -> Result<Option<String>, WireError> {
    let entries = desk.judge.subject(subject)?;
    let last = entries.iter().rev().find_map(|one| match &one.body {
        Body::Issued(issued) if issued.subject == subject => Some((issued, &one.entry)),
        _ => None,
    });
    let Some((issued, entry)) = last else { return Ok(None) };
    let mut then = issued.counts.clone();
    if let Some(own) = then.iter_mut().find(|one| one.id == subject) {
        own.n += 1;
    }
    Ok((then == counts).then(|| entry.act.clone()))
}
