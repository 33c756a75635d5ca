//! Movement, water of the glue, meter correction.

use super::{near, number};
use crate::table::rows;

#[test]
fn coefficients_from_shrinkage() {
    for row in rows(include_str!("../shrinkage.csv")) {
        for (shrinkage, coefficient) in [(1, 3), (2, 4)] {
            let line = format!("wood-movement width=100mm shrinkage={} from=12 to=8", row.text(shrinkage));
            row.same(coefficient, number(&line, "coefficient_per_pct"));
        }
    }
    let line = "wood-movement width=6in coefficient=0.00263 from=12% to=8%";
    near(number(line, "change_mm") / 25.4, -0.063_1, 0.000_05);
}

#[test]
fn water_brought_by_the_glue() {
    for row in rows(include_str!("../glue_water.csv")) {
        let wood = format!("laminations={} thickness={}in specific-gravity={}", row.text(0), row.text(1), row.text(3));
        let urea = format!("glue-water spread=47lb/1000ft2 water={} {wood}", 0.65 / 1.65);
        let casein = format!("glue-water spread=75lb/1000ft2 water={} {wood}", 2.0 / 3.0);
        row.same(4, number(&urea, "moisture_rise_pct"));
        row.same(5, number(&casein, "moisture_rise_pct"));
    }
}

#[test]
fn meters_in_cold_wood() {
    for row in rows(include_str!("../meter_correction.csv")) {
        let line = format!("meter-correction reading={}% wood-temperature={}C", row.text(0), row.text(1));
        row.same(2, number(&line, "wood_moisture_pct") - row.number(0));
    }
}
