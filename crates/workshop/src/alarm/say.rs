//! The sentences of alarms and notices: what happened, and what to do.

use super::due::{Due, Kind, Moment};
use super::watched::{UnderPressure, Watched};
use crate::judge::words::{Round, Saying, capital, stretch};
use glue::clock::{Clock, State};

fn saying(at: Moment) -> Saying {
    Saying { zone_min: at.zone_min, at_ms: at.now_ms }
}

/// A state's word.
pub fn state(state: State) -> &'static str {
    match state {
        State::Running => "running",
        State::Over => "over",
        State::Reached => "reached",
        State::Ended => "ended",
        State::Never => "never",
        State::Held => "held",
    }
}

/// What a clock's alarm or notice says.
pub fn clock(watched: &Watched, kind: Kind, at: Moment) -> String {
    let name = &watched.name;
    let limit_ms = watched.earliest_ms.unwrap_or(at.now_ms);
    let limit = saying(at).time(limit_ms, Round::Down);
    let left = stretch(limit_ms - at.now_ms);
    let ago = ago(at.now_ms - limit_ms);
    let lost = if at.lost { " The clock went back across a restart: confirm the time." } else { "" };
    match (kind, watched.clock) {
        (Kind::NearlyOver, Clock::Pot) => {
            format!("{name}: pot life ends at {limit}, in {left}. Spread and close now; start nothing new from it.")
        }
        (Kind::NearlyOver, Clock::Open) => {
            format!("{name}: open time ends at {limit}, in {left}. Put it together now.")
        }
        (Kind::NearlyOver, _) => format!("{name}: closed time ends at {limit}, in {left}. Tighten now."),
        (Kind::Over, Clock::Pot) => {
            format!(
                "{name}: pot life is over since {limit}{ago}. Use no more of it; throw it away spread thin, outdoors.{lost}"
            )
        }
        (Kind::Over, Clock::Open) => {
            format!("{name}: open time is over since {limit}{ago}. Do not close it without a decision.{lost}")
        }
        (Kind::Over, _) => {
            format!("{name}: closed time is over since {limit}{ago}. Pressure now needs a decision.{lost}")
        }
        (_, Clock::Clamp) => {
            format!("{name}: clamps may come off. Not yet allowed: plane, turn, stress, heat.")
        }
        (_, Clock::FullCure) => format!("{name}: the sheet's full-cure time is reached."),
        _ => format!("{name}: the machining time is reached. The full-cure time is not."),
    }
}

fn ago(ms: i64) -> String {
    if ms < 1_000 { String::new() } else { format!(" ({} ago)", stretch(ms)) }
}

/// What lost conditions say.
pub fn conditions(pressed: &UnderPressure, below: bool, above: bool, at: Moment) -> String {
    let name = &pressed.name;
    let place = pressed.place.as_deref().unwrap_or("its place");
    let degrees = |k: f64| at.reader.kelvin(k);
    let limit = if below { pressed.minimum_k } else { pressed.maximum_k };
    match (pressed.last, limit) {
        (Some(last), Some(limit)) if below => format!(
            "{name}: too cold under pressure. At {place} it is {} at the low side; the sheet's least is {}. Warm it: no cure is credited below that.{}",
            degrees(last.low_k),
            degrees(limit),
            crossing(pressed, last.low_k, limit, at),
        ),
        (Some(last), Some(limit)) if above => format!(
            "{name}: too warm under pressure. At {place} it is {} at the high side; the sheet's most is {}. Cool it.{}",
            degrees(last.high_k),
            degrees(limit),
            crossing(pressed, last.high_k, limit, at),
        ),
        (Some(last), _) => format!(
            "{name}: no reading from {place} since {}. A logger was promised there: look at it, and read a thermometer.",
            saying(at).time(last.at_ms, Round::Down)
        ),
        (None, _) => {
            format!("{name}: no reading from {place}. A logger was promised there: look at it, and read a thermometer.")
        }
    }
}

/// A straight line through two readings is believed this far ahead, h (common practice, no source).
const GUESS_H: f64 = 6.0;

/// When the air will be back inside the limit if it goes on as over the last two readings.
fn crossing(pressed: &UnderPressure, k: f64, limit_k: f64, at: Moment) -> String {
    let Some(last) = pressed.last else { return String::new() };
    let Some(slope) = last.slope_k_per_h else {
        return String::new();
    };
    let hours = (limit_k - k) / slope;
    if !hours.is_finite() || hours < 0.0 {
        return " By the last readings it is not coming back.".to_owned();
    }
    if hours > GUESS_H {
        return " By the last readings it is not back within six hours.".to_owned();
    }
    let back_ms = last.at_ms + (hours * 3_600_000.0) as i64;
    format!(" By the last readings it is back at about {}.", saying(at).time(back_ms, Round::Up))
}

/// A lot that expires soon.
pub fn lot(mark: &str, expires_ms: i64, zone_min: i32) -> String {
    let at = Saying { zone_min, at_ms: 0 };
    format!("Lot {mark} is good until {}. Use it up or order another.", at.time(expires_ms, Round::Down))
}

/// What is owed.
pub fn owed(owed: &[String]) -> String {
    let first = capital(owed.first().map_or("", String::as_str));
    match owed.len() {
        1 => format!("One reason is owed. {first}."),
        count => format!("{count} reasons are owed. {first}. The rest stands in Owed."),
    }
}

/// Headline of one or several alarms, the most serious first.
pub fn title(dues: &[Due]) -> String {
    let kind = dues.first().map_or("", |due| due.kind.word()).replace('-', " ");
    let headline = match dues.first().map(|due| due.kind) {
        Some(Kind::Over) => "Time is over",
        Some(Kind::NotSaved) => "NOT SAVED",
        Some(Kind::NearlyOver) => "Time is nearly over",
        Some(Kind::ConditionsLost) => "Cure conditions lost",
        Some(Kind::CannotSound) => "An alarm cannot reach you",
        Some(Kind::ClampsMayComeOff) => "Clamps may come off",
        Some(Kind::Reached) => "Cure time reached",
        Some(Kind::LotExpiring) => "A lot expires soon",
        Some(Kind::ReasonsOwed) => "Reasons are owed",
        None => &kind,
    };
    let loud = dues.iter().filter(|due| due.kind.loud()).count();
    let counted = |count: usize, word: &str| match count {
        0 => None,
        1 => Some(format!("1 {word}")),
        many => Some(format!("{many} {word}s")),
    };
    match dues.len() {
        0 | 1 => headline.to_owned(),
        all => {
            let parts: Vec<String> =
                [counted(loud, "alarm"), counted(all - loud, "notice")].into_iter().flatten().collect();
            format!("{headline} ({})", parts.join(", "))
        }
    }
}

/// Why it is noticed late, for the sentence.
pub fn late(due_ms: i64, noticed_ms: i64, why: &str) -> String {
    format!("Due {} ago: {why}.", stretch(noticed_ms - due_ms))
}
