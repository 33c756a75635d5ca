//! What is between the air and the glue: nothing, something that keeps it warm, or wood that lags behind.

use super::span::Span;
use crate::air::Piece;
use crate::number::exp;
use crate::wood::Lag;

/// What the glue's temperature comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Body {
    /// The warmer of the air and a temperature that stays (components in a pot, wood at the start), K.
    Warmer(Option<f64>),
    /// The glue line in wood: a lag with this time constant, ms.
    Wood {
        /// Time constant, ms.
        tau: f64,
        /// The start temperature was measured.
        known: bool,
    },
}

/// The spans of all three bounds over one piece, at most two each.
#[derive(Clone, Copy, Debug)]
pub struct Spans {
    spans: [[Span; 2]; 3],
    count: [usize; 3],
    shift: [f64; 3],
}

impl Spans {
    /// The spans of one bound.
    #[inline]
    pub fn of(&self, bound: usize) -> &[Span] {
        self.spans[bound].get(..self.count[bound]).unwrap_or(&[])
    }

    /// Lowest and highest temperature up to s, without sensor error, K: over the safe and the other bound.
    pub fn extremes(&self, s: f64) -> (f64, f64) {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for bound in [0, 2] {
            for span in self.of(bound).iter().filter(|span| span.at <= s) {
                let last = if s - span.at >= span.len { span.ends.1 } else { span.temperature(s - span.at) };
                low = low.min(span.ends.0.min(last) - self.shift[bound]);
                high = high.max(span.ends.0.max(last) - self.shift[bound]);
            }
        }
        (low, high)
    }
}

impl Body {
    /// The start temperature of the wood is known, or there is no wood.
    pub fn wood_is_known(&self) -> bool {
        !matches!(self, Body::Wood { known: false, .. })
    }

    /// The spans of a piece; the wood is left as it is at its end.
    pub fn spans(&self, piece: &Piece, wood: &mut [f64; 3]) -> Spans {
        match self {
            Body::Warmer(stays) => warmer(piece, *stays),
            Body::Wood { tau, .. } => lagging(piece, *tau, wood),
        }
    }

    /// The air alone.
    pub fn air_only(&self, piece: &Piece) -> Spans {
        warmer(piece, None)
    }

    /// Lets the wood follow the air without asking for spans.
    pub fn follow(&self, piece: &Piece, wood: &mut [f64; 3]) {
        if let Body::Wood { tau, .. } = self {
            let len = piece.to - piece.from;
            let left = exp(-(len / tau).min(700.0));
            for (bound, wood) in wood.iter_mut().enumerate() {
                let m = (piece.b[bound] - piece.a[bound]) / len;
                let lag = Lag::new(*wood, piece.a[bound], m, *tau);
                *wood = lag.c0 + m * len + lag.d * left;
            }
        }
    }
}

fn warmer(piece: &Piece, stays: Option<f64>) -> Spans {
    let len = piece.to - piece.from;
    let none = Span::line(0.0, len, 0.0, 0.0);
    let mut spans = Spans { spans: [[none; 2]; 3], count: [1; 3], shift: piece.shift };
    for bound in 0..3 {
        let shift = piece.shift[bound];
        let (a, b) = (piece.a[bound], piece.b[bound]);
        let k = stays.unwrap_or(f64::NEG_INFINITY);
        let line = |at: f64, len: f64, a: f64, b: f64| Span::line(at, len, a + shift, b + shift);
        if a >= k && b >= k {
            spans.spans[bound][0] = line(0.0, len, a, b);
        } else if a <= k && b <= k {
            spans.spans[bound][0] = line(0.0, len, k, k);
        } else if (k - a).is_nan() || (b - a).is_nan() {
            spans.spans[bound][0] = line(0.0, len, f64::NAN, f64::NAN);
        } else {
            let s = len * (k - a) / (b - a);
            let (first, second) = if a > k { ((a, k), (k, k)) } else { ((k, k), (k, b)) };
            spans.spans[bound] = [line(0.0, s, first.0, first.1), line(s, len - s, second.0, second.1)];
            spans.count[bound] = 2;
        }
    }
    spans
}

/// Safe: the lower of air and wood. Expected: the wood. Other: the higher.
fn lagging(piece: &Piece, tau: f64, wood: &mut [f64; 3]) -> Spans {
    let len = piece.to - piece.from;
    let left = exp(-(len / tau).min(700.0));
    let none = Span::line(0.0, len, 0.0, 0.0);
    let mut spans = Spans { spans: [[none; 2]; 3], count: [1; 3], shift: piece.shift };
    for (bound, wood) in wood.iter_mut().enumerate() {
        let behind = Behind::new(piece, bound, tau, *wood, left);
        *wood = behind.end;
        (spans.spans[bound], spans.count[bound]) = behind.spans(bound, none);
    }
    spans
}

/// Air and wood of one bound over a piece.
pub struct Behind {
    lag: Lag,
    tau: f64,
    len: f64,
    shift: f64,
    /// The air's ends.
    a: f64,
    b: f64,
    /// The wood's ends.
    start: f64,
    end: f64,
}

impl Behind {
    fn new(piece: &Piece, bound: usize, tau: f64, start: f64, left: f64) -> Behind {
        let len = piece.to - piece.from;
        let (a, b) = (piece.a[bound], piece.b[bound]);
        let lag = Lag::new(start, a, (b - a) / len, tau);
        let end = lag.c0 + lag.m * len + lag.d * left;
        Behind { lag, tau, len, shift: piece.shift[bound], a, b, start, end }
    }

    /// From the ends of the air and of the wood over a length.
    pub fn between((a, b, start, end): (f64, f64, f64, f64), tau: f64, len: f64, shift: f64) -> Behind {
        Behind { lag: Lag::new(start, a, (b - a) / len, tau), tau, len, shift, a, b, start, end }
    }

    /// The spans of a bound: one, or two where wood and air meet.
    pub fn spans(&self, bound: usize, none: Span) -> ([Span; 2], usize) {
        let takes_wood = |wood_k: f64, air_k: f64| match bound {
            0 => wood_k <= air_k,
            1 => true,
            _ => wood_k >= air_k,
        };
        let (start, end, a, b, len) = (self.start, self.end, self.a, self.b, self.len);
        let differ = (start < a) != (end < b);
        let meets = if differ { self.lag.meets(self.tau).filter(|s| *s > 0.0 && *s < len) } else { None };
        let Some(s) = meets else {
            // Compared in the middle, where neither touches the other.
            let wooden = takes_wood(start + end, a + b);
            return ([if wooden { self.wood(0.0, len, start, end) } else { self.air(0.0, len, a, b) }, none], 1);
        };
        let k = a + self.lag.m * s;
        let first = if takes_wood(start, a) { self.wood(0.0, s, start, k) } else { self.air(0.0, s, a, k) };
        let second = if takes_wood(end, b) { self.wood(s, len - s, k, end) } else { self.air(s, len - s, k, b) };
        ([first, second], 2)
    }

    fn air(&self, at: f64, len: f64, from: f64, to: f64) -> Span {
        Span::line(at, len, from + self.shift, to + self.shift)
    }

    fn wood(&self, at: f64, len: f64, from: f64, to: f64) -> Span {
        let Lag { c0, m, d } = self.lag;
        Span {
            at,
            len,
            c0: c0 + m * at + self.shift,
            m,
            d: if at == 0.0 { d } else { d * exp(-(at / self.tau).min(700.0)) },
            inverse_tau: 1.0 / self.tau,
            ends: (from + self.shift, to + self.shift),
        }
    }
}
