//! Wood that comes from its store: how far its middle had followed the air there.

use super::Lag;
use crate::air::source::sound;
use crate::air::{Piece, Sort, View, Walker, walk};
use crate::clock::{Air, Direction, Knot, Stay};
use crate::number::{after, exp};
use core::ops::ControlFlow;

/// The store's air is looked at for this long before the wood is used, ms.
pub const STORED_MS: i64 = 72 * 3_600_000;

/// Temperature of the middle of wood of this time constant (ms) at an instant, K: behind the mean air of its store
/// from 72 h before on, or from the first reading in it, when it is taken to be as warm as that. Where the air is not
/// known for longer than two hours the wood stays as it was. None: no reading in that time.
pub fn followed_k(air: &Air, at_ms: i64, known_ms: i64, tau_ms: f64) -> Option<f64> {
    let from_ms = at_ms.saturating_sub(STORED_MS);
    let view = View { direction: Direction::MustReach, known_ms, base_ms: from_ms, hottest_k: f64::NAN };
    let mut behind = Behind { tau_ms, wood_k: None, first: first(air, from_ms, at_ms.min(known_ms)) };
    let _ = walk(&view, &[Stay { from_ms, air: Some(air) }], 0.0, after(from_ms, at_ms), &mut behind);
    behind.wood_k.or(behind.first.map(|(_, k)| k))
}

/// The first reading in a stretch, ms after its beginning, and its mean, K.
fn first(air: &Air, from_ms: i64, to_ms: i64) -> Option<(f64, f64)> {
    let within = |knot: &&Knot| knot.at_ms >= from_ms && knot.at_ms <= to_ms && sound(knot);
    let firsts = air.sources.iter().filter_map(|source| source.knots.iter().find(within));
    firsts.min_by_key(|knot| knot.at_ms).map(|knot| (after(from_ms, knot.at_ms), knot.mean_k))
}

struct Behind {
    tau_ms: f64,
    wood_k: Option<f64>,
    first: Option<(f64, f64)>,
}

impl Walker for Behind {
    fn take(&mut self, piece: &Piece) -> ControlFlow<()> {
        if piece.sort == Sort::Read && piece.to > piece.from {
            let (a, b, len) = (piece.a[1], piece.b[1], piece.to - piece.from);
            let slope = (b - a) / len;
            let begun = self.first.filter(|(at, _)| *at < piece.from).map(|(_, k)| k);
            let lag = Lag::new(self.wood_k.or(begun).unwrap_or(a), a, slope, self.tau_ms);
            self.wood_k = Some(lag.c0 + slope * len + lag.d * exp(-(len / self.tau_ms).min(700.0)));
        }
        ControlFlow::Continue(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::Source;
    use crate::wood::tau_ms;

    const H: i64 = 3_600_000;
    const AT: i64 = 1_763_460_000_000;

    fn air(knots: impl Iterator<Item = (i64, f64)>) -> Air {
        let knot = |(hours, k): (i64, f64)| Knot { at_ms: AT + hours * H, low_k: k - 2.0, mean_k: k, high_k: k + 3.0 };
        Air {
            sources: vec![Source { error_k: 1.0, knots: knots.map(knot).collect(), lowest: vec![] }],
            ..Air::default()
        }
    }

    #[test]
    fn it_follows_a_step_by_its_time_constant() {
        // 280 K, a rise within the hour to 290 K ten hours before, then steady: closed form of a ramp and a rest.
        let tau = tau_ms(60.0);
        let step = air((-80..=0).map(|h| (h, if h < -10 { 280.0 } else { 290.0 })));
        let hour = H as f64;
        let ramped = 280.0 + 10.0 * (1.0 - tau / hour * (1.0 - libm::exp(-hour / tau)));
        let wanted = 290.0 + (ramped - 290.0) * libm::exp(-10.0 * hour / tau);
        let found = followed_k(&step, AT, AT, tau).unwrap();
        assert!((found - wanted).abs() < 1e-9, "{found} {wanted}");
    }

    #[test]
    fn it_begins_with_the_first_reading_and_stays_over_a_gap() {
        let tau = tau_ms(20.0);
        let near = |found: Option<f64>| assert!(found.is_some_and(|k| (k - 285.0).abs() < 1e-9), "{found:?}");
        near(followed_k(&air((-3..=0).map(|h| (h, 285.0))), AT, AT, tau));
        // Readings far apart: as warm as the first one, and nothing is known to have changed that.
        let gap = air([(-30, 285.0), (-20, 285.0), (0, 295.0)].into_iter());
        near(followed_k(&gap, AT, AT, tau));
        assert_eq!(followed_k(&air([(-80, 285.0)].into_iter()), AT, AT, tau), None, "older than three days");
        assert_eq!(followed_k(&air([(1, 285.0)].into_iter()), AT, AT + 2 * H, tau), None, "only later");
    }
}
