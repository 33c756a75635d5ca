//! A run of close readings of one source, the common case: the same sums as piece by piece, in blocks without branches.
//!
//! A block goes on as long as nothing happens in a line: the wood does not cross the air, no border of the law is
//! passed, no bound comes to its limit, the temperature changes by less than 0.2 K. The line where something does is
//! left to the general way. First the temperatures are found line by line (the wood needs the line before), then each
//! bound's progress in a loop that the compiler can spread over vector lanes.

use super::shape::Body;
use super::span::{BENT_K, ONE_NODE_K};
use super::{Course, Sums, VARIED_K};
use crate::air::source::sound;
use crate::air::{JOINED_MS, View};
use crate::clock::{Direction, Knot};
use crate::law::curve::Form;
use crate::number::{after, exp, exp_plain};

/// Most lines in a block.
const BLOCK: usize = 64;
/// Lines in the first block after something happened; it doubles from there.
const FIRST: usize = 8;

/// What stays the same over a run.
struct Run<'a> {
    course: &'a Course,
    tau: Option<f64>,
    shift: [f64; 3],
    reversed: bool,
    /// Of the present length of a line, ms.
    len: f64,
    left: f64,
    left_half: f64,
    /// Lines the next block is tried with.
    size: usize,
    bounds: &'a mut [Lines; 3],
    worst: &'a mut [f64; BLOCK],
}

/// Where a bound is on its curve: the form, and the temperatures between which it holds.
#[derive(Clone, Copy)]
struct Place {
    form: Form,
    from_k: f64,
    to_k: f64,
}

/// One bound over a block: the air's and the wood's temperatures at the ends of the lines, K, and in each line the
/// temperature in the middle, its slope (K/ms) and bend (K/ms²).
#[derive(Clone, Copy)]
struct Lines {
    air: [f64; BLOCK + 1],
    wood: [f64; BLOCK + 1],
    middle: [f64; BLOCK],
    slope: [f64; BLOCK],
    bend: [f64; BLOCK],
}

/// Room for a block, kept from run to run.
#[derive(Clone)]
pub struct Room {
    bounds: [Lines; 3],
    worst: [f64; BLOCK],
}

impl Default for Room {
    fn default() -> Room {
        let (ends, each) = ([0.0; BLOCK + 1], [0.0; BLOCK]);
        let lines = Lines { air: ends, wood: ends, middle: each, slope: each, bend: each };
        Room { bounds: [lines; 3], worst: each }
    }
}

impl Sums {
    /// How many lines between the knots were gone along.
    pub fn run(&mut self, course: &Course, view: &View, knots: &[Knot], shift: [f64; 3], room: &mut Room) -> usize {
        let tau = match course.body {
            Body::Wood { tau, .. } => Some(tau),
            Body::Warmer(None) => None,
            Body::Warmer(_) => return 0,
        };
        let starts_late = knots.first().is_none_or(|knot| after(view.base_ms, knot.at_ms) < 0.0 || !sound(knot));
        if starts_late || course.law.range_k.is_some() || !course.pending.is_empty() || self.cold_since.is_some() {
            return 0;
        }
        let reversed = course.direction == Direction::MustNotExceed;
        let Room { bounds, worst } = room;
        let (len, left, left_half, size) = (-1.0, 1.0, 1.0, FIRST);
        let mut run = Run { course, tau, shift, reversed, len, left, left_half, size, bounds, worst };
        let mut gone = 0;
        while let Some(rest) = knots.get(gone..).filter(|rest| rest.len() > 1) {
            let lines = run.block(self, rest);
            if lines == 0 {
                break;
            }
            run.size = if lines == run.size { (2 * lines).min(BLOCK) } else { FIRST };
            gone += lines;
        }
        if let Some(last) = knots.get(gone).filter(|_| gone > 0) {
            self.at = after(view.base_ms, last.at_ms);
        }
        gone
    }
}

impl Run<'_> {
    /// Goes along as many of the next lines as it can, at most a block; how many.
    fn block(&mut self, sums: &mut Sums, knots: &[Knot]) -> usize {
        let (Some(first), Some(second)) = (knots.first(), knots.get(1)) else { return 0 };
        let len = second.at_ms.saturating_sub(first.at_ms);
        if len <= 0 || len > JOINED_MS {
            return 0;
        }
        if self.len != len as f64 {
            self.len = len as f64;
            let q = self.tau.map_or(0.0, |tau| (self.len / tau).min(690.0));
            (self.left, self.left_half) = (exp(-q), exp(-q / 2.0));
        }
        let count = self.take_in(sums, knots);
        let below = [0, 1, 2].map(|i| sums.wood[i] < self.bounds[i].air[0]);
        let is_air = [self.tau.is_none() || !below[0], self.tau.is_none(), self.tau.is_none() || below[2]];
        let places = [0, 1, 2].map(|i| {
            let start = if is_air[i] { self.bounds[i].air[0] } else { sums.wood[i] };
            Place::new(self.course, self.shift[i], i, start + self.shift[i])
        });
        let is_edge = |place: &Place| matches!(place.form, Form::Edge { .. });
        if places.iter().any(is_edge) || (self.course.fault && places[0].form == Form::Zero) {
            return 0;
        }
        self.worst.fill(f64::NEG_INFINITY);
        for i in 0..3 {
            self.draw(i, is_air[i], below[i], &places[i]);
        }
        let fitting = self.worst.iter().take(count).position(|over| *over > 0.0).unwrap_or(count);
        let mut lines = self.until_varied(sums, is_air, fitting);
        while lines > 0 {
            match self.add(sums, lines, is_air, &places) {
                Ok(()) => return lines,
                Err(before) => lines = before,
            }
        }
        0
    }

    /// Reads the knots of a block, as long as the lines are of one length, and lets the wood follow; how many lines.
    fn take_in(&mut self, sums: &Sums, knots: &[Knot]) -> usize {
        let mut count = 0;
        let mut before_ms = None;
        for (index, knot) in knots.iter().take(self.size + 1).enumerate() {
            let even = before_ms.is_none_or(|ms| knot.at_ms.wrapping_sub(ms) as f64 == self.len);
            if !even || !sound(knot) {
                break;
            }
            let (safe, other) = if self.reversed { (knot.high_k, knot.low_k) } else { (knot.low_k, knot.high_k) };
            self.bounds[0].air[index] = safe;
            self.bounds[1].air[index] = knot.mean_k;
            self.bounds[2].air[index] = other;
            before_ms = Some(knot.at_ms);
            count = index;
        }
        let Some(tau) = self.tau else { return count };
        let (left, kept, lag) = (self.left, 1.0 - self.left, tau / self.len);
        let mut wood = sums.wood;
        for index in 0..count.min(BLOCK) {
            for (wood, lines) in wood.iter_mut().zip(self.bounds.iter_mut()) {
                let (a, b) = (lines.air[index], lines.air[index + 1]);
                let rise = b - a;
                lines.wood[index] = *wood;
                *wood = *wood * left + ((a - rise * lag) * kept + rise);
                lines.wood[index + 1] = *wood;
            }
        }
        count
    }

    /// Draws the lines of one bound; `worst` rises above 0 where something happens in a line.
    fn draw(&mut self, bound: usize, is_air: bool, below: bool, place: &Place) {
        let (shift, inverse_len) = (self.shift[bound], 1.0 / self.len);
        let (tau, inverse_tau) = (self.tau.unwrap_or(0.0), self.tau.map_or(0.0, f64::recip));
        let q2 = (self.len * inverse_tau) * (self.len * inverse_tau);
        let bent = if is_air { f64::INFINITY } else { BENT_K / (q2 * q2) };
        let side = match (self.tau, below) {
            (None, _) => 0.0,
            (_, true) => 1.0,
            (_, false) => -1.0,
        };
        let (from_k, to_k, left_half) = (place.from_k - shift, place.to_k - shift, self.left_half);
        let Lines { air, wood, middle, slope, bend } = &mut self.bounds[bound];
        let worst = &mut *self.worst;
        for i in 0..self.size.min(BLOCK) {
            let (a, b) = (air[i], air[i + 1]);
            let rise = b - a;
            let along = rise * inverse_len;
            let c0 = a - along * tau;
            let d = wood[i] - c0;
            let half = d * left_half;
            let push = half * inverse_tau;
            let (start, end) = if is_air { (a, b) } else { (wood[i], wood[i + 1]) };
            middle[i] = shift + if is_air { (a + b) * 0.5 } else { c0 + rise * 0.5 + half };
            slope[i] = if is_air { along } else { along - push };
            bend[i] = if is_air { 0.0 } else { push * inverse_tau };
            let (low, high) = (least(start, end), most(start, end));
            let over = most(most(high - low - ONE_NODE_K, most(from_k - low, high - to_k)), most(d, -d) - bent);
            worst[i] = most(worst[i], most(over, (wood[i + 1] - b) * side));
        }
    }

    /// The ends of a bound's lines.
    fn ends(&self, bound: usize, is_air: bool) -> &[f64; BLOCK + 1] {
        if is_air { &self.bounds[bound].air } else { &self.bounds[bound].wood }
    }

    /// How many of the lines there are before the temperature first varies by more than two kelvin.
    fn until_varied(&self, sums: &Sums, is_air: [bool; 3], lines: usize) -> usize {
        if sums.varied || self.course.allowance == 0.0 || lines == 0 {
            return lines;
        }
        let (safe, other) = (self.ends(0, is_air[0]), self.ends(2, is_air[2]));
        let (mut low, mut high) = sums.range;
        for index in 0..=lines.min(BLOCK) {
            low = least(low, least(safe[index], other[index]));
            high = most(high, most(safe[index], other[index]));
            if high - low > VARIED_K {
                return index.saturating_sub(1);
            }
        }
        lines
    }

    /// Adds the progress of the lines; Err: a bound comes to its limit in the line with this number, nothing was added.
    fn add(&self, sums: &mut Sums, count: usize, is_air: [bool; 3], places: &[Place; 3]) -> Result<(), usize> {
        let mut done = sums.done;
        let mut evaluations = 0;
        let whole = self.len * count as f64;
        for bound in 0..3 {
            if sums.finished[bound].is_some() {
                continue;
            }
            let need = self.course.need(bound, sums.varied);
            match places[bound].form {
                Form::Straight { a, b } => {
                    evaluations += count as u64;
                    let mut each = [0.0; BLOCK];
                    self.progress(a, b, bound, count, &mut each);
                    for (index, more) in each.iter().take(count).enumerate() {
                        done[bound] += more;
                        if done[bound] >= need {
                            return Err(index);
                        }
                    }
                }
                form => {
                    let rate = form.rate(1.0);
                    if done[bound] + rate * whole >= need {
                        return Err(((need - done[bound]) / (rate * self.len)).min(count as f64 - 1.0) as usize);
                    }
                    done[bound] += rate * whole;
                }
            }
        }
        sums.done = done;
        sums.read += whole;
        sums.no_credit += if places[0].form == Form::Zero && sums.finished[0].is_none() { whole } else { 0.0 };
        sums.evaluations += evaluations;
        self.meet(sums, count, is_air);
        Ok(())
    }

    /// Notes the temperatures met and leaves the wood as it is at the end.
    fn meet(&self, sums: &mut Sums, count: usize, is_air: [bool; 3]) {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for bound in [0, 2] {
            for k in self.ends(bound, is_air[bound]).iter().take(count + 1) {
                (low, high) = (least(low, *k), most(high, *k));
            }
        }
        sums.range = (sums.range.0.min(low), sums.range.1.max(high));
        sums.met = (sums.met.0.min(low), sums.met.1.max(high));
        if self.tau.is_some() {
            for (wood, lines) in sums.wood.iter_mut().zip(self.bounds.iter()) {
                *wood = lines.wood.get(count).copied().unwrap_or(*wood);
            }
        }
    }

    /// Progress of each line: one node with the correction of `span::one_node`.
    fn progress(&self, a: f64, b: f64, bound: usize, count: usize, each: &mut [f64; BLOCK]) {
        let Lines { middle, slope, bend, .. } = &self.bounds[bound];
        let l2 = self.len * self.len;
        for i in 0..count.next_multiple_of(4).min(BLOCK) {
            let x = 1.0 / middle[i];
            let bx2 = b * x * x;
            let f1 = bx2 * slope[i];
            let f2 = bx2 * (bend[i] - 2.0 * slope[i] * slope[i] * x);
            let u = f1 * f1 * l2;
            let power = least(most(-a - b * x, -690.0), 690.0);
            each[i] = self.len * exp_plain(power) * (1.0 + (u + f2 * l2) * (1.0 / 24.0) + u * u * (1.0 / 1920.0));
        }
    }
}

/// Smaller of two, without the care for NaN that keeps `f64::min` from vector lanes.
#[inline(always)]
fn least(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// Larger of two.
#[inline(always)]
fn most(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

impl Place {
    /// Where a temperature is on the curve of a bound.
    fn new(course: &Course, shift: f64, bound: usize, t_k: f64) -> Place {
        let floor_k = course.floor_k(shift) - 1e-11;
        if t_k < floor_k {
            return Place { form: Form::Zero, from_k: f64::NEG_INFINITY, to_k: floor_k };
        }
        let curve = &course.law.curves[bound];
        let index = curve.find(t_k);
        let (to_k, form) = curve.piece(index);
        Place { form, from_k: curve.lower(index).max(floor_k), to_k }
    }
}
