//! Reading JSON into acts: what is wrong is told with the path of the field.

use super::Envelope;
use crate::wire::{WireError, shown};
use serde::de::DeserializeOwned;
use serde_json::Value;

/// Reads the envelope of one act.
pub(super) fn envelope(json: Value) -> Result<Envelope, WireError> {
    read("", json)
}

/// Reads an act's body.
pub(super) fn body<T: DeserializeOwned>(body: Value) -> Result<T, WireError> {
    read("body", body)
}

/// There is no such act.
pub(super) fn unknown_act(word: &str) -> WireError {
    let range = super::WORDS.join(", ");
    let sentence = format!("act is \"{}\", which is none of {range}.", shown(word));
    WireError::new("not-found", sentence, "Use one of these words.").field("act").value(word).range(range)
}

fn read<T: DeserializeOwned>(root: &str, json: Value) -> Result<T, WireError> {
    let shape = json.clone();
    serde_path_to_error::deserialize(json).map_err(|error| {
        let path = joined(root, &error.path().to_string());
        told(&path, &error.into_inner().to_string(), root, &shape)
    })
}

fn joined(root: &str, path: &str) -> String {
    match (root, path) {
        (root, "." | "") => root.to_owned(),
        ("", path) => path.to_owned(),
        (root, path) => format!("{root}.{path}"),
    }
}

/// The sentence for one of serde's.
fn told(path: &str, said: &str, root: &str, shape: &Value) -> WireError {
    let at = if path.is_empty() { "the act" } else { path };
    if let Some(name) = quoted(said, "unknown field `") {
        let field = if path.ends_with(&name) { path.to_owned() } else { joined_field(path, &name) };
        let known = said.split_once("expected ").map_or("no fields", |(_, known)| known).replace('`', "");
        let known = known.trim_start_matches("one of ").trim_start_matches("there are ").to_owned();
        let sentence = format!("{} is no field here; it takes {known}.", shown(&field));
        return WireError::new("unknown-field", sentence, "Leave it out, or spell it as listed.")
            .field(shown(&field))
            .range(known);
    }
    if let Some(name) = quoted(said, "missing field `") {
        let field = joined_field(path, &name);
        let sentence = format!("{field} is missing.");
        return WireError::new("missing", sentence, format!("Give {name}.")).field(field).range(format!("a {name}"));
    }
    let value = value_at(shape, path.strip_prefix(root).unwrap_or(path));
    let said = said.replace("data did not match any variant of untagged enum", "no shape fits of");
    let sentence = format!("{at} has the wrong shape: {}.", shown(&said));
    let error =
        WireError::new("bad-json", sentence, "Write it as `schema` shows.").field(at).range("the shape of the schema");
    match value {
        Some(value) => error.value(&value.to_string()),
        None => error,
    }
}

fn joined_field(path: &str, name: &str) -> String {
    if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") }
}

fn quoted(said: &str, before: &str) -> Option<String> {
    let (_, rest) = said.split_once(before)?;
    rest.split_once('`').map(|(name, _)| name.to_owned())
}

/// The value at a path like `.limits[0].time`.
fn value_at<'a>(shape: &'a Value, path: &str) -> Option<&'a Value> {
    let mut here = shape;
    for step in path.split(['.', '[', ']']).filter(|step| !step.is_empty()) {
        here = match step.parse::<usize>() {
            Ok(at) if here.is_array() => here.get(at)?,
            _ => here.get(step)?,
        };
    }
    Some(here)
}
