//! From a sketch to a picture: the time axis, the band painted in order, marks with their labels.

use super::label::Laid;
use super::shape::{GlueLine, LineBox, LineMark};
use super::sketch::{Drawn, Sketch, Stage};
use crate::judge::words::instant;
use glue::clock::{Direction, State};

/// The drawn width.
pub const FULL: i64 = 1_000_000;
/// Room to the right of the last instant, per cent of what lies before it.
const ROOM_PCT: i64 = 8;
/// The shortest axis, ms.
const LEAST_MS: i64 = 60_000;

/// The time axis: linear, left edge to right edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Axis {
    /// Left edge, ms.
    pub from_ms: i64,
    /// Right edge, ms.
    pub to_ms: i64,
}

impl Axis {
    /// Millionths of the width, never outside.
    pub fn x(self, ms: i64) -> i64 {
        let (past, whole) = (i128::from(ms) - i128::from(self.from_ms), i128::from(self.to_ms - self.from_ms));
        i64::try_from((past * i128::from(FULL) / whole.max(1)).clamp(0, i128::from(FULL))).unwrap_or(FULL)
    }
}

/// Draws a stage.
pub fn draw(sketch: &Sketch) -> GlueLine {
    let axis = axis(sketch);
    GlueLine {
        stage: if sketch.stage == Stage::Assembly { "assembly" } else { "cure" }.to_owned(),
        from: instant(axis.from_ms),
        to: instant(axis.to_ms),
        boxes: boxes(sketch, axis),
        marks: marks(sketch, axis),
        now: (sketch.at_ms >= axis.from_ms && sketch.at_ms <= axis.to_ms).then(|| axis.x(sketch.at_ms)),
        temperature: None,
        words: sketch.words.clone(),
    }
}

/// From the start to the last wall, gate or press, with some room beyond.
pub fn axis(sketch: &Sketch) -> Axis {
    let from_ms = sketch.from_ms;
    let limits = sketch.limits.iter().filter_map(|one| limit_ms(one).or(one.expected_ms));
    let last = limits.chain([sketch.filled_ms()]).max().unwrap_or(from_ms);
    let span = last.saturating_sub(from_ms).max(LEAST_MS);
    Axis { from_ms, to_ms: from_ms.saturating_add(span).saturating_add(span / 100 * ROOM_PCT) }
}

/// Where a wall or a gate stands: the earliest estimate of what must not be passed, the latest of what must be reached.
fn limit_ms(one: &Drawn) -> Option<i64> {
    match one.clock.direction() {
        Direction::MustNotExceed => one.earliest_ms,
        Direction::MustReach => one.latest_ms,
    }
}

// ---- the band ----

/// The band, painted in order: what comes later lies on top.
struct Band(Vec<LineBox>);

impl Band {
    fn paint(&mut self, from: i64, to: i64, fill: &str) {
        let (from, to) = (from.clamp(0, FULL), to.clamp(0, FULL));
        if to <= from {
            return;
        }
        let mut next = Vec::with_capacity(self.0.len() + 2);
        for old in &self.0 {
            for (a, b) in [(old.from, old.to.min(from)), (old.from.max(to), old.to)] {
                if b > a {
                    next.push(LineBox { fill: old.fill.clone(), from: a, to: b });
                }
            }
        }
        next.push(LineBox { fill: fill.to_owned(), from, to });
        next.sort_by_key(|one| one.from);
        self.0 = next;
    }

    /// Neighbours of one fill become one.
    fn joined(self) -> Vec<LineBox> {
        let mut all: Vec<LineBox> = Vec::new();
        for one in self.0 {
            match all.last_mut() {
                Some(last) if last.fill == one.fill && last.to == one.from => last.to = one.to,
                _ => all.push(one),
            }
        }
        all
    }
}

fn boxes(sketch: &Sketch, axis: Axis) -> Vec<LineBox> {
    let filled = axis.x(sketch.filled_ms());
    let mut band = Band(vec![LineBox { fill: "rest".to_owned(), from: 0, to: FULL }]);
    for one in sketch.limits.iter().filter(|one| one.open()) {
        if let Some(earliest) = one.earliest_ms {
            band.paint(axis.x(earliest), one.latest_ms.map_or(FULL, |at| axis.x(at)), "hatch");
        }
    }
    // What was spread first has cured longest.
    for (share, fill) in ["glue-3", "glue-2", "glue-1"].into_iter().zip(0..).map(|(fill, share)| (share, fill)) {
        band.paint(filled * share / 3, filled * (share + 1) / 3, fill);
    }
    for (from, to) in &sketch.chill {
        band.paint(axis.x(*from), axis.x(*to).min(filled), "chill");
    }
    for one in sketch.limits.iter().filter(|one| one.state == State::Over) {
        let until = one.ended_ms.unwrap_or(sketch.at_ms).min(sketch.at_ms);
        if let Some(earliest) = one.earliest_ms {
            band.paint(axis.x(earliest), axis.x(until), "over");
        }
    }
    band.joined()
}

// ---- marks ----

fn marks(sketch: &Sketch, axis: Axis) -> Vec<LineMark> {
    let mut laid = Laid::default();
    let mut marks: Vec<LineMark> = Vec::new();
    let mut put = |sort: &str, at: i64, word: &str, passed: bool, clock: Option<String>| {
        let spot = laid.place(at, word);
        let (lane, anchor) = spot.map_or((0, "middle"), |spot| (spot.lane, spot.anchor));
        // Without room the mark stands without its word; the sentence beside the picture has it.
        let word = if spot.is_some() { word.to_owned() } else { String::new() };
        marks.push(LineMark { sort: sort.to_owned(), at, word, lane, anchor: anchor.to_owned(), passed, clock });
    };
    for one in &sketch.limits {
        let must_reach = one.clock.direction() == Direction::MustReach;
        let clock = Some(one.clock.word().to_owned());
        match (must_reach, limit_ms(one)) {
            (true, at) => {
                put("gate", at.map_or(FULL, |at| axis.x(at)), &one.word, one.state == State::Reached, clock);
            }
            (false, Some(at)) => put("wall", axis.x(at), &one.word, one.state == State::Over, clock),
            (false, None) => {}
        }
    }
    for (at, word) in sketch.presses.iter().rev().filter(|(at, _)| *at >= axis.from_ms && *at <= axis.to_ms) {
        put("press", axis.x(*at), word, *at <= sketch.at_ms, None);
    }
    marks.sort_by(|a, b| (a.at, &a.sort, &a.word).cmp(&(b.at, &b.sort, &b.word)));
    marks
}
