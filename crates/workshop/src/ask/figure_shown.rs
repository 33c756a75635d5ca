//! How a calculation is shown to people: each result with its label, its unit and a colour, lists as a table, and a
//! pictures where they say more than the numbers. Nothing here is computed that the calculation did not give.

use super::figure_box::sign;
use super::figure_sends::{FigureSend, sends};
use super::picture::{FigurePicture, pictures};
use crate::judge::words::stretch;
use glue::figure::{self, Answer, Given, Out, words};
use schemars::JsonSchema;
use serde::Serialize;

/// A calculation as shown.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigureShown {
    /// Single results, the most wanted first.
    pub fields: Vec<FigureSaid>,
    /// Results that are lists.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub table: Option<FigureTable>,
    /// What wants a picture.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub pictures: Vec<FigurePicture>,
    /// Where it can be taken from here.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sends: Vec<FigureSend>,
}

/// One result in words.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigureSaid {
    /// Its name on the wire.
    pub name: String,
    /// What stands before it.
    pub label: String,
    /// The value; null: nothing, which `help` explains.
    pub value: Option<String>,
    /// What stands behind it; empty: no unit.
    pub unit: String,
    /// A longer stretch of time in days, hours and minutes, a share in per cent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub also: Option<String>,
    /// `plain`, `moss`, `heat` or `doubt`.
    pub tone: String,
    /// What it is; empty where the label says it all.
    pub help: String,
}

/// Results that are lists, side by side.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigureTable {
    /// Heads of the columns.
    pub heads: Vec<String>,
    /// Rows of texts; null: there is none.
    pub rows: Vec<Vec<Option<String>>>,
}

/// An answer in words, with the inputs as they were typed.
pub(super) fn shown(answer: &Answer, typed: &[(&str, &str)]) -> Option<FigureShown> {
    let figure = figure::find(answer.figure)?;
    let given = Given::read(figure, typed.iter().copied()).ok()?;
    let fields = figure.results.iter().filter_map(|field| {
        let out = answer.get(field.name)?;
        let (value, also) = match out {
            Out::Numbers(_) | Out::Bands(_) => return None,
            Out::Nothing => (None, None),
            Out::Number(x) => (Some(digits(*x)), also(*x, field.name, field.unit)),
            Out::Whole(n) => (Some(n.to_string()), None),
            Out::Wholes(all) if all.is_empty() => (Some("none".to_owned()), None),
            Out::Wholes(all) => (Some(all.iter().map(u64::to_string).collect::<Vec<_>>().join(", ")), None),
            Out::Word(word) => (Some(spoken(word)), None),
            Out::Flag(yes) => (Some(if *yes { "yes" } else { "no" }.to_owned()), None),
        };
        let label = words::of_result(figure.name, field.name);
        let tone = tone(field.name, out).to_owned();
        let unit = if value.is_some() { behind(field.unit) } else { "" }.to_owned();
        let help = if label == field.help { "" } else { field.help }.to_owned();
        Some(FigureSaid { name: field.name.to_owned(), label, value, unit, also, tone, help })
    });
    Some(FigureShown {
        fields: fields.collect(),
        table: table(answer, &given),
        pictures: pictures(answer, &given),
        sends: sends(answer, &given),
    })
}

/// A word of a closed set without its dash; a sentence stays as it is.
fn spoken(word: &str) -> String {
    if word.contains(' ') { word.to_owned() } else { word.replace('-', " ") }
}

/// What asks for a look. A limit that is passed, a verdict, a warning; no value is coloured good but a verdict.
fn tone(field: &str, out: &Out) -> &'static str {
    match (field, out) {
        ("verdict", Out::Word(word)) if word == "within" => "moss",
        ("verdict", Out::Word(word)) if word == "outside" => "heat",
        ("verdict", Out::Word(word)) if word == "cannot-tell" => "doubt",
        ("warning", Out::Word(_)) | ("swapped" | "stalled", Out::Flag(true)) => "heat",
        ("out_of_control", Out::Wholes(all)) if !all.is_empty() => "heat",
        ("margin_k", Out::Number(x)) if *x < 0.0 => "heat",
        ("used_share", Out::Number(x)) if *x > 1.0 => "heat",
        _ => "plain",
    }
}

/// The number in four digits with its unit as it is read.
pub(super) fn with_unit(value: f64, unit: &'static str) -> String {
    format!("{} {}", digits(value), behind(unit)).trim_end().to_owned()
}

/// What stands behind a number of a result.
fn behind(unit: &'static str) -> &'static str {
    match unit {
        "per 100" => "to 100 of resin",
        "1/%" => "per % of moisture",
        "as given" | "ln min" => "",
        other => sign(other),
    }
}

/// Four digits, more before the point; no zeros at the end; below zero a real minus sign.
pub(super) fn digits(value: f64) -> String {
    let size = value.abs();
    if size != 0.0 && !(1e-4..1e9).contains(&size) {
        return format!("{value:.3e}");
    }
    let whole = if size >= 1.0 { libm::log10(size).floor() as usize + 1 } else { 0 };
    let leading = if size > 0.0 && size < 1.0 { (-libm::log10(size)).floor() as usize } else { 0 };
    let after = if whole > 0 { 4_usize.saturating_sub(whole) } else { 4 + leading };
    let text = format!("{value:.after$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    match text.strip_prefix('-') {
        Some("0") => "0".to_owned(),
        Some(size) => format!("\u{2212}{size}"),
        None => text.to_owned(),
    }
}

fn also(value: f64, field: &str, unit: &str) -> Option<String> {
    let ms = match unit {
        "min" if value >= 90.0 => value * 60_000.0,
        "h" if value.abs() < 1e7 => value * 3_600_000.0,
        _ => {
            let is_share = field.ends_with("_share") || matches!(field, "progress" | "conversion");
            return is_share.then(|| format!("{} %", digits(value * 100.0)));
        }
    };
    Some(stretch(ms.round() as i64))
}

/// A stretch of minutes as it is said: `45 min`, `5 h 36 min`, `12.5 min` where it is short.
pub(super) fn minutes(value: f64) -> String {
    if value < 60.0 { format!("{} min", digits(value)) } else { stretch((value * 60_000.0).round() as i64) }
}

/// The times of a law at the temperatures that were asked for.
fn table(answer: &Answer, given: &Given) -> Option<FigureTable> {
    let (Out::Numbers(times), Out::Bands(bands)) = (answer.get("times_min")?, answer.get("bands")?) else {
        return None;
    };
    let at = given.numbers("at").ok()?;
    let row = |((celsius, time), band): ((&f64, &f64), &Option<(f64, f64)>)| {
        let band = band.map(|(low, high)| format!("{} to {}", minutes(low), minutes(high)));
        vec![Some(with_unit(*celsius, "C")), Some(with_unit(*time, "min")), Some(minutes(*time)), band]
    };
    let rows: Vec<_> = at.iter().zip(times).zip(bands).map(row).collect();
    let heads = ["Temperature", "Time", "Which is", "95 % band of a new batch"].map(str::to_owned).to_vec();
    (!rows.is_empty()).then_some(FigureTable { heads, rows })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_digits_and_no_more() {
        for (value, text) in [
            (9.246_31, "9.246"),
            (101_324.6, "101325"),
            (0.000_263, "0.000263"),
            (0.012_345_6, "0.01235"),
            (-0.000_000_1, "-1.000e-7"),
            (20.0, "20"),
            (0.0, "0"),
        ] {
            assert_eq!(digits(value), text);
        }
    }

    #[test]
    fn words_and_pictures_only_where_asked() {
        let asked = |show: bool| {
            let inputs = [("values", "1,2,1,2,1,2,9")].map(|(name, text)| (name.to_owned(), text.into()));
            super::super::question::FigureAsked { figure: "individuals-chart".to_owned(), inputs: inputs.into(), show }
        };
        let plain = super::super::figure::figure(&asked(false)).map(|answer| answer.shown);
        assert_eq!(plain, Ok(None));
        let shown = super::super::figure::figure(&asked(true)).ok().and_then(|answer| answer.shown);
        let shown = shown.into_iter().next().map(|shown| (shown.fields.last().cloned(), shown.pictures.len()));
        let Some((Some(last), 1)) = shown else { panic!("a chart with its picture: {shown:?}") };
        assert_eq!((last.value.as_deref(), last.tone.as_str()), (Some("7"), "heat"));
    }
}
