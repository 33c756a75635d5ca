//! The air from the instant asked on: the last readings go on, or the forecast stated for the place takes over.
//!
//! For must-reach the forecast replaces what the readings would say, with the sensor's error as if it were read. For
//! must-not-exceed the safe line is the higher of both, so that no forecast ever gives more time.

use super::forecast::{Course, STEP_MS, Tau, in_force};
use super::source::{self, Has, Value};
use super::{Piece, Sort, View, Walker, combine, vouched_at};
use crate::clock::{Air, Assumed, Direction, Knot, Stay};
use crate::number::{MINUTE, SENSOR_K, after};
use core::ops::ControlFlow;

/// Steps of a forecast looked at at once.
const RUN: usize = 64;

/// What the air is taken to be from `known_ms` on; the pieces reach to `to`.
pub fn ahead<W: Walker>(view: &View, path: &[Stay], to: f64, walker: &mut W) -> ControlFlow<()> {
    let nowhere = Air::default();
    let air = here(view, path).unwrap_or(&nowhere);
    let from = after(view.base_ms, view.known_ms);
    let values = last_values(view, air, to);
    if let Some(course) = stated(view, air, &values, to) {
        return match view.direction {
            Direction::MustReach => along(view, &course, (from, to), walker),
            Direction::MustNotExceed => {
                let without = combine(view, &values, None, from, to);
                beside(&course, &without, walker)
            }
        };
    }
    let mut t = from;
    while t < to {
        let mut end = to;
        let vouched = vouched_at(view, &air.vouched, t, &mut end);
        let piece = combine(view, &values, vouched, t, end);
        walker.take(&piece)?;
        t = piece.to;
    }
    ControlFlow::Continue(())
}

/// What is taken for granted about the air ahead.
pub fn assumed(view: &View, path: &[Stay]) -> Vec<Assumed> {
    let Some(air) = here(view, path) else { return vec![] };
    let to = after(view.base_ms, view.known_ms);
    let course = stated(view, air, &last_values(view, air, to), to);
    match course.map(|course| course.tau) {
        None => vec![],
        Some(Tau::Unknown) => vec![Assumed::Forecast, Assumed::CoolingTime],
        Some(_) => vec![Assumed::Forecast],
    }
}

/// The air of the place it is at.
fn here<'a>(view: &View, path: &[Stay<'a>]) -> Option<&'a Air> {
    path.iter().rev().find(|stay| stay.from_ms <= view.known_ms).or(path.first()).and_then(|stay| stay.air)
}

fn last_values(view: &View, air: &Air, to: f64) -> Vec<Value> {
    air.sources.iter().map(|source| source::last_value(view, source, to)).collect()
}

/// Mean air now: the last means at most two hours old, K.
pub fn now_k(view: &View, path: &[Stay]) -> Option<f64> {
    let to = after(view.base_ms, view.known_ms);
    mean_k(&last_values(view, here(view, path)?, to), to)
}

fn mean_k(values: &[Value], to: f64) -> Option<f64> {
    let read = || values.iter().filter(|value| value.has == Has::Read).map(|value| value.at(1, to));
    let count = read().count();
    (count > 0).then(|| read().sum::<f64>() / count as f64)
}

/// The forecast in force, from the mean that the air has now.
fn stated(view: &View, air: &Air, values: &[Value], to: f64) -> Option<Course> {
    let forecast = in_force(&air.forecasts, view.known_ms)?;
    forecast.course(view.known_ms, mean_k(values, to), &air.sources)
}

/// The forecast alone, as readings would go on.
fn along<W: Walker>(view: &View, course: &Course, (from, to): (f64, f64), walker: &mut W) -> ControlFlow<()> {
    let shift = [-SENSOR_K, 0.0, SENSOR_K];
    let len = to - from;
    let changing = course.steady_from().unwrap_or(len).min(len);
    let whole = libm::floor(len / STEP_MS).min(libm::ceil(changing / STEP_MS)) as usize;
    let mut begin = 0;
    while begin < whole {
        let knots: Vec<f64> = (begin..=whole.min(begin + RUN)).map(|index| course.at(index as f64 * STEP_MS)).collect();
        let steady = knots.windows(2).take_while(|pair| pair[0] == pair[1]).count();
        let lines = match steady {
            0 => knots.windows(2).take_while(|pair| pair[0] != pair[1]).count(),
            _ => steady,
        };
        let at = begin as f64 * STEP_MS;
        if steady > 0 {
            walker.take(&line(course, (at, at + lines as f64 * STEP_MS), from, shift))?;
        } else {
            let minutes = by_minutes(view, at, knots.get(..=lines).unwrap_or(&knots));
            run_along(view, &minutes, shift, walker)?;
        }
        begin += lines;
    }
    let at = whole as f64 * STEP_MS;
    if at >= len {
        return ControlFlow::Continue(());
    }
    let end = if at >= changing { len } else { at + STEP_MS };
    walker.take(&cut(line(course, (at, end), from, shift), to))
}

/// Lines of a minute on the straight lines between knots: so short that the wood behind them bends little, and a run of
/// them is gone along at once.
fn by_minutes(view: &View, at: f64, knots: &[f64]) -> Vec<Knot> {
    let base_ms = view.known_ms.saturating_add(at as i64);
    let parts = (STEP_MS / MINUTE) as usize;
    let lines = knots.len().saturating_sub(1);
    let knot = |index: usize| {
        let (line, part) = (index / parts, index % parts);
        let k = match (knots.get(line), knots.get(line + 1)) {
            (Some(a), Some(b)) => a + (b - a) * part as f64 / parts as f64,
            (Some(a), None) => *a,
            _ => f64::NAN,
        };
        Knot { at_ms: base_ms.saturating_add(index as i64 * MINUTE as i64), low_k: k, mean_k: k, high_k: k }
    };
    (0..=lines * parts).map(knot).collect()
}

/// Goes along lines, many at once where that can be done.
fn run_along<W: Walker>(view: &View, knots: &[Knot], shift: [f64; 3], walker: &mut W) -> ControlFlow<()> {
    let mut gone = 0;
    while gone + 1 < knots.len() {
        gone += walker.take_run(view, knots.get(gone..).unwrap_or(&[]), shift);
        if let (Some(a), Some(b)) = (knots.get(gone), knots.get(gone + 1)) {
            let (from, to) = (after(view.base_ms, a.at_ms), after(view.base_ms, b.at_ms));
            let (a, b) = ([a.mean_k; 3], [b.mean_k; 3]);
            walker.take(&Piece { from, to, a, b, shift, sort: Sort::Read, long_gap: false })?;
            gone += 1;
        }
    }
    ControlFlow::Continue(())
}

/// One straight line of a forecast between two instants after the one asked.
fn line(course: &Course, (begin, end): (f64, f64), from: f64, shift: [f64; 3]) -> Piece {
    let (a, b) = ([course.at(begin); 3], [course.at(end); 3]);
    Piece { from: from + begin, to: from + end, a, b, shift, sort: Sort::Read, long_gap: false }
}

fn cut(piece: Piece, to: f64) -> Piece {
    if piece.to > to { piece.part(piece.from, to) } else { piece }
}

/// The forecast beside what would be taken without one: safe is the higher of both.
fn beside<W: Walker>(course: &Course, without: &Piece, walker: &mut W) -> ControlFlow<()> {
    let shift = [SENSOR_K, 0.0, -SENSOR_K];
    let steady = course.steady_from().unwrap_or(f64::INFINITY);
    let (from, len) = (without.from, without.to - without.from);
    let mut s = 0.0;
    while s < len {
        let end = if s >= steady { len } else { s + STEP_MS };
        let piece = cut(line(course, (s, end), from, shift), without.to);
        for part in higher(&Piece { sort: without.sort, long_gap: without.long_gap, ..piece }, without) {
            walker.take(&part)?;
        }
        s = end;
    }
    ControlFlow::Continue(())
}

/// A piece with its safe line raised to a steady one where that is higher: one piece, or two where they cross.
fn higher(piece: &Piece, without: &Piece) -> Vec<Piece> {
    let least_k = without.a[0] + without.shift[0];
    let (a, b) = (piece.a[0] + piece.shift[0] - least_k, piece.b[0] + piece.shift[0] - least_k);
    let raise = |mut part: Piece| {
        (part.a[0], part.b[0], part.shift[0]) = (without.a[0], without.a[0], without.shift[0]);
        part
    };
    if least_k.is_nan() || (a >= 0.0 && b >= 0.0) {
        return vec![*piece];
    }
    if a <= 0.0 && b <= 0.0 {
        return vec![raise(*piece)];
    }
    let cross = piece.from + (piece.to - piece.from) * a / (a - b);
    let (first, second) = (piece.part(piece.from, cross), piece.part(cross, piece.to));
    if a > 0.0 { vec![first, raise(second)] } else { vec![raise(first), second] }
}
