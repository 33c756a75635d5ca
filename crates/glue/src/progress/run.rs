//! A run of close readings of one source, the common case: the same sums as piece by piece, in blocks without branches.
//!
//! A block goes on as long as nothing happens in a line: no border of the law is passed, no bound comes to its limit,
//! the temperature changes by less than 0.2 K. The line where something does is left to the general way; one in which
//! the wood meets the air is put in by itself. The wood is found line by line (it needs the line before), then each
//! bound's progress in a loop that the compiler can spread over vector lanes.
//! Long because the steps of a block share its arrays and are read one after the other.

mod lanes;

use super::shape::{Behind, Body};
use super::span::{Atom, BENT_K, ONE_NODE_K, Span, stretches};
use super::{Course, Sums, VARIED_K};
use crate::air::source::sound;
use crate::air::{JOINED_MS, View};
use crate::clock::{Direction, Knot};
use crate::law::curve::Form;
use crate::number::{PLAUSIBLE_K, after, exp, exp_plain};
use lanes::{chosen, least, most, sum};

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

/// Who decides the temperature of a bound in a block: the wood, the air, or now one and now the other.
const WOOD: u8 = 0;
const AIR: u8 = 1;
const BOTH: u8 = 2;

/// Where a bound is that has come to its limit.
const ANYWHERE: Place = Place { form: Form::Zero, from_k: f64::NEG_INFINITY, to_k: f64::INFINITY };

/// One bound over a block: the air's and the wood's temperatures at the ends of the lines, K, and each line's progress.
#[derive(Clone, Copy)]
struct Lines {
    air: [f64; BLOCK + 1],
    wood: [f64; BLOCK + 1],
    each: [f64; BLOCK],
    /// Below zero where wood and air change sides in the line.
    side: [f64; BLOCK],
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
        let lines = Lines { air: ends, wood: ends, each, side: each };
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
        let places = [0, 1, 2].map(|i| {
            let (air, wood) = (self.bounds[i].air[0], self.bounds[i].wood[0]);
            Place::new(self.course, self.shift[i], i, chosen(i, air, wood) + self.shift[i])
        });
        let is_edge = |place: &Place| matches!(place.form, Form::Edge { .. });
        if places.iter().any(is_edge) || (self.course.fault && places[0].form == Form::Zero) {
            return 0;
        }
        self.worst.fill(f64::NEG_INFINITY);
        for (bound, place) in places.iter().enumerate() {
            match (place.form, bound) {
                _ if sums.finished[bound].is_some() => self.look(bound, &ANYWHERE),
                (Form::Straight { .. }, 0) => match self.who(0) {
                    WOOD => self.draw::<0, WOOD>(place),
                    AIR => self.draw::<0, AIR>(place),
                    _ => self.draw::<0, BOTH>(place),
                },
                (Form::Straight { .. }, 1) => self.draw::<1, WOOD>(place),
                (Form::Straight { .. }, _) => match self.who(2) {
                    WOOD => self.draw::<2, WOOD>(place),
                    AIR => self.draw::<2, AIR>(place),
                    _ => self.draw::<2, BOTH>(place),
                },
                _ => self.look(bound, place),
            }
        }
        let fitting = self.worst.iter().take(count).position(|over| *over > 0.0).unwrap_or(count);
        let mut lines = self.until_varied(sums, fitting);
        while lines > 0 {
            match self.add(sums, lines, &places) {
                Ok(()) => return lines,
                Err(before) => lines = before,
            }
        }
        0
    }

    /// Reads the knots of a block, as long as the lines are of one length, and lets the wood follow; how many lines.
    fn take_in(&mut self, sums: &Sums, knots: &[Knot]) -> usize {
        let mut count = 0;
        let len_ms = self.len as i64;
        let mut due_ms = knots.first().map_or(0, |knot| knot.at_ms);
        let [safe, middle, other] = &mut *self.bounds;
        for (index, knot) in knots.iter().take(self.size + 1).enumerate() {
            let (low, high) =
                (least(knot.low_k, least(knot.mean_k, knot.high_k)), most(knot.low_k, most(knot.mean_k, knot.high_k)));
            // The sum is equal to itself unless one of the three is not a number.
            let all = knot.low_k + knot.mean_k + knot.high_k;
            let sound = low >= PLAUSIBLE_K.0 && high <= PLAUSIBLE_K.1 && !all.is_nan();
            if knot.at_ms != due_ms || !sound {
                break;
            }
            (safe.air[index], other.air[index]) =
                if self.reversed { (knot.high_k, knot.low_k) } else { (knot.low_k, knot.high_k) };
            middle.air[index] = knot.mean_k;
            due_ms = due_ms.wrapping_add(len_ms);
            count = index;
        }
        let Some(tau) = self.tau else {
            for lines in self.bounds.iter_mut() {
                lines.wood = lines.air;
            }
            return count;
        };
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

    /// Whether the wood or the air decides in all lines of a bound; notes where they meet.
    fn who(&mut self, bound: usize) -> u8 {
        if self.tau.is_none() {
            return AIR;
        }
        let Lines { air, wood, side, .. } = &mut self.bounds[bound];
        let mut nearest = f64::INFINITY;
        for i in 0..self.size.min(BLOCK) {
            side[i] = (wood[i] - air[i]) * (wood[i + 1] - air[i + 1]);
            nearest = least(nearest, side[i]);
        }
        let below = wood[0] + wood[1] < air[0] + air[1];
        match (nearest > 0.0, below == (bound == 0)) {
            (false, _) => BOTH,
            (true, true) => WOOD,
            (true, false) => AIR,
        }
    }

    /// Draws the lines of one bound and what each adds; `worst` rises above 0 where something happens in a line. One
    /// node with the correction of `span::one_node`, written out so that the loop has no branch.
    fn draw<const BOUND: usize, const WHO: u8>(&mut self, place: &Place) {
        let (shift, len, inverse_len) = (self.shift[BOUND], self.len, 1.0 / self.len);
        let (tau, inverse_tau) = (self.tau.unwrap_or(0.0), self.tau.map_or(0.0, f64::recip));
        let (law_a, law_b) = if let Form::Straight { a, b } = place.form { (a, b) } else { (0.0, 0.0) };
        let (q2, l2) = ((len * inverse_tau) * (len * inverse_tau), len * len);
        let bent = BENT_K / (q2 * q2);
        let (from_k, to_k, left_half) = (place.from_k - shift, place.to_k - shift, self.left_half);
        let Lines { air, wood, each, .. } = &mut self.bounds[BOUND];
        let worst = &mut *self.worst;
        for i in 0..self.size.min(BLOCK) {
            let (a, b, start, end) = (air[i], air[i + 1], wood[i], wood[i + 1]);
            let rise = b - a;
            let along = rise * inverse_len;
            let c0 = a - along * tau;
            let d = start - c0;
            let half = d * left_half;
            let push = half * inverse_tau;
            // Compared in the middle, where neither touches the other.
            let wooden = match WHO {
                WOOD => true,
                AIR => false,
                _ if BOUND == 0 => start + end <= a + b,
                _ => start + end >= a + b,
            };
            let middle = shift + if wooden { c0 + rise * 0.5 + half } else { (a + b) * 0.5 };
            let slope = if wooden { along - push } else { along };
            let bend = if wooden { push * inverse_tau } else { 0.0 };
            let (from, to) = if wooden { (start, end) } else { (a, b) };
            // The lower of two lines is never above the one chosen, and lowest at an end; so the other way round.
            let low = if BOUND == 0 { least(least(a, start), least(b, end)) } else { least(from, to) };
            let high = if BOUND == 2 { most(most(a, start), most(b, end)) } else { most(from, to) };
            let over = most(high - low - ONE_NODE_K, most(from_k - low, high - to_k));
            worst[i] = most(worst[i], if wooden { most(over, most(d, -d) - bent) } else { over });
            let x = 1.0 / middle;
            let bx2 = law_b * x * x;
            let f1 = bx2 * slope;
            let f2 = bx2 * (bend - 2.0 * slope * slope * x);
            let u = f1 * f1 * l2;
            let power = least(most(-law_a - law_b * x, -690.0), 690.0);
            each[i] = len * exp_plain(power) * (1.0 + (u + f2 * l2) * (1.0 / 24.0) + u * u * (1.0 / 1920.0));
        }
    }

    /// Looks at the lines of a bound whose rate does not depend on temperature.
    fn look(&mut self, bound: usize, place: &Place) {
        let (from_k, to_k) = (place.from_k - self.shift[bound], place.to_k - self.shift[bound]);
        let Lines { air, wood, .. } = &self.bounds[bound];
        for i in 0..self.size.min(BLOCK) {
            let (a, b, start, end) = (air[i], air[i + 1], wood[i], wood[i + 1]);
            // Air and wood both, so that nothing between them passes a border either.
            let low = if bound == 1 { least(start, end) } else { least(least(a, start), least(b, end)) };
            let high = if bound == 1 { most(start, end) } else { most(most(a, start), most(b, end)) };
            self.worst[i] = most(self.worst[i], most(from_k - low, high - to_k));
        }
    }

    /// How many of the lines there are before the temperature first varies by more than two kelvin.
    fn until_varied(&self, sums: &Sums, lines: usize) -> usize {
        if sums.varied || self.course.allowance == 0.0 || lines == 0 {
            return lines;
        }
        let (mut low, mut high) = sums.range;
        for index in 0..=lines.min(BLOCK) {
            low = least(low, self.chosen(0, index));
            high = most(high, self.chosen(2, index));
            if high - low > VARIED_K {
                return index.saturating_sub(1);
            }
        }
        lines
    }

    /// A bound's temperature at one end of a line, without sensor error.
    fn chosen(&self, bound: usize, index: usize) -> f64 {
        chosen(bound, self.bounds[bound].air[index], self.bounds[bound].wood[index])
    }

    /// Adds the progress of the lines; Err: a bound comes to its limit in the line with this number, nothing was added.
    fn add(&mut self, sums: &mut Sums, count: usize, places: &[Place; 3]) -> Result<(), usize> {
        let mut done = sums.done;
        let mut evaluations = 0;
        let whole = self.len * count as f64;
        for bound in 0..3 {
            if sums.finished[bound].is_some() {
                continue;
            }
            let need = self.course.need(bound, sums.varied);
            match places[bound].form {
                Form::Straight { .. } => {
                    evaluations += count as u64;
                    self.put_in_meetings(&places[bound].form, bound, count, &mut evaluations);
                    let each = self.bounds[bound].each.get(..count).unwrap_or(&[]);
                    let sum = sum(each);
                    if done[bound] + sum * (1.0 + 1e-12) < need {
                        done[bound] += sum;
                        continue;
                    }
                    for (index, more) in each.iter().enumerate() {
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
        self.note(sums, count);
        Ok(())
    }

    /// Notes the temperatures met and leaves the wood as it is at the end.
    fn note(&self, sums: &mut Sums, count: usize) {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let [safe, _, other] = &*self.bounds;
        for index in 0..=count.min(BLOCK) {
            low = least(low, least(safe.air[index], safe.wood[index]));
            high = most(high, most(other.air[index], other.wood[index]));
        }
        sums.range = (sums.range.0.min(low), sums.range.1.max(high));
        sums.met = (sums.met.0.min(low), sums.met.1.max(high));
        if self.tau.is_some() {
            for (wood, lines) in sums.wood.iter_mut().zip(self.bounds.iter()) {
                *wood = lines.wood.get(count).copied().unwrap_or(*wood);
            }
        }
    }

    /// The lines in which wood and air meet, in two parts each.
    fn put_in_meetings(&mut self, form: &Form, bound: usize, count: usize, evaluations: &mut u64) {
        let (Some(tau), false) = (self.tau, bound == 1) else { return };
        let Lines { air, wood, each, side } = &mut self.bounds[bound];
        if side.iter().take(count).fold(0.0, |nearest, side| least(nearest, *side)) >= 0.0 {
            return;
        }
        for (index, more) in each.iter_mut().enumerate().take(count).filter(|(index, _)| side[*index] < 0.0) {
            let ends = (air[index], air[index + 1], wood[index], wood[index + 1]);
            let behind = Behind::between(ends, tau, self.len, self.shift[bound]);
            let (spans, parts) = behind.spans(bound, Span::line(0.0, self.len, 0.0, 0.0));
            *more = 0.0;
            for span in spans.iter().take(parts) {
                let atom = Atom { from: 0.0, to: span.len, form: *form };
                stretches(span, &atom, evaluations, |stretch, _| {
                    *more += stretch.progress;
                    true
                });
            }
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

#[cfg(test)]
mod tests;
