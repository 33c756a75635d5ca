//! Numbers from broken sample joints: mean and scatter, exact one-sided tolerance factors, the individuals chart.
//!
//! k = t'(confidence; n-1, z sqrt n)/sqrt n, t' the quantile of the noncentral t distribution (any text on tolerance
//! limits). The distribution is computed from its definition, P(T <= t) = E[Phi(t w - delta)], w = chi/sqrt nu, by the
//! trapezoid rule in ln w, which converges faster than any power on so smooth a function.

use statrs::distribution::{ContinuousCDF, Normal};

/// P(Z <= z).
fn phi(z: f64) -> f64 {
    0.5 * libm::erfc(-z * core::f64::consts::FRAC_1_SQRT_2)
}

/// Shear at which a block broke, MPa: load in mN by a face in µm × µm.
pub fn shear_mpa(load_mn: i64, width_um: i64, length_um: i64) -> f64 {
    load_mn as f64 * 1e3 / (width_um as f64 * length_um as f64)
}

/// The z below which this share of a normal population lies; NaN outside 0 to 1.
pub fn normal_quantile(share: f64) -> f64 {
    let Ok(normal) = Normal::new(0.0, 1.0) else { return f64::NAN };
    if !(share > 0.0 && share < 1.0) {
        return f64::NAN;
    }
    let z = normal.inverse_cdf(share);
    // One Newton step takes out what the library's approximation leaves.
    let density = libm::exp(-0.5 * z * z) / libm::sqrt(2.0 * core::f64::consts::PI);
    z - (phi(z) - share) / density
}

/// P(T <= t) of the noncentral t distribution with nu >= 1 degrees of freedom and noncentrality delta >= 0; NaN outside
/// and where the sum would need more than a million terms.
pub fn noncentral_t(t: f64, nu: f64, delta: f64) -> f64 {
    if t.is_nan() || !(1.0..=f64::MAX).contains(&nu) || !(0.0..=f64::MAX).contains(&delta) {
        return f64::NAN;
    }
    let root = libm::sqrt(nu);
    // Beyond these ends the density of ln w is below e^-45 of its peak.
    let (from, to) = (-(45.0 / nu + 7.0 / root), 7.0 / root);
    let step = (0.1_f64).min(0.35 / root).min(1.0 / (1.5 * delta.max(1.0)));
    let count = libm::ceil((to - from) / step);
    if count > 1e6 {
        return f64::NAN;
    }
    let count = count as usize;
    let (mut below, mut all) = (0.0, 0.0);
    for i in 0..=count {
        let u = from + i as f64 * step;
        let weight = libm::exp(nu * (u - libm::expm1(2.0 * u) / 2.0));
        below += weight * phi(t * libm::exp(u) - delta);
        all += weight;
    }
    below / all
}

/// Factor k such that mean - k s lies, with this confidence, below this share (coverage) of a normal population, from
/// n >= 2 values; both shares in [0.5, 1). None where it cannot be found.
pub fn tolerance_factor(n: u64, coverage: f64, confidence: f64) -> Option<f64> {
    let sound = |share: f64| (0.5..1.0).contains(&share);
    if n < 2 || !sound(coverage) || !sound(confidence) {
        return None;
    }
    let root = libm::sqrt(n as f64);
    let z = normal_quantile(coverage);
    let share = |k: f64| noncentral_t(k * root, n as f64 - 1.0, z * root);
    // With a confidence of one half the factor may lie a little below z, even below zero.
    let (mut low, mut high) = (-1.0, z + 1.0);
    while share(high) < confidence {
        low = high;
        high *= 2.0;
        if high > 1e9 {
            return None;
        }
    }
    if share(high).is_nan() {
        return None;
    }
    while high - low > 1e-13 * high.abs().max(1.0) {
        let middle = (low + high) / 2.0;
        if middle <= low || middle >= high {
            break;
        }
        if share(middle) < confidence { low = middle } else { high = middle }
    }
    Some((low + high) / 2.0)
}

/// Mean and standard deviation (n - 1) of at least two values.
pub fn mean_and_sd(values: &[f64]) -> Option<(f64, f64)> {
    let n = values.len() as f64;
    if values.len() < 2 {
        return None;
    }
    let mean = values.iter().sum::<f64>() / n;
    let square = values.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>();
    Some((mean, libm::sqrt(square / (n - 1.0))))
}

/// Mean and three-sigma limits of an individuals chart, and which values (from 1) lie outside.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// Mean.
    pub mean: f64,
    /// Lower limit.
    pub lower: f64,
    /// Upper limit.
    pub upper: f64,
    /// Values outside, by their place in the list, from 1.
    pub outside: Vec<u64>,
}

/// The chart of at least two values in the order they were found: sigma is the mean moving range by d2 = 2/sqrt(pi).
/// Source: any text on control charts; 3/d2 = 2.6587, often rounded to 2.66.
pub fn individuals(values: &[f64]) -> Option<Chart> {
    let (mean, _) = mean_and_sd(values)?;
    let ranges = values.windows(2).map(|two| (two[1] - two[0]).abs()).sum::<f64>() / (values.len() as f64 - 1.0);
    let reach = 3.0 * ranges * libm::sqrt(core::f64::consts::PI) / 2.0;
    let (lower, upper) = (mean - reach, mean + reach);
    let outside = (1..).zip(values).filter(|(_, x)| **x < lower || **x > upper).map(|(place, _)| place).collect();
    Some(Chart { mean, lower, upper, outside })
}
