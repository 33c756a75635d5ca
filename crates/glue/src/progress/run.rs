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

/// Lines in a block.
const BLOCK: usize = 64;

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
}

/// Where a bound is on its curve: the form, and the temperatures between which it holds.
#[derive(Clone, Copy)]
struct Place {
    form: Form,
    from_k: f64,
    to_k: f64,
}

/// Temperatures in the middle of the lines of a block, their slopes (K/ms) and bends (K/ms²).
struct Lines {
    middle: [[f64; BLOCK]; 3],
    slope: [[f64; BLOCK]; 3],
    bend: [[f64; BLOCK]; 3],
    count: usize,
    wood: [f64; 3],
    /// Lowest and highest of safe and other, without sensor error.
    range: (f64, f64),
}

impl Sums {
    /// How many lines between the knots were gone along.
    pub fn run(&mut self, course: &Course, view: &View, knots: &[Knot], shift: [f64; 3]) -> usize {
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
        let mut run = Run { course, tau, shift, reversed, len: -1.0, left: 1.0, left_half: 1.0 };
        let mut gone = 0;
        while let Some(rest) = knots.get(gone..).filter(|rest| rest.len() > 1) {
            let lines = run.block(self, rest);
            if lines == 0 {
                break;
            }
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
        let air = self.bounds(first);
        let below = [0, 1, 2].map(|i| sums.wood[i] < air[i]);
        let is_air = [self.tau.is_none() || !below[0], self.tau.is_none(), self.tau.is_none() || below[2]];
        let places = [0, 1, 2].map(|i| {
            let start = if is_air[i] { air[i] } else { sums.wood[i] };
            Place::new(self.course, self.shift[i], i, start + self.shift[i])
        });
        let is_edge = |place: &Place| matches!(place.form, Form::Edge { .. });
        if places.iter().any(is_edge) || (self.course.fault && places[0].form == Form::Zero) {
            return 0;
        }
        let mut most = BLOCK.min(knots.len() - 1);
        loop {
            let lines = self.lines(sums, knots, most, &places, is_air, below);
            if lines.count == 0 {
                return 0;
            }
            match self.add(sums, &lines, &places) {
                Ok(()) => return lines.count,
                Err(0) => return 0,
                Err(before) => most = before,
            }
        }
    }

    #[inline(always)]
    fn bounds(&self, knot: &Knot) -> [f64; 3] {
        if self.reversed { [knot.high_k, knot.mean_k, knot.low_k] } else { [knot.low_k, knot.mean_k, knot.high_k] }
    }

    /// The lines up to the first in which something happens.
    fn lines(
        &self,
        sums: &Sums,
        knots: &[Knot],
        most: usize,
        places: &[Place; 3],
        is_air: [bool; 3],
        below: [bool; 3],
    ) -> Lines {
        let blank = [[0.0; BLOCK]; 3];
        let none = (f64::INFINITY, f64::NEG_INFINITY);
        let mut lines = Lines { middle: blank, slope: blank, bend: blank, count: 0, wood: sums.wood, range: none };
        let (tau, inverse_len) = (self.tau.unwrap_or(0.0), 1.0 / self.len);
        let inverse_tau = self.tau.map_or(0.0, f64::recip);
        let q2 = (self.len * inverse_tau) * (self.len * inverse_tau);
        let bent = BENT_K / (q2 * q2);
        let watched = !sums.varied && self.course.allowance > 0.0;
        let Some(mut a) = knots.first().map(|knot| self.bounds(knot)) else { return lines };
        let mut at_ms = knots.first().map_or(0, |knot| knot.at_ms);
        for (index, knot) in knots.iter().skip(1).take(most).enumerate() {
            let b = self.bounds(knot);
            let mut fits = knot.at_ms.wrapping_sub(at_ms) as f64 == self.len && sound(knot);
            let (mut wood, mut ends) = ([0.0; 3], [(0.0, 0.0); 3]);
            for i in 0..3 {
                let rise = b[i] - a[i];
                let slope = rise * inverse_len;
                let c0 = a[i] - slope * tau;
                let start = lines.wood[i];
                let d = start - c0;
                let end = c0 + rise + d * self.left;
                wood[i] = end;
                let half = d * self.left_half;
                let (from, to, middle, slope, bend) = if is_air[i] {
                    (a[i], b[i], (a[i] + b[i]) * 0.5, slope, 0.0)
                } else {
                    let push = half * inverse_tau;
                    (start, end, c0 + rise * 0.5 + half, slope - push, push * inverse_tau)
                };
                let (low, high) = (from.min(to) + self.shift[i], from.max(to) + self.shift[i]);
                fits &= high - low < ONE_NODE_K && low > places[i].from_k && high < places[i].to_k;
                fits &= is_air[i] || d.abs() < bent;
                fits &= self.tau.is_none() || (end < b[i]) == below[i];
                ends[i] = (from.min(to), from.max(to));
                lines.middle[i][index] = middle + self.shift[i];
                lines.slope[i][index] = slope;
                lines.bend[i][index] = bend;
            }
            let range = (lines.range.0.min(ends[0].0).min(ends[2].0), lines.range.1.max(ends[0].1).max(ends[2].1));
            let varies = watched && range.1.max(sums.range.1) - range.0.min(sums.range.0) > VARIED_K;
            if !fits || varies {
                break;
            }
            lines.range = range;
            lines.wood = wood;
            lines.count = index + 1;
            (a, at_ms) = (b, knot.at_ms);
        }
        lines
    }

    /// Adds the progress of the lines; Err: a bound comes to its limit in the line with this number, nothing was added.
    fn add(&self, sums: &mut Sums, lines: &Lines, places: &[Place; 3]) -> Result<(), usize> {
        let mut done = sums.done;
        let mut evaluations = 0;
        let whole = self.len * lines.count as f64;
        for bound in 0..3 {
            if sums.finished[bound].is_some() {
                continue;
            }
            let need = self.course.need(bound, sums.varied);
            match places[bound].form {
                Form::Straight { a, b } => {
                    evaluations += lines.count as u64;
                    let mut each = [0.0; BLOCK];
                    self.progress(a, b, lines, bound, &mut each);
                    for (index, more) in each.iter().take(lines.count).enumerate() {
                        done[bound] += more;
                        if done[bound] >= need {
                            return Err(index);
                        }
                    }
                }
                form => {
                    let rate = form.rate(1.0);
                    if done[bound] + rate * whole >= need {
                        return Err(((need - done[bound]) / (rate * self.len)) as usize % lines.count);
                    }
                    done[bound] += rate * whole;
                }
            }
        }
        sums.done = done;
        sums.wood = lines.wood;
        sums.range = (sums.range.0.min(lines.range.0), sums.range.1.max(lines.range.1));
        sums.met = (sums.met.0.min(lines.range.0), sums.met.1.max(lines.range.1));
        sums.read += whole;
        sums.no_credit += if places[0].form == Form::Zero && sums.finished[0].is_none() { whole } else { 0.0 };
        sums.evaluations += evaluations;
        Ok(())
    }

    /// Progress of each line: one node with the correction of `span::one_node`.
    #[inline(never)]
    fn progress(&self, a: f64, b: f64, lines: &Lines, bound: usize, each: &mut [f64; BLOCK]) {
        let (middle, slope, bend) = (&lines.middle[bound], &lines.slope[bound], &lines.bend[bound]);
        let l2 = self.len * self.len;
        let blocks = lines.count.next_multiple_of(4).min(BLOCK);
        for i in 0..blocks {
            let x = 1.0 / middle[i];
            let bx2 = b * x * x;
            let f1 = bx2 * slope[i];
            let f2 = bx2 * (bend[i] - 2.0 * slope[i] * slope[i] * x);
            let u = f1 * f1 * l2;
            let power = (-a - b * x).clamp(-690.0, 690.0);
            each[i] = self.len * exp_plain(power) * (1.0 + (u + f2 * l2) * (1.0 / 24.0) + u * u * (1.0 / 1920.0));
        }
    }
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
