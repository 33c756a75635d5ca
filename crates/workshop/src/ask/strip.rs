//! The strip over the bench: what the air of each place is like, what wood would settle at in it, how far it is from
//! the dew point, and how old the reading is.

use super::Asking;
use super::answer::{LastReading, StripCell, StripPlace};
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
    pub last: Option<(i64, i64, Option<i64>)>,
}

/// Every place with its newest reading, the given one first, then by name.
pub(super) fn places(asking: &Asking, first: Option<&Id>) -> Result<Vec<PlaceNow>, Error> {
    let mut all = Vec::new();
    for (name, id) in asking.book.list(Noun::Place)? {
        let last = last_reading(asking, &id)?;
        all.push(PlaceNow { id, name, last });
    }
    all.sort_by(|a, b| (Some(&a.id) != first, &a.name).cmp(&(Some(&b.id) != first, &b.name)));
    Ok(all)
}

/// The newest reading of a place: instant, mean temperature in mk, humidity in ppm.
pub(super) fn last_reading(asking: &Asking, place: &str) -> Result<Option<(i64, i64, Option<i64>)>, Error> {
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

    /// Its cells. `least_k` and `most_k` bound what is glued here now.
    pub fn strip(&self, at_ms: i64, least_k: Option<f64>, most_k: Option<f64>, reader: Reader) -> StripPlace {
        let cell = |label: &str, value: Option<String>, tone: &str| {
            let tone = if value.is_some() { tone } else { "doubt" };
            StripCell {
                label: label.to_owned(),
                value: value.unwrap_or_else(|| "not recorded".to_owned()),
                tone: tone.to_owned(),
            }
        };
        let old = self.last.is_none_or(|(at, ..)| at_ms - at > OLD_MS);
        let plain = if old { "doubt" } else { "plain" };
        let k = self.last.map(|(_, mk, _)| mk as f64 / 1000.0);
        let pct = self.last.and_then(|(_, _, ppm)| ppm).map(|ppm| ppm as f64 / 10_000.0);
        let heat = match k {
            Some(k) if least_k.is_some_and(|least| k < least) => "chill",
            Some(k) if most_k.is_some_and(|most| k > most) => "heat",
            _ => plain,
        };
        let both = k.zip(pct).map(|(k, pct)| (k - ZERO_K, pct));
        let wood = both.map(|(celsius, pct)| format!("{:.1} %", glue::moisture::settles_at(celsius, pct)));
        let dew = both
            .and_then(|(celsius, pct)| Some(celsius - glue::vapour::dew_point(glue::vapour::pressure(celsius, pct))?));
        let wet = if dew.is_some_and(|k| k < NEAR_DEW_K) { "doubt" } else { plain };
        let tenth = |k: f64| libm::round(k * 10.0) / 10.0;
        StripPlace {
            place: self.name.clone(),
            cells: vec![
                cell("Temperature", k.map(|k| reader.kelvin(k)), heat),
                cell("Humidity", pct.map(|pct| format!("{pct:.0} %")), plain),
                cell("Wood would settle at", wood, plain),
                cell("Above dew point", dew.map(|k| reader.difference(tenth(k))), wet),
                cell("Reading", self.last.map(|(at, ..)| format!("{} old", stretch(at_ms - at))), plain),
            ],
        }
    }
}
