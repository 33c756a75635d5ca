//! Adding up shares of a time is exact only where every rate has one slope: how far it is off with two, and what the
//! clocks' allowance makes of that.

use crate::law::card;
use crate::table::{Row, rows};
use glue::card::{Card, Class, Limit};
use glue::clock::{Air, Asked, Charge, Clock, Knot, Source, Stay, Told, Wood, tell};
use glue::cure::kinetics::{GEL, GENERIC, Kinetics, WORK};

const STEP_S: f64 = 20.0;

fn kinetics(row: &Row) -> Kinetics {
    Kinetics { e1: row.number(0) * 1e3, e2: row.number(1) * 1e3, ..GENERIC }
}

/// Air of the row's history, °C at a second.
fn air(history: &str, s: f64) -> f64 {
    match history.chars().next().unwrap() {
        'N' => 8.0 + 14.0 * libm::exp(-s / 14_400.0),
        '8' if s < 21_600.0 => 8.0,
        '8' => 30.0,
        _ => 15.0 + 7.0 * libm::sin(2.0 * std::f64::consts::PI * s / 86_400.0),
    }
}

/// Seconds to the gel point by the rates themselves, and by shares of the gel time at each temperature.
fn both(row: &Row) -> [f64; 2] {
    let kinetics = kinetics(row);
    let kelvin = |s: f64| air(row.text(2), s) + 273.15;
    // A step never reaches across the jump of the second history.
    let inside = |s: f64, share: f64| kelvin(s + STEP_S * share.clamp(1e-9, 1.0 - 1e-9));
    let rate = |a: f64, s: f64, share: f64| kinetics.rate(a, inside(s, share));
    let share = |s: f64, part: f64| 1.0 / kinetics.isothermal_s(GEL, inside(s, part));
    let (mut a, mut done, mut s) = (0.0, 0.0, 0.0);
    let mut found = [f64::NAN; 2];
    while found.iter().any(|it| it.is_nan()) {
        let k1 = rate(a, s, 0.0);
        let k2 = rate(a + STEP_S / 2.0 * k1, s, 0.5);
        let k3 = rate(a + STEP_S / 2.0 * k2, s, 0.5);
        let k4 = rate(a + STEP_S * k3, s, 1.0);
        let more = [
            STEP_S / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4),
            STEP_S / 6.0 * (share(s, 0.0) + 4.0 * share(s, 0.5) + share(s, 1.0)),
        ];
        for ((found, from), (more, level)) in found.iter_mut().zip([a, done]).zip(more.into_iter().zip([GEL, 1.0])) {
            if found.is_nan() && from + more >= level {
                *found = s + STEP_S * (level - from) / more;
            }
        }
        (a, done, s) = (a + more[0], done + more[1], s + STEP_S);
    }
    found
}

#[test]
fn off_by_what_the_table_says() {
    for row in rows(include_str!("additivity.csv")) {
        let found = both(&row);
        for (seconds, column) in found.into_iter().zip([3, 4]) {
            let apart = seconds / 3_600.0 / row.number(column) - 1.0;
            assert!(apart.abs() < 1e-6, "{:?} column {column}: {apart:e}", row.text(2));
        }
        let off = (found[1] / found[0] - 1.0) * 100.0;
        assert!((off - row.number(5)).abs() < 1e-4, "{off} and {}", row.number(5));
    }
}

/// A sheet of this glue: gel times at two temperatures, for a clock of each direction.
fn sheet(kinetics: Kinetics) -> Card {
    let minutes = |celsius: f64| kinetics.isothermal_s(GEL, celsius + 273.15) / 60.0;
    let points = [8.0, 30.0].map(|celsius| (celsius + 273.15, minutes(celsius)));
    let mut card = card(Class::Epoxy, Clock::Clamp, &points);
    card.minimum_cure_k = Some(270.0);
    let closed = Limit { clock: Clock::Closed, ..card.limits[0].clone() };
    card.limits.push(closed);
    card
}

fn told(clock: Clock, card: &Card, history: &str) -> Told {
    let knot = |i: i64| {
        let k = air(history, i as f64 * 60.0) + 273.15;
        Knot { at_ms: i * 60_000, low_k: k, mean_k: k, high_k: k }
    };
    let source = Source { error_k: 0.0, knots: (0..=40 * 60).map(knot).collect(), lowest: vec![] };
    let air = Air { sources: vec![source], ..Air::default() };
    let path = [Stay { from_ms: 0, air: Some(&air) }];
    // Between two veneers of half a millimetre the glue line is half a minute behind the air.
    let start_k = (clock == Clock::Clamp).then_some(air.sources[0].knots[0].mean_k);
    let wood = Wood { thickness_mm: Some(1.0), start_k, since_ms: 0 };
    tell(&Asked {
        clock,
        card,
        bent: false,
        started_ms: Some(0),
        ended_ms: None,
        at_ms: 40 * 3_600_000,
        path: &path,
        wood,
        charge: Charge::default(),
        carried: [0.0; 3],
        shorter: Default::default(),
        pending: &[],
        time_lost_ms: None,
    })
}

#[test]
fn the_allowance_covers_it_where_slopes_agree() {
    let mut held = 0;
    for row in rows(include_str!("additivity.csv")) {
        let (slopes, hours) = (row.number(0) - row.number(1), row.number(3));
        let card = sheet(kinetics(&row));
        let clamp = told(Clock::Clamp, &card, row.text(2)).latest_ms.unwrap() as f64 / 3.6e6 / hours;
        let closed = told(Clock::Closed, &card, row.text(2)).earliest_ms.unwrap() as f64 / 3.6e6 / hours;
        println!("{slopes} {} clamp {clamp:.4} closed {closed:.4}", row.text(2));
        if slopes <= 15.0 {
            held += 1;
            assert!(clamp >= 1.0 && closed <= 1.0, "{slopes} {}: {clamp} {closed}", row.text(2));
        }
        // What the allowances stand for: 2 % where the rates' slopes agree, 5 % up to 20 kJ/mol apart. The times of
        // this sheet have one slope whatever its rates do, so that it always gets the 2 %.
        let off = row.number(5).abs();
        assert!(slopes > 15.0 || off <= 2.0, "{off}");
        assert!(slopes > 20.0 || off <= 5.0, "{off}");
    }
    assert_eq!(held, 6);
}

/// A sheet's pot life and its gel time lie at different conversions: how far their slopes are apart where those of the
/// rates are. This is what the limit of 3 kJ/mol between two limits of a card stands on.
#[test]
fn a_sheet_shows_a_fifth_of_what_the_rates_differ() {
    let apart = |e1: f64, e2: f64| {
        let kinetics = Kinetics { e1: e1 * 1e3, e2: e2 * 1e3, ..GENERIC };
        let energy = |a: f64| {
            let ln = |kelvin: f64| libm::log(kinetics.isothermal_s(a, kelvin));
            8.314_462_618e-3 * (ln(281.15) - ln(303.15)) / (1.0 / 281.15 - 1.0 / 303.15)
        };
        energy(WORK) - energy(GEL)
    };
    for (e1, e2) in [(60.0, 55.0), (67.0, 52.0), (70.0, 50.0), (80.0, 45.0)] {
        let share = apart(e1, e2) / (e1 - e2);
        println!("{e1} {e2}: {:.2} kJ/mol, {share:.3}", apart(e1, e2));
        assert!((0.15..0.25).contains(&share), "{e1} {e2}: {share}");
    }
    assert!(apart(67.0, 52.0) <= 3.0 && apart(70.0, 50.0) > 3.0);
}
