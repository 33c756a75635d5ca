//! The worked numbers of the rules, and the corners between them.

use super::*;
use crate::card::{BelowMinimum, Class, Limit, Origin, Point};

mod ahead;
mod corners;

const H: f64 = 3_600_000.0;
const MIN: i64 = 60_000;
/// Some Tuesday.
const T0: i64 = 1_763_460_000_000;

fn c(celsius: f64) -> f64 {
    celsius + 273.15
}

fn point(celsius: f64, hours: f64) -> Point {
    Point { at_k: Some(c(celsius)), low_ms: hours * H, high_ms: hours * H, mass_g: None }
}

fn card(clock: Clock, points: Vec<Point>) -> Card {
    Card {
        class: Class::Epoxy,
        origin: Origin::Sheet,
        limits: vec![Limit { clock, points, counted_from: None, bent: false }],
        together: false,
        minimum_cure_k: None,
        below_minimum: BelowMinimum::Resumes,
        maximum_cure_k: None,
        application_minimum_k: None,
        application_maximum_k: None,
        water_borne: false,
        film_gel: None,
        equivalents: None,
        glass: None,
    }
}

/// A reading every ten minutes from T0 on, temperature by hours.
fn air(hours: f64, celsius: impl Fn(f64) -> f64) -> Air {
    let count = (hours * 6.0) as i64;
    let knots = (0..=count).map(|i| knot(T0 + i * 10 * MIN, celsius(i as f64 / 6.0))).collect();
    Air { sources: vec![Source { error_k: 1.0, knots, lowest: vec![] }], ..Air::default() }
}

fn knot(at_ms: i64, celsius: f64) -> Knot {
    Knot { at_ms, low_k: c(celsius), mean_k: c(celsius), high_k: c(celsius) }
}

fn thin(celsius: f64) -> Wood {
    Wood { thickness_mm: Some(0.2), start_k: Some(c(celsius)), since_ms: T0 }
}

fn asked<'a>(clock: Clock, card: &'a Card, path: &'a [Stay<'a>], at_ms: i64) -> Asked<'a> {
    Asked {
        clock,
        card,
        bent: false,
        started_ms: Some(T0),
        ended_ms: None,
        at_ms,
        path,
        wood: thin(20.0),
        charge: Charge { mass_g: Some(100.0), components_k: None },
        carried: [0.0; 3],
        shorter: Shorter::default(),
        pending: &[],
        time_lost_ms: None,
    }
}

fn stay(air: &Air) -> Stay<'_> {
    Stay { from_ms: T0, air: Some(air) }
}

fn hours(at: Option<i64>) -> f64 {
    at.map_or(f64::INFINITY, |at| (at - T0) as f64 / H)
}

/// Clamp time of a steady temperature, hours: earliest, expected, latest.
fn steady(card: &Card, celsius: f64) -> [f64; 3] {
    let air = air(1.0, |_| celsius);
    let path = [stay(&air)];
    let mut asked = asked(Clock::Clamp, card, &path, T0);
    asked.wood = thin(celsius);
    let told = tell(&asked);
    [hours(told.earliest_ms), hours(told.expected_ms), hours(told.latest_ms)]
}

#[track_caller]
fn near(value: f64, wanted: f64, tolerance: f64) {
    assert!((value - wanted).abs() <= tolerance, "{value} instead of {wanted} ± {tolerance}");
}

#[test]
fn twelve_hours_at_twenty_degrees() {
    let card = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    let at_20 = steady(&card, 20.0);
    near(at_20[2], 13.147, 0.0005);
    near(at_20[1], 12.0, 1e-6);
    let at_25 = steady(&card, 25.0);
    near(at_25[2], 12.0, 1e-6);
    near(at_25[1], 8.219, 0.0005);
    assert!(at_25[0] < at_25[1]);
}

#[test]
fn without_a_stated_minimum_the_lowest_clamp_point_counts() {
    let card = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    assert_eq!(steady(&card, 19.9)[2], f64::INFINITY);
    let air = air(1.0, |_| 19.9);
    let path = [stay(&air)];
    let told = tell(&asked(Clock::Clamp, &card, &path, T0 + 30 * MIN));
    assert_eq!(told.state, State::Never);
    assert!(told.assumed.contains(&Assumed::NoMinimum));
    assert_eq!(told.no_credit_ms, 30 * MIN);
}

#[test]
fn the_stated_minimum_is_judged_with_the_sensor_error() {
    let mut card = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    card.minimum_cure_k = Some(c(15.0));
    assert!(steady(&card, 16.0)[2].is_finite());
    assert_eq!(steady(&card, 15.9)[2], f64::INFINITY);
    assert!(steady(&card, 15.0)[1].is_finite());
    assert_eq!(steady(&card, 14.9)[1], f64::INFINITY);
    assert!(steady(&card, 14.0)[0].is_finite());
    assert_eq!(steady(&card, 13.9)[0], f64::INFINITY);
}

#[test]
fn a_pot_of_forty_five_minutes() {
    let card = card(Clock::Pot, vec![point(25.0, 0.75)]);
    let pot = |celsius: f64| {
        let air = air(0.0, |_| celsius);
        let path = [stay(&air)];
        let told = tell(&asked(Clock::Pot, &card, &path, T0));
        [hours(told.earliest_ms) * 60.0, hours(told.expected_ms) * 60.0, hours(told.latest_ms) * 60.0]
    };
    near(pot(25.0)[0], 41.22, 0.005);
    near(pot(25.0)[1], 45.0, 1e-4);
    for minutes in pot(20.0) {
        near(minutes, 45.0, 1e-4);
    }
}

#[test]
fn a_heavier_batch_gets_a_shorter_pot() {
    let card = card(Clock::Pot, vec![point(25.0, 0.75)]);
    let air = air(0.0, |_| 20.0);
    let path = [stay(&air)];
    let mut asked = asked(Clock::Pot, &card, &path, T0);
    asked.charge.mass_g = Some(800.0);
    near(hours(tell(&asked).earliest_ms) * 60.0, 22.5, 1e-4);
    asked.charge.mass_g = Some(20.0);
    near(hours(tell(&asked).earliest_ms) * 60.0, 45.0, 1e-4);
}

#[test]
fn warm_components_shorten_the_pot() {
    let card = card(Clock::Pot, vec![point(25.0, 0.75)]);
    let air = air(0.0, |_| 20.0);
    let path = [stay(&air)];
    let mut asked = asked(Clock::Pot, &card, &path, T0);
    asked.charge.components_k = Some(c(30.0));
    let told = tell(&asked);
    // 45 min exp(E/R (1/T - 1/298.15)), at 31 °C with 65 and at 30 °C with 55 kJ/mol.
    let at = |kj: f64, t: f64| 45.0 * libm::exp(kj * 1e3 / crate::number::GAS * (1.0 / c(t) - 1.0 / c(25.0)));
    near(hours(told.earliest_ms) * 60.0, at(65.0, 31.0), 1e-4);
    near(hours(told.expected_ms) * 60.0, at(55.0, 30.0), 1e-4);
}

#[test]
fn two_points_are_exact_between_and_cautious_outside() {
    let f = |fahrenheit: f64| (fahrenheit - 32.0) / 1.8;
    let mut card = card(Clock::Clamp, vec![point(f(70.0), 4.0), point(f(90.0), 2.0)]);
    card.minimum_cure_k = Some(c(0.0));
    let exact = |fahrenheit: f64| {
        let mut air = air(1.0, |_| f(fahrenheit));
        air.sources[0].error_k = 0.0;
        let path = [stay(&air)];
        let mut asked = asked(Clock::Clamp, &card, &path, T0);
        asked.wood = thin(f(fahrenheit));
        let told = tell(&asked);
        assert_eq!(told.law, LawKind::TwoPoint);
        [hours(told.expected_ms) * 60.0, hours(told.latest_ms) * 60.0]
    };
    near(exact(80.0)[0], 168.6, 0.05);
    near(exact(80.0)[1], 168.6, 0.05);
    near(exact(60.0)[0], 346.0, 0.5);
    near(exact(60.0)[1], 400.0, 0.5);
    near(exact(90.0)[1], 120.0, 1e-4);
}

#[test]
fn one_hour_apart_the_colder_end_counts() {
    let mut card = card(Clock::Clamp, vec![point(20.0, 1.0)]);
    card.minimum_cure_k = Some(c(0.0));
    let mut air = air(0.0, |_| 22.0);
    air.sources[0].error_k = 0.0;
    air.sources[0].knots.push(knot(T0 + 60 * MIN, 14.0));
    let path = [stay(&air)];
    let mut asked = asked(Clock::Clamp, &card, &path, T0 + 60 * MIN);
    asked.wood = thin(22.0);
    let told = tell(&asked);
    // 65 kJ/mol below the point, and five per cent more because it fell by eight kelvin.
    let colder = |kj: f64| libm::exp(-kj * 1e3 / crate::number::GAS * (1.0 / c(14.0) - 1.0 / c(20.0)));
    near(told.progress_ppm[0] as f64 / 1e6 * 1.05, colder(65.0), 2e-6);
    near(colder(55.0), 0.624, 0.0005);
    // The straight line of the expected bound, without wood: an open time of an hour at 20 °C.
    let mut open = card.clone();
    open.limits[0].clock = Clock::Open;
    let told = tell(&Asked { clock: Clock::Open, card: &open, wood: Wood::default(), ..asked });
    near(told.progress_ppm[1] as f64 / 1e6, 0.869, 0.0005);
}

#[test]
fn in_a_long_gap_nothing_is_reached_and_the_pot_runs_hot() {
    let mut clamp = card(Clock::Clamp, vec![point(20.0, 1.0)]);
    clamp.minimum_cure_k = Some(c(0.0));
    let mut air = air(0.0, |_| 22.0);
    air.sources[0].knots.push(knot(T0 + 121 * MIN, 22.0));
    let path = [stay(&air)];
    let told = tell(&asked(Clock::Clamp, &clamp, &path, T0 + 121 * MIN));
    assert_eq!(told.progress_ppm, [0; 3]);
    assert_eq!((told.no_credit_ms, told.gap_ms), (121 * MIN, 121 * MIN));
    // Before the second reading came, the first one held a quarter of an hour.
    let told = tell(&asked(Clock::Clamp, &clamp, &path, T0 + 120 * MIN));
    assert!(told.progress_ppm[0] > 200_000);
    let pot = card(Clock::Pot, vec![point(25.0, 3.0)]);
    let told = tell(&asked(Clock::Pot, &pot, &path, T0 + 121 * MIN));
    let share = 121.0 / 180.0 * libm::exp(55e3 / crate::number::GAS * (1.0 / c(25.0) - 1.0 / c(30.0)));
    near(told.progress_ppm[1] as f64 / 1e6, share, 2e-6);
}

#[test]
fn without_readings_a_pot_runs_at_the_hottest_and_clamps_never_come_off() {
    let pot = card(Clock::Pot, vec![point(35.0, 0.75)]);
    let told = tell(&asked(Clock::Pot, &pot, &[], T0));
    assert_eq!(told.state, State::Running);
    near(hours(told.earliest_ms) * 60.0, 45.0, 1e-4);
    assert!(told.assumed.contains(&Assumed::NoReadings));
    let clamp = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    let told = tell(&asked(Clock::Clamp, &clamp, &[], T0 + 1000 * MIN));
    assert_eq!(told.state, State::Never);
    assert_eq!((told.earliest_ms, told.expected_ms, told.latest_ms), (None, None, None));
}

#[test]
fn a_vouched_floor_gives_credit_without_sensor_error() {
    let mut clamp = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    clamp.minimum_cure_k = Some(c(16.0));
    let air = Air {
        sources: vec![],
        vouched: vec![Floor { from_ms: T0, until_ms: T0 + 600 * MIN, k: c(16.0) }],
        ..Air::default()
    };
    let path = [stay(&air)];
    let mut asked = asked(Clock::Clamp, &clamp, &path, T0 + 900 * MIN);
    asked.wood = thin(16.0);
    let told = tell(&asked);
    let safe = 10.0 / 12.0 * libm::exp(-65e3 / crate::number::GAS * (1.0 / c(16.0) - 1.0 / c(20.0)));
    near(told.progress_ppm[0] as f64 / 1e6, safe, 3e-6);
    assert!(told.assumed.contains(&Assumed::Vouched));
    assert_eq!(told.no_credit_ms, 300 * MIN);
}

#[test]
fn the_lowest_of_a_min_max_thermometer_counts_over_the_whole_night() {
    let mut clamp = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    clamp.minimum_cure_k = Some(c(5.0));
    let mut air = air(0.0, |_| 21.0);
    let morning = T0 + 600 * MIN;
    air.sources[0].knots.push(knot(morning, 15.0));
    air.sources[0].lowest.push(Floor { from_ms: T0, until_ms: morning, k: c(15.0) });
    let path = [stay(&air)];
    let mut asked = asked(Clock::Clamp, &clamp, &path, morning);
    asked.wood = thin(15.0);
    let told = tell(&asked);
    let safe = 10.0 / 12.0 * libm::exp(-65e3 / crate::number::GAS * (1.0 / c(14.0) - 1.0 / c(20.0)));
    near(told.progress_ppm[0] as f64 / 1e6, safe, 3e-6);
    asked.at_ms = morning - 1;
    assert!(tell(&asked).progress_ppm[0] < 30_000, "what was read in the morning does not exist the minute before");
}

#[test]
fn the_allowance_is_two_per_cent_where_slopes_agree() {
    // 12 h at 20 °C, and a warm stretch of more than 2 K: the share asked for is 1.02 or 1.05.
    let clamp = |hours: f64| vec![point(10.0, hours * 2.2), point(20.0, hours)];
    let mut card = card(Clock::Clamp, clamp(12.0));
    let air = air(30.0, |h| if h < 1.0 { 20.0 } else { 23.0 });
    let path = [Stay { from_ms: T0, air: Some(&air) }];
    let share = |card: &Card| tell(&asked(Clock::Clamp, card, &path, T0 + 5 * 60 * MIN)).progress_ppm[0] as f64;
    let alone = share(&card);
    card.limits.push(Limit { clock: Clock::Pot, points: clamp(1.0), counted_from: None, bent: false });
    assert!((share(&card) / alone - 1.05 / 1.02).abs() < 1e-4, "{} {alone}", share(&card));
}
