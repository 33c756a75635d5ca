//! A year of minute readings of the glue, three bounds of a finish: ours beside NumPy, both errors against a reference
//! of longer doubles with five nodes in every minute.

use super::{Peer, peers, timed};
use glue::air::{Piece, Sort, View};
use glue::clock::{Direction, Knot, LawKind};
use glue::law::Law;
use glue::law::curve::{Curve, Form};
use glue::number::GAS;
use glue::progress::run::Room;
use glue::progress::shape::Body;
use glue::progress::{Course, Sums};
use std::hint::black_box;
use std::process::Command;

const MINUTE: i64 = 60_000;
const POINTS: i64 = 525_601;
const SHIFT: [f64; 3] = [-1.0, 0.0, 1.0];
const RULES: [&str; 4] = ["trapezoid", "middle", "corrected", "two-nodes"];
/// NumPy adds one by one; more than this is another error than ours.
const ALIKE: f64 = 10.0;

/// A day's swing, a year's, and a logger's noise.
fn knots() -> Vec<Knot> {
    let mut state: u64 = 20_260_101;
    let mut noise = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 40) as f64 / f64::from(1 << 24) - 0.5
    };
    let knot = |minute: i64| {
        let turn = |length: f64| libm::sin(minute as f64 / length * std::f64::consts::TAU);
        let k = 286.15 + 3.0 * turn(1_440.0) + 3.0 * turn(525_600.0) + 0.05 * noise();
        Knot { at_ms: minute * MINUTE, low_k: k, mean_k: k, high_k: k }
    };
    (0..POINTS).map(knot).collect()
}

/// ln t = a + b/T of a bound; `longer` is added to a.
fn forms(longer: [f64; 3]) -> [Form; 3] {
    let bound = |energy: f64, longer: f64| Form::Straight { a: longer - energy / GAS / 293.15, b: energy / GAS };
    [bound(65e3, longer[0]), bound(55e3, longer[1]), bound(45e3, longer[2])]
}

fn course(forms: [Form; 3]) -> Course {
    let curves = forms.map(|form| Curve::new(vec![(f64::INFINITY, form)]));
    let law = Law {
        kind: LawKind::OnePoint,
        curves,
        spread: 0.0,
        longest_ms: 1.0,
        points_k: None,
        range_k: None,
        sure: Default::default(),
    };
    Course {
        law,
        direction: Direction::MustReach,
        body: Body::Warmer(None),
        minimum: None,
        fault: false,
        carried: [0.0; 3],
        pending: vec![],
        allowance: 0.0,
    }
}

fn piece(from: &Knot, to: &Knot) -> Piece {
    let ends = |knot: &Knot| [knot.low_k, knot.mean_k, knot.high_k];
    Piece {
        from: from.at_ms as f64,
        to: to.at_ms as f64,
        a: ends(from),
        b: ends(to),
        shift: SHIFT,
        sort: Sort::Read,
        long_gap: false,
    }
}

/// In blocks where nothing happens, line by line where something does: as the clocks go.
fn along(course: &Course, knots: &[Knot]) -> Sums {
    let view = View { direction: Direction::MustReach, known_ms: i64::MAX, base_ms: 0, hottest_k: 303.15 };
    let (mut sums, mut room, mut gone) = (Sums::new(0.0, 293.15), Room::default(), 0);
    while !sums.all_finished() && gone + 1 < knots.len() {
        gone += sums.run(course, &view, &knots[gone..], SHIFT, &mut room);
        if let [from, to, ..] = &knots[gone..] {
            sums.step(course, &piece(from, to));
            gone += 1;
        }
    }
    sums
}

fn piecewise(course: &Course, knots: &[Knot]) -> Sums {
    let mut sums = Sums::new(0.0, 293.15);
    for two in knots.windows(2) {
        sums.step(course, &piece(&two[0], &two[1]));
    }
    sums
}

pub fn run() {
    let knots = knots();
    let path = peers("year.bin");
    let bytes: Vec<u8> = knots.iter().flat_map(|knot| knot.mean_k.to_le_bytes()).collect();
    std::fs::write(&path, bytes).expect("room for the readings");
    // Limits so long that all three bounds finish in the year's last days.
    let whole = along(&course(forms([80.0; 3])), &knots).done;
    let forms = forms(whole.map(|done| 80.0 + libm::log(0.97 * done)));
    let course = course(forms);
    let mut command = Command::new(peers("bin/python"));
    command.arg(concat!(env!("CARGO_MANIFEST_DIR"), "/bench/science/year.py")).arg(&path);
    for (form, shift) in forms.iter().zip(SHIFT) {
        if let Form::Straight { a, b } = form {
            command.args([a, b, &shift].map(|x| format!("{x:?}")));
        }
    }
    let mut numpy = Peer::start(command);
    let reference = numpy.ask("reference");
    let error = |finishes: &[f64]| {
        let off = finishes.iter().zip(&reference[1..]).map(|(at, exact)| (at / exact - 1.0).abs());
        off.fold(0.0, f64::max)
    };
    let mut best = [f64::INFINITY; 6];
    let mut errors = [0.0; 6];
    let mut evaluations = 0;
    for _ in 0..15 {
        for (i, go) in [along, piecewise].into_iter().enumerate() {
            let (seconds, sums) = timed(|| black_box(go(black_box(&course), black_box(&knots))));
            best[i] = best[i].min(seconds);
            errors[i] = error(&sums.finished.map(|at| at.expect("finished")));
            evaluations = sums.evaluations;
        }
        for (i, rule) in RULES.iter().enumerate() {
            let answer = numpy.ask(rule);
            best[i + 2] = best[i + 2].min(answer[0]);
            errors[i + 2] = error(&answer[1..]);
        }
    }
    println!(
        "year of minute readings, {POINTS} points, three bounds, finishes after 354 days; {evaluations} exponentials"
    );
    let names = ["ours, as the clocks go", "ours, piece by piece"].map(str::to_owned);
    let names = names.into_iter().chain(RULES.iter().map(|rule| format!("NumPy, {rule}")));
    for ((name, seconds), error) in names.zip(best).zip(errors) {
        println!("  {name:<24} {:8.2} ms   error {error:.1e}", seconds * 1e3);
    }
    let alike =
        (2..6).filter(|i| errors[*i] <= ALIKE * errors[0].max(1e-13)).min_by(|i, j| best[*i].total_cmp(&best[*j]));
    let alike = alike.expect("one rule of NumPy's is as exact");
    println!(
        "  NumPy by ours at equal error ({}): {:.2}; by the fastest of all its rules: {:.2}   (wanted: 1 or more)",
        RULES[alike - 2],
        best[alike] / best[0],
        best[2..].iter().copied().fold(f64::INFINITY, f64::min) / best[0]
    );
}
