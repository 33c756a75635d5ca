//! One source of temperatures at an instant: a line between two readings, the worse end of a gap, or nothing.

use super::{JOINED_MS, KNOWN_MS, Piece, Sort, View, Walker};
use crate::clock::{Direction, Knot, Source};
use crate::number::{PLAUSIBLE_K, SENSOR_K, after};
use core::ops::ControlFlow;

/// What a source has at an instant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Has {
    /// A reading, or a line between two.
    Read,
    /// The lowest of a min-max thermometer.
    Lowest,
    /// Nothing; the lines are the worse of the ends around (NaN: none).
    Nothing,
}

/// What a source says from an instant until `until`, as lines.
#[derive(Clone, Copy, Debug)]
pub struct Value {
    /// What it rests on.
    pub has: Has,
    /// How long it holds, ms after the base.
    pub until: f64,
    /// Without a reading for longer than two hours.
    pub long_gap: bool,
    /// What each bound adds for the sensor's error, K.
    pub shift: [f64; 3],
    from: f64,
    a: [f64; 3],
    slope: [f64; 3],
}

impl Value {
    /// Temperature of a bound at t, K.
    pub fn at(&self, bound: usize, t: f64) -> f64 {
        self.a[bound] + self.slope[bound] * (t - self.from)
    }
}

/// A temperature that may be a reading.
pub fn plausible(k: f64) -> bool {
    k >= PLAUSIBLE_K.0 && k <= PLAUSIBLE_K.1
}

/// A knot whose three temperatures may be readings.
pub fn sound(knot: &Knot) -> bool {
    plausible(knot.low_k) && plausible(knot.mean_k) && plausible(knot.high_k)
}

/// What each bound adds for the sensor's error.
fn shift(direction: Direction, error_k: f64) -> [f64; 3] {
    let e = if (0.0..=50.0).contains(&error_k) { error_k } else { SENSOR_K };
    match direction {
        Direction::MustReach => [-e, 0.0, e],
        Direction::MustNotExceed => [e, 0.0, -e],
    }
}

/// A source's knots known at an instant, and where the walk stands among them.
pub struct Sight<'a> {
    view: View,
    source: &'a Source,
    knots: &'a [Knot],
    next: usize,
    shift: [f64; 3],
}

/// The knots of a source that exist at `known_ms`.
pub fn known(source: &Source, known_ms: i64) -> &[Knot] {
    let count = source.knots.partition_point(|knot| knot.at_ms <= known_ms);
    source.knots.get(..count).unwrap_or(&[])
}

impl<'a> Sight<'a> {
    /// Placed at `from`.
    pub fn new(view: &View, source: &'a Source, from: f64) -> Sight<'a> {
        let knots = known(source, view.known_ms);
        let next = knots.partition_point(|knot| after(view.base_ms, knot.at_ms) <= from);
        Sight { view: *view, source, knots, next, shift: shift(view.direction, source.error_k) }
    }

    fn instant(&self, knot: &Knot) -> f64 {
        after(self.view.base_ms, knot.at_ms)
    }

    fn bounds(&self, knot: &Knot) -> [f64; 3] {
        match self.view.direction {
            Direction::MustReach => [knot.low_k, knot.mean_k, knot.high_k],
            Direction::MustNotExceed => [knot.high_k, knot.mean_k, knot.low_k],
        }
    }

    /// Hands over the lines between knots at most fifteen minutes apart, as long as nothing else is the case.
    pub fn run_of_lines<W: Walker>(&mut self, from: f64, to: f64, walker: &mut W) -> ControlFlow<(), f64> {
        let last = self.knots.partition_point(|knot| self.instant(knot) <= to);
        let mut t = from;
        while t < to && self.next > 0 {
            let (Some(knot), Some(next)) = (self.knots.get(self.next - 1), self.knots.get(self.next)) else { break };
            let (start, end) = (self.instant(knot), self.instant(next));
            if start >= t {
                let run = self.knots.get(self.next - 1..last).unwrap_or(&[]);
                let gone = walker.take_run(&self.view, run, self.shift);
                if gone > 0 {
                    self.next += gone;
                    t = self.knots.get(self.next - 1).map_or(to, |knot| self.instant(knot));
                    continue;
                }
            }
            if !(end - start <= JOINED_MS as f64 && sound(knot) && sound(next)) {
                break;
            }
            if end > t {
                let (a, b) = (self.bounds(knot), self.bounds(next));
                let sort = Sort::Read;
                let line = Piece { from: start, to: end, a, b, shift: self.shift, sort, long_gap: false };
                let whole = start >= t && end <= to;
                walker.take(&if whole { line } else { line.part(t.max(start), end.min(to)) })?;
                t = end.min(to);
            }
            if end <= to {
                self.next += 1;
            }
        }
        ControlFlow::Continue(t)
    }

    /// What it says from t on.
    pub fn value(&mut self, t: f64) -> Value {
        while self.knots.get(self.next).is_some_and(|knot| self.instant(knot) <= t) {
            self.next += 1;
        }
        let last = self.next.checked_sub(1).and_then(|index| self.knots.get(index)).filter(|knot| sound(knot));
        let next = self.knots.get(self.next);
        let until = next.map_or(f64::INFINITY, |knot| self.instant(knot));
        let value = match (last, next.filter(|knot| sound(knot))) {
            (Some(last), Some(next)) => self.between(last, next),
            (Some(last), None) => self.held(last, t, until),
            (None, end) => self.nothing(end.map_or(f64::NAN, |knot| self.bounds(knot)[0]), until, true),
        };
        self.with_lowest(value, t)
    }

    fn flat(&self, has: Has, a: [f64; 3], until: f64, long_gap: bool) -> Value {
        Value { has, until, long_gap, shift: self.shift, from: 0.0, a, slope: [0.0; 3] }
    }

    fn line(&self, from: f64, until: f64, a: [f64; 3], slope: [f64; 3]) -> Value {
        Value { has: Has::Read, until, long_gap: false, shift: self.shift, from, a, slope }
    }

    /// Nothing, between ends of which the safe one is this.
    fn nothing(&self, safe_k: f64, until: f64, long_gap: bool) -> Value {
        self.flat(Has::Nothing, [safe_k; 3], until, long_gap)
    }

    /// Two knots: a line, the worse end, or nothing.
    fn between(&self, last: &Knot, next: &Knot) -> Value {
        let (from, until) = (self.instant(last), self.instant(next));
        let (a, b) = (self.bounds(last), self.bounds(next));
        let gap = until - from;
        let mut slope = [0.0; 3];
        for i in 0..3 {
            slope[i] = (b[i] - a[i]) / gap;
        }
        if gap <= JOINED_MS as f64 {
            return self.line(from, until, a, slope);
        }
        let (safe, other) = match self.view.direction {
            Direction::MustReach => (a[0].min(b[0]), a[2].max(b[2])),
            Direction::MustNotExceed => (a[0].max(b[0]), a[2].min(b[2])),
        };
        if gap <= KNOWN_MS as f64 {
            return self.line(from, until, [safe, a[1], other], [0.0, slope[1], 0.0]);
        }
        self.nothing(safe, until, true)
    }

    /// After the last knot: it holds fifteen minutes.
    fn held(&self, last: &Knot, t: f64, until: f64) -> Value {
        let ends = self.instant(last) + JOINED_MS as f64;
        if t < ends {
            return self.flat(Has::Read, self.bounds(last), ends.min(until), false);
        }
        let long_gap = self.view.known_ms.saturating_sub(last.at_ms) > KNOWN_MS;
        self.nothing(self.bounds(last)[0], until, long_gap)
    }

    /// Takes in the min-max thermometer, for must-reach only.
    fn with_lowest(&self, mut value: Value, t: f64) -> Value {
        if self.view.direction == Direction::MustNotExceed || self.source.lowest.is_empty() {
            return value;
        }
        let mut best: Option<f64> = None;
        for floor in &self.source.lowest {
            if floor.until_ms > self.view.known_ms || !plausible(floor.k) {
                continue;
            }
            let (from, until) = (after(self.view.base_ms, floor.from_ms), after(self.view.base_ms, floor.until_ms));
            if from > t {
                value.until = value.until.min(from);
            } else if until > t {
                value.until = value.until.min(until);
                best = Some(floor.k.max(best.unwrap_or(floor.k)));
            }
        }
        let Some(k) = best else { return value };
        if value.has == Has::Nothing {
            value.has = Has::Lowest;
            (value.a, value.slope) = ([k; 3], [0.0; 3]);
        } else {
            // It may have been as cold as that at any instant, or as cold as the readings say.
            let (here, later) = (value.at(0, t), value.at(0, value.until));
            (value.a[0], value.slope[0]) = (k.min(here).min(later), 0.0);
        }
        value
    }
}

/// What a source's last knot says if it goes on until `to`: nothing when it is older than two hours.
pub fn last_value(view: &View, source: &Source, to: f64) -> Value {
    let sight = Sight::new(view, source, after(view.base_ms, view.known_ms));
    match sight.knots.last().filter(|knot| sound(knot)) {
        Some(last) if view.known_ms.saturating_sub(last.at_ms) <= KNOWN_MS => {
            sight.flat(Has::Read, sight.bounds(last), to, false)
        }
        last => sight.nothing(last.map_or(f64::NAN, |knot| sight.bounds(knot)[0]), to, true),
    }
}
