//! What somebody expects the air of a place to do. Estimates go by it from the instant asked on; no share, no release
//! and no passed limit ever does.

use crate::clock::{Knot, Source};
use crate::number::{MINUTE, PLAUSIBLE_K};

/// How long a change between day and night takes where nobody says, ms.
pub const RAMP_MS: i64 = 2 * 3_600_000;
/// Time constants taken for a shop that cools down, ms: 10 min to 100 h.
pub const TAU_MS: (i64, i64) = (600_000, 360_000_000);
/// Taken where the place never cooled down so that it could be seen, ms (common practice, no source: a light timber
/// building).
pub const TAU_UNKNOWN_MS: f64 = 4.0 * 3_600_000.0;
/// Cool-downs are looked for this far back, ms.
pub const LOOK_BACK_MS: i64 = 7 * 24 * 3_600_000;
/// Knots of a forecast stand this far apart, ms.
pub const STEP_MS: f64 = 5.0 * MINUTE;

const DAY_MS: f64 = 24.0 * 3_600_000.0;

/// The course of the air. Times of day are minutes after local midnight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// One temperature, K.
    Hold {
        /// K.
        at_k: f64,
    },
    /// Day and night, straight lines between.
    Setback {
        /// By day, K.
        day_k: f64,
        /// By night, K.
        night_k: f64,
        /// The night begins, min.
        from_min: i64,
        /// The day begins, min.
        to_min: i64,
        /// Length of each change, ms.
        ramp_ms: i64,
    },
    /// Newton: what is left of the difference dies away.
    Cooling {
        /// Where it ends, K.
        towards_k: f64,
        /// Time constant, ms; None: from the place's own last cool-down, else [`TAU_UNKNOWN_MS`].
        tau_ms: Option<f64>,
    },
    /// A wave of one day: mean + swing cos.
    Day {
        /// K.
        mean_k: f64,
        /// The warmest above the mean, K.
        swing_k: f64,
        /// When it is warmest, min.
        warmest_min: i64,
    },
}

/// A forecast of a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forecast {
    /// Stated, ms: it is in force from then on until a newer one is.
    pub from_ms: i64,
    /// From then on the air stays as it was then, ms.
    pub until_ms: Option<i64>,
    /// Minutes east of Greenwich of its times of day.
    pub zone_min: i32,
    /// Its course.
    pub shape: Shape,
}

/// Where a time constant came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tau {
    /// There is none, or it was stated.
    Stated,
    /// From the place's last cool-down.
    Fitted,
    /// Taken for granted.
    Unknown,
}

/// A forecast as it goes on from an instant.
#[derive(Clone, Copy, Debug)]
pub struct Course {
    stated: Forecast,
    at_ms: f64,
    begin_k: f64,
    tau_ms: f64,
    /// Where its time constant came from.
    pub tau: Tau,
}

/// The forecast in force at an instant: the newest stated until then.
pub fn in_force(forecasts: &[Forecast], at_ms: i64) -> Option<&Forecast> {
    // Of two stated at one instant the later one counts: the last of the highest is taken.
    forecasts.iter().filter(|one| one.from_ms <= at_ms).max_by_key(|one| one.from_ms)
}

impl Forecast {
    /// How it goes on from an instant at which the air had this mean, K. None: cooling begins from a temperature, and
    /// none is known.
    pub fn course(&self, at_ms: i64, mean_k: Option<f64>, sources: &[Source]) -> Option<Course> {
        let mut course =
            Course { stated: *self, at_ms: at_ms as f64, begin_k: f64::NAN, tau_ms: f64::NAN, tau: Tau::Stated };
        if let Shape::Cooling { towards_k, tau_ms } = self.shape {
            course.begin_k = mean_k.filter(|k| k.is_finite())?;
            let stated = tau_ms.filter(|tau| *tau >= TAU_MS.0 as f64 && *tau <= TAU_MS.1 as f64);
            (course.tau_ms, course.tau) = match (stated, fitted_tau_ms(sources, at_ms, towards_k)) {
                (Some(tau), _) => (tau, Tau::Stated),
                (None, Some(tau)) => (tau, Tau::Fitted),
                (None, None) => (TAU_UNKNOWN_MS, Tau::Unknown),
            };
        }
        Some(course)
    }
}

impl Course {
    /// Temperature so long after the instant asked, K.
    pub fn at(&self, after_ms: f64) -> f64 {
        let until = self.stated.until_ms.map_or(f64::INFINITY, |until| until as f64 - self.at_ms);
        let t = self.at_ms + after_ms.min(until);
        let local = t + f64::from(self.stated.zone_min) * MINUTE;
        let k = match self.stated.shape {
            Shape::Hold { at_k } => at_k,
            Shape::Setback { .. } => self.stated.shape.by_the_clock(local),
            Shape::Cooling { towards_k, .. } => {
                let gone = (t - self.at_ms).max(0.0);
                towards_k + (self.begin_k - towards_k) * libm::exp(-gone / self.tau_ms)
            }
            Shape::Day { mean_k, swing_k, warmest_min } => {
                let turn = (local - warmest_min as f64 * MINUTE).rem_euclid(DAY_MS) / DAY_MS;
                mean_k + swing_k * libm::cos(2.0 * core::f64::consts::PI * turn)
            }
        };
        k.clamp(PLAUSIBLE_K.0, PLAUSIBLE_K.1)
    }

    /// From here on it stays as it is, ms after the instant asked; None: it goes on changing.
    pub fn steady_from(&self) -> Option<f64> {
        match self.stated.shape {
            Shape::Hold { .. } => Some(0.0),
            _ => self.stated.until_ms.map(|until| (until as f64 - self.at_ms).max(0.0)),
        }
    }
}

impl Shape {
    /// Day and night at a local instant, ms.
    fn by_the_clock(&self, local: f64) -> f64 {
        let Shape::Setback { day_k, night_k, from_min, to_min, ramp_ms } = *self else { return f64::NAN };
        let ramp = ramp_ms as f64;
        let since = |min: i64| (local - min as f64 * MINUTE).rem_euclid(DAY_MS);
        let night = ((to_min as f64 - from_min as f64) * MINUTE).rem_euclid(DAY_MS);
        let (falling, rising) = (since(from_min), since(to_min));
        if falling < night {
            if falling < ramp { day_k + (night_k - day_k) * falling / ramp } else { night_k }
        } else if rising < ramp {
            night_k + (day_k - night_k) * rising / ramp
        } else {
            day_k
        }
    }
}

/// Knots of one cool-down.
const KNOTS: usize = 4;
/// Means at most this far apart, ms.
const DENSE_MS: i64 = 3_600_000;
/// A mean may be this much above the one before, K.
const NOISE_K: f64 = 0.2;
/// A cool-down falls by at least this, K.
const FALL_K: f64 = 3.0;
/// It lasts at least this long, ms.
const LASTS_MS: i64 = 3_600_000;
/// All of it is at least this far above where the air is going, K.
const ABOVE_K: f64 = 0.5;

/// The time constant of a place by its last cool-down, ms: least squares of ln(T - towards) on t over the newest run of
/// falling means of one source. None: it has none of late, or one that makes no sense.
pub fn fitted_tau_ms(sources: &[Source], at_ms: i64, towards_k: f64) -> Option<f64> {
    let mut newest: Option<&[Knot]> = None;
    for source in sources {
        let ends = |run: &[Knot]| run.last().map(|knot| knot.at_ms);
        if let Some(run) = cool_down(&source.knots, at_ms, towards_k)
            && newest.is_none_or(|known| ends(run) > ends(known))
        {
            newest = Some(run);
        }
    }
    let tau = slope_tau_ms(newest?, towards_k)?;
    (tau >= TAU_MS.0 as f64 && tau <= TAU_MS.1 as f64).then_some(tau)
}

/// The newest cool-down of a source: the knots of a whole run of falling means, from the last one within 0.2 K of its
/// highest on, so that the warm hours before do not count.
fn cool_down(knots: &[Knot], at_ms: i64, towards_k: f64) -> Option<&[Knot]> {
    let first = knots.partition_point(|knot| knot.at_ms < at_ms.saturating_sub(LOOK_BACK_MS));
    let known = knots.get(first..knots.partition_point(|knot| knot.at_ms <= at_ms))?;
    let mut end = known.len();
    while end > 0 {
        let goes_on = |pair: &[Knot]| {
            let [before, next] = pair else { return false };
            next.at_ms.saturating_sub(before.at_ms) <= DENSE_MS && next.mean_k <= before.mean_k + NOISE_K
        };
        let mut begin = end - 1;
        while begin > 0 && known.get(begin - 1..=begin).is_some_and(goes_on) {
            begin -= 1;
        }
        let run = known.get(begin..end)?;
        let highest = run.iter().map(|knot| knot.mean_k).fold(f64::NEG_INFINITY, f64::max);
        let from = run.iter().rposition(|knot| knot.mean_k >= highest - NOISE_K).unwrap_or(0);
        if let Some(run) = run.get(from..).filter(|run| is_cool_down(run, towards_k)) {
            return Some(run);
        }
        end = begin;
    }
    None
}

fn is_cool_down(run: &[Knot], towards_k: f64) -> bool {
    let (Some(first), Some(last)) = (run.first(), run.last()) else { return false };
    run.len() >= KNOTS
        && first.mean_k - last.mean_k >= FALL_K
        && last.at_ms.saturating_sub(first.at_ms) >= LASTS_MS
        && run.iter().all(|knot| knot.mean_k - towards_k > ABOVE_K)
}

fn slope_tau_ms(run: &[Knot], towards_k: f64) -> Option<f64> {
    let first_ms = run.first()?.at_ms;
    let spots =
        || run.iter().map(|knot| (knot.at_ms.saturating_sub(first_ms) as f64, libm::log(knot.mean_k - towards_k)));
    let n = run.len() as f64;
    let (sum_x, sum_y) = spots().fold((0.0, 0.0), |sum, (x, y)| (sum.0 + x, sum.1 + y));
    let (mean_x, mean_y) = (sum_x / n, sum_y / n);
    let (sxx, sxy) = spots()
        .fold((0.0, 0.0), |sum, (x, y)| (sum.0 + (x - mean_x) * (x - mean_x), sum.1 + (x - mean_x) * (y - mean_y)));
    Some(-sxx / sxy).filter(|tau| tau.is_finite())
}

#[cfg(test)]
mod tests;
