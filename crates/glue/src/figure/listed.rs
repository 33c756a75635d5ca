//! The list of figures as a value: what each wants, gives and stands on.

use super::{ALL, Field, Figure, Input, Kind, Preset, words};
use serde::Serialize;

/// A figure as listed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Listed {
    /// Its word.
    pub name: &'static str,
    /// Its name as a heading.
    pub title: String,
    /// The family it stands in.
    pub family: &'static str,
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
    /// What stands before its box.
    pub label: String,
    /// What it is: `amount`, `count`, `list`, `word` or `shape`.
    pub sort: &'static str,
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
    /// What stands before it.
    pub label: String,
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
    let field = |field: &Field| ListedField {
        name: field.name,
        label: words::of_result(figure.name, field.name),
        unit: field.unit,
        help: field.help,
    };
    Listed {
        name: figure.name,
        title: words::title(figure.name),
        family: words::family(figure.name),
        about: figure.about,
        inputs: figure.inputs.iter().map(|one| input(figure.name, one)).collect(),
        result: figure.results.iter().map(field).collect(),
        formula: figure.formula,
        source: figure.source,
    }
}

fn input(figure: &str, input: &Input) -> ListedInput {
    let without = match input.preset {
        Preset::Needed => String::new(),
        Preset::Text(text) => text.to_owned(),
        Preset::Same(other) => format!("the same as {other}"),
        Preset::Without(words) => words.to_owned(),
    };
    let words = if let Kind::Word(words) = input.kind { words.to_vec() } else { vec![] };
    let sort = match input.kind {
        Kind::Amount { .. } => "amount",
        Kind::Count { .. } => "count",
        Kind::List { .. } => "list",
        Kind::Word(_) => "word",
        Kind::Shape(_) => "shape",
    };
    ListedInput {
        name: input.name,
        label: words::of_input(figure, input.name),
        sort,
        help: input.help,
        unit: input.kind.unit(),
        range: input.kind.range(),
        needed: input.preset == Preset::Needed,
        without,
        words,
    }
}
