//! What would help a clock that waits: one temperature held from the instant asked on.

use super::limit::minimum;
use super::{Asked, Clock};
use crate::air::{Piece, Sort};
use crate::number::SENSOR_K;
use crate::progress::{Course, Sums};

/// Offered beside the card's own clamp points, K: 18 °C and 20 °C, what a shop is heated to (common practice, no source).
const USUAL_K: [f64; 2] = [291.15, 293.15];
/// Offered at most.
const MOST: usize = 2;
/// Two temperatures nearer than this are one, K.
const SAME_K: f64 = 1e-6;

/// A temperature that would help, and until when.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Help {
    /// Held, K.
    pub at_k: f64,
    /// From this instant on, ms.
    pub from_ms: i64,
    /// Then the safe bound comes to its limit here, ms.
    pub finish_ms: i64,
}

/// Where a clock stands: at `at`, and what is then told as latest, ms after the start; None: no such instant.
pub(super) struct Stand<'a> {
    pub asked: &'a Asked<'a>,
    pub course: &'a Course,
    pub now: &'a Sums,
    pub start_ms: i64,
    pub latest: Option<f64>,
    pub to: f64,
}

impl Stand<'_> {
    /// The coldest temperatures that bring the safe bound to its limit sooner than what is told, at most two.
    pub fn helps(&self) -> Vec<Help> {
        let sooner = |finish: &f64| self.latest.is_none_or(|latest| *finish < latest);
        let finishes = self.temperatures().into_iter().map(|at_k| (at_k, self.finish(at_k).filter(sooner)));
        let help = |(at_k, finish): (f64, Option<f64>)| {
            let finish_ms = self.start_ms.saturating_add(libm::ceil(finish? - 1e-5) as i64);
            Some(Help { at_k, from_ms: self.asked.at_ms, finish_ms })
        };
        finishes.filter_map(help).take(MOST).collect()
    }

    /// The card's clamp points and the usual ones, between its minimum and its maximum, rising, K.
    fn temperatures(&self) -> Vec<f64> {
        let card = self.asked.card;
        let clamp = card.limits.iter().filter(|limit| limit.clock == Clock::Clamp).flat_map(|limit| &limit.points);
        let mut all: Vec<f64> = clamp.filter_map(|point| point.at_k).chain(USUAL_K).collect();
        let least = minimum(card, &self.course.law).map_or(f64::NEG_INFINITY, |(k, _)| k);
        let most = card.maximum_cure_k.filter(|k| k.is_finite()).unwrap_or(f64::INFINITY);
        all.retain(|k| *k >= least - SAME_K && *k <= most + SAME_K);
        all.sort_by(f64::total_cmp);
        all.dedup_by(|next, kept| *next - *kept < SAME_K);
        all
    }

    /// When the safe bound comes to its limit at one temperature, ms after the start.
    fn finish(&self, at_k: f64) -> Option<f64> {
        let course = Course { pending: vec![], fault: false, ..self.course.clone() };
        let mut sums = self.now.clone();
        // Only the safe bound is asked for.
        (sums.finished[1], sums.finished[2]) = (Some(0.0), Some(0.0));
        let shift = [-SENSOR_K, 0.0, SENSOR_K];
        let (from, to) = (self.now.at.max(0.0), self.to);
        sums.step(&course, &Piece { from, to, a: [at_k; 3], b: [at_k; 3], shift, sort: Sort::Read, long_gap: false });
        sums.finished[0]
    }
}
