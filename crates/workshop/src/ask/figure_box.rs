//! The box of an input as the reader fills it: the unit of a bare number, how that is written, what may be typed.

use super::figure_shown::digits;
use crate::reader::{Degrees, Measure, Reader};
use glue::figure::{self, Input, Kind, words};

/// A box.
pub(super) struct Filled {
    /// The unit that a bare number gets.
    pub unit: String,
    /// The same as it is written behind the box.
    pub sign: String,
    /// What may be typed, in that unit.
    pub takes: String,
}

/// The box of a figure's input.
pub(super) fn of(figure: &str, name: &str, reader: Reader) -> Option<Filled> {
    let input = figure::find(figure)?.inputs.iter().find(|input| input.name == name)?;
    let unit = typed_in(input.kind.unit(), reader);
    let sign = sign(unit);
    Some(Filled { takes: takes(input, unit, sign), unit: unit.to_owned(), sign: sign.to_owned() })
}

/// The reader's unit for what is counted in `unit`, where the reader chose one.
fn typed_in(unit: &'static str, reader: Reader) -> &'static str {
    match (unit, reader.temperature, reader.measure) {
        ("C", Degrees::Fahrenheit, _) => "F",
        ("g", _, Measure::Us) => "oz",
        ("mm", _, Measure::Us) => "in",
        ("mm2", _, Measure::Us) => "in2",
        ("mm2", _, Measure::Metric) => "cm2",
        ("kPa", _, Measure::Us) => "psi",
        _ => unit,
    }
}

/// A unit with its raised figures and degree signs.
pub(super) fn sign(unit: &'static str) -> &'static str {
    match unit {
        "C" => "°C",
        "F" => "°F",
        "mm2" => "mm²",
        "cm2" => "cm²",
        "in2" => "in²",
        "g/m2" => "g/m²",
        "W/m2K" => "W/m²K",
        other => other,
    }
}

/// A limit this far out says nothing.
const FAR: f64 = 1e11;

fn takes(input: &Input, unit: &str, sign: &str) -> String {
    let limits = input.kind.limits_in(unit).filter(|(_, max)| *max < FAR);
    let limits = limits.map(|(min, max)| format!("{} to {} {sign}", limit(min), limit(max)).trim_end().to_owned());
    match (input.kind, limits) {
        (Kind::Amount { .. }, Some(limits)) => limits,
        (Kind::List { .. }, Some(limits)) => format!("with commas between, each {limits}"),
        (Kind::List { .. }, None) => "with commas between".to_owned(),
        (Kind::Word(_), _) => String::new(),
        (kind, _) => kind.range(),
    }
}

/// A limit without powers of ten: `0.000001`.
fn limit(value: f64) -> String {
    if value != 0.0 && value.abs() < 1e-4 { value.to_string() } else { digits(value) }
}

/// What an empty box means, with inputs called as their boxes are: `“Form radius” is needed`.
pub(super) fn empty(figure: &str, without: &str) -> String {
    let names = without.ends_with(" needed") || without.starts_with("the same as ");
    let Some(known) = figure::find(figure) else { return without.to_owned() };
    let called = |word: &str| {
        let known = known.inputs.iter().any(|input| input.name == word) && (names || word.contains('-'));
        if known { format!("“{}”", words::of_input(figure, word)) } else { word.to_owned() }
    };
    without.split(' ').map(called).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_stands_in_the_readers_unit() {
        let takes = |figure, name, reader| of(figure, name, reader).map(|one| (one.unit, one.sign, one.takes));
        let wanted = |unit: &str, sign: &str, takes: &str| Some((unit.to_owned(), sign.to_owned(), takes.to_owned()));
        let metric = Reader::default();
        assert_eq!(takes("dew-point", "temperature", metric), wanted("C", "°C", "−40 to 60 °C"));
        assert_eq!(takes("dew-point", "temperature", Reader::US), wanted("F", "°F", "−40 to 140 °F"));
        assert_eq!(takes("clamp-force", "area", metric), wanted("cm2", "cm²", "0.01 to 1000000 cm²"));
        assert_eq!(takes("isothermal-cure", "conversion", metric), wanted("", "", "0.000001 to 1"));
        assert_eq!(takes("basis-value", "values", Reader::US), wanted("", "", "with commas between"));
    }

    #[test]
    fn an_empty_box_is_explained_by_the_boxes_beside_it() {
        assert_eq!(empty("spring-back", "form-radius is needed"), "“Form radius” is needed");
        assert_eq!(empty("dew-point", "the same as temperature"), "the same as “Temperature”");
        assert_eq!(empty("cure-law", "no times are asked for"), "no times are asked for");
        assert_eq!(
            empty("cure-finish", "ea and point are needed"),
            "“Activation energy (ea)” and “Point: one time of the sheet” are needed"
        );
    }
}
