//! Activation energies that a sheet shows by itself, how sure they are, and whether they agree.

use super::{Known, Lean, energy, is_plain, known, line_through, slope, slopes};
use crate::card::{Card, Class, Limit};
use crate::clock::Clock;
use crate::number::GAS;
use core::cmp::Ordering;

/// Two points whose energy lies outside are refused, J/mol.
const BELIEVABLE: (f64, f64) = (25e3, 110e3);
/// Energies of two limits that differ by no more agree, J/mol. Both rates of a card may then differ by some 15 kJ/mol: a
/// limit shows about a fifth of that (`tests/tables/additive.rs`).
const AGREE: f64 = 3e3;

/// An energy that may be one.
pub(super) fn believed(energy: f64) -> bool {
    energy >= BELIEVABLE.0 && energy <= BELIEVABLE.1
}

/// Lowest, middle and highest activation energy that the points themselves show, or the class's interval of one, J/mol.
pub(super) fn energies(class: Class, clock: Clock, points: &[Known]) -> Option<[f64; 3]> {
    let all = match points {
        [] => return None,
        [_] => energy::of_class(class, clock).map(|it| [it.low, it.middle, it.high])?,
        [_, _] => {
            let [slow, middle, fast] = slopes(points)?.map(|b| b * GAS);
            [slow.min(middle).min(fast), middle, slow.max(middle).max(fast)]
        }
        _ => {
            let fit = line_through(points, Lean::Middle)?;
            // Student's quantile of the fit is in qs; a fit without scatter is sure of its slope.
            let half = if fit.s > 0.0 { fit.qs / fit.s * fit.slope_error() } else { 0.0 };
            [fit.b - half, fit.b, fit.b + half].map(|b| b * GAS)
        }
    };
    all.iter().all(|energy| energy.is_finite()).then_some(all)
}

/// The energy a scaled limit shows by its own points, J/mol; None: one temperature, plain time, or not to be believed.
fn own(card: &Card, limit: &Limit) -> Option<f64> {
    if is_plain(card, limit.clock) {
        return None;
    }
    let sound = |point: &crate::card::Point| point.low_ms > 0.0 && point.low_ms <= point.high_ms;
    let points = known(limit, |_| 1.0).filter(|points| points.len() > 1 && limit.points.iter().all(sound))?;
    let middle = match points.as_slice() {
        [colder, hotter] => slope(colder, hotter, Lean::Middle),
        many => line_through(many, Lean::Middle)?.b,
    };
    Some(middle * GAS).filter(|energy| believed(*energy))
}

/// Whether the card itself shows that its slopes agree: limits of at least two different clocks have an energy of their
/// own, and all those lie within 3 kJ/mol.
pub fn slopes_agree(card: &Card) -> bool {
    let all: Vec<(Clock, f64)> =
        card.limits.iter().filter_map(|limit| Some((limit.clock, own(card, limit)?))).collect();
    let by_energy = |a: &&(Clock, f64), b: &&(Clock, f64)| -> Ordering { a.1.total_cmp(&b.1) };
    let (Some(least), Some(most)) = (all.iter().min_by(by_energy), all.iter().max_by(by_energy)) else { return false };
    let different = all.iter().any(|(clock, _)| *clock != least.0);
    different && most.1 - least.1 <= AGREE
}
