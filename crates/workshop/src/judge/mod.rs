//! What is judged from the record: a bond's story, its clocks, its findings. Nothing here is stored as truth.
//!
//! A [`Judge`] answers for one moment of the book: what happened until `seen.at_ms` among what was entered until
//! `seen.known_ms`. It keeps what it has read for as long as one question lasts.

mod aged;
pub mod air;
pub mod batch;
pub mod card;
pub mod clocks;
pub mod cured;
mod cured_rates;
pub mod cured_said;
pub mod findings;
mod found;
pub mod live;
pub mod lots;

pub mod path;
pub mod pots;
pub mod prepared;
mod pressed;
pub mod rest;
pub mod said;
pub mod span;
pub mod story;
mod stretches;
pub mod words;

pub use batch::BatchStory;
pub use findings::{BondState, Finding, Judged};
pub use prepared::{Prepared, Reckoned};

pub use story::BondStory;

use crate::reader::Reader;
use crate::time::Axis;
use card::CardInForce;
use logbook::entry::{Body, Entry, Id};
use logbook::settled::{Seen, Settled, settle};
use logbook::store::{Book, Error};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;

/// A book as seen at one moment.
pub struct Judge<'a> {
    pub(crate) book: &'a Book,
    pub(crate) seen: Seen,
    pub(crate) axis: &'a Axis,
    zone_min: Option<i32>,
    pub(crate) reader: Reader,
    stories: RefCell<BTreeMap<Id, Option<Arc<BondStory>>>>,
    batches: RefCell<BTreeMap<Id, Option<Arc<BatchStory>>>>,
    cards: RefCell<BTreeMap<Id, Option<Arc<CardInForce>>>>,
    settled: RefCell<BTreeMap<Id, Option<Arc<Settled>>>>,
    airs: RefCell<BTreeMap<Id, Arc<air::PlaceAir>>>,
    resting: RefCell<Option<Rc<rest::AtRest>>>,
}

/// All clocks of a bond, in the order of its life.
pub fn clocks_of_bond(book: &Book, bond: &str, seen: Seen, axis: &Axis) -> Result<Vec<Reckoned>, Error> {
    Judge::new(book, seen, axis).clocks_of_bond(bond)
}

/// What a bond owes, in sentences ("bond 47: squeeze-out not recorded").
pub fn owed(book: &Book, bond: &str, seen: Seen, axis: &Axis) -> Result<Vec<String>, Error> {
    Judge::new(book, seen, axis).owed(bond)
}

/// Every clock that may still matter: of live bonds, and pots of live batches.
pub fn live_clocks(book: &Book, seen: Seen, axis: &Axis) -> Result<Vec<Reckoned>, Error> {
    Judge::new(book, seen, axis).live_clocks()
}

impl<'a> Judge<'a> {
    /// A judge of a book at one moment.
    pub fn new(book: &'a Book, seen: Seen, axis: &'a Axis) -> Judge<'a> {
        Judge {
            book,
            seen,
            axis,
            zone_min: None,
            reader: Reader::default(),
            stories: RefCell::default(),
            batches: RefCell::default(),
            cards: RefCell::default(),
            settled: RefCell::default(),
            airs: RefCell::default(),
            resting: RefCell::default(),
        }
    }

    /// The same, with sentences in this computer's zone (minutes east of Greenwich) instead of each entry's own.
    pub fn in_zone(mut self, zone_min: i32) -> Judge<'a> {
        self.zone_min = Some(zone_min);
        self
    }

    /// The same, with sentences in these units.
    pub fn for_reader(mut self, reader: Reader) -> Judge<'a> {
        self.reader = reader;
        self
    }

    /// Zone in which times about an entry are said.
    pub(crate) fn zone(&self, entry: &Entry) -> i32 {
        self.zone_min.unwrap_or(entry.zone_min)
    }

    /// Settled entries naming a subject.
    pub fn subject(&self, id: &str) -> Result<Vec<Settled>, Error> {
        Ok(settle(&self.book.naming(id)?, self.seen))
    }

    /// One thing as it is in force: its making, corrections applied; None: withdrawn, unknown, or not yet there.
    pub fn in_force(&self, id: &str) -> Result<Option<Arc<Settled>>, Error> {
        if let Some(known) = self.settled.borrow().get(id) {
            return Ok(known.clone());
        }
        let versions = self.book.versions(id)?;
        let found = settle(&versions, self.seen).into_iter().find(|one| one.entry.id == id).map(Arc::new);
        self.settled.borrow_mut().insert(id.to_owned(), found.clone());
        Ok(found)
    }

    /// A bond's story; None: there is no such bond in what is seen.
    pub fn bond(&self, id: &str) -> Result<Option<Arc<BondStory>>, Error> {
        if let Some(known) = self.stories.borrow().get(id) {
            return Ok(known.clone());
        }
        let story = BondStory::fold(id, &self.subject(id)?).map(Arc::new);
        self.stories.borrow_mut().insert(id.to_owned(), story.clone());
        Ok(story)
    }

    /// A batch's story; None: there is no such batch in what is seen.
    pub fn batch(&self, id: &str) -> Result<Option<Arc<BatchStory>>, Error> {
        if let Some(known) = self.batches.borrow().get(id) {
            return Ok(known.clone());
        }
        let story = BatchStory::fold(id, &self.subject(id)?).map(Arc::new);
        self.batches.borrow_mut().insert(id.to_owned(), story.clone());
        Ok(story)
    }

    /// A card as the clocks need it; None: no such card.
    pub fn card(&self, id: &str) -> Result<Option<Arc<CardInForce>>, Error> {
        if let Some(known) = self.cards.borrow().get(id) {
            return Ok(known.clone());
        }
        let card = self.in_force(id)?.and_then(|one| CardInForce::of(&one)).map(Arc::new);
        self.cards.borrow_mut().insert(id.to_owned(), card.clone());
        Ok(card)
    }

    /// The batches a bond names, in the order they were spread.
    pub fn batches_of(&self, story: &BondStory) -> Result<Vec<Arc<BatchStory>>, Error> {
        let mut batches: Vec<Arc<BatchStory>> = Vec::new();
        for used in &story.bond.batches {
            if let Some(batch) = self.batch(&used.batch)?
                && batches.iter().all(|known| known.id != batch.id)
            {
                batches.push(batch);
            }
        }
        Ok(batches)
    }

    /// The name or mark of anything; its id where it has none.
    pub fn name(&self, id: &str) -> Result<String, Error> {
        let Some(one) = self.in_force(id)? else {
            return Ok(id.to_owned());
        };
        Ok(match &one.body {
            Body::Person(it) => it.name.clone(),
            Body::Place(it) => it.name.clone(),
            Body::Instrument(it) => it.name.clone(),
            Body::Card(it) => it.name.clone(),
            Body::Lot(it) => it.mark.clone(),
            Body::Container(it) => it.mark.clone(),
            Body::Kind(it) => it.mark.clone(),
            Body::Part(it) => it.mark.clone(),
            Body::Batch(it) => it.name.clone(),
            Body::Bond(it) => it.number.to_string(),
            _ => id.to_owned(),
        })
    }
}
