//! A ratio off balance: gel point, highest cure and what is never bound in, over the ratio.

use super::super::figure_shown::digits;
use super::FigurePicture;
use super::plot::Plot;
use super::side::Side;
use glue::figure::course::{self, Balance};
use glue::figure::{Answer, Given};

const STEPS: usize = 120;
/// How far ratios are looked at on either side where nothing asks for more.
const USUAL: f64 = 2.5;

/// The three curves, with the ratio that was asked for.
pub(super) fn network(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let (asked, least, most) = course::sets(given)?;
    let far = USUAL.max(asked * 1.1).max(1.1 / asked);
    let (across, up) = (Side::powers(1.0 / far, far), Side::from(0.0, 105.0));
    let all = course::network(given, across.steps(STEPS).into_iter())?;
    let mut plot = Plot::new(across, up);
    let curve = |of: fn(&Balance) -> Option<f64>| {
        all.iter().filter_map(move |one| Some((one.ratio, 100.0 * of(one)?))).collect::<Vec<_>>()
    };
    let beside = |points: &[(f64, f64)], share: f64| {
        let at = (points.len() as f64 * share) as usize;
        points.get(at).or(points.last()).copied().unwrap_or((1.0, 0.0))
    };
    for (look, word, share, points) in [
        ("second", "highest cure", 0.62, curve(|one| Some(one.limit))),
        ("main", "gel point", 0.5, curve(|one| one.gel)),
        ("third", "never bound in", 0.12, curve(|one| Some(one.sol))),
    ] {
        plot.named(look, word, beside(&points, share), points.iter().copied());
    }
    for (word, at) in [("too little to set", least), ("too much to set", most)] {
        plot.gate(word, at);
    }
    let sol = answer.number("sol_pct")?;
    let limit = 100.0 * answer.number("limit_conversion")?;
    for (field, percent) in [("gel_conversion", 100.0), ("limit_conversion", 100.0), ("sol_pct", 1.0)] {
        if let Some(value) = answer.number(field) {
            plot.mark("asked", &format!("{} %", digits(value * percent)), (asked, value * percent));
        }
    }
    let gel = answer.number("gel_conversion").map(|gel| digits(100.0 * gel));
    let words = format!(
        "Over amine hydrogens for each epoxide, 1 being balance: solid, epoxide reacted at the gel point; long dashes, \
         how far it can react at all; dotted, mass never bound in. Squares: the ratio asked for, {}, with {}, {} % and \
         {} %.",
        digits(asked),
        gel.map_or_else(|| "no gel point".to_owned(), |gel| format!("{gel} %")),
        digits(limit),
        digits(sol)
    );
    let ticks =
        [0.1, 0.2, 0.4, 0.5, 0.6, 0.8, 1.0, 1.25, 1.5, 2.0, 2.5, 5.0, 10.0, 20.0, 50.0, 100.0, 0.05, 0.02, 0.01];
    let mut ticks: Vec<f64> = ticks.into_iter().filter(|at| across.holds(*at)).collect();
    ticks.sort_by(f64::total_cmp);
    ticks.dedup_by(|b, a| across.along(*b) - across.along(*a) < 60_000);
    plot.done(across.across_at("Amine hydrogens for each epoxide, by powers", &ticks), up.up("Share, %"), words)
}
