//! What crosses every door: the one error and the receipt.

use logbook::store::Error;
use serde::Serialize;

/// The one wire error. `code` is from a closed set (CODES).
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WireError {
    /// One of [`CODES`].
    pub code: &'static str,
    /// Path of the field: `body.resin`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub field: Option<String>,
    /// Value as given, control characters shown, cut at 200 characters.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<String>,
    /// Range allowed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub range: Option<String>,
    /// What is wrong, in one sentence that names field, value and range.
    pub sentence: String,
    /// What to do.
    pub advice: String,
}

/// The closed set of error codes.
pub const CODES: &[&str] = &[
    "bad-json",
    "unknown-field",
    "missing",
    "out-of-range",
    "contradicts",
    "not-found",
    "ambiguous",
    "duplicate",
    "future",
    "conflict",
    "locked",
    "read-only",
    "newer",
    "not-a-book",
    "damaged",
    "disk",
    "fault",
];

/// Longest value shown in an error, characters.
const SHOWN: usize = 200;

impl WireError {
    /// A refusal or fault with a sentence and advice.
    pub fn new(code: &'static str, sentence: impl Into<String>, advice: impl Into<String>) -> WireError {
        WireError { code, field: None, value: None, range: None, sentence: sentence.into(), advice: advice.into() }
    }

    /// With the path of the field.
    pub fn field(mut self, field: impl Into<String>) -> WireError {
        self.field = Some(field.into());
        self
    }

    /// With the value as given, made harmless to look at.
    pub fn value(mut self, value: &str) -> WireError {
        self.value = Some(shown(value));
        self
    }

    /// With the range allowed.
    pub fn range(mut self, range: impl Into<String>) -> WireError {
        self.range = Some(range.into());
        self
    }

    /// Exit status of the command line: 1 fault, 2 refused, 4 book not usable.
    pub fn exit(&self) -> u8 {
        match self.code {
            "fault" => 1,
            "locked" | "read-only" | "newer" | "not-a-book" | "damaged" | "disk" => 4,
            _ => 2,
        }
    }
}

/// Every trouble of a book in the words of the door.
impl From<Error> for WireError {
    fn from(error: Error) -> WireError {
        let sentence = sentence(&error.to_string());
        let (code, advice) = match error {
            Error::Missing => ("not-a-book", "Check the path; the first act on a new path makes a book there."),
            Error::NotABook => ("not-a-book", "Check the path; this file is left as it is."),
            Error::Newer { .. } => ("newer", "Use the newer program; this one leaves the book as it is."),
            Error::Older { .. } => {
                ("read-only", "The next act brings its tables up to date; the entries stay as they are.")
            }
            Error::Locked => ("locked", "Try again in a moment; nothing was written."),
            Error::ReadOnly => ("read-only", "Make the file and its folder writable, or act on another book."),
            Error::Damaged(_) => ("damaged", "Run verify to see what is damaged, and go on from a sound copy."),
            Error::Disk(_) => ("disk", "Free some space or mend the disk, then act again; nothing was written."),
            Error::Moved { .. } => ("conflict", "Act again; nothing was written."),
            Error::Fault(_) => ("fault", "This is the program's own mistake; nothing was written."),
        };
        WireError::new(code, sentence, advice)
    }
}

/// A sentence begins with a capital and ends with a full stop.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(char::to_uppercase).into_iter().flatten();
    let mut sentence: String = first.chain(letters).collect();
    if !sentence.ends_with('.') {
        sentence.push('.');
    }
    sentence
}

/// A value as it may be shown: control and direction characters by their number, at most 200 characters.
pub fn shown(value: &str) -> String {
    let mut shown = String::new();
    for (at, letter) in value.chars().enumerate() {
        if at == SHOWN {
            shown.push('…');
            break;
        }
        if letter.is_control() || unseen(letter) {
            shown.push_str(&format!("U+{:04X}", u32::from(letter)));
        } else {
            shown.push(letter);
        }
    }
    shown
}

/// Characters that change how the text around them is shown without being seen: direction marks and overrides,
/// zero-width spaces, line and paragraph separators (Unicode standard annex 9 names the direction controls; from
/// memory).
pub fn unseen(letter: char) -> bool {
    matches!(
        letter,
        '\u{061C}' | '\u{200B}' | '\u{200E}' | '\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}'
    )
}

/// What an act answers.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Receipt {
    /// Log appended to.
    pub log: String,
    /// Size after the act.
    pub size: u64,
    /// Root after the act, base64.
    pub root: String,
    /// Entries made.
    pub entries: Vec<Made>,
    /// Names made: `{"bond":"47"}`, `{"batch":"Tue 3"}`, `{"part":"R3-L"}`, `{"entry":"<id>"}` …
    pub made: std::collections::BTreeMap<String, String>,
    /// What changed: `bond:47`.
    pub changed: Vec<String>,
    /// What is owed on what changed, in sentences.
    pub owed: Vec<String>,
    /// The same key was acted before.
    pub repeat: bool,
}

/// One entry in a receipt.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Made {
    /// Place in the log.
    pub seq: u64,
    /// Id.
    pub id: String,
    /// Kind.
    pub kind: String,
    /// Leaf hash, hex.
    pub leaf: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unseen_characters_are_shown_and_long_values_cut() {
        assert_eq!(shown("R3\u{202E}L\u{7}"), "R3U+202ELU+0007");
        assert_eq!(shown(&"x".repeat(1_000_000)).chars().count(), SHOWN + 1);
    }

    #[test]
    fn every_trouble_of_a_book_has_a_code_of_the_set() {
        let all = [
            Error::Missing,
            Error::NotABook,
            Error::Newer { found: 2, known: 1 },
            Error::Older { found: 1, known: 2 },
            Error::Locked,
            Error::ReadOnly,
            Error::Damaged("leaf 3".to_owned()),
            Error::Disk("full".to_owned()),
            Error::Moved { expected: 1, found: 2 },
            Error::Fault("x".to_owned()),
        ];
        for error in all {
            let wire = WireError::from(error);
            assert!(CODES.contains(&wire.code) && wire.sentence.ends_with('.'), "{wire:?}");
        }
    }
}
