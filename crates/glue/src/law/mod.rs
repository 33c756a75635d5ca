//! The time law of one limit: from the points of a sheet to how fast each bound runs at a temperature.
//!
//! t(T) = t_ref exp[(Ea/R)(1/T - 1/T_ref)]. Three curves: safe, expected, other. The safe one leans slow for
//! must-reach and fast for must-not-exceed; the other one leans the other way. Caps hold in the safe one only, but for
//! the pot, which is never given longer than the sheet in any.

mod agree;
pub mod curve;
pub mod energy;
pub mod fit;

pub use agree::slopes_agree;

use crate::card::{Card, Class, Limit, Origin, Point};
use crate::clock::{Clock, Direction, LawKind};
use crate::number::{GAS, PLAUSIBLE_K};
use curve::{Curve, Form, outermost};
use energy::Energy;

/// Spread of handbook and class numbers.
const SPREAD: f64 = 0.10;

/// The law of one limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Law {
    /// How it was made.
    pub kind: LawKind,
    /// Safe, expected, other.
    pub curves: [Curve; 3],
    /// Spread of the numbers themselves.
    pub spread: f64,
    /// Longest stated time, ms.
    pub longest_ms: f64,
    /// Lowest and highest temperature of its points, K; None for plain times.
    pub points_k: Option<(f64, f64)>,
    /// Range outside which a drying adhesive's times do not hold, K.
    pub range_k: Option<(f64, f64)>,
    /// What it rests on.
    pub sure: Sure,
}

/// What a law rests on: how many points, and the activation energy with its doubt.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sure {
    /// Temperatures of the sheet; of plain times, points.
    pub points: usize,
    /// Lowest, middle and highest activation energy, J/mol: the class's interval of one point, the ends and middles of
    /// two points' ranges, the 95 % interval of the slope of three and more. None: plain time.
    pub energy: Option<[f64; 3]>,
}

/// Which way a bound leans.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lean {
    Slow,
    Middle,
    Fast,
}

impl Lean {
    fn of(direction: Direction) -> [Lean; 3] {
        match direction {
            Direction::MustReach => [Lean::Slow, Lean::Middle, Lean::Fast],
            Direction::MustNotExceed => [Lean::Fast, Lean::Middle, Lean::Slow],
        }
    }

    fn time(self, point: &Known) -> f64 {
        match self {
            Lean::Slow => point.high_ms,
            Lean::Middle => (point.low_ms + point.high_ms) / 2.0,
            Lean::Fast => point.low_ms,
        }
    }

    /// Slope below the points: the slow one takes the highest of the energies fitted and the class's.
    fn colder(self, fitted: [f64; 3], class: Option<Energy>) -> f64 {
        match self {
            Lean::Slow => fitted.into_iter().chain(class.map(|class| class.high / GAS)).fold(0.0, f64::max),
            Lean::Middle => fitted[1],
            Lean::Fast => fitted.into_iter().chain(class.map(|class| class.low / GAS)).fold(f64::INFINITY, f64::min),
        }
    }

    /// Slope above the points: the slow one takes the lowest of the energies fitted and the class's.
    fn hotter(self, fitted: [f64; 3], class: Option<Energy>) -> f64 {
        match self {
            Lean::Slow => fitted.into_iter().chain(class.map(|class| class.low / GAS)).fold(f64::INFINITY, f64::min),
            Lean::Middle => fitted[1],
            Lean::Fast => fitted.into_iter().chain(class.map(|class| class.high / GAS)).fold(0.0, f64::max),
        }
    }
}

/// A point with a temperature.
#[derive(Clone, Copy, Debug)]
struct Known {
    at_k: f64,
    low_ms: f64,
    high_ms: f64,
}

/// The law of a limit of this card; `share` scales a point's times (a heavier pot). None: it cannot be judged.
pub fn of_limit(card: &Card, limit: &Limit, share: impl Fn(&Point) -> f64) -> Option<Law> {
    let sound = |point: &&Point| point.low_ms > 0.0 && point.low_ms <= point.high_ms && point.high_ms < 1e15;
    if limit.points.is_empty() || limit.points.iter().filter(sound).count() != limit.points.len() {
        return None;
    }
    let spread = if card.origin == Origin::Sheet { 0.0 } else { SPREAD };
    if limit.clock == Clock::FreshSurface {
        return Some(plain(limit, spread, None));
    }
    if is_plain(card, limit.clock) {
        return Some(plain(limit, spread, Some(stated_range(card, limit)?)));
    }
    let points = known(limit, share)?;
    let (kind, curves) = scaled(card.class, limit.clock, &points)?;
    let longest_ms = points.iter().map(|point| point.high_ms).fold(0.0, f64::max);
    let points_k = Some((points.first()?.at_k, points.last()?.at_k));
    let sure = Sure { points: points.len(), energy: agree::energies(card.class, limit.clock, &points) };
    Some(Law { kind, curves, spread, longest_ms, points_k, range_k: None, sure })
}

/// Assembly times of an adhesive that sets by drying are plain times.
fn is_plain(card: &Card, clock: Clock) -> bool {
    clock == Clock::FreshSurface || (card.water_borne && matches!(clock, Clock::Open | Clock::Closed))
}

/// Plain time: the shortest for safe, the middle for expected, the longest for the other bound.
fn plain(limit: &Limit, spread: f64, range_k: Option<(f64, f64)>) -> Law {
    let low = limit.points.iter().map(|point| point.low_ms).fold(f64::INFINITY, f64::min);
    let high = limit.points.iter().map(|point| point.high_ms).fold(0.0, f64::max);
    let curves = [Curve::constant(low), Curve::constant((low + high) / 2.0), Curve::constant(high)];
    let sure = Sure { points: limit.points.len(), energy: None };
    Law { kind: LawKind::Unscaled, curves, spread, longest_ms: high, points_k: None, range_k, sure }
}

/// Hull of the points' temperatures and the application range; None: the card states no range.
fn stated_range(card: &Card, limit: &Limit) -> Option<(f64, f64)> {
    let stated = limit.points.iter().filter_map(|point| point.at_k);
    let stated = stated.chain(card.application_minimum_k).chain(card.application_maximum_k);
    let (low, high) = stated.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), t| (l.min(t), h.max(t)));
    (low < high).then_some((low, high))
}

/// Points by rising temperature, those of one temperature put together; None if one has no temperature.
fn known(limit: &Limit, share: impl Fn(&Point) -> f64) -> Option<Vec<Known>> {
    let mut points = vec![];
    for point in &limit.points {
        let at_k = point.at_k.filter(|t| *t >= PLAUSIBLE_K.0 && *t <= PLAUSIBLE_K.1)?;
        let share = Some(share(point)).filter(|share| *share > 1e-6 && *share < 1e6)?;
        points.push(Known { at_k, low_ms: point.low_ms * share, high_ms: point.high_ms * share });
    }
    points.sort_by(|a, b| a.at_k.total_cmp(&b.at_k));
    points.dedup_by(|next, kept| {
        let same = next.at_k == kept.at_k;
        if same {
            kept.low_ms = kept.low_ms.min(next.low_ms);
            kept.high_ms = kept.high_ms.max(next.high_ms);
        }
        same
    });
    Some(points)
}

fn scaled(class: Class, clock: Clock, points: &[Known]) -> Option<(LawKind, [Curve; 3])> {
    let energy = energy::of_class(class, clock);
    let leans = Lean::of(clock.direction());
    let (kind, raw) = match points {
        [] => return None,
        [only] => (LawKind::OnePoint, leans.map(|lean| one_point(only, energy?, lean))),
        [_, _] => {
            let believed = agree::believed(slope(&points[0], &points[1], Lean::Middle) * GAS);
            (LawKind::TwoPoint, leans.map(|lean| pieces(points, energy, lean).filter(|_| believed)))
        }
        _ => (LawKind::Fitted, leans.map(|lean| fitted(points, clock.direction(), lean))),
    };
    let [safe, expected, other] = raw;
    let curves = [(safe?, leans[0], true), (expected?, leans[1], false), (other?, leans[2], false)];
    Some((kind, curves.map(|(curve, lean, is_safe)| capped(curve, clock, points, lean, is_safe))))
}

/// The cap: no must-reach credit above the highest point, no longer must-not-exceed limit below the lowest.
fn capped(curve: Curve, clock: Clock, points: &[Known], lean: Lean, is_safe: bool) -> Curve {
    let (Some(lowest), Some(highest)) = (points.first(), points.last()) else {
        return curve;
    };
    match clock.direction() {
        Direction::MustReach if is_safe => curve.capped_above(highest.at_k),
        // A line through many points may be longer than the sheet even above its lowest one.
        Direction::MustNotExceed if clock == Clock::Pot => {
            let most = lean.time(lowest);
            curve.capped_below(lowest.at_k, most).at_most(most)
        }
        Direction::MustNotExceed if is_safe => curve.capped_below(lowest.at_k, lean.time(lowest)),
        _ => curve,
    }
}

fn one_point(point: &Known, energy: Energy, lean: Lean) -> Option<Curve> {
    let (colder, hotter) = match lean {
        Lean::Slow => (energy.high, energy.low),
        Lean::Middle => (energy.middle, energy.middle),
        Lean::Fast => (energy.low, energy.high),
    };
    let below = through(point, lean, colder / GAS);
    let above = through(point, lean, hotter / GAS);
    Some(Curve::new(vec![(point.at_k, below), (f64::INFINITY, above)]))
}

/// The straight line of slope b through a point.
fn through(point: &Known, lean: Lean, b: f64) -> Form {
    Form::Straight { a: libm::log(lean.time(point)) - b / point.at_k, b }
}

/// Ea/R between two points.
fn slope(colder: &Known, hotter: &Known, lean: Lean) -> f64 {
    libm::log(lean.time(colder) / lean.time(hotter)) / (1.0 / colder.at_k - 1.0 / hotter.at_k)
}

/// Ea/R between two points through their long ends, middles and short ends.
fn slopes(two: &[Known]) -> Option<[f64; 3]> {
    let [colder, hotter] = two else { return None };
    Some([Lean::Slow, Lean::Middle, Lean::Fast].map(|lean| slope(colder, hotter, lean)))
}

/// Exact between the points; outside, from the nearest one with the worst of the fitted and the class's energy. Where a
/// sheet gives ranges, their ends and middles give three fits, and the worst of them counts: a safe bound that is easier
/// than the expected one would be none. None if hotter is anywhere not quicker.
fn pieces(points: &[Known], energy: Option<Energy>, lean: Lean) -> Option<Curve> {
    let own: Vec<f64> = points.windows(2).map(|two| slope(&two[0], &two[1], lean)).collect();
    if own.is_empty() || own.iter().any(|b| b.is_nan() || *b <= 0.0) {
        return None;
    }
    let (first, last) = (points.first()?, points.last()?);
    let below = slopes(points.get(..2)?)?;
    let above = slopes(points.get(points.len() - 2..)?)?;
    let mut all = vec![(first.at_k, through(first, lean, lean.colder(below, energy)))];
    all.extend(points.windows(2).zip(&own).map(|(two, b)| (two[1].at_k, through(&two[1], lean, *b))));
    all.push((f64::INFINITY, through(last, lean, lean.hotter(above, energy))));
    Some(Curve::new(all))
}

/// Three and more: the line for expected; else the worse of the prediction band's edge and the straight pieces (which
/// go on outside with their outermost slope). On its safe side the curve is kept from turning back: where a band opens
/// so fast that hotter would be slower, the value at the outermost point holds. The line through the middles of ranges
/// counts among the worse too, so that no bound is easier than the expected one.
fn fitted(points: &[Known], direction: Direction, lean: Lean) -> Option<Curve> {
    let fit = line_through(points, lean)?;
    let middle = line_through(points, Lean::Middle).map(|fit| Form::Straight { a: fit.a, b: fit.b })?;
    let straight = pieces(points, None, lean)?;
    if fit.b <= 0.0 {
        return None;
    }
    let line = Form::Straight { a: fit.a, b: fit.b };
    if lean == Lean::Middle {
        return Some(Curve::new(vec![(f64::INFINITY, line)]));
    }
    let slow = lean == Lean::Slow;
    let h = if slow { fit.qs } else { -fit.qs };
    let edge = if h == 0.0 { line } else { Form::Edge { fit, h } };
    let breaks: Vec<f64> = points.iter().map(|point| point.at_k).collect();
    let two = |t: f64| vec![edge, middle, straight.piece(straight.find(t)).1];
    let outer = outermost(&breaks, two, slow);
    let is_safe = slow == (direction == Direction::MustReach);
    if !is_safe {
        return Some(outer);
    }
    let end = if slow { points.last()? } else { points.first()? };
    let hold = Form::Constant(1.0 / outer.time_ms(end.at_k));
    let three = |t: f64| vec![edge, middle, straight.piece(straight.find(t)).1, hold];
    Some(outermost(&breaks, three, slow))
}

fn line_through(points: &[Known], lean: Lean) -> Option<fit::Fit> {
    let spots: Vec<(f64, f64)> = points.iter().map(|p| (1.0 / p.at_k, libm::log(lean.time(p)))).collect();
    fit::fit(&spots)
}

#[cfg(test)]
mod tests;
