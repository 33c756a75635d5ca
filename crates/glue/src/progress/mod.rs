//! Progress of one clock along the pieces of its air, in all three bounds at once.
//!
//! Everything is counted in ms after the clock's start. Progress is the plain integral of dt/t(T); spread and allowance
//! are asked for by [`Course::need`].

pub mod run;
pub mod shape;
pub mod span;

use crate::air::{Piece, Sort};
use crate::clock::Direction;
use crate::law::{Law, curve::Form};
use shape::{Body, Spans};
use span::{atoms, crossing, stretches};

/// More progress asked once the temperature has varied.
pub const ALLOWANCE: f64 = 0.05;
/// The same where the card shows that its slopes agree.
pub const AGREED: f64 = 0.02;
/// How much it has to vary for that, K; exactly two kelvin are not more than two, whatever a double makes of them.
pub const VARIED_K: f64 = 2.0 + 1e-9;
/// How near an instant is looked for by halving, ms.
const NEAR_MS: f64 = 1e-4;
/// How long it has to be too cold for a fault, ms.
const FAULT_MS: f64 = 60_000.0;

/// What does not change along the way.
#[derive(Clone, Debug)]
pub struct Course {
    /// Law of the limit.
    pub law: Law,
    /// Direction.
    pub direction: Direction,
    /// What is between the air and the glue.
    pub body: Body,
    /// Minimum cure temperature and whether the card states it, K.
    pub minimum: Option<(f64, bool)>,
    /// Below the minimum is a fault.
    pub fault: bool,
    /// Shares used at the start.
    pub carried: [f64; 3],
    /// Stretches without must-reach credit, ms after the start.
    pub pending: Vec<(f64, f64)>,
    /// More progress asked once the temperature has varied; 0 for plain times.
    pub allowance: f64,
}

/// Where a clock stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Sums {
    /// Instant, ms after the start.
    pub at: f64,
    /// Progress of each bound.
    pub done: [f64; 3],
    /// When each bound came to its limit.
    pub finished: [Option<f64>; 3],
    /// Temperature of the wood in each bound, K.
    pub wood: [f64; 3],
    /// Lowest and highest temperature used, without sensor error, K.
    pub range: (f64, f64),
    /// Lowest and highest temperature that rests on readings, K.
    pub met: (f64, f64),
    /// It has varied by more than two kelvin.
    pub varied: bool,
    /// Without credit at the safe bound, ms.
    pub no_credit: f64,
    /// Inside gaps longer than two hours, ms.
    pub gap: f64,
    /// With readings, ms.
    pub read: f64,
    /// A vouched floor gave credit.
    pub vouched: bool,
    /// A drying adhesive left its stated range.
    pub outside: bool,
    /// Too cold since.
    pub cold_since: Option<f64>,
    /// One whole minute too cold.
    pub fault: Option<f64>,
    /// Exponentials evaluated.
    pub evaluations: u64,
}

impl Sums {
    /// Before anything happened, at an instant at or before the start.
    pub fn new(at: f64, wood_k: f64) -> Sums {
        let none = (f64::INFINITY, f64::NEG_INFINITY);
        Sums {
            at,
            done: [0.0; 3],
            finished: [None; 3],
            wood: [wood_k; 3],
            range: none,
            met: none,
            varied: false,
            no_credit: 0.0,
            gap: 0.0,
            read: 0.0,
            vouched: false,
            outside: false,
            cold_since: None,
            fault: None,
            evaluations: 0,
        }
    }

    /// All three bounds have come to the limit.
    pub fn all_finished(&self) -> bool {
        self.finished.iter().all(Option::is_some)
    }

    /// Goes along one piece; one that does not go forward in time is left out.
    pub fn step(&mut self, course: &Course, piece: &Piece) {
        if piece.to.is_nan() || piece.from.is_nan() || piece.to <= piece.from {
            return;
        }
        if piece.from < 0.0 && piece.to > 0.0 {
            self.step(course, &piece.part(piece.from, 0.0));
            return self.step(course, &piece.part(0.0, piece.to));
        }
        if let Some(cut) = course.cut_inside(piece) {
            self.step(course, &piece.part(piece.from, cut));
            return self.step(course, &piece.part(cut, piece.to));
        }
        self.at = piece.to;
        if piece.from < 0.0 || piece.sort == Sort::Nothing {
            self.wait(course, piece);
            self.cold_since = None;
        } else {
            self.go(course, piece);
        }
    }

    /// Nothing is credited; where nobody measured, the wood is taken to stay as it was.
    fn wait(&mut self, course: &Course, piece: &Piece) {
        if piece.from >= 0.0 {
            self.no_credit += piece.to - piece.from;
            self.gap += if piece.long_gap { piece.to - piece.from } else { 0.0 };
        }
        if piece.sort != Sort::Nothing {
            course.body.follow(piece, &mut self.wood);
        }
    }

    fn go(&mut self, course: &Course, piece: &Piece) {
        let spans = course.body.spans(piece, &mut self.wood);
        let len = piece.to - piece.from;
        match piece.sort {
            Sort::Read | Sort::Lowest => self.read += len,
            _ if piece.long_gap => self.gap += len,
            _ => {}
        }
        if piece.sort == Sort::Read {
            self.leave_range(course, piece, &spans);
        }
        let cut = self.varies(course, piece, &spans);
        for bound in 0..3 {
            let credited = !(course.direction == Direction::MustReach && course.is_pending(piece));
            if bound == 0 && cut.is_some() {
                let cut = cut.unwrap_or(len);
                self.advance(course, piece, &spans, bound, (0.0, cut), credited);
                self.varied = true;
                if self.finished[0].is_none() && self.done[0] >= course.need(0, true) {
                    self.finished[0] = Some(piece.from + cut);
                }
                self.advance(course, piece, &spans, bound, (cut, len), credited);
            } else {
                self.advance(course, piece, &spans, bound, (0.0, len), credited);
            }
        }
        self.vouched |= piece.sort == Sort::Vouched;
        if course.fault {
            self.look_for_fault(course, piece, &spans);
        }
    }

    /// Notes the temperatures met; Some: where in the piece the variation first exceeds two kelvin. It is the highest of
    /// the highest less the lowest of the lowest, whatever each bound makes of a gap.
    fn varies(&mut self, course: &Course, piece: &Piece, spans: &Spans) -> Option<f64> {
        let (low, high) = spans.extremes(f64::INFINITY);
        if matches!(piece.sort, Sort::Read | Sort::Lowest) {
            self.met = (self.met.0.min(low), self.met.1.max(high));
        }
        let before = self.range;
        self.range = (before.0.min(low), before.1.max(high));
        if self.varied || course.allowance == 0.0 || self.range.1 - self.range.0 <= VARIED_K {
            return None;
        }
        let exceeds = |s: f64| {
            let (low, high) = spans.extremes(s);
            before.1.max(high) - before.0.min(low) > VARIED_K
        };
        if exceeds(0.0) {
            return Some(0.0);
        }
        let (mut low, mut high) = (0.0, piece.to - piece.from);
        while high - low > NEAR_MS.max(high * f64::EPSILON) {
            let middle = (low + high) / 2.0;
            if exceeds(middle) { high = middle } else { low = middle }
        }
        Some(high)
    }

    /// Progress of one bound over a part of the piece, up to its limit.
    fn advance(
        &mut self,
        course: &Course,
        piece: &Piece,
        spans: &Spans,
        bound: usize,
        (from, to): (f64, f64),
        credited: bool,
    ) {
        if self.finished[bound].is_some() {
            return;
        }
        if !credited {
            self.no_credit += if bound == 0 { to - from } else { 0.0 };
            return;
        }
        let need = course.need(bound, self.varied);
        let floor_k = course.floor_k(piece.shift[bound]);
        let curve = &course.law.curves[bound];
        let mut evaluations = 0;
        for span in spans.of(bound) {
            let (begin, end) = ((from - span.at).max(0.0), (to - span.at).min(span.len));
            if end <= begin {
                continue;
            }
            atoms(span, curve, floor_k, |mut atom| {
                (atom.from, atom.to) = (atom.from.max(begin), atom.to.min(end));
                if bound == 0 && atom.form == Form::Zero {
                    self.no_credit += (atom.to - atom.from).max(0.0);
                }
                stretches(span, &atom, &mut evaluations, |stretch, evaluations| {
                    let missing = need - self.done[bound];
                    if stretch.progress < missing {
                        self.done[bound] += stretch.progress;
                        return true;
                    }
                    let s = crossing(span, &atom.form, &stretch, missing, evaluations);
                    self.finished[bound] = Some(piece.from + span.at + s);
                    self.done[bound] = need;
                    false
                });
                self.finished[bound].is_none()
            });
            if self.finished[bound].is_some() {
                break;
            }
        }
        self.evaluations += evaluations;
    }

    /// A drying adhesive outside its stated range is over at once.
    fn leave_range(&mut self, course: &Course, piece: &Piece, spans: &Spans) {
        let Some((low_k, high_k)) = course.law.range_k.filter(|_| !self.outside) else {
            return;
        };
        let is_out = |s: f64| {
            let (low, high) = spans.extremes(s);
            low < low_k - 1e-9 || high > high_k + 1e-9
        };
        let len = piece.to - piece.from;
        if !is_out(len) {
            return;
        }
        let (mut inside, mut out) = (0.0, len);
        if is_out(0.0) {
            out = 0.0;
        }
        while out - inside > NEAR_MS.max(out * f64::EPSILON) {
            let middle = (inside + out) / 2.0;
            if is_out(middle) { out = middle } else { inside = middle }
        }
        self.outside = true;
        for finished in &mut self.finished {
            *finished = Some(finished.map_or(piece.from + out, |at| at.min(piece.from + out)));
        }
    }

    /// One whole minute below the minimum. Wood that is only assumed to be cold is no evidence: then the air counts.
    fn look_for_fault(&mut self, course: &Course, piece: &Piece, spans: &Spans) {
        if self.fault.is_some() || !matches!(piece.sort, Sort::Read | Sort::Lowest) {
            self.cold_since = None;
            return;
        }
        let floor_k = course.floor_k(piece.shift[0]);
        let air = course.body.air_only(piece);
        let judged = if course.body.wood_is_known() { spans.of(0) } else { air.of(0) };
        for span in judged {
            atoms(span, &course.law.curves[0], floor_k, |atom| {
                let (from, to) = (piece.from + span.at + atom.from, piece.from + span.at + atom.to);
                if atom.form != Form::Zero {
                    self.cold_since = None;
                    return true;
                }
                let since = *self.cold_since.get_or_insert(from);
                if to - since >= FAULT_MS {
                    self.fault = Some(since + FAULT_MS);
                }
                self.fault.is_none()
            });
        }
    }
}

impl Course {
    /// The plain progress at which a bound has come to its limit.
    pub fn need(&self, bound: usize, varied: bool) -> f64 {
        let allowance = if varied { self.allowance } else { 0.0 };
        let factor = match (bound, self.direction) {
            (0, Direction::MustReach) => (1.0 + self.law.spread) * (1.0 + allowance),
            (0, Direction::MustNotExceed) => (1.0 - self.law.spread) * (1.0 - allowance),
            _ => 1.0,
        };
        factor * (1.0 - self.carried[bound]).max(0.0)
    }

    /// Share of the limit used, by the plain progress.
    pub fn share(&self, bound: usize, done: f64, varied: bool) -> f64 {
        let left = 1.0 - self.carried[bound];
        if left <= 0.0 {
            return 1.0;
        }
        self.carried[bound] + done / self.need(bound, varied) * left
    }

    /// Below this the bound makes no progress, K. Where the card states no minimum, the safe reading itself (without
    /// the sensor's error) has to come to the lowest clamp point.
    fn floor_k(&self, shift: f64) -> f64 {
        match self.minimum {
            Some((k, true)) => k,
            Some((k, false)) => k + shift.min(0.0),
            None => f64::NEG_INFINITY,
        }
    }

    fn is_pending(&self, piece: &Piece) -> bool {
        self.pending.iter().any(|(from, to)| *from <= piece.from && piece.to <= *to)
    }

    fn cut_inside(&self, piece: &Piece) -> Option<f64> {
        let edges = self.pending.iter().flat_map(|(from, to)| [*from, *to]);
        edges.filter(|at| *at > piece.from && *at < piece.to).min_by(f64::total_cmp)
    }
}
