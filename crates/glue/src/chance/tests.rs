//! Draws against the distributions they come from, cells against the clocks' own integral, and nonsense.

use super::*;
use crate::law::fit::fit;
use crate::number::HOUR;

const DRAWS: Draws = Draws { count: 40_000, first: 7 };

fn point(times_h: (f64, f64), energies: (f64, f64)) -> Doubt {
    let law = Known::Point { at_k: 293.15, times: (times_h.0 * HOUR, times_h.1 * HOUR), energies };
    Doubt { law, sheet: 0.0, sensor_k: 0.0, minimum_k: None }
}

/// Standard error of a quantile's rank.
fn rank_error(share: f64) -> f64 {
    libm::sqrt(share * (1.0 - share) / DRAWS.count as f64)
}

#[test]
fn a_range_at_the_sheets_own_point_comes_back_even() {
    let found = finishes(&[(0.0, 293.15)], &point((4.0, 6.0), (45e3, 65e3)), 1e12, DRAWS).unwrap();
    for share in [0.025, 0.25, 0.5, 0.75, 0.975] {
        let wanted = 4.0 + 2.0 * share;
        let off = (found.quantile(share).unwrap() / HOUR - wanted).abs();
        assert!(off < 2.0 * 4.0 * rank_error(share), "{share}: {off}");
    }
    assert_eq!(found.reached(), 1.0);
}

#[test]
fn a_fit_at_one_temperature_gives_the_band_of_a_new_batch() {
    let points = [(10.0, 30.0), (15.0, 19.0), (20.0, 12.0), (25.0, 8.5), (30.0, 5.5)];
    let points = points.map(|(c, h)| (1.0 / (c + 273.15), libm::log(h * HOUR)));
    let fit = fit(&points).unwrap();
    let doubt = Doubt { law: Known::Fitted(fit), ..point((1.0, 1.0), (1.0, 1.0)) };
    for celsius in [5.0, 20.0, 33.0] {
        let found = finishes(&[(0.0, celsius + 273.15)], &doubt, 1e12, DRAWS).unwrap();
        let x = 1.0 / (celsius + 273.15);
        let line = fit.a + fit.b * x;
        let half = fit.qs * libm::sqrt(1.0 + 1.0 / fit.n + (x - fit.xbar) * (x - fit.xbar) / fit.sxx);
        // Of Student's t with 3 degrees of freedom the density at 97.5 % is 0.0152 of the half-width 3.18.
        let far = 4.0 * rank_error(0.975) / 0.015_2 / 3.182 * half;
        for (share, wanted) in [(0.025, line - half), (0.5, line), (0.975, line + half)] {
            let off = (libm::log(found.quantile(share).unwrap()) - wanted).abs();
            assert!(off < far, "{celsius} {share}: {off} of {far}");
        }
    }
}

#[test]
fn many_points_scatter_by_the_other_rule_for_chi_squared() {
    let mut dice = Dice(3);
    for free in [3.0, 8.0, 9.0, 40.0] {
        let all: Vec<f64> = (0..40_000).map(|_| dice.chi_squared(free)).collect();
        let mean = all.iter().sum::<f64>() / 40_000.0;
        let variance = all.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / 40_000.0;
        assert!((mean - free).abs() < 4.0 * libm::sqrt(2.0 * free / 40_000.0), "{free}: {mean}");
        assert!((variance / (2.0 * free) - 1.0).abs() < 0.08, "{free}: {variance}");
    }
}

/// A day's swing with noise, every minute.
fn swing(hours: usize) -> Vec<(f64, f64)> {
    let mut dice = Dice(11);
    let knots = (0..=hours * 60).map(|minute| {
        let day = libm::cos(core::f64::consts::TAU * minute as f64 / 1_440.0);
        (minute as f64 * 60_000.0, 288.15 + 4.0 * day + dice.between((-0.1, 0.1)))
    });
    knots.collect()
}

#[test]
fn cells_lose_next_to_nothing() {
    let doubt = point((30.0, 30.0), (55e3, 55e3));
    let trace = swing(200);
    let found = finishes(&trace, &doubt, 1e12, Draws { count: 1, first: 0 }).unwrap();
    // Line by line by five-point sums, another way round.
    let (a, b) = doubt.middle();
    let mut done = 0.0;
    let mut exact = f64::NAN;
    for two in trace.windows(2) {
        let rate = |share: f64| libm::exp(-a - b / (two[0].1 + (two[1].1 - two[0].1) * share));
        let more = (rate(0.0) + 4.0 * rate(0.5) + rate(1.0)) / 6.0 * 60_000.0;
        if done + more >= 1.0 {
            exact = two[0].0 + 60_000.0 * (1.0 - done) / more;
            break;
        }
        done += more;
    }
    let off = (found.quantile(0.5).unwrap() / exact - 1.0).abs();
    // In the last cell the rate is taken as even: it changes by 8.5 % a kelvin over 2 K at most, and the straight line's
    // error is an eighth of that.
    assert!(off < STEP * 0.17 / 8.0 && found.cells < 350, "{off:e} {}", found.cells);
}

#[test]
fn below_the_minimum_a_batch_waits_or_never_ends() {
    let doubt = Doubt { minimum_k: Some(283.15), sensor_k: 1.0, ..point((12.0, 12.0), (55e3, 55e3)) };
    // Half of the sensors read so that it is warm enough.
    let found = finishes(&[(0.0, 283.15)], &doubt, 1e12, DRAWS).unwrap();
    assert!((found.reached() - 0.5).abs() < 4.0 * rank_error(0.5), "{}", found.reached());
    assert!(found.quantile(0.4).is_some() && found.quantile(0.6).is_none());
    let short = finishes(&[(0.0, 293.15)], &doubt, 11.0 * HOUR, DRAWS).unwrap();
    assert!(short.reached() < 0.5);
}

#[test]
fn the_same_numbers_draw_the_same_batches() {
    let doubt = Doubt { sheet: 0.1, sensor_k: 1.0, ..point((4.0, 6.0), (45e3, 65e3)) };
    let run = |first: u64| finishes(&swing(50), &doubt, 1e12, Draws { count: 100, first }).unwrap();
    assert_eq!(run(1), run(1));
    assert_ne!(run(1), run(2));
}

#[test]
fn nonsense_is_refused() {
    let good = point((4.0, 6.0), (45e3, 65e3));
    let one = Draws { count: 1, first: 0 };
    let hour = [(0.0, 293.15), (HOUR, 293.15)];
    assert!(finishes(&hour, &good, 1e12, one).is_ok());
    for trace in [&[][..], &[(0.0, f64::NAN)], &[(0.0, 293.0), (0.0, 293.0)], &[(1.0, 293.0), (0.0, 293.0)]] {
        assert_eq!(finishes(trace, &good, 1e12, one), Err(Unusable::Trace));
    }
    assert_eq!(finishes(&[(0.0, 293.0), (1.0, 9e9)], &good, 1e12, one), Err(Unusable::Trace));
    for bad in [point((6.0, 4.0), (1e3, 2e3)), point((0.0, 4.0), (1e3, 2e3)), point((1.0, 2.0), (f64::NAN, 2e3))] {
        assert_eq!(finishes(&hour, &bad, 1e12, one), Err(Unusable::Doubt));
    }
    assert_eq!(finishes(&hour, &Doubt { sensor_k: f64::INFINITY, ..good }, 1e12, one), Err(Unusable::Doubt));
    assert_eq!(finishes(&hour, &good, f64::NAN, one), Err(Unusable::Doubt));
    assert_eq!(finishes(&hour, &good, 1e12, Draws { count: 0, first: 0 }), Err(Unusable::Count));
}
