//! Instants, quantities and the names of clocks and presses as a page says them. Every date has its year: a page is
//! read long after.

use serde_json::Value;
use workshop::judge::words::{Round, Saying};

/// Elements of an array; nothing if it is none.
pub fn each(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

/// A text, if there is one.
pub fn said(value: &Value) -> Option<String> {
    value.as_str().filter(|text| !text.is_empty()).map(str::to_owned)
}

/// Texts joined by commas; none if there are none.
pub fn joined<'a>(values: impl Iterator<Item = &'a Value>) -> Option<String> {
    let texts: Vec<&str> = values.filter_map(Value::as_str).collect();
    (!texts.is_empty()).then(|| texts.join(", "))
}

/// Milliseconds since 1970 of an instant on the wire.
pub fn millis(instant: &Value) -> Option<i64> {
    workshop::judge::words::millis(instant.as_str()?)
}

/// How times are said on a page.
#[derive(Clone, Copy, Debug)]
pub struct Times {
    zone_min: i32,
}

impl Times {
    /// In a zone, minutes east of Greenwich.
    pub fn new(zone_min: i32) -> Times {
        Times { zone_min }
    }

    fn saying(self) -> Saying {
        // Judged from 1970, so that every other year is said.
        Saying { zone_min: self.zone_min, at_ms: 0 }
    }

    /// Day and time: `Fri 13 Nov 2026 10:46`.
    pub fn time(self, instant: &Value) -> Option<String> {
        Some(self.saying().time(millis(instant)?, Round::Down))
    }

    /// Day without time: `Fri 13 Nov 2026`.
    pub fn day(self, instant: &Value) -> Option<String> {
        let text = self.time(instant)?;
        text.rsplit_once(' ').map(|(day, _)| day.to_owned())
    }

    /// From and to, the day once where it is the same: `Fri 13 Nov 2026 10:37 to 10:51`.
    pub fn span(self, from: &Value, to: &Value) -> Option<String> {
        let (from, to) = (self.time(from)?, self.time(to)?);
        let day = |text: &str| text.rsplit_once(' ').map(|(day, time)| (day.to_owned(), time.to_owned()));
        match (day(&from), day(&to)) {
            (Some((one, _)), Some((other, time))) if one == other => Some(format!("{from} to {time}")),
            _ => Some(format!("{from} to {to}")),
        }
    }

    /// The zone: `UTC+01:00`.
    pub fn zone(self) -> String {
        self.saying().zone()
    }
}

/// A clock's name as the sheet would put it.
pub fn clock(word: &str) -> String {
    let name = match word {
        "pot" => "Pot life",
        "open" => "Open time",
        "closed" => "Closed time",
        "fresh-surface" => "Fresh surface",
        "glue-again" => "Glue again",
        "clamp" => "Clamps",
        "machining" => "Machining",
        "full-cure" => "Full cure",
        other => return other.to_owned(),
    };
    name.to_owned()
}

/// What the sheet counts a time from.
pub fn counted_from(word: &str) -> String {
    match word {
        "mixing" => "counted from mixing".to_owned(),
        "spreading" => "counted from spreading".to_owned(),
        "closing" => "counted from closing".to_owned(),
        "pressure" => "counted from pressure".to_owned(),
        other => format!("counted from {other}"),
    }
}

/// A word of the wire as a person reads it: `first-clamp-off` becomes `First clamp off`.
pub fn plain(word: &str) -> String {
    let spaced = word.replace('-', " ").replace("squeeze out", "squeeze-out");
    first_up(&spaced)
}

/// The same with a capital letter in front.
pub fn first_up(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// "1 bond", "3 bonds".
pub fn count(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}
