//! What wood and air say before glue goes on: parts that have not met, wood colder than the dew point, air that was
//! heated. It holds nothing and stops nobody.

use super::answer::GateNote;
use super::strip::last_reading;
use super::{Asking, dried};
use crate::judge::words::list;
use glue::{moisture, vapour};
use logbook::entry::Body;
use logbook::entry::place::Reading;
use logbook::settled::settle;
use logbook::store::{Error, Noun};

const ZERO_K: f64 = 273.15;
/// Wood changes over days: a moisture so old still tells of the parts from there, ms.
const WOOD_MS: i64 = 24 * 3_600_000;
/// Air older than this says nothing about now, ms.
const AIR_MS: i64 = 4 * 3_600_000;
/// Parts further apart than this are told, points of moisture (common practice, no source).
const APART_PPM: i64 = 20_000;
/// A surface should be so much warmer than the dew point, K: steel painting's rule, only borrowed for wood.
const CLEAR_K: f64 = 3.0;
const PRACTICE: &str = "two points: common practice, no source";
const DEW: &str = "dew point: WMO-No. 8, annex 4.B; 3 K clear of it is borrowed from the painting of steel";
const SETTLES: &str = "what wood settles at: Wood Handbook FPL-GTR-190, eq. 4-5; no water added or taken on the way in";

/// A place as it is now.
pub(super) struct Here<'a> {
    /// Its id.
    pub place: &'a str,
    /// Hand readings of the last four hours, in time.
    pub readings: &'a [(i64, Reading)],
    /// Air, mk.
    pub mk: Option<i64>,
    /// Humidity, ppm.
    pub humidity_ppm: Option<i64>,
}

/// Everything to be said.
pub(super) fn notes(asking: &Asking, here: &Here) -> Result<Vec<GateNote>, Error> {
    let mut notes = parts_apart(asking, here)?;
    notes.extend(dew(asking, here)?);
    notes.extend(heated(asking, here)?);
    Ok(notes)
}

/// `said`: in a few words, and in a sentence.
fn note(what: &str, tone: &str, said: (String, String), source: &str) -> GateNote {
    let (short, sentence) = said;
    GateNote { what: what.to_owned(), tone: tone.to_owned(), short, sentence, source: source.to_owned() }
}

/// "11.2 %".
fn percent(ppm: i64) -> String {
    crate::judge::words::percent(ppm)
}

/// "3.1 points".
fn points(ppm: i64) -> String {
    format!("{:.1} points", ppm as f64 / 10_000.0)
}

/// What wood would settle at in the air here, ppm.
fn settles_ppm(here: &Here) -> Option<i64> {
    let (celsius, pct) = (here.mk? as f64 / 1000.0 - ZERO_K, here.humidity_ppm? as f64 / 10_000.0);
    Some(libm::round(moisture::settles_at(celsius, pct) * 10_000.0) as i64)
}

/// Wood read here against itself, against wood read elsewhere, against the air.
fn parts_apart(asking: &Asking, here: &Here) -> Result<Vec<GateNote>, Error> {
    let read: Vec<i64> =
        here.readings.iter().filter_map(|(_, it)| it.wood_moisture.as_ref().map(|share| share.ppm)).collect();
    let settles = settles_ppm(here);
    let air = settles.map(|ppm| format!("; wood would settle at {} here", percent(ppm))).unwrap_or_default();
    let (Some(low), Some(high), Some(last)) = (read.iter().min(), read.iter().max(), read.last()) else {
        return Ok(Vec::new());
    };
    let mut notes = Vec::new();
    let mut say = |short: String, sentence: String| notes.push(note("wood", "doubt", (short, sentence), PRACTICE));
    if high - low >= APART_PPM {
        let by = points(high - low);
        let sentence = format!(
            "parts read here differ by {by}, {} to {}{air}: let them meet first",
            percent(*low),
            percent(*high)
        );
        say(format!("parts differ by {by} of moisture"), sentence);
    } else if let Some(settles) = settles.filter(|settles| (settles - last).abs() >= APART_PPM) {
        let way = if *last > settles { "damper" } else { "drier" };
        let by = points((settles - last).abs());
        let sentence =
            format!("wood at {} is {by} {way} than it would settle at here, {}", percent(*last), percent(settles));
        say(format!("wood is {by} {way} than it settles at here"), sentence);
    }
    for (name, other) in wood_elsewhere(asking, here.place)? {
        if (other - last).abs() >= APART_PPM {
            let by = points((other - last).abs());
            let sentence = format!(
                "wood read in {name}, {}, and here, {}, differs by {by}{air}: let the parts meet first",
                percent(other),
                percent(*last)
            );
            say(format!("wood of {name} and here differ by {by}"), sentence);
        }
    }
    Ok(notes)
}

/// The last moisture of wood read in every other place within a day.
fn wood_elsewhere(asking: &Asking, place: &str) -> Result<Vec<(String, i64)>, Error> {
    let (at_ms, mut all) = (asking.at_ms, Vec::new());
    for (name, id) in asking.book.list(Noun::Place)? {
        if id == place {
            continue;
        }
        let read = settle(&asking.book.hand_readings(&id, at_ms - WOOD_MS, at_ms)?, asking.judge.seen);
        let wood = read.iter().filter(|one| at_ms - one.happened_ms <= WOOD_MS).filter_map(|one| match &one.body {
            Body::Reading(it) if it.place == id => Some((one.happened_ms, it.wood_moisture.as_ref()?.ppm)),
            _ => None,
        });
        all.extend(wood.max_by_key(|(at, _)| *at).map(|(_, ppm)| (name, ppm)));
    }
    Ok(all)
}

/// Wood that the air here would wet.
fn dew(asking: &Asking, here: &Here) -> Result<Vec<GateNote>, Error> {
    let (Some(mk), Some(ppm)) = (here.mk, here.humidity_ppm) else { return Ok(Vec::new()) };
    let pressure = vapour::pressure(mk as f64 / 1000.0 - ZERO_K, ppm as f64 / 10_000.0);
    let Some(dew_k) = vapour::dew_point(pressure).map(|celsius| celsius + ZERO_K) else { return Ok(Vec::new()) };
    let reader = asking.judge.reader;
    let dew = reader.kelvin(dew_k);
    let mut notes = Vec::new();
    let wood = here.readings.iter().rev().find_map(|(_, it)| it.wood_temperature.as_ref().map(|at| at.mk));
    if let Some(wood_mk) = wood {
        let (wood_k, wood) = (wood_mk as f64 / 1000.0, reader.temperature(wood_mk));
        if wood_k <= dew_k {
            let sentence = format!(
                "the wood, {wood}, is colder than the dew point of the air here, {dew}: water settles on it; let it warm \
                 up before glue goes on"
            );
            notes.push(note("dew-point", "chill", ("the wood is colder than the dew point".to_owned(), sentence), DEW));
        } else if wood_k < dew_k + CLEAR_K {
            let (by, clear) =
                (reader.difference(libm::round((wood_k - dew_k) * 10.0) / 10.0), reader.difference(CLEAR_K));
            let sentence = format!(
                "the wood, {wood}, is only {by} warmer than the dew point of the air here, {dew}: {clear} would be clear \
                 of it"
            );
            notes.push(note("dew-point", "doubt", ("the wood is close to the dew point".to_owned(), sentence), DEW));
        }
    }
    let cold = colder(asking, here.place, dew_k)?;
    if !cold.is_empty() {
        let sentence = format!(
            "wood brought in from {} is colder than the dew point of the air here, {dew}: water settles on it; let it \
             warm up before glue goes on",
            list(&cold)
        );
        notes.push(note("dew-point", "chill", (format!("wood from {} gets wet here", list(&cold)), sentence), DEW));
    }
    Ok(notes)
}

/// Other places whose air is at or below a temperature, K: "wood store (6.2 °C)".
fn colder(asking: &Asking, place: &str, k: f64) -> Result<Vec<String>, Error> {
    let mut cold = Vec::new();
    for (name, id) in asking.book.list(Noun::Place)? {
        let air = last_reading(asking, &id)?.filter(|(at, ..)| id != place && asking.at_ms - at <= AIR_MS);
        if let Some((_, mk, _)) = air
            && mk as f64 / 1000.0 <= k
        {
            cold.push(format!("{name} ({})", asking.judge.reader.temperature(mk)));
        }
    }
    Ok(cold)
}

/// Air that was heated and whose humidity nobody measured since.
fn heated(asking: &Asking, here: &Here) -> Result<Option<GateNote>, Error> {
    let (Some(mk), None) = (here.mk, here.humidity_ppm) else { return Ok(None) };
    let Some(source) = dried::source_of(asking, here.place)? else { return Ok(None) };
    let drawn = last_reading(asking, &source)?.filter(|(at, ..)| asking.at_ms - at <= AIR_MS);
    let Some((at, out_mk, Some(ppm))) = drawn else { return Ok(None) };
    let (out, pct) = (out_mk as f64 / 1000.0 - ZERO_K, ppm as f64 / 10_000.0);
    let (humidity, settles) = dried::warmed((at, out, pct), mk as f64 / 1000.0 - ZERO_K);
    let reader = asking.judge.reader;
    let sentence = format!(
        "air of {}, {} at {}, warmed to {} has {humidity:.0} %: wood goes towards {settles:.1} % here",
        asking.judge.name(&source)?,
        percent(ppm),
        reader.temperature(out_mk),
        reader.temperature(mk)
    );
    let short = format!("heated air: wood goes towards {settles:.1} %");
    Ok(Some(note("heated-air", "plain", (short, sentence), SETTLES)))
}
