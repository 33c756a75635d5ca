//! Stretches in which a must-reach clock earned nothing, found by asking the clock itself along the way.

use crate::judge::Reckoned;
use crate::judge::prepared::{Kept, Prepared};
use crate::time::Axis;

/// Steps along the way: finer than anybody sees on a row 560 pixels wide.
const STEPS: i64 = 128;
/// Less than this without credit is not drawn, ms.
const LEAST_MS: i64 = 60_000;

/// From–to of each stretch without credit up to an instant, ms, sorted, apart from each other.
pub fn stretches(one: &Reckoned, at_ms: i64, time: &Axis) -> Vec<(i64, i64)> {
    let Some(from_ms) = one.on.started_ms else { return lost(one, at_ms) };
    let to_ms = one.on.ended_ms.map_or(at_ms, |end| end.min(at_ms));
    if one.told.no_credit_ms < LEAST_MS || to_ms <= from_ms {
        return Vec::new();
    }
    // The same clock, ended step by step: what was gone through before is kept.
    let mut on = Prepared { kept: Kept::default(), ..(*one.on).clone() };
    let mut before = 0;
    let mut all: Vec<(i64, i64)> = Vec::new();
    let edge = |step: i64| from_ms + (to_ms - from_ms) / STEPS * step;
    for step in 0..STEPS {
        let (a, b) = (edge(step), if step + 1 == STEPS { to_ms } else { edge(step + 1) });
        on.ended_ms = Some(b);
        let sum = on.tell(at_ms, time).no_credit_ms;
        let without = (sum - before).clamp(0, b - a);
        before = sum;
        match all.last_mut() {
            _ if without == 0 => {}
            // What goes on from the step before lies at this step's beginning, what begins here at its end.
            Some(last) if last.1 == a => last.1 = a + without,
            _ => all.push((b - without, b)),
        }
    }
    all.retain(|(a, b)| b - a >= LEAST_MS);
    all
}

/// After a clamp was lost nothing counts.
fn lost(one: &Reckoned, at_ms: i64) -> Vec<(i64, i64)> {
    one.on.lost_ms.filter(|lost| *lost < at_ms).map(|lost| (lost, at_ms)).into_iter().collect()
}
