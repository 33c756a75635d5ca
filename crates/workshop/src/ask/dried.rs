//! What the dry air of a heated place does to the wood of a bond that stood in it: the humidity there, what wood would
//! settle at, and for how long. No water is added or taken on the way in, unless somebody measured the humidity there.

use super::Asking;
use super::answer::DriedAnswer;
use crate::judge::BondStory;
use crate::judge::air::PlaceAir;
use crate::judge::words::stretch;
use logbook::entry::{Body, Id};
use logbook::settled::settle;
use logbook::store::Error;
use std::collections::BTreeMap;

const ZERO_K: f64 = 273.15;
const HOUR_MS: i64 = 3_600_000;
/// Air so long before a stay still tells what was drawn in, ms.
const BEFORE_MS: i64 = 2 * HOUR_MS;
/// Wood that would settle this much drier than it was is told, points of moisture. A choice of ours, no source.
pub(super) const POINTS: f64 = 5.0;

/// Air with a humidity: when, °C, %.
type Moist = (i64, f64, f64);

/// Humidity, %, and what wood would settle at, %, in air brought to a temperature, °C.
pub(super) fn warmed((_, celsius, pct): Moist, to_celsius: f64) -> (f64, f64) {
    let humidity = glue::vapour::heated(celsius, pct, to_celsius).clamp(0.0, 100.0);
    (humidity, glue::moisture::settles_at(to_celsius, humidity))
}

/// The place whose air a place heats.
pub(super) fn source_of(asking: &Asking, place: &str) -> Result<Option<Id>, Error> {
    Ok(asking.judge.in_force(place)?.and_then(|one| match &one.body {
        Body::Place(place) => place.heated_from.clone(),
        _ => None,
    }))
}

/// Every stay of a bond in a heated place, from its first press on.
pub fn dried(asking: &Asking, story: &BondStory) -> Result<Vec<DriedAnswer>, Error> {
    let Some(first) = story.presses.first().map(|press| press.at_ms) else { return Ok(Vec::new()) };
    let last = story.used(false).map_or(asking.at_ms, |used| used.at_ms.min(asking.at_ms));
    let places = asking.judge.places(story)?;
    let mut all = Vec::new();
    for (index, (since, place)) in places.iter().enumerate() {
        let from = (*since).max(first);
        let to = places.get(index + 1).map_or(last, |next| next.0.min(last));
        let Some(place) = place.as_ref().filter(|_| from < to) else { continue };
        if let Some(source) = source_of(asking, place)? {
            all.push(stay(asking, story, (place, &source), (from, to))?);
        }
    }
    Ok(all)
}

fn stay(
    asking: &Asking,
    story: &BondStory,
    (place, source): (&Id, &Id),
    (from, to): (i64, i64),
) -> Result<DriedAnswer, Error> {
    let (name, outside) = (asking.judge.name(place)?, asking.judge.name(source)?);
    let hours = stretch(to - from);
    let air = asking.judge.air(place, from, to)?;
    let found = inside(asking, (place, source), (from, to), &air)?;
    let was = format!("In {name}, which heats the air of {outside}, for {hours}");
    let Some((humidity, settles)) = found else {
        let said = format!("{was}: how dry its air was cannot be told, since no humidity is recorded.");
        return Ok(DriedAnswer {
            place: name,
            heated_from: outside,
            hours,
            humidity_pct: None,
            settles_ppm: None,
            said,
            caution: None,
        });
    };
    let said = format!(
        "{was}: humidity there about {humidity:.0} %, wood would settle at {settles:.1} %. Thick stock takes weeks to \
         get there."
    );
    Ok(DriedAnswer {
        place: name,
        heated_from: outside,
        hours,
        humidity_pct: Some(libm::round(humidity) as i64),
        settles_ppm: Some(libm::round(settles * 10_000.0) as i64),
        said,
        caution: caution(asking, story, settles)?,
    })
}

/// Mean humidity and mean of what wood would settle at, hour by hour; None: no humidity or no temperature is recorded.
fn inside(
    asking: &Asking,
    (place, source): (&Id, &Id),
    (from, to): (i64, i64),
    air: &PlaceAir,
) -> Result<Option<(f64, f64)>, Error> {
    let measured = moist(asking, place, from, to)?;
    let warm = |at: i64| air.mean_k(at).or_else(|| nearest_k(air, at)).map(|k| k - ZERO_K);
    let told: Vec<(i64, (f64, f64))> = if measured.is_empty() {
        let drawn = moist(asking, source, from - BEFORE_MS, to)?;
        drawn.into_iter().filter_map(|one| Some((one.0, warmed(one, warm(one.0.max(from))?)))).collect()
    } else {
        let settles = |(at, celsius, pct): Moist| (at, (pct, glue::moisture::settles_at(celsius, pct)));
        measured.into_iter().map(settles).collect()
    };
    let mut hours: BTreeMap<i64, (f64, f64, f64)> = BTreeMap::new();
    for (at, (humidity, settles)) in told {
        let hour = hours.entry(at.div_euclid(HOUR_MS)).or_default();
        *hour = (hour.0 + humidity, hour.1 + settles, hour.2 + 1.0);
    }
    let n = hours.len() as f64;
    let sums = hours.values().fold((0.0, 0.0), |sum, (h, m, count)| (sum.0 + h / count, sum.1 + m / count));
    Ok((n > 0.0).then_some((sums.0 / n, sums.1 / n)))
}

/// The temperature read nearest to an instant, K.
fn nearest_k(air: &PlaceAir, at: i64) -> Option<f64> {
    let knots = air.air.sources.iter().flat_map(|source| &source.knots);
    knots.min_by_key(|knot| (knot.at_ms - at).abs()).map(|knot| knot.mean_k)
}

/// Everything read in a place that has a humidity, in time.
fn moist(asking: &Asking, place: &str, from: i64, to: i64) -> Result<Vec<Moist>, Error> {
    let celsius = |mk: i64| mk as f64 / 1000.0 - ZERO_K;
    let hand = settle(&asking.book.hand_readings(place, from, to)?, asking.judge.seen);
    let mut all: Vec<Moist> = hand
        .iter()
        .filter_map(|one| match &one.body {
            Body::Reading(it) if it.place == place => {
                let pct = it.humidity.as_ref()?.ppm as f64 / 10_000.0;
                Some((one.happened_ms, celsius(it.temperature.mk), pct))
            }
            _ => None,
        })
        .collect();
    for source in asking.book.minutes(place, from, to, asking.judge.seen.known_ms)? {
        let moist = source.minutes.iter().filter_map(|it| Some((it.at_ms, celsius(it.mean_mk), it.humidity_ppm?)));
        all.extend(moist.map(|(at, celsius, ppm)| (at, celsius, ppm as f64 / 10_000.0)));
    }
    all.retain(|one| (from..=to).contains(&one.0) && one.2 > 0.0);
    all.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    Ok(all)
}

/// Far drier than the wood was, or than a card allows.
fn caution(asking: &Asking, story: &BondStory, settles: f64) -> Result<Option<String>, Error> {
    let mut words = Vec::new();
    if let Some(wood) = &story.bond.moisture {
        let points = wood.ppm as f64 / 10_000.0 - settles;
        if points >= POINTS {
            words.push(format!("{points:.1} points below the wood's {}", wood.typed));
        }
    }
    for batch in asking.judge.batches_of(story)? {
        let Some(card) = asking.judge.card_of(&batch)? else { continue };
        let least = card.stored.moisture_minimum.as_ref().filter(|least| settles < least.ppm as f64 / 10_000.0);
        let word = least.map(|least| format!("below the {} that {} asks of the wood", least.typed, card.stored.name));
        words.extend(word.filter(|word| !words.contains(word)));
    }
    if words.is_empty() {
        return Ok(None);
    }
    Ok(Some(format!(
        "That is {}: the wood dries, shrinks and may split. Cover it, or bring moisture into the place.",
        words.join(" and ")
    )))
}
