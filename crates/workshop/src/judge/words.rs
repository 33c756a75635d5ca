//! Instants and quantities in words. Times of day are in a zone given in minutes east of Greenwich.

use chrono::{DateTime, FixedOffset, SecondsFormat};

/// An instant on the wire: `2026-11-24T09:10:00.000Z`.
pub fn instant(ms: i64) -> String {
    DateTime::from_timestamp_millis(ms)
        .map_or_else(|| format!("{ms} ms"), |at| at.to_rfc3339_opts(SecondsFormat::Millis, true))
}

/// Milliseconds since 1970 of an instant on the wire; none: it is not one.
pub fn millis(instant: &str) -> Option<i64> {
    DateTime::parse_from_rfc3339(instant).ok().map(|at| at.timestamp_millis())
}

/// Which way a time of day is rounded to the minute.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Round {
    /// Down: a must-not-exceed limit, a thing that happened.
    Down,
    /// Up: a must-reach limit.
    Up,
}

/// How times are said: the zone, and the instant judged, whose day needs no date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Saying {
    /// Minutes east of Greenwich.
    pub zone_min: i32,
    /// The instant judged, ms.
    pub at_ms: i64,
}

impl Saying {
    /// Time of day, with the date where it is another day: `09:10` or `Thu 26 Nov 09:10`.
    pub fn time(self, ms: i64, round: Round) -> String {
        let whole = if round == Round::Up {
            ms.div_euclid(60_000) + i64::from(ms.rem_euclid(60_000) > 0)
        } else {
            ms.div_euclid(60_000)
        };
        let (Some(at), Some(now)) = (self.local(whole * 60_000), self.local(self.at_ms)) else {
            return instant(ms);
        };
        let same_day = at.date_naive() == now.date_naive();
        let same_year = at.format("%Y").to_string() == now.format("%Y").to_string();
        let form = match (same_day, same_year) {
            (true, _) => "%H:%M",
            (_, true) => "%a %-d %b %H:%M",
            _ => "%a %-d %b %Y %H:%M",
        };
        at.format(form).to_string()
    }

    /// Time of day for a label: `09:10`, within six days `Thu 09:10`, else `26 Nov 09:10`.
    pub fn short(self, ms: i64, round: Round) -> String {
        let up = i64::from(round == Round::Up && ms.rem_euclid(60_000) > 0);
        let whole = (ms.div_euclid(60_000) + up) * 60_000;
        let (Some(at), Some(now)) = (self.local(whole), self.local(self.at_ms)) else {
            return instant(ms);
        };
        let days = (at.date_naive() - now.date_naive()).num_days();
        let form = match days {
            0 => "%H:%M",
            -6..=6 => "%a %H:%M",
            _ => "%-d %b %H:%M",
        };
        at.format(form).to_string()
    }

    /// The zone: `UTC+01:00`.
    pub fn zone(self) -> String {
        let (sign, min) = if self.zone_min < 0 { ('-', -self.zone_min) } else { ('+', self.zone_min) };
        format!("UTC{sign}{:02}:{:02}", min / 60, min % 60)
    }

    fn local(self, ms: i64) -> Option<DateTime<FixedOffset>> {
        let offset = FixedOffset::east_opt(self.zone_min * 60)?;
        Some(DateTime::from_timestamp_millis(ms)?.with_timezone(&offset))
    }
}

/// A stretch of time: `40 s`, `5 min`, `3 h 20 min`, `2 d 4 h`.
pub fn stretch(ms: i64) -> String {
    let min = ms.abs() / 60_000;
    match min {
        0 => format!("{} s", ms.abs() / 1000),
        1..60 => format!("{min} min"),
        60..2880 if min % 60 == 0 => format!("{} h", min / 60),
        60..2880 => format!("{} h {} min", min / 60, min % 60),
        _ if (min / 60) % 24 == 0 => format!("{} d", min / 1440),
        _ => format!("{} d {} h", min / 1440, (min / 60) % 24),
    }
}

/// Millionths as per cent: `92.1 %`. Rounded down, so that nothing short of the limit reads 100 %.
pub fn percent(ppm: i64) -> String {
    format!("{}.{} %", ppm.div_euclid(10_000), ppm.rem_euclid(10_000) / 1000)
}

/// A list in words: `a`, `a and b`, `a, b and c`.
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// With a capital letter in front, as a sentence begins.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
