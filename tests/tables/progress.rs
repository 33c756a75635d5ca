//! Progress along varying temperature: finish tables, bounds, closed forms evaluated another way.

use crate::law::card;
use crate::table::rows;
use glue::air::{Piece, Sort};
use glue::card::Class;
use glue::clock::{Clock, Direction};
use glue::law::{Law, of_limit};
use glue::number::{GAS, HOUR};
use glue::progress::shape::Body;
use glue::progress::{Course, Sums};

/// Hours and degrees Celsius.
type Log = Vec<(f64, f64)>;

fn course(law: Law, minimum_c: Option<f64>) -> Course {
    Course {
        law,
        direction: Direction::MustReach,
        body: Body::Warmer(None),
        minimum: minimum_c.map(|c| (c + 273.15, true)),
        fault: false,
        carried: [0.0; 3],
        pending: vec![],
        allowance: 0.0,
    }
}

fn piece(from: (f64, f64), to: (f64, f64), shift: [f64; 3]) -> Piece {
    Piece {
        from: from.0 * HOUR,
        to: to.0 * HOUR,
        a: [from.1 + 273.15; 3],
        b: [to.1 + 273.15; 3],
        shift,
        sort: Sort::Read,
        long_gap: false,
    }
}

/// When each bound finishes, hours.
fn finish(course: &Course, log: &Log, shift: [f64; 3]) -> [f64; 3] {
    let mut sums = Sums::new(0.0, 293.15);
    for two in log.windows(2) {
        sums.step(course, &piece(two[0], two[1], shift));
    }
    sums.finished.map(|at| at.map_or(f64::INFINITY, |ms| ms / HOUR))
}

fn every_five_minutes(hours: f64, celsius: impl Fn(f64) -> f64) -> Log {
    (0..=(hours * 12.0) as i64).map(|i| (i as f64 / 12.0, celsius(i as f64 / 12.0))).collect()
}

fn newton(hours: f64) -> Log {
    every_five_minutes(hours, |t| 8.0 + 14.0 * libm::exp(-t / 4.0))
}

fn scenario(name: &str) -> Log {
    let tau = 2.0 * std::f64::consts::PI;
    match name.chars().next().unwrap() {
        'A' => vec![(0.0, 20.0), (400.0, 20.0)],
        'B' => vec![(0.0, 15.0), (400.0, 15.0)],
        'C' => vec![(0.0, 22.0), (24.0, 10.0), (400.0, 10.0)],
        'D' => newton(400.0),
        'E' => every_five_minutes(400.0, |t| 14.0 + 6.0 * libm::sin(tau * (t - 3.0) / 24.0)),
        _ => vec![(0.0, 21.0), (2.0, 21.0), (5.0, 12.0), (12.0, 12.0), (13.0, 20.0), (400.0, 20.0)],
    }
}

fn twelve_hours() -> Law {
    let card = card(Class::Epoxy, Clock::Clamp, &[(293.15, 720.0)]);
    of_limit(&card, &card.limits[0], |_| 1.0).unwrap()
}

#[test]
fn finish_times() {
    for row in rows(include_str!("finish_times.csv")) {
        let log = scenario(row.text(0));
        for (column, minimum) in [(1, None), (2, Some(10.0)), (3, Some(13.0))] {
            row.same(column, finish(&course(twelve_hours(), minimum), &log, [0.0; 3])[1]);
        }
    }
}

#[test]
fn finish_bounds() {
    let points = [(10.0, 30.0), (15.0, 19.0), (20.0, 12.0), (25.0, 8.5), (30.0, 5.5)];
    let points: Vec<(f64, f64)> = points.iter().map(|(c, h)| (c + 273.15, h * 60.0)).collect();
    let card = card(Class::Other, Clock::Clamp, &points);
    let law = of_limit(&card, &card.limits[0], |_| 1.0).unwrap();
    let [latest, expected, earliest] = finish(&course(law, None), &newton(100.0), [-1.0, 0.0, 1.0]);
    let rows = rows(include_str!("finish_bounds.csv"));
    rows[0].same(1, expected);
    rows[1].same(1, earliest);
    rows[2].same(1, latest);
    for percentile in &rows[3..] {
        assert!(earliest < percentile.number(1) && percentile.number(1) < latest);
    }
}

/// x e^x E1(x) for x > 1 by its continued fraction (Lentz), e.g. Numerical Recipes 6.3, from memory.
fn scaled_e1(x: f64) -> f64 {
    let mut b = x + 1.0;
    let mut c = 1e300;
    let mut d = 1.0 / b;
    let mut h = d;
    for i in 1..10_000 {
        let an = -f64::from(i) * f64::from(i);
        b += 2.0;
        d = 1.0 / (an * d + b);
        c = b + an / c;
        h *= c * d;
        if (c * d - 1.0).abs() < 1e-16 {
            break;
        }
    }
    x * h
}

#[test]
fn scaled_e1_is_the_printed_one() {
    // Abramowitz & Stegun table 5.1, from memory.
    assert!((scaled_e1(10.0) - 0.915_633_339).abs() <= 0.5e-9);
    assert!((scaled_e1(20.0) - 0.954_370_910).abs() <= 0.5e-9);
}

/// Integral of exp(-b/T) dT = T exp(-b/T) (1 - x e^x E1(x)), x = b/T.
fn ramp(b: f64, t0: f64, t1: f64) -> f64 {
    let up_to = |t: f64| t * libm::exp(-b / t) * (1.0 - scaled_e1(b / t));
    up_to(t1) - up_to(t0)
}

#[test]
fn straight_ramps_agree_with_the_exponential_integral() {
    let b = 55e3 / GAS;
    let rate_at_20 = 1.0 / (12.0 * HOUR);
    for (from, to, hours) in
        [(10.0, 11.0, 1.0), (22.0, 10.0, 3.0), (0.0, 40.0, 2.0), (40.0, 5.0, 6.0), (20.0, 25.0, 0.1)]
    {
        let mut sums = Sums::new(0.0, 293.15);
        sums.step(&course(twelve_hours(), None), &piece((0.0, from), (hours, to), [0.0; 3]));
        let per_kelvin = hours * HOUR / (to - from);
        let exact = rate_at_20 * libm::exp(b / 293.15) * ramp(b, from + 273.15, to + 273.15) * per_kelvin;
        assert!((sums.done[1] / exact - 1.0).abs() < 1e-12, "{from} to {to}: {} and {exact}", sums.done[1]);
    }
}

#[test]
fn many_short_lines_agree_with_one_long_one_to_a_billionth() {
    for (from, to) in [(10.0, 22.0), (30.0, 5.0)] {
        let law = twelve_hours();
        let course = course(law, None);
        let mut short = Sums::new(0.0, 293.15);
        let n = 80;
        for i in 0..n {
            let at = |i: i32| (f64::from(i) / f64::from(n), from + (to - from) * f64::from(i) / f64::from(n));
            short.step(&course, &piece(at(i), at(i + 1), [0.0; 3]));
        }
        let mut long = Sums::new(0.0, 293.15);
        long.step(&course, &piece((0.0, from), (1.0, to), [0.0; 3]));
        for bound in 0..3 {
            assert!((short.done[bound] / long.done[bound] - 1.0).abs() < 1e-9);
        }
    }
}

#[test]
fn a_rule_of_ten_degrees_under_newtons_cooling() {
    // Closed form: e^{b(Tinf-Tref)} tau [Ei(bD) - Ei(bD e^{-t/tau})], Q10 = 2, Tref 20, 22 to 8 °C, tau 4 h, 10 h:
    // 23105.0674 s. Our law is straight in 1/T, so the temperatures are handed in on a scale on which it doubles
    // every ten degrees: b/T' = b/T'ref - ln 2 (T - Tref)/10.
    let b = 55e3 / GAS;
    let scaled = |c: f64| 1.0 / (1.0 / 293.15 - core::f64::consts::LN_2 * (c - 20.0) / 10.0 / b) - 273.15;
    let at = |i: i32| {
        let hours = f64::from(i) / 7_200.0;
        (hours, scaled(8.0 + 14.0 * libm::exp(-hours / 4.0)))
    };
    let course = course(twelve_hours(), None);
    let mut sums = Sums::new(0.0, 293.15);
    for i in 0..72_000 {
        sums.step(&course, &piece(at(i), at(i + 1), [0.0; 3]));
        sums.finished = [None; 3];
    }
    let seconds = sums.done[1] * 12.0 * 3_600.0;
    assert!((seconds - 23_105.067_4).abs() <= 0.5e-4, "{seconds}");
}
