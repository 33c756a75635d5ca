//! The worked numbers of the rules, and the corners between them.

use super::*;
use crate::card::{BelowMinimum, Class, Limit, Origin, Point};

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
    }
}

/// A reading every ten minutes from T0 on, temperature by hours.
fn air(hours: f64, celsius: impl Fn(f64) -> f64) -> Air {
    let count = (hours * 6.0) as i64;
    let knots = (0..=count).map(|i| knot(T0 + i * 10 * MIN, celsius(i as f64 / 6.0))).collect();
    Air { sources: vec![Source { error_k: 1.0, knots, lowest: vec![] }], vouched: vec![] }
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
    let air = Air { sources: vec![], vouched: vec![Floor { from_ms: T0, until_ms: T0 + 600 * MIN, k: c(16.0) }] };
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
fn open_time_used_up_together_with_closed() {
    let mut both = card(Clock::Open, vec![point(25.0, 10.0 / 60.0)]);
    both.limits.push(Limit {
        clock: Clock::Closed,
        points: vec![point(25.0, 20.0 / 60.0)],
        counted_from: Some(CountedFrom::Closing),
        bent: false,
    });
    both.together = true;
    let mut air = air(0.0, |_| 25.0);
    air.sources[0].error_k = 0.0;
    let path = [stay(&air)];
    let mut open = asked(Clock::Open, &both, &path, T0 + 8 * MIN);
    open.wood = Wood::default();
    open.ended_ms = Some(T0 + 8 * MIN);
    let told = tell(&open);
    assert_eq!(told.state, State::Ended);
    let mut closed = asked(Clock::Closed, &both, &path, T0 + 8 * MIN);
    closed.wood = Wood::default();
    closed.started_ms = Some(T0 + 8 * MIN);
    closed.carried = carried_open_to_closed(&both, &told);
    let told = tell(&closed);
    near((told.expected_ms.unwrap() - T0) as f64 / MIN as f64, 12.0, 1e-3);
    both.together = false;
    assert_eq!(carried_open_to_closed(&both, &told), [0.0; 3]);
}

#[test]
fn counted_from_moves_only_must_not_exceed_starts_and_only_earlier() {
    let (hardener, glue, natural) = (T0, T0 + 20 * MIN, T0 + 30 * MIN);
    let start = |clock, from| start_ms(clock, from, natural, Some(hardener), Some(glue), None);
    assert_eq!(start(Clock::Closed, Some(CountedFrom::Mixing)), hardener);
    assert_eq!(start(Clock::Closed, Some(CountedFrom::Spreading)), glue);
    assert_eq!(start(Clock::Closed, Some(CountedFrom::Closing)), natural);
    assert_eq!(start(Clock::Closed, None), hardener);
    assert_eq!(start(Clock::Clamp, Some(CountedFrom::Mixing)), natural);
    assert_eq!(start_ms(Clock::Open, Some(CountedFrom::Pressure), natural, None, None, None), natural);
}

#[test]
fn a_bent_joint_falls_back_on_longer_clocks() {
    let mut bent = card(Clock::Machining, vec![point(20.0, 24.0)]);
    bent.limits.push(Limit { clock: Clock::Clamp, points: vec![point(20.0, 12.0)], counted_from: None, bent: false });
    let air = air(1.0, |_| 20.0);
    let path = [stay(&air)];
    let mut asked = asked(Clock::Clamp, &bent, &path, T0);
    asked.bent = true;
    let told = tell(&asked);
    near(hours(told.expected_ms), 24.0, 1e-6);
    assert!(told.assumed.contains(&Assumed::BentFallback(Clock::Machining)));
    let plain = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    let told = tell(&Asked { card: &plain, ..asked });
    assert_eq!((told.state, told.law), (State::Never, LawKind::None));
}

#[test]
fn a_drying_glue_is_not_scaled_inside_its_range_and_over_outside() {
    let mut urea = card(Clock::Closed, vec![point(21.0, 20.0 / 60.0), point(32.0, 20.0 / 60.0)]);
    (urea.class, urea.water_borne) = (Class::Urea, true);
    let told_at = |celsius: f64| {
        let air = air(1.0, |_| celsius);
        let path = [stay(&air)];
        let mut asked = asked(Clock::Closed, &urea, &path, T0 + MIN);
        asked.wood = Wood::default();
        tell(&asked)
    };
    let told = told_at(30.0);
    assert_eq!((told.law, told.state), (LawKind::Unscaled, State::Running));
    near(hours(told.earliest_ms) * 60.0, 20.0, 1e-4);
    let told = told_at(20.9);
    assert_eq!((told.state, told.earliest_ms), (State::Over, Some(T0)));
    assert!(told.assumed.contains(&Assumed::OutsideRange));
    urea.limits[0].points = vec![point(21.0, 20.0 / 60.0)];
    let air = air(1.0, |_| 21.0);
    let path = [stay(&air)];
    assert_eq!(tell(&asked(Clock::Closed, &urea, &path, T0 + MIN)).state, State::Held);
}

#[test]
fn a_single_point_of_an_unknown_class_is_no_law() {
    let mut other = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    for class in [Class::Other, Class::Urea] {
        other.class = class;
        let told = tell(&asked(Clock::Clamp, &other, &[], T0));
        assert_eq!((told.state, told.law), (State::Held, LawKind::None));
    }
}

#[test]
fn fresh_surface_is_plain_time() {
    let card = card(Clock::FreshSurface, vec![Point { at_k: None, low_ms: 24.0 * H, high_ms: 24.0 * H, mass_g: None }]);
    let told = tell(&asked(Clock::FreshSurface, &card, &[], T0 + 60 * MIN));
    assert_eq!((told.state, told.law), (State::Running, LawKind::Unscaled));
    assert_eq!(told.earliest_ms, Some(T0 + 24 * 60 * MIN));
    assert!(told.assumed.is_empty());
}

#[test]
fn a_whole_minute_too_cold_is_a_fault_on_a_fault_card() {
    let mut card = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    (card.minimum_cure_k, card.below_minimum) = (Some(c(15.0)), BelowMinimum::Fault);
    let dip = |minutes: i64| {
        let mut air = air(0.0, |_| 20.0);
        for minute in 1..=60 {
            let cold = minute > 30 && minute <= 30 + minutes;
            air.sources[0].knots.push(knot(T0 + minute * MIN, if cold { 10.0 } else { 20.0 }));
        }
        let path = [stay(&air)];
        tell(&asked(Clock::Clamp, &card, &path, T0 + 60 * MIN)).fault_ms
    };
    assert_eq!(dip(0), None);
    let fault = dip(2).unwrap();
    // It falls from 20 to 10 within the 31st minute and passes 16 after 24 s.
    near((fault - T0) as f64 / 1e3, 30.0 * 60.0 + 24.0 + 60.0, 1.0);
    card.below_minimum = BelowMinimum::Resumes;
    let air = air(1.0, |_| 10.0);
    let path = [stay(&air)];
    assert_eq!(tell(&asked(Clock::Clamp, &card, &path, T0 + 60 * MIN)).fault_ms, None);
}

#[test]
fn what_was_reached_stays_reached_when_it_turns_warm_later() {
    let mut card = card(Clock::Clamp, vec![point(20.0, 1.0)]);
    card.minimum_cure_k = Some(c(5.0));
    let air = air(3.0, |h| if h < 1.2 { 20.0 } else { 26.0 });
    let path = [stay(&air)];
    let told = tell(&asked(Clock::Clamp, &card, &path, T0 + 180 * MIN));
    assert_eq!(told.state, State::Reached);
    near(hours(told.latest_ms), 13.147 / 12.0, 1e-4);
    // Warmer before: five per cent more are asked for.
    let air = self::air(3.0, |h| if h < 0.4 { 20.0 } else { 26.0 });
    let path = [stay(&air)];
    let told = tell(&asked(Clock::Clamp, &card, &path, T0 + 180 * MIN));
    assert_eq!(told.state, State::Reached);
    assert!(hours(told.latest_ms) > 1.05, "{told:?}");
}

#[test]
fn pending_time_earns_nothing_and_lost_time_is_over() {
    let clamp = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    let air = air(4.0, |_| 20.0);
    let path = [stay(&air)];
    let pending = [(T0 + 60 * MIN, T0 + 120 * MIN)];
    let mut asked = asked(Clock::Clamp, &clamp, &path, T0 + 240 * MIN);
    asked.pending = &pending;
    let told = tell(&asked);
    near(told.progress_ppm[1] as f64 / 1e6, 3.0 / 12.0, 1e-6);
    assert_eq!(told.no_credit_ms, 60 * MIN);
    assert!(told.assumed.contains(&Assumed::TimePending));
    let before = [(T0 - 120 * MIN, T0 - 60 * MIN)];
    asked.pending = &before;
    assert!(!tell(&asked).assumed.contains(&Assumed::TimePending), "it does not touch this clock");
    asked.pending = &pending;
    let pot = card(Clock::Pot, vec![point(25.0, 10.0)]);
    let told = tell(&Asked { clock: Clock::Pot, card: &pot, time_lost_ms: Some(T0 + 30 * MIN), ..asked });
    assert_eq!((told.state, told.earliest_ms), (State::Over, Some(T0 + 30 * MIN)));
}

#[test]
fn an_old_reading_forecasts_nothing_for_clamps() {
    let mut clamp = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    clamp.minimum_cure_k = Some(c(5.0));
    let air = air(0.0, |_| 20.0);
    let path = [stay(&air)];
    assert!(tell(&asked(Clock::Clamp, &clamp, &path, T0 + 120 * MIN)).latest_ms.is_some());
    let told = tell(&asked(Clock::Clamp, &clamp, &path, T0 + 121 * MIN));
    assert_eq!((told.latest_ms, told.state), (None, State::Never));
}

#[test]
fn wood_in_storage_holds_the_glue_line_back() {
    // SCIENCE table s8_glueline_clamp: parts at 8 °C in 20 °C air, 12 h at 20 °C, 55 kJ/mol; a slab, not a lag.
    let mut clamp = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    clamp.minimum_cure_k = Some(c(0.0));
    let air = air(30.0, |_| 20.0);
    let path = [stay(&air)];
    for (thickness, slab) in [(12.0, 12.117_155), (40.0, 12.566_809), (60.0, 13.079_124)] {
        let mut asked = asked(Clock::Clamp, &clamp, &path, T0);
        asked.wood = Wood { thickness_mm: Some(thickness), start_k: Some(c(8.0)), since_ms: T0 };
        near(hours(tell(&asked).expected_ms), slab, 0.15);
    }
}

#[test]
fn two_sources_count_lowest_and_mean() {
    let mut clamp = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    clamp.minimum_cure_k = Some(c(0.0));
    let mut both = air(4.0, |h| 18.0 + h);
    both.sources.push(air(4.0, |h| 22.0 - h).sources.remove(0));
    let path = [stay(&both)];
    let mut one = asked(Clock::Clamp, &clamp, &path, T0 + 240 * MIN);
    one.wood = thin(20.0);
    let told = tell(&one);
    let lower = air(4.0, |h| 20.0 - (h - 2.0f64).abs());
    let path = [stay(&lower)];
    let alone = tell(&asked(Clock::Clamp, &clamp, &path, T0 + 240 * MIN));
    // Both together vary by four kelvin, the lower one alone by two: five per cent more are asked for.
    near(told.progress_ppm[0] as f64 * 1.05, alone.progress_ppm[0] as f64, 40.0);
    near(told.progress_ppm[1] as f64 / 1e6, 4.0 / 12.0, 1e-4);
}

#[test]
fn nearly_over_comes_before_the_limit() {
    let pot = card(Clock::Pot, vec![point(25.0, 1.0)]);
    let air = air(0.0, |_| 20.0);
    let path = [stay(&air)];
    let told = tell(&asked(Clock::Pot, &pot, &path, T0));
    let at = |clamping: i64| (nearly_over_ms(Clock::Pot, &told, T0, clamping).unwrap() - T0) / MIN;
    assert_eq!([at(0), at(12 * MIN), at(50 * MIN)], [55, 48, 30]);
}

#[test]
fn a_runner_tells_what_tell_tells() {
    let mut card = card(Clock::Clamp, vec![point(20.0, 6.0)]);
    card.minimum_cure_k = Some(c(14.0));
    let mut air = air(10.0, |h| 17.0 + 4.0 * libm::sin(h));
    air.sources[0].knots.retain(|knot| !(30..55).contains(&((knot.at_ms - T0) / (10 * MIN))));
    air.sources.push(Source {
        error_k: 0.5,
        knots: vec![knot(T0 + 5 * MIN, 16.0), knot(T0 + 500 * MIN, 17.0)],
        lowest: vec![],
    });
    let path = [stay(&air)];
    for clock in [Clock::Clamp, Clock::Pot] {
        card.limits[0].clock = clock;
        let mut runner = Runner::default();
        for step in 0..200 {
            let mut asked = asked(clock, &card, &path, T0 + step * 7 * MIN / 2);
            asked.wood = Wood { thickness_mm: Some(30.0), start_k: Some(c(10.0)), since_ms: T0 };
            let (kept, fresh) = (runner.tell(&asked), tell(&asked));
            for i in 0..3 {
                assert!((kept.progress_ppm[i] - fresh.progress_ppm[i]).abs() <= 1, "{step}: {kept:?} {fresh:?}");
            }
            assert_eq!((kept.state, kept.readings, kept.fault_ms), (fresh.state, fresh.readings, fresh.fault_ms));
            for (a, b) in [(kept.earliest_ms, fresh.earliest_ms), (kept.latest_ms, fresh.latest_ms)] {
                assert!((a.unwrap_or(0) - b.unwrap_or(0)).abs() <= 1);
            }
        }
    }
}
