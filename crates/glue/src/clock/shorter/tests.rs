//! A fresh mix changes nothing, an old one shortens, and nothing is ever longer than the sheet.

use super::super::{Air, Asked, CountedFrom, Knot, Shorter, Source, State, Told, Wood, tell};
use super::*;
use crate::card::{BelowMinimum, Class, FilmGel, Limit, Origin};

const MIN: i64 = 60_000;
const T0: i64 = 1_763_460_000_000;

fn c(celsius: f64) -> f64 {
    celsius + 273.15
}

fn limit(clock: Clock, celsius: f64, minutes: f64, mass_g: Option<f64>) -> Limit {
    let ms = minutes * 60e3;
    let point = Point { at_k: Some(c(celsius)), low_ms: ms, high_ms: ms, mass_g };
    Limit { clock, points: vec![point], counted_from: Some(CountedFrom::Spreading), bent: false }
}

/// Pot life 45 min of 100 g at 25 °C, film gel 3 h, open 2 h, closed 3 h at 25 °C.
fn card() -> Card {
    Card {
        class: Class::Epoxy,
        origin: Origin::Sheet,
        limits: vec![
            limit(Clock::Pot, 25.0, 45.0, Some(100.0)),
            limit(Clock::Open, 25.0, 120.0, None),
            limit(Clock::Closed, 25.0, 180.0, None),
        ],
        together: false,
        minimum_cure_k: None,
        below_minimum: BelowMinimum::Resumes,
        maximum_cure_k: None,
        application_minimum_k: None,
        application_maximum_k: None,
        water_borne: false,
        film_gel: Some(FilmGel { at_k: c(25.0), low_ms: 3.0 * 3_600e3 }),
        equivalents: None,
        glass: None,
    }
}

fn air(celsius: f64) -> Air {
    let knot = |i: i64| Knot { at_ms: T0 + i * 10 * MIN, low_k: c(celsius), mean_k: c(celsius), high_k: c(celsius) };
    Air { sources: vec![Source { error_k: 1.0, knots: (0..30).map(knot).collect(), lowest: vec![] }], ..Air::default() }
}

fn told(card: &Card, clock: Clock, air: &Air, charge: Charge, shorter: Shorter) -> Told {
    let path = [Stay { from_ms: T0, air: Some(air) }];
    tell(&Asked {
        clock,
        card,
        bent: false,
        started_ms: Some(T0),
        ended_ms: None,
        at_ms: T0 + 5 * MIN,
        path: &path,
        wood: Wood::default(),
        charge,
        carried: [0.0; 3],
        shorter,
        pending: &[],
        time_lost_ms: None,
    })
}

fn spread(reacted: f64, minutes_after: i64) -> Spread {
    Spread { start_ms: T0, spread_ms: T0 + minutes_after * MIN, reacted, highest_k: c(25.0), lowest_k: Some(c(24.0)) }
}

fn model() -> PotModel {
    PotModel::of_card(&card(), 100.0).unwrap()
}

fn ppm_of(clock: Clock, spread: &Spread) -> i64 {
    spread_ppm(&card(), clock, false, &model().of.glue.kinetics, spread).unwrap()
}

#[test]
fn a_fresh_mix_changes_nothing() {
    for clock in [Clock::Open, Clock::Closed] {
        assert_eq!(ppm_of(clock, &spread(0.0, 0)), WHOLE);
        let air = air(22.0);
        let with = told(&card(), clock, &air, Charge::default(), Shorter::default());
        let by_ppm = Shorter { ppm: ppm_of(clock, &spread(0.0, 0)), ..Shorter::default() };
        assert_eq!(told(&card(), clock, &air, Charge::default(), by_ppm), with);
    }
    // At the sheet's own point the pot is the sheet's, to the millionth.
    let model = model();
    let own = model.working_s(100.0, c(25.0)).unwrap();
    assert_eq!(pot_ppm(&card(), &model, own, c(25.0)), Some(WHOLE));
}

#[test]
fn the_older_the_mix_the_less_is_left() {
    let model = model();
    let mut before = WHOLE + 1;
    for minutes in [5, 10, 20, 30, 40] {
        let reacted = model.reacted(100.0, c(25.0), minutes * MIN).unwrap();
        let left = ppm_of(Clock::Open, &spread(reacted, 0));
        assert!(left < before, "{minutes} min: {left} of {before}");
        before = left;
    }
    assert_eq!(ppm_of(Clock::Open, &spread(0.999, 0)), 0);
    let gone = Shorter { ppm: 0, age_ms: Some(40 * MIN), unmodelled: false };
    let told = told(&card(), Clock::Open, &air(25.0), Charge::default(), gone);
    assert_eq!((told.state, told.earliest_ms), (State::Over, Some(T0)));
}

#[test]
fn a_short_open_time_leaves_a_young_mix_alone() {
    // A film is far from the working limit after half an hour: ten minutes in the pot leave all of it.
    let mut short = card();
    short.limits[1] = limit(Clock::Open, 25.0, 30.0, None);
    let reacted = |minutes: i64| model().reacted(100.0, c(25.0), minutes * MIN).unwrap();
    let left = |minutes: i64| {
        spread_ppm(&short, Clock::Open, false, &model().of.glue.kinetics, &spread(reacted(minutes), 0)).unwrap()
    };
    assert_eq!(left(10), WHOLE);
    assert!(left(44) < WHOLE / 2, "{}", left(44));
}

#[test]
fn what_counts_from_mixing_is_not_counted_twice() {
    // Open counted from mixing, spread after 10 min: at the safe end of the pot's air those ten are counted anyway.
    let reacted = model().reacted(100.0, c(25.0), 10 * MIN).unwrap();
    let (from_mixing, from_spreading) = (spread(reacted, 10), spread(reacted, 0));
    let counted = ppm_of(Clock::Open, &from_mixing) - ppm_of(Clock::Open, &from_spreading);
    assert!(counted > 0, "{counted}");
    // Ten minutes of a limit of 120 at 24 °C, capped at what the sheet says.
    assert!((counted - 83_333).abs() <= 1 && ppm_of(Clock::Open, &from_mixing) < WHOLE, "{counted}");
}

#[test]
fn closed_is_shortened_by_the_time_it_stood_open() {
    let closed = |minutes: i64| Spread { start_ms: T0 + minutes * MIN, spread_ms: T0, ..spread(0.1, 0) };
    let (at_once, later) = (ppm_of(Clock::Closed, &closed(0)), ppm_of(Clock::Closed, &closed(12)));
    // Twelve of 180 minutes at 25 °C.
    assert!((at_once - later - 66_667).abs() <= 1, "{at_once} {later}");
}

#[test]
fn never_longer_than_the_sheet() {
    let model = model();
    for celsius in [5.0, 15.0, 25.0, 32.0, 40.0] {
        for grams in [20.0, 100.0, 150.0, 500.0, 2_000.0] {
            let working = model.working_s(grams, c(celsius)).unwrap();
            let ppm = pot_ppm(&card(), &model, working, c(celsius)).unwrap();
            assert!((1..=WHOLE).contains(&ppm), "{celsius} {grams} {ppm}");
            let charge = Charge { mass_g: Some(grams), components_k: Some(c(celsius)) };
            let air = air(celsius);
            let plain = told(&card(), Clock::Pot, &air, charge, Shorter::default());
            let short = told(&card(), Clock::Pot, &air, charge, Shorter { ppm, ..Shorter::default() });
            assert!(short.earliest_ms <= plain.earliest_ms, "{celsius} {grams}");
            assert_eq!((short.expected_ms, short.latest_ms), (plain.expected_ms, plain.latest_ms));
            assert!(plain.earliest_ms.unwrap() <= T0 + 45 * MIN);
        }
    }
    let warm = model.working_s(100.0, c(51.0)).unwrap();
    assert_eq!((warm, pot_ppm(&card(), &model, warm, c(51.0))), (0.0, Some(1)));
}

#[test]
fn a_heavy_pot_is_shorter_than_the_cube_root_says() {
    let model = model();
    let working = model.working_s(500.0, c(25.0)).unwrap();
    let ppm = pot_ppm(&card(), &model, working, c(25.0)).unwrap();
    // 0.585 by the cube root; the model leaves about nine tenths: then the cube root's stays.
    let charge = Charge { mass_g: Some(500.0), components_k: Some(c(25.0)) };
    let plain = told(&card(), Clock::Pot, &air(25.0), charge, Shorter::default());
    let short = told(&card(), Clock::Pot, &air(25.0), charge, Shorter { ppm, ..Shorter::default() });
    assert_eq!(plain.earliest_ms, short.earliest_ms, "{ppm}");
    assert!(ppm > 585_000 && ppm < WHOLE, "{ppm}");
}

#[test]
fn the_pot_meets_the_air_it_stood_in() {
    let air = air(22.0);
    let path = [Stay { from_ms: T0, air: Some(&air) }];
    let met_ = met(&card(), &path, (T0, T0 + 30 * MIN), T0 + 60 * MIN);
    assert_eq!((met_.highest_k, met_.lowest_k), (c(23.0), Some(c(21.0))));
    let nowhere = met(&card(), &[], (T0, T0 + 30 * MIN), T0 + 60 * MIN);
    assert_eq!((nowhere.highest_k, nowhere.lowest_k), (crate::air::ASSUMED_K, None));
    assert_eq!(pot_start_k(&card(), &Charge::default(), None), Some(crate::air::ASSUMED_K));
    let warm = Charge { mass_g: None, components_k: Some(c(40.0)) };
    assert_eq!(pot_start_k(&card(), &warm, Some(c(20.0))), Some(c(40.0)));
}

#[test]
fn other_glues_have_no_model() {
    let urea = Card { class: Class::Urea, ..card() };
    assert_eq!(PotModel::of_card(&urea, 100.0), Err(Unmodelled::Class));
    let bare = Card { limits: vec![limit(Clock::Open, 25.0, 30.0, None)], ..card() };
    assert_eq!(PotModel::of_card(&bare, 100.0), Err(Unmodelled::NoPotLife));
}
