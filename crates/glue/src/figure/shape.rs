//! Inputs that are more than one quantity: points of a law, traces, ratios, lists of parts.

use super::given::Given;
use super::input::MOST;
use super::outcome::{Refusal, quoted};
use crate::unit::Measure;
use crate::unit::measure::{CELSIUS, EQUIVALENT, HOUR, MINUTE, PLAIN};

/// What points look like.
pub const POINTS: &str = "temperature:time with commas between, such as 75F:240min,90F:120min or 20C:4-6h,30C:2-3h; \
    -40 to 260 C, 0.001 to 525600 min";
/// What one point looks like.
pub const POINT: &str = "temperature:time, such as 20C:12h; -40 to 260 C, 0.001 to 525600 min";
/// What a trace looks like.
pub const TRACE: &str = "time:temperature with commas between, such as 0h:22C,24h:10C, beginning at 0h; \
    0 to 87600 h, -40 to 260 C";
/// What a ratio looks like.
pub const RATIO: &str = "resin:hardener, such as 100:83; parts above 0 and up to 10000, neither more than 100 times \
    the other";
/// What the parts of a blend look like.
pub const PARTS: &str = "mass@equivalent with commas between, such as 80@189,10@183,10@-, a dash where nothing reacts; \
    above 0 to 1000000 parts, 10 to 100000 g/eq";

/// One piece of an input in its measure's unit, between two limits.
pub fn part(given: &Given, name: &str, text: &str, measure: &Measure, (min, max): (f64, f64)) -> Result<f64, Refusal> {
    let value = measure.read(text).map_err(|why| given.refuse(name, &format!("has {}, which {why}", quoted(text))))?;
    if value >= min && value <= max {
        Ok(value)
    } else {
        Err(given.refuse(name, &format!("has {}, which is out of range", quoted(text))))
    }
}

/// Two pieces of an input with a mark between them.
pub fn pair<'a>(given: &Given, name: &str, text: &'a str, mark: char) -> Result<(&'a str, &'a str), Refusal> {
    let wrong = || given.refuse(name, &format!("has {}, which lacks a \"{mark}\"", quoted(text)));
    let (left, right) = text.split_once(mark).ok_or_else(wrong)?;
    Ok((left.trim(), right.trim()))
}

fn pieces<'a>(given: &Given, name: &str, text: &'a str) -> Result<Vec<&'a str>, Refusal> {
    let pieces: Vec<&str> = text.split([',', ';']).map(str::trim).collect();
    if pieces.len() > MOST {
        return Err(given.refuse(name, &format!("has {} pieces, more than {MOST}", pieces.len())));
    }
    Ok(pieces)
}

/// One point of a law.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Temperature, °C.
    pub celsius: f64,
    /// Short end of the time, min.
    pub low: f64,
    /// Long end, min.
    pub high: f64,
}

impl Point {
    /// The middle of both ends, min.
    pub fn middle(&self) -> f64 {
        (self.low + self.high) / 2.0
    }
}

/// One point of a law.
pub fn point(given: &Given, name: &str, text: &str) -> Result<Point, Refusal> {
    let (at, time) = pair(given, name, text, ':')?;
    let celsius = part(given, name, at, &CELSIUS, (-40.0, 260.0))?;
    let minutes = |text: &str| part(given, name, text, &MINUTE, (0.001, 525_600.0));
    let Some((low, high)) = ends(time) else {
        let only = minutes(time)?;
        return Ok(Point { celsius, low: only, high: only });
    };
    // In 4-6h the unit of the long end is the short one's too.
    let unit = high.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | ' '));
    let low = if MINUTE.is_bare(low) { minutes(&format!("{low}{unit}"))? } else { minutes(low)? };
    let high = minutes(high)?;
    if low > high {
        return Err(given.refuse(name, &format!("has {}, a range with its larger end first", quoted(time))));
    }
    Ok(Point { celsius, low, high })
}

/// Both ends of `4-6h`; None for a single time, also one with a power of ten.
fn ends(time: &str) -> Option<(&str, &str)> {
    if MINUTE.knows(time) {
        return None;
    }
    let (low, high) = ["-", "–", "—", " to "].iter().find_map(|mark| time.split_once(mark))?;
    Some((low.trim(), high.trim())).filter(|(low, _)| !low.is_empty())
}

/// The points of a law; empty if the input is left out.
pub fn points(given: &Given, name: &str) -> Result<Vec<Point>, Refusal> {
    let Some(text) = given.text(name) else { return Ok(vec![]) };
    pieces(given, name, text)?.into_iter().map(|piece| point(given, name, piece)).collect()
}

/// A trace, h and °C: it begins at 0 and never goes back; two knots at one instant are a jump.
pub fn trace(given: &Given, name: &str) -> Result<Vec<(f64, f64)>, Refusal> {
    let text = given.text(name).ok_or_else(|| given.missing(name))?;
    let mut knots: Vec<(f64, f64)> = vec![];
    for piece in pieces(given, name, text)? {
        let (time, at) = pair(given, name, piece, ':')?;
        let hours = part(given, name, time, &HOUR, (0.0, 87_600.0))?;
        let celsius = part(given, name, at, &CELSIUS, (-40.0, 260.0))?;
        match knots.last() {
            None if hours != 0.0 => return Err(given.refuse(name, "does not begin at 0h")),
            Some(last) if hours < last.0 => {
                return Err(given.refuse(name, &format!("goes back in time at {}", quoted(piece))));
            }
            _ => knots.push((hours, celsius)),
        }
    }
    Ok(knots)
}

/// A mixing ratio as hardener per resin.
pub fn ratio(given: &Given, name: &str) -> Result<Option<f64>, Refusal> {
    let Some(text) = given.text(name) else { return Ok(None) };
    let (resin, hardener) = pair(given, name, text, if text.contains(':') { ':' } else { '/' })?;
    let parts = |text: &str| part(given, name, text, &PLAIN, (1e-6, 10_000.0));
    let (resin, hardener) = (parts(resin)?, parts(hardener)?);
    if resin.max(hardener) > 100.0 * resin.min(hardener) {
        return Err(given.refuse(name, "has one side more than 100 times the other"));
    }
    Ok(Some(hardener / resin))
}

/// The parts of a blend: mass, and equivalent weight in g/eq or None where nothing reacts.
pub fn blend(given: &Given, name: &str) -> Result<Vec<(f64, Option<f64>)>, Refusal> {
    let text = given.text(name).ok_or_else(|| given.missing(name))?;
    let one = |piece: &str| {
        let (mass, equivalent) = pair(given, name, piece, '@')?;
        let mass = part(given, name, mass, &PLAIN, (1e-6, 1e6))?;
        let equivalent = match equivalent {
            "-" | "–" => None,
            typed => Some(part(given, name, typed, &EQUIVALENT, (10.0, 100_000.0))?),
        };
        Ok((mass, equivalent))
    };
    pieces(given, name, text)?.into_iter().map(one).collect()
}
