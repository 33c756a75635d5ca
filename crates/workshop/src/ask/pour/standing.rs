//! A cup that is poured: what the model says of it now, corrected by the temperature of the glue wherever somebody
//! measured it.
//!
//! From a measured temperature on the cup is as warm as measured, and reacted as far as the model has it after the time
//! gone by, or as far as the heat it holds demands: (measured - the warmer of start and air) cp/dH, since what leaves
//! through the walls is on top. A measured temperature only shortens.

use super::asked::unread;
use super::cup::{Known, Outlook, air, outlook};
use crate::ask::Asking;
use crate::judge::BatchStory;
use crate::judge::card::CardInForce;
use crate::wire::WireError;
use glue::cure::ode::Unsolved;
use glue::pot::sheet::{self, OfCard};
use glue::pot::{Pot, Vessel, lumped};
use glue::unit::CureTemperature;
use logbook::store::Error;

/// A conversion from which nothing is left to forecast.
const SPENT: f64 = 0.99;

/// A cup's own temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// When, ms.
    pub at_ms: i64,
    /// K.
    pub k: f64,
}

/// What the cup's own temperature says.
#[derive(Clone, Copy, Debug)]
pub struct ByCup {
    /// The last time it was measured.
    pub last: Measured,
    /// When the hardener went in, ms.
    pub started_ms: i64,
    /// Use it up by, ms; None: it never gets there.
    pub until_ms: Option<i64>,
    /// Where it goes from the last measured temperature.
    pub outlook: Outlook,
}

/// What the model needs besides the measured temperatures.
struct Course {
    of: OfCard,
    mass: f64,
    vessel: Vessel,
    start_k: f64,
    started_ms: i64,
    place: Option<String>,
}

/// What a batch's measured temperatures say, `now` the last of them; None: nobody measured, or no model fits.
pub fn by_cup(
    asking: &Asking,
    story: &BatchStory,
    card: &CardInForce,
    vessel: Vessel,
    now: Option<Measured>,
) -> Result<Option<ByCup>, Error> {
    let measured = measured(story, now);
    let Some(last) = measured.last().copied() else { return Ok(None) };
    let Some(course) = course(asking, story, card, vessel)? else { return Ok(None) };
    let mut stays = Vec::new();
    for one in &measured {
        stays.push((*one, air_k(asking, card, &course, one.at_ms)?));
    }
    let outlook = follow(&course, &stays).ok();
    Ok(outlook.map(|outlook| {
        let until = outlook.advised.map(|s| last.at_ms + (s * 1000.0) as i64);
        ByCup { last, started_ms: course.started_ms, until_ms: until, outlook }
    }))
}

/// Temperatures measured after the start, in time.
fn measured(story: &BatchStory, now: Option<Measured>) -> Vec<Measured> {
    let started = story.started_ms().unwrap_or(i64::MAX);
    let kept = story.cups.iter().map(|one| Measured { at_ms: one.at_ms, k: one.what.mk as f64 / 1000.0 });
    kept.chain(now).filter(|one| one.at_ms >= started).collect()
}

fn course(asking: &Asking, story: &BatchStory, card: &CardInForce, vessel: Vessel) -> Result<Option<Course>, Error> {
    let Some(started_ms) = story.started_ms() else { return Ok(None) };
    let Some(mass_mg) = story.mixed_mg(card.stored.resin_g_per_l, card.stored.hardener_g_per_l) else {
        return Ok(None);
    };
    let Ok(of) = sheet::of_card(&card.glue, mass_mg as f64 / 1000.0) else { return Ok(None) };
    let place = asking.judge.pot_place(story)?.0;
    let components = asking.judge.charge(story, card)?.components_k;
    let start_k = match components {
        Some(k) => k,
        None => air(asking, &card.glue, place.as_ref())?.k,
    };
    Ok(Some(Course { of, mass: mass_mg as f64 / 1e6, vessel, start_k, started_ms, place }))
}

/// Mean air around the cup at an instant; unread, what is known of it now.
fn air_k(asking: &Asking, card: &CardInForce, course: &Course, at_ms: i64) -> Result<f64, Error> {
    if let Some(place) = &course.place
        && let Some(k) = asking.judge.air(place, course.started_ms, at_ms)?.mean_k(at_ms)
    {
        return Ok(k);
    }
    Ok(air(asking, &card.glue, course.place.as_ref())?.k)
}

/// From one measured temperature to the next, and on from the last.
fn follow(course: &Course, stays: &[(Measured, f64)]) -> Result<Outlook, Unsolved> {
    let glue = course.of.glue;
    let (mut at_ms, mut pot) = (
        course.started_ms,
        Pot::fresh(
            glue,
            course.mass,
            course.vessel,
            stays.first().map_or(course.start_k, |stay| stay.1),
            course.start_k,
        ),
    );
    for (one, air_k) in stays {
        pot.air = vec![(0.0, *air_k)];
        let gone = (one.at_ms - at_ms) as f64 / 1000.0;
        let (modelled, _) = lumped::after(&pot, gone, &lumped::TOLERANCE)?;
        let held = (one.k - course.start_k.max(*air_k)) * glue.capacity / glue.heat;
        (pot.reacted, pot.start) = (modelled.max(held).clamp(0.0, SPENT), one.k);
        at_ms = one.at_ms;
    }
    outlook(&pot)
}

/// A temperature measured now, as typed.
///
/// Errors: `out-of-range` or `missing` unit.
pub fn typed(asking: &Asking, text: &str) -> Result<Measured, WireError> {
    let read =
        CureTemperature::parse(text).map_err(|error| unread("body.measured", text, &error, CureTemperature::RANGE))?;
    Ok(Measured { at_ms: asking.at_ms, k: read.value.mk() as f64 / 1000.0 })
}

/// Seconds left of a cup as the model has it without anything measured.
pub fn left_s(known: &Known, started_ms: i64, at_ms: i64) -> Option<f64> {
    let advised = known.model.as_ref().ok()?.as_is.advised?;
    Some((advised - (at_ms - started_ms) as f64 / 1000.0).max(0.0))
}
