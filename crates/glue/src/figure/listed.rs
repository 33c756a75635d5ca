//! The list of figures as a value: what each wants, gives and stands on.

use super::{ALL, Figure, Input, Kind, Preset};
use serde::Serialize;

/// A figure as listed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Listed {
    /// Its word.
    pub name: &'static str,
    /// What it is for.
    pub about: &'static str,
    /// What it wants.
    pub inputs: Vec<ListedInput>,
    /// What it gives.
    pub result: Vec<ListedField>,
    /// The formula.
    pub formula: &'static str,
    /// The source.
    pub source: &'static str,
}

/// An input as listed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ListedInput {
    /// Its name.
    pub name: &'static str,
    /// What it means.
    pub help: &'static str,
    /// The unit a bare number stands in; empty: none.
    pub unit: &'static str,
    /// What may be given.
    pub range: String,
    /// It has to be given.
    pub needed: bool,
    /// What is used without it, in words; empty if it is needed.
    pub without: String,
    /// The words to choose from; empty where it is no word.
    pub words: Vec<&'static str>,
}

/// A field of a result as listed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ListedField {
    /// Its name.
    pub name: &'static str,
    /// Its unit; empty: none.
    pub unit: &'static str,
    /// What it is.
    pub help: &'static str,
}

/// Every figure.
pub fn all() -> Vec<Listed> {
    ALL.iter().map(|figure| listed(figure)).collect()
}

/// One figure.
pub fn listed(figure: &Figure) -> Listed {
    let result = figure.results.iter();
    Listed {
        name: figure.name,
        about: figure.about,
        inputs: figure.inputs.iter().map(input).collect(),
        result: result.map(|f| ListedField { name: f.name, unit: f.unit, help: f.help }).collect(),
        formula: figure.formula,
        source: figure.source,
    }
}

fn input(input: &Input) -> ListedInput {
    let without = match input.preset {
        Preset::Needed => String::new(),
        Preset::Text(text) => text.to_owned(),
        Preset::Same(other) => format!("the same as {other}"),
        Preset::Without(words) => words.to_owned(),
    };
    let words = if let Kind::Word(words) = input.kind { words.to_vec() } else { vec![] };
    ListedInput {
        name: input.name,
        help: input.help,
        unit: input.kind.unit(),
        range: input.kind.range(),
        needed: input.preset == Preset::Needed,
        without,
        words,
    }
}
