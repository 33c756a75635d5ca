//! How cured a bond is: share reacted and glass transition, with diffusion in the way, along the temperatures its glue
//! line went through from *All tight* on. By model, not by test; it changes no clock and no state.

use super::card::CardInForce;
use super::cured_said;
use super::path::Path;
use super::story::BondStory;
use super::{Judge, cured_rates};
use crate::reader::Reader;
use glue::card::Class;
use glue::clock::{Stay, Wood};
use glue::cure::glass::{GENERIC, Glass};
use glue::cure::line::course;
use logbook::entry::{Body, Id};
use logbook::store::Error;
use std::sync::{Arc, Mutex, PoisonError};

pub use cured_rates::{OfCard, Rates};

/// So long from *All tight*, and from the last move, the glue line is followed, ms: beyond, a glass that is not warmed
/// gains about two kelvin a month (`glass.csv`).
const FOLLOWED_MS: i64 = 14 * 24 * 3_600_000;
/// A glue's transition is told no higher than the warmest it was cured at plus this, K (docs/science/cured-state.md).
const ABOVE_K: (f64, f64) = (10.0, 20.0);

/// Everything it rests on, read from the book once.
#[derive(Debug)]
pub struct CureOn {
    /// The first *All tight*, ms; None: not recorded.
    pub since_ms: Option<i64>,
    /// Followed until, ms.
    pub until_ms: i64,
    /// Where it was.
    pub path: Path,
    /// Wood.
    pub wood: Wood,
    /// The cards of its batches, once each.
    pub cards: Vec<Arc<CardInForce>>,
    /// The hottest in service that was named for any of its parts: mk, and the part's mark.
    pub service: Option<(i64, String)>,
    /// Zone its times are said in, minutes east.
    pub zone_min: i32,
    /// Units it is said in.
    pub reader: Reader,
    kept: Mutex<Option<(i64, HowCured)>>,
}

/// How cured, or why that cannot be told.
#[derive(Clone, Debug, PartialEq)]
pub enum HowCured {
    /// By the model.
    Told(Cured),
    /// In words.
    CannotTell(String),
}

/// A glue line by the model.
#[derive(Clone, Debug, PartialEq)]
pub struct Cured {
    /// Counted from, ms.
    pub since_ms: i64,
    /// Counted until, ms.
    pub until_ms: i64,
    /// Share reacted, 0 to 1.
    pub conversion: f64,
    /// Glass transition, least and greatest, K.
    pub glass_k: (f64, f64),
    /// Only warmth takes it further.
    pub stalled: bool,
    /// The glue line now, K.
    pub line_k: f64,
    /// The warmest it was, K.
    pub highest_k: f64,
    /// Without a reading, the last temperature taken to go on, ms.
    pub held_ms: i64,
    /// Before any reading, not counted, ms.
    pub unknown_ms: i64,
    /// Of which glue: the one that is least cured.
    pub of: OfCard,
}

impl Judge<'_> {
    /// What is needed to tell how cured a bond is.
    pub fn cure_on(&self, story: &BondStory) -> Result<CureOn, Error> {
        let since_ms = story.first("all-tight").map(|one| one.at_ms);
        let moved_ms = story.moves.last().map(|one| one.at_ms);
        let followed = since_ms.max(moved_ms).unwrap_or(self.seen.at_ms).saturating_add(FOLLOWED_MS);
        let path = match since_ms {
            Some(since) => self.path(&self.places(story)?, since, followed.min(self.seen.at_ms))?,
            None => Path::new(),
        };
        let mut cards: Vec<Arc<CardInForce>> = Vec::new();
        for batch in self.batches_of(story)? {
            let card = self.card_of(&batch)?;
            cards.extend(card.filter(|card| cards.iter().all(|known| known.id != card.id)));
        }
        Ok(CureOn {
            since_ms,
            until_ms: followed,
            path,
            wood: self.wood(story, since_ms.unwrap_or(self.seen.at_ms))?,
            cards,
            service: self.service(story)?,
            zone_min: self.zone(&story.made),
            reader: self.reader,
            kept: Mutex::default(),
        })
    }

    /// The hottest in service named for any part of a bond; a part's own goes before its kind's.
    fn service(&self, story: &BondStory) -> Result<Option<(i64, String)>, Error> {
        let mut hottest: Option<(i64, String)> = None;
        for part in story.parts() {
            let Some(mk) = self.service_of(&part)? else { continue };
            if hottest.as_ref().is_none_or(|(known, _)| mk > *known) {
                hottest = Some((mk, self.name(&part)?));
            }
        }
        Ok(hottest)
    }

    fn service_of(&self, part: &Id) -> Result<Option<i64>, Error> {
        let own = self.in_force(part)?.and_then(|one| match &one.body {
            Body::Part(part) => part.service.as_ref().map(|it| it.mk),
            _ => None,
        });
        Ok(match own {
            Some(mk) => Some(mk),
            None => self.kind_of(part)?.and_then(|kind| kind.service).map(|it| it.mk),
        })
    }
}

impl CureOn {
    /// How cured at an instant. Asked again for the same instant it is not computed again.
    pub fn tell(&self, at_ms: i64) -> HowCured {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        match &*kept {
            Some((known, told)) if *known == at_ms => told.clone(),
            _ => {
                let told = self.reckon(at_ms).map_or_else(HowCured::CannotTell, HowCured::Told);
                *kept = Some((at_ms, told.clone()));
                told
            }
        }
    }

    fn reckon(&self, at_ms: i64) -> Result<Cured, String> {
        let Some(since_ms) = self.since_ms.filter(|since| *since <= at_ms) else {
            return Err("All tight is not recorded".to_owned());
        };
        if self.cards.is_empty() {
            return Err("no mix is recorded, so no card is in force".to_owned());
        }
        if let Some(other) = self.cards.iter().find(|card| card.glue.class != Class::Epoxy) {
            let (name, class) = (&other.stored.name, &other.stored.class);
            return Err(format!("the model knows epoxies only, and {name} is entered as {class}"));
        }
        let until_ms = at_ms.min(self.until_ms);
        let path: Vec<Stay<'_>> = self
            .path
            .iter()
            .map(|(from_ms, air)| Stay { from_ms: *from_ms, air: air.as_ref().map(|it| &it.air) })
            .collect();
        let Some(line) = course(&path, &self.wood, (since_ms, until_ms)) else {
            return Err("no temperature is recorded from All tight on".to_owned());
        };
        let mut least: Option<(f64, bool, OfCard)> = None;
        for card in &self.cards {
            let of = OfCard::of(card);
            let state =
                of.glass.after(&of.kinetics, &line.stages).map_err(|why| format!("the model gives up: {why}"))?;
            if least.as_ref().is_none_or(|known| state.conversion < known.0) {
                least = Some((state.conversion, state.stalled, of));
            }
        }
        let Some((conversion, stalled, of)) = least else { return Err("no card is in force".to_owned()) };
        Ok(Cured {
            since_ms,
            until_ms,
            conversion,
            glass_k: span(&of.glass, conversion, line.highest_k),
            stalled,
            line_k: line.now_k,
            highest_k: line.highest_k,
            held_ms: line.held_ms as i64,
            unknown_ms: line.unknown_ms as i64,
            of,
        })
    }

    /// In a sentence, with a capital letter and a full stop.
    pub fn said(&self, told: &HowCured) -> String {
        cured_said::said(told, self.reader)
    }

    /// What it rests on, in sentences; the first is who decides.
    pub fn rests_on(&self, told: &HowCured) -> Vec<String> {
        match told {
            HowCured::Told(cured) => cured_said::rests_on(cured, self),
            HowCured::CannotTell(_) => Vec::new(),
        }
    }

    /// What the service asks for and this glue line does not give; None: nothing to say.
    pub fn caution(&self, told: &HowCured) -> Option<String> {
        match told {
            HowCured::Told(cured) => cured_said::caution(cured, self.service.as_ref(), self.reader),
            HowCured::CannotTell(_) => None,
        }
    }
}

/// The least and the greatest transition told of a share, K: the model's own, and no more than ten to twenty kelvin over
/// the warmest cure.
pub fn span(glass: &Glass, conversion: f64, highest_k: f64) -> (f64, f64) {
    let kinetic = glass.transition(conversion);
    (kinetic.min(highest_k + ABOVE_K.0), kinetic.min(highest_k + ABOVE_K.1))
}

/// The glass of a card: its own, else the generic one; whether it is its own.
pub fn glass_of(card: &CardInForce) -> (Glass, bool) {
    match &card.glue.glass {
        Some(stated) => {
            let fresh_k = stated.fresh_k.unwrap_or(GENERIC.fresh_k);
            (Glass { fresh_k, full_k: stated.full_k, ..GENERIC }, true)
        }
        None => (GENERIC, false),
    }
}
