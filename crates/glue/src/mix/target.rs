//! How much of each, and the reading to stop at.

/// Amounts of one mix, in one unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amounts {
    /// Resin.
    pub resin: f64,
    /// Hardener.
    pub hardener: f64,
    /// Both.
    pub total: f64,
}

/// What is known of the amounts wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wanted {
    /// This much resin.
    Resin(f64),
    /// This much hardener.
    Hardener(f64),
    /// This much altogether.
    Total(f64),
}

/// Amounts for a ratio; None if anything is not above zero.
pub fn amounts(hardener_per_resin: f64, wanted: Wanted) -> Option<Amounts> {
    let resin = match wanted {
        Wanted::Resin(resin) => resin,
        Wanted::Hardener(hardener) => hardener / hardener_per_resin,
        Wanted::Total(total) => total / (1.0 + hardener_per_resin),
    };
    let hardener = resin * hardener_per_resin;
    let all = Amounts { resin, hardener, total: resin + hardener };
    (resin > 0.0 && hardener > 0.0 && all.total.is_finite()).then_some(all)
}

/// The reading to stop at when pouring `amount` on top of what the scale shows, rounded to its step.
pub fn stop_at(shown: f64, amount: f64, step: f64) -> f64 {
    if step > 0.0 { libm::round((shown + amount) / step) * step } else { shown + amount }
}

/// How much hardener is still to come for the resin that is really in the cup, and the reading to stop at: by running
/// totals (cup; cup and resin).
pub fn hardener_stop(cup: f64, cup_and_resin: f64, hardener_per_resin: f64, step: f64) -> Option<f64> {
    let wanted = amounts(hardener_per_resin, Wanted::Resin(cup_and_resin - cup))?;
    Some(stop_at(cup_and_resin, wanted.hardener, step))
}
