//! Reading a question: what is wrong is told with the field's name.

use super::question::Question;
use crate::wire::WireError;
use serde_json::{Map, Value};

/// Words of all questions.
const WORDS: &str = "clocks, trace, where-used, verify, owed, bonds, list, entry, batch, amounts, head, checkpoint, bench, gate, pour, post-cure, \
     figure, figures, session, work, parts, stores, entries";

/// A question from its JSON; a missing body is an empty one.
pub fn question(value: Value) -> Result<Question, WireError> {
    let Value::Object(mut map) = value else {
        return Err(WireError::new(
            "bad-json",
            "A question is a JSON object.",
            "Write {\"ask\":\"clocks\",\"body\":{}}.",
        ));
    };
    map.entry("body").or_insert_with(|| Value::Object(Map::new()));
    let word = match map.get("ask") {
        Some(Value::String(word)) => word.clone(),
        Some(_) => {
            return Err(WireError::new("bad-json", "ask is not a word.", format!("One of: {WORDS}.")).field("ask"));
        }
        None => {
            return Err(
                WireError::new("missing", "ask is missing: which question?", format!("One of: {WORDS}.")).field("ask")
            );
        }
    };
    if !WORDS.split(", ").any(|known| known == word) {
        let sentence = "There is no question of that name.";
        return Err(WireError::new("not-found", sentence, format!("One of: {WORDS}."))
            .field("ask")
            .value(&word)
            .range(WORDS));
    }
    if !matches!(map.get("body"), Some(Value::Object(_))) {
        return Err(WireError::new("bad-json", "body is not an object.", "Write \"body\":{}.").field("body"));
    }
    if let Some(other) = map.keys().find(|key| *key != "ask" && *key != "body") {
        let sentence = "A question has no such field beside ask and body.";
        return Err(WireError::new("unknown-field", sentence, "Leave it out.").field(other.clone()));
    }
    serde_json::from_value(Value::Object(map)).map_err(|error| refused(&word, &error.to_string()))
}

fn refused(word: &str, error: &str) -> WireError {
    let quoted = error.split('`').nth(1).unwrap_or("?");
    let field = format!("body.{quoted}");
    if error.starts_with("unknown field") {
        let expected = error.split("expected ").nth(1).unwrap_or("").replace('`', "");
        let advice = match expected.trim_start_matches("one of ") {
            "" | "there are no fields" => format!("The question {word} has no fields."),
            fields => format!("The question {word} has: {fields}."),
        };
        return WireError::new("unknown-field", format!("{field} is not a field of the question {word}."), advice)
            .field(field);
    }
    if error.starts_with("missing field") {
        let sentence = format!("{field} is missing in the question {word}.");
        return WireError::new("missing", sentence, format!("Add {field}.")).field(field);
    }
    WireError::new("bad-json", format!("The question {word} cannot be read: {error}."), "See the question's schema.")
        .field("body")
}
