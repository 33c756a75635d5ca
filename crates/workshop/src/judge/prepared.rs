//! One clock with everything it rests on, and how it stands at an instant.

use super::card::{CardInForce, counted_word};
use super::path::{Path, stays};
use super::said;
use crate::reader::Reader;
use crate::time::Axis;
use glue::clock::{
    Asked, Assumed, Charge, Clock, Direction, LawKind, Runner, Shorter, State, Sure, Told, Wood, nearly_over_ms,
};
use logbook::entry::Id;
use logbook::entry::bond::Said;
use std::sync::{Arc, Mutex, PoisonError};

/// Everything one clock rests on, read from the book once.
#[derive(Clone, Debug)]
pub struct Prepared {
    /// Bond it is shown under.
    pub bond: Option<Id>,
    /// Batch, for a pot.
    pub batch: Option<Id>,
    /// Name of that batch.
    pub batch_name: Option<String>,
    /// `bond:47` or `batch:Tue 3`.
    pub of: String,
    /// Which clock.
    pub clock: Clock,
    /// Card in force; None: no mix is recorded.
    pub card: Option<Arc<CardInForce>>,
    /// Bent or sprung.
    pub bent: bool,
    /// Start, ms.
    pub started_ms: Option<i64>,
    /// End, ms.
    pub ended_ms: Option<i64>,
    /// Where it was.
    pub path: Path,
    /// Wood.
    pub wood: Wood,
    /// Pot.
    pub charge: Charge,
    /// Shares carried over at the start: safe, expected, other.
    pub carried: [f64; 3],
    /// What the pot's heat or the age of the mix leaves of the safe limit.
    pub shorter: Shorter,
    /// How long setting the clamps takes, ms.
    pub clamping_ms: Option<i64>,
    /// Assumptions made here, in sentences.
    pub notes: Vec<String>,
    /// Zone its times are said in, minutes east.
    pub zone_min: i32,
    /// Units it is said in.
    pub reader: Reader,
    /// A clamp was lost and nothing has been tightened since, ms.
    pub lost_ms: Option<i64>,
    /// Parts it concerns, by mark, sorted.
    pub parts: Vec<String>,
    /// It was settled by this instant; what came later changes nothing and was not read, ms.
    pub until_ms: Option<i64>,
    /// What it has gone through so far.
    pub kept: Kept,
}

/// What a clock has gone through so far, so that asking again costs nothing for what lies before. A copy starts anew.
#[derive(Debug, Default)]
pub struct Kept(Mutex<Runner>);

impl Clone for Kept {
    fn clone(&self) -> Kept {
        Kept::default()
    }
}

/// A clock that long past its start is looked at in its first stretch before all later readings are read, ms.
pub(super) const LONG_MS: i64 = 14 * 24 * 3_600_000;

/// A clock as it stands at an instant.
#[derive(Clone, Debug)]
pub struct Reckoned {
    /// What it rests on.
    pub on: Arc<Prepared>,
    /// What the model says.
    pub told: Told,
    /// When a must-not-exceed clock counts as nearly over, ms.
    pub nearly_ms: Option<i64>,
    /// In words.
    pub said: String,
}

impl Prepared {
    /// What the model says at an instant. Without a card nothing can be judged.
    pub fn tell(&self, at_ms: i64, axis: &Axis) -> Told {
        let Some(card) = &self.card else { return self.unjudged() };
        let path = stays(&self.path);
        let at_ms = self.until_ms.map_or(at_ms, |until| until.min(at_ms));
        let mut runner = self.kept.0.lock().unwrap_or_else(PoisonError::into_inner);
        runner.tell(&Asked {
            clock: self.clock,
            card: &card.glue,
            bent: self.bent,
            started_ms: self.started_ms,
            ended_ms: self.ended_ms,
            at_ms,
            path: &path,
            wood: self.wood,
            charge: self.charge,
            carried: self.carried,
            shorter: self.shorter,
            pending: &axis.pending,
            time_lost_ms: axis.lost_ms,
        })
    }

    /// How far past its start everything is read at first: two weeks, or three times the sheet's longest time, ms.
    pub(super) fn long_ms(&self) -> i64 {
        let stated = self.card.iter().flat_map(|card| &card.stored.limits).flat_map(|limit| &limit.points);
        stated.map(|point| point.high_ms.saturating_mul(3)).max().unwrap_or(0).max(LONG_MS)
    }

    fn unjudged(&self) -> Told {
        let never = self.clock.direction() == Direction::MustReach && self.started_ms.is_none();
        Told {
            state: if never { State::Never } else { State::Held },
            progress_ppm: [0; 3],
            earliest_ms: None,
            expected_ms: None,
            latest_ms: None,
            law: LawKind::None,
            sure: Sure::default(),
            counted_from: None,
            readings: 0,
            no_credit_ms: 0,
            gap_ms: 0,
            fault_ms: None,
            range_k: None,
            assumed: Vec::new(),
            now_k: None,
            helps: Vec::new(),
        }
    }

    /// When it counts as nearly over (docs/science/clocks.md), ms.
    pub fn nearly_ms(&self, told: &Told) -> Option<i64> {
        nearly_over_ms(self.clock, told, self.started_ms?, self.clamping_ms.unwrap_or(0))
    }
}

impl Reckoned {
    /// What is stored when a decision rests on this clock.
    pub fn stored(&self) -> Said {
        let [low, expected, high] = self.told.progress_ppm;
        Said {
            clock: self.on.clock.word().to_owned(),
            state: state_word(self.told.state).to_owned(),
            low_ppm: low,
            expected_ppm: expected,
            high_ppm: high,
            model: glue::clock::MODEL.to_owned(),
        }
    }

    /// It started and the card's times give nothing to judge it by; a clamp clock also where the card has none.
    pub fn lawless(&self) -> bool {
        let asked = |card: &Arc<CardInForce>| self.on.clock == Clock::Clamp || card.states(self.on.clock);
        self.on.started_ms.is_some() && self.on.card.as_ref().is_some_and(asked) && self.told.law == LawKind::None
    }

    /// Not ended, and not yet settled by its limit: may still fire.
    pub fn live(&self) -> bool {
        self.on.started_ms.is_some() && self.on.ended_ms.is_none()
    }
}

/// The word of a state.
pub fn state_word(state: State) -> &'static str {
    match state {
        State::Running => "running",
        State::Over => "over",
        State::Reached => "reached",
        State::Ended => "ended",
        State::Never => "never",
        State::Held => "held",
    }
}

/// The word of a law.
pub fn law_word(law: LawKind) -> &'static str {
    match law {
        LawKind::OnePoint => "one-point",
        LawKind::TwoPoint => "two-point",
        LawKind::Fitted => "fitted",
        LawKind::Unscaled => "unscaled",
        LawKind::None => "none",
    }
}

/// How sure a law is, in the words of the wire.
pub fn band_word(law: LawKind) -> Option<&'static str> {
    match law {
        LawKind::OnePoint => Some("class interval"),
        LawKind::TwoPoint => Some("fitted pair"),
        LawKind::Fitted => Some("95 % band of a new batch"),
        LawKind::Unscaled => Some("plain time"),
        LawKind::None => None,
    }
}

/// Larger is worse: which of several must-not-exceed clocks is shown.
pub(super) fn badness(told: &Told) -> (u8, i64) {
    let high = told.progress_ppm[2];
    match told.state {
        State::Over => (4, high),
        State::Held => (3, high),
        State::Running => (2, told.earliest_ms.map_or(i64::MIN, |ms| -ms)),
        _ => (1, high),
    }
}

/// Larger is worse: which of several must-reach clocks is shown.
fn slowness(told: &Told) -> (u8, i64) {
    let rank = match told.state {
        State::Never => 4,
        State::Held => 3,
        State::Reached => 0,
        _ => 2,
    };
    (rank, -told.progress_ppm[0])
}

pub(super) fn worst(all: Vec<Reckoned>) -> Option<Reckoned> {
    let key = |one: &Reckoned| match one.on.clock.direction() {
        Direction::MustReach => slowness(&one.told),
        Direction::MustNotExceed => badness(&one.told),
    };
    all.into_iter().reduce(|worst, one| if key(&one) > key(&worst) { one } else { worst })
}

/// The word of "counted from" on the wire.
pub fn counted(told: &Told) -> Option<&'static str> {
    told.counted_from.map(counted_word)
}

/// What was taken for granted, in sentences; the judge's own notes first.
pub fn assumed(one: &Reckoned) -> Vec<String> {
    let mut all = one.on.notes.clone();
    all.extend(one.told.assumed.iter().map(|it| said::assumed(*it, one.on.reader)));
    if one.told.assumed.contains(&Assumed::NoReadings) && one.on.path.iter().all(|(_, air)| air.is_none()) {
        all.push("no place is recorded".to_owned());
    }
    all
}
