//! Worked numbers of the ratio.

use super::target::{Wanted, amounts, hardener_stop, stop_at};
use super::*;

fn scale(step: f64, accuracy: Option<f64>) -> Scale {
    Scale { step, accuracy }
}

fn nominal(hardener_per_resin: f64) -> Nominal {
    Nominal { hardener_per_resin, tolerance: Some(0.05) }
}

#[track_caller]
fn near(value: f64, wanted: f64, tolerance: f64) {
    assert!((value - wanted).abs() <= tolerance, "{value} instead of {wanted}");
}

#[test]
fn the_scales_accuracy_counts_beside_its_step() {
    let plain = by_weight(nominal(8.3 / 40.0), 40.0, 8.3, Weighing::Retared, scale(0.1, None));
    near(plain.uncertainty.unwrap(), 0.010, 0.0005);
    let accurate = by_weight(nominal(8.3 / 40.0), 40.0, 8.3, Weighing::Retared, scale(0.1, Some(0.3)));
    near(accurate.uncertainty.unwrap(), 0.044, 0.0005);
}

#[test]
fn one_cup_shares_the_middle_reading() {
    let grow = |resin: f64, hardener: f64| {
        let u = |weighing| doubt::of_amounts(resin, hardener, weighing, scale(0.1, None));
        u(Weighing::OneCup) / u(Weighing::Retared)
    };
    near(grow(50.0, 50.0), 1.22, 0.005);
    near(grow(50.0, 10.0), 1.09, 0.005);
    // The formula written out: (u/A)² + (u/A + u/B)² + (u/B)², u = d/sqrt 12.
    let (a, b, u) = (40.0, 8.3, 0.1 / libm::sqrt(12.0));
    let out = libm::sqrt((u / a) * (u / a) + (u / a + u / b) * (u / a + u / b) + (u / b) * (u / b));
    near(doubt::of_amounts(a, b, Weighing::OneCup, scale(0.1, None)), out, 1e-15);
}

#[test]
fn verdicts_keep_a_guard_band() {
    let judge = |hardener: f64| by_weight(nominal(0.5), 100.0, hardener, Weighing::Retared, scale(1.0, None)).verdict;
    // U is 1.8 % of the ratio here.
    assert_eq!(judge(50.0), Verdict::Within);
    assert_eq!(judge(51.5), Verdict::Within);
    assert_eq!(judge(52.0), Verdict::CannotTell);
    assert_eq!(judge(53.0), Verdict::CannotTell);
    assert_eq!(judge(54.0), Verdict::Outside);
    assert_eq!(judge(46.0), Verdict::Outside);
    let coarse = by_weight(nominal(1.0), 10.0, 10.0, Weighing::Retared, scale(1.0, None));
    assert_eq!(coarse.verdict, Verdict::CannotTell);
}

#[test]
fn exchanged_components_are_noticed() {
    let judged = by_weight(nominal(0.83), 83.0, 100.0, Weighing::Retared, scale(0.1, None));
    assert_eq!((judged.verdict, judged.swapped), (Verdict::Outside, true));
    near(judged.deviation.unwrap(), 100.0 / 83.0 / 0.83 - 1.0, 1e-12);
    let right = by_weight(nominal(0.83), 100.0, 83.0, Weighing::Retared, scale(0.1, None));
    assert_eq!((right.verdict, right.swapped), (Verdict::Within, false));
    let one_to_one = by_weight(nominal(1.0), 50.0, 60.0, Weighing::Retared, scale(0.1, None));
    assert_eq!((one_to_one.verdict, one_to_one.swapped), (Verdict::Outside, false));
}

#[test]
fn without_a_tolerance_there_is_a_deviation_and_no_verdict() {
    let open = Nominal { hardener_per_resin: 0.5, tolerance: None };
    let judged = by_weight(open, 100.0, 60.0, Weighing::Retared, scale(0.1, None));
    assert_eq!(judged.verdict, Verdict::None);
    near(judged.deviation.unwrap(), 0.2, 1e-12);
    for (resin, hardener) in [(0.0, 10.0), (10.0, 0.0), (f64::NAN, 1.0), (1.0, f64::INFINITY), (-1.0, 1.0)] {
        assert_eq!(by_weight(nominal(0.5), resin, hardener, Weighing::OneCup, scale(0.1, None)), UNJUDGED);
    }
}

#[test]
fn volumes_by_volume_and_through_densities() {
    let judged = by_volume(nominal(0.5), (100.0, 1.0), (50.0, 1.0));
    assert_eq!(judged.verdict, Verdict::Within);
    let weight = by_the_other(nominal(0.5), 1.15, 0.95).unwrap();
    near(weight.hardener_per_resin, 0.5 * 0.95 / 1.15, 1e-15);
    assert_eq!(by_the_other(nominal(0.5), 0.0, 1.0), None);
}

#[test]
fn amounts_both_ways_and_where_to_stop() {
    let all = amounts(0.83, Wanted::Total(183.0)).unwrap();
    near(all.resin, 100.0, 1e-9);
    near(all.hardener, 83.0, 1e-9);
    near(amounts(0.83, Wanted::Hardener(41.5)).unwrap().resin, 50.0, 1e-9);
    assert_eq!(amounts(0.83, Wanted::Resin(0.0)), None);
    assert_eq!(amounts(f64::NAN, Wanted::Resin(1.0)), None);
    near(hardener_stop(12.4, 45.4, 0.454_545, 0.1).unwrap(), 60.4, 1e-9);
    near(stop_at(10.0, 2.34, 0.0), 12.34, 1e-12);
    assert_eq!(hardener_stop(12.4, 12.4, 0.5, 0.1), None);
}
