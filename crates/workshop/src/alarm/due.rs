//! Which alarms and notices are due: a pure function of a look, the instant and the local hour.

use super::say;
use super::watched::{Look, UnderPressure, Watched};
use crate::alarm::voice::Pattern;
use crate::reader::Reader;
use glue::clock::{Clock, State};
use logbook::entry::Id;
use logbook::entry::bond::Said;

const MINUTE_MS: i64 = 60_000;
const DAY_MS: i64 = 24 * 60 * MINUTE_MS;
/// *Nearly over* comes at least so long before the limit.
const LEAD_MS: i64 = 5 * MINUTE_MS;
/// A promised feed may be silent so long.
const SILENCE_MS: i64 = 30 * MINUTE_MS;
/// A lot is said to expire so long before (common practice, no source).
const LOT_LEAD_MS: i64 = 14 * DAY_MS;
/// Owed reasons are called up at this local hour (common practice, no source).
const OWED_HOUR: i64 = 17;

/// Kinds of alarms and notices, most serious first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Pot or assembly over.
    Over,
    /// Not saved.
    NotSaved,
    /// Pot or assembly nearly over.
    NearlyOver,
    /// Cure conditions lost.
    ConditionsLost,
    /// An alarm cannot sound or cannot be shown.
    CannotSound,
    /// Clamps may come off.
    ClampsMayComeOff,
    /// Machining or full-cure time reached.
    Reached,
    /// A lot expires soon.
    LotExpiring,
    /// Reasons are owed.
    ReasonsOwed,
}

impl Kind {
    /// Its word in the entry.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Over => "over",
            Kind::NotSaved => "not-saved",
            Kind::NearlyOver => "nearly-over",
            Kind::ConditionsLost => "conditions-lost",
            Kind::CannotSound => "cannot-sound",
            Kind::ClampsMayComeOff => "clamps-may-come-off",
            Kind::Reached => "reached",
            Kind::LotExpiring => "lot-expiring",
            Kind::ReasonsOwed => "reasons-owed",
        }
    }

    /// Loud, day and night, until answered; else a quiet notice.
    pub fn loud(self) -> bool {
        self.pattern() != Pattern::Low
    }

    /// Its sound.
    pub fn pattern(self) -> Pattern {
        match self {
            Kind::Over | Kind::NotSaved => Pattern::High,
            Kind::NearlyOver | Kind::ConditionsLost | Kind::CannotSound => Pattern::Medium,
            _ => Pattern::Low,
        }
    }

    /// Whether an alarm entry's word is a loud one.
    pub fn loud_word(word: &str) -> bool {
        ["over", "not-saved", "nearly-over", "conditions-lost", "cannot-sound"].contains(&word)
    }
}

/// One alarm or notice that is due.
#[derive(Clone, Debug, PartialEq)]
pub struct Due {
    /// Kind.
    pub kind: Kind,
    /// Clock.
    pub clock: Option<Clock>,
    /// Bond.
    pub bond: Option<Id>,
    /// Batch.
    pub batch: Option<Id>,
    /// Card entry in force, or what else tells this alarm from others (a boot, a day, a lot).
    pub card: Option<Id>,
    /// Tells alarms without a card apart.
    pub apart: String,
    /// When it fell due, ms UTC.
    pub due_ms: i64,
    /// What began it (a start, an onset), ms: a later one is another alarm.
    pub began_ms: Option<i64>,
    /// What to say.
    pub said: String,
    /// Progress when it fired.
    pub progress: Option<Said>,
}

impl Due {
    /// An alarm of no clock.
    pub fn plain(kind: Kind, apart: impl Into<String>, due_ms: i64, said: impl Into<String>) -> Due {
        let (apart, said) = (apart.into(), said.into());
        Due {
            kind,
            clock: None,
            bond: None,
            batch: None,
            card: None,
            apart,
            due_ms,
            began_ms: None,
            said,
            progress: None,
        }
    }

    /// The name its id is derived from: clock, kind, bond or batch, card entry.
    pub fn name(&self) -> String {
        let clock = self.clock.map_or("", Clock::word);
        let of = self.bond.as_deref().or(self.batch.as_deref()).unwrap_or_default();
        format!("{clock}|{}|{of}|{}", self.kind.word(), self.card.as_deref().unwrap_or(&self.apart))
    }
}

/// When and where it is judged.
#[derive(Clone, Copy, Debug)]
pub struct Moment {
    /// Now on the axis, ms UTC.
    pub now_ms: i64,
    /// Minutes east of Greenwich.
    pub zone_min: i32,
    /// Time was lost across a restart.
    pub lost: bool,
    /// Units it is said in.
    pub reader: Reader,
}

impl Moment {
    /// Hour of the local day, 0 to 23.
    pub fn hour(self) -> i64 {
        self.local_ms().rem_euclid(DAY_MS) / (60 * MINUTE_MS)
    }

    fn local_ms(self) -> i64 {
        self.now_ms + i64::from(self.zone_min) * MINUTE_MS
    }
}

/// Everything due at this moment, most serious first, and the next instant at which something may fall due.
pub fn due(look: &Look, at: Moment) -> (Vec<Due>, Option<i64>) {
    let mut due = Vec::new();
    let mut next: Option<i64> = None;
    let mut later = |instant: i64| {
        if instant > at.now_ms {
            next = Some(next.map_or(instant, |known| known.min(instant)));
        }
    };
    for watched in &look.clocks {
        clock_instants(watched).into_iter().for_each(&mut later);
        due.extend(of_clock(watched, at));
    }
    for pressed in &look.pressed {
        if let Some(silent_ms) = silent_from(pressed) {
            later(silent_ms);
        }
        due.extend(of_conditions(pressed, at));
    }
    for lot in look.lots.iter().filter(|lot| lot.expires_ms - LOT_LEAD_MS <= at.now_ms && at.now_ms <= lot.expires_ms) {
        let said = say::lot(&lot.mark, lot.expires_ms, at.zone_min);
        due.push(Due::plain(Kind::LotExpiring, lot.lot.clone(), lot.expires_ms - LOT_LEAD_MS, said));
    }
    due.extend(of_owed(&look.owed, at));
    due.sort_by_key(|one| (one.kind, one.due_ms, one.name()));
    (due, next)
}

fn limit_ms(watched: &Watched) -> Option<i64> {
    if watched.ended_ms.is_some() { None } else { watched.earliest_ms }
}

/// Rule 17: the larger of five minutes and the clamping minutes before the limit, at most half the limit before.
fn nearly_ms(watched: &Watched) -> Option<i64> {
    let (limit_ms, started_ms) = (limit_ms(watched)?, watched.started_ms?);
    let half_ms = (limit_ms - started_ms).max(0) / 2;
    Some(limit_ms - LEAD_MS.max(watched.clamping_ms).min(half_ms))
}

fn alarms(clock: Clock) -> bool {
    matches!(clock, Clock::Pot | Clock::Open | Clock::Closed)
}

fn clock_instants(watched: &Watched) -> Vec<i64> {
    if alarms(watched.clock) {
        [nearly_ms(watched), limit_ms(watched)].into_iter().flatten().collect()
    } else if watched.ended_ms.is_none() {
        watched.latest_ms.into_iter().collect()
    } else {
        Vec::new()
    }
}

fn of_clock(watched: &Watched, at: Moment) -> Option<Due> {
    if watched.ended_ms.is_some() {
        return None;
    }
    let (kind, due_ms) = match (watched.clock, watched.state) {
        (clock, State::Over) if alarms(clock) => (Kind::Over, watched.earliest_ms),
        (clock, State::Running) if alarms(clock) => {
            (Kind::NearlyOver, Some(nearly_ms(watched).filter(|nearly| *nearly <= at.now_ms)?))
        }
        (Clock::Clamp, State::Reached) => (Kind::ClampsMayComeOff, watched.latest_ms),
        (Clock::Machining | Clock::FullCure, State::Reached) => (Kind::Reached, watched.latest_ms),
        _ => return None,
    };
    let due_ms = due_ms.unwrap_or(at.now_ms).min(at.now_ms);
    let [low_ppm, expected_ppm, high_ppm] = watched.progress_ppm;
    let state = say::state(watched.state).to_owned();
    let (clock, model) = (watched.clock.word().to_owned(), glue::clock::MODEL.to_owned());
    Some(Due {
        kind,
        clock: Some(watched.clock),
        bond: watched.bond.clone(),
        batch: watched.batch.clone(),
        card: watched.card.clone(),
        apart: String::new(),
        due_ms,
        began_ms: watched.started_ms,
        said: say::clock(watched, kind, at),
        progress: Some(Said { clock, state, low_ppm, expected_ppm, high_ppm, model }),
    })
}

/// From when on a promised feed counts as silent.
fn silent_from(pressed: &UnderPressure) -> Option<i64> {
    let heard_ms = pressed.last.map_or(pressed.since_ms, |last| last.at_ms.max(pressed.since_ms));
    pressed.feed.then_some(heard_ms + SILENCE_MS)
}

fn of_conditions(pressed: &UnderPressure, at: Moment) -> Option<Due> {
    let reading = pressed.last.filter(|last| at.now_ms - last.at_ms <= SILENCE_MS);
    let below = reading.filter(|last| pressed.minimum_k.is_some_and(|least| last.low_k < least));
    let above = reading.filter(|last| pressed.maximum_k.is_some_and(|most| last.high_k > most));
    let silent_ms = silent_from(pressed).filter(|silent_ms| *silent_ms <= at.now_ms);
    let began_ms = below.or(above).map(|last| last.at_ms.max(pressed.since_ms)).or(silent_ms)?;
    let said = say::conditions(pressed, below.is_some(), above.is_some(), at);
    let mut due = Due::plain(Kind::ConditionsLost, "", began_ms.min(at.now_ms), said);
    due.clock = Some(Clock::Clamp);
    due.bond = Some(pressed.bond.clone());
    due.card = pressed.card.clone();
    Some(due)
}

fn of_owed(owed: &[String], at: Moment) -> Option<Due> {
    if owed.is_empty() || at.hour() < OWED_HOUR {
        return None;
    }
    let day = at.local_ms().div_euclid(DAY_MS);
    let due_ms = day * DAY_MS + OWED_HOUR * 60 * MINUTE_MS - i64::from(at.zone_min) * MINUTE_MS;
    Some(Due::plain(Kind::ReasonsOwed, format!("day {day}"), due_ms, say::owed(owed)))
}
