//! Batches get their names: weekday and count of the local day, short enough for a cup.

use super::desk::Desk;
use super::{instant, session};
use crate::wire::WireError;
use logbook::entry::{Body, Entry, Id, mix};
use logbook::store::Noun;

/// Names tried past the last one taken, so that a withdrawn one is not given again.
const PAST: usize = 5;

/// The batch of a *hardener in*: the one named, else the newest mix without it, else a new one.
pub(super) fn for_hardener(desk: &mut Desk, named: Option<Id>) -> Result<Id, WireError> {
    let lacks =
        |bodies: &[&Body]| bodies.iter().any(|body| is_mix(body)) && !bodies.iter().any(|body| is_hardener(body));
    meant(desk, named, lacks)
}

/// The batch of a mix: the one named, else the newest with hardener in and no mix, else a new one.
pub(super) fn for_mix(desk: &mut Desk, named: Option<Id>) -> Result<Id, WireError> {
    let lacks =
        |bodies: &[&Body]| bodies.iter().any(|body| is_hardener(body)) && !bodies.iter().any(|body| is_mix(body));
    meant(desk, named, lacks)
}

fn is_mix(body: &Body) -> bool {
    matches!(body, Body::Mix(_))
}

fn is_hardener(body: &Body) -> bool {
    matches!(body, Body::Press(press) if press.press == "hardener-in")
}

fn meant(desk: &mut Desk, named: Option<Id>, lacks: impl Fn(&[&Body]) -> bool) -> Result<Id, WireError> {
    if let Some(batch) = named {
        return Ok(batch);
    }
    if let Some(original) = &desk.replaces {
        let batch = match &original.body {
            Body::Mix(mix) | Body::TopUp(mix) => Some(mix.batch.clone()),
            Body::Press(press) => press.batch.clone(),
            _ => None,
        };
        if let Some(batch) = batch {
            return Ok(batch);
        }
    }
    match newest(desk, lacks)? {
        Some(batch) => Ok(batch),
        None => make(desk),
    }
}

/// The newest batch of the last four hours of which something is still to be told.
fn newest(desk: &mut Desk, lacks: impl Fn(&[&Body]) -> bool) -> Result<Option<Id>, WireError> {
    let (until_ms, recent) = (desk.happened_ms, desk.recent()?);
    let of_session = recent.iter().filter(|one| {
        matches!(one.body, Body::Batch(_))
            && one.happened_ms <= until_ms
            && one.happened_ms > until_ms - session::SESSION_MS
    });
    let lacking = of_session.filter(|batch| {
        let id = &batch.entry.id;
        let bodies: Vec<&Body> = recent.iter().map(|one| &one.body).filter(|body| batch_of(body) == Some(id)).collect();
        lacks(&bodies)
    });
    Ok(lacking.max_by_key(|one| (one.happened_ms, one.entry.seq)).map(|one| one.entry.id.clone()))
}

fn batch_of(body: &Body) -> Option<&Id> {
    match body {
        Body::Mix(mix) | Body::TopUp(mix) => Some(&mix.batch),
        Body::Press(press) => press.batch.as_ref(),
        _ => None,
    }
}

fn make(desk: &mut Desk) -> Result<Id, WireError> {
    let (weekday, day) = instant::local_day(desk.happened_ms, desk.now.zone_min);
    let name = format!("{weekday} {}", next_of_day(desk, weekday, &day)?);
    let id = desk.fresh();
    desk.put_as(id.clone(), Body::Batch(mix::Batch { name, day }), vec![id.clone()]);
    Ok(id)
}

fn next_of_day(desk: &Desk, weekday: &str, day: &str) -> Result<usize, WireError> {
    let (mut last, mut at) = (0, 1);
    while at <= last + PAST {
        if named_on(desk, &format!("{weekday} {at}"), day)? {
            last = at;
        }
        at += 1;
    }
    Ok(last + 1)
}

/// True when a batch of that local day bears the name. The newest come first, and 64 namesakes are enough.
fn named_on(desk: &Desk, name: &str, day: &str) -> Result<bool, WireError> {
    for id in desk.book.find(Noun::Batch, name)?.iter().rev().take(64) {
        if let Some(one) = desk.in_force(id)?
            && let Body::Batch(batch) = &one.body
            && batch.day == day
        {
            return Ok(true);
        }
    }
    Ok(false)
}

/// The batch that the same act made along with a press, if nothing else names it yet.
pub(super) fn made_with(desk: &Desk, press: &Entry) -> Result<Option<Id>, WireError> {
    let Body::Press(body) = &press.body else {
        return Ok(None);
    };
    let Some(batch) = &body.batch else { return Ok(None) };
    let together = desk.book.entry(batch)?.is_some_and(|entry| entry.act == press.act);
    let alone = desk.judge.subject(batch)?.iter().all(|one| one.entry.id == press.id || one.entry.id == *batch);
    Ok((together && alone).then(|| batch.clone()))
}
