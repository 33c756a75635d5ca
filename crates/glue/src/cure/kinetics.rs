//! Rates of an epoxy-amine reaction: da/dt = (k1 + k2 a^m)(1-a)^n, k1 and k2 by Arrhenius.
//!
//! The equation is Kamal and Sourour's (Thermochim. Acta 14, 1976, from memory). The generic set is nobody's product:
//! it is chosen so that 100 g in a cup at 25 °C can be worked for about eighty minutes.

use crate::number::{GAS, exp};

/// Temperature the rates are stated at, K (25 °C).
pub const STATED_K: f64 = 298.15;
/// Conversion at which a tetrafunctional amine and a diepoxide in balance gel, sqrt(1/3): Flory and Stockmayer.
pub const GEL: f64 = 0.577_350_269_189_625_8;
/// Conversion at which the viscosity has doubled, by (g/(g-a))^(1.5 + a) = 2 with g = [`GEL`]: Castro and Macosko
/// (1982); form read, exponents from memory.
pub const WORK: f64 = 0.193_886_927_3;

/// Rates at 25 °C and how they change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kinetics {
    /// Rate without catalysis at 25 °C, 1/s.
    pub k1: f64,
    /// Its activation energy, J/mol.
    pub e1: f64,
    /// Rate catalysed by what has reacted, at 25 °C, 1/s.
    pub k2: f64,
    /// Its activation energy, J/mol.
    pub e2: f64,
}

/// The generic set.
pub const GENERIC: Kinetics = Kinetics { k1: 1e-5, e1: 60e3, k2: 2e-4, e2: 55e3 };

impl Kinetics {
    /// Both rate constants at a temperature, K, in 1/s.
    #[inline]
    pub fn constants(&self, kelvin: f64) -> (f64, f64) {
        let x = (1.0 / STATED_K - 1.0 / kelvin) / GAS;
        (self.k1 * exp(self.e1 * x), self.k2 * exp(self.e2 * x))
    }

    /// da/dt, 1/s, by chemistry alone with m = 1 and n = 2; 0 outside 0 to 1 of conversion at the end it ran out of.
    #[inline]
    pub fn rate(&self, a: f64, kelvin: f64) -> f64 {
        let (k1, k2) = self.constants(kelvin);
        let left = (1.0 - a).max(0.0);
        (k1 + k2 * a.max(0.0)) * left * left
    }

    /// Time to a conversion at one temperature, s, for 0 <= a < 1, in closed form (partial fractions):
    /// t = (k2/K²)(ln((k1 + k2 a)/k1) - ln(1-a)) + a/((1-a) K), K = k1 + k2.
    pub fn isothermal_s(&self, a: f64, kelvin: f64) -> f64 {
        let (k1, k2) = self.constants(kelvin);
        closed(k1, k2, a)
    }
}

/// The closed form with both rates given.
pub fn closed(k1: f64, k2: f64, a: f64) -> f64 {
    let sum = k1 + k2;
    let logs = libm::log1p(k2 / k1 * a) - libm::log1p(-a);
    k2 / (sum * sum) * logs + a / ((1.0 - a) * sum)
}

/// Conversion at which the viscosity of a mix that gels at `gel` has doubled: (g/(g-a))^(A + B a) = 2.
pub fn doubling(gel: f64, a: f64, b: f64) -> f64 {
    let (mut low, mut high) = (0.0, gel);
    for _ in 0..80 {
        let middle = (low + high) / 2.0;
        let ln = (a + b * middle) * libm::log(gel / (gel - middle));
        if ln < core::f64::consts::LN_2 { low = middle } else { high = middle }
    }
    (low + high) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_closed_form_is_the_printed_one() {
        let rows = [(0.1, 5_989.294_653), (0.3, 12_483.379_11), (0.8, 39_195.697_31), (0.95, 117_648.365_3)];
        for (a, seconds) in rows {
            assert!((closed(1e-5, 2e-4, a) / seconds - 1.0).abs() < 1e-9, "{a}");
            assert!((GENERIC.isothermal_s(a, STATED_K) / seconds - 1.0).abs() < 1e-9, "{a}");
        }
    }

    #[test]
    fn the_viscosity_doubles() {
        assert!((doubling(GEL, 1.5, 1.0) - WORK).abs() < 1e-10, "{}", doubling(GEL, 1.5, 1.0));
        for (a, b, wanted) in [(1.0, 0.0, 0.2885), (2.0, 1.0, 0.1585), (3.0, 2.0, 0.1116)] {
            assert!((doubling(0.577, a, b) - wanted).abs() < 5.1e-5);
        }
    }
}
