//! From sums to words: states, estimates rounded to the safe side, shares handed on, the early warning.

use super::{Asked, Assumed, Clock, Direction, Help, LawKind, State, Sure, Told};
use crate::air::source;
use crate::card::Limit;
use crate::number::after;
use crate::progress::{Course, Sums};

/// The whole, in ppm.
const WHOLE: i64 = 1_000_000;

/// Everything a clock's answer is made from.
pub struct Story<'a> {
    pub asked: &'a Asked<'a>,
    pub limit: &'a Limit,
    pub start_ms: i64,
    pub ended_ms: Option<i64>,
    pub stop: f64,
    pub course: &'a Course,
    pub now: &'a Sums,
    pub later: &'a Sums,
    pub assumed: Vec<Assumed>,
    pub now_k: Option<f64>,
    pub helps: Vec<Help>,
}

/// The answer where there is no law, or no start.
pub fn without_law(asked: &Asked, limit: Option<&Limit>, start: Option<i64>) -> Told {
    let ended = asked.ended_ms.is_some_and(|end| end <= asked.at_ms);
    let bent_without = limit.is_none() && asked.bent && asked.clock == Clock::Clamp;
    let state = match start {
        None => State::Never,
        Some(_) if ended => State::Ended,
        Some(_) if bent_without => State::Never,
        Some(_) => State::Held,
    };
    Told {
        state,
        progress_ppm: [0; 3],
        earliest_ms: None,
        expected_ms: None,
        latest_ms: None,
        law: LawKind::None,
        sure: Sure::default(),
        counted_from: limit.and_then(|limit| limit.counted_from),
        readings: 0,
        no_credit_ms: 0,
        gap_ms: 0,
        fault_ms: None,
        range_k: None,
        assumed: vec![],
        now_k: None,
        helps: vec![],
    }
}

impl Story<'_> {
    /// The answer.
    pub fn told(mut self) -> Told {
        self.assumed.sort();
        self.assumed.dedup();
        let [earliest_ms, expected_ms, latest_ms] = self.instants();
        let met = self.now.met;
        Told {
            state: self.state(),
            progress_ppm: self.progress(),
            earliest_ms,
            expected_ms,
            latest_ms,
            law: self.course.law.kind,
            sure: self.course.law.sure,
            counted_from: self.limit.counted_from,
            readings: self.readings(),
            no_credit_ms: whole(self.now.no_credit),
            gap_ms: whole(self.now.gap),
            fault_ms: self.now.fault.map(|at| self.instant(libm::ceil(at))),
            range_k: (met.0 <= met.1).then_some(met),
            assumed: self.assumed,
            now_k: self.now_k,
            helps: self.helps,
        }
    }

    fn must_reach(&self) -> bool {
        self.course.direction == Direction::MustReach
    }

    /// The safe bound is at its limit, without any forecast.
    fn is_finished(&self) -> bool {
        self.now.finished[0].is_some_and(|at| at <= self.stop)
    }

    fn state(&self) -> State {
        match (self.is_finished(), self.must_reach()) {
            (true, true) => State::Reached,
            (true, false) => State::Over,
            _ if self.ended_ms.is_some() => State::Ended,
            _ if self.later.finished[0].is_none() => State::Never,
            _ => State::Running,
        }
    }

    /// Bounds in the order low, expected, high.
    fn order(&self) -> [usize; 3] {
        if self.must_reach() { [0, 1, 2] } else { [2, 1, 0] }
    }

    fn progress(&self) -> [i64; 3] {
        let [low, expected, high] = self.order();
        let ppm = [self.ppm(low, libm::floor), self.ppm(expected, libm::round), self.ppm(high, libm::ceil)];
        [ppm[0].min(ppm[1]), ppm[1], ppm[2].max(ppm[1])]
    }

    fn ppm(&self, bound: usize, rounded: fn(f64) -> f64) -> i64 {
        if self.now.finished[bound].is_some_and(|at| at <= self.stop) {
            return WHOLE;
        }
        let share = self.course.share(bound, self.now.done[bound], self.now.varied && bound == 0);
        (rounded(share * 1e6) as i64).clamp(0, WHOLE - 1)
    }

    /// Earliest rounded down, latest up, to the millisecond.
    fn instants(&self) -> [Option<i64>; 3] {
        let [late, middle, early] = self.order();
        let at = |bound: usize, rounded: fn(f64) -> f64| {
            let finished = self.later.finished[bound];
            finished.map(|at| self.instant(rounded(at)))
        };
        let earliest = at(early, |x| libm::floor(x + 1e-5));
        let latest = at(late, |x| libm::ceil(x - 1e-5));
        let expected = at(middle, libm::round);
        ordered([earliest, expected, latest])
    }

    fn instant(&self, at: f64) -> i64 {
        self.start_ms.saturating_add(at as i64)
    }

    /// Knots between start and stop, place by place.
    fn readings(&self) -> u64 {
        let path = self.asked.path;
        let mut count = 0;
        for (index, stay) in path.iter().enumerate() {
            let from = if index == 0 { 0.0 } else { after(self.start_ms, stay.from_ms).max(0.0) };
            let left = path.get(index + 1).map(|next| after(self.start_ms, next.from_ms));
            for source in stay.air.iter().flat_map(|air| &air.sources) {
                let knots = source::known(source, self.asked.at_ms);
                let before = |t: f64| knots.partition_point(|knot| after(self.start_ms, knot.at_ms) < t);
                let until = knots.partition_point(|knot| after(self.start_ms, knot.at_ms) <= self.stop);
                let end = left.map_or(until, |left| before(left).min(until));
                count += end.saturating_sub(before(from)) as u64;
            }
        }
        count
    }
}

fn whole(ms: f64) -> i64 {
    libm::round(ms) as i64
}

/// Earliest ≤ expected ≤ latest, a missing one last.
fn ordered([earliest, expected, latest]: [Option<i64>; 3]) -> [Option<i64>; 3] {
    let key = |at: Option<i64>| at.unwrap_or(i64::MAX);
    let expected_key = key(expected).max(key(earliest));
    let latest_key = key(latest).max(expected_key);
    [key(earliest), expected_key, latest_key].map(|at| (at != i64::MAX).then_some(at))
}

/// Shares of closed time already used when the joint was closed, where a card says that open and closed time are used
/// up together: what open came to (safe, expected, other), each rounded to its own safe side.
pub fn carried_open_to_closed(card: &crate::card::Card, open: &Told) -> [f64; 3] {
    if !card.together {
        return [0.0; 3];
    }
    let [low, expected, high] = open.progress_ppm.map(|ppm| ppm as f64 / 1e6);
    [high, expected, low]
}

/// When a must-not-exceed clock is nearly over: the larger of five minutes and the kind's clamping minutes before its
/// earliest limit, at most half the limit before. None: no limit in sight, or a must-reach clock.
pub fn nearly_over_ms(clock: Clock, told: &Told, started_ms: i64, clamping_ms: i64) -> Option<i64> {
    if clock.direction() == Direction::MustReach {
        return None;
    }
    let limit_ms = told.earliest_ms?;
    let before = clamping_ms.max(300_000).min(limit_ms.saturating_sub(started_ms).max(0) / 2);
    Some(limit_ms.saturating_sub(before))
}
