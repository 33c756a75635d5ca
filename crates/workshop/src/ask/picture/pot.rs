//! A pot left standing: its temperature with the lines at which it is too hot to use, too hot to touch and smoking, and
//! its conversion with the limits of work and gel.

use super::super::figure_shown::{digits, minutes, with_unit};
use super::FigurePicture;
use super::plot::Plot;
use super::side::{Side, clock};
use glue::figure::course::{self, InPot};
use glue::figure::{Answer, Given};

/// Temperatures that mean something in a pot, °C, and how far across their words stand; docs/science/pot.md tells what.
const LINES: [(f64, &str, f64); 3] = [
    (50.0, "50 °C: stop using it", 0.16),
    (60.0, "60 °C: too hot to hold", 0.48),
    (150.0, "150 °C: smoke and fire", 0.2),
];
const FIELDS: [(&str, &str); 2] = [("advised_min", "use up within"), ("gel_min", "gels after")];

struct Left {
    path: Vec<InPot>,
    work: f64,
    gel: f64,
    end_min: f64,
}

/// The pot past everything that is told of it.
fn left(answer: &Answer, given: &Given) -> Option<Left> {
    let told = ["gel_min", "work_limit_min", "advised_min"].iter().filter_map(|field| answer.number(field));
    let end = told.fold(1.35 * answer.number("peak_min")?, f64::max);
    let end_min = if end > 0.0 { (end * 1.1).min(86_400.0) } else { 60.0 };
    let (path, work, gel) = course::pot(given, end_min)?;
    Some(Left { path, work, gel, end_min })
}

/// The two instants that matter, in the clock's unit; gives them in words.
fn put_gates(plot: &mut Plot, answer: &Answer, unit: f64) -> String {
    let mut said = vec![];
    for (field, word) in FIELDS {
        let Some(at) = answer.number(field) else {
            said.push(format!("{word}: not within 60 days"));
            continue;
        };
        let words = format!("{word} {}", minutes(at));
        plot.gate(&words, at / unit);
        said.push(words);
    }
    said.join(", ")
}

/// Temperature over time.
pub(super) fn temperature(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let left = left(answer, given)?;
    let (unit, label) = clock(left.end_min);
    let across = Side::from(0.0, left.end_min / unit);
    let (peak, peak_min) = (answer.number("peak_c")?, answer.number("peak_min")?);
    // The first line that it stays below is shown, those far above are not.
    let ceiling = LINES.iter().map(|(at, ..)| *at).find(|at| *at > peak).unwrap_or(peak).min(peak * 1.6 + 20.0);
    let up = Side::around(left.path.iter().map(|at| at.celsius).chain([peak, ceiling]), 0.06);
    let mut plot = Plot::new(across, up);
    for (celsius, word, share) in LINES.into_iter().filter(|line| up.holds(line.0)) {
        let ends = [(0.0, celsius), (across.high, celsius)];
        plot.named("limit", word, (across.high * share, celsius), ends.into_iter());
    }
    plot.line("main", "", left.path.iter().map(|at| (at.minutes / unit, at.celsius)));
    plot.told("asked", &format!("hottest {}", with_unit((peak * 10.0).round() / 10.0, "C")), (peak_min / unit, peak));
    let said = put_gates(&mut plot, answer, unit);
    let words = format!(
        "The mean temperature of the pot if it is left standing: hottest {} after {}; {said}.",
        with_unit(peak, "C"),
        minutes(peak_min)
    );
    plot.done(across.across(label), up.up("Temperature, °C"), words)
}

/// Conversion over time.
pub(super) fn conversion(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let left = left(answer, given)?;
    let (unit, label) = clock(left.end_min);
    let (across, up) = (Side::from(0.0, left.end_min / unit), Side::from(0.0, 105.0));
    let mut plot = Plot::new(across, up);
    plot.level(
        "limit",
        &format!("{} %: too thick to spread", digits((left.work * 1e3).round() / 10.0)),
        left.work * 100.0,
    );
    plot.level("limit", &format!("{} %: gel", digits((left.gel * 1e3).round() / 10.0)), left.gel * 100.0);
    plot.line("main", "", left.path.iter().map(|at| (at.minutes / unit, at.conversion * 100.0)));
    let said = put_gates(&mut plot, answer, unit);
    let last = left.path.last()?;
    let words = format!(
        "The share of the mix that has reacted: {} % after {}; {said}.",
        digits((last.conversion * 1e3).round() / 10.0),
        minutes(last.minutes)
    );
    plot.done(across.across(label), up.up("Cured, %"), words)
}
