//! The clocks of a bond and of a pot: where each starts and ends, on which card, in which air; the worst of several.

pub use super::prepared::{Kept, Prepared, Reckoned, assumed, band_word, counted, law_word, state_word};

use super::batch::BatchStory;
use super::card::CardInForce;
use super::path::{Path, Places, WOOD_AGE_MS};
use super::prepared::{LONG_MS, worst};
use super::story::BondStory;
use super::{Judge, said};
use glue::clock::{Charge, Clock, Direction, Shorter, State, Wood, carried_open_to_closed, start_ms};
use logbook::entry::Id;
use logbook::store::Error;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A joint is closed within a day of its glue, ms.
const DAY_MS: i64 = 24 * 3_600_000;

/// Batches of a bond that share one card: the hardener of the oldest counts.
#[derive(Default)]
struct OnCard {
    card: Option<Arc<CardInForce>>,
    hardener_in_ms: Option<i64>,
    oldest: Option<Arc<BatchStory>>,
}

impl Judge<'_> {
    /// All clocks of a bond, in the order of its life. A bond on several batches or cards shows the worst of each
    /// clock; further pots stand under their batch's name.
    pub fn clocks_of_bond(&self, bond: &str) -> Result<Vec<Reckoned>, Error> {
        let Some(story) = self.bond(bond)? else {
            return Ok(Vec::new());
        };
        self.read_ahead(&story)?;
        let mut clocks = self.pots_of(&story)?;
        let open = self.worst_of(&story, Clock::Open, [0.0; 3])?;
        let share = |open: &Reckoned| open.on.card.as_ref().map(|card| carried_open_to_closed(&card.glue, &open.told));
        let carried = open.as_ref().and_then(share).unwrap_or([0.0; 3]);
        clocks.extend(open);
        for clock in
            [Clock::Closed, Clock::FreshSurface, Clock::GlueAgain, Clock::Clamp, Clock::Machining, Clock::FullCure]
        {
            clocks.extend(self.worst_of(&story, clock, if clock == Clock::Closed { carried } else { [0.0; 3] })?);
        }
        said::say_all(&mut clocks, self.seen.at_ms);
        Ok(clocks)
    }

    /// Reads the air a bond's clocks will most likely ask for in one go.
    fn read_ahead(&self, story: &BondStory) -> Result<(), Error> {
        let pots = self.batches_of(story)?.iter().filter_map(|batch| batch.started_ms()).min();
        let Some(first) = pots.into_iter().chain(story.presses.first().map(|one| one.at_ms)).min() else {
            return Ok(());
        };
        let to_ms =
            story.used(true).map_or(self.seen.at_ms, |one| one.at_ms).min(first.saturating_add(LONG_MS + DAY_MS));
        let places = self.places(story)?;
        for (index, (since, place)) in places.iter().enumerate() {
            let until = places.get(index + 1).map_or(to_ms, |next| next.0);
            if let Some(place) = place
                && until >= first
                && *since <= to_ms
            {
                self.air(place, first - WOOD_AGE_MS, to_ms)?;
            }
        }
        Ok(())
    }

    /// Every clock that may still matter, bonds in the order they were made; each pot once.
    pub fn live_clocks(&self) -> Result<Vec<Reckoned>, Error> {
        Ok(self.live_groups()?.into_iter().flatten().collect())
    }

    /// The same, without what is at rest, those together whose sentences speak of each other.
    pub fn live_groups(&self) -> Result<Vec<Vec<Reckoned>>, Error> {
        let (live, resting) = (self.book.live()?, self.resting()?);
        let mut groups = Vec::new();
        let mut pots: BTreeSet<Id> = BTreeSet::new();
        for bond in live.bonds.iter().filter(|bond| !resting.contains_key(*bond)) {
            let Some(story) = self.bond(bond)? else { continue };
            let mut clocks = self.clocks_of_bond(bond)?;
            if self.at_rest(&story, &clocks).is_some() {
                continue;
            }
            clocks.retain(|one| one.on.batch.as_ref().is_none_or(|batch| pots.insert(batch.clone())));
            groups.push(clocks);
        }
        for batch in live.batches.iter().filter(|batch| !pots.contains(*batch) && !resting.contains_key(*batch)) {
            groups.push(self.pot(batch)?.into_iter().filter(|pot| self.pot_at_rest(pot).is_none()).collect());
        }
        Ok(groups)
    }

    pub(super) fn reckon(&self, on: Prepared) -> Reckoned {
        let told = on.tell(self.seen.at_ms, self.axis);
        let nearly_ms = on.nearly_ms(&told);
        Reckoned { on: Arc::new(on), told, nearly_ms, said: String::new() }
    }

    /// The card of a batch's mix.
    pub fn card_of(&self, batch: &BatchStory) -> Result<Option<Arc<CardInForce>>, Error> {
        match batch.mix() {
            Some(mix) => self.card(&mix.what.card),
            None => Ok(None),
        }
    }

    fn cards_of(&self, story: &BondStory) -> Result<Vec<OnCard>, Error> {
        let mut by_card: BTreeMap<Id, OnCard> = BTreeMap::new();
        let mut bare: Option<OnCard> = None;
        for batch in self.batches_of(story)? {
            let started = batch.started_ms();
            let slot = match self.card_of(&batch)? {
                Some(card) => {
                    by_card.entry(card.id.clone()).or_insert(OnCard { card: Some(card), ..OnCard::default() })
                }
                None => bare.get_or_insert_default(),
            };
            if started.is_some_and(|started| slot.hardener_in_ms.is_none_or(|known| started < known)) {
                (slot.hardener_in_ms, slot.oldest) = (started, Some(batch));
            }
        }
        if by_card.is_empty() {
            return Ok(vec![bare.unwrap_or_default()]);
        }
        Ok(by_card.into_values().collect())
    }

    fn worst_of(&self, story: &BondStory, clock: Clock, carried: [f64; 3]) -> Result<Option<Reckoned>, Error> {
        let below = self.layer_below(story, clock)?;
        let mut all = Vec::new();
        for on in self.cards_of(below.as_deref().unwrap_or(story))? {
            if let Some(prepared) = self.prepare(story, below.as_deref(), clock, on, carried)? {
                all.push(self.reckon(prepared));
            }
        }
        Ok(worst(all))
    }

    /// The layer below, for the clock that counts from it.
    fn layer_below(&self, story: &BondStory, clock: Clock) -> Result<Option<Arc<BondStory>>, Error> {
        match (&story.bond.layer_below, clock) {
            (Some(below), Clock::GlueAgain) => self.bond(below),
            _ => Ok(None),
        }
    }

    /// One clock on one card; None: it is left out. Long because it fills one record field by field.
    fn prepare(
        &self,
        story: &BondStory,
        below: Option<&BondStory>,
        clock: Clock,
        on: OnCard,
        carried: [f64; 3],
    ) -> Result<Option<Prepared>, Error> {
        let stated = on.card.as_ref().is_some_and(|card| card.states(clock));
        if !stated && clock != Clock::Clamp {
            return Ok(None);
        }
        let mut notes = Vec::new();
        let Some((natural, ended_ms)) = self.span(story, below, clock, on.hardener_in_ms, &mut notes)? else {
            return Ok(None);
        };
        notes.extend(self.oldest_stretch(story, clock, ended_ms)?);
        let bent = self.bent(story)?;
        let together = story.first("together").map(|one| one.at_ms);
        let counted = on.card.as_ref().and_then(|card| card.counted_from(clock, bent));
        let moved = |natural| match clock {
            Clock::FreshSurface | Clock::GlueAgain => natural,
            _ => start_ms(clock, counted, natural, on.hardener_in_ms, story.glue_on_ms(), together),
        };
        let started_ms = natural.map(moved);
        let shared = on.card.as_ref().is_some_and(|card| card.glue.together);
        let carried = if shared && started_ms == natural { carried } else { [0.0; 3] };
        let shorter = match (&on.card, &on.oldest, started_ms) {
            (Some(card), Some(oldest), Some(start_ms)) => self.of_age(story, clock, card, oldest, start_ms)?,
            _ => Shorter::default(),
        };
        let lost_ms = story.last("clamp-lost").map(|one| one.at_ms).filter(|_| story.tight_ms().is_none());
        let wood = match (clock, clock.direction()) {
            (_, Direction::MustReach) => self.wood(story, started_ms.unwrap_or(self.seen.at_ms))?,
            (Clock::Open | Clock::Closed, _) => self.wood_at_most(story, self.seen.at_ms)?,
            _ => Wood::default(),
        };
        let prepared = Prepared {
            bond: Some(story.id.clone()),
            batch: None,
            batch_name: None,
            of: format!("bond:{}", story.name),
            clock,
            card: on.card,
            bent,
            started_ms,
            ended_ms,
            path: Path::new(),
            wood,
            charge: Charge::default(),
            carried,
            shorter,
            clamping_ms: self.clamping_ms(story)?,
            notes,
            zone_min: self.zone(&story.made),
            reader: self.reader,
            lost_ms,
            parts: self.part_marks(story)?,
            until_ms: None,
            kept: Kept::default(),
        };
        self.with_path(prepared, &self.places(below.unwrap_or(story))?).map(Some)
    }

    /// Reads the air a clock needs. One that was settled long ago needs only its first stretch.
    pub(super) fn with_path(&self, mut on: Prepared, places: &Places) -> Result<Prepared, Error> {
        let Some(started_ms) = on.started_ms else { return Ok(on) };
        // After a re-tightening the wood still goes on from where the first All tight left it.
        let follows = on.clock.direction() == Direction::MustReach && on.wood.since_ms != 0;
        let from_ms = if follows { started_ms.min(on.wood.since_ms) } else { started_ms };
        let to_ms = on.ended_ms.unwrap_or(self.seen.at_ms);
        let far_ms = started_ms.saturating_add(on.long_ms());
        if to_ms > far_ms {
            on.path = self.path(places, from_ms, far_ms)?;
            on.until_ms = Some(far_ms);
            if matches!(on.tell(far_ms, self.axis).state, State::Reached | State::Over) {
                return Ok(on);
            }
            on.until_ms = None;
            on.kept = Kept::default();
        }
        on.path = self.path(places, from_ms, to_ms)?;
        Ok(on)
    }

    /// Marks of a bond's parts, sorted.
    pub(super) fn part_marks(&self, story: &BondStory) -> Result<Vec<String>, Error> {
        let mut marks = story.parts().iter().map(|part| self.name(part)).collect::<Result<Vec<_>, _>>()?;
        marks.sort();
        Ok(marks)
    }
}
