//! The receipt of an act, worked out from what stands in the book: so a repeated key gets the same one.

use crate::judge::Judge;
use crate::time::Axis;
use crate::wire::{Made, Receipt, WireError};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use logbook::entry::{Body, Entry, Id};
use logbook::settled::Seen;
use logbook::store::{Appended, Book, Noun};
use std::collections::{BTreeMap, BTreeSet};

/// Most bonds judged for one receipt.
const BONDS: usize = 50;

/// What the act of these entries answers.
pub(super) fn of(book: &Book, appended: &Appended, axis: &Axis, repeat: bool) -> Result<Receipt, WireError> {
    let entries: Vec<&Entry> = appended.entries.iter().map(|(entry, _)| entry).collect();
    let seen = seen(&entries);
    let judge = Judge::new(book, Seen { at_ms: i64::MAX, known_ms: seen.known_ms }, axis);
    let made = made(&judge, &entries)?;
    let changed = changed(&judge, &entries)?;
    let owed = owed(book, &Judge::new(book, seen, axis), &entries)?;
    Ok(Receipt {
        log: appended.head.log.clone(),
        size: appended.head.size,
        root: STANDARD.encode(appended.head.root),
        entries: appended.entries.iter().map(|(entry, leaf)| told(entry, leaf)).collect(),
        made,
        changed,
        owed,
        repeat,
    })
}

fn told(entry: &Entry, leaf: &[u8; 32]) -> Made {
    Made { seq: entry.seq, id: entry.id.clone(), kind: entry.body.kind().to_owned(), leaf: hex::encode(leaf) }
}

/// A late act is judged at its instant, a change of an old entry at the instant it was entered.
fn seen(entries: &[&Entry]) -> Seen {
    let mut seen = Seen { at_ms: i64::MIN, known_ms: i64::MIN };
    for entry in entries {
        let change = entry.corrects.is_some() || matches!(entry.body, Body::Withdrawn(_));
        let at_ms = if change { entry.entered_ms.max(entry.happened_ms) } else { entry.happened_ms };
        let bookish = matches!(entry.body, Body::LogStart(_) | Body::ClockStep(_) | Body::TimeConfirmed(_));
        seen.known_ms = seen.known_ms.max(entry.entered_ms);
        if !bookish {
            seen.at_ms = seen.at_ms.max(at_ms);
        }
    }
    seen
}

/// The noun that a body makes.
pub(super) fn noun_of(body: &Body) -> Option<Noun> {
    Some(match body {
        Body::Person(_) => Noun::Person,
        Body::Place(_) => Noun::Place,
        Body::Instrument(_) => Noun::Instrument,
        Body::Card(_) => Noun::Card,
        Body::Lot(_) => Noun::Lot,
        Body::Container(_) => Noun::Container,
        Body::Kind(_) => Noun::Kind,
        Body::Set(_) => Noun::Set,
        Body::Part(_) => Noun::Part,
        Body::Batch(_) => Noun::Batch,
        Body::Bond(_) => Noun::Bond,
        _ => return None,
    })
}

/// Names made: of things their names, of a set of parts all marks, else the entry's id.
fn made(judge: &Judge, entries: &[&Entry]) -> Result<BTreeMap<String, String>, WireError> {
    let mut made: BTreeMap<String, String> = BTreeMap::new();
    for entry in entries.iter().filter(|entry| entry.corrects.is_none()) {
        let name = match (&entry.body, noun_of(&entry.body)) {
            (Body::LogStart(_) | Body::ClockStep(_), _) => continue,
            (Body::Joint(joint), _) => {
                let name = format!("{}/{}", judge.name(&joint.part)?, joint.joint.mark);
                made.insert("joint".to_owned(), name);
                continue;
            }
            (_, None) => {
                made.insert("entry".to_owned(), entry.id.clone());
                continue;
            }
            (_, Some(Noun::Set)) => entry.id.clone(),
            (body, Some(_)) => name_in(body).unwrap_or_else(|| entry.id.clone()),
        };
        let word = noun_of(&entry.body).map_or("entry", Noun::word).to_owned();
        made.entry(word).and_modify(|names| *names = format!("{names}, {name}")).or_insert(name);
    }
    Ok(made)
}

/// The name a body itself states.
fn name_in(body: &Body) -> Option<String> {
    Some(match body {
        Body::Person(it) => it.name.clone(),
        Body::Place(it) => it.name.clone(),
        Body::Instrument(it) => it.name.clone(),
        Body::Card(it) => it.name.clone(),
        Body::Lot(it) => it.mark.clone(),
        Body::Container(it) => it.mark.clone(),
        Body::Kind(it) => it.mark.clone(),
        Body::Part(it) => it.mark.clone(),
        Body::Batch(it) => it.name.clone(),
        Body::Bond(it) => it.number.to_string(),
        _ => return None,
    })
}

/// What changed, sorted: the subjects of the entries, the things made or corrected, the places whose air is known
/// better.
fn changed(judge: &Judge, entries: &[&Entry]) -> Result<Vec<String>, WireError> {
    let mut changed = BTreeSet::new();
    for entry in entries {
        let mut ids: Vec<&Id> = entry.about.iter().map(|one| &one.id).collect();
        ids.push(entry.corrects.as_ref().unwrap_or(&entry.id));
        match &entry.body {
            Body::Reading(it) => ids.push(&it.place),
            Body::Readings(it) => ids.push(&it.place),
            Body::Vouch(it) => ids.push(&it.place),
            Body::Forecast(it) => ids.push(&it.place),
            Body::Withdrawn(it) => ids.push(&it.entry),
            _ => {}
        }
        for id in ids {
            changed.extend(word_of(judge, id)?);
        }
    }
    Ok(changed.into_iter().collect())
}

/// `bond:47`; None: the id names nothing that bears a name. Withdrawn things answer with what they were called.
fn word_of(judge: &Judge, id: &str) -> Result<Option<String>, WireError> {
    let standing = judge.in_force(id)?.map(|one| one.body.clone());
    let body = match standing {
        Some(body) => Some(body),
        None => judge.book.entry(id)?.map(|entry| entry.body),
    };
    Ok(body.and_then(|body| {
        let noun = noun_of(&body)?;
        Some(format!("{}:{}", noun.word(), name_in(&body).unwrap_or_else(|| id.to_owned())))
    }))
}

/// What is owed on the bonds concerned, and on batches that no bond names yet.
fn owed(book: &Book, judge: &Judge, entries: &[&Entry]) -> Result<Vec<String>, WireError> {
    let (mut bonds, mut batches) = (BTreeSet::new(), BTreeSet::new());
    for one in entries.iter().flat_map(|entry| &entry.about) {
        match book.entry(&one.id)?.map(|entry| entry.body) {
            Some(Body::Bond(_)) => {
                bonds.insert(one.id.clone());
            }
            Some(Body::Batch(_)) => {
                batches.insert(one.id.clone());
            }
            _ => {}
        }
    }
    let mut owed: Vec<String> = Vec::new();
    for batch in batches {
        let story = judge.batch(&batch)?;
        let Some(story) = story else { continue };
        if story.bonds.is_empty() {
            owed.extend(super::owed::on_batch(judge, &story)?);
        }
        bonds.extend(story.bonds.iter().cloned());
    }
    for bond in bonds.iter().take(BONDS) {
        owed.extend(judge.owed(bond)?);
    }
    let mut met = BTreeSet::new();
    owed.retain(|sentence| met.insert(sentence.clone()));
    Ok(owed)
}
