//! The stores: cards, lots with what they gave and what is left, cans, kinds, places, people, instruments.

use super::Asking;
use super::answer::{Named, StoreCan, StoreFact, StoreInstrument, StoreKind, StoreLot, StorePlace, StoresAnswer};
use super::work::area_of;
use super::{store_card, where_used};
use crate::judge::words::{Round, Saying, instant};
use crate::wire::WireError;
use logbook::entry::card::{Container, Lot};
use logbook::entry::part::{JointPlan, Kind, Stage};
use logbook::entry::place::Instrument;
use logbook::entry::typed::Amount;
use logbook::entry::{Body, Id};
use logbook::settled::Settled;
use logbook::store::{Error, Noun};
use std::sync::Arc;

const DAY_MS: i64 = 86_400_000;
/// A lot that expires within this many days is pointed out. A choice of ours, no source.
const SOON_DAYS: i64 = 30;

/// Answers `stores`.
pub fn stores(asking: &Asking) -> Result<StoresAnswer, WireError> {
    let cans = asking.all(Noun::Container)?;
    let mut lots = Vec::new();
    for (id, one) in asking.all(Noun::Lot)? {
        if let Body::Lot(lot) = &one.body {
            lots.push(self::lot(asking, &id, &one, lot, &cans)?);
        }
    }
    let mut kinds = Vec::new();
    let mut places = Vec::new();
    let mut instruments = Vec::new();
    for (id, one) in asking.all(Noun::Kind)? {
        kinds.extend(if let Body::Kind(it) = &one.body { Some(kind(asking, id, &one, it)) } else { None });
    }
    for (id, one) in asking.all(Noun::Place)? {
        if let Body::Place(place) = &one.body {
            let heated_from = place.heated_from.as_ref().map(|from| asking.judge.name(from)).transpose()?;
            places.push(StorePlace { name: place.name.clone(), id, feed: place.feed == Some(true), heated_from });
        }
    }
    for (id, one) in asking.all(Noun::Instrument)? {
        instruments.extend(if let Body::Instrument(it) = &one.body { Some(instrument(id, it)) } else { None });
    }
    let people = asking.all(Noun::Person)?.iter().map(|(id, _)| asking.named(id)).collect::<Result<Vec<Named>, _>>()?;
    Ok(StoresAnswer {
        at: instant(asking.at_ms),
        cards: store_card::cards(asking)?,
        lots,
        kinds,
        places,
        people,
        instruments,
    })
}

/// What was given: mg and ul.
#[derive(Clone, Copy, Default)]
struct Given {
    mg: i64,
    ul: i64,
}

impl Given {
    fn and(self, other: Given) -> Given {
        Given { mg: self.mg + other.mg, ul: self.ul + other.ul }
    }

    /// "412 g", "412 g and 50 ml", "nothing".
    fn said(self, asking: &Asking) -> String {
        let reader = asking.judge.reader;
        match (self.mg, self.ul) {
            (0, 0) => "nothing".to_owned(),
            (mg, 0) => reader.mass(mg),
            (0, ul) => reader.volume(ul),
            (mg, ul) => format!("{} and {}", reader.mass(mg), reader.volume(ul)),
        }
    }
}

/// What is left of an amount in its own unit, and the sign with which it is said; None: the other unit was given too.
fn left(holds: &Amount, given: Given) -> Option<i64> {
    match holds {
        Amount::Mass(mass) if given.ul == 0 => Some(mass.mg - given.mg),
        Amount::Volume(volume) if given.mg == 0 => Some(volume.ul - given.ul),
        _ => None,
    }
}

fn left_said(asking: &Asking, weighed: bool, left: i64) -> String {
    let say = |amount: i64| {
        let reader = asking.judge.reader;
        if weighed { reader.mass(amount) } else { reader.volume(amount) }
    };
    if left < 0 { format!("{} more than it held", say(-left)) } else { say(left) }
}

fn lot(
    asking: &Asking,
    id: &str,
    one: &Settled,
    lot: &Lot,
    cans: &[(Id, Arc<Settled>)],
) -> Result<StoreLot, WireError> {
    let mut containers = Vec::new();
    let mut given = Given::default();
    let mut lefts = Some((0, None));
    for (can_id, one) in cans {
        let Body::Container(can) = &one.body else { continue };
        if can.lot != id {
            continue;
        }
        let (mg, ul) = asking.judge.given(can_id)?;
        let of_can = Given { mg, ul };
        given = given.and(of_can);
        lefts = and_left(lefts, can, of_can);
        containers.push(self::can(asking, can_id, one, can, of_can)?);
    }
    let filled = filled(asking, id)?;
    given = given.and(Given { mg: filled, ul: 0 });
    let lefts = lefts.filter(|(_, weighed)| filled == 0 || *weighed == Some(true));
    let lefts = lefts.map(|(left, weighed)| (left - filled, weighed));
    let (state, tone) = expiry(asking, lot);
    let saying = Saying { zone_min: asking.zone_min, at_ms: asking.at_ms };
    let day = |ms: i64| day(saying, ms);
    let left = lefts.and_then(|(left, weighed)| Some(left_said(asking, weighed?, left)));
    let parts = where_used::parts_of(asking, id)?;
    let (given, role) = (given.said(asking), &lot.role);
    let left_text = left.as_ref().map(|left| format!(", {left} left")).unwrap_or_default();
    let said = format!("{role}, {state}; {given} given{left_text}; in {parts} part{}", plural(parts));
    Ok(StoreLot {
        id: id.to_owned(),
        seq: one.entry.seq,
        mark: lot.mark.clone(),
        role: lot.role.clone(),
        card: asking.judge.name(&lot.card)?,
        received: lot.received_ms.map(day),
        expires: lot.expires_ms.map(day),
        tone: tone.to_owned(),
        state,
        said,
        given,
        left,
        containers,
        parts,
    })
}

/// What of a lot went into batches as filler, mg.
fn filled(asking: &Asking, lot: &str) -> Result<i64, Error> {
    let mass = |one: &Settled| match &one.body {
        Body::Filler(filler) if filler.lot == lot => filler.mass.as_ref().map(|mass| mass.mg),
        _ => None,
    };
    Ok(asking.judge.subject(lot)?.iter().filter_map(mass).sum())
}

/// Adds what a can has left; None: some can's is not known, or they are not all measured alike.
fn and_left(sum: Option<(i64, Option<bool>)>, can: &Container, given: Given) -> Option<(i64, Option<bool>)> {
    let (sum, sort) = sum?;
    let holds = can.holds.as_ref()?;
    let weighed = matches!(holds, Amount::Mass(_));
    let alike = sort.is_none_or(|sort| sort == weighed);
    Some((sum + left(holds, given).filter(|_| alike)?, Some(weighed)))
}

fn plural(count: u64) -> &'static str {
    if count == 1 { "" } else { "s" }
}

/// A day in this computer's zone: `2026-11-24`.
fn day(saying: Saying, ms: i64) -> String {
    crate::act::instant::local_day(ms, saying.zone_min).1
}

fn expiry(asking: &Asking, lot: &Lot) -> (String, &'static str) {
    let Some(until) = lot.expires_ms else { return ("no expiry recorded".to_owned(), "doubt") };
    let days = (until - asking.at_ms).div_euclid(DAY_MS);
    match days {
        _ if until < asking.at_ms => ("expired".to_owned(), "heat"),
        0 => ("expires within a day".to_owned(), "doubt"),
        1 => ("expires in 1 day".to_owned(), "doubt"),
        days if days <= SOON_DAYS => (format!("expires in {days} days"), "doubt"),
        _ => ("in use".to_owned(), "plain"),
    }
}

fn can(asking: &Asking, id: &str, one: &Settled, can: &Container, given: Given) -> Result<StoreCan, Error> {
    let saying = Saying { zone_min: asking.zone_min, at_ms: asking.at_ms };
    let (reader, holds) = (asking.judge.reader, can.holds.as_ref());
    Ok(StoreCan {
        id: id.to_owned(),
        seq: one.entry.seq,
        mark: can.mark.clone(),
        holds: holds.map(|holds| match holds {
            Amount::Mass(mass) => reader.mass(mass.mg),
            Amount::Volume(volume) => reader.volume(volume.ul),
        }),
        given: given.said(asking),
        left: holds.and_then(|holds| Some(left_said(asking, matches!(holds, Amount::Mass(_)), left(holds, given)?))),
        stored: can.stored.as_ref().map(|place| asking.judge.name(place)).transpose()?,
        opened: can.opened_ms.map(|ms| saying.time(ms, Round::Down)),
    })
}

fn kind(asking: &Asking, id: Id, one: &Settled, kind: &Kind) -> StoreKind {
    let reader = asking.judge.reader;
    let fact =
        |label: &str, value: Option<String>, assumed: bool| StoreFact { label: label.to_owned(), value, assumed };
    let stage = |stage: &Stage| {
        let joints: Vec<&JointPlan> = stage.joints.iter().collect();
        let area = area_of(&joints).map_or("area not recorded".to_owned(), |mm2| reader.area(mm2));
        format!("{}: {} joint{}, {area}", stage.mark, joints.len(), plural(joints.len() as u64))
    };
    StoreKind {
        id,
        seq: one.entry.seq,
        mark: kind.mark.clone(),
        stages: kind.stages.iter().map(stage).collect(),
        facts: vec![
            fact("Presses a bond", Some(kind.presses.to_string()), false),
            fact("Pressure as planned", kind.pressure.as_ref().map(|it| reader.pressure(it.pa)), false),
            fact("Setting the clamps takes", kind.clamping.as_ref().map(|it| it.typed.clone()), false),
            fact(
                "Bent or sprung",
                Some(if kind.bent == Some(true) { "yes" } else { "no" }.into()),
                kind.bent.is_none(),
            ),
            fact("Hottest in service", kind.service.as_ref().map(|it| reader.temperature(it.mk)), false),
        ],
    }
}

fn instrument(id: Id, it: &Instrument) -> StoreInstrument {
    let steps = [
        it.mass_step.as_ref().map(|step| &step.typed),
        it.temperature_step.as_ref().map(|step| &step.typed),
        it.share_step.as_ref().map(|step| &step.typed),
    ];
    let errors = [
        it.mass_accuracy.as_ref().map(|error| &error.typed),
        it.temperature_accuracy.as_ref().map(|error| &error.typed),
        it.share_accuracy.as_ref().map(|error| &error.typed),
    ];
    let joined = |texts: [Option<&String>; 3]| {
        let texts: Vec<&str> = texts.into_iter().flatten().map(String::as_str).collect();
        (!texts.is_empty()).then(|| texts.join(", "))
    };
    let step = joined(steps).map_or("step not recorded".to_owned(), |step| format!("step {step}"));
    let error = joined(errors).map_or("accuracy not recorded".to_owned(), |error| format!("accuracy ±{error}"));
    StoreInstrument { name: it.name.clone(), id, said: format!("{step}; {error}"), weighs: it.mass_step.is_some() }
}
