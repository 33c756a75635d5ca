//! What a glue line went through, as stages of nearly one temperature: the expected air behind the wood's lag. Where
//! nobody measured, the last temperature is taken to go on, and how long that was is told.

use crate::air::{Piece, View, Walker, walk};
use crate::clock::{Direction, Stay, Wood};
use crate::number::{after, exp};
use crate::wood::{self, Lag};
use core::ops::ControlFlow;

/// Means are taken over so much, ms.
const SLOT: f64 = 900_000.0;
/// Slots whose means lie this close to a stage's own belong to it, K.
const SAME_K: f64 = 0.05;

/// A glue line between two instants.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Mean temperature, K, and length, s, of each stage.
    pub stages: Vec<(f64, f64)>,
    /// Temperature at the end, K.
    pub now_k: f64,
    /// Highest mean of a quarter of an hour, K.
    pub highest_k: f64,
    /// Without a reading: the last temperature was taken to go on, ms.
    pub held_ms: f64,
    /// Before there was any reading: not counted at all, ms.
    pub unknown_ms: f64,
}

/// Longest course, ms: a hundred years.
const LONGEST_MS: f64 = 100.0 * 365.25 * 86_400_000.0;

/// The course from an instant to another, ms; None: no temperature is known in it, or it is longer than a hundred years.
pub fn course(path: &[Stay], wood: &Wood, (from_ms, to_ms): (i64, i64)) -> Option<Course> {
    let whole = after(from_ms, to_ms);
    if whole <= 0.0 || whole > LONGEST_MS {
        return None;
    }
    let view =
        View { direction: Direction::MustReach, known_ms: to_ms, base_ms: from_ms, hottest_k: crate::air::ASSUMED_K };
    let mut line = Line::new(wood, before(path, from_ms));
    let _ = walk(&view, path, 0.0, whole, &mut line);
    line.close();
    let highest_k = line.stages.iter().map(|stage| stage.2).reduce(f64::max)?;
    let stages = line.stages.iter().map(|(sum, span, _)| (sum / span, span / 1000.0)).collect();
    Some(Course { stages, now_k: line.wood_k, highest_k, held_ms: line.held_ms, unknown_ms: line.unknown_ms })
}

/// The last temperature read in a place before an instant, K.
fn before(path: &[Stay], at_ms: i64) -> Option<f64> {
    let here = path.iter().rev().find(|stay| stay.from_ms <= at_ms)?;
    let knots = here.air?.sources.iter().flat_map(|source| &source.knots).filter(|knot| knot.at_ms <= at_ms);
    knots.max_by_key(|knot| knot.at_ms).map(|knot| knot.mean_k).filter(|k| crate::air::source::plausible(*k))
}

struct Line {
    tau: f64,
    wood_k: f64,
    /// The last temperature of the air, K.
    last_k: Option<f64>,
    /// Integral of temperature, K ms, length, ms, and highest slot mean, K, of each stage.
    stages: Vec<(f64, f64, f64)>,
    /// The same two of the slot under way.
    slot: (f64, f64),
    held_ms: f64,
    unknown_ms: f64,
}

impl Line {
    fn new(wood: &Wood, last_k: Option<f64>) -> Line {
        Line {
            tau: wood::tau_ms(wood::thickness_mm(wood.thickness_mm)),
            wood_k: wood.start_k.unwrap_or(wood::START_K),
            last_k,
            stages: Vec::new(),
            slot: (0.0, 0.0),
            held_ms: 0.0,
            unknown_ms: 0.0,
        }
    }

    /// The wood follows a straight line of the air, slot by slot.
    fn follow(&mut self, len: f64, a: f64, b: f64) {
        let m = (b - a) / len;
        let (mut left, mut air) = (len, a);
        while left > 1e-6 {
            let step = left.min(SLOT - self.slot.1);
            let lag = Lag::new(self.wood_k, air, m, self.tau);
            let rest = exp(-(step / self.tau).min(700.0));
            self.slot.0 += lag.c0 * step + m * step * step / 2.0 + lag.d * self.tau * (1.0 - rest);
            self.slot.1 += step;
            self.wood_k = lag.c0 + m * step + lag.d * rest;
            (left, air) = (left - step, air + m * step);
            if self.slot.1 > SLOT - 1e-3 {
                self.close();
            }
        }
    }

    /// The slot under way joins the last stage, or begins one.
    fn close(&mut self) {
        let (sum, span) = core::mem::take(&mut self.slot);
        if span <= 0.0 {
            return;
        }
        let mean = sum / span;
        match self.stages.last_mut() {
            Some(stage) if (stage.0 / stage.1 - mean).abs() <= SAME_K => {
                *stage = (stage.0 + sum, stage.1 + span, stage.2.max(mean));
            }
            _ => self.stages.push((sum, span, mean)),
        }
    }
}

impl Walker for Line {
    fn take(&mut self, piece: &Piece) -> ControlFlow<()> {
        let len = piece.to - piece.from;
        let (a, b) = (piece.a[1], piece.b[1]);
        if len <= 0.0 {
            return ControlFlow::Continue(());
        }
        if a.is_finite() && b.is_finite() {
            self.follow(len, a, b);
            self.last_k = Some(b);
        } else if let Some(k) = self.last_k {
            self.held_ms += len;
            self.follow(len, k, k);
        } else {
            self.unknown_ms += len;
        }
        ControlFlow::Continue(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::{Air, Knot, Source};

    const HOUR: i64 = 3_600_000;

    fn air(knots: &[(i64, f64)]) -> Air {
        let knot = |(min, c): &(i64, f64)| {
            let k = c + 273.15;
            Knot { at_ms: min * 60_000, low_k: k, mean_k: k, high_k: k }
        };
        let source = Source { error_k: 1.0, knots: knots.iter().map(knot).collect(), lowest: Vec::new() };
        Air { sources: vec![source], ..Air::default() }
    }

    fn wood(celsius: f64) -> Wood {
        Wood { thickness_mm: Some(20.0), start_k: Some(celsius + 273.15), since_ms: 0 }
    }

    #[test]
    fn one_temperature_is_one_stage_and_what_nobody_read_is_told() {
        let air = air(&[(-10, 20.0), (5, 20.0), (20, 20.0)]);
        let path = [Stay { from_ms: i64::MIN, air: Some(&air) }];
        let day = course(&path, &wood(20.0), (0, 24 * HOUR)).unwrap();
        assert_eq!(day.stages.len(), 1, "{day:?}");
        assert!((day.stages[0].0 - 293.15).abs() < 1e-9 && (day.stages[0].1 - 86_400.0).abs() < 1e-6, "{day:?}");
        // The last reading, at 20 minutes, holds a quarter of an hour; then it is only taken to go on.
        assert!((day.held_ms - 24.0 * 3.6e6 + 35.0 * 6e4).abs() < 1e-6 && day.unknown_ms == 0.0, "{day:?}");
    }

    #[test]
    fn the_glue_line_lags_and_its_mean_is_that_of_the_closed_form() {
        let air = air(&[(0, 30.0), (15, 30.0), (30, 30.0), (45, 30.0), (60, 30.0)]);
        let path = [Stay { from_ms: i64::MIN, air: Some(&air) }];
        let hour = course(&path, &wood(10.0), (0, HOUR)).unwrap();
        let tau = wood::tau_ms(20.0);
        let mean = |from: f64, to: f64| {
            30.0 + 273.15 - 20.0 * tau * (libm::exp(-from / tau) - libm::exp(-to / tau)) / (to - from)
        };
        assert_eq!(hour.stages.len(), 4, "{hour:?}");
        for (i, (k, s)) in hour.stages.iter().enumerate() {
            let from = i as f64 * SLOT;
            assert!((k - mean(from, from + SLOT)).abs() < 1e-9 && (s - 900.0).abs() < 1e-6, "{i} {hour:?}");
        }
        assert!((hour.now_k - (303.15 - 20.0 * libm::exp(-3.6e6 / tau))).abs() < 1e-9);
        assert_eq!(hour.highest_k, hour.stages[3].0);
    }

    #[test]
    fn without_a_reading_there_is_none_and_before_the_first_nothing_counts() {
        let nowhere = [Stay { from_ms: i64::MIN, air: None }];
        assert_eq!(course(&nowhere, &wood(20.0), (0, HOUR)), None);
        let late = air(&[(180, 20.0)]);
        let path = [Stay { from_ms: i64::MIN, air: Some(&late) }];
        let told = course(&path, &wood(20.0), (0, 4 * HOUR)).unwrap();
        assert!((told.unknown_ms - 3.0 * 3.6e6).abs() < 1e-6 && (told.held_ms - 45.0 * 6e4).abs() < 1e-6, "{told:?}");
        assert_eq!(course(&path, &wood(20.0), (0, HOUR)), None, "what was read later is not known yet");
    }
}
