//! What wood settles at, dew point, heated air, wet bulb.

use super::{near, number};
use crate::table::rows;
use glue::vapour::{PSYCHROMETER, over_water};

#[test]
fn wood_settles_as_the_table_says() {
    let rows = rows(include_str!("../wood_settles.csv"));
    assert!(rows.len() > 130);
    for row in rows {
        let line = format!("wood-moisture temperature={}F humidity={}%", row.text(0), row.text(1));
        near(number(&line, "wood_moisture_pct"), row.number(2), 0.07);
    }
    // The worked values of the equation itself: °F coefficients at 70 °F, °C ones (which differ by 0.013 at most) at 20 °C.
    near(number("wood-moisture temperature=70F humidity=50%", "wood_moisture_pct"), 9.246, 0.000_5);
    near(number("wood-moisture temperature=20C humidity=65%", "wood_moisture_pct"), 11.996, 0.013);
}

#[test]
fn outdoor_air_heated_is_as_dry_as_the_table_says() {
    for row in rows(include_str!("../heated_air.csv")) {
        let line =
            format!("heated-air outdoor-temperature={}F outdoor-humidity=75% indoor-temperature=72F", row.text(0));
        row.same(1, number(&line, "humidity_pct"));
        if !row.text(2).is_empty() {
            near(number(&line, "wood_moisture_pct"), row.number(2), 0.17 + 0.05);
        }
    }
    let cold = "heated-air outdoor-temperature=20F outdoor-humidity=75% indoor-temperature=72F";
    near(number(cold, "humidity_pct"), 9.8, 0.05);
}

#[test]
fn drying_air_settles_where_it_is_said_to() {
    for row in rows(include_str!("../drying_air.csv")) {
        let line = format!("wood-moisture temperature={}F humidity={}%", row.text(0), row.text(1));
        row.same(2, number(&line, "wood_moisture_pct"));
    }
}

#[test]
fn dew_points() {
    for row in rows(include_str!("../dew_point_magnus.csv")) {
        let line = format!("dew-point temperature={}C humidity={}%", row.text(0), row.text(1));
        row.same(2, number(&line, "dew_point_c"));
        row.same(3, number(&line, "vapour_pressure_hpa") / row.number(1) * 100.0);
    }
    // Another formula, Hyland and Wexler's: 0.02 K and 0.3 % apart.
    for row in rows(include_str!("../dew_point.csv")) {
        let line = format!("dew-point temperature={}C humidity={}%", row.text(0), row.text(1));
        near(number(&line, "dew_point_c"), row.number(2), 0.02);
        near(number(&line, "vapour_pressure_hpa") / row.number(3), 1.0, 0.003);
    }
    // A builder's table prints 20 °C for 30 °C and 55 %.
    let line = "dew-point temperature=30C humidity=55% surface=22C";
    near(number(line, "dew_point_c"), 20.0, 0.5);
    near(number(line, "margin_k"), 22.0 - number(line, "dew_point_c"), 1e-12);
}

/// Saturation pressure by Hyland and Wexler over water, hPa: ASHRAE Fundamentals (2017) ch. 1 eq. 6, constants from
/// memory; the first assertion below holds them to the other program's last digit.
fn hyland_wexler(celsius: f64) -> f64 {
    let t = celsius + 273.15;
    let by_power = 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t * t - 1.445_209_3e-8 * t * t * t;
    libm::exp(-5.800_220_6e3 / t + by_power + 6.545_967_3 * libm::log(t)) / 100.0
}

/// Adiabatic saturation: heat balance of d = dry - wet kelvin, L = 2501 - 2.326 wet (kJ/kg), mixing ratios W by
/// (L + 1.86 d) W = L Ws - 1.006 d, W = 0.621945 e/(p - e). Solved for the pressure and put as a psychrometer's
/// e = es - A p d, this A is no constant (derived in docs/science/air-and-wood.md).
fn adiabatic_coefficient(dry: f64, wet: f64, pressure: f64, es: f64) -> f64 {
    let latent = 2_501.0 - 2.326 * wet;
    let sensible = 1.006 / 0.621_945;
    let more = sensible - 1.86;
    let left = pressure - es;
    left * (sensible * pressure - more * es) / (pressure * (latent * pressure - more * (dry - wet) * left))
}

#[test]
fn wet_bulbs() {
    // The worked example of ANC-19: dry 140 °F, wet 130 °F, 75 per cent.
    near(number("wet-bulb dry=140F wet=130F", "humidity_pct"), 75.0, 0.5);
    for row in rows(include_str!("../wet_bulb.csv")) {
        let [dry, wet, pressure] = [0, 1, 2].map(|column| row.number(column));
        let (es_wet, es_dry) = (hyland_wexler(wet), hyland_wexler(dry));
        let coefficient = adiabatic_coefficient(dry, wet, pressure, es_wet);
        let theirs = es_wet - coefficient * pressure * (dry - wet);
        row.same(3, 100.0 * theirs / es_dry);
        // What must lie between the two programs: another coefficient, and another formula of saturation.
        let by_coefficient = (PSYCHROMETER - coefficient) * pressure * (dry - wet);
        let off = |celsius: f64, other: f64| over_water(celsius) / other - 1.0;
        assert!(off(wet, es_wet).abs() < 0.003 && off(dry, es_dry).abs() < 0.003);
        let by_saturation = es_wet * off(wet, es_wet) - (theirs - by_coefficient) * off(dry, es_dry);
        let line = format!("wet-bulb dry={dry}C wet={wet}C pressure={pressure}hPa");
        let ours = number(&line, "humidity_pct");
        let between = 100.0 * (by_saturation - by_coefficient) / es_dry;
        println!("{dry} {wet}: {:.3} points apart, derived {between:.3}", ours - row.number(3));
        // The square of the saturation formulas' difference is left.
        near(ours, row.number(3) + between, 100.0 * 0.003 * 0.003);
    }
}
