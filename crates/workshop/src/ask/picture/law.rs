//! A sheet's time law: ln t is straight over 1/T, so that it is drawn by powers over the inverse of the temperature,
//! with its band, the sheet's points and the times asked for.

use super::super::figure_shown::{digits, minutes, with_unit};
use super::FigurePicture;
use super::plot::Plot;
use super::side::{Side, Spread};
use glue::figure::{self, Answer, Given, Out, shape};

/// Temperatures at which each stretch of a law is drawn.
const STEPS: usize = 24;
/// Most answers that are marked on a law, and most that have their word beside them.
const MARKED: usize = 100;
const TOLD: usize = 6;

type Bands = Vec<Option<(f64, f64)>>;

/// The law.
pub(super) fn law(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let points = shape::points(given, "points").ok()?;
    let asked = given.numbers("at").ok()?;
    let all = Side::around(points.iter().map(|point| point.celsius).chain(asked.iter().copied()), 0.08);
    let across = Side { low: all.low.max(-40.0), high: all.high.min(260.0), spread: Spread::Inverse };
    let own = Side::around(points.iter().map(|point| point.celsius), 0.0);
    let stretches = [Side::from(across.low, own.low), Side::from(own.low, own.high), Side::from(own.high, across.high)];
    let at: Vec<f64> = stretches.iter().flat_map(|side| side.steps(STEPS)).collect();
    let (times, bands) = along(given, &at)?;
    let ends = points.iter().flat_map(|point| [point.low, point.high]);
    let edges = bands.iter().flatten().flat_map(|(low, high)| [*low, *high]);
    let shown = Side::around(times.iter().copied().chain(edges).chain(ends).filter(|t| *t > 0.0 && t.is_finite()), 0.0);
    let up = Side::powers((shown.low * 0.9).max(f64::MIN_POSITIVE), shown.high * 1.1);
    let mut plot = Plot::new(across, up);
    put_edges(&mut plot, &at, &bands);
    let path = |n: usize| at.iter().copied().zip(times.iter().copied()).skip(n * (STEPS + 1)).take(STEPS + 1);
    plot.line("beyond", "", path(0));
    plot.line("beyond", "", path(2));
    plot.line("main", "", path(1));
    put_marks(&mut plot, &points, &asked, answer);
    let words = format!(
        "The time falls from {} at {} to {} at {}. Solid between the sheet's temperatures, dashed where the sheet does \
         not speak.{}",
        minutes(*times.first()?),
        with_unit(across.low, "C"),
        minutes(*times.last()?),
        with_unit(across.high, "C"),
        if bands.iter().any(Option::is_some) { " Long dashes: the 95 % band of a new batch." } else { "" }
    );
    plot.done(across.across("Temperature, °C, even in 1/T"), up.up_times("Time, by powers"), words)
}

/// The law's times at these temperatures, as the calculation itself gives them.
fn along(given: &Given, at: &[f64]) -> Option<(Vec<f64>, Bands)> {
    let at = at.iter().map(f64::to_string).collect::<Vec<_>>().join(",");
    let answer = figure::reckon("cure-law", [("points", given.text("points")?), ("at", at.as_str())]).ok()?;
    match (answer.get("times_min")?, answer.get("bands")?) {
        (Out::Numbers(times), Out::Bands(bands)) => Some((times.clone(), bands.clone())),
        _ => None,
    }
}

/// Both edges of a law's band; none where it has none.
fn put_edges(plot: &mut Plot, at: &[f64], bands: &Bands) {
    for high in [false, true] {
        let points = at.iter().zip(bands);
        let points = points.filter_map(|(celsius, band)| band.map(|(l, h)| (*celsius, if high { h } else { l })));
        plot.line("edge", if high { "95 % band" } else { "" }, points);
    }
}

/// The sheet's points, and the times that were asked for.
fn put_marks(plot: &mut Plot, points: &[shape::Point], asked: &[f64], answer: &Answer) {
    let said = |what: &str, at: f64, time: &str| format!("{what}: {time} at {}", with_unit(at, "C"));
    for point in points {
        let (low, high) = (minutes(point.low), minutes(point.high));
        let time = if point.low == point.high { low } else { format!("{low} to {high}") };
        if point.low < point.high {
            plot.line("main", "", [(point.celsius, point.low), (point.celsius, point.high)].into_iter());
        }
        plot.mark("point", &said("sheet", point.celsius, &time), (point.celsius, point.middle()));
    }
    let Some(Out::Numbers(times)) = answer.get("times_min") else { return };
    for (celsius, time) in asked.iter().zip(times).take(MARKED) {
        if asked.len() <= TOLD {
            plot.told("asked", &format!("{}: {}", with_unit(*celsius, "C"), minutes(*time)), (*celsius, *time));
        } else {
            plot.mark("asked", &said("asked", *celsius, &format!("{} min", digits(*time))), (*celsius, *time));
        }
    }
}
