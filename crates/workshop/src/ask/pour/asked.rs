//! What was asked about a cup: its card, what is in it, what it stands in, how warm it starts.

use crate::ask::question::Pour;
use crate::ask::{Asking, amounts};
use crate::judge::BatchStory;
use crate::judge::card::CardInForce;
use crate::judge::story::Fact;
use crate::wire::{WireError, shown};
use glue::pot::Vessel;
use glue::unit::{AirTemperature, Length, Mass, UnitError, Volume};
use logbook::entry::mix::{Batch, Mix};
use logbook::entry::typed::{self as stored, Amount, Temperature};
use logbook::entry::{Body, Entry, Id};
use logbook::store::Noun;
use std::sync::Arc;

/// A cup asked about.
pub struct Asked {
    /// Its card.
    pub card: Arc<CardInForce>,
    /// Its batch as it is in the book, or one thought of.
    pub story: BatchStory,
    /// What it stands in.
    pub vessel: Vessel,
    /// The temperature of the components was typed.
    pub typed_start: bool,
    /// Cans were named.
    pub cans: bool,
}

/// Depth of a tray, mm.
const DEPTHS_MM: (f64, f64) = (1.0, 100.0);

/// Reads the question.
///
/// Errors: `missing`, `contradicts`, `out-of-range`, `not-found`, with the field.
pub fn asked(asking: &Asking, body: &Pour) -> Result<Asked, WireError> {
    let Some(name) = &body.card else {
        let error = WireError::new("missing", "body.card is missing: which glue?", "Name a card, or a batch.");
        return Err(error.field("body.card"));
    };
    if body.measured.is_some() {
        let sentence = "body.measured is the temperature of a cup, and no batch is named.";
        return Err(WireError::new("contradicts", sentence, "Name the batch.").field("body.measured"));
    }
    let card_id = asking.find(Noun::Card, "body.card", name)?;
    let Some(card) = asking.judge.card(&card_id)? else {
        let error = WireError::new("not-found", "body.card is no card.", "Name a card.");
        return Err(error.field("body.card").value(name));
    };
    let (resin, hardener) = amounts(body)?;
    let mut containers = Vec::new();
    for (at, mark) in body.containers.iter().enumerate() {
        containers.push(asking.find(Noun::Container, &format!("body.containers[{at}]"), mark)?);
    }
    let place = body.place.as_deref().map(|name| asking.find(Noun::Place, "body.place", name)).transpose()?;
    let start =
        body.start_temperature.as_deref().map(|text| temperature("body.start_temperature", text)).transpose()?;
    let mix = Mix {
        batch: String::new(),
        card: card_id,
        containers,
        containers_from: None,
        resin: Some(resin),
        hardener: Some(hardener),
        weighing: None,
        totals: None,
        start_temperature: start,
        instrument: None,
        place,
        place_from: None,
        judged: None,
    };
    Ok(Asked {
        card,
        vessel: body.vessel.as_deref().map_or(Ok(Vessel::Cup), vessel)?,
        typed_start: mix.start_temperature.is_some(),
        cans: !mix.containers.is_empty(),
        story: thought_of(asking, mix),
    })
}

/// Reads the question about a batch.
///
/// Errors: `not-found`; `contradicts` where what the batch says itself is said again.
pub fn of_batch(asking: &Asking, body: &Pour, batch: &str) -> Result<Asked, WireError> {
    let again = [
        ("card", &body.card),
        ("mass", &body.mass),
        ("resin", &body.resin),
        ("hardener", &body.hardener),
        ("place", &body.place),
        ("start_temperature", &body.start_temperature),
    ];
    if let Some((field, _)) = again.into_iter().find(|(_, value)| value.is_some()) {
        let sentence = format!("body.{field} is given, and body.batch says it itself.");
        let error = WireError::new("contradicts", sentence, "Leave it out, or ask without a batch.");
        return Err(error.field(format!("body.{field}")));
    }
    let id = asking.find(Noun::Batch, "body.batch", batch)?;
    let story = asking.judge.batch(&id)?;
    let Some((story, card)) = story.as_deref().zip(story.as_deref().map_or(Ok(None), |it| asking.judge.card_of(it))?)
    else {
        let sentence = "body.batch has no mix yet: which glue it is, is not recorded.";
        return Err(WireError::new("not-found", sentence, "Tell the mix first.").field("body.batch").value(batch));
    };
    let mixes = || story.mixes.iter().map(|(_, one)| &one.what);
    Ok(Asked {
        card,
        vessel: body.vessel.as_deref().map_or(Ok(Vessel::Cup), vessel)?,
        typed_start: mixes().any(|mix| mix.start_temperature.is_some()),
        cans: mixes().any(|mix| !mix.containers.is_empty()),
        story: story.clone(),
    })
}

/// Resin and hardener; a mass of both counts as resin, which changes nothing: only their sum is asked for.
fn amounts(body: &Pour) -> Result<(Amount, Amount), WireError> {
    let both = (body.resin.as_deref(), body.hardener.as_deref());
    match (body.mass.as_deref(), both) {
        (Some(mass), (None, None)) => Ok((amount("body.mass", mass)?, nothing())),
        (None, (Some(resin), Some(hardener))) => Ok((amount("body.resin", resin)?, amount("body.hardener", hardener)?)),
        (None, _) => Err(WireError::new(
            "missing",
            "body.mass is missing: how much is in the cup?",
            "Give mass, or resin and hardener.",
        )
        .field("body.mass")),
        _ => Err(WireError::new(
            "contradicts",
            "body gives the mass and its components.",
            "Give mass, or resin and hardener, not both.",
        )
        .field("body.mass")),
    }
}

fn nothing() -> Amount {
    Amount::Mass(stored::Mass { mg: 0, typed: "0 g".to_owned(), step_mg: None, by: None })
}

fn amount(field: &str, text: &str) -> Result<Amount, WireError> {
    let typed = text.to_owned();
    if Volume::knows_unit_of(text) {
        let read = Volume::parse(text).map_err(|error| amounts::refused(field, text, &error))?;
        return Ok(Amount::Volume(stored::Volume { ul: read.value.ul(), typed, step_ul: None, by: None }));
    }
    let read = Mass::parse(text).map_err(|error| amounts::refused(field, text, &error))?;
    Ok(Amount::Mass(stored::Mass { mg: read.value.mg(), typed, step_mg: None, by: None }))
}

fn temperature(field: &str, text: &str) -> Result<Temperature, WireError> {
    let read = AirTemperature::parse(text).map_err(|error| unread(field, text, &error, AirTemperature::RANGE))?;
    Ok(Temperature { mk: read.value.mk(), typed: text.to_owned(), step_mk: Some(read.step), by: None })
}

/// Why a temperature was refused.
pub fn unread(field: &str, text: &str, error: &UnitError, range: &str) -> WireError {
    let code = if matches!(error, UnitError::UnitMissing { .. }) { "missing" } else { "out-of-range" };
    let sentence = format!("{field} \"{}\" {error}; it takes {range}.", shown(text));
    WireError::new(code, sentence, "Write a number and its unit.").field(field).value(text).range(range)
}

/// `cup`, or `tray:6mm`.
fn vessel(text: &str) -> Result<Vessel, WireError> {
    let (field, range) = ("body.vessel", "cup, or tray:6mm with 1 to 100 mm");
    let wrong = || {
        let sentence = format!("{field} is \"{}\"; it takes {range}.", shown(text));
        let error = WireError::new("out-of-range", sentence, "Write cup, or tray: and the depth of the glue.");
        error.field(field).value(text).range(range)
    };
    if text.trim() == "cup" {
        return Ok(Vessel::Cup);
    }
    let depth = text.trim().strip_prefix("tray:").ok_or_else(wrong)?;
    let read = Length::parse(depth.trim()).map_err(|_| wrong())?;
    let mm = read.value.um() as f64 / 1000.0;
    if (DEPTHS_MM.0..=DEPTHS_MM.1).contains(&mm) { Ok(Vessel::Tray(mm / 1000.0)) } else { Err(wrong()) }
}

/// A batch whose hardener goes in now; it is in no book.
fn thought_of(asking: &Asking, mix: Mix) -> BatchStory {
    let made = Entry {
        about: Vec::new(),
        act: String::new(),
        body: Body::Batch(Batch { name: String::new(), day: String::new() }),
        boot: String::new(),
        boot_ms: 0,
        corrects: None,
        entered_ms: asking.at_ms,
        happened_ms: asking.at_ms,
        id: Id::new(),
        log: Id::new(),
        order_ms: asking.at_ms,
        person: None,
        seq: 0,
        why: None,
        zone_min: asking.zone_min,
    };
    BatchStory {
        id: Id::new(),
        name: String::new(),
        day: String::new(),
        hardener_in: Some(Fact { at_ms: asking.at_ms, what: (), entry: made.clone() }),
        mixes: vec![(false, Fact { at_ms: asking.at_ms, what: mix, entry: made.clone() })],
        made,
        fillers: Vec::new(),
        thrown: Vec::new(),
        cups: Vec::new(),
        pot_done: Vec::new(),
        bonds: Vec::new(),
    }
}
