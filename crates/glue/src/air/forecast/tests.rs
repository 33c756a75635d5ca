//! Shapes by hand, and cool-downs made from known time constants.

use super::*;

const H: f64 = 3_600_000.0;
const T0: i64 = 1_763_460_000_000; // 2025-11-18T10:00:00Z

fn stated(shape: Shape) -> Forecast {
    Forecast { from_ms: T0, until_ms: None, zone_min: 60, shape }
}

fn course(shape: Shape) -> Course {
    stated(shape).course(T0, Some(293.15), &[]).unwrap()
}

fn source(knots: Vec<(f64, f64)>) -> Source {
    let knot =
        |(hours, k): (f64, f64)| Knot { at_ms: T0 + (hours * H) as i64, low_k: k - 1.0, mean_k: k, high_k: k + 1.0 };
    Source { error_k: 1.0, knots: knots.into_iter().map(knot).collect(), lowest: vec![] }
}

#[test]
fn night_falls_and_rises_in_straight_lines() {
    // 10:00 UTC is 11:00 here; the night begins 22:00, eleven hours on.
    let it = course(Shape::Setback { day_k: 293.0, night_k: 285.0, from_min: 1_320, to_min: 360, ramp_ms: RAMP_MS });
    for (hours, k) in [(0.0, 293.0), (11.0, 293.0), (12.0, 289.0), (13.0, 285.0), (19.0, 285.0), (20.5, 291.0)] {
        assert!((it.at(hours * H) - k).abs() < 1e-9, "{hours} {}", it.at(hours * H));
        assert!((it.at((hours + 24.0) * H) - k).abs() < 1e-9);
    }
}

#[test]
fn a_day_is_warmest_when_it_says() {
    let it = course(Shape::Day { mean_k: 288.0, swing_k: 5.0, warmest_min: 900 });
    for (hours, k) in [(4.0, 293.0), (10.0, 288.0), (16.0, 283.0), (28.0, 293.0)] {
        assert!((it.at(hours * H) - k).abs() < 1e-9, "{hours} {}", it.at(hours * H));
    }
}

#[test]
fn until_holds_what_was() {
    let shape = Shape::Day { mean_k: 288.0, swing_k: 5.0, warmest_min: 900 };
    let until = Forecast { until_ms: Some(T0 + (4.0 * H) as i64), ..stated(shape) }.course(T0, None, &[]).unwrap();
    assert_eq!(until.at(100.0 * H), until.at(4.0 * H));
    assert_eq!(until.steady_from(), Some(4.0 * H));
    let cooling =
        Forecast { until_ms: Some(T0 - 1), ..stated(Shape::Cooling { towards_k: 280.0, tau_ms: Some(4.0 * H) }) };
    assert_eq!(cooling.course(T0, Some(293.15), &[]).unwrap().at(9.0 * H), 293.15);
}

#[test]
fn cooling_begins_from_what_is_known_or_not_at_all() {
    let shape = Shape::Cooling { towards_k: 280.0, tau_ms: Some(2.0 * H) };
    let it = course(shape);
    assert!((it.at(2.0 * H) - (280.0 + 13.15 * libm::exp(-1.0))).abs() < 1e-9);
    assert!(stated(shape).course(T0, None, &[]).is_none());
    let unknown = course(Shape::Cooling { towards_k: 280.0, tau_ms: None });
    assert_eq!((unknown.tau_ms, unknown.tau), (TAU_UNKNOWN_MS, Tau::Unknown));
}

#[test]
fn the_newest_stated_holds() {
    let at = |from_ms, k| Forecast { from_ms, ..stated(Shape::Hold { at_k: k }) };
    let all = [at(T0, 290.0), at(T0 + 5, 291.0), at(T0 + 5, 292.0), at(T0 + 9, 293.0)];
    assert_eq!(in_force(&all, T0 + 8).map(|one| one.shape), Some(Shape::Hold { at_k: 292.0 }));
    assert_eq!(in_force(&all, T0 - 1), None);
}

#[test]
fn the_time_constant_comes_out_of_the_last_cool_down() {
    let fall = |hours: f64| 280.0 + 14.0 * libm::exp(-hours / 5.0);
    // Warm hours before, a fall of six hours in half-hour means, warm again after.
    let warm = (0..8).map(|i| (-20.0 + f64::from(i) * 0.5, 294.0));
    let falling = (0..13).map(|i| (-16.0 + f64::from(i) * 0.5, fall(f64::from(i) * 0.5)));
    let again = (0..4).map(|i| (-9.0 + f64::from(i) * 0.5, 294.0 + f64::from(i)));
    let all = source(warm.chain(falling).chain(again).collect());
    let tau = fitted_tau_ms(std::slice::from_ref(&all), T0, 280.0).unwrap();
    assert!((tau / (5.0 * H) - 1.0).abs() < 0.02, "{}", tau / H);
    // Not above where it goes, out of the last seven days, in the future: no fit.
    assert_eq!(fitted_tau_ms(std::slice::from_ref(&all), T0, 285.0), None);
    assert_eq!(fitted_tau_ms(std::slice::from_ref(&all), T0 + 8 * 24 * 3_600_000, 280.0), None);
    assert_eq!(fitted_tau_ms(&[all], T0 - 16 * 3_600_000, 280.0), None);
}

#[test]
fn a_short_shallow_or_thin_fall_is_no_cool_down() {
    let fall = |hours: f64| 280.0 + 14.0 * libm::exp(-hours / 5.0);
    let of =
        |step: f64, count: i32| source((0..count).map(|i| (f64::from(i) * step, fall(f64::from(i) * step))).collect());
    let late = T0 + 48 * 3_600_000;
    assert!(fitted_tau_ms(&[of(0.5, 13)], late, 280.0).is_some());
    assert_eq!(fitted_tau_ms(&[of(0.05, 15)], late, 280.0), None, "under an hour");
    assert_eq!(fitted_tau_ms(&[of(0.2, 6)], late, 280.0), None, "under three kelvin");
    assert_eq!(fitted_tau_ms(&[of(1.0, 3)], late, 280.0), None, "three knots");
    assert_eq!(fitted_tau_ms(&[of(1.5, 5)], late, 280.0), None, "more than an hour apart");
}
