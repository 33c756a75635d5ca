//! ln t as a function of temperature, in pieces: straight in 1/T, constant, or the edge of a prediction band.

use super::fit::Fit;
use crate::number::exp;

/// One piece of a curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// No progress.
    Zero,
    /// Constant rate, 1/ms.
    Constant(f64),
    /// ln t = a + b / T.
    Straight {
        /// ln of the time in ms at infinite temperature.
        a: f64,
        /// Activation energy by gas constant, K.
        b: f64,
    },
    /// ln t = a + b / T + h sqrt(1 + 1/n + (1/T - xbar)²/Sxx).
    Edge {
        /// The fit.
        fit: Fit,
        /// q s, positive for the upper edge.
        h: f64,
    },
}

impl Form {
    /// ln t at x = 1/T; infinite without progress.
    pub fn ln_t(&self, x: f64) -> f64 {
        match self {
            Form::Zero => f64::INFINITY,
            Form::Constant(rate) => -libm::log(*rate),
            Form::Straight { a, b } => a + b * x,
            Form::Edge { fit, h } => fit.a + fit.b * x + h * band(fit, x),
        }
    }

    /// Progress per ms at T.
    pub fn rate(&self, t_k: f64) -> f64 {
        match self {
            Form::Zero => 0.0,
            Form::Constant(rate) => *rate,
            _ => exp(-self.ln_t(1.0 / t_k)),
        }
    }
}

fn band(fit: &Fit, x: f64) -> f64 {
    libm::sqrt(1.0 + 1.0 / fit.n + (x - fit.xbar) * (x - fit.xbar) / fit.sxx)
}

/// A curve: pieces in rising temperature, each up to `upto_k`.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    pieces: Vec<(f64, Form)>,
}

impl Curve {
    /// The same time at every temperature, ms.
    pub fn constant(ms: f64) -> Curve {
        Curve { pieces: vec![(f64::INFINITY, Form::Constant(1.0 / ms))] }
    }

    /// From pieces in rising temperature; the last reaches to infinity.
    pub fn new(pieces: Vec<(f64, Form)>) -> Curve {
        Curve { pieces }
    }

    /// Upper end, K, and form of the piece with this number.
    pub fn piece(&self, index: usize) -> (f64, Form) {
        self.pieces.get(index).copied().unwrap_or((f64::INFINITY, Form::Zero))
    }

    /// Lower end of a piece, K.
    pub fn lower(&self, index: usize) -> f64 {
        match index {
            0 => f64::NEG_INFINITY,
            _ => self.pieces.get(index - 1).map_or(f64::INFINITY, |piece| piece.0),
        }
    }

    /// The piece a temperature lies in; on a border the lower one.
    pub fn find(&self, t_k: f64) -> usize {
        let last = self.pieces.len().saturating_sub(1);
        self.pieces.iter().position(|piece| t_k <= piece.0).unwrap_or(last)
    }

    /// The time of the limit at T, ms.
    pub fn time_ms(&self, t_k: f64) -> f64 {
        libm::exp(self.piece(self.find(t_k)).1.ln_t(1.0 / t_k))
    }

    /// All times multiplied by a share above 0.
    pub fn times(self, share: f64) -> Curve {
        let ln = libm::log(share);
        let form = |form: Form| match form {
            Form::Zero => Form::Zero,
            Form::Constant(rate) => Form::Constant(rate / share),
            Form::Straight { a, b } => Form::Straight { a: a + ln, b },
            Form::Edge { fit, h } => Form::Edge { fit: Fit { a: fit.a + ln, ..fit }, h },
        };
        Curve { pieces: self.pieces.into_iter().map(|(upto_k, one)| (upto_k, form(one))).collect() }
    }

    /// At every temperature the shorter time of two curves.
    pub fn faster_of(self, other: Curve) -> Curve {
        let ends = self.pieces.iter().chain(&other.pieces).map(|piece| piece.0);
        let mut breaks: Vec<f64> = ends.filter(|t| t.is_finite()).collect();
        breaks.sort_by(f64::total_cmp);
        breaks.dedup();
        let both = |t: f64| vec![self.piece(self.find(t)).1, other.piece(other.find(t)).1];
        outermost(&breaks, both, false)
    }

    /// Constant below T: no longer than at T, nor than `most_ms`.
    pub fn capped_below(self, t_k: f64, most_ms: f64) -> Curve {
        let cap = Form::Constant(1.0 / self.time_ms(t_k).min(most_ms));
        let mut pieces = vec![(t_k, cap)];
        pieces.extend(self.pieces.into_iter().filter(|piece| piece.0 > t_k));
        Curve { pieces }
    }

    /// Nowhere longer than `most_ms`.
    pub fn at_most(self, most_ms: f64) -> Curve {
        let breaks: Vec<f64> = self.pieces.iter().map(|piece| piece.0).filter(|t| t.is_finite()).collect();
        let hold = Form::Constant(1.0 / most_ms);
        outermost(&breaks, |t| vec![self.piece(self.find(t)).1, hold], false)
    }

    /// Constant above T: no faster than at T.
    pub fn capped_above(self, t_k: f64) -> Curve {
        let cap = Form::Constant(1.0 / self.time_ms(t_k));
        let covering = self.piece(self.find(t_k)).1;
        let mut pieces: Vec<(f64, Form)> = self.pieces.into_iter().filter(|piece| piece.0 < t_k).collect();
        pieces.push((t_k, covering));
        pieces.push((f64::INFINITY, cap));
        Curve { pieces }
    }
}

/// The outermost of several forms over the temperatures between `breaks_k` (rising): the slowest (`slow`) or fastest.
pub fn outermost(breaks_k: &[f64], forms_at: impl Fn(f64) -> Vec<Form>, slow: bool) -> Curve {
    let mut cuts = breaks_k.to_vec();
    let mut edges = vec![0.0];
    edges.extend_from_slice(breaks_k);
    edges.push(f64::INFINITY);
    for pair in edges.windows(2) {
        let [from, to] = [pair[0], pair[1]];
        let forms = forms_at(between(from, to));
        for (i, one) in forms.iter().enumerate() {
            for other in &forms[i + 1..] {
                cuts.extend(crossings(one, other).into_iter().map(f64::recip).filter(|t| *t > from && *t < to));
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    let mut edges = vec![0.0];
    edges.extend(cuts);
    edges.push(f64::INFINITY);
    let pieces = edges.windows(2).filter(|pair| pair[1] > pair[0]).map(|pair| {
        let t = between(pair[0], pair[1]);
        let forms = forms_at(t);
        let chosen = forms.into_iter().reduce(|a, b| {
            let a_slower = a.ln_t(1.0 / t) >= b.ln_t(1.0 / t);
            if a_slower == slow { a } else { b }
        });
        (pair[1], chosen.unwrap_or(Form::Zero))
    });
    Curve { pieces: pieces.collect() }
}

fn between(from: f64, to: f64) -> f64 {
    if to.is_finite() { (from + to) / 2.0 } else { from + 50.0 }
}

/// Where two forms give the same time, as 1/T. Straight against edge is a quadratic once the root is squared.
fn crossings(one: &Form, other: &Form) -> Vec<f64> {
    let line = |form: &Form| match form {
        Form::Straight { a, b } => Some((*a, *b)),
        Form::Constant(rate) => Some((-libm::log(*rate), 0.0)),
        _ => None,
    };
    match (line(one), line(other), one, other) {
        (Some((a, b)), Some((c, d)), ..) if b != d => vec![(c - a) / (b - d)],
        (Some((a, b)), None, _, Form::Edge { fit, h }) | (None, Some((a, b)), Form::Edge { fit, h }, _) => {
            edge_crossings(a, b, fit, *h)
        }
        _ => vec![],
    }
}

/// a + b x = fit.a + fit.b x + h sqrt(c + (x - xbar)²/Sxx), with u = x - xbar.
fn edge_crossings(a: f64, b: f64, fit: &Fit, h: f64) -> Vec<f64> {
    let p = a - fit.a + (b - fit.b) * fit.xbar;
    let q = b - fit.b;
    let (aa, bb, cc) = (q * q - h * h / fit.sxx, 2.0 * p * q, p * p - h * h * (1.0 + 1.0 / fit.n));
    let roots = if aa == 0.0 {
        vec![-cc / bb]
    } else {
        let root = libm::sqrt((bb * bb - 4.0 * aa * cc).max(-1.0));
        vec![(-bb - root) / (2.0 * aa), (-bb + root) / (2.0 * aa)]
    };
    roots.into_iter().filter(|u| u.is_finite() && (p + q * u) * h >= 0.0).map(|u| u + fit.xbar).collect()
}
