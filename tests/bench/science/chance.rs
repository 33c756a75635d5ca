//! Ten thousand made-up batches of one clock.

use super::shortest;
use glue::chance::{Doubt, Draws, Known, finishes};
use glue::law::fit::fit;
use glue::number::HOUR;
use std::hint::black_box;

pub fn run() {
    let draws = Draws { count: 10_000, first: 1 };
    let points = [(10.0, 30.0), (15.0, 19.0), (20.0, 12.0), (25.0, 8.5), (30.0, 5.5)];
    let line = points.map(|(c, h)| (1.0 / (c + 273.15), libm::log(h * HOUR)));
    let fitted = Known::Fitted(fit(&line).expect("a line"));
    let one = Known::Point { at_k: 293.15, times: (100.0 * HOUR, 120.0 * HOUR), energies: (45e3, 65e3) };
    let newton = |i: i32| (f64::from(i) / 12.0 * HOUR, 281.15 + 14.0 * libm::exp(-f64::from(i) / 48.0));
    let swing = |minute: i32| {
        let day = libm::sin(f64::from(minute) / 1_440.0 * std::f64::consts::TAU);
        (f64::from(minute) * 60_000.0, 287.15 + 4.0 * day)
    };
    let traces = [
        ("100 h every 5 min, five points fitted", (0..=1_200).map(newton).collect::<Vec<_>>(), fitted),
        ("28 days every minute, one point", (0..=40_320).map(swing).collect::<Vec<_>>(), one),
    ];
    for (name, trace, law) in traces {
        let doubt = Doubt { law, sheet: 0.1, sensor_k: 1.0, minimum_k: None };
        let found = finishes(&trace, &doubt, 1e12, draws).expect("usable");
        let seconds = shortest(10, || finishes(black_box(&trace), &doubt, 1e12, draws));
        let hours = |share: f64| found.quantile(share).unwrap_or(f64::NAN) / HOUR;
        println!(
            "10 000 batches, {name}: {:.2} ms   (wanted: under 20); {} cells; 2.5 % {:.1} h, median {:.1} h, 97.5 % {:.1} h",
            seconds * 1e3,
            found.cells,
            hours(0.025),
            hours(0.5),
            hours(0.975)
        );
    }
}
