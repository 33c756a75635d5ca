//! The few numbers every formula needs, and an exponential that is the same on every machine.

/// Gas constant, J/(mol K). Source: CODATA 2018, exact.
pub const GAS: f64 = 8.314462618;
/// Minutes and hours in ms.
pub const MINUTE: f64 = 60_000.0;
/// One hour, ms.
pub const HOUR: f64 = 3_600_000.0;
/// Coldest and hottest temperature taken as a reading, K (-100 to 500 °C); anything else is no reading.
pub const PLAUSIBLE_K: (f64, f64) = (173.15, 773.15);
/// Half-width of a sensor's error where none is given, K.
pub const SENSOR_K: f64 = 1.0;

const LOG2_E: f64 = core::f64::consts::LOG2_E;
/// ln 2 in two parts, the first with enough trailing zeros that its product with the exponent is exact.
const LN2_HIGH: f64 = 6.931_471_803_691_238e-1;
const LN2_LOW: f64 = 1.908_214_929_270_587_7e-10;
/// 1.5 · 2^52: adding and taking away rounds to the nearest whole number.
const ROUND: f64 = 6_755_399_441_055_744.0;

/// e^x for |x| < 700; 0 or infinity beyond; relative error below 1e-13 (tested against `libm`).
///
/// x = k ln 2 + r, e^x = 2^k e^r, e^r by its series up to r^11: plain products and sums, so every machine agrees, and
/// no branch or table, so a year of minute readings stays cheap.
#[inline]
pub fn exp(x: f64) -> f64 {
    if !(-700.0..=700.0).contains(&x) {
        return libm::exp(x);
    }
    exp_plain(x)
}

/// The same without looking whether |x| < 700; anything may come out beyond.
#[inline(always)]
pub fn exp_plain(x: f64) -> f64 {
    let shifted = x * LOG2_E + ROUND;
    let k = shifted - ROUND;
    let r = (x - k * LN2_HIGH) - k * LN2_LOW;
    let r2 = r * r;
    let r4 = r2 * r2;
    let p01 = 1.0 + r;
    let p23 = 0.5 + r * (1.0 / 6.0);
    let p45 = 1.0 / 24.0 + r * (1.0 / 120.0);
    let p67 = 1.0 / 720.0 + r * (1.0 / 5_040.0);
    let p89 = 1.0 / 40_320.0 + r * (1.0 / 362_880.0);
    let pab = 1.0 / 3_628_800.0 + r * (1.0 / 39_916_800.0);
    let low = p01 + r2 * p23;
    let middle = p45 + r2 * p67;
    let high = p89 + r2 * pab;
    let series = low + r4 * (middle + r4 * high);
    // The low bits of `shifted` are k as a whole number; 2^k is k put into the exponent.
    let scale = f64::from_bits((shifted.to_bits().wrapping_add(1023)) << 52);
    series * scale
}

/// An instant as ms after `base_ms`.
pub fn after(base_ms: i64, at_ms: i64) -> f64 {
    at_ms.saturating_sub(base_ms) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_exponential_agrees_with_libm() {
        let mut worst: f64 = 0.0;
        for i in -140_000..=140_000 {
            let x = f64::from(i) * 0.005 - 0.001_234;
            worst = worst.max((exp(x) / libm::exp(x) - 1.0).abs());
        }
        assert!(worst < 1e-13, "worst relative error {worst:e}");
        assert_eq!(exp(0.0), 1.0);
        assert_eq!(exp(-800.0), 0.0);
        assert!(exp(f64::NAN).is_nan());
    }
}
