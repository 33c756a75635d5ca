//! Corrections and withdrawals: both entries stay.

use super::desk::Desk;
use super::{Act, Enact, text};
use crate::wire::{WireError, shown};
use logbook::entry::bond::Bond;
use logbook::entry::{Body, Entry, Id, settle};
use logbook::settled::Settled;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// A full replacement body in the shape of its act.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Correct {
    /// The original entry, by id or by its place in the own log: `812`, as text or number.
    #[serde(deserialize_with = "id_or_place")]
    pub entry: String,
    /// The whole body as it should have been.
    pub body: Value,
    /// Why; needed here or around the body.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// An entry withdrawn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Withdraw {
    /// The entry, by id or by its place in the own log, as text or number.
    #[serde(deserialize_with = "id_or_place")]
    pub entry: String,
    /// Why; needed here or around the body.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// An entry as text, or its place in the own log as a number.
fn id_or_place<'de, D: serde::Deserializer<'de>>(from: D) -> Result<String, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Given {
        Text(String),
        Place(u64),
    }
    Ok(match Given::deserialize(from)? {
        Given::Text(text) => text,
        Given::Place(place) => place.to_string(),
    })
}

impl Enact for Correct {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let entry = own_entry(desk, "body.entry", &self.entry)?;
        let id = entry.corrects.clone().unwrap_or_else(|| entry.id.clone());
        let original = desk.in_force(&id)?.ok_or_else(|| gone("body.entry", &self.entry))?;
        let word = act_of(&original.body).ok_or_else(|| fixed("body.entry", &self.entry, original.body.kind()))?;
        desk.why = Some(why(self.why.as_deref(), desk)?);
        if !desk.typed_instant {
            desk.happened_ms = original.happened_ms;
        }
        desk.replaces = Some(original);
        Act::read(word, self.body).and_then(|act| act.enact(desk)).map_err(inside)
    }
}

impl Enact for Withdraw {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let entry = own_entry(desk, "body.entry", &self.entry)?;
        desk.why = Some(why(self.why.as_deref(), desk)?);
        if entry.corrects.is_none() {
            if act_of(&entry.body).is_none() && !matches!(entry.body, Body::Batch(_)) {
                return Err(fixed("body.entry", &self.entry, entry.body.kind()));
            }
            desk.in_force(&entry.id)?.ok_or_else(|| gone("body.entry", &self.entry))?;
            unneeded(desk, &self.entry, &entry)?;
        } else if withdrawn_already(desk, &entry)? {
            return Err(gone("body.entry", &self.entry));
        }
        let about = entry.about.iter().map(|one| one.id.clone()).collect();
        put_withdrawal(desk, &entry.id, about, false);
        Ok(())
    }
}

/// Lays down a withdrawal.
pub(super) fn put_withdrawal(desk: &mut Desk, entry: &str, about: Vec<Id>, taken_back: bool) {
    let body = settle::Withdrawn { entry: entry.to_owned(), taken_back: taken_back.then_some(true) };
    desk.put(Body::Withdrawn(body), about);
}

/// An entry of the own log, by id or by its place there.
pub(super) fn own_entry(desk: &Desk, field: &str, typed: &str) -> Result<Entry, WireError> {
    let own = desk.book.own()?.map(|head| head.log).unwrap_or_default();
    let found = match typed.trim().parse::<u64>() {
        Ok(seq) => desk.book.entry_at(&own, seq)?,
        Err(_) if typed.len() <= 100 => desk.book.entry(typed.trim())?,
        Err(_) => None,
    };
    found.filter(|entry| entry.log == own).ok_or_else(|| {
        let sentence = format!("{field} is \"{}\", but this book's own log has no such entry.", shown(typed));
        WireError::new("not-found", sentence, "Use the entry's id or its place in the log, as in a receipt.")
            .field(field)
            .value(typed)
            .range("an entry of the own log")
    })
}

/// The act whose body corrects this kind of entry; None: it is not corrected by hand.
fn act_of(body: &Body) -> Option<&'static str> {
    let kind = body.kind();
    let alike = |word: &&&str| **word == kind && !matches!(kind, "issue" | "correct" | "withdraw");
    super::WORDS.iter().find(alike).copied()
}

fn why(inner: Option<&str>, desk: &Desk) -> Result<String, WireError> {
    match inner.or(desk.why.as_deref()) {
        Some(why) => text::said("body.why", why),
        None => {
            let sentence = "body.why is missing: a changed entry says why, in at most 10 kB.";
            let error = WireError::new("missing", sentence, "Say why in a few words.").field("body.why");
            Err(error.range("1 character to 10 kB"))
        }
    }
}

/// The error of a body inside a body, with its path.
fn inside(mut error: WireError) -> WireError {
    if let Some(field) = error.field.take() {
        let path = match field.strip_prefix("body") {
            Some(rest) => format!("body.body{rest}"),
            None => format!("body.{field}"),
        };
        error.sentence = error.sentence.replacen(&field, &path, 1);
        error.field = Some(path);
    }
    error
}

fn gone(field: &str, typed: &str) -> WireError {
    let sentence = format!("{field} is \"{}\", which is withdrawn already.", shown(typed));
    let error = WireError::new("contradicts", sentence, "Enter it anew if it happened after all.").field(field);
    error.value(typed).range("an entry that stands")
}

fn fixed(field: &str, typed: &str, kind: &str) -> WireError {
    let sentence = format!("{field} is \"{}\", an entry of kind {kind}, which stays as it is.", shown(typed));
    let error =
        WireError::new("contradicts", sentence, "Readings from a file and batches are withdrawn and entered anew.");
    error.field(field).value(typed).range("an entry that a person made")
}

fn withdrawn_already(desk: &Desk, entry: &Entry) -> Result<bool, WireError> {
    let naming = desk.book.versions(&entry.id)?;
    Ok(naming.iter().any(|one| matches!(&one.body, Body::Withdrawn(body) if body.entry == entry.id)))
}

/// A thing that other entries name is corrected, not withdrawn.
fn unneeded(desk: &Desk, typed: &str, entry: &Entry) -> Result<(), WireError> {
    let other = match &entry.body {
        Body::Joint(joint) => glued(desk, joint)?,
        body if super::receipt::noun_of(body).is_some() => {
            let others = desk.judge.subject(&entry.id)?;
            others.into_iter().find(|one| one.entry.id != entry.id && one.entry.act != entry.act)
        }
        _ => None,
    };
    let Some(other) = other else { return Ok(()) };
    let what = format!("{} {}", other.entry.body.kind(), other.entry.seq);
    let sentence = format!("body.entry is \"{}\", which other entries name (the first: {what}).", shown(typed));
    let error = WireError::new("contradicts", sentence, "Correct it, or withdraw first what names it.");
    Err(error.field("body.entry").value(typed).range("an entry that nothing else names"))
}

/// The first bond that names a joint.
fn glued(desk: &Desk, joint: &logbook::entry::part::Joint) -> Result<Option<Settled>, WireError> {
    let names = |bond: &Bond| bond.joints.iter().any(|one| one.part == joint.part && one.mark == joint.joint.mark);
    let about = desk.judge.subject(&joint.part)?;
    Ok(about.into_iter().find(|one| matches!(&one.body, Body::Bond(bond) if names(bond))))
}
