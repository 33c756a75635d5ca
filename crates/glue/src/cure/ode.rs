//! Ordinary differential equations that are not stiff: Dormand and Prince's pair of orders 5 and 4 with its continuous
//! formula (J. Comput. Appl. Math. 6, 1980, 19; dense output as in Hairer, Nørsett and Wanner, from memory, and held to
//! closed forms by the tests).

/// What a solver could not do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unsolved {
    /// The step became too small to move on, at this instant, s.
    TooStiff(f64),
    /// More steps than allowed, at this instant, s.
    TooManySteps(f64),
    /// A value was no number any more, at this instant, s.
    NoNumber(f64),
    /// Fewer cells than two or more than 128 were asked for.
    Cells(usize),
}

impl core::fmt::Display for Unsolved {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let (what, at) = match self {
            Unsolved::TooStiff(at) => ("its step became too small", at),
            Unsolved::TooManySteps(at) => ("it took too many steps", at),
            Unsolved::NoNumber(at) => ("a value was no number any more", at),
            Unsolved::Cells(cells) => return write!(f, "{cells} cells were asked for; 2 to 128 can be solved"),
        };
        write!(f, "the solver did not converge: {what} after {:.1} min", at / 60.0)
    }
}

/// How exact.
#[derive(Clone, Copy, Debug)]
pub struct Tolerance<const N: usize> {
    /// Relative.
    pub relative: f64,
    /// Absolute, for each value.
    pub absolute: [f64; N],
    /// Longest step, s.
    pub longest: f64,
}

/// Work done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Work {
    /// Values of the right-hand side.
    pub calls: u32,
    /// Steps taken.
    pub steps: u32,
    /// Steps tried and thrown away.
    pub rejected: u32,
}

/// One step taken, and the curve along it.
#[derive(Clone, Copy, Debug)]
pub struct Step<const N: usize> {
    /// Beginning, s.
    pub from: f64,
    /// Length, s.
    pub length: f64,
    /// Values at its end.
    pub end: [f64; N],
    /// Slopes at its end.
    pub slope: [f64; N],
    curve: [[f64; N]; 5],
}

impl<const N: usize> Step<N> {
    /// Values at a share of the step, 0 to 1.
    pub fn at(&self, share: f64) -> [f64; N] {
        let back = 1.0 - share;
        let [c1, c2, c3, c4, c5] = &self.curve;
        core::array::from_fn(|i| {
            let [c1, c2, c3, c4, c5] = [c1, c2, c3, c4, c5].map(|c| c.get(i).copied().unwrap_or(f64::NAN));
            c1 + share * (c2 + back * (c3 + share * (c4 + back * c5)))
        })
    }

    /// The share at which something that is negative at the start and not negative at the end crosses 0.
    pub fn crossing(&self, of: impl Fn(&[f64; N]) -> f64) -> Option<f64> {
        if of(&self.at(0.0)) >= 0.0 || of(&self.at(1.0)) < 0.0 {
            return None;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = (low + high) / 2.0;
            if of(&self.at(middle)) < 0.0 { low = middle } else { high = middle }
        }
        Some(high)
    }
}

const MOST: u32 = 100_000;
/// Coefficients of the stages, row by row.
const A: [[f64; 6]; 6] = [
    [0.2, 0.0, 0.0, 0.0, 0.0, 0.0],
    [3.0 / 40.0, 9.0 / 40.0, 0.0, 0.0, 0.0, 0.0],
    [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0, 0.0, 0.0, 0.0],
    [19_372.0 / 6_561.0, -25_360.0 / 2_187.0, 64_448.0 / 6_561.0, -212.0 / 729.0, 0.0, 0.0],
    [9_017.0 / 3_168.0, -355.0 / 33.0, 46_732.0 / 5_247.0, 49.0 / 176.0, -5_103.0 / 18_656.0, 0.0],
    [35.0 / 384.0, 0.0, 500.0 / 1_113.0, 125.0 / 192.0, -2_187.0 / 6_784.0, 11.0 / 84.0],
];
const C: [f64; 6] = [0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0];
/// Fifth order less fourth.
const E: [f64; 7] =
    [71.0 / 57_600.0, 0.0, -71.0 / 16_695.0, 71.0 / 1_920.0, -17_253.0 / 339_200.0, 22.0 / 525.0, -1.0 / 40.0];
/// The continuous formula's last row.
const D: [f64; 7] = [
    -12_715_105_075.0 / 11_282_082_432.0,
    0.0,
    87_487_479_700.0 / 32_700_410_799.0,
    -10_690_763_975.0 / 1_880_347_072.0,
    701_980_252_875.0 / 199_316_789_632.0,
    -1_453_857_185.0 / 822_651_844.0,
    69_997_945.0 / 29_380_423.0,
];

/// Weighted sum of slopes.
#[inline]
fn mixed<const N: usize>(weights: &[f64], k: &[[f64; N]; 7]) -> [f64; N] {
    let mut sum = [0.0; N];
    for (weight, k) in weights.iter().zip(k) {
        if *weight != 0.0 {
            for (sum, k) in sum.iter_mut().zip(k) {
                *sum += weight * k;
            }
        }
    }
    sum
}

#[inline]
fn moved<const N: usize>(y: &[f64; N], h: f64, k: &[f64; N]) -> [f64; N] {
    let mut to = *y;
    for (to, k) in to.iter_mut().zip(k) {
        *to += h * k;
    }
    to
}

/// Runs from `from` to `to`, handing each step to `see`, which says whether to go on. Gives the last instant and values.
///
/// Errors: a step too small, too many steps, a value that is no number: never a result that only looks like one.
pub fn solve<const N: usize>(
    rhs: impl Fn(f64, &[f64; N]) -> [f64; N],
    (from, to): (f64, f64),
    start: [f64; N],
    tolerance: &Tolerance<N>,
    work: &mut Work,
    mut see: impl FnMut(&Step<N>) -> bool,
) -> Result<(f64, [f64; N]), Unsolved> {
    let (mut t, mut y) = (from, start);
    let mut slope = rhs(t, &y);
    work.calls += 1;
    let mut h = tolerance.longest.min((to - from) * 1e-3);
    while t < to {
        if work.steps + work.rejected > MOST {
            return Err(Unsolved::TooManySteps(t));
        }
        let last = t + h >= to;
        let length = if last { to - t } else { h };
        let mut k = [slope; 7];
        let mut end = y;
        for (stage, (row, c)) in A.iter().zip(C).enumerate() {
            end = moved(&y, length, &mixed(row, &k));
            if let Some(into) = k.get_mut(stage + 1) {
                *into = rhs(t + c * length, &end);
            }
        }
        work.calls += 6;
        let error = error(&mixed(&E, &k), length, &y, &end, tolerance);
        // A trial so long that a value runs away is only too long; a shorter one may do.
        let grow = if error.is_finite() { (0.9 * libm::pow(error.max(1e-10), -0.2)).clamp(0.2, 5.0) } else { 0.2 };
        if error.is_nan() || error > 1.0 {
            work.rejected += 1;
            h = length * grow;
            if h < 1e-10 * t.abs().max(1e-6) {
                return Err(if error.is_finite() { Unsolved::TooStiff(t) } else { Unsolved::NoNumber(t) });
            }
            continue;
        }
        work.steps += 1;
        let step = taken(t, length, &y, end, &k);
        slope = step.slope;
        (t, y) = (if last { to } else { t + length }, end);
        h = (length * grow).min(tolerance.longest);
        if !see(&step) {
            break;
        }
    }
    Ok((t, y))
}

fn error<const N: usize>(e: &[f64; N], h: f64, y: &[f64; N], end: &[f64; N], tolerance: &Tolerance<N>) -> f64 {
    let mut sum = 0.0;
    for (((e, y), end), absolute) in e.iter().zip(y).zip(end).zip(&tolerance.absolute) {
        let scaled = h * e / (absolute + tolerance.relative * y.abs().max(end.abs()));
        sum += scaled * scaled;
    }
    libm::sqrt(sum / N as f64)
}

fn taken<const N: usize>(t: f64, h: f64, y: &[f64; N], end: [f64; N], k: &[[f64; N]; 7]) -> Step<N> {
    let slope = k.last().copied().unwrap_or(end);
    let first = k.first().copied().unwrap_or(end);
    let dense = mixed(&D, k);
    let mut curve = [*y; 5];
    let of = |from: &[f64; N], i: usize| from.get(i).copied().unwrap_or(f64::NAN);
    for i in 0..N {
        let rise = of(&end, i) - of(y, i);
        let bend = h * of(&first, i) - rise;
        let rest = [rise, bend, rise - h * of(&slope, i) - bend, h * of(&dense, i)];
        for (row, value) in curve.iter_mut().skip(1).zip(rest) {
            if let Some(into) = row.get_mut(i) {
                *into = value;
            }
        }
    }
    Step { from: t, length: h, end, slope, curve }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FINE: Tolerance<2> = Tolerance { relative: 1e-10, absolute: [1e-12; 2], longest: 10.0 };

    #[test]
    fn a_circle_and_the_curve_between() {
        let mut work = Work::default();
        let mut worst: f64 = 0.0;
        let swing = |_: f64, y: &[f64; 2]| [y[1], -y[0]];
        let (_, end) = solve(swing, (0.0, 20.0), [0.0, 1.0], &FINE, &mut work, |step| {
            for share in [0.25, 0.5, 0.75] {
                worst = worst.max((step.at(share)[0] - libm::sin(step.from + share * step.length)).abs());
            }
            true
        })
        .unwrap();
        assert!((end[0] - libm::sin(20.0)).abs() < 1e-8 && worst < 1e-7, "{end:?} {worst} {work:?}");
        assert_eq!(work.calls, 6 * (work.steps + work.rejected) + 1);
    }

    #[test]
    fn what_blows_up_is_said() {
        let blow = |_: f64, y: &[f64; 2]| [y[0] * y[0], 0.0];
        let end = solve(blow, (0.0, 2.0), [1.0, 0.0], &FINE, &mut Work::default(), |_| true);
        assert!(matches!(end, Err(Unsolved::TooStiff(at) | Unsolved::NoNumber(at)) if at < 1.001), "{end:?}");
        let over = |_: f64, y: &[f64; 2]| [-libm::exp(libm::fabs(y[0]) * 1e3 - 5.0), 0.0];
        let far = Tolerance { longest: 1e6, ..FINE };
        let end = solve(over, (0.0, 2.0e6), [0.001, 0.0], &far, &mut Work::default(), |step| step.end[0] > 0.0);
        assert!(end.is_ok_and(|(_, y)| y[0] <= 0.0), "a first trial that runs away is taken back: {end:?}");
        let odd = solve(|_, _| [f64::NAN; 2], (0.0, 2.0), [1.0, 0.0], &FINE, &mut Work::default(), |_| true);
        assert!(matches!(odd, Err(Unsolved::NoNumber(_))), "{odd:?}");
    }
}
