//! Corrections and withdrawals: what stood before, what stands now, who changed it, when and why; and the questions
//! whose answers tell the old values.

use crate::Beside;
use crate::block::{list, note, text};
use crate::words::{Times, each, said};
use serde_json::{Value, json};

/// What to ask beside the trace, as questions for the door: each batch (its amounts), each card in force, each corrected or withdrawn
/// entry with its correction, each broken sample, and each entry of the part's own.
pub fn questions(trace: &Value) -> Vec<Value> {
    let mut asked = Vec::new();
    let mut add = |question: Value| {
        if !asked.contains(&question) {
            asked.push(question);
        }
    };
    for batch in each(&trace["bonds"]).flat_map(|bond| each(&bond["batches"])) {
        add(json!({ "ask": "batch", "body": { "batch": batch["id"] } }));
    }
    for clock in each(&trace["bonds"]).flat_map(|bond| each(&bond["clocks"])) {
        if !clock["limit"]["card"].is_null() {
            add(ask_entry(&clock["limit"]["card"]));
        }
    }
    for entry in entries(trace).filter(|entry| is_change(entry)) {
        add(ask_entry(&entry["id"]));
        if !entry["corrects"].is_null() {
            add(ask_entry(&entry["corrects"]));
        }
    }
    let samples = entries(trace).filter(|entry| entry["kind"] == "sample");
    for entry in samples.chain(each(&trace["entries"])) {
        add(ask_entry(&entry["id"]));
    }
    asked
}

fn ask_entry(id: &Value) -> Value {
    json!({ "ask": "entry", "body": { "id": id } })
}

/// Every entry of the trace, of the bonds first; one that concerns several bonds comes several times.
pub fn entries(trace: &Value) -> impl Iterator<Item = &Value> {
    each(&trace["bonds"]).flat_map(|bond| each(&bond["entries"])).chain(each(&trace["entries"]))
}

fn is_change(entry: &Value) -> bool {
    !entry["corrects"].is_null() || entry["withdrawn"] == Value::Bool(true)
}

/// Every entry that replaces or was withdrawn, once each, in the order of the log.
pub fn changes<'a>(entries: impl Iterator<Item = &'a Value>) -> Vec<&'a Value> {
    let mut lines: Vec<&Value> = entries.filter(|entry| is_change(entry)).collect();
    lines.sort_by_key(|entry| (entry["log"].as_str().unwrap_or_default(), entry["seq"].as_u64()));
    lines.dedup();
    lines
}

/// A note for each change, for the place it belongs to.
pub fn notes(changes: &[&Value], beside: &Beside) -> Vec<Value> {
    changes.iter().map(|entry| note("correction", &sentence(entry, beside))).collect()
}

/// The section of all changes.
pub fn blocks(changes: &[&Value], beside: &Beside) -> Vec<Value> {
    if changes.is_empty() {
        return vec![text("No entry on this page was corrected or withdrawn.")];
    }
    let items = changes.iter().map(|entry| crate::block::item(&sentence(entry, beside), &entry["seq"]));
    vec![list(items.collect())]
}

/// One change in a sentence: what, by whom, when, why, old and new values.
fn sentence(entry: &Value, beside: &Beside) -> String {
    let times = Times::new(beside.zone_min);
    let who = said(&entry["person"]).map_or_else(|| "by a person not recorded".to_owned(), |name| format!("by {name}"));
    let kind = kind(entry);
    if entry["corrects"].is_null() {
        let what = beside.entry(&entry["id"]).and_then(|answer| said(&answer["said"]));
        let what = what.map_or_else(String::new, |what| format!(": {what}"));
        let happened = times.time(&entry["happened"]).unwrap_or_default();
        return format!("Withdrawn: {kind} of {happened}, entered {who}{what}. It counts no longer.");
    }
    let when = times.time(&entry["entered"]).unwrap_or_default();
    let (old, new) = (beside.entry(&entry["corrects"]), beside.entry(&entry["id"]));
    let differences = old.zip(new).map(|(old, new)| differences(old, new, times)).unwrap_or_default();
    let told = if differences.is_empty() {
        "what stood before is kept in the record".to_owned()
    } else {
        differences.join("; ")
    };
    let original = old.and_then(|old| old["entry"]["seq"].as_u64());
    let of = original.map_or_else(String::new, |seq| format!(" of entry {seq}"));
    let why = said(&entry["why"])
        .map_or_else(|| "Why: not recorded.".to_owned(), |why| format!("Why: \u{201c}{why}\u{201d}"));
    format!("{}{of} corrected {when} {who}: {told}. {why}", crate::words::plain(&kind))
}

fn kind(entry: &Value) -> String {
    entry["kind"].as_str().unwrap_or("entry").replace('-', " ")
}

/// Each value that differs: "Hardener 36.2 g, was 63.2 g". The stored bodies are compared, since the fields of an answer
/// are those now in force.
fn differences(old: &Value, new: &Value, times: Times) -> Vec<String> {
    let (before, after) = (&old["entry"]["body"], &new["entry"]["body"]);
    let mut names: Vec<&String> =
        [after, before].iter().filter_map(|body| body.as_object()).flat_map(|it| it.keys()).collect();
    names.sort();
    names.dedup();
    // What the program worked out of the others is no value of its own.
    names.retain(|name| *name != "judged" && before[*name] != after[*name]);
    let mut told: Vec<String> = names.iter().map(|name| difference(name, &before[*name], &after[*name])).collect();
    let instant = |answer: &Value| answer["entry"]["happened_ms"].as_i64();
    if let (Some(before), Some(after)) = (instant(old), instant(new))
        && before != after
    {
        let time = |ms: i64| times.time(&Value::String(workshop::judge::words::instant(ms))).unwrap_or_default();
        told.push(format!("happened {}, was {}", time(after), time(before)));
    }
    told
}

fn difference(name: &str, before: &Value, after: &Value) -> String {
    let label = crate::words::plain(&name.replace('_', " "));
    let shown = |value: &Value| if value.is_null() { Some("not recorded".to_owned()) } else { typed(value) };
    match (shown(after), shown(before)) {
        (Some(new), Some(old)) if new != old => format!("{label} {new}, was {old}"),
        _ => format!("{label} changed"),
    }
}

/// A value as it was typed; none for what a reader could not read: an id, a list.
fn typed(value: &Value) -> Option<String> {
    match value {
        Value::Object(quantity) => quantity.get("as").and_then(said),
        Value::String(text) if text.len() != ID_LENGTH => Some(text.clone()),
        Value::Bool(yes) => Some(if *yes { "yes" } else { "no" }.to_owned()),
        _ => None,
    }
}

/// Letters of an id: 32 hex digits and four hyphens.
const ID_LENGTH: usize = 36;
