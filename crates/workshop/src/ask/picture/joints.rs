//! Joints: a scarf from the side, its stresses over the slope, and the shear along a lap.

use super::super::figure_shown::{digits, with_unit};
use super::FigurePicture;
use super::plot::Plot;
use super::side::Side;
use glue::figure::{Answer, Given, course};
use glue::joint;

/// Slopes that are limits, one in so many; scarf says where they come from.
const LIMITS: [(f64, &str); 2] = [(12.0, "1 in 12: plywood"), (15.0, "1 in 15: solid wood")];
const STEPS: usize = 80;

/// The scarf from the side, stretched upwards.
pub(super) fn scarf(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let (thickness, length) = (given.number("thickness").ok()?, answer.number("length_mm")?);
    let end = length * 0.35;
    let (across, up) = (Side::from(-end, length + end), Side::from(-0.7 * thickness, 1.7 * thickness));
    let mut plot = Plot::new(across, up);
    let left = [(-end, 0.0), (0.0, 0.0), (length, thickness), (-end, thickness), (-end, 0.0)];
    let right = [(length + end, 0.0), (0.0, 0.0), (length, thickness), (length + end, thickness), (length + end, 0.0)];
    plot.line("outline", "", left.into_iter());
    plot.line("outline", "", right.into_iter());
    let word = format!("1 in {}", digits(course::slope(given)?));
    plot.named("main", &word, (length / 2.0, thickness / 2.0), [(0.0, 0.0), (length, thickness)].into_iter());
    let below = -0.35 * thickness;
    let word = format!("length {}", with_unit(length, "mm"));
    plot.named("edge", &word, (length / 2.0, below), [(0.0, below), (length, below)].into_iter());
    let words = format!(
        "The scarf from the side, stretched upwards: {} thick, {} long, the glue line solid.",
        with_unit(thickness, "mm"),
        with_unit(length, "mm")
    );
    let ticks = [0.0, thickness];
    let mut upright = up.up("Across the member, mm");
    upright.ticks =
        ticks.iter().map(|at| super::PictureTick { at: 1_000_000 - up.along(*at), word: digits(*at) }).collect();
    plot.done(across.across_at("Along the member, mm", &[0.0, length]), upright, words)
}

/// Shear and pull across the glue over the slope.
pub(super) fn slopes(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let slope = course::slope(given)?;
    let across = Side::from(slope.min(4.0), (slope * 1.2).max(22.0));
    let shear = |n: f64| 100.0 * joint::scarf(n).shear;
    let up = Side::from(0.0, shear(across.low) * 1.1);
    let mut plot = Plot::new(across, up);
    let word_at = across.low + (across.high - across.low) * 0.3;
    let steps = across.steps(STEPS);
    plot.named("main", "shear", (word_at, shear(word_at)), steps.iter().map(|n| (*n, shear(*n))));
    let pull = |n: f64| 100.0 * joint::scarf(n).normal;
    plot.named("second", "pull across", (word_at, pull(word_at)), steps.iter().map(|n| (*n, pull(*n))));
    for (at, word) in LIMITS {
        plot.gate(word, at);
    }
    plot.told("asked", &format!("{} %", digits((shear(slope) * 100.0).round() / 100.0)), (slope, shear(slope)));
    plot.mark("asked", &format!("{} %", digits(pull(slope))), (slope, pull(slope)));
    let words = format!(
        "Stress on the glue as a share of the member's, over the slope: shear solid, pull across the glue in long dashes. \
         At 1 in {}: {} % and {} %.",
        digits(slope),
        digits(100.0 * answer.number("shear_share")?),
        digits(100.0 * answer.number("normal_share")?)
    );
    plot.done(across.across("Slope, one in"), up.up("Share of the member's stress, %"), words)
}

/// Shear along a lap.
pub(super) fn lap(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let (lap, load) = course::lap(given)?;
    let (average, peak) = (answer.number("average_mpa")?, answer.number("peak_mpa")?);
    let across = Side::from(0.0, lap.overlap);
    let up = Side::from(0.0, peak * 1.12);
    let mut plot = Plot::new(across, up);
    plot.level("level", &format!("average {}", with_unit(average, "MPa")), average);
    let points: Vec<(f64, f64)> =
        across.steps(STEPS * 2).into_iter().map(|x| (x, joint::along_lap(load, &lap, x))).collect();
    let worst = points.iter().fold((0.0, 0.0), |worst, at| if at.1 > worst.1 { *at } else { worst });
    plot.line("main", "", points.into_iter());
    plot.told("asked", &format!("highest {}", with_unit(peak, "MPa")), (worst.0, peak));
    let words = format!(
        "The shear in the glue along the lap, from the end at which the second member begins: highest at the ends, {} \
         where {} on average.",
        with_unit(peak, "MPa"),
        with_unit(average, "MPa")
    );
    plot.done(across.across("Along the lap, mm"), up.up("Shear, MPa"), words)
}
