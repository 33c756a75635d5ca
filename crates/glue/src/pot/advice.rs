//! Plain words about a pot, and what a tray or several cups would give.

use super::lumped::{Course, TOLERANCE, run};
use super::{Pot, Vessel};
use crate::cure::ode::Unsolved;

/// What to say of a pot that is left standing; empty: nothing.
pub fn warning(peak_k: f64) -> &'static str {
    let peak = peak_k - 273.15;
    if peak > 150.0 {
        "left standing it gets hotter than 150 °C: smoke, foam and fire; set it outdoors on something that does not \
         burn, spread it out, and never throw it into a bin"
    } else if peak > 60.0 {
        "left standing it gets hotter than 60 °C: too hot to hold, and it sets within minutes; use it up or spread it \
         out"
    } else {
        ""
    }
}

/// The same glue, put otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ways {
    /// As it stands.
    pub as_is: Course,
    /// In a layer of 6 mm.
    pub tray: Course,
    /// In two cups of half the mass.
    pub halves: Course,
}

/// Runs all three.
///
/// Errors: the solver did not converge.
pub fn ways(pot: &Pot) -> Result<Ways, Unsolved> {
    let tray = Pot { vessel: Vessel::Tray(0.006), ..pot.clone() };
    let half = Pot { mass: pot.mass / 2.0, vessel: Vessel::Cup, ..pot.clone() };
    Ok(Ways { as_is: run(pot, &TOLERANCE)?, tray: run(&tray, &TOLERANCE)?, halves: run(&half, &TOLERANCE)? })
}

impl Ways {
    /// What tray and halves gain, in one sentence; None where one of them is never too far cured.
    pub fn said(&self) -> Option<String> {
        let (now, tray, halves) = (self.as_is.advised()?, self.tray.advised()?, self.halves.advised()?);
        let gain = |other: f64| 100.0 * (other / now - 1.0);
        Some(format!(
            "use it up within {:.0} min; spread 6 mm deep {:.0} min ({:+.0} %), in two cups {:.0} min ({:+.0} %)",
            libm::floor(now / 60.0),
            libm::floor(tray / 60.0),
            gain(tray),
            libm::floor(halves / 60.0),
            gain(halves)
        ))
    }
}
