//! A cure under a temperature that varies: the temperature, the progress, and the three instants at which it is done.

use super::super::figure_shown::{digits, with_unit};
use super::FigurePicture;
use super::plot::Plot;
use super::side::{Side, clock};
use glue::figure::{Answer, Given, course, shape};

const GATES: [(&str, &str); 3] = [("earliest_h", "earliest"), ("finish_h", "expected"), ("latest_h", "latest")];
/// Instants at which progress is drawn.
const STEPS: usize = 96;

/// Hours over which both pictures run: past the trace's end, and past the latest instant that is reached.
fn span(answer: &Answer, last_h: f64) -> f64 {
    let end = GATES.iter().filter_map(|(field, _)| answer.number(field)).fold(last_h, f64::max);
    if end > 0.0 { end * 1.06 } else { 1.0 }
}

/// Puts the three instants up, in the clock's unit; gives them in words.
fn put_gates(plot: &mut Plot, answer: &Answer, per_hour: f64) -> String {
    let mut said = vec![];
    for (field, word) in GATES {
        let hours = answer.number(field);
        let words = hours.map_or_else(|| format!("{word}: not in sight"), |h| format!("{word} {} h", digits(h)));
        if let Some(hours) = hours {
            plot.gate(&words, hours * per_hour);
        }
        said.push(words);
    }
    said.join(", ")
}

/// Temperature of the glue.
pub(super) fn temperature(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let trace = shape::trace(given, "trace").ok()?;
    let (last_h, last_c) = *trace.last()?;
    let end = span(answer, last_h);
    let (unit, label) = clock(end * 60.0);
    let per_hour = 60.0 / unit;
    let across = Side::from(0.0, end * per_hour);
    let minimum = given.maybe("minimum").ok()?;
    let maximum = given.maybe("maximum").ok()?;
    let up = Side::around(trace.iter().map(|knot| knot.1).chain(minimum), 0.15);
    let mut plot = Plot::new(across, up);
    if let Some(celsius) = minimum {
        plot.level("level", &format!("no credit below {}", with_unit(celsius, "C")), celsius);
    }
    if let Some(celsius) = maximum {
        plot.level("level", &format!("no more credit above {}", with_unit(celsius, "C")), celsius);
    }
    plot.line("main", "", trace.iter().map(|(hours, celsius)| (hours * per_hour, *celsius)));
    plot.line("beyond", "", [(last_h * per_hour, last_c), (across.high, last_c)].into_iter());
    let said = put_gates(&mut plot, answer, per_hour);
    let words = format!(
        "The temperature of the glue over {} h, and when the time is reached: {said}. Dashed: the last temperature, held.",
        digits(end),
    );
    plot.done(across.across(label), up.up("Temperature, °C"), words)
}

/// Progress: expected, and both bounds.
pub(super) fn progress(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let trace = shape::trace(given, "trace").ok()?;
    let end = span(answer, trace.last()?.0);
    let (unit, label) = clock(end * 60.0);
    let per_hour = 60.0 / unit;
    let (across, up) = (Side::from(0.0, end * per_hour), Side::from(0.0, 105.0));
    let hours = Side::from(0.0, end).steps(STEPS);
    let shares = course::progress(given, &hours)?;
    let mut plot = Plot::new(across, up);
    plot.level("level", "done", 100.0);
    let bound = |at: usize| {
        let share = move |share: &[f64; 3]| share.get(at).map_or(f64::NAN, |share| 100.0 * share);
        hours.iter().map(move |h| h * per_hour).zip(shares.iter().map(share))
    };
    plot.line("edge", "", bound(0));
    plot.line("edge", "", bound(2));
    plot.line("main", "", bound(1));
    let said = put_gates(&mut plot, answer, per_hour);
    let share = 100.0 * answer.number("progress")?;
    let words = format!(
        "How much of the time is done: {} % as expected at the end of the trace; it is done {said}. Long dashes: a warm \
         sensor and the quick side of the law, a cold one and the slow side.",
        digits(share)
    );
    plot.done(across.across(label), up.up("Done, %"), words)
}
