//! Ratios: uncertainty and guard band, smallest batches, and a quotient with correlations.

use crate::table::rows;
use glue::mix::doubt::{of_ratio, smallest_resin};
use glue::mix::{Nominal, Scale, Verdict, Weighing, by_weight};

fn scale(step: f64) -> Scale {
    Scale { step, accuracy: None }
}

#[test]
fn ratio_doubt() {
    for row in rows(include_str!("ratio_doubt.csv")) {
        let (step, resin, ratio, hardener) = (row.number(0), row.number(1), row.number(2), row.number(3));
        let nominal = Nominal { hardener_per_resin: ratio, tolerance: Some(0.05) };
        let judge = |off: f64| by_weight(nominal, resin, hardener * (1.0 + off), Weighing::Retared, scale(step));
        let judged = judge(0.0);
        let uncertainty = judged.uncertainty.unwrap() * 100.0;
        row.same(4, uncertainty / 2.0);
        row.same(5, uncertainty);
        row.same(6, (5.0 - uncertainty).max(0.0));
        let expected = if row.text(7) == "decidable" { Verdict::Within } else { Verdict::CannotTell };
        assert_eq!(judged.verdict, expected);
        if expected == Verdict::Within {
            // More hardener makes the doubt a little smaller, so both borders are met from this side.
            let half_width = row.number(6) / 100.0;
            assert_eq!(judge(half_width).verdict, Verdict::Within);
            assert_eq!(judge(0.1 - half_width).verdict, Verdict::Outside);
            assert_eq!(judge(0.05).verdict, Verdict::CannotTell);
        }
    }
}

#[test]
fn smallest_batches() {
    for row in rows(include_str!("smallest_batch.csv")) {
        let least = smallest_resin(row.number(1), row.number(2) / 100.0, Weighing::Retared, scale(row.number(0)));
        row.same(3, least.unwrap());
        row.same(4, 3.0 * least.unwrap());
    }
}

/// Means, standard uncertainties of the means and correlations of the five readings.
struct Read {
    mean: [f64; 3],
    u: [f64; 3],
    r: [[f64; 3]; 3],
}

fn read() -> Read {
    let rows = rows(include_str!("impedance.csv"));
    let n = rows.len() as f64;
    let at = |row: &crate::table::Row, i: usize| row.number(i) * if i == 1 { 1e-3 } else { 1.0 };
    let mean = [0, 1, 2].map(|i| rows.iter().map(|row| at(row, i)).sum::<f64>() / n);
    let product = |i: usize, j: usize| {
        rows.iter().map(|row| (at(row, i) - mean[i]) * (at(row, j) - mean[j])).sum::<f64>() / (n * (n - 1.0))
    };
    let u = [0, 1, 2].map(|i| libm::sqrt(product(i, i)));
    let r = [0, 1, 2].map(|i| [0, 1, 2].map(|j| product(i, j) / (u[i] * u[j])));
    Read { mean, u, r }
}

#[track_caller]
fn near(value: f64, wanted: f64, half: f64) {
    assert!((value - wanted).abs() <= half, "{value} instead of {wanted}");
}

#[test]
fn a_quotient_of_correlated_readings() {
    let Read { mean: [v, i, phi], u: [u_v, u_i, u_phi], r } = read();
    near(r[0][1], -0.36, 0.005);
    near(r[0][2], 0.86, 0.005);
    near(r[1][2], -0.65, 0.005);
    let z = v / i;
    near(z, 254.260, 0.000_5);
    near(z * of_ratio(u_v / v, u_i / i, r[0][1]), 0.236, 0.000_5);
    // R = Z cos phi, X = Z sin phi: the relative part of phi comes in with -tan phi and cot phi.
    let (cos, sin) = (libm::cos(phi), libm::sin(phi));
    let parts = |p: f64, u: [f64; 3], r: [[f64; 3]; 3]| {
        let c = [u[0] / v, -u[1] / i, p * u[2]];
        let sum: f64 = (0..3).flat_map(|a| (0..3).map(move |b| (a, b))).map(|(a, b)| c[a] * c[b] * r[a][b]).sum();
        libm::sqrt(sum)
    };
    near(z * cos, 127.732, 0.000_5);
    near(z * cos * parts(-sin / cos, [u_v, u_i, u_phi], r), 0.071, 0.000_5);
    near(z * sin, 219.847, 0.000_5);
    // The printed 0.295 follows from the printed, rounded u and r (from memory); unrounded it is 0.2956.
    let printed = [[1.0, -0.355, 0.858], [-0.355, 1.0, -0.645], [0.858, -0.645, 1.0]];
    near(z * sin * parts(cos / sin, [0.0032, 0.0095e-3, 0.000_75], printed), 0.295, 0.000_5);
    near(z * sin * parts(cos / sin, [u_v, u_i, u_phi], r), 0.2956, 0.000_05);
}
