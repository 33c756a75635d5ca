//! The ratio that was mixed, judged with the scale's own doubt; and how much to weigh.
//!
//! r = hardener/resin, deviation (r - r0)/r0, U = 2 u_r/r. Within if |deviation| <= tolerance - U, outside if above
//! tolerance + U, else it cannot be told at this scale. Source: JCGM 106:2012, guard band w = U (one-sided false
//! acceptance at the limit 2.3 %).

pub mod doubt;
pub mod target;

pub use doubt::{Scale, Weighing};

/// Name and version stored with every verdict.
pub const MODEL: &str = "ratio@1";
/// A deviation this large with no tolerance on the sheet makes the inverse ratio worth looking at (no source).
const LOOK_AT_INVERSE: f64 = 0.05;

/// What the sheet asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nominal {
    /// Hardener per resin, by the same measure (weight or volume) as the amounts.
    pub hardener_per_resin: f64,
    /// Relative tolerance (0.05 = 5 %); None: the sheet states none.
    pub tolerance: Option<f64>,
}

/// What can be said of a ratio.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// No tolerance on the sheet, or no amounts.
    None,
    /// Surely inside the tolerance.
    Within,
    /// The scale is too coarse to tell.
    CannotTell,
    /// Surely outside.
    Outside,
}

impl Verdict {
    /// Its word on the wire.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::None => "none",
            Verdict::Within => "within",
            Verdict::CannotTell => "cannot-tell",
            Verdict::Outside => "outside",
        }
    }

    /// The verdict of a word.
    pub fn from_word(word: &str) -> Option<Verdict> {
        [Verdict::None, Verdict::Within, Verdict::CannotTell, Verdict::Outside].into_iter().find(|v| v.word() == word)
    }
}

/// A ratio judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// Verdict.
    pub verdict: Verdict,
    /// (r - r0)/r0, signed: positive is too much hardener. None without usable amounts.
    pub deviation: Option<f64>,
    /// Expanded uncertainty (k = 2) of the deviation, relative.
    pub uncertainty: Option<f64>,
    /// Resin and hardener look exchanged: it is not within, and the inverse ratio fits.
    pub swapped: bool,
}

/// Nothing to judge.
pub const UNJUDGED: Judged = Judged { verdict: Verdict::None, deviation: None, uncertainty: None, swapped: false };

/// Judges net amounts in grams against a ratio by weight.
pub fn by_weight(nominal: Nominal, resin_g: f64, hardener_g: f64, weighing: Weighing, scale: Scale) -> Judged {
    judge(nominal, resin_g, hardener_g, doubt::of_amounts(resin_g, hardener_g, weighing, scale))
}

/// Judges volumes in ml against a ratio by volume; each read with a step of its own.
pub fn by_volume(nominal: Nominal, resin: (f64, f64), hardener: (f64, f64)) -> Judged {
    let u = |(amount, step): (f64, f64)| doubt::of_net(Scale { step, accuracy: None }) / amount;
    judge(nominal, resin.0, hardener.0, doubt::of_ratio(u(resin), u(hardener), 0.0))
}

/// A ratio by volume as one by weight, or the other way with the densities exchanged; densities in one unit.
pub fn by_the_other(nominal: Nominal, resin_density: f64, hardener_density: f64) -> Option<Nominal> {
    let hardener_per_resin = nominal.hardener_per_resin * hardener_density / resin_density;
    (hardener_per_resin > 0.0 && hardener_per_resin.is_finite()).then_some(Nominal { hardener_per_resin, ..nominal })
}

fn judge(nominal: Nominal, resin: f64, hardener: f64, doubt: f64) -> Judged {
    let r0 = nominal.hardener_per_resin;
    let usable = resin > 0.0 && hardener > 0.0 && r0 > 0.0 && (hardener / resin / r0).is_finite();
    if !usable || doubt.is_nan() {
        return UNJUDGED;
    }
    let deviation = hardener / resin / r0 - 1.0;
    let uncertainty = 2.0 * doubt;
    let verdict = match nominal.tolerance.filter(|tolerance| *tolerance > 0.0) {
        None => Verdict::None,
        Some(tolerance) => verdict(deviation, tolerance, uncertainty),
    };
    let inverse = resin / hardener / r0 - 1.0;
    let reach = nominal.tolerance.unwrap_or(LOOK_AT_INVERSE) + uncertainty;
    let swapped = deviation.abs() > reach && inverse.abs() <= reach;
    Judged { verdict, deviation: Some(deviation), uncertainty: Some(uncertainty), swapped }
}

/// Differences below the last digit a double can carry decide nothing.
const NOISE: f64 = 1e-12;

fn verdict(deviation: f64, tolerance: f64, uncertainty: f64) -> Verdict {
    if deviation.abs() <= tolerance - uncertainty + NOISE {
        Verdict::Within
    } else if deviation.abs() > tolerance + uncertainty + NOISE {
        Verdict::Outside
    } else {
        Verdict::CannotTell
    }
}

#[cfg(test)]
mod tests;
