//! What a figure answers, and how it refuses.

use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};

/// One value of a result.
#[derive(Clone, Debug, PartialEq)]
pub enum Out {
    /// A number in the field's unit.
    Number(f64),
    /// A whole number.
    Whole(u64),
    /// Numbers in the field's unit.
    Numbers(Vec<f64>),
    /// Whole numbers.
    Wholes(Vec<u64>),
    /// Lower and upper ends, or nothing where there is no band.
    Bands(Vec<Option<(f64, f64)>>),
    /// A word of a closed set, or a sentence.
    Word(String),
    /// Yes or no.
    Flag(bool),
    /// Nothing: the field's help says what that means.
    Nothing,
}

impl Out {
    /// A number that may be missing.
    pub fn maybe(value: Option<f64>) -> Out {
        value.map_or(Out::Nothing, Out::Number)
    }

    /// False if a number in it is NaN or infinite.
    pub fn is_finite(&self) -> bool {
        match self {
            Out::Number(x) => x.is_finite(),
            Out::Numbers(all) => all.iter().all(|x| x.is_finite()),
            Out::Bands(all) => all.iter().flatten().all(|(low, high)| low.is_finite() && high.is_finite()),
            _ => true,
        }
    }
}

impl Serialize for Out {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            Out::Number(x) => to.serialize_f64(*x),
            Out::Whole(n) => to.serialize_u64(*n),
            Out::Numbers(all) => all.serialize(to),
            Out::Wholes(all) => all.serialize(to),
            Out::Bands(all) => {
                let mut seq = to.serialize_seq(Some(all.len()))?;
                for band in all {
                    seq.serialize_element(band)?;
                }
                seq.end()
            }
            Out::Word(word) => to.serialize_str(word),
            Out::Flag(yes) => to.serialize_bool(*yes),
            Out::Nothing => to.serialize_none(),
        }
    }
}

/// What a compute function hands back.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reckoned {
    /// Fields in order.
    pub result: Vec<(&'static str, Out)>,
    /// What was taken for granted, in sentences.
    pub assumptions: Vec<String>,
}

impl Reckoned {
    /// Nothing yet.
    pub fn new() -> Reckoned {
        Reckoned::default()
    }

    /// With a field.
    pub fn with(mut self, name: &'static str, out: Out) -> Reckoned {
        self.result.push((name, out));
        self
    }

    /// With a number.
    pub fn number(self, name: &'static str, value: f64) -> Reckoned {
        self.with(name, Out::Number(value))
    }

    /// With something taken for granted.
    pub fn assuming(mut self, said: impl Into<String>) -> Reckoned {
        self.assumptions.push(said.into());
        self
    }

    /// With something taken for granted, if it was.
    pub fn assuming_if(self, yes: bool, said: &str) -> Reckoned {
        if yes { self.assuming(said) } else { self }
    }
}

/// A figure with what it stands on: `{"figure","result","basis":{"formula","source","inputs","assumptions"}}`.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Answer {
    /// Its name.
    pub figure: &'static str,
    /// Its fields.
    #[serde(serialize_with = "as_map")]
    pub result: Vec<(&'static str, Out)>,
    /// What they stand on.
    pub basis: Basis,
}

impl Answer {
    /// A field of the result.
    pub fn get(&self, name: &str) -> Option<&Out> {
        self.result.iter().find(|(field, _)| *field == name).map(|(_, out)| out)
    }

    /// A number of the result.
    pub fn number(&self, name: &str) -> Option<f64> {
        match self.get(name) {
            Some(Out::Number(x)) => Some(*x),
            Some(Out::Whole(n)) => Some(*n as f64),
            _ => None,
        }
    }
}

/// What a figure stands on.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Basis {
    /// Formula.
    pub formula: &'static str,
    /// Source.
    pub source: &'static str,
    /// Inputs as used, presets among them, each with its unit.
    #[serde(serialize_with = "as_map")]
    pub inputs: Vec<(&'static str, String)>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
}

fn as_map<T: Serialize, S: Serializer>(pairs: &[(&'static str, T)], to: S) -> Result<S::Ok, S::Error> {
    let mut map = to.serialize_map(Some(pairs.len()))?;
    for (name, value) in pairs {
        map.serialize_entry(name, value)?;
    }
    map.end()
}

/// Why a figure is refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// No figure, or no input, of that name.
    NotFound,
    /// An input that the figure does not have.
    UnknownField,
    /// An input is missing.
    Missing,
    /// Not readable, or outside its range.
    OutOfRange,
    /// Two inputs that cannot both be.
    Contradicts,
    /// The figure's own mistake.
    Fault,
}

/// A refusal: one sentence that names the field, the value and the range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Why.
    pub cause: Cause,
    /// The input.
    pub field: String,
    /// What was typed.
    pub value: String,
    /// What would have been taken.
    pub range: Option<String>,
    /// The sentence.
    pub sentence: String,
}

impl Refusal {
    /// A refusal; the sentence gets its full stop here.
    pub fn new(cause: Cause, field: &str, value: &str, sentence: impl Into<String>) -> Refusal {
        let mut sentence = sentence.into();
        sentence.push('.');
        Refusal { cause, field: field.to_owned(), value: value.to_owned(), range: None, sentence }
    }

    /// With the range that would have been taken.
    pub fn range(mut self, range: impl Into<String>) -> Refusal {
        self.range = Some(range.into());
        self
    }
}

/// Typed text as it may stand in a sentence: in quotes, unseen characters escaped, cut at 60 characters.
pub fn quoted(text: &str) -> String {
    let mut shown: String = text.chars().take(60).flat_map(char::escape_debug).collect();
    if text.chars().nth(60).is_some() {
        shown.push('…');
    }
    format!("\"{shown}\"")
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn typed_text_is_made_harmless() {
        assert_eq!(quoted("a\n\u{202E}b"), "\"a\\n\\u{202e}b\"");
        assert_eq!(quoted(&"x".repeat(100)).chars().count(), 63);
    }
}
