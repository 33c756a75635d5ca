//! How far a scale can be trusted with a ratio.
//!
//! A reading with step d has u = d/sqrt(12); a net amount is the difference of two, u = d/sqrt(6); the scale's accuracy a
//! (a rectangular half-width) adds a/sqrt(3) to each net amount. Source: JCGM 100:2008 (GUM) 4.3.7, F.2.2.1.

/// How the two amounts were weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weighing {
    /// Each with the scale set to zero before.
    Retared,
    /// One after the other into one cup: the middle reading is shared, with opposite sign.
    OneCup,
}

/// A scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Step of the display, g.
    pub step: f64,
    /// Half-width of its error, g; None: not stated.
    pub accuracy: Option<f64>,
}

/// Standard uncertainty of a net amount.
pub fn of_net(scale: Scale) -> f64 {
    let step = scale.step.abs();
    let accuracy = scale.accuracy.unwrap_or(0.0).abs();
    libm::sqrt(step * step / 6.0 + accuracy * accuracy / 3.0)
}

/// Relative standard uncertainty of a quotient from those of both sides and their correlation:
/// sqrt(ua² + ub² - 2 r ua ub).
pub fn of_ratio(u_a: f64, u_b: f64, correlation: f64) -> f64 {
    libm::sqrt((u_a * u_a + u_b * u_b - 2.0 * correlation * u_a * u_b).max(0.0))
}

/// Relative standard uncertainty of hardener per resin.
pub fn of_amounts(resin: f64, hardener: f64, weighing: Weighing, scale: Scale) -> f64 {
    let u = of_net(scale);
    // The shared reading makes one amount too large by what the other is too small: covariance -d²/12.
    let shared = scale.step * scale.step / 12.0;
    let correlation = match weighing {
        Weighing::OneCup if u > 0.0 => -shared / (u * u),
        _ => 0.0,
    };
    of_ratio(u / resin, u / hardener, correlation)
}

/// The smallest resin mass at which a ratio can be told to be within at all (U = tolerance), g. Three times as much is
/// comfortable. None without a tolerance or a ratio.
pub fn smallest_resin(hardener_per_resin: f64, tolerance: f64, weighing: Weighing, scale: Scale) -> Option<f64> {
    let smallest = 2.0 * of_amounts(1.0, hardener_per_resin, weighing, scale) / tolerance;
    (hardener_per_resin > 0.0 && tolerance > 0.0 && smallest.is_finite()).then_some(smallest)
}
