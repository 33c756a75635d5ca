//! Tolerance factors, basis values, the individuals chart.

use super::{asked, near, number};
use crate::table::rows;
use glue::figure::Out;

#[test]
fn factors_agree_with_another_librarys() {
    for row in rows(include_str!("../tolerance_factor.csv")) {
        let line = format!("tolerance-factor n={} coverage={}% confidence={}%", row.text(0), row.text(1), row.text(2));
        let k = number(&line, "k");
        near(k / row.number(3), 1.0, 1e-9);
    }
}

#[test]
fn factors_as_printed() {
    for row in rows(include_str!("../tolerance_printed.csv")) {
        let k = |coverage: u32| number(&format!("tolerance-factor n={} coverage={coverage}%", row.text(0)), "k");
        // The source's own scatter, and half its last digit.
        near(k(90), row.number(1), 0.001_7 + 0.000_5);
        near(k(99), row.number(2), 0.000_5 + 0.000_5);
        if !row.text(3).is_empty() {
            row.same(3, k(90));
            row.same(4, k(99));
        }
    }
    near(number("tolerance-factor n=43 coverage=90% confidence=99%", "k"), 1.873_95, 0.000_005);
}

#[test]
fn a_basis_value_is_its_parts() {
    let line = "basis-value values=10.1,9.7,11.2,10.4,9.9";
    let [mean, sd, k] = ["mean", "sd", "k"].map(|field| number(line, field));
    near(mean, 10.26, 1e-12);
    near(sd, 0.585_662_019, 1e-9);
    near(k, 3.406_633_263, 1e-8);
    near(number(line, "basis_value"), mean - k * sd, 1e-12);
}

#[test]
fn basis_values_as_printed() {
    for row in rows(include_str!("../basis_value.csv")) {
        let basis = |pct: u32| number(&format!("basis-value values={} coverage={pct}%", row.text(0)), "basis_value");
        for (column, pct) in [(1, 90), (2, 99)] {
            // The other program's own approximation.
            near(basis(pct) / row.number(column), 1.0, 2e-4);
            row.same(column + 2, basis(pct));
        }
    }
}

#[test]
fn a_chart_of_flow_rates() {
    for row in rows(include_str!("../individuals.csv")) {
        let line = format!("individuals-chart values={}", row.text(0));
        row.same(1, number(&line, "mean"));
        for (column, field) in [(2, "lower"), (3, "upper")] {
            near(number(&line, field), row.number(column), 0.001_75);
        }
        assert_eq!(asked(&line).unwrap().get("out_of_control"), Some(&Out::Wholes(vec![])));
    }
    let odd = asked("individuals-chart values=10,10.2,9.9,10.1,10,14,10.1,9.9,10,10.1").unwrap();
    assert_eq!(odd.get("out_of_control"), Some(&Out::Wholes(vec![6])));
}

#[test]
fn few_values_are_said_to_be_few() {
    let cautioned = |line: &str| {
        asked(line).unwrap().basis.assumptions.iter().any(|said| said.starts_with("only ") && said.contains(" values"))
    };
    let values = |n: usize| (0..n).map(|i| (10.0 + 0.1 * (i % 3) as f64).to_string()).collect::<Vec<_>>().join(",");
    for figure in ["basis-value", "individuals-chart"] {
        assert!(cautioned(&format!("{figure} values={}", values(9))), "{figure}");
        assert!(!cautioned(&format!("{figure} values={}", values(10))), "{figure}");
    }
    assert!(cautioned("tolerance-factor n=3") && !cautioned("tolerance-factor n=10"));
    // Three joints, scatter 17 % of the mean: their B value says nothing.
    let three = asked("basis-value values=8.3,10,11.7").unwrap();
    assert!(three.number("basis_value").is_some_and(|basis| basis < 0.0));
    assert!(three.basis.assumptions.iter().any(|said| said.starts_with("below zero")));
}
