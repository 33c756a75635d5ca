//! What a working session inherits: said once, kept for four hours, stored with its source and age. A correction
//! inherits nothing anew: what it leaves out stays as the original inherited it.

use super::desk::Desk;
use crate::wire::WireError;
use logbook::entry::typed::{Share, Taken};
use logbook::entry::{Body, Id};
use logbook::settled::Settled;

/// A session lasts until this long has passed, ms.
pub(crate) const SESSION_MS: i64 = 4 * 3_600_000;

/// The place this person named last: where they mixed or glued, else where they read a thermometer.
pub(super) fn place(desk: &mut Desk) -> Result<Option<(Id, Taken)>, WireError> {
    if let Some(original) = &desk.replaces {
        return Ok(match &original.body {
            Body::Bond(bond) => bond.place.clone().zip(bond.place_from.clone()),
            Body::Mix(mix) | Body::TopUp(mix) => mix.place.clone().zip(mix.place_from.clone()),
            _ => None,
        });
    }
    let (person, at_ms) = (desk.person.clone(), desk.happened_ms);
    Ok(place_among(&desk.recent()?, person.as_ref(), at_ms))
}

/// The place a person named last, among entries.
pub(crate) fn place_among(recent: &[Settled], person: Option<&Id>, at_ms: i64) -> Option<(Id, Taken)> {
    let worked = newest(recent, person, at_ms, |body| match body {
        Body::Bond(bond) if bond.place_from.is_none() => bond.place.clone(),
        Body::Mix(mix) | Body::TopUp(mix) if mix.place_from.is_none() => mix.place.clone(),
        _ => None,
    });
    worked.or_else(|| {
        newest(recent, person, at_ms, |body| match body {
            Body::Reading(reading) => Some(reading.place.clone()),
            Body::Vouch(vouch) => Some(vouch.place.clone()),
            _ => None,
        })
    })
}

/// The wood moisture this person measured last, anywhere.
pub(super) fn moisture(desk: &mut Desk) -> Result<Option<(Share, Taken)>, WireError> {
    if let Some(original) = &desk.replaces {
        let Body::Bond(bond) = &original.body else {
            return Ok(None);
        };
        return Ok(bond.moisture.clone().zip(bond.moisture_from.clone()));
    }
    let (person, at_ms) = (desk.person.clone(), desk.happened_ms);
    Ok(moisture_among(&desk.recent()?, person.as_ref(), at_ms))
}

/// The wood moisture a person measured last, among entries.
pub(crate) fn moisture_among(recent: &[Settled], person: Option<&Id>, at_ms: i64) -> Option<(Share, Taken)> {
    newest(recent, person, at_ms, |body| match body {
        Body::Bond(bond) if bond.moisture_from.is_none() => bond.moisture.clone(),
        Body::Reading(reading) => reading.wood_moisture.clone(),
        _ => None,
    })
}

/// The cans of this person's last mix of a card.
pub(super) fn containers(desk: &mut Desk, card: &str) -> Result<Option<(Vec<Id>, Taken)>, WireError> {
    if let Some(original) = &desk.replaces {
        let (Body::Mix(mix) | Body::TopUp(mix)) = &original.body else {
            return Ok(None);
        };
        return Ok(mix.containers_from.clone().map(|taken| (mix.containers.clone(), taken)));
    }
    let (person, at_ms) = (desk.person.clone(), desk.happened_ms);
    Ok(cans_among(&desk.recent()?, person.as_ref(), at_ms, card))
}

/// The cans of a person's last mix of a card, among entries.
pub(crate) fn cans_among(recent: &[Settled], person: Option<&Id>, at_ms: i64, card: &str) -> Option<(Vec<Id>, Taken)> {
    newest(recent, person, at_ms, |body| match body {
        Body::Mix(mix) | Body::TopUp(mix) if mix.card == card && mix.containers_from.is_none() => {
            (!mix.containers.is_empty()).then(|| mix.containers.clone())
        }
        _ => None,
    })
}

/// The newest value a person gave within a session.
pub(crate) fn newest<T>(
    recent: &[Settled],
    person: Option<&Id>,
    at_ms: i64,
    value: impl Fn(&Body) -> Option<T>,
) -> Option<(T, Taken)> {
    let of_session = |one: &&Settled| {
        one.entry.person.as_ref() == person && one.happened_ms <= at_ms && one.happened_ms > at_ms - SESSION_MS
    };
    let found = recent
        .iter()
        .filter(of_session)
        .filter_map(|one| value(&one.body).map(|value| (one.happened_ms, one.entry.seq, value, one.entry.id.clone())))
        .max_by_key(|(at_ms, seq, _, _)| (*at_ms, *seq));
    found.map(|(taken_ms, _, value, entry)| (value, Taken { entry, age_ms: at_ms - taken_ms }))
}
