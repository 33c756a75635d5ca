//! The blocks a page is built of. The screen and the typesetter draw these and know nothing else of a page.

use serde_json::{Value, json};

/// How a value is shown; the word is also the name of its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// As recorded.
    Plain,
    /// Not known, or not told apart.
    Doubt,
    /// Beyond a limit, or held.
    Heat,
    /// Reached.
    Moss,
}

impl Tone {
    /// The word on the wire.
    pub fn word(self) -> &'static str {
        match self {
            Tone::Plain => "plain",
            Tone::Doubt => "doubt",
            Tone::Heat => "heat",
            Tone::Moss => "moss",
        }
    }
}

/// A section without what outside checks read in it; `content` is set beside the blocks.
pub fn section(name: &str, heading: &str, content: Value, blocks: Vec<Value>) -> Value {
    json!({ "section": name, "heading": heading, "content": content, "blocks": blocks })
}

/// A fact; no value means "not recorded" and is shown in doubt.
pub fn fact(label: &str, value: Option<String>, tone: Tone) -> Value {
    let tone = if value.is_none() { Tone::Doubt } else { tone };
    json!({ "label": label, "value": value, "tone": tone.word(), "basis": null, "entry": null })
}

/// A fact with what it rests on, and the number of its entry.
pub fn fact_of(label: &str, value: Option<String>, tone: Tone, basis: Option<String>, entry: &Value) -> Value {
    let mut fact = fact(label, value, tone);
    fact["basis"] = json!(basis);
    fact["entry"] = entry.clone();
    fact
}

/// Facts side by side.
pub fn facts(facts: Vec<Value>) -> Value {
    json!({ "block": "facts", "facts": facts })
}

/// A heading inside a section, with what belongs to it in a smaller face.
pub fn heading(text: &str, sub: &str) -> Value {
    json!({ "block": "heading", "text": text, "sub": sub })
}

/// A smaller heading: what the next table or list is about.
pub fn about(text: &str) -> Value {
    json!({ "block": "about", "text": text })
}

/// Running text.
pub fn text(text: &str) -> Value {
    json!({ "block": "text", "text": text })
}

/// Running text in a smaller face: what is for machines and checkers.
pub fn fine(text: &str) -> Value {
    json!({ "block": "text", "text": text, "small": true })
}

/// A note at the margin: `correction`, `held` or `plain`.
pub fn note(tone: &str, text: &str) -> Value {
    json!({ "block": "note", "tone": tone, "text": text })
}

/// One line of a list, with the number of the entry it rests on.
pub fn item(sentence: &str, entry: &Value) -> Value {
    json!({ "sentence": sentence, "entry": entry })
}

/// A list of such lines.
pub fn list(items: Vec<Value>) -> Value {
    json!({ "block": "list", "items": items })
}

/// A cell as recorded; none means "not recorded".
pub fn cell(text: Option<String>) -> Value {
    let tone = if text.is_none() { Tone::Doubt } else { Tone::Plain };
    json!({ "text": text, "tone": tone.word() })
}

/// A cell with a tone.
pub fn toned(text: String, tone: Tone) -> Value {
    json!({ "text": text, "tone": tone.word() })
}

/// A table; `widths` are the columns' shares of the width.
pub fn table(heads: &[&str], widths: &[u32], rows: Vec<Vec<Value>>) -> Value {
    json!({ "block": "table", "heads": heads, "widths": widths, "rows": rows })
}
