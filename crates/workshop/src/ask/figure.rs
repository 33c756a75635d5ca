//! One calculation by itself, answered without a book: typed inputs in, result and basis out.

use super::figure_box;
use super::figure_shown::{FigureShown, shown};
use super::question::FigureAsked;
use crate::reader::Reader;
use crate::wire::WireError;
use glue::figure::{self, Cause, Refusal, listed};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// A calculation with what it stands on.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigureAnswer {
    /// Its name.
    pub figure: String,
    /// Its fields; null means what the field's help says.
    pub result: BTreeMap<String, Value>,
    /// What it stands on.
    pub basis: FigureBasis,
    /// How to show it; only where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shown: Option<FigureShown>,
}

/// What a calculation stands on.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigureBasis {
    /// Formula.
    pub formula: String,
    /// Source.
    pub source: String,
    /// Inputs as used, presets among them, each with its unit.
    pub inputs: BTreeMap<String, String>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
}

/// Every calculation.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FiguresAnswer {
    /// In the order in which they are best read.
    pub figures: Vec<FigureListed>,
}

/// A calculation as listed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigureListed {
    /// Its name.
    pub name: String,
    /// Its name as a heading.
    pub title: String,
    /// The family it stands in; families follow each other.
    pub family: String,
    /// What it is for.
    pub about: String,
    /// What it wants.
    pub inputs: Vec<FigureInput>,
    /// What it gives.
    pub result: Vec<FigureField>,
    /// Formula.
    pub formula: String,
    /// Source.
    pub source: String,
}

/// An input as listed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigureInput {
    /// Its name.
    pub name: String,
    /// What stands before its box.
    pub label: String,
    /// What it is: `amount`, `count`, `list`, `word` or `shape`.
    pub sort: String,
    /// What it means.
    pub help: String,
    /// The unit a bare number stands in; empty: none.
    pub unit: String,
    /// What may be given.
    pub range: String,
    /// The unit in which the reader types it, to be written behind a bare number; empty: none.
    pub typed_in: String,
    /// That unit as it is read: `°F`.
    pub sign: String,
    /// What may be typed, in that unit; empty for words.
    pub takes: String,
    /// It has to be given.
    pub needed: bool,
    /// What is used without it; empty if it is needed.
    pub without: String,
    /// The same, with other inputs called as their boxes are; empty if it is needed.
    pub empty: String,
    /// The words to choose from; empty where it is no word.
    pub words: Vec<String>,
}

/// A field of a result as listed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigureField {
    /// Its name.
    pub name: String,
    /// What stands before it.
    pub label: String,
    /// Its unit; empty: none.
    pub unit: String,
    /// What it is.
    pub help: String,
}

/// Computes one.
pub fn figure(asked: &FigureAsked) -> Result<FigureAnswer, WireError> {
    let mut typed = Vec::new();
    for (name, value) in &asked.inputs {
        typed.push((name.as_str(), text(name, value)?));
    }
    let typed: Vec<(&str, &str)> = typed.iter().map(|(name, text)| (*name, text.as_str())).collect();
    let reckoned = figure::reckon(&asked.figure, typed.iter().copied());
    let answer = reckoned.map_err(|refusal| refused(&asked.figure, refusal))?;
    let shown = if asked.show { shown(&answer, &typed) } else { None };
    let mut result = BTreeMap::new();
    for (field, out) in answer.result {
        result.insert(field.to_owned(), super::value(out)?);
    }
    let basis = answer.basis;
    Ok(FigureAnswer {
        figure: answer.figure.to_owned(),
        result,
        basis: FigureBasis {
            formula: basis.formula.to_owned(),
            source: basis.source.to_owned(),
            inputs: basis.inputs.into_iter().map(|(name, text)| (name.to_owned(), text)).collect(),
            assumptions: basis.assumptions,
        },
        shown,
    })
}

/// A value as it would be typed: a text, a number, or a list of such.
fn text(name: &str, value: &Value) -> Result<String, WireError> {
    let wrong = || {
        let sentence = format!("{} is neither a text nor a number nor a list of such.", figure::outcome::quoted(name));
        WireError::new("bad-json", sentence, "Write it as it would be typed: \"70F\".").field(name)
    };
    match value {
        Value::String(text) => Ok(text.clone()),
        Value::Number(number) => Ok(number.to_string()),
        Value::Array(parts) => {
            let parts = parts.iter().map(|part| match part {
                Value::String(text) => Ok(text.clone()),
                Value::Number(number) => Ok(number.to_string()),
                _ => Err(wrong()),
            });
            Ok(parts.collect::<Result<Vec<String>, WireError>>()?.join(","))
        }
        _ => Err(wrong()),
    }
}

fn refused(figure: &str, refusal: Refusal) -> WireError {
    let code = match refusal.cause {
        Cause::NotFound => "not-found",
        Cause::UnknownField => "unknown-field",
        Cause::Missing => "missing",
        Cause::OutOfRange => "out-of-range",
        Cause::Contradicts => "contradicts",
        Cause::Fault => "fault",
    };
    let advice = match refusal.cause {
        Cause::NotFound => "The list of figures has them all.".to_owned(),
        _ => format!("The list of figures tells what {figure} takes, in which unit and range."),
    };
    let mut error = WireError::new(code, refusal.sentence, advice).field(refusal.field);
    error.range = refusal.range;
    if refusal.value.is_empty() { error } else { error.value(&refusal.value) }
}

/// Lists them all, with boxes in the reader's units.
pub fn figures(reader: Reader) -> FiguresAnswer {
    FiguresAnswer { figures: listed::all().into_iter().map(|listed| one(listed, reader)).collect() }
}

fn one(listed: listed::Listed, reader: Reader) -> FigureListed {
    let filled = |name: &str| figure_box::of(listed.name, name, reader);
    let input = |input: listed::ListedInput| FigureInput {
        typed_in: filled(input.name).map(|one| one.unit).unwrap_or_default(),
        sign: filled(input.name).map(|one| one.sign).unwrap_or_default(),
        takes: filled(input.name).map(|one| one.takes).unwrap_or_default(),
        name: input.name.to_owned(),
        label: input.label,
        sort: input.sort.to_owned(),
        help: input.help.to_owned(),
        unit: input.unit.to_owned(),
        range: input.range,
        needed: input.needed,
        empty: figure_box::empty(listed.name, &input.without),
        without: input.without,
        words: input.words.into_iter().map(str::to_owned).collect(),
    };
    let field = |field: listed::ListedField| FigureField {
        name: field.name.to_owned(),
        label: field.label,
        unit: field.unit.to_owned(),
        help: field.help.to_owned(),
    };
    FigureListed {
        name: listed.name.to_owned(),
        title: listed.title,
        family: listed.family.to_owned(),
        about: listed.about.to_owned(),
        inputs: listed.inputs.into_iter().map(input).collect(),
        result: listed.result.into_iter().map(field).collect(),
        formula: listed.formula.to_owned(),
        source: listed.source.to_owned(),
    }
}
