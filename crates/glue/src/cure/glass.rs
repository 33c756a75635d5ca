//! Conversion with diffusion in the way, and the glass transition that grows with it.
//!
//! DiBenedetto in Pascault and Williams' form (1990), Rabinowitch's sum of times with a WLF-like diffusion rate (Simon
//! and Gillham 1992-93): both from memory. The constants are a generic set for mixes that cure at room temperature.

use super::kinetics::Kinetics;
use super::ode::{Tolerance, Unsolved, Work, solve};

/// How a mix turns to glass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glass {
    /// Glass transition of the fresh mix, K.
    pub fresh_k: f64,
    /// Of the fully cured glue, K.
    pub full_k: f64,
    /// Ratio of the steps in heat capacity.
    pub lambda: f64,
    /// Diffusion rate where the glue is at its own glass transition, 1/s.
    pub kd0: f64,
}

/// The generic set: -30 °C, 75 °C, 0.42, 1e-4 1/s.
pub const GENERIC: Glass = Glass { fresh_k: 243.15, full_k: 348.15, lambda: 0.42, kd0: 1e-4 };
/// Below this share of the chemical rate the cure has stalled.
pub const STALLED: f64 = 0.1;
const C1: f64 = 40.2;
const C2: f64 = 51.6;
const TOLERANCE: Tolerance<1> = Tolerance { relative: 1e-9, absolute: [1e-11], longest: 1e6 };

/// A glue line after some history.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// Share reacted, 0 to 1.
    pub conversion: f64,
    /// Glass transition, K.
    pub glass_k: f64,
    /// Diffusion holds the reaction below a tenth of what chemistry would do at the temperature it is at.
    pub stalled: bool,
    /// Work of the solver.
    pub work: Work,
}

impl Glass {
    /// Glass transition at a conversion, K.
    pub fn transition(&self, a: f64) -> f64 {
        self.fresh_k + (self.full_k - self.fresh_k) * self.lambda * a / (1.0 - (1.0 - self.lambda) * a)
    }

    /// Conversion whose glass transition is this, K; below 0 or above 1 where there is none.
    pub fn conversion(&self, kelvin: f64) -> f64 {
        let y = (kelvin - self.fresh_k) / (self.full_k - self.fresh_k);
        y / (self.lambda + (1.0 - self.lambda) * y)
    }

    /// Share of the chemical rate that diffusion leaves, 0 to 1: kd/(kc + kd), kc = k1 + k2 a.
    pub fn left(&self, kinetics: &Kinetics, a: f64, kelvin: f64) -> f64 {
        let (k1, k2) = kinetics.constants(kelvin);
        let chemical = k1 + k2 * a;
        let above = kelvin - self.transition(a);
        let diffusion = self.kd0 * libm::exp(C1 * above / (C2 + above.abs()));
        diffusion / (chemical + diffusion)
    }

    /// da/dt, 1/s.
    pub fn rate(&self, kinetics: &Kinetics, a: f64, kelvin: f64) -> f64 {
        kinetics.rate(a, kelvin) * self.left(kinetics, a, kelvin)
    }

    /// After stages of (K, s) one behind the other; restarted at each. No stage leaves the fresh mix, at 0 K.
    pub fn after(&self, kinetics: &Kinetics, stages: &[(f64, f64)]) -> Result<State, Unsolved> {
        self.on(kinetics, 0.0, stages)
    }

    /// The same from a conversion that is reached already.
    pub fn on(&self, kinetics: &Kinetics, from: f64, stages: &[(f64, f64)]) -> Result<State, Unsolved> {
        let mut a = from;
        let mut work = Work::default();
        for (kelvin, seconds) in stages {
            let rhs = |_: f64, y: &[f64; 1]| [self.rate(kinetics, y[0], *kelvin)];
            let (_, [end]) = solve(rhs, (0.0, *seconds), [a], &TOLERANCE, &mut work, |_| true)?;
            a = end;
        }
        let last = stages.last().map_or(0.0, |stage| stage.0);
        let stalled = self.left(kinetics, a, last) < STALLED;
        Ok(State { conversion: a, glass_k: self.transition(a), stalled, work })
    }

    /// Soak at a temperature, K, until the glass transition is at least `wanted`, K, s; None: not within `longest`, s.
    /// It counts from the instant at which the glue line, not the air, is at that temperature.
    pub fn soak(
        &self,
        kinetics: &Kinetics,
        from: f64,
        wanted: f64,
        kelvin: f64,
        longest: f64,
    ) -> Result<Option<f64>, Unsolved> {
        if self.transition(from) >= wanted {
            return Ok(Some(0.0));
        }
        let goal = self.conversion(wanted);
        if wanted >= self.full_k || goal >= 1.0 {
            return Ok(None);
        }
        let rhs = |_: f64, y: &[f64; 1]| [self.rate(kinetics, y[0], kelvin)];
        let mut found = None;
        solve(rhs, (0.0, longest), [from], &TOLERANCE, &mut Work::default(), |step| {
            found = step.crossing(|y| y[0] - goal).map(|share| step.from + share * step.length);
            found.is_none()
        })?;
        Ok(found)
    }
}

/// A post-cure that brings the glass transition where it is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PostCure {
    /// Until the glue line has covered nine tenths of the step, min.
    pub warm_up_min: f64,
    /// From then on, min; None: not within a week at this temperature.
    pub soak_min: Option<f64>,
}

/// Plans a post-cure: temperature of the box, K, wood thickness over all, mm. None: no such thickness.
pub fn post_cure(
    glass: &Glass,
    kinetics: &Kinetics,
    (from, wanted): (f64, f64),
    kelvin: f64,
    thickness_mm: f64,
) -> Result<Option<PostCure>, Unsolved> {
    let Some(warm_up) = crate::wood::heat_up_ms(thickness_mm, crate::wood::H, 0.9) else { return Ok(None) };
    let soak = glass.soak(kinetics, from, wanted, kelvin, 7.0 * 86_400.0)?;
    Ok(Some(PostCure { warm_up_min: warm_up / 60e3, soak_min: soak.map(|s| s / 60.0) }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cure::kinetics;

    #[test]
    fn there_and_back() {
        for a in [0.0, 0.1, 0.684, 0.99, 1.0] {
            assert!((GENERIC.conversion(GENERIC.transition(a)) - a).abs() < 1e-12);
        }
    }

    #[test]
    fn a_plan_keeps_its_word() {
        let week = GENERIC.after(&kinetics::GENERIC, &[(293.15, 7.0 * 86_400.0)]).unwrap();
        let plan = post_cure(&GENERIC, &kinetics::GENERIC, (week.conversion, 328.15), 333.15, 20.0).unwrap().unwrap();
        let soak = plan.soak_min.unwrap() * 60.0;
        let done = GENERIC.after(&kinetics::GENERIC, &[(293.15, 7.0 * 86_400.0), (333.15, soak)]).unwrap();
        assert!((done.glass_k - 328.15).abs() < 1e-4, "{done:?}");
        let never = GENERIC.soak(&kinetics::GENERIC, week.conversion, 343.15, 303.15, 7.0 * 86_400.0).unwrap();
        assert_eq!(never, None);
    }
}
