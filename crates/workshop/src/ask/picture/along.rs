//! Age along a long joint when each place comes under pressure: in the order asked for and in the kindest.

use super::super::figure_shown::{digits, with_unit};
use super::FigurePicture;
use super::plot::Plot;
use super::side::Side;
use glue::along::{Work, kindest, waited};
use glue::figure::{Answer, Given, course};

/// Age over the length.
pub(super) fn age(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let (work, length) = (course::assembly(given)?, given.number("length").ok()?);
    let better = kindest(&work).0;
    // Straight between both ends and the middle.
    let places = [0.0, 0.5, 1.0];
    let ages = |work: &Work| places.map(|at| (at * length, waited(work, at).age));
    let (asked, best) = (ages(&work), ages(&better));
    let oldest = asked.iter().chain(&best).map(|at| at.1).fold(1.0, f64::max);
    let (across, up) = (Side::from(0.0, length), Side::from(0.0, 1.15 * oldest));
    let mut plot = Plot::new(across, up);
    let same = (better.spread, better.clamp) == (work.spread, work.clamp);
    if !same {
        plot.line("edge", "kindest order", best.into_iter());
    }
    plot.line("main", if same { "" } else { "as asked" }, asked.into_iter());
    let (worst, at) = (answer.number("worst_age_min")?, answer.number("worst_at_m")?);
    plot.told("asked", &with_unit(worst, "min"), (at, worst));
    let words = format!(
        "How old the glue is at each place when it comes under pressure. At {} m it has waited for {}.{}",
        digits(at),
        with_unit(worst, "min"),
        if same { "" } else { " Dashed: the order that is kindest to the worst place." }
    );
    plot.done(across.across("Along the joint, m"), up.up("Age, min"), words)
}
