//! Moisture of wood: what it settles at in steady air.
//!
//! Two-hydrate sorption: M = (1800/W) [Kh/(1-Kh) + (K1 K h + 2 K1 K2 K² h²)/(1 + K1 K h + K1 K2 K² h²)] %, h the
//! relative humidity, the coefficients quadratics in °F. Source: Simpson, FPL-RN-0268 (1998), as Wood Handbook
//! FPL-GTR-190 (2010) eq. 4-5 and table 4-2; K2 from memory, and the only one that gives the table.

/// Moisture that wood settles at, % of dry mass; temperature °C, humidity %.
pub fn settles_at(celsius: f64, humidity_pct: f64) -> f64 {
    let t = 1.8 * celsius + 32.0;
    let h = humidity_pct / 100.0;
    let w = 330.0 + 0.452 * t + 0.00415 * t * t;
    let k = 0.791 + 0.000463 * t - 0.000_000_844 * t * t;
    let k1 = 6.34 + 0.000775 * t - 0.0000935 * t * t;
    let k2 = 1.09 + 0.0284 * t - 0.0000904 * t * t;
    let kh = k * h;
    let two = k1 * k2 * kh * kh;
    1800.0 / w * (kh / (1.0 - kh) + (k1 * kh + 2.0 * two) / (1.0 + k1 * kh + two))
}

/// Temperatures of table 4-2 that the equation was held against, °C (30 to 160 °F).
pub const CHECKED_C: (f64, f64) = (-1.2, 71.2);
