//! Nonsense for every public function of the trade science: numbers that are none, endless, tiny or huge, empty and
//! very long lists, text of any kind. Nothing panics, nothing goes on for ever, and what calls itself an answer is one.
//! The figures as a whole are handed nonsense in figures.rs, the clocks' own rules in the crate's safety cases.

#[path = "fuzz/clocks.rs"]
mod clocks;
#[path = "fuzz/formulas.rs"]
mod formulas;
#[path = "fuzz/solvers.rs"]
mod solvers;
#[path = "fuzz/text.rs"]
mod text;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// The same cases in every run.
fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(20_261_126),
        ..ProptestConfig::default()
    }
}

/// Numbers at which formulas break.
const EDGES: [f64; 30] = [
    0.0,
    -0.0,
    1.0,
    -1.0,
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    f64::MAX,
    f64::MIN,
    f64::MIN_POSITIVE,
    5e-324,
    -5e-324,
    1e-300,
    1e300,
    1e-12,
    1e12,
    0.5,
    0.999_999_999_999_999_9,
    1.000_000_000_000_000_2,
    2.0,
    30.0,
    100.0,
    243.12,
    -243.12,
    273.15,
    293.15,
    298.15,
    1e6,
    -1e6,
    f64::EPSILON,
];

/// A number of any kind: an edge, any bits at all, or something a person might type.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        2 => prop::sample::select(EDGES.to_vec()),
        1 => prop::num::f64::ANY,
        3 => -50.0..500.0f64,
        1 => (-12.0..12.0f64).prop_map(|power| libm::pow(10.0, power)),
    ]
}

/// A number somebody might mean: positive and neither tiny nor huge.
fn likely() -> impl Strategy<Value = f64> {
    (-3.0..4.0f64).prop_map(|power| libm::pow(10.0, power))
}

/// Either: half of the cases get far into a function, half stop at its door.
fn either() -> impl Strategy<Value = f64> {
    prop_oneof![likely(), number()]
}

/// Whole numbers with the ends among them.
fn whole() -> impl Strategy<Value = i64> {
    let ends = vec![0, 1, -1, i64::MIN, i64::MAX, 60_000, 3_600_000, 86_400_000, 1_763_460_000_000];
    prop_oneof![2 => prop::sample::select(ends), 1 => any::<i64>(), 3 => -1_000_000_000..1_000_000_000i64]
}

/// An answer that calls itself one is a number.
#[track_caller]
fn sound(answer: Option<f64>) {
    assert!(answer.is_none_or(f64::is_finite), "{answer:?}");
}
