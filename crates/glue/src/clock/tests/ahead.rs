//! What is forecast moves estimates and nothing else; what would help is told beside them.

use super::*;

fn stated(shape: Shape) -> Forecast {
    Forecast { from_ms: T0, until_ms: None, zone_min: 0, shape }
}

fn hold(celsius: f64) -> Shape {
    Shape::Hold { at_k: c(celsius) }
}

fn setback() -> Shape {
    // T0 is 10:00 UTC.
    Shape::Setback { day_k: c(20.0), night_k: c(14.0), from_min: 17 * 60, to_min: 20 * 60, ramp_ms: 60 * MIN }
}

fn with(air: &Air, shape: Shape) -> Air {
    Air { forecasts: vec![stated(shape)], ..air.clone() }
}

fn told_of(clock: Clock, card: &Card, air: &Air, at_ms: i64) -> Told {
    tell(&asked(clock, card, &[Stay { from_ms: T0, air: Some(air) }], at_ms))
}

#[test]
fn a_forecast_never_frees_anything() {
    let card = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    let air = air(6.0, |_| 20.0);
    let bare = |told: Told| {
        let Told { state, progress_ppm, readings, no_credit_ms, gap_ms, range_k, .. } = told;
        (state, progress_ppm, readings, no_credit_ms, gap_ms, range_k)
    };
    let at = T0 + 8 * 60 * MIN;
    let without = told_of(Clock::Clamp, &card, &air, T0 + 6 * 60 * MIN);
    assert_eq!(without.state, State::Running);
    for shape in [hold(45.0), hold(20.0), setback(), Shape::Cooling { towards_k: c(60.0), tau_ms: Some(6e5) }] {
        let warm = with(&air, shape);
        let told = told_of(Clock::Clamp, &card, &warm, T0 + 6 * 60 * MIN);
        assert_eq!(bare(told.clone()), bare(without.clone()), "{shape:?}");
        assert!(told.assumed.contains(&Assumed::Forecast));
        // Hours later without a reading nothing more is credited, whatever was forecast.
        let share = |air: &Air| told_of(Clock::Clamp, &card, air, at).progress_ppm;
        assert_eq!(share(&warm), share(&air));
    }
    let warmer = told_of(Clock::Clamp, &card, &with(&air, hold(30.0)), T0 + 6 * 60 * MIN);
    assert!(warmer.expected_ms < without.expected_ms && warmer.latest_ms < without.latest_ms);
}

#[test]
fn a_forecast_of_what_is_changes_no_estimate() {
    let card = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    let air = air(3.0, |_| 21.0);
    let at = T0 + 3 * 60 * MIN;
    let (with, without) =
        (told_of(Clock::Clamp, &card, &with(&air, hold(21.0)), at), told_of(Clock::Clamp, &card, &air, at));
    assert_eq!(
        (with.earliest_ms, with.expected_ms, with.latest_ms),
        (without.earliest_ms, without.expected_ms, without.latest_ms)
    );
}

#[test]
fn what_came_as_forecast_was_told_so() {
    let card = card(Clock::FullCure, vec![point(20.0, 30.0)]);
    let start = air(1.0, |_| 20.0);
    let forecast = with(&start, setback());
    let told = told_of(Clock::FullCure, &card, &forecast, T0 + 60 * MIN);
    // The same hours, read every five minutes.
    let course = stated(setback()).course(T0, None, &[]).unwrap();
    let mut knots = start.sources[0].knots.clone();
    for step in 13..12 * 60 {
        let k = course.at(f64::from(step) * 300_000.0);
        knots.push(Knot { at_ms: T0 + i64::from(step) * 5 * MIN, low_k: k, mean_k: k, high_k: k });
    }
    let lived = Air { sources: vec![Source { error_k: 1.0, knots, lowest: vec![] }], ..Air::default() };
    let later = told_of(Clock::FullCure, &card, &lived, T0 + 58 * 60 * MIN);
    let off = |a: Option<i64>, b: Option<i64>| (a.unwrap() - b.unwrap()).abs();
    assert!(off(told.latest_ms, later.latest_ms) <= 2, "{told:?} {later:?}");
    assert!(off(told.expected_ms, later.expected_ms) <= 2 && off(told.earliest_ms, later.earliest_ms) <= 2);
}

#[test]
fn a_must_not_exceed_limit_never_comes_later_by_a_forecast() {
    let card = card(Clock::Pot, vec![point(15.0, 2.0), point(25.0, 1.0)]);
    let air = air(0.5, |_| 20.0);
    let at = T0 + 30 * MIN;
    let without = told_of(Clock::Pot, &card, &air, at);
    let cold = told_of(Clock::Pot, &card, &with(&air, hold(10.0)), at);
    // Safe: the higher of both; a change of more than two kelvin asks for the allowance besides.
    assert!(cold.earliest_ms < without.earliest_ms);
    let mild = told_of(Clock::Pot, &card, &with(&air, hold(18.5)), at);
    assert_eq!(mild.earliest_ms, without.earliest_ms);
    assert!(cold.expected_ms > without.expected_ms);
    let hot = told_of(Clock::Pot, &card, &with(&air, hold(30.0)), at);
    assert!(hot.earliest_ms < without.earliest_ms && hot.expected_ms < without.expected_ms);
    // Rising through what was read: the crossing is found.
    let rising = Shape::Cooling { towards_k: c(40.0), tau_ms: Some(24.0 * H) };
    let crossing = told_of(Clock::Pot, &card, &with(&air, rising), at);
    assert!(crossing.earliest_ms < without.earliest_ms && crossing.earliest_ms > hot.earliest_ms);
    // Nothing read for hours: the hottest stays, however cold the forecast.
    let late = T0 + 200 * MIN;
    let long = Card {
        limits: vec![Limit { points: vec![point(15.0, 40.0), point(25.0, 20.0)], ..card.limits[0].clone() }],
        ..card
    };
    let bare = told_of(Clock::Pot, &long, &air, late);
    assert_eq!(told_of(Clock::Pot, &long, &with(&air, hold(5.0)), late).earliest_ms, bare.earliest_ms);
}

#[test]
fn an_old_reading_leaves_what_is_stated_and_no_cooling() {
    let card = card(Clock::Clamp, vec![point(20.0, 12.0)]);
    let air = air(1.0, |_| 20.0);
    let late = T0 + 4 * 60 * MIN;
    assert_eq!(told_of(Clock::Clamp, &card, &air, late).latest_ms, None);
    assert!(told_of(Clock::Clamp, &card, &with(&air, hold(22.0)), late).latest_ms.is_some());
    let cooling = with(&air, Shape::Cooling { towards_k: c(21.0), tau_ms: None });
    let told = told_of(Clock::Clamp, &card, &cooling, late);
    assert_eq!((told.latest_ms, told.assumed.contains(&Assumed::Forecast)), (None, false));
    assert!(told_of(Clock::Clamp, &card, &cooling, T0 + 60 * MIN).assumed.contains(&Assumed::CoolingTime));
    // A floor vouched for gives way to a forecast, as it does to a reading.
    let floor = Floor { from_ms: T0, until_ms: T0 + 500 * 60 * MIN, k: c(30.0) };
    let vouched = Air { vouched: vec![floor], ..with(&air, hold(5.0)) };
    assert_eq!(told_of(Clock::Clamp, &card, &vouched, late).state, State::Never);
}

#[test]
fn a_runner_that_goes_on_says_the_same() {
    let card = card(Clock::FullCure, vec![point(20.0, 30.0)]);
    let all = air(40.0, |h| 19.0 + h / 20.0);
    let forecasts = vec![stated(setback()), Forecast { from_ms: T0 + 9 * 60 * MIN, ..stated(hold(16.0)) }];
    let mut runner = Runner::default();
    for hours in 1..40 {
        let at = T0 + hours * 60 * MIN;
        let knots = all.sources[0].knots.iter().copied().filter(|knot| knot.at_ms <= at).collect();
        let air = Air {
            sources: vec![Source { error_k: 1.0, knots, lowest: vec![] }],
            forecasts: forecasts.clone(),
            ..Air::default()
        };
        let path = [Stay { from_ms: T0, air: Some(&air) }];
        let asked = asked(Clock::FullCure, &card, &path, at);
        assert_eq!(runner.tell(&asked), tell(&asked), "{hours} h");
    }
}

#[test]
fn what_would_help_is_coldest_first_and_sooner() {
    let mut card = card(Clock::Clamp, vec![point(15.0, 20.0), point(25.0, 8.0)]);
    card.minimum_cure_k = Some(c(12.0));
    let cold = air(3.0, |_| 9.0);
    let at = T0 + 3 * 60 * MIN;
    let told = told_of(Clock::Clamp, &card, &cold, at);
    assert_eq!((told.state, told.now_k), (State::Never, Some(c(9.0))));
    let temperatures: Vec<f64> = told.helps.iter().map(|help| help.at_k).collect();
    assert_eq!(temperatures, [c(15.0), c(18.0)]);
    assert!(told.helps[0].finish_ms > told.helps[1].finish_ms && told.helps.iter().all(|help| help.from_ms == at));
    // The finish is what would be told if it were so forecast.
    let held = told_of(Clock::Clamp, &card, &with(&cold, hold(15.0)), at);
    assert_eq!(held.latest_ms, Some(told.helps[0].finish_ms));
    // At 18 °C nothing as cold helps; above the maximum nothing is offered; a must-not-exceed clock needs no help.
    let warm = told_of(Clock::Clamp, &card, &air(3.0, |_| 18.0), at);
    assert_eq!(warm.helps.iter().map(|help| help.at_k).collect::<Vec<_>>(), [c(20.0), c(25.0)]);
    card.maximum_cure_k = Some(c(19.0));
    assert_eq!(told_of(Clock::Clamp, &card, &air(3.0, |_| 18.0), at).helps, []);
    assert_eq!(told_of(Clock::Pot, &super::card(Clock::Pot, vec![point(20.0, 9.0)]), &cold, at).helps, []);
}
