//! The air of a place as pieces of straight lines: what the readings say, what a person vouched for, and what has to be
//! assumed where nobody measured.
//!
//! Lines come in the order of the bounds: safe, expected, other. For must-reach the safe line is the lowest, for
//! must-not-exceed the highest.

pub mod ahead;
pub mod forecast;
pub mod source;

use crate::clock::{Air, Direction, Floor, Knot, Stay};
use crate::number::{MINUTE, after};
use core::ops::ControlFlow;
use source::{Has, Sight, Value};

/// A knot is joined to the next by a straight line up to this distance, and the last one holds as long, ms.
pub const JOINED_MS: i64 = 15 * MINUTE as i64;
/// Up to this distance the worse end counts; beyond, nothing is known, ms.
pub const KNOWN_MS: i64 = 120 * MINUTE as i64;
/// The warmest shop assumed where there are no readings, K.
pub const ASSUMED_K: f64 = 303.15;

/// What a piece rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// Readings.
    Read,
    /// The lowest shown by a min-max thermometer.
    Lowest,
    /// A floor a person vouched for.
    Vouched,
    /// Nothing.
    Nothing,
    /// Nothing; the lines are the hottest that has to be reckoned with.
    Hottest,
}

/// A stretch in which each bound's temperature is a straight line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// From, ms after the base.
    pub from: f64,
    /// To, ms after the base.
    pub to: f64,
    /// Temperatures at `from`, without sensor error, K.
    pub a: [f64; 3],
    /// Temperatures at `to`, K.
    pub b: [f64; 3],
    /// What each bound adds for the sensor's error, K.
    pub shift: [f64; 3],
    /// What it rests on.
    pub sort: Sort,
    /// Without readings for longer than two hours.
    pub long_gap: bool,
}

impl Piece {
    /// The part between two instants inside it.
    pub fn part(&self, from: f64, to: f64) -> Piece {
        let mut part = *self;
        for i in 0..3 {
            let m = (self.b[i] - self.a[i]) / (self.to - self.from);
            if from > self.from {
                part.a[i] = self.a[i] + m * (from - self.from);
            }
            if to < self.to {
                part.b[i] = self.a[i] + m * (to - self.from);
            }
        }
        part.from = from;
        part.to = to;
        part
    }
}

/// How the air is looked at: for which direction, known when, counted from where.
#[derive(Clone, Copy, Debug)]
pub struct View {
    /// Direction of the clock.
    pub direction: Direction,
    /// Nothing later exists, ms.
    pub known_ms: i64,
    /// Zero of the pieces' instants, ms.
    pub base_ms: i64,
    /// The hottest to reckon with where there are no readings, K.
    pub hottest_k: f64,
}

/// Who goes along the pieces.
pub trait Walker {
    /// One piece; the pieces come in time order without holes.
    fn take(&mut self, piece: &Piece) -> ControlFlow<()>;

    /// A run of readings of the only source, joined by straight lines: how many of the lines were gone along at once.
    /// Whatever is left comes as pieces.
    fn take_run(&mut self, _view: &View, _knots: &[Knot], _shift: [f64; 3]) -> usize {
        0
    }
}

/// Hands the pieces between two instants (after the base) to a walker.
pub fn walk<W: Walker>(view: &View, path: &[Stay], from: f64, to: f64, walker: &mut W) -> ControlFlow<()> {
    let nowhere = Air::default();
    let begins = |index: usize| path.get(index).map_or(f64::INFINITY, |stay| after(view.base_ms, stay.from_ms));
    let mut index = 0;
    let mut t = from;
    while t < to {
        while begins(index + 1) <= t {
            index += 1;
        }
        let end = begins(index + 1).min(to);
        let air = path.get(index).and_then(|stay| stay.air).unwrap_or(&nowhere);
        walk_air(view, air, t, end, walker)?;
        t = end;
    }
    ControlFlow::Continue(())
}

fn walk_air<W: Walker>(view: &View, air: &Air, from: f64, to: f64, walker: &mut W) -> ControlFlow<()> {
    let mut sights: Vec<Sight> = air.sources.iter().map(|source| Sight::new(view, source, from)).collect();
    let mut values: Vec<Value> = Vec::with_capacity(sights.len());
    // Lines alone, without a floor or a min-max thermometer that would change them.
    let plain = air.vouched.is_empty() && air.sources.iter().all(|source| source.lowest.is_empty());
    let mut t = from;
    while t < to {
        if let ([sight], true) = (sights.as_mut_slice(), plain) {
            t = sight.run_of_lines(t, to, walker)?;
            if t >= to {
                break;
            }
        }
        let mut end = to;
        values.clear();
        for sight in &mut sights {
            let value = sight.value(t);
            end = end.min(value.until);
            values.push(value);
        }
        let vouched = vouched_at(view, &air.vouched, t, &mut end);
        let piece = combine(view, &values, vouched, t, end);
        walker.take(&piece)?;
        t = piece.to;
    }
    ControlFlow::Continue(())
}

/// The highest floor vouched for at t; `end` is drawn in to where that changes.
fn vouched_at(view: &View, floors: &[Floor], t: f64, end: &mut f64) -> Option<f64> {
    let mut best = None;
    for floor in floors.iter().filter(|floor| floor.from_ms <= view.known_ms && source::plausible(floor.k)) {
        let (from, until) = (after(view.base_ms, floor.from_ms), after(view.base_ms, floor.until_ms));
        if from > t {
            *end = end.min(from);
        } else if until > t {
            *end = end.min(until);
            best = Some(floor.k.max(best.unwrap_or(floor.k)));
        }
    }
    best
}

/// One piece out of what the sources say, each a straight line over [from, end] at least.
fn combine(view: &View, values: &[Value], vouched: Option<f64>, from: f64, end: f64) -> Piece {
    let must_reach = view.direction == Direction::MustReach;
    let read = values.iter().any(|value| value.has == Has::Read);
    let lowest = must_reach && values.iter().any(|value| value.has == Has::Lowest);
    let long_gap = !read && values.iter().all(|value| value.long_gap);
    let mut piece =
        Piece { from, to: end, a: [f64::NAN; 3], b: [f64::NAN; 3], shift: [0.0; 3], sort: Sort::Nothing, long_gap };
    match (read || lowest, vouched) {
        (true, _) => {
            piece.sort = if read { Sort::Read } else { Sort::Lowest };
            merge(view, values, |value| value.has != Has::Nothing, read, &mut piece);
        }
        (false, Some(k)) if must_reach => {
            piece.sort = Sort::Vouched;
            (piece.a, piece.b) = ([k; 3], [k; 3]);
        }
        _ if must_reach => {}
        _ => {
            merge(view, values, |value| value.has == Has::Nothing, false, &mut piece);
            hottest(view, &mut piece);
        }
    }
    piece
}

/// Where nobody measured: the hottest of both ends and of what the card names, for a must-not-exceed clock. The sensor's
/// error is on the ends only.
fn hottest(view: &View, piece: &mut Piece) {
    let ends = [piece.a[0] + piece.shift[0], piece.a[0], piece.a[0]];
    piece.a = ends.map(|end| if end > view.hottest_k { end } else { view.hottest_k });
    piece.b = piece.a;
    piece.shift = [0.0; 3];
    piece.sort = Sort::Hottest;
}

/// Pointwise: the outermost for safe and other, the mean of means for expected (`read`: only of readings). Where two
/// sources cross, the piece is cut there.
fn merge(view: &View, values: &[Value], with: impl Fn(&Value) -> bool, read: bool, piece: &mut Piece) {
    let chosen = || values.iter().filter(|value| with(value));
    let sign = if view.direction == Direction::MustReach { 1.0 } else { -1.0 };
    for (bound, sign) in [(0, sign), (2, -sign)] {
        let counts = |value: &&Value| bound == 0 || !read || value.has == Has::Read;
        let key = |value: &Value, t: f64| sign * (value.at(bound, t) + value.shift[bound]);
        let first = chosen().filter(counts).min_by(|x, y| {
            let here = key(x, piece.from).total_cmp(&key(y, piece.from));
            here.then(key(x, piece.to).total_cmp(&key(y, piece.to)))
        });
        let Some(first) = first else { continue };
        for other in chosen().filter(counts) {
            let (d0, d1) =
                (key(other, piece.from) - key(first, piece.from), key(other, piece.to) - key(first, piece.to));
            if d0 > 0.0 && d1 < 0.0 {
                let cross = piece.from + (piece.to - piece.from) * d0 / (d0 - d1);
                if cross > piece.from + 1e-6 && cross < piece.to {
                    piece.to = cross;
                }
            }
        }
    }
    // The lines are read off once the end is settled.
    for (bound, sign) in [(0, sign), (2, -sign)] {
        let key = |value: &Value, t: f64| sign * (value.at(bound, t) + value.shift[bound]);
        let counts = |value: &&Value| bound == 0 || !read || value.has == Has::Read;
        let middle = (piece.from + piece.to) / 2.0;
        let first = chosen().filter(counts).min_by(|x, y| key(x, middle).total_cmp(&key(y, middle)));
        if let Some(first) = first {
            piece.shift[bound] = first.shift[bound];
            piece.a[bound] = first.at(bound, piece.from);
            piece.b[bound] = first.at(bound, piece.to);
        }
    }
    mean_of_means(chosen().filter(|value| !read || value.has == Has::Read), piece);
}

fn mean_of_means<'a>(values: impl Iterator<Item = &'a Value>, piece: &mut Piece) {
    let (mut a, mut b, mut n) = (0.0, 0.0, 0.0);
    for value in values.filter(|value| !value.at(1, piece.from).is_nan()) {
        a += value.at(1, piece.from);
        b += value.at(1, piece.to);
        n += 1.0;
    }
    (piece.a[1], piece.b[1]) = (a / n, b / n);
}
