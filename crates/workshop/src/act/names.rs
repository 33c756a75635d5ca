//! Names into ids: exact text in NFC, or the id itself. Bonds also as `bond:47`, batches as `batch:Tue 3` or with
//! their day, `Tue 3 2026-11-24`.

use crate::wire::{WireError, shown};
use logbook::entry::{Body, Id};
use logbook::store::{Book, Noun};
use unicode_normalization::UnicodeNormalization;

/// The word of a noun in sentences and in `changed`.
pub(crate) fn word(noun: Noun) -> &'static str {
    match noun {
        Noun::Person => "person",
        Noun::Place => "place",
        Noun::Instrument => "instrument",
        Noun::Card => "card",
        Noun::Lot => "lot",
        Noun::Container => "container",
        Noun::Kind => "kind",
        Noun::Set => "set",
        Noun::Part => "part",
        Noun::Batch => "batch",
        Noun::Bond => "bond",
    }
}

/// The one thing that bears this name. Two that do: `ambiguous`; none: `not-found`.
pub(crate) fn resolve(book: &Book, noun: Noun, field: &str, typed: &str) -> Result<Id, WireError> {
    if typed.len() > 1_000 {
        return Err(not_found(noun, field, typed));
    }
    let name: String = typed.trim().nfc().collect();
    let mut found = book.find(noun, &name)?;
    if found.is_empty()
        && let Some(bare) = name.strip_prefix(word(noun)).and_then(|rest| rest.strip_prefix(':'))
    {
        found = book.find(noun, bare.trim())?;
    }
    if found.is_empty() && noun == Noun::Batch {
        found = of_day(book, name.strip_prefix("batch:").unwrap_or(&name))?;
    }
    found.dedup();
    match found.as_slice() {
        [one] => Ok(one.clone()),
        [] => Err(not_found(noun, field, typed)),
        many => Err(ambiguous(noun, field, typed, many.len())),
    }
}

/// A batch with its day: `Tue 3 2026-11-24`.
fn of_day(book: &Book, name: &str) -> Result<Vec<Id>, WireError> {
    let Some((name, day)) = name.trim().rsplit_once(' ') else {
        return Ok(Vec::new());
    };
    let mut found = Vec::new();
    for id in book.find(Noun::Batch, name.trim())? {
        let entry = book.entry(&id)?;
        if entry.is_some_and(|entry| matches!(&entry.body, Body::Batch(batch) if batch.day == day)) {
            found.push(id);
        }
    }
    Ok(found)
}

fn not_found(noun: Noun, field: &str, typed: &str) -> WireError {
    let word = word(noun);
    let sentence = format!("{field} is \"{}\", but no {word} of that name is in this book.", shown(typed));
    WireError::new("not-found", sentence, format!("Check the spelling, or enter the {word} first."))
        .field(field)
        .value(typed)
        .range(format!("a {word} in this book"))
}

fn ambiguous(noun: Noun, field: &str, typed: &str, count: usize) -> WireError {
    let word = word(noun);
    let sentence = format!("{field} is \"{}\", and {count} {word} entries answer to it.", shown(typed));
    let advice = match noun {
        Noun::Batch => "Add the day, as in \"Tue 3 2026-11-24\", or use its id.",
        _ => "Use its id.",
    };
    WireError::new("ambiguous", sentence, advice).field(field).value(typed).range(format!("one {word}"))
}
