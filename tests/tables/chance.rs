//! Made-up batches of one clock lie between its safe bounds.

use crate::table::rows;
use glue::chance::{Doubt, Draws, Known, finishes};
use glue::law::fit::fit;
use glue::number::HOUR;

/// Five-minute knots of a shop that cools towards 8 °C, ms and K.
fn cooling() -> Vec<(f64, f64)> {
    let hours = (0..=1_200).map(|i| f64::from(i) / 12.0);
    hours.map(|h| (h * HOUR, 281.15 + 14.0 * libm::exp(-h / 4.0))).collect()
}

#[test]
fn the_safe_bounds_enclose_ninety_five_of_a_hundred_batches() {
    let points = [(10.0, 30.0), (15.0, 19.0), (20.0, 12.0), (25.0, 8.5), (30.0, 5.5)];
    let line: Vec<(f64, f64)> = points.map(|(c, h)| (1.0 / (c + 273.15), libm::log(h * HOUR))).to_vec();
    let law = Known::Fitted(fit(&line).unwrap());
    let doubt = Doubt { law, sheet: 0.0, sensor_k: 1.0, minimum_k: None };
    let found = finishes(&cooling(), &doubt, 1e12, Draws { count: 10_000, first: 1 }).unwrap();
    let hours = |share: f64| found.quantile(share).unwrap() / HOUR;
    let printed: Vec<f64> = rows(include_str!("finish_bounds.csv")).iter().map(|row| row.number(1)).collect();
    let [_, earliest, latest, low, middle, high] = printed[..] else { panic!("{printed:?}") };
    println!("2.5 % {:.2} h, median {:.2} h, 97.5 % {:.2} h", hours(0.025), hours(0.5), hours(0.975));
    assert!(earliest <= hours(0.025) && hours(0.975) <= latest);
    // Four hundred batches tell a share of 2.5 % to 0.78 points (one standard error) and the median to 2.5.
    for (share, error, printed) in [(0.025_f64, 0.007_8_f64, low), (0.5, 0.025, middle), (0.975, 0.007_8, high)] {
        let (from, to) = (hours((share - 3.0 * error).max(0.0)), hours((share + 3.0 * error).min(1.0)));
        assert!(from <= printed && printed <= to, "{share}: {printed} not in {from} to {to}");
    }
    // A clock that stands on one point of a sheet: its interval of energies and its sensor enclose the batches too.
    let law = Known::Point { at_k: 293.15, times: (12.0 * HOUR, 12.0 * HOUR), energies: (45e3, 65e3) };
    let found = finishes(&cooling(), &Doubt { law, ..doubt }, 1e12, Draws { count: 10_000, first: 1 }).unwrap();
    let worst = |energy: f64, error: f64| {
        let law = Known::Point { at_k: 293.15, times: (12.0 * HOUR, 12.0 * HOUR), energies: (energy, energy) };
        let exact = Doubt { law, sensor_k: 0.0, ..doubt };
        let moved: Vec<(f64, f64)> = cooling().iter().map(|(ms, k)| (*ms, k + error)).collect();
        finishes(&moved, &exact, 1e12, Draws { count: 1, first: 1 }).unwrap().quantile(0.5).unwrap()
    };
    assert!(worst(45e3, 1.0) <= found.quantile(0.0).unwrap() && found.quantile(1.0).unwrap() <= worst(65e3, -1.0));
}
