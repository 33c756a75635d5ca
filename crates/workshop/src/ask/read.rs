//! Reading a question: what is wrong is told with the field's name.

use super::question::Question;
use crate::wire::WireError;
use serde_json::{Map, Value};

/// Words of all questions.
const WORDS: &str =
    "clocks, trace, where-used, verify, owed, bonds, list, entry, batch, amounts, head, checkpoint, bench, gate";

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
    serde_json::from_value(Value::Object(map)).map_err(|error| refused(&word, &error.to_string()))
}

fn refused(word: &str, error: &str) -> WireError {
    let quoted = error.split('`').nth(1).map(str::to_owned);
    let expected = error.split("expected ").nth(1).unwrap_or("").replace('`', "");
    let field = |name: &Option<String>| format!("body.{}", name.as_deref().unwrap_or("?"));
    if error.starts_with("unknown field") {
        let (name, outer) = match &quoted {
            Some(name) if expected.contains("ask") && expected.contains("body") => (name.clone(), true),
            _ => (field(&quoted), false),
        };
        let advice = if expected.is_empty() || expected.starts_with("there are no fields") {
            format!("The question {word} has no fields.")
        } else if outer {
            "Leave it out: a question has ask and body.".to_owned()
        } else {
            format!("The question {word} has: {}.", expected.trim_start_matches("one of "))
        };
        return WireError::new("unknown-field", format!("{name} is not a field of the question {word}."), advice)
            .field(name);
    }
    if error.starts_with("missing field") {
        let name = field(&quoted);
        return WireError::new("missing", format!("{name} is missing in the question {word}."), format!("Add {name}."))
            .field(name);
    }
    WireError::new("bad-json", format!("The question {word} cannot be read: {error}."), "See the question's schema.")
        .field("body")
}
