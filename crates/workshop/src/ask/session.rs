//! What a working session hands on: who acts, where, with which wood and which cans. The rules are those by which an
//! act inherits; this page only says what they would give now.

use super::Asking;
use super::answer::{Named, SessionAnswer, SessionCan, SessionMoisture};
use super::question::SessionAsked;
use crate::act::{desk, session};
use crate::judge::words::stretch;
use crate::wire::WireError;
use logbook::entry::typed::Taken;
use logbook::entry::{Body, Id};
use logbook::settled::{Settled, settle};
use logbook::store::{Error, Noun};

/// Answers `session`.
pub fn session(asking: &Asking, asked: &SessionAsked) -> Result<SessionAnswer, WireError> {
    let recent = settle(&desk::recent_tail(asking.book, asking.at_ms)?, asking.judge.seen);
    let person = match &asked.person {
        Some(typed) => Some(asking.find(Noun::Person, "body.person", typed)?),
        None => last_person(asking, &recent),
    };
    let who = person.as_ref();
    let place = session::place_among(&recent, who, asking.at_ms);
    let moisture = session::moisture_among(&recent, who, asking.at_ms);
    let card = session::newest(&recent, who, asking.at_ms, |body| match body {
        Body::Mix(mix) | Body::TopUp(mix) => Some(mix.card.clone()),
        _ => None,
    });
    Ok(SessionAnswer {
        person: who.map(|id| asking.named(id)).transpose()?,
        place_said: place.as_ref().map(|(_, taken)| said(asking, "named", taken)).transpose()?,
        place: place.map(|(id, _)| asking.named(&id)).transpose()?,
        moisture: moisture
            .map(|(share, taken)| {
                said(asking, "measured", &taken).map(|said| SessionMoisture {
                    value: share.typed,
                    said,
                    age_ms: taken.age_ms,
                })
            })
            .transpose()?,
        containers: cans(asking, &recent, who)?,
        card: card.map(|(id, _)| asking.named(&id)).transpose()?,
        people: asking.names(Noun::Person)?,
        places: asking.names(Noun::Place)?,
        instruments: asking.names(Noun::Instrument)?,
    })
}

/// Who acted last within the session.
fn last_person(asking: &Asking, recent: &[Settled]) -> Option<Id> {
    let of_session = |one: &&Settled| one.happened_ms > asking.at_ms - session::SESSION_MS;
    let acted = recent.iter().filter(of_session).filter(|one| one.entry.person.is_some());
    let last = acted.max_by_key(|one| (one.entry.order_ms, one.entry.seq));
    last.and_then(|one| one.entry.person.clone())
}

/// "measured 3 h ago on pile 4".
fn said(asking: &Asking, word: &str, taken: &Taken) -> Result<String, Error> {
    let one = asking.judge.in_force(&taken.entry)?;
    let at = match one.as_ref().map(|one| &one.body) {
        Some(Body::Reading(reading)) => format!(" on {}", asking.judge.name(&reading.place)?),
        Some(Body::Vouch(vouch)) => format!(" for {}", asking.judge.name(&vouch.place)?),
        Some(Body::Bond(bond)) => format!(" with bond {}", bond.number),
        Some(Body::Mix(mix) | Body::TopUp(mix)) => format!(" with batch {}", asking.judge.name(&mix.batch)?),
        _ => String::new(),
    };
    Ok(format!("{word} {} ago{at}", stretch(taken.age_ms)))
}

/// Every can, those that a mix without cans would take first.
fn cans(asking: &Asking, recent: &[Settled], person: Option<&Id>) -> Result<Vec<SessionCan>, Error> {
    let mut confirmed: Vec<(Id, Taken)> = Vec::new();
    for (_, card) in asking.book.list(Noun::Card)? {
        if let Some((cans, taken)) = session::cans_among(recent, person, asking.at_ms, &card) {
            confirmed.extend(cans.into_iter().map(|can| (can, taken.clone())));
        }
    }
    let mut cans = Vec::new();
    for (_, id) in asking.book.list(Noun::Container)? {
        let taken = confirmed.iter().find(|(can, _)| *can == id).map(|(_, taken)| taken);
        cans.extend(can(asking, &id, taken)?);
    }
    cans.sort_by_key(|can| !can.confirmed);
    Ok(cans)
}

fn can(asking: &Asking, id: &str, taken: Option<&Taken>) -> Result<Option<SessionCan>, Error> {
    let Some(one) = asking.judge.in_force(id)? else { return Ok(None) };
    let Body::Container(can) = &one.body else { return Ok(None) };
    let lot = asking.judge.in_force(&can.lot)?;
    let Some(Body::Lot(lot)) = lot.as_ref().map(|one| &one.body) else { return Ok(None) };
    Ok(Some(SessionCan {
        mark: can.mark.clone(),
        id: id.to_owned(),
        lot: lot.mark.clone(),
        role: lot.role.clone(),
        card: asking.judge.name(&lot.card)?,
        card_id: lot.card.clone(),
        confirmed: taken.is_some(),
        said: match taken {
            Some(taken) => said(asking, "confirmed", taken)?,
            None => "not confirmed in this session".to_owned(),
        },
    }))
}

impl Asking<'_> {
    /// A thing with its name.
    pub fn named(&self, id: &str) -> Result<Named, Error> {
        Ok(Named { name: self.judge.name(id)?, id: id.to_owned() })
    }

    /// Things of a noun that exist at the moment asked about, with the names they bear then, in order of making.
    pub fn all(&self, noun: Noun) -> Result<Vec<(Id, std::sync::Arc<Settled>)>, Error> {
        let mut all = Vec::new();
        for (_, id) in self.book.list(noun)? {
            if let Some(one) = self.judge.in_force(&id)? {
                all.push((id, one));
            }
        }
        Ok(all)
    }

    /// Names of all things of a noun, in order of making.
    pub fn names(&self, noun: Noun) -> Result<Vec<String>, Error> {
        self.all(noun)?.iter().map(|(id, _)| self.judge.name(id)).collect()
    }
}
