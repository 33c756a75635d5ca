//! Work of a clock, counted: linear in its readings, and nothing for those it has gone through already.

use glue::card::{BelowMinimum, Card, Class, Limit, Origin, Point};
use glue::clock::{Air, Asked, Charge, Clock, Knot, Runner, Source, Stay, Wood};

const MINUTE: i64 = 60_000;
const T0: i64 = 1_763_460_000_000;

/// A day's swing, every minute.
fn air(minutes: i64) -> Air {
    let knot = |minute: i64| {
        let k = 287.15 + 4.0 * libm::sin(minute as f64 / 1_440.0 * core::f64::consts::TAU);
        Knot { at_ms: T0 + minute * MINUTE, low_k: k, mean_k: k, high_k: k }
    };
    let source = Source { error_k: 1.0, knots: (0..=minutes).map(knot).collect(), lowest: vec![] };
    Air { sources: vec![source], ..Air::default() }
}

/// A limit so long that none of its bounds ends.
fn card() -> Card {
    let point = Point { at_k: Some(293.15), low_ms: 4e11, high_ms: 4e11, mass_g: None };
    Card {
        class: Class::Epoxy,
        origin: Origin::Sheet,
        limits: vec![Limit { clock: Clock::FullCure, points: vec![point], counted_from: None, bent: false }],
        together: false,
        minimum_cure_k: Some(275.15),
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

/// Exponentials so far, after a question at the newest of so many minutes of readings.
fn count(runner: &mut Runner, card: &Card, minutes: i64) -> u64 {
    let air = air(minutes);
    let path = [Stay { from_ms: T0, air: Some(&air) }];
    let _ = runner.tell(&Asked {
        clock: Clock::FullCure,
        card,
        bent: false,
        started_ms: Some(T0),
        ended_ms: None,
        at_ms: T0 + minutes * MINUTE,
        path: &path,
        wood: Wood { thickness_mm: Some(40.0), start_k: Some(287.15), since_ms: T0 },
        charge: Charge::default(),
        carried: [0.0; 3],
        shorter: Default::default(),
        pending: &[],
        time_lost_ms: None,
    });
    runner.evaluations()
}

#[test]
fn twice_the_readings_twice_the_work_and_an_hour_costs_an_hour() {
    let card = card();
    let mut first = Vec::new();
    for days in [5, 10, 20] {
        let mut runner = Runner::default();
        let minutes = days * 1_440;
        let whole = count(&mut runner, &card, minutes);
        // Three bounds with one exponential a minute each, and a few where wood and air meet.
        assert!(whole >= 3 * minutes as u64 && whole < 3 * minutes as u64 * 11 / 10, "{days} d: {whole}");
        assert_eq!(count(&mut runner, &card, minutes), whole, "the same question again costs nothing");
        let hour = count(&mut runner, &card, minutes + 60) - whole;
        assert!((180..=200).contains(&hour), "{days} d: one hour more costs {hour}");
        first.push(whole as f64);
    }
    for two in first.windows(2) {
        assert!((two[1] / two[0] - 2.0).abs() < 0.02, "{first:?}");
    }
}
