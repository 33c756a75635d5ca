//! Ratios of the clocks: a finish over a year of minute readings against the exponentials it evaluates, and two hundred
//! full-cure clocks asked four times a second.

use ::glue::card::{BelowMinimum, Card, Class, Limit, Origin, Point};
use ::glue::clock::{Air, Asked, Charge, Clock, Knot, Runner, Source, State, Stay, Wood, tell};
use std::hint::black_box;
use std::time::{Duration, Instant};

const HOUR: f64 = 3_600_000.0;
pub const MINUTE: i64 = 60_000;
pub const START: i64 = 1_700_000_000_000;
const YEAR_MINUTES: i64 = 525_600;

pub fn card(hours: f64) -> Card {
    let point = Point { at_k: Some(293.15), low_ms: hours * HOUR, high_ms: hours * HOUR, mass_g: None };
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

/// Minute readings of a shop: a day's swing, a year's, and a logger's noise of a few hundredths of a kelvin.
pub fn air(minutes: i64) -> Air {
    let mut state: u64 = 20_260_101;
    let mut noise = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 40) as f64 / f64::from(1 << 24) - 0.5
    };
    let knots = (0..=minutes).map(|minute| {
        let day = libm_sin(minute as f64 / 1_440.0 * std::f64::consts::TAU);
        let year = libm_sin(minute as f64 / 525_600.0 * std::f64::consts::TAU);
        let mean_k = 286.15 + 3.0 * day + 3.0 * year + 0.05 * noise();
        Knot { at_ms: START + minute * MINUTE, low_k: mean_k - 0.03, mean_k, high_k: mean_k + 0.03 }
    });
    Air { sources: vec![Source { error_k: 1.0, knots: knots.collect(), lowest: vec![] }], ..Air::default() }
}

/// Only makes input.
fn libm_sin(x: f64) -> f64 {
    let x = (x / std::f64::consts::TAU).fract() * std::f64::consts::TAU - std::f64::consts::PI;
    let b = 4.0 / std::f64::consts::PI;
    let c = -4.0 / (std::f64::consts::PI * std::f64::consts::PI);
    -(b * x + c * x * x.abs())
}

pub fn asked<'a>(card: &'a Card, path: &'a [Stay<'a>], at_ms: i64) -> Asked<'a> {
    Asked {
        clock: Clock::FullCure,
        card,
        bent: false,
        started_ms: Some(START),
        ended_ms: None,
        at_ms,
        path,
        wood: Wood { thickness_mm: Some(40.0), start_k: Some(288.15), since_ms: START },
        charge: Charge::default(),
        carried: [0.0; 3],
        shorter: Default::default(),
        pending: &[],
        time_lost_ms: None,
    }
}

/// How long something takes.
#[expect(clippy::disallowed_methods, reason = "a benchmark measures, no shop time is read")]
fn timed(mut run: impl FnMut()) -> Duration {
    let began = Instant::now();
    run();
    began.elapsed()
}

/// Shortest of many rounds of each, taken in turn so that a busy machine is busy for all of them.
fn shortest<const N: usize>(rounds: usize, mut runs: [&mut dyn FnMut(); N]) -> [Duration; N] {
    let mut best = [Duration::MAX; N];
    for _ in 0..rounds {
        for (best, run) in best.iter_mut().zip(&mut runs) {
            *best = timed(run).min(*best);
        }
    }
    best
}

/// Prints the ratios.
pub fn run() {
    year();
    many();
}

fn year() {
    let air = air(YEAR_MINUTES);
    // A limit so long that all three bounds finish in the last weeks of the year.
    let card = card(4_000.0);
    let path = [Stay { from_ms: START, air: Some(&air) }];
    let asked = asked(&card, &path, START + YEAR_MINUTES * MINUTE);
    let mut counting = Runner::default();
    let _ = counting.tell(&asked);
    let evaluations = counting.evaluations();
    let told = tell(&asked);
    let arguments: Vec<f64> = (0..evaluations).map(|i| -20.0 - (i % 1_000) as f64 * 1e-3).collect();
    let sum = |exp: fn(f64) -> f64| black_box(&arguments).iter().map(|x| exp(black_box(*x))).sum::<f64>();
    let [whole, own, libm] = shortest(
        60,
        [
            &mut || {
                black_box(tell(black_box(&asked)));
            },
            &mut || {
                black_box(sum(::glue::number::exp));
            },
            &mut || {
                black_box(sum(libm::exp));
            },
        ],
    );
    let latest = told.latest_ms.map(|at| (at - START) / MINUTE);
    println!("year of minute readings: {YEAR_MINUTES} points, state {:?}, latest after {latest:?} min", told.state);
    assert_eq!(told.state, State::Reached);
    let ratio = |alone: Duration| whole.as_secs_f64() / alone.as_secs_f64();
    println!("  exponentials evaluated     {evaluations}");
    println!("  three bounds of the finish {:8.2} ms   (wanted: under 30)", ms(whole));
    println!("  the exponentials one by one {:7.2} ms with libm, {:.2} ms with our own", ms(libm), ms(own));
    println!(
        "  ratio                      {:8.2} to libm, {:.2} to our own   (wanted: under 1.5)",
        ratio(libm),
        ratio(own)
    );
}

fn many() {
    let minutes = 28 * 1_440;
    let air = air(minutes);
    let card = card(4_000.0);
    let path = [Stay { from_ms: START, air: Some(&air) }];
    let now = START + minutes * MINUTE;
    let mut runners: Vec<Runner> = vec![Runner::default(); 200];
    for runner in &mut runners {
        let _ = runner.tell(&asked(&card, &path, now));
    }
    let mut second = || {
        for quarter in 0..4 {
            for runner in &mut runners {
                black_box(runner.tell(black_box(&asked(&card, &path, now + quarter * 250))));
            }
        }
    };
    let [second] = shortest(10, [&mut second]);
    println!(
        "200 clocks of 28 days asked four times a second: {:.3} % of a core   (wanted: under 4)",
        second.as_secs_f64() * 100.0
    );
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}
