//! Reading JSON into acts: what is wrong is told with the path of the field.

use crate::wire::WireError;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// Reads an act's body.
pub(super) fn body<T: DeserializeOwned>(body: Value) -> Result<T, WireError> {
    serde_json::from_value(body).map_err(|e| WireError::new("bad-json", e.to_string(), ""))
}

/// There is no such act.
pub(super) fn unknown_act(word: &str) -> WireError {
    WireError::new(
        "not-found",
        format!("there is no act \"{word}\""),
        super::WORDS.join(", "),
    )
}
