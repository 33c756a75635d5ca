//! How the heat of the pot, and the age of the mix, shorten what must not be exceeded. Safe bound only, and never longer
//! than the sheet: a share of the safe limit, in whole millionths.
//!
//! The pot: the working time that the model gives for this mass and warmth, by the one it gives for the sheet's own.
//! Open and closed: what had reacted in the warm pot before the glue was spread, against what a thin film has reacted
//! by the sheet's own time.

use super::limit::{chosen, hottest_k, sheet_law};
use super::{Card, Charge, Clock, Direction, Stay};
use crate::air::{Piece, Sort, View, Walker, walk};
use crate::card::Point;
use crate::cure::kinetics::{Kinetics, WORK};
use crate::law::Law;
use crate::number::{PLAUSIBLE_K, after};
use crate::pot::lumped::{TOLERANCE, after as pot_after, run};
use crate::pot::sheet::{OfCard, UNSTATED_G, Unmodelled, of_card};
use crate::pot::{HORIZON_S, Pot, Vessel};
use core::ops::ControlFlow;

/// All of the safe limit, ppm.
pub const WHOLE: i64 = 1_000_000;

/// What shortens a clock's safe limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shorter {
    /// Share of the safe limit that is left, ppm.
    pub ppm: i64,
    /// How old the mix was when it was spread, ms, where that shortens it.
    pub age_ms: Option<i64>,
    /// The card's pot should be modelled, and is not.
    pub unmodelled: bool,
}

impl Default for Shorter {
    fn default() -> Shorter {
        Shorter { ppm: WHOLE, age_ms: None, unmodelled: false }
    }
}

impl Shorter {
    /// The share itself, 0 to 1.
    pub fn share(&self) -> f64 {
        self.ppm.clamp(0, WHOLE) as f64 / WHOLE as f64
    }
}

/// A card's pot as the clocks see it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PotModel {
    /// The glue with its rates, and the pot life they were found from.
    pub of: OfCard,
    /// Working time of the model at the sheet's own point, s.
    pub sheet_s: f64,
}

/// Mass reckoned with, g: 100 where it is not recorded.
pub fn mass_g(charge: &Charge) -> f64 {
    charge.mass_g.filter(|g| *g > 0.0 && g.is_finite()).unwrap_or(UNSTATED_G)
}

impl PotModel {
    /// The model of a card for a mass, g. Runs about ten pots: keep it.
    ///
    /// Errors: why there is none.
    pub fn of_card(card: &Card, mass_g: f64) -> Result<PotModel, Unmodelled> {
        let of = of_card(card, mass_g)?;
        let model = PotModel { of, sheet_s: f64::NAN };
        let sheet_s = model.working_s(of.mass_g, of.at_k).filter(|s| s.is_finite() && *s > 0.0);
        let none = Unmodelled::Unfit(crate::pot::calibrate::Unfit::NoRate);
        Ok(PotModel { sheet_s: sheet_s.ok_or(none)?, ..model })
    }

    /// How long a mass, g, can be worked with that starts as warm as the air, K: until its conversion limit or 50 °C,
    /// s. Infinite: not within sixty days. None: the solver did not converge.
    pub fn working_s(&self, mass_g: f64, at_k: f64) -> Option<f64> {
        let course = run(&self.pot(mass_g, at_k), &TOLERANCE).ok()?;
        let first = course.work.unwrap_or(f64::INFINITY).min(course.hot.unwrap_or(f64::INFINITY));
        (!first.is_nan()).then_some(first)
    }

    /// Share reacted in a mass, g, that starts as warm as the air, K, after so long, ms. None: the solver did not
    /// converge.
    pub fn reacted(&self, mass_g: f64, at_k: f64, age_ms: i64) -> Option<f64> {
        let seconds = (age_ms as f64 / 1e3).clamp(0.0, HORIZON_S);
        let (share, _) = pot_after(&self.pot(mass_g, at_k), seconds, &TOLERANCE).ok()?;
        (!share.is_nan()).then_some(share.clamp(0.0, 1.0))
    }

    fn pot(&self, mass_g: f64, at_k: f64) -> Pot {
        Pot::fresh(self.of.glue, mass_g / 1e3, Vessel::Cup, at_k, at_k)
    }
}

/// Temperature a pot is reckoned with: the warmer of components and air at its start; where nobody measured the air the
/// hottest there may be, K. None: the card has no law for its pot.
pub fn pot_start_k(card: &Card, charge: &Charge, air_k: Option<f64>) -> Option<f64> {
    let law = sheet_law(card, chosen(card, Clock::Pot, false)?.0)?;
    let air_k = air_k.unwrap_or(hottest_k(card, &law));
    Some(charge.components_k.filter(|k| k.is_finite()).map_or(air_k, |k| k.max(air_k)))
}

/// Share of the sheet's safe pot life that the model leaves, ppm, of the working time it gives (s) at this start, K.
pub fn pot_ppm(card: &Card, model: &PotModel, working_s: f64, start_k: f64) -> Option<i64> {
    let law = sheet_law(card, chosen(card, Clock::Pot, false)?.0)?;
    let sheet = model.of.life_s * 1e3 / law.curves[0].time_ms(start_k);
    let share = (working_s / model.sheet_s * sheet).min(1.0);
    // A pot that is past its limit at once still has a law: a millionth of it.
    (!share.is_nan()).then(|| ppm(share).max(1))
}

fn ppm(share: f64) -> i64 {
    libm::round(share * WHOLE as f64) as i64
}

/// What a pot met until its glue was spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Met {
    /// Warmest: mean air with the sensor's error; the hottest there may be where nobody measured, K.
    pub highest_k: f64,
    /// Coldest: mean air less the error; None: nobody measured somewhere on the way.
    pub lowest_k: Option<f64>,
}

/// What air a pot met between two instants (ms, the first not after the second), as known at `known_ms`.
pub fn met(card: &Card, path: &[Stay], (from_ms, to_ms): (i64, i64), known_ms: i64) -> Met {
    let law = chosen(card, Clock::Pot, false).and_then(|(limit, _)| sheet_law(card, limit));
    let hottest_k = law.map_or(crate::air::ASSUMED_K, |law| hottest_k(card, &law));
    let view = View { direction: Direction::MustNotExceed, known_ms, base_ms: from_ms, hottest_k };
    let mut meeting = Meeting { high: f64::NEG_INFINITY, low: f64::INFINITY, measured: true };
    // An instant is looked at as a short stretch.
    let _ = walk(&view, path, 0.0, after(from_ms, to_ms).max(1.0), &mut meeting);
    let high = if meeting.high.is_finite() { meeting.high } else { hottest_k };
    Met { highest_k: high, lowest_k: Some(meeting.low).filter(|low| meeting.measured && low.is_finite()) }
}

struct Meeting {
    high: f64,
    low: f64,
    measured: bool,
}

impl Walker for Meeting {
    fn take(&mut self, piece: &Piece) -> ControlFlow<()> {
        let (a, b, error) = (piece.a[1], piece.b[1], piece.shift[0]);
        self.high = self.high.max(a + error).max(b + error);
        if piece.sort == Sort::Hottest {
            self.measured = false;
        }
        self.low = self.low.min(a - error).min(b - error);
        ControlFlow::Continue(())
    }
}

/// A clock after spreading, of which the mix was not fresh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// The clock's own start, ms.
    pub start_ms: i64,
    /// Glue first touched wood, ms.
    pub spread_ms: i64,
    /// Share of the mix reacted by then.
    pub reacted: f64,
    /// Warmest the pot met, K.
    pub highest_k: f64,
    /// Coldest air between the clock's start and the spreading, where that came later, K; None: not measured.
    pub lowest_k: Option<f64>,
}

/// Share of the safe open or closed limit that is left, ppm; None: the clock has no law that scales, or its points have
/// no temperature.
pub fn spread_ppm(card: &Card, clock: Clock, bent: bool, kinetics: &Kinetics, spread: &Spread) -> Option<i64> {
    let (limit, _) = chosen(card, clock, bent)?;
    let law = sheet_law(card, limit).filter(|law| law.points_k.is_some())?;
    let (at_k, sheet_s) = nearest(&limit.points, spread.highest_k)?;
    let film = |share: f64| kinetics.isothermal_s(share, at_k);
    let whole_s = film(WORK.max(share_at(kinetics, at_k, sheet_s)));
    // More than one where the sheet's own time leaves a film short of the working limit.
    let g = (whole_s / sheet_s).max(1.0);
    let mut used = (film(spread.reacted) / whole_s).min(1.0);
    let between = |from: i64, to: i64| after(from, to).max(0.0);
    let own = between(spread.start_ms, spread.spread_ms) / time_ms(&law, spread.lowest_k.unwrap_or(PLAUSIBLE_K.0));
    used += between(spread.spread_ms, spread.start_ms) / (g * time_ms(&law, spread.highest_k));
    let share = (own + g * (1.0 - used)).clamp(0.0, 1.0);
    (!share.is_nan()).then(|| ppm(share))
}

fn time_ms(law: &Law, at_k: f64) -> f64 {
    law.curves[0].time_ms(at_k)
}

/// The sheet's point nearest in temperature, and its short end, s; of two alike the first.
fn nearest(points: &[Point], to_k: f64) -> Option<(f64, f64)> {
    let known = points.iter().filter_map(|point| Some((point.at_k?, point.low_ms / 1e3)));
    known.min_by(|a, b| libm::fabs(a.0 - to_k).total_cmp(&libm::fabs(b.0 - to_k)))
}

/// Share that a thin film has reacted after so long, s, at one temperature.
fn share_at(kinetics: &Kinetics, at_k: f64, seconds: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..100 {
        let middle = (low + high) / 2.0;
        if kinetics.isothermal_s(middle, at_k) < seconds { low = middle } else { high = middle }
    }
    low
}

#[cfg(test)]
mod tests;
