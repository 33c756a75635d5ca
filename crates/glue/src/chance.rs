//! How sure a finish is: many made-up batches of one clock, drawn from what is not known exactly, on one trace.
//!
//! Drawn for each batch: the sensor's error, evenly within its half-width (GUM 4.3.7: a stated limit and nothing else);
//! the sheet's time, evenly within its range and its spread; the activation energy, evenly within its interval; or,
//! where several points were fitted, slope, level and scatter of a new batch as the fit leaves them (the predictive
//! distribution, whose quantiles at one temperature are the prediction band's). The trace is put together into cells
//! first, so that a sample costs some hundred exponentials however many readings there were; a cell counts with its
//! mean temperature and the scatter inside it. docs/science/chance.md.

use crate::law::fit::Fit;
use crate::number::{GAS, PLAUSIBLE_K, exp, exp_plain};

/// What the time law is known to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Known {
    /// One point of the sheet and an interval of energies.
    Point {
        /// Its temperature, K.
        at_k: f64,
        /// Its time, shortest and longest, ms.
        times: (f64, f64),
        /// Activation energy, lowest and highest, J/mol.
        energies: (f64, f64),
    },
    /// A fit of several points, ln ms on 1/K.
    Fitted(Fit),
}

/// Everything that is not known exactly about one clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    /// The law.
    pub law: Known,
    /// Half-width of the spread of the sheet's own numbers, as a share: 0.1 for a handbook's.
    pub sheet: f64,
    /// Half-width of the sensor's error, K.
    pub sensor_k: f64,
    /// Below this the glue makes no progress, K.
    pub minimum_k: Option<f64>,
}

/// How many batches, and where the drawing begins; the same two numbers draw the same batches on every machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draws {
    /// Batches, 1 to 1 000 000.
    pub count: usize,
    /// Where the drawing begins.
    pub first: u64,
}

/// Why nothing was drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unusable {
    /// The trace is empty, does not rise in time, or holds a temperature outside -100 to 500 °C.
    Trace,
    /// The law or its doubt is no number, not positive, or upside down.
    Doubt,
    /// No batch at all, or more than a million.
    Count,
}

impl core::fmt::Display for Unusable {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Unusable::Trace => "the trace must rise in time and stay within -100 to 500 °C",
            Unusable::Doubt => "law and doubt must be positive numbers, the lower before the higher",
            Unusable::Count => "1 to 1000000 batches can be drawn",
        })
    }
}

/// When the batches finish.
#[derive(Clone, Debug, PartialEq)]
pub struct Finishes {
    /// Rising, ms after the trace's first instant; infinite where a batch does not finish within the horizon.
    sorted: Vec<f64>,
    /// Cells the trace was put together into.
    pub cells: usize,
}

impl Finishes {
    /// The finish that this share of the batches does not exceed, ms; None: that share does not finish, or the share
    /// lies outside 0 to 1.
    pub fn quantile(&self, share: f64) -> Option<f64> {
        if !(0.0..=1.0).contains(&share) {
            return None;
        }
        let rank = libm::ceil(share * self.sorted.len() as f64) as usize;
        self.sorted.get(rank.max(1) - 1).copied().filter(|ms| ms.is_finite())
    }

    /// Share of the batches that finish within the horizon.
    pub fn reached(&self) -> f64 {
        let count = self.sorted.iter().filter(|ms| ms.is_finite()).count();
        count as f64 / self.sorted.len() as f64
    }
}

/// Draws batches and lets each go along the trace of the glue's temperature: (ms, K) with straight lines between, the
/// last value held up to `horizon`, ms after its first instant.
///
/// Errors: a trace, a doubt or a number of batches that cannot be used.
pub fn finishes(trace: &[(f64, f64)], doubt: &Doubt, horizon: f64, draws: Draws) -> Result<Finishes, Unusable> {
    if draws.count == 0 || draws.count > 1_000_000 {
        return Err(Unusable::Count);
    }
    if !doubt.is_sound() || horizon.is_nan() {
        return Err(Unusable::Doubt);
    }
    let cells = Cells::of(trace, doubt).ok_or(Unusable::Trace)?;
    let mut dice = Dice(draws.first);
    let floor_k = doubt.minimum_k.unwrap_or(f64::NEG_INFINITY);
    let mut sorted: Vec<f64> = (0..draws.count)
        .map(|_| {
            let batch = doubt.draw(&mut dice);
            let at = cells.finish(&batch, floor_k);
            if at <= horizon { at } else { f64::INFINITY }
        })
        .collect();
    sorted.sort_by(f64::total_cmp);
    Ok(Finishes { sorted, cells: cells.count })
}

/// One batch: ln t = a + b/T at T = reading + error.
#[derive(Clone, Copy, Debug)]
struct Batch {
    a: f64,
    b: f64,
    error_k: f64,
}

impl Doubt {
    fn is_sound(&self) -> bool {
        let in_order = |(low, high): (f64, f64)| low > 0.0 && low <= high && high < 1e300;
        let law = match self.law {
            Known::Point { at_k, times, energies } => {
                at_k >= PLAUSIBLE_K.0 && at_k <= PLAUSIBLE_K.1 && in_order(times) && in_order(energies)
            }
            Known::Fitted(fit) => {
                let all = [fit.a, fit.b, fit.xbar, fit.sxx, fit.s, fit.n];
                all.iter().all(|x| x.is_finite()) && fit.sxx > 0.0 && fit.s >= 0.0 && fit.n >= 2.0 && fit.n < 1e6
            }
        };
        let minimum = self.minimum_k.is_none_or(f64::is_finite);
        law && minimum && (0.0..1.0).contains(&self.sheet) && (0.0..=50.0).contains(&self.sensor_k)
    }

    /// The batch in the middle of everything.
    fn middle(&self) -> (f64, f64) {
        match self.law {
            Known::Point { at_k, times, energies } => {
                let b = (energies.0 + energies.1) / 2.0 / GAS;
                (libm::log((times.0 + times.1) / 2.0) - b / at_k, b)
            }
            Known::Fitted(fit) => (fit.a, fit.b),
        }
    }

    fn draw(&self, dice: &mut Dice) -> Batch {
        let (a, b) = match self.law {
            Known::Point { at_k, times, energies } => {
                let b = dice.between(energies) / GAS;
                (libm::log(dice.between(times)) - b / at_k, b)
            }
            Known::Fitted(fit) => drawn_line(&fit, dice),
        };
        let spread = if self.sheet > 0.0 { libm::log(dice.between((1.0 - self.sheet, 1.0 + self.sheet))) } else { 0.0 };
        Batch { a: a + spread, b, error_k: dice.between((-self.sensor_k, self.sensor_k)) }
    }
}

/// A new batch's line: the scatter is known by n - 2 residuals only, the level by n points, the slope by their spread.
fn drawn_line(fit: &Fit, dice: &mut Dice) -> (f64, f64) {
    let free = fit.n - 2.0;
    if free < 1.0 || fit.s == 0.0 {
        return (fit.a, fit.b);
    }
    let scatter = fit.s * libm::sqrt(free / dice.chi_squared(free));
    let b = fit.b + scatter * dice.normal() / libm::sqrt(fit.sxx);
    let level = fit.a + fit.b * fit.xbar + scatter * (dice.normal() / libm::sqrt(fit.n) + dice.normal());
    (level - b * fit.xbar, b)
}

/// Lines of the trace put together.
struct Cells {
    /// Length, ms.
    len: Vec<f64>,
    /// Mean temperature, K.
    mean: Vec<f64>,
    /// Half its variance inside the cell, K².
    half_variance: Vec<f64>,
    /// Held after the last cell, K.
    last_k: f64,
    /// How many there are; the lists are filled up to whole chunks.
    count: usize,
}

/// Cells gone through at once, so that a compiler can spread them over vector lanes.
const LANES: usize = 16;

/// Expected progress of a cell; and how far a temperature may go in one, with and without a minimum, K.
const STEP: f64 = 1.0 / 64.0;
const RANGE_K: (f64, f64) = (0.5, 2.0);
/// Progress of the middle batch beyond which cells may grow.
const FAR: f64 = 2.0;

/// A cell being put together: length, integral of temperature less `from_k` and of its square, lowest and highest.
struct Open {
    from_k: f64,
    len: f64,
    first: f64,
    second: f64,
    low: f64,
    high: f64,
}

impl Open {
    fn at(k: f64) -> Open {
        Open { from_k: k, len: 0.0, first: 0.0, second: 0.0, low: k, high: k }
    }

    fn take(&mut self, len: f64, a: f64, b: f64) {
        let (p, q) = (a - self.from_k, b - self.from_k);
        self.len += len;
        self.first += len * (p + q) / 2.0;
        self.second += len * (p * p + p * q + q * q) / 3.0;
        self.low = self.low.min(a.min(b));
        self.high = self.high.max(a.max(b));
    }
}

impl Cells {
    fn of(trace: &[(f64, f64)], doubt: &Doubt) -> Option<Cells> {
        let first = trace.first()?;
        let plausible = |k: f64| k >= PLAUSIBLE_K.0 && k <= PLAUSIBLE_K.1;
        if !plausible(first.1) || !first.0.is_finite() {
            return None;
        }
        let (a, b) = doubt.middle();
        let widest = if doubt.minimum_k.is_some() { RANGE_K.0 } else { RANGE_K.1 };
        let mut cells = Cells { len: vec![], mean: vec![], half_variance: vec![], last_k: first.1, count: 0 };
        let (mut open, mut inside, mut done) = (Open::at(first.1), 0.0, 0.0);
        for two in trace.windows(2) {
            let [(from, low), (to, high)] = [two[0], two[1]];
            let len = to - from;
            if !plausible(high) || !len.is_finite() || len <= 0.0 {
                return None;
            }
            // A long or steep line is cut, so that no cell is coarser than another.
            let rate = exp((-a - b / low.max(high)).clamp(-690.0, 690.0));
            let parts = libm::ceil((rate * len / STEP).max((high - low).abs() / widest)).clamp(1.0, 1_000.0);
            for part in 0..parts as usize {
                let at = |share: f64| low + (high - low) * share / parts;
                let (begin, end) = (at(part as f64), at(part as f64 + 1.0));
                let more = exp((-a - b / ((begin + end) / 2.0)).clamp(-690.0, 690.0)) * len / parts;
                let room = if done > FAR { STEP * (1.0 + done - FAR) } else { STEP };
                let wide = open.high.max(end) - open.low.min(end) > widest;
                if open.len > 0.0 && (inside + more > room || wide) {
                    cells.close(&open);
                    (open, inside) = (Open::at(begin), 0.0);
                }
                open.take(len / parts, begin, end);
                (inside, done) = (inside + more, done + more);
            }
            cells.last_k = high;
        }
        cells.close(&open);
        cells.count = cells.len.len();
        // Cells without length fill the last chunk.
        let whole = cells.count.div_ceil(LANES) * LANES;
        cells.len.resize(whole, 0.0);
        cells.mean.resize(whole, cells.last_k);
        cells.half_variance.resize(whole, 0.0);
        Some(cells)
    }

    fn close(&mut self, open: &Open) {
        if open.len > 0.0 {
            let mean = open.first / open.len;
            self.len.push(open.len);
            self.mean.push(open.from_k + mean);
            self.half_variance.push(((open.second / open.len - mean * mean) / 2.0).max(0.0));
        }
    }

    /// When a batch comes to its limit, ms; infinite: never.
    fn finish(&self, batch: &Batch, floor_k: f64) -> f64 {
        let (mut done, mut at) = (0.0, 0.0);
        let means = self.mean.chunks_exact(LANES).zip(self.half_variance.chunks_exact(LANES));
        let chunks = self.len.chunks_exact(LANES).zip(means);
        for (len, (mean, variance)) in chunks {
            let mut each = [0.0; LANES];
            for (((each, len), mean), variance) in each.iter_mut().zip(len).zip(mean).zip(variance) {
                *each = len * rate(batch, *mean, *variance, floor_k);
            }
            let mut four = [0.0; 4];
            for chunk in each.chunks_exact(4) {
                for (sum, more) in four.iter_mut().zip(chunk) {
                    *sum += more;
                }
            }
            let sum = (four[0] + four[1]) + (four[2] + four[3]);
            if done + sum >= 1.0 {
                for (more, len) in each.iter().zip(len) {
                    if done + more >= 1.0 {
                        return at + len * (1.0 - done) / more;
                    }
                    (done, at) = (done + more, at + len);
                }
            } else {
                (done, at) = (done + sum, at + len.iter().sum::<f64>());
            }
        }
        let held = rate(batch, self.last_k, 0.0, floor_k);
        if held > 0.0 { at + (1.0 - done).max(0.0) / held } else { f64::INFINITY }
    }
}

/// Progress per ms over a cell: exp(f) (1 + (f'² + f'') variance/2) at its mean, f = -a - b/T.
#[inline(always)]
fn rate(batch: &Batch, mean: f64, half_variance: f64, floor_k: f64) -> f64 {
    let kelvin = mean + batch.error_k;
    let x = 1.0 / kelvin;
    let bent = batch.b * x * x * x * (batch.b * x - 2.0);
    // Written out: `f64::clamp` takes care of NaN, which keeps it from vector lanes.
    let power = -batch.a - batch.b * x;
    let power = if power < -690.0 { -690.0 } else { power };
    let power = if power > 690.0 { 690.0 } else { power };
    let whole = exp_plain(power) * (1.0 + half_variance * bent);
    if kelvin >= floor_k { whole } else { 0.0 }
}

/// Even numbers by Steele, Lea and Flood's splitmix64 (OOPSLA 2014; constants from memory): whole numbers only, the same
/// everywhere.
struct Dice(u64);

impl Dice {
    /// Above 0 and below 1.
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 12) as f64 / (1_u64 << 52) as f64 + 1.0 / (1_u64 << 53) as f64
    }

    fn between(&mut self, (low, high): (f64, f64)) -> f64 {
        if low == high { low } else { low + (high - low) * self.even() }
    }

    /// Standard normal, by Box and Muller.
    fn normal(&mut self) -> f64 {
        let (far, turn) = (self.even(), self.even());
        libm::sqrt(-2.0 * libm::log(far)) * libm::cos(core::f64::consts::TAU * turn)
    }

    /// Chi squared: squares for few degrees of freedom, Marsaglia and Tsang's rejection (2000) for more.
    fn chi_squared(&mut self, free: f64) -> f64 {
        if free <= 8.0 {
            return (0..free as usize).map(|_| self.normal()).map(|z| z * z).sum();
        }
        let d = free / 2.0 - 1.0 / 3.0;
        let c = 1.0 / libm::sqrt(9.0 * d);
        loop {
            let z = self.normal();
            let v = 1.0 + c * z;
            if v > 0.0 {
                let cube = v * v * v;
                if libm::log(self.even()) < 0.5 * z * z + d * (1.0 - cube + libm::log(cube)) {
                    return 2.0 * d * cube;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests;
