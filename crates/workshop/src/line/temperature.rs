//! The temperature under a glue line: the place's readings thinned to a polyline, with the least cure temperature.

use super::draw::{Axis, FULL};
use super::shape::LineTemperature;
use crate::reader::Reader;

/// Columns; each keeps its lowest and its highest reading.
const COLUMNS: i64 = 198;
/// Readings further apart are not joined, ms (a gap in the sense of the clocks).
const APART_MS: i64 = 2 * 3_600_000;
/// Room above and below, K, and how far outside the readings a limit may lie and still be drawn, K.
const ROOM_K: f64 = 0.5;
const NEAR_K: f64 = 15.0;

/// One reading: instant in ms, lowest and highest, K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Read {
    /// When, ms.
    pub at_ms: i64,
    /// Lowest, K.
    pub low_k: f64,
    /// Highest, K.
    pub high_k: f64,
}

/// The readings over an axis, sorted by time; None: none lies in it.
pub fn temperature(
    reads: &[Read],
    axis: Axis,
    least_k: Option<f64>,
    most_k: Option<f64>,
    reader: Reader,
) -> Option<LineTemperature> {
    let inside: Vec<&Read> = reads.iter().filter(|one| (axis.from_ms..=axis.to_ms).contains(&one.at_ms)).collect();
    let low = inside.iter().map(|one| one.low_k).fold(f64::INFINITY, f64::min);
    let high = inside.iter().map(|one| one.high_k).fold(f64::NEG_INFINITY, f64::max);
    if !(low.is_finite() && high.is_finite()) {
        return None;
    }
    let near = |k: &f64| *k >= low - NEAR_K && *k <= high + NEAR_K;
    let (least, most) = (least_k.filter(near), most_k.filter(near));
    let bottom = least.map_or(low, |k| k.min(low)) - ROOM_K;
    let top = most.map_or(high, |k| k.max(high)) + ROOM_K;
    let y = |k: f64| (((top - k) / (top - bottom) * FULL as f64) as i64).clamp(0, FULL);
    let breaks = inside.windows(2).filter_map(|pair| match pair {
        [one, next] if next.at_ms - one.at_ms > APART_MS => Some([axis.x(one.at_ms), axis.x(next.at_ms)]),
        _ => None,
    });
    Some(LineTemperature {
        points: thinned(&inside, axis).into_iter().map(|(x, k)| [x, y(k)]).collect(),
        low_line: least.map(y),
        high_line: most.map(y),
        breaks: breaks.collect(),
        least_word: least_k.map(|k| format!("{} least", reader.kelvin(k))),
        top_word: reader.kelvin(top),
        bottom_word: reader.kelvin(bottom),
    })
}

/// Lowest and highest reading of each column, in time.
fn thinned(inside: &[&Read], axis: Axis) -> Vec<(i64, f64)> {
    let mut points: Vec<(i64, f64)> = Vec::new();
    for column in inside.chunk_by(|one, next| axis.x(one.at_ms) * COLUMNS / FULL == axis.x(next.at_ms) * COLUMNS / FULL)
    {
        let lowest = column.iter().min_by(|a, b| a.low_k.total_cmp(&b.low_k));
        let highest = column.iter().max_by(|a, b| a.high_k.total_cmp(&b.high_k));
        let (Some(lowest), Some(highest)) = (lowest, highest) else { continue };
        let mut both = [(axis.x(lowest.at_ms), lowest.low_k), (axis.x(highest.at_ms), highest.high_k)];
        if highest.at_ms < lowest.at_ms {
            both.swap(0, 1);
        }
        points.extend(both);
        points.dedup();
    }
    points
}
