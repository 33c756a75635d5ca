//! What wood settles at, dew point, heated air, wet bulb.

use super::{near, number};
use crate::table::rows;

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

#[test]
fn wet_bulbs() {
    // The worked example of ANC-19: dry 140 °F, wet 130 °F, 75 per cent.
    near(number("wet-bulb dry=140F wet=130F", "humidity_pct"), 75.0, 0.5);
    for row in rows(include_str!("../wet_bulb.csv")) {
        let line = format!("wet-bulb dry={}C wet={}C pressure={}hPa", row.text(0), row.text(1), row.text(2));
        // Another definition of the wet bulb; measured apart by 0.504 at most.
        near(number(&line, "humidity_pct"), row.number(3), 0.51);
    }
}
