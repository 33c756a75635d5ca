//! The strip over the bench: what the air of each place is like, what wood would settle at in it, how far it is from
//! the dew point, and how old the reading is.

use super::answer::{LastReading, StripCell, StripPlace};
use super::expected::{self, Expected};
use super::{Asking, dried};
use crate::judge::words::{instant, stretch};
use crate::reader::Reader;
use logbook::entry::{Body, Id};
use logbook::settled::settle;
use logbook::store::{Error, Noun};

/// A logger's minutes are looked for this far back, ms.
const LOOK_BACK_MS: i64 = 48 * 3_600_000;
/// A reading older than this says nothing about now: the clocks stop forecasting from it, ms.
const OLD_MS: i64 = 2 * 3_600_000;
/// Closer than this to the dew point the air may wet a cold surface, K. Borrowed from coating of steel (from memory);
/// for wood a caution, not a limit.
const NEAR_DEW_K: f64 = 3.0;
const ZERO_K: f64 = 273.15;

/// The newest reading of a place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PlaceNow {
    /// Its id.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Instant, temperature in mk, humidity in ppm; None: none in the last two days, or none by hand.
    pub last: Option<Newest>,
    /// The place whose air it heats, with its newest reading.
    pub drawn: Option<(String, Option<Newest>)>,
    /// What was stated that its air will do.
    pub expected: Option<Expected>,
}

/// Instant, temperature in mk, humidity in ppm.
pub(super) type Newest = (i64, i64, Option<i64>);

/// Every place with its newest reading, the given one first, then by name.
pub(super) fn places(asking: &Asking, first: Option<&Id>) -> Result<Vec<PlaceNow>, Error> {
    let mut all = Vec::new();
    for (name, id) in asking.book.list(Noun::Place)? {
        let last = last_reading(asking, &id)?;
        let drawn = match dried::source_of(asking, &id)? {
            Some(from) => Some((asking.judge.name(&from)?, last_reading(asking, &from)?)),
            None => None,
        };
        all.push(PlaceNow { expected: expected::of(asking, &id)?, id, name, last, drawn });
    }
    all.sort_by(|a, b| (Some(&a.id) != first, &a.name).cmp(&(Some(&b.id) != first, &b.name)));
    Ok(all)
}

/// The newest reading of a place: instant, mean temperature in mk, humidity in ppm.
pub(super) fn last_reading(asking: &Asking, place: &str) -> Result<Option<Newest>, Error> {
    let at_ms = asking.at_ms;
    let hand = settle(&asking.book.hand_readings(place, at_ms, at_ms)?, asking.judge.seen);
    let by_hand = hand.iter().filter_map(|one| match &one.body {
        Body::Reading(it) if it.place == place => {
            Some((one.happened_ms, it.temperature.mk, it.humidity.as_ref().map(|share| share.ppm)))
        }
        _ => None,
    });
    let files = asking.book.minutes(place, at_ms - LOOK_BACK_MS, at_ms, asking.judge.seen.known_ms)?;
    let by_file =
        files.iter().filter_map(|source| source.minutes.last()).map(|it| (it.at_ms, it.mean_mk, it.humidity_ppm));
    Ok(by_hand.chain(by_file).max_by_key(|(at, ..)| *at))
}

impl PlaceNow {
    /// The last reading on the wire.
    pub fn answer(&self, at_ms: i64) -> LastReading {
        LastReading {
            place: self.name.clone(),
            at: self.last.map(|(at, ..)| instant(at)),
            age_ms: self.last.map(|(at, ..)| at_ms - at),
            temperature_mk: self.last.map(|(_, mk, _)| mk),
            humidity_ppm: self.last.and_then(|(_, _, ppm)| ppm),
        }
    }

    /// Humidity, %, and whose air it comes from where nobody read it here: the other place's, heated, no water added.
    fn humidity(&self) -> (Option<f64>, Option<&str>) {
        let pct = |ppm: i64| ppm as f64 / 10_000.0;
        if let Some(ppm) = self.last.and_then(|(_, _, ppm)| ppm) {
            return (Some(pct(ppm)), None);
        }
        match (self.last, &self.drawn) {
            (Some((_, mk, _)), Some((from, Some((at, outside, Some(ppm)))))) => {
                let celsius = |mk: i64| mk as f64 / 1000.0 - ZERO_K;
                let (humidity, _) = dried::warmed((*at, celsius(*outside), pct(*ppm)), celsius(mk));
                (Some(humidity), Some(from))
            }
            _ => (None, None),
        }
    }

    /// Its cells, held against what is glued here now.
    pub fn strip(&self, at_ms: i64, bounds: &Bounds, reader: Reader) -> StripPlace {
        let old = self.last.is_none_or(|(at, ..)| at_ms - at > OLD_MS);
        let plain = if old { "doubt" } else { "plain" };
        let k = self.last.map(|(_, mk, _)| mk as f64 / 1000.0);
        let (pct, from) = self.humidity();
        let heat = match k {
            Some(k) if bounds.least_k.is_some_and(|least| k < least) => "chill",
            Some(k) if bounds.most_k.is_some_and(|most| k > most) => "heat",
            _ => plain,
        };
        let both = k.zip(pct).map(|(k, pct)| (k - ZERO_K, pct));
        let wood = both.map(|(celsius, pct)| glue::moisture::settles_at(celsius, pct));
        let dry = if wood.zip(bounds.driest_pct).is_some_and(|(wood, least)| wood < least) { "doubt" } else { plain };
        let dew = both
            .and_then(|(celsius, pct)| Some(celsius - glue::vapour::dew_point(glue::vapour::pressure(celsius, pct))?));
        let wet = if dew.is_some_and(|k| k < NEAR_DEW_K) { "doubt" } else { plain };
        let tenth = |k: f64| libm::round(k * 10.0) / 10.0;
        let humidity = from.map_or_else(|| "Humidity".to_owned(), |from| format!("Humidity, by {from}\u{2019}s air"));
        StripPlace {
            place: self.name.clone(),
            cells: vec![
                cell("Temperature", k.map(|k| reader.kelvin(k)), heat),
                cell(&humidity, pct.map(|pct| format!("{pct:.0} %")), plain),
                cell("Wood would settle at", wood.map(|wood| format!("{wood:.1} %")), dry),
                cell("Above dew point", dew.map(|k| reader.difference(tenth(k))), wet),
                cell("Reading", self.last.map(|(at, ..)| format!("{} old", stretch(at_ms - at))), plain),
            ],
        }
    }
}

/// What the air of a place is held against.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Bounds {
    /// Cures from here up, K.
    pub least_k: Option<f64>,
    /// Cures up to here, K.
    pub most_k: Option<f64>,
    /// Wood that would settle drier than this is far from what was glued, %.
    pub driest_pct: Option<f64>,
}

fn cell(label: &str, value: Option<String>, tone: &str) -> StripCell {
    let tone = if value.is_some() { tone } else { "doubt" };
    StripCell {
        label: label.to_owned(),
        value: value.unwrap_or_else(|| "not recorded".to_owned()),
        tone: tone.to_owned(),
    }
}
