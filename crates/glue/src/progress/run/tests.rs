//! Blocks against the general way, to a billionth.

use super::*;
use crate::air::{Piece, Sort};
use crate::clock::LawKind;
use crate::law::Law;
use crate::law::curve::Curve;
use crate::number::GAS;

/// Three days of minutes with a day's swing and a little noise.
fn knots() -> Vec<Knot> {
    let mut state: u64 = 7;
    let knot = |minute: i64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let noise = (state >> 40) as f64 / 16_777_216.0 - 0.5;
        let mean_k = 289.0 + 5.0 * libm::sin(minute as f64 / 1_440.0 * core::f64::consts::TAU) + 0.1 * noise;
        Knot { at_ms: minute * 60_000, low_k: mean_k - 0.04, mean_k, high_k: mean_k + 0.03 }
    };
    (0..4_320).map(knot).collect()
}

fn course(body: Body) -> Course {
    let form = |kj: f64| Form::Straight { a: 30.0 - kj * 1e3 / GAS / 293.15, b: kj * 1e3 / GAS };
    let curve = |below: f64, above: Form| Curve::new(vec![(291.0, form(below)), (f64::INFINITY, above)]);
    let curves = [curve(65.0, Form::Constant(1e-13)), curve(55.0, form(55.0)), curve(45.0, form(65.0))];
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
        body,
        minimum: Some((285.0, true)),
        fault: false,
        carried: [0.0; 3],
        pending: vec![],
        allowance: 0.05,
    }
}

#[test]
fn blocks_agree_with_the_general_way() {
    let (knots, shift) = (knots(), [-1.0, 0.0, 1.0]);
    let view = View { direction: Direction::MustReach, known_ms: i64::MAX, base_ms: 0, hottest_k: 303.15 };
    for body in [Body::Warmer(None), Body::Wood { tau: 3e6, known: true }, Body::Wood { tau: 3e5, known: true }] {
        let course = course(body);
        let (mut blocks, mut lines) = (Sums::new(0.0, 284.0), Sums::new(0.0, 284.0));
        let (mut room, mut at, mut by_blocks) = (Room::default(), 0, 0);
        while at + 1 < knots.len() {
            let gone = blocks.run(&course, &view, &knots[at..], shift, &mut room);
            by_blocks += gone;
            at += gone;
            if gone == 0 {
                blocks.step(&course, &piece(&knots[at], &knots[at + 1], shift));
                at += 1;
            }
        }
        for two in knots.windows(2) {
            lines.step(&course, &piece(&two[0], &two[1], shift));
        }
        if body != (Body::Wood { tau: 3e5, known: true }) {
            // Most of the lines, so that it is the blocks that are looked at here.
            assert!(by_blocks > 3_500, "{by_blocks} lines in blocks");
        }
        for bound in 0..3 {
            let (one, other) = (blocks.done[bound], lines.done[bound]);
            assert!(other > 0.0 && (one / other - 1.0).abs() < 1e-9, "{body:?} {bound}: {one:e} {other:e}");
            assert!((blocks.wood[bound] - lines.wood[bound]).abs() < 1e-9);
        }
        assert!((blocks.no_credit - lines.no_credit).abs() < 1e-3);
        assert_eq!((blocks.met, blocks.varied, blocks.at), (lines.met, lines.varied, lines.at));
    }
}

fn piece(from: &Knot, to: &Knot, shift: [f64; 3]) -> Piece {
    Piece {
        from: from.at_ms as f64,
        to: to.at_ms as f64,
        a: [from.low_k, from.mean_k, from.high_k],
        b: [to.low_k, to.mean_k, to.high_k],
        shift,
        sort: Sort::Read,
        long_gap: false,
    }
}
