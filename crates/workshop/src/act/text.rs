//! Text as people type it: NFC, of sensible length, without characters that are not seen.

use crate::wire::{WireError, unseen};
use unicode_normalization::UnicodeNormalization;

/// Longest name or mark, characters.
const NAME: usize = 200;
/// Longest note, bytes.
const NOTE: usize = 10_000;

/// A name or mark: one line, not empty, at most 200 characters.
pub(super) fn name(field: &str, typed: &str) -> Result<String, WireError> {
    let range = "1 to 200 characters on one line";
    if typed.len() > NAME * 4 {
        return Err(too_long(field, typed, range));
    }
    let text: String = typed.trim().nfc().collect();
    if text.is_empty() {
        let sentence = format!("{field} is empty; a name needs {range}.");
        return Err(WireError::new("missing", sentence, "Give it a name.").field(field).value(typed).range(range));
    }
    if text.chars().count() > NAME {
        return Err(too_long(field, typed, range));
    }
    seen(field, &text, |letter| letter.is_control() || unseen(letter))?;
    Ok(text)
}

/// Free text: at most 10 kB, line breaks and tabs allowed.
pub(super) fn note(field: &str, typed: &str) -> Result<String, WireError> {
    let range = "at most 10 kB of text";
    if typed.len() > NOTE {
        return Err(too_long(field, typed, range));
    }
    let text: String = typed.trim().nfc().collect();
    seen(field, &text, |letter| (letter.is_control() && !matches!(letter, '\n' | '\t')) || unseen(letter))?;
    Ok(text)
}

/// Free text that must say something.
pub(super) fn said(field: &str, typed: &str) -> Result<String, WireError> {
    let text = note(field, typed)?;
    if text.is_empty() {
        let sentence = format!("{field} is empty; it has to say why.");
        return Err(WireError::new("missing", sentence, "Say it in a few words.")
            .field(field)
            .value(typed)
            .range("1 character to 10 kB"));
    }
    Ok(text)
}

/// A word from a closed list.
pub(super) fn word<'a>(field: &str, typed: &str, words: &[&'a str]) -> Result<&'a str, WireError> {
    words.iter().find(|word| **word == typed).copied().ok_or_else(|| {
        let range = words.join(", ");
        let sentence = format!("{field} is \"{}\", which is none of {range}.", crate::wire::shown(typed));
        WireError::new("out-of-range", sentence, "Use one of these words.").field(field).value(typed).range(range)
    })
}

/// A list of sensible length.
pub(super) fn few<T>(field: &str, list: &[T], most: usize) -> Result<(), WireError> {
    let range = format!("1 to {most}");
    if list.is_empty() {
        let sentence = format!("{field} is an empty list; it needs {range}.");
        return Err(WireError::new("missing", sentence, "Name at least one.").field(field).value("[]").range(range));
    }
    if list.len() > most {
        let sentence = format!("{field} lists {} things; it takes {range}.", list.len());
        let error = WireError::new("out-of-range", sentence, "Split it into several acts.");
        return Err(error.field(field).value(&list.len().to_string()).range(range));
    }
    Ok(())
}

fn too_long(field: &str, typed: &str, range: &str) -> WireError {
    let sentence = format!("{field} is {} bytes long; it takes {range}.", typed.len());
    WireError::new("out-of-range", sentence, "Shorten it.").field(field).value(typed).range(range)
}

fn seen(field: &str, text: &str, refused: impl Fn(char) -> bool) -> Result<(), WireError> {
    let Some(letter) = text.chars().find(|letter| refused(*letter)) else {
        return Ok(());
    };
    let range = "characters that are seen when written";
    let number = u32::from(letter);
    let sentence = format!("{field} holds the unseen character U+{number:04X}; it takes {range}.");
    Err(WireError::new("out-of-range", sentence, "Type it again without that character.")
        .field(field)
        .value(text)
        .range(range))
}
