//! What would hold a mix from these cans, here and now: lots, temperature, humidity, wood moisture. It stops nobody.

use super::Asking;
use super::answer::{GateAnswer, GateLine, GateNote};
use super::gate_wood::{self, Here};
use super::question::Gate;
use crate::judge::card::CardInForce;
use crate::judge::words::{Round, Saying};
use crate::reader::Reader;
use crate::wire::WireError;
use logbook::entry::card::Lot;
use logbook::entry::place::Reading;
use logbook::entry::typed::{Share, Temperature};
use logbook::entry::{Body, Id};
use logbook::settled::settle;
use logbook::store::{Error, Noun};
use std::collections::BTreeSet;

/// A reading older than this says nothing about now, ms (a working session).
const FRESH_MS: i64 = 4 * 3_600_000;

#[derive(Default)]
struct Bars {
    held_by: Vec<GateLine>,
    notes: Vec<GateNote>,
    unknown: Vec<String>,
}

impl Bars {
    fn bar(&mut self, what: &str, sentence: String, opens: String) {
        self.held_by.push(GateLine { what: what.to_owned(), sentence, opens });
    }
}

/// Answers `gate`.
pub fn gate(asking: &Asking, asked: &Gate) -> Result<GateAnswer, WireError> {
    let mut bars = Bars::default();
    let lots = lots(asking, asked)?;
    let card = card(asking, asked, &lots)?;
    for lot in &lots {
        lot_bars(asking, lot, card.as_ref(), &mut bars)?;
    }
    roles(&lots, &mut bars);
    let place = place(asking, asked, &mut bars)?;
    match (&card, &place) {
        (Some(card), Some(place)) => air_bars(asking, card, place, &mut bars)?,
        (None, _) => bars.unknown.push("no card is known for this mix, so no limits either".to_owned()),
        (Some(_), None) => {}
    }
    bars.held_by.sort();
    Ok(GateAnswer { open: bars.held_by.is_empty(), held_by: bars.held_by, notes: bars.notes, unknown: bars.unknown })
}

fn lots(asking: &Asking, asked: &Gate) -> Result<Vec<Lot>, WireError> {
    let mut ids: BTreeSet<Id> = BTreeSet::new();
    for mark in &asked.lots {
        ids.insert(asking.find(Noun::Lot, "body.lots", mark)?);
    }
    for mark in &asked.containers {
        let can = asking.find(Noun::Container, "body.containers", mark)?;
        if let Some(one) = asking.judge.in_force(&can)?
            && let Body::Container(can) = &one.body
        {
            ids.insert(can.lot.clone());
        }
    }
    let mut lots = Vec::new();
    for id in ids {
        if let Some(one) = asking.judge.in_force(&id)?
            && let Body::Lot(lot) = &one.body
        {
            lots.push(lot.clone());
        }
    }
    Ok(lots)
}

fn card(asking: &Asking, asked: &Gate, lots: &[Lot]) -> Result<Option<CardInForce>, WireError> {
    let id = match (&asked.card, lots.iter().find(|lot| lot.role != "filler")) {
        (Some(name), _) => asking.find(Noun::Card, "body.card", name)?,
        (None, Some(lot)) => lot.card.clone(),
        (None, None) => return Ok(None),
    };
    Ok(asking.judge.card(&id)?.map(|card| (*card).clone()))
}

fn lot_bars(asking: &Asking, lot: &Lot, card: Option<&CardInForce>, bars: &mut Bars) -> Result<(), Error> {
    let saying = Saying { zone_min: asking.zone_min, at_ms: asking.at_ms };
    if let Some(until) = lot.expires_ms.filter(|until| asking.at_ms > *until) {
        let sentence = format!("{} lot {} expired {}", lot.role, lot.mark, saying.time(until, Round::Down));
        bars.bar("lot", sentence, format!("another lot of {}", lot.role));
    }
    if let Some(card) = card.filter(|_| lot.role != "filler")
        && asking.judge.adhesive(&lot.card)? != asking.judge.adhesive(&card.id)?
    {
        let sentence = format!("{} lot {} belongs to another adhesive than {}", lot.role, lot.mark, card.stored.name);
        bars.bar("lot", sentence, format!("a {} lot of {}", lot.role, card.stored.name));
    }
    Ok(())
}

fn roles(lots: &[Lot], bars: &mut Bars) {
    for role in ["resin", "hardener"] {
        if !lots.is_empty() && lots.iter().all(|lot| lot.role != role) {
            bars.bar("lot", format!("no {role} lot is named"), format!("scan or name the can of {role}"));
        }
    }
}

fn place(asking: &Asking, asked: &Gate, bars: &mut Bars) -> Result<Option<Id>, WireError> {
    if let Some(name) = &asked.place {
        return Ok(Some(asking.find(Noun::Place, "body.place", name)?));
    }
    let all = asking.book.list(Noun::Place)?;
    if let [(_, only)] = all.as_slice() {
        return Ok(Some(only.clone()));
    }
    bars.unknown.push("no place is named, so neither temperature nor moisture is known".to_owned());
    Ok(None)
}

fn air_bars(asking: &Asking, card: &CardInForce, place: &str, bars: &mut Bars) -> Result<(), Error> {
    let at_ms = asking.at_ms;
    let mut readings: Vec<(i64, Reading)> =
        settle(&asking.book.hand_readings(place, at_ms - FRESH_MS, at_ms)?, asking.judge.seen)
            .into_iter()
            .filter(|one| at_ms - one.happened_ms <= FRESH_MS)
            .filter_map(|one| match one.body {
                Body::Reading(reading) if reading.place == place => Some((one.happened_ms, reading)),
                _ => None,
            })
            .collect();
    readings.sort_by_key(|(at, _)| *at);
    let files = asking.book.minutes(place, at_ms - FRESH_MS, at_ms, asking.judge.seen.known_ms)?;
    let minute = files.iter().filter_map(|source| source.minutes.last()).max_by_key(|it| it.at_ms);
    let hand = readings.last();
    let newer = minute.filter(|minute| hand.is_none_or(|(at, _)| minute.at_ms >= *at));
    let temperature = newer.map(|it| it.mean_mk).or(hand.map(|(_, it)| it.temperature.mk));
    let humidity =
        newer.and_then(|it| it.humidity_ppm).or(hand.and_then(|(_, it)| it.humidity.as_ref().map(|it| it.ppm)));
    let here = Here { place, readings: &readings, mk: temperature, humidity_ppm: humidity };
    bars.notes = gate_wood::notes(asking, &here)?;
    let moisture = readings.iter().rev().find_map(|(_, it)| it.wood_moisture.as_ref().map(|it| it.ppm));
    let stored = &card.stored;
    let limits = (stored.application_minimum.as_ref(), stored.application_maximum.as_ref());
    temperature_bar(temperature, limits, asking.judge.reader, bars);
    share_bar(
        "humidity",
        "air humidity",
        humidity,
        (stored.humidity_minimum.as_ref(), stored.humidity_maximum.as_ref()),
        bars,
    );
    share_bar(
        "moisture",
        "wood moisture",
        moisture,
        (stored.moisture_minimum.as_ref(), stored.moisture_maximum.as_ref()),
        bars,
    );
    Ok(())
}

fn temperature_bar(
    mk: Option<i64>,
    (low, high): (Option<&Temperature>, Option<&Temperature>),
    reader: Reader,
    bars: &mut Bars,
) {
    let Some(mk) = mk else {
        return bars.unknown.push("temperature here was not read in the last 4 h: read the thermometer".to_owned());
    };
    if let Some(low) = low.filter(|low| mk < low.mk) {
        let least = reader.temperature(low.mk);
        let sentence = format!("it is {} here, the card asks for {least} or more", reader.temperature(mk));
        bars.bar("temperature", sentence, format!("warm the place to {least}"));
    }
    if let Some(high) = high.filter(|high| mk > high.mk) {
        let most = reader.temperature(high.mk);
        let sentence = format!("it is {} here, the card allows {most} at most", reader.temperature(mk));
        bars.bar("temperature", sentence, format!("cool the place to {most}"));
    }
}

fn share_bar(what: &str, name: &str, ppm: Option<i64>, (low, high): (Option<&Share>, Option<&Share>), bars: &mut Bars) {
    if low.is_none() && high.is_none() {
        return;
    }
    let Some(ppm) = ppm else {
        return bars.unknown.push(format!("{name} here was not read in the last 4 h"));
    };
    let percent = crate::judge::words::percent(ppm);
    if let Some(low) = low.filter(|low| ppm < low.ppm) {
        bars.bar(
            what,
            format!("{name} is {percent}, the card asks for {} or more", low.typed),
            format!("{name} of {} or more", low.typed),
        );
    }
    if let Some(high) = high.filter(|high| ppm > high.ppm) {
        bars.bar(
            what,
            format!("{name} is {percent}, the card allows {} at most", high.typed),
            format!("{name} of {} or less", high.typed),
        );
    }
}
