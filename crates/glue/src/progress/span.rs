//! A stretch in which a bound's temperature is one formula, and the progress made in it.
//!
//! T(s) = c0 + m s + d exp(-s/tau), rising or falling throughout. Progress = integral of ds / t(T(s)).

use crate::law::curve::{Curve, Form};
use crate::number::exp;

/// A stretch of one bound; instants in ms, temperatures in K.
#[derive(Clone, Copy, Debug)]
pub struct Span {
    /// Where it starts inside its piece.
    pub at: f64,
    /// Length.
    pub len: f64,
    /// Constant part.
    pub c0: f64,
    /// Slope.
    pub m: f64,
    /// Part that dies away; 0 for a straight line.
    pub d: f64,
    /// Inverse of its time constant.
    pub inverse_tau: f64,
    /// Temperatures at both ends.
    pub ends: (f64, f64),
}

/// Points and weights of Gauss on [0, 1], five nodes (Abramowitz & Stegun 25.4.30, from memory; checked in tests).
const NODES: [(f64, f64); 5] = [
    (0.046_910_077_030_668, 0.118_463_442_528_094_5),
    (0.230_765_344_947_158_5, 0.239_314_335_249_683_2),
    (0.5, 0.284_444_444_444_444_4),
    (0.769_234_655_052_841_5, 0.239_314_335_249_683_2),
    (0.953_089_922_969_332, 0.118_463_442_528_094_5),
];

/// One node is enough up to this span of temperature, K.
pub const ONE_NODE_K: f64 = 0.2;
/// What is left of the start times (length/tau)^4, up to which one node is enough: the term left out is this by
/// Ea/(R T²)/1920, 4e-10 of the rate at 100 kJ/mol, K.
pub const BENT_K: f64 = 5e-6;
/// Widest stretch for five nodes, K.
const FIVE_NODES_K: f64 = 10.0;
/// No temperature changes by more than this, K: both ends are plausible ones.
const ABSURD_K: f64 = 600.0;
/// A remainder of the start below this is no longer followed, K.
const DEAD_K: f64 = 1e-9;
/// A remainder of the start below this is taken to bend nothing, where the air is steady, K.
const FAINT_K: f64 = 1e-4;

impl Span {
    /// A straight line over `len`.
    pub fn line(at: f64, len: f64, a: f64, b: f64) -> Span {
        Span { at, len, c0: a, m: (b - a) / len, d: 0.0, inverse_tau: 0.0, ends: (a, b) }
    }

    /// Temperature at s, K.
    #[inline]
    pub fn temperature(&self, s: f64) -> f64 {
        if self.d == 0.0 {
            return self.c0 + self.m * s;
        }
        self.c0 + self.m * s + self.d * exp(-s * self.inverse_tau)
    }

    /// First instant at which it has come from its start to `t_k`, which lies between its ends.
    pub fn reaches(&self, t_k: f64) -> f64 {
        if self.d == 0.0 {
            return ((t_k - self.c0) / self.m).clamp(0.0, self.len);
        }
        let rising = self.ends.1 > self.ends.0;
        let (mut low, mut high) = (0.0, self.len);
        for _ in 0..200 {
            let middle = (low + high) / 2.0;
            if (self.temperature(middle) < t_k) == rising {
                low = middle
            } else {
                high = middle
            }
            if high - low <= 1e-7 {
                break;
            }
        }
        (low + high) / 2.0
    }
}

/// A stretch of a span in which one form of the law holds.
#[derive(Clone, Copy, Debug)]
pub struct Atom {
    /// From, inside the span.
    pub from: f64,
    /// To, inside the span.
    pub to: f64,
    /// The form.
    pub form: Form,
}

/// Cuts a span at `floor_k` (no progress below) and at the borders of the curve's pieces.
pub fn atoms(span: &Span, curve: &Curve, floor_k: f64, mut take: impl FnMut(Atom) -> bool) {
    // A reading typed as exactly the minimum counts; float noise must not decide it.
    let floor_k = if floor_k.is_nan() { f64::NEG_INFINITY } else { floor_k - 1e-11 };
    let (start, end) = span.ends;
    let rising = end >= start;
    let mut from = 0.0;
    let mut t = start;
    let mut index = curve.find(start);
    if rising && start > curve.lower(index) && curve.piece(index).0 == start && end > start {
        index += 1;
    }
    loop {
        let below = if rising { t < floor_k } else { t <= floor_k && end < t };
        let (form, border) = if below {
            (Form::Zero, if rising { floor_k } else { f64::NEG_INFINITY })
        } else if rising {
            let (upper, form) = curve.piece(index);
            (form, upper)
        } else {
            (curve.piece(index).1, curve.lower(index).max(floor_k))
        };
        let passes = if rising { end > border } else { end < border };
        let to = if passes { span.reaches(border).max(from) } else { span.len };
        if to > from && !take(Atom { from, to, form }) {
            return;
        }
        if !passes {
            return;
        }
        (from, t) = (to, border);
        if below {
            index = curve.find(border);
        } else if rising {
            index += 1;
        } else if border > floor_k {
            index = index.saturating_sub(1);
        }
    }
}

/// A stretch short enough for one rule of integration, and the progress made in it.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    /// From, inside the span.
    pub from: f64,
    /// To, inside the span.
    pub to: f64,
    /// Progress.
    pub progress: f64,
}

/// Cuts an atom of a span into stretches and integrates each, in time order, until `take` says stop; `evaluations`
/// counts exponentials.
pub fn stretches(span: &Span, atom: &Atom, evaluations: &mut u64, mut take: impl FnMut(Stretch, &mut u64) -> bool) {
    let mut from = atom.from;
    while from < atom.to {
        let to = if is_even(&atom.form) { atom.to } else { reach(span, from, atom.to) };
        let progress = integral(span, &atom.form, from, to, evaluations);
        if !take(Stretch { from, to, progress }, evaluations) {
            return;
        }
        from = to;
    }
}

/// The rate does not depend on temperature.
fn is_even(form: &Form) -> bool {
    matches!(form, Form::Zero | Form::Constant(_))
}

/// What is left of the start at s, K.
fn amplitude(span: &Span, s: f64) -> f64 {
    if span.d == 0.0 { 0.0 } else { (span.d * exp((-s * span.inverse_tau).max(-690.0))).abs() }
}

/// How far one rule of integration reaches from an instant.
fn reach(span: &Span, from: f64, to: f64) -> f64 {
    let left = amplitude(span, from);
    let mut len = to - from;
    if left > if span.m == 0.0 { FAINT_K } else { DEAD_K } {
        len = len.min(0.5 / span.inverse_tau);
    }
    let mut change = span.m.abs() * len + left;
    if change > ABSURD_K {
        // Air that jumps within moments: a steep line and what is left of the start nearly cancel.
        let (slope, q) = (span.m - span.d.signum() * left * span.inverse_tau, len * span.inverse_tau);
        change = change.min(slope.abs() * len + left * q * q / 2.0);
    }
    if change > FIVE_NODES_K {
        len *= FIVE_NODES_K / change;
    }
    if from + len > from && to - from - len > 1e-9 { from + len } else { to }
}

/// Progress over a stretch within the reach of one rule.
#[inline]
fn integral(span: &Span, form: &Form, from: f64, to: f64, evaluations: &mut u64) -> f64 {
    let len = to - from;
    match form {
        Form::Zero => 0.0,
        Form::Constant(rate) => rate * len,
        Form::Straight { a, b } if span.d == 0.0 && (span.m * len).abs() < ONE_NODE_K => {
            *evaluations += 1;
            one_node(*a, *b, span.c0 + span.m * (from + len / 2.0), span.m, 0.0, len)
        }
        _ => lagging(span, form, from, len, evaluations),
    }
}

fn lagging(span: &Span, form: &Form, from: f64, len: f64, evaluations: &mut u64) -> f64 {
    let left = amplitude(span, from);
    let q = len * span.inverse_tau;
    if let Form::Straight { a, b } = form {
        if span.m == 0.0 && left <= FAINT_K {
            *evaluations += 1;
            return faint(*a, *b, span, from, len);
        }
        if span.m.abs() * len + left * q < ONE_NODE_K && left * q * q * q * q < BENT_K {
            *evaluations += 1;
            let left = if span.d == 0.0 { 0.0 } else { span.d * exp(-(from + len / 2.0) * span.inverse_tau) };
            let t = span.c0 + span.m * (from + len / 2.0) + left;
            let slope = span.m - left * span.inverse_tau;
            return one_node(*a, *b, t, slope, left * span.inverse_tau * span.inverse_tau, len);
        }
    }
    *evaluations += NODES.len() as u64;
    NODES.iter().map(|(x, w)| w * form.rate(span.temperature(from + x * len))).sum::<f64>() * len
}

/// A remainder so small that the rate is straight in it: r(c0) (len + b/c0² integral of the remainder).
fn faint(a: f64, b: f64, span: &Span, from: f64, len: f64) -> f64 {
    let x = 1.0 / span.c0;
    let tau = if span.inverse_tau > 0.0 { 1.0 / span.inverse_tau } else { 0.0 };
    let at = |s: f64| exp((-s * span.inverse_tau).max(-690.0));
    let remainder = span.d * tau * (at(from) - at(from + len));
    exp(-a - b * x) * (len + b * x * x * remainder)
}

/// Mean of exp(f) over a short stretch of length `len`, f = -a - b/T, from its value in the middle:
/// exp(f) (1 + (f'² + f'') len²/24 + f'⁴ len⁴/1920).
#[inline]
pub fn one_node(a: f64, b: f64, t: f64, slope: f64, bend: f64, len: f64) -> f64 {
    let x = 1.0 / t;
    let f1 = b * x * x * slope;
    let f2 = b * x * x * (bend - 2.0 * slope * slope * x);
    let l2 = len * len;
    let u = f1 * f1 * l2;
    len * exp(-a - b * x) * (1.0 + (u + f2 * l2) * (1.0 / 24.0) + u * u * (1.0 / 1920.0))
}

/// The instant in a stretch at which its progress comes to `need`, which is at most the whole. Newton, kept inside a
/// shrinking bracket.
pub fn crossing(span: &Span, form: &Form, stretch: &Stretch, need: f64, evaluations: &mut u64) -> f64 {
    let (from, to) = (stretch.from, stretch.to);
    if need <= 0.0 {
        return from;
    }
    if let Form::Constant(rate) = form {
        return (from + need / rate).clamp(from, to);
    }
    let (mut low, mut high) = (from, to);
    let mut s = (from + (to - from) * (need / stretch.progress)).clamp(from, to);
    for _ in 0..100 {
        let off = integral(span, form, from, s, evaluations) - need;
        if off >= 0.0 {
            high = s
        } else {
            low = s
        }
        let step = off / form.rate(span.temperature(s));
        let next = if step.is_finite() && s - step > low && s - step < high { s - step } else { (low + high) / 2.0 };
        if (next - s).abs() <= 1e-6 || high - low <= 1e-6 {
            return next;
        }
        s = next;
    }
    high
}
