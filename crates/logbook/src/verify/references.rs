//! Which field of an entry names a thing of which kind.

use crate::entry::read::is_id;
use serde_json::Value;

/// An id in an entry, with the field it stands in and the kinds it may name; empty: any.
pub(super) struct Named<'a> {
    pub field: &'a str,
    pub id: &'a str,
    pub kinds: &'static [&'static str],
}

/// Every id in an entry that names another entry.
pub(super) fn named(entry: &Value) -> Vec<Named<'_>> {
    let mut found = Vec::new();
    if let Some(id) = entry.get("person").and_then(Value::as_str) {
        found.push(Named { field: "person", id, kinds: &["person"] });
    }
    if let Some(id) = entry.get("corrects").and_then(Value::as_str) {
        found.push(Named { field: "corrects", id, kinds: &[] });
    }
    for about in entry.get("about").and_then(Value::as_array).into_iter().flatten() {
        if let Some(id) = about.get("id").and_then(Value::as_str) {
            found.push(Named { field: "about", id, kinds: SUBJECTS });
        }
    }
    if let Some(body) = entry.get("body") {
        gather(body, "body", &mut found);
    }
    found
}

const SUBJECTS: &[&str] = &["part", "bond", "batch", "lot"];

fn gather<'a>(value: &'a Value, field: &'a str, found: &mut Vec<Named<'a>>) {
    match value {
        Value::String(id) => {
            // In two kinds of entry these fields hold a word.
            let word = matches!(field, "by" | "alarm") && !is_id(id);
            if let Some(kinds) = kinds(field).filter(|_| !word) {
                found.push(Named { field, id, kinds });
            }
        }
        Value::Array(items) => items.iter().for_each(|item| gather(item, field, found)),
        // A log and its root, not an entry.
        Value::Object(_) if matches!(field, "continues" | "checkpoint") => {}
        Value::Object(fields) => fields.iter().for_each(|(field, item)| gather(item, field, found)),
        _ => {}
    }
}

/// Kinds that a field may name; None: it holds no id.
fn kinds(field: &str) -> Option<&'static [&'static str]> {
    Some(match field {
        "place" | "stored" | "heated_from" => &["place"],
        "batch" => &["batch"],
        "bond" | "layer_below" => &["bond"],
        "card" | "revises" => &["card"],
        "lot" => &["lot"],
        "containers" => &["container"],
        "instrument" | "by" => &["instrument"],
        "part" | "parts" => &["part"],
        "kind" => &["kind"],
        "alarm" => &["alarm"],
        "subject" => SUBJECTS,
        "entry" => &[],
        _ => return None,
    })
}
