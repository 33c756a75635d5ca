//! Instants as typed: RFC 3339, or a day of the shop's zone.

use crate::clock::Now;
use crate::wire::{WireError, shown};
use chrono::{DateTime, Datelike, NaiveDate, NaiveDateTime, TimeDelta, Weekday};

/// 1990-01-01T00:00:00Z, ms.
const FIRST_MS: i64 = 631_152_000_000;
/// 2200-01-01T00:00:00Z, ms.
const LAST_MS: i64 = 7_258_118_400_000;
/// A clock may lag by this much before an instant counts as future, ms.
pub(super) const LEEWAY_MS: i64 = 2_000;
const DAY_MS: i64 = 86_400_000;
const RANGE: &str = "1990-01-01 to now";
const AHEAD: &str = "1990-01-01 to 2200-01-01";

/// An instant of the past.
pub(super) fn past(field: &str, typed: &str, latest_ms: i64) -> Result<i64, WireError> {
    not_future(field, typed, any(field, typed)?, latest_ms)
}

/// An instant of the past, or a day: then its first moment in the shop's zone.
pub(super) fn past_day(field: &str, typed: &str, now: &Now, latest_ms: i64) -> Result<i64, WireError> {
    let at_ms = match day(typed) {
        Some(day) => ranged(field, typed, start_of(day, now.zone_min))?,
        None => any(field, typed).map_err(|error| day_too(field, typed, RANGE, error))?,
    };
    not_future(field, typed, at_ms, latest_ms)
}

/// The last moment of a day in the shop's zone, or an instant; it may lie ahead.
pub(super) fn until_day(field: &str, typed: &str, now: &Now) -> Result<i64, WireError> {
    match day(typed) {
        Some(day) => ranged(field, typed, start_of(day, now.zone_min) + DAY_MS - 1),
        None => any(field, typed).map_err(|error| day_too(field, typed, AHEAD, error)),
    }
}

/// What is neither a day nor an instant, where both are taken; other refusals stay as they are.
fn day_too(field: &str, typed: &str, range: &str, error: WireError) -> WireError {
    if DateTime::parse_from_rfc3339(typed.trim()).is_ok() {
        return error;
    }
    let sentence = format!("{field} is \"{}\", which is no day of the calendar; it takes {range}.", shown(typed));
    WireError::new("out-of-range", sentence, "Write a day like 2026-11-24, year first.")
        .field(field)
        .value(typed)
        .range(range)
}

/// Any plausible instant, past or ahead.
pub(super) fn any(field: &str, typed: &str) -> Result<i64, WireError> {
    match DateTime::parse_from_rfc3339(typed.trim()) {
        Ok(instant) => ranged(field, typed, instant.timestamp_millis()),
        Err(_) => Err(wrong(field, typed)),
    }
}

/// The same where it lies ahead: the refusal names that range.
pub(super) fn ahead(field: &str, typed: &str) -> Result<i64, WireError> {
    any(field, typed).map_err(|mut error| {
        error.sentence = error.sentence.replace(RANGE, AHEAD);
        error.range = error.range.map(|range| range.replace(RANGE, AHEAD));
        error
    })
}

/// `YYYY-MM-DD HH:MM[:SS]` in a zone, or RFC 3339; None: neither.
pub(super) fn logged(typed: &str, zone_min: i32) -> Option<i64> {
    let typed = typed.trim();
    if let Ok(instant) = DateTime::parse_from_rfc3339(typed) {
        return Some(instant.timestamp_millis());
    }
    let local = ["%Y-%m-%d %H:%M:%S%.f", "%Y-%m-%dT%H:%M:%S%.f", "%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M"]
        .iter()
        .find_map(|shape| NaiveDateTime::parse_from_str(typed, shape).ok())?;
    Some(local.and_utc().timestamp_millis() - i64::from(zone_min) * 60_000)
}

/// True for an instant no clock of this trade has shown.
pub(super) fn implausible(at_ms: i64) -> bool {
    !(FIRST_MS..LAST_MS).contains(&at_ms)
}

/// Weekday and day of an instant in a zone: `Tue`, `2026-11-24`.
pub(crate) fn local_day(at_ms: i64, zone_min: i32) -> (&'static str, String) {
    let local = DateTime::from_timestamp_millis(at_ms)
        .unwrap_or_default()
        .naive_utc()
        .checked_add_signed(TimeDelta::minutes(i64::from(zone_min)))
        .unwrap_or_default();
    let weekday = match local.weekday() {
        Weekday::Mon => "Mon",
        Weekday::Tue => "Tue",
        Weekday::Wed => "Wed",
        Weekday::Thu => "Thu",
        Weekday::Fri => "Fri",
        Weekday::Sat => "Sat",
        Weekday::Sun => "Sun",
    };
    (weekday, local.format("%Y-%m-%d").to_string())
}

/// UTC with milliseconds: `2026-11-24T09:10:00.000Z`.
pub(crate) fn written(at_ms: i64) -> String {
    let instant = DateTime::from_timestamp_millis(at_ms).unwrap_or_default();
    instant.format("%Y-%m-%dT%H:%M:%S%.3fZ").to_string()
}

fn day(typed: &str) -> Option<NaiveDate> {
    NaiveDate::parse_from_str(typed.trim(), "%Y-%m-%d").ok()
}

fn start_of(day: NaiveDate, zone_min: i32) -> i64 {
    day.and_time(chrono::NaiveTime::MIN).and_utc().timestamp_millis() - i64::from(zone_min) * 60_000
}

fn ranged(field: &str, typed: &str, at_ms: i64) -> Result<i64, WireError> {
    if implausible(at_ms) {
        let sentence = format!("{field} is \"{}\", which is outside 1990-01-01 to 2200-01-01.", shown(typed));
        let error = WireError::new("out-of-range", sentence, "Check the year.");
        return Err(error.field(field).value(typed).range("1990-01-01 to 2200-01-01"));
    }
    Ok(at_ms)
}

/// Refuses an instant that lies ahead.
pub(super) fn not_future(field: &str, typed: &str, at_ms: i64, latest_ms: i64) -> Result<i64, WireError> {
    if at_ms > latest_ms + LEEWAY_MS {
        let now = written(latest_ms);
        let sentence = format!("{field} is \"{}\", which is later than now ({now}); it takes {RANGE}.", shown(typed));
        let error = WireError::new("future", sentence, "Enter it when it has happened, or correct the instant.");
        return Err(error.field(field).value(typed).range(RANGE));
    }
    Ok(at_ms)
}

fn wrong(field: &str, typed: &str) -> WireError {
    let sentence = format!(
        "{field} is \"{}\", which is no instant of the calendar with its offset; it takes {RANGE}.",
        shown(typed)
    );
    WireError::new("out-of-range", sentence, "Write it like 2026-11-24T09:10:00+01:00 or 2026-11-24T08:10:00Z.")
        .field(field)
        .value(typed)
        .range(RANGE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_turn_at_local_midnight() {
        let at = |text| any("happened", text).unwrap_or(0);
        assert_eq!(local_day(at("2026-11-24T23:59:59Z"), 0), ("Tue", "2026-11-24".to_owned()));
        assert_eq!(local_day(at("2026-11-24T23:30:00Z"), 60), ("Wed", "2026-11-25".to_owned()));
        assert_eq!(local_day(at("2026-11-25T03:30:00Z"), -300), ("Tue", "2026-11-24".to_owned()));
    }

    #[test]
    fn impossible_instants_are_refused() {
        for typed in ["2026-02-30T10:00:00Z", "2026-11-24T25:00:00Z", "yesterday", "2026-11-24", "1066-10-14T09:00:00Z"]
        {
            assert_eq!(any("happened", typed).map_err(|e| e.code), Err("out-of-range"), "{typed}");
        }
    }
}
