//! A glue's two rates from two numbers of its sheet: pot life of a mass in a cup, and gel time of a thin film.
//!
//! The film gives k2 in closed form once k1/k2 is known, so that one root is left: the share at which the lumped pot
//! reaches its conversion limit after the sheet's pot life. Energies and heat are the generic ones.

use super::lumped::{Course, TOLERANCE, run};
use super::{Glue, Pot, Vessel};
use crate::cure::kinetics::{Kinetics, STATED_K, closed};
use crate::cure::ode::Unsolved;
use crate::number::{GAS, exp};

/// Two numbers of a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Mass of the pot life, kg.
    pub mass: f64,
    /// Its temperature, K.
    pub pot_k: f64,
    /// Pot life, s.
    pub pot_life: f64,
    /// Temperature of the film, K.
    pub film_k: f64,
    /// Gel time of the film, s.
    pub film_gel: f64,
}

/// Rates found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// The glue with its rates.
    pub glue: Glue,
    /// None: both numbers are met. Else they disagree, k1/k2 is the generic 0.05, the pot life alone is met, and this is
    /// what the film would take, s.
    pub film_instead: Option<f64>,
    /// Pots run on the way.
    pub pots: u32,
    /// Values of the right-hand side on the way.
    pub calls: u32,
}

/// Why there is none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unfit {
    /// The solver did not converge.
    Unsolved(Unsolved),
    /// No rate whatever gives this pot life.
    NoRate,
}

impl From<Unsolved> for Unfit {
    fn from(unsolved: Unsolved) -> Unfit {
        Unfit::Unsolved(unsolved)
    }
}

/// k1/k2 at 25 °C looked through.
const SHARES: (f64, f64) = (1e-4, 10.0);
/// Taken where the numbers disagree.
const SHARE: f64 = 0.05;

struct Search<'a> {
    sheet: &'a Sheet,
    pots: u32,
    calls: u32,
}

/// Finds the rates.
///
/// Errors: a solver that did not converge; a pot life that no rate gives.
pub fn calibrate(base: &Glue, sheet: &Sheet) -> Result<Found, Unfit> {
    let mut search = Search { sheet, pots: 0, calls: 0 };
    let (low, high) = (libm::log(SHARES.0), libm::log(SHARES.1));
    let by_share = |share: f64| film(base, sheet, exp(share));
    if let Some(share) = search.root((low, high), &by_share)? {
        return Ok(search.found(by_share(share), None));
    }
    let glue = search.by_life(base)?;
    let instead = glue.kinetics.isothermal_s(glue.gel, sheet.film_k);
    Ok(search.found(glue, Some(instead)))
}

/// The rates from the pot life alone, of a mass, kg, at a temperature, K: k1/k2 is the generic 0.05.
///
/// Errors: as [`calibrate`].
pub fn by_life(base: &Glue, mass: f64, pot_k: f64, pot_life: f64) -> Result<Glue, Unfit> {
    let sheet = Sheet { mass, pot_k, pot_life, film_k: pot_k, film_gel: f64::NAN };
    Search { sheet: &sheet, pots: 0, calls: 0 }.by_life(base)
}

fn rates(base: &Glue, share: f64, k2: f64) -> Glue {
    Glue { kinetics: Kinetics { k1: share * k2, k2, ..base.kinetics }, ..*base }
}

/// The glue of this k1/k2 at 25 °C whose film gels when the sheet says: times go with 1/k2.
fn film(base: &Glue, sheet: &Sheet, share: f64) -> Glue {
    let x = (1.0 / STATED_K - 1.0 / sheet.film_k) / GAS;
    let (f1, f2) = (exp(base.kinetics.e1 * x), exp(base.kinetics.e2 * x));
    rates(base, share, closed(share * f1, f2, base.gel) / sheet.film_gel)
}

impl Search<'_> {
    fn by_life(&mut self, base: &Glue) -> Result<Glue, Unfit> {
        let by_rate = |k2: f64| rates(base, SHARE, exp(k2));
        let k2 = self.root((libm::log(1e-9), libm::log(10.0)), &by_rate)?.ok_or(Unfit::NoRate)?;
        Ok(by_rate(k2))
    }

    /// ln of what the pot takes by what the sheet says: falls with the rate and with k1/k2.
    fn off(&mut self, glue: Glue) -> Result<f64, Unsolved> {
        let sheet = self.sheet;
        let pot = Pot::fresh(glue, sheet.mass, Vessel::Cup, sheet.pot_k, sheet.pot_k);
        let course: Course = run(&pot, &TOLERANCE)?;
        self.pots += 1;
        self.calls += course.done.calls;
        // A pot that never gets there within the horizon is too slow by any count.
        Ok(course.work.map_or(50.0, |work| libm::log(work / sheet.pot_life)))
    }

    /// Root between two ends by false position that halves a stale end (Illinois); None: no change of sign.
    fn root(&mut self, (low, high): (f64, f64), glue: &dyn Fn(f64) -> Glue) -> Result<Option<f64>, Unsolved> {
        let (mut a, mut b) = (low, high);
        let (mut fa, mut fb) = (self.off(glue(a))?, self.off(glue(b))?);
        if fa * fb > 0.0 {
            return Ok(None);
        }
        for _ in 0..80 {
            let c = (a * fb - b * fa) / (fb - fa);
            let fc = self.off(glue(c))?;
            if fc.abs() < 1e-8 {
                return Ok(Some(c));
            }
            if fc * fb < 0.0 {
                (a, fa) = (b, fb)
            } else {
                fa /= 2.0
            }
            (b, fb) = (c, fc);
        }
        Err(Unsolved::TooManySteps(self.sheet.pot_life))
    }

    fn found(&self, glue: Glue, film_instead: Option<f64>) -> Found {
        Found { glue, film_instead, pots: self.pots, calls: self.calls }
    }
}
