//! Laws, finishes, equivalent ages.

use super::{asked, near, number, numbers};
use crate::table::rows;
use glue::figure::Out;
use glue::number::GAS;

#[test]
fn laws_of_a_handbook() {
    for row in rows(include_str!("../arrhenius.csv")) {
        let line = format!("cure-law points={}", row.text(1));
        row.same(3, number(&line, "activation_energy_kj_mol"));
        row.same(4, number(&line, "ln_t0_min"));
    }
    let line = "cure-law points=70F:240min,90F:120min at=80F,90F,70F";
    let times = numbers(line, "times_min");
    near(times[0], 168.6, 0.05);
    near(times[1], 120.0, 1e-9);
    near(times[2], 240.0, 1e-9);
}

#[test]
fn bands_of_five_points() {
    let line = "cure-law points=10C:30h,15C:19h,20C:12h,25C:8.5h,30C:5.5h";
    near(number(line, "activation_energy_kj_mol"), 59.935_674, 0.5e-6);
    for row in rows(include_str!("../five_points.csv")) {
        let line = format!("{line} at={}C", row.text(0));
        row.same(1, numbers(&line, "times_min")[0] / 60.0);
        let Some(Out::Bands(bands)) = asked(&line).unwrap().get("bands").cloned() else { panic!("{line}") };
        let (low, high) = bands[0].unwrap();
        row.same(2, low / 60.0);
        row.same(3, high / 60.0);
    }
}

/// Five-minute knots of a temperature, as typed.
fn typed(hours: f64, celsius: impl Fn(f64) -> f64) -> String {
    let knots = (0..=(hours * 12.0) as i64).map(|i| i as f64 / 12.0);
    knots.map(|h| format!("{h}h:{}C", celsius(h))).collect::<Vec<_>>().join(",")
}

fn newton(hours: f64) -> String {
    typed(hours, |t| 8.0 + 14.0 * libm::exp(-t / 4.0))
}

fn scenario(name: &str) -> String {
    let tau = 2.0 * std::f64::consts::PI;
    match name.chars().next().unwrap() {
        'A' => "0h:20C".to_owned(),
        'B' => "0h:15C".to_owned(),
        'C' => "0h:22C,24h:10C".to_owned(),
        'D' => newton(100.0),
        'E' => typed(100.0, |t| 14.0 + 6.0 * libm::sin(tau * (t - 3.0) / 24.0)),
        _ => "0h:21C,2h:21C,5h:12C,12h:12C,13h:20C".to_owned(),
    }
}

#[test]
fn finishes() {
    for row in rows(include_str!("../finish_times.csv")) {
        let trace = scenario(row.text(0));
        for (column, minimum) in [(1, ""), (2, " minimum=10C"), (3, " minimum=13C")] {
            let line = format!("cure-finish ea=55 point=20C:12h trace={trace}{minimum}");
            let answer = asked(&line).unwrap_or_else(|refusal| panic!("{}", refusal.sentence));
            match answer.get("finish_h") {
                Some(Out::Nothing) => assert_eq!(row.text(column), "inf", "{}", row.text(0)),
                _ => row.same(column, answer.number("finish_h").unwrap()),
            }
        }
    }
}

#[test]
fn bounds() {
    let points = "points=10C:30h,15C:19h,20C:12h,25C:8.5h,30C:5.5h";
    let line = format!("cure-finish {points} trace={} sensor-error=1K", newton(100.0));
    let rows = rows(include_str!("../finish_bounds.csv"));
    for (row, field) in rows.iter().zip(["finish_h", "earliest_h", "latest_h"]) {
        row.same(1, number(&line, field));
    }
}

#[test]
fn no_more_is_credited_above_the_maximum() {
    let line = "cure-finish ea=55 point=20C:12h trace=0h:30C sensor-error=0K";
    near(number(&format!("{line} maximum=20C"), "finish_h"), 12.0, 1e-9);
    near(number(&format!("{line} maximum=20C"), "earliest_h"), 12.0, 1e-9);
    // Without a cap the expected finish runs on with the heat, the latest one never beyond the sheet's own point.
    assert!(number(line, "finish_h") < 6.5);
    near(number(line, "latest_h"), 12.0, 1e-9);
    // Five hours at the sheet's point and a jump to a place where nothing is credited: five twelfths, and never done.
    let cold = "cure-finish ea=55 point=20C:12h trace=0h:20C,5h:20C,5h:5C,9h:5C minimum=10C sensor-error=0K";
    near(number(cold, "progress"), 5.0 / 12.0, 1e-12);
    assert_eq!(asked(cold).unwrap().get("finish_h"), Some(&Out::Nothing));
}

#[test]
fn ranges_keep_both_ends() {
    let line = "cure-finish ea=55 point=20C:4-6h trace=0h:20C sensor-error=0K";
    let at = |field: &str| number(line, field);
    near(at("earliest_h"), 4.0, 1e-9);
    near(at("finish_h"), 5.0, 1e-9);
    near(at("latest_h"), 6.0, 1e-9);
    let line = "cure-finish points=20C:4-6h,30C:120min-3h trace=0h:30C sensor-error=0K";
    near(number(line, "earliest_h"), 2.0, 1e-9);
    near(number(line, "latest_h"), 3.0, 1e-9);
    let middle = number("cure-law points=20C:5h,30C:2.5h", "ln_t0_min");
    near(number("cure-law points=20C:4-6h,30C:120min-3h", "ln_t0_min"), middle, 1e-12);
}

#[test]
fn ages() {
    for row in rows(include_str!("../age_factor.csv")) {
        let line =
            format!("equivalent-age ea={:.12} reference=20C trace=0h:{}C,1h:{}C", 4.0 * GAS, row.text(0), row.text(0));
        row.same(2, number(&line, "equivalent_h"));
    }
    // A day at 20 °C and a day at the reference are the same day.
    near(number("equivalent-age ea=55 reference=20C trace=0h:20C,24h:20C", "equivalent_h"), 24.0, 1e-9);
}
