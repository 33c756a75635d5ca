//! The inputs of one calculation: read from typed text, checked against unit and range, handed out as numbers.

use super::Figure;
use super::input::{Input, Kind, MOST, Preset};
use super::outcome::{Cause, Refusal, quoted};
use crate::unit::Measure;
use std::collections::BTreeMap;

/// Longest text of one input, bytes: a trace of a year at one reading every half hour fits.
const LONGEST: usize = 400_000;

/// Inputs that were read.
#[derive(Debug)]
pub struct Given {
    figure: &'static Figure,
    texts: BTreeMap<&'static str, String>,
}

impl Given {
    /// Reads what was typed; every input is checked, used or not.
    pub fn read<'a>(
        figure: &'static Figure,
        typed: impl IntoIterator<Item = (&'a str, &'a str)>,
    ) -> Result<Given, Refusal> {
        let mut texts = BTreeMap::new();
        for (name, text) in typed {
            let input = known(figure, name, text)?;
            if text.len() > LONGEST {
                let sentence = format!("{name} {} is longer than {LONGEST} characters", quoted(text));
                return Err(Refusal::new(Cause::OutOfRange, name, text, sentence).range(input.kind.range()));
            }
            if texts.insert(input.name, text.trim().to_owned()).is_some() {
                let sentence = format!("{name} is given twice, the second time as {}; give it once", quoted(text));
                return Err(Refusal::new(Cause::Contradicts, name, text, sentence).range(input.kind.range()));
            }
        }
        for input in figure.inputs {
            if let (false, Preset::Text(preset)) = (texts.contains_key(input.name), input.preset) {
                texts.insert(input.name, preset.to_owned());
            }
        }
        let given = Given { figure, texts };
        figure.inputs.iter().try_for_each(|input| given.check(input))?;
        Ok(given)
    }

    fn check(&self, input: &Input) -> Result<(), Refusal> {
        let Some(text) = self.texts.get(input.name) else {
            if input.preset != Preset::Needed {
                return Ok(());
            }
            let sentence = format!("{} is missing; give {}", input.name, input.kind.range());
            return Err(Refusal::new(Cause::Missing, input.name, "", sentence).range(input.kind.range()));
        };
        match input.kind {
            Kind::Amount { measure, min, max } => amount(input, text, measure, min, max).map(drop),
            Kind::Count { min, max } => count(input, text, min, max).map(drop),
            Kind::List { measure, min, max, least } => list(input, text, measure, (min, max), least).map(drop),
            Kind::Word(words) if words.contains(&text.as_str()) => Ok(()),
            Kind::Word(_) => Err(self.refuse(input.name, "is not one of the words")),
            Kind::Shape(_) => Ok(()),
        }
    }

    fn input(&self, name: &str) -> Result<&'static Input, Refusal> {
        self.figure.inputs.iter().find(|input| input.name == name).ok_or_else(|| {
            let sentence = format!("{} asks itself for {name}, which is none of its inputs", self.figure.name);
            Refusal::new(Cause::Fault, name, "", sentence)
        })
    }

    /// The text of an input, its preset's or that of the input it stands in for; None: it is left out.
    pub fn text(&self, name: &str) -> Option<&str> {
        let own = self.texts.get(name).map(String::as_str);
        own.or_else(|| match self.input(name).ok()?.preset {
            Preset::Same(other) => self.texts.get(other).map(String::as_str),
            _ => None,
        })
    }

    /// True where the input itself was typed or has a preset.
    pub fn has(&self, name: &str) -> bool {
        self.texts.contains_key(name)
    }

    /// A quantity in its input's unit; None: it is left out.
    pub fn maybe(&self, name: &str) -> Result<Option<f64>, Refusal> {
        let input = self.input(name)?;
        let Some(text) = self.text(name) else { return Ok(None) };
        match input.kind {
            Kind::Amount { measure, min, max } => amount(input, text, measure, min, max).map(Some),
            Kind::Count { min, max } => count(input, text, min, max).map(|n| Some(n as f64)),
            _ => Err(self.refuse(name, "is not one quantity")),
        }
    }

    /// A quantity in its input's unit.
    pub fn number(&self, name: &str) -> Result<f64, Refusal> {
        self.maybe(name)?.ok_or_else(|| self.missing(name))
    }

    /// Quantities of a list, in the input's unit; none if it is left out.
    pub fn numbers(&self, name: &str) -> Result<Vec<f64>, Refusal> {
        let input = self.input(name)?;
        let Some(text) = self.text(name) else { return Ok(vec![]) };
        match input.kind {
            Kind::List { measure, min, max, least } => list(input, text, measure, (min, max), least),
            _ => Err(self.refuse(name, "is not a list")),
        }
    }

    /// The refusal of an input that is needed after all.
    pub fn missing(&self, name: &str) -> Refusal {
        let range = self.range_of(name);
        Refusal::new(Cause::Missing, name, "", format!("{name} is missing; give {range}")).range(range)
    }

    /// The refusal of an input: `humidity "140%" <why>; it takes 0 to 100 %.`
    pub fn refuse(&self, name: &str, why: &str) -> Refusal {
        let text = self.text(name).unwrap_or("");
        let range = self.range_of(name);
        let sentence = format!("{name} {} {why}; it takes {range}", quoted(text));
        Refusal::new(Cause::OutOfRange, name, text, sentence).range(range)
    }

    /// The refusal of an input that cannot be beside another: `wet "25C" <why>.`
    pub fn contradicts(&self, name: &str, why: &str) -> Refusal {
        let text = self.text(name).unwrap_or("");
        let sentence = format!("{name} {} {why}", quoted(text));
        Refusal::new(Cause::Contradicts, name, text, sentence).range(self.range_of(name))
    }

    fn range_of(&self, name: &str) -> String {
        self.input(name).map(|input| input.kind.range()).unwrap_or_default()
    }

    /// Every input as used, presets among them; a bare number gets its unit.
    pub fn shown(&self) -> Vec<(&'static str, String)> {
        let shown = self.figure.inputs.iter().filter_map(|input| {
            let text = self.text(input.name)?;
            let bare = match input.kind {
                Kind::Amount { measure, .. } => measure.is_bare(text),
                _ => false,
            };
            let unit = input.kind.unit();
            let text = if bare && !unit.is_empty() { format!("{text} {unit}") } else { text.to_owned() };
            Some((input.name, text))
        });
        shown.collect()
    }
}

fn known(figure: &'static Figure, name: &str, text: &str) -> Result<&'static Input, Refusal> {
    figure.inputs.iter().find(|input| input.name == name).ok_or_else(|| {
        let names: Vec<&str> = figure.inputs.iter().map(|input| input.name).collect();
        let names = names.join(", ");
        let sentence = format!("{} is no input of {}, whose inputs are {names}", quoted(name), figure.name);
        Refusal::new(Cause::UnknownField, name, text, sentence).range(names)
    })
}

fn refused(input: &Input, text: &str, why: &str) -> Refusal {
    let range = input.kind.range();
    let sentence = format!("{} {} {why}; it takes {range}", input.name, quoted(text));
    Refusal::new(Cause::OutOfRange, input.name, text, sentence).range(range)
}

fn amount(input: &Input, text: &str, measure: &Measure, min: f64, max: f64) -> Result<f64, Refusal> {
    let value = measure.read(text).map_err(|why| refused(input, text, &why.to_string()))?;
    // 60 °C typed as 140 °F is not above 60 °C, whatever a double makes of it.
    let noise = 1e-12 * min.abs().max(max.abs());
    if value >= min - noise && value <= max + noise { Ok(value) } else { Err(refused(input, text, "is out of range")) }
}

fn count(input: &Input, text: &str, min: u64, max: u64) -> Result<u64, Refusal> {
    let value: u64 = text.parse().map_err(|_| refused(input, text, "is not a whole number"))?;
    if (min..=max).contains(&value) { Ok(value) } else { Err(refused(input, text, "is out of range")) }
}

fn list(
    input: &Input,
    text: &str,
    measure: &Measure,
    (min, max): (f64, f64),
    least: usize,
) -> Result<Vec<f64>, Refusal> {
    let parts: Vec<&str> = text.split([',', ';']).map(str::trim).collect();
    if parts.len() < least || parts.len() > MOST {
        return Err(refused(input, text, &format!("has {} in its list", parts.len())));
    }
    parts.into_iter().map(|part| amount(input, part, measure, min, max)).collect()
}
