//! Broken samples: the chart of individual values with its limits, and values with the bound that is drawn from them.

use super::super::figure_shown::digits;
use super::FigurePicture;
use super::plot::Plot;
use super::side::Side;
use glue::figure::{Answer, Given, Out};

/// Most values that are drawn: the last ones.
const DRAWN: usize = 400;

type Row = (Vec<(usize, f64)>, String, Side, Side);

/// The drawn values with their places from 1, how they are called, and both sides' lengths.
fn row(given: &Given, levels: &[f64]) -> Option<Row> {
    let values = given.numbers("values").ok()?;
    let skipped = values.len().saturating_sub(DRAWN);
    let drawn: Vec<(usize, f64)> = values.iter().enumerate().skip(skipped).map(|(at, v)| (at + 1, *v)).collect();
    let all = match skipped {
        0 => format!("{} values", values.len()),
        _ => format!("The last {DRAWN} of {} values", values.len()),
    };
    let across = Side::from(skipped as f64 + 0.5, values.len() as f64 + 0.5);
    let up = Side::around(drawn.iter().map(|(_, value)| *value).chain(levels.iter().copied()), 0.15);
    Some((drawn, all, across, up))
}

/// The individuals chart.
pub(super) fn chart(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let Out::Wholes(outside) = answer.get("out_of_control")? else { return None };
    let (mean, lower, upper) = (answer.number("mean")?, answer.number("lower")?, answer.number("upper")?);
    let (drawn, all, across, up) = row(given, &[lower, upper])?;
    let mut plot = Plot::new(across, up);
    for (look, word, value) in
        [("limit", "upper limit", upper), ("level", "mean", mean), ("limit", "lower limit", lower)]
    {
        plot.level(look, &format!("{word} {}", digits(value)), value);
    }
    plot.line("main", "", drawn.iter().map(|(at, value)| (*at as f64, *value)));
    let mut told = 0;
    for (at, value) in &drawn {
        let spot = (*at as f64, *value);
        if outside.contains(&(*at as u64)) && told < 6 {
            told += 1;
            plot.told("out", &format!("{at}: {}", digits(*value)), spot);
        } else if outside.contains(&(*at as u64)) {
            plot.mark("out", &format!("value {at}: {}, does not belong", digits(*value)), spot);
        } else {
            plot.mark("point", &format!("value {at}: {}", digits(*value)), spot);
        }
    }
    let out = match outside.as_slice() {
        [] => "none lies outside".to_owned(),
        some => format!("{} outside, drawn as triangles", some.len()),
    };
    let words = format!("{all} in the order they were found, between {} and {}; {out}.", digits(lower), digits(upper));
    plot.done(across.across_at("Place in the row", &across.whole_numbers()), up.up("Value, as given"), words)
}

/// The values and the basis value below them.
pub(super) fn basis(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let (mean, basis) = (answer.number("mean")?, answer.number("basis_value")?);
    let (drawn, all, across, up) = row(given, &[mean, basis])?;
    let mut plot = Plot::new(across, up);
    plot.level("level", &format!("mean {}", digits(mean)), mean);
    plot.level("limit", &format!("basis value {}", digits(basis)), basis);
    for (at, value) in &drawn {
        plot.mark("point", &format!("value {at}: {}", digits(*value)), (*at as f64, *value));
    }
    let below = drawn.iter().filter(|(_, value)| *value < basis).count();
    let words = format!(
        "{all} as they were typed, their mean {} and the basis value {}; {} of them lie below it.",
        digits(mean),
        digits(basis),
        if below == 0 { "none".to_owned() } else { below.to_string() }
    );
    plot.done(across.across_at("Place in the row", &across.whole_numbers()), up.up("Value, as given"), words)
}
