//! Time to a conversion at one temperature by quadrature, for any exponents and for cures that stop at a plateau.

/// Rates and exponents at one temperature: da/dt = (k1 + k2 a^m)(1-a)^(n/2)(r-a)^(n/2).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Isothermal {
    /// Rate without catalysis, 1/s; above 0.
    pub k1: f64,
    /// Catalysed rate, 1/s; 0 or more.
    pub k2: f64,
    /// Exponent of conversion.
    pub m: f64,
    /// Exponent of what is left.
    pub n: f64,
    /// Conversion at which the cure stops, r, above 0; fitted ones reach a little beyond 1.
    pub plateau: f64,
}

/// A time by quadrature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reached {
    /// After this many seconds, with this many values of the rate.
    After {
        /// s.
        seconds: f64,
        /// Values of the rate used.
        calls: u32,
    },
    /// The conversion lies at the plateau or above it, or is all there is.
    Never,
    /// The quadrature did not settle to eleven digits.
    NotSettled,
}

impl Isothermal {
    /// 1/rate at a conversion told by its distances from 0 and from the plateau, so that neither loses digits.
    fn slowness(&self, a: f64, to_plateau: f64) -> f64 {
        let left = 1.0 - self.plateau + to_plateau;
        let rate = (self.k1 + self.k2 * libm::pow(a, self.m)) * libm::pow(left * to_plateau, self.n / 2.0);
        1.0 / rate
    }

    /// Time to a conversion above 0: the integral of da/rate by the double-exponential rule, halving its step until two
    /// sums agree to 1e-11. The rule crowds its points at both ends, where a small k1 and the plateau bend the curve.
    pub fn time(&self, conversion: f64) -> Reached {
        if conversion.is_nan() || conversion >= self.plateau.min(1.0) {
            return Reached::Never;
        }
        let (mut sum, mut calls) = (0.0, 0u32);
        let mut before = f64::NAN;
        for level in 0..9u32 {
            let step = 0.5 / f64::from(1u32 << level);
            let stride = if level == 0 { 1 } else { 2 };
            let first = if level == 0 { 0 } else { 1 };
            let most = libm::ceil(4.2 / step) as i32;
            let mut fresh = 0.0;
            for j in (first..=most).step_by(stride) {
                for side in if j == 0 { &[1.0][..] } else { &[1.0, -1.0][..] } {
                    fresh += self.weighted(conversion, side * f64::from(j) * step);
                    calls += 1;
                }
            }
            sum += fresh;
            let value = sum * step;
            if (value - before).abs() <= 1e-11 * value.abs() {
                return Reached::After { seconds: value, calls };
            }
            before = value;
        }
        Reached::NotSettled
    }

    /// Slowness times weight at u, where a = c/(1 + exp(-pi sinh u)).
    fn weighted(&self, c: f64, u: f64) -> f64 {
        let s = core::f64::consts::PI * libm::sinh(u);
        let (low, high) = (1.0 / (1.0 + libm::exp(-s)), 1.0 / (1.0 + libm::exp(s)));
        let weight = c * low * high * core::f64::consts::PI * libm::cosh(u);
        if weight < 1e-300 {
            return 0.0;
        }
        weight * self.slowness(c * low, self.plateau - c + c * high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cure::kinetics::closed;

    #[test]
    fn quadrature_agrees_with_the_closed_form() {
        for k1 in [1e-5, 1e-9, 1e-3] {
            let all = Isothermal { k1, k2: 2e-4, m: 1.0, n: 2.0, plateau: 1.0 };
            for a in [0.01, 0.2, 0.577, 0.95, 0.999_9] {
                let Reached::After { seconds, calls } = all.time(a) else { panic!("{k1} {a}") };
                assert!((seconds / closed(k1, 2e-4, a) - 1.0).abs() < 1e-10, "{k1} {a} {seconds} {calls}");
                assert!(calls < 2_000);
            }
        }
    }

    #[test]
    fn a_plateau_is_never_reached() {
        let stops = Isothermal { k1: 1e-5, k2: 2e-4, m: 1.0, n: 2.0, plateau: 0.558 };
        assert_eq!(stops.time(0.577), Reached::Never);
        assert_eq!(stops.time(0.558), Reached::Never);
        assert!(matches!(stops.time(0.557), Reached::After { .. }));
    }
}
