//! Pots: one clock for each batch, whatever bonds draw on it.

use super::batch::BatchStory;
use super::path::{ALWAYS_MS, Path};
use super::prepared::{Kept, Prepared, Reckoned, badness};
use super::story::BondStory;
use super::{Judge, aged, said};
use glue::clock::{Charge, Clock, Shorter, Wood};
use logbook::store::Error;
use std::sync::Arc;

impl Judge<'_> {
    /// The pot clock of a batch alone; None: nothing went in yet.
    pub fn pot(&self, batch: &str) -> Result<Option<Reckoned>, Error> {
        let Some(story) = self.batch(batch)? else {
            return Ok(None);
        };
        self.pot_of(&story)
    }

    /// The pot clock of a batch's story, which may be one that was never written down: a mix thought of.
    pub fn pot_of(&self, story: &BatchStory) -> Result<Option<Reckoned>, Error> {
        let mut clocks: Vec<Reckoned> = self.prepare_pot(story, None)?.map(|on| self.reckon(on)).into_iter().collect();
        said::say_all(&mut clocks, self.seen.at_ms);
        Ok(clocks.pop())
    }

    /// The pots of a bond, worst first: that one stands under the bond, further ones under their batch's name.
    pub(super) fn pots_of(&self, story: &BondStory) -> Result<Vec<Reckoned>, Error> {
        let mut pots = Vec::new();
        for batch in self.batches_of(story)? {
            pots.extend(self.prepare_pot(&batch, Some(story))?.map(|on| self.reckon(on)));
        }
        pots.sort_by_key(|pot| std::cmp::Reverse(badness(&pot.told)));
        for pot in pots.iter_mut().skip(1) {
            let mut on = (*pot.on).clone();
            on.of = format!("batch:{}", on.batch_name.as_deref().unwrap_or_default());
            pot.on = Arc::new(on);
        }
        Ok(pots)
    }

    /// One pot; None: nothing went in yet. Long because it fills one record field by field.
    fn prepare_pot(&self, batch: &BatchStory, story: Option<&BondStory>) -> Result<Option<Prepared>, Error> {
        let Some(started) = batch.started_ms() else {
            return Ok(None);
        };
        let card = self.card_of(batch)?;
        let ended_ms = self.pot_end_ms(batch)?;
        let (place, assumed) = self.pot_place(batch)?;
        let mut notes = Vec::new();
        if assumed && let Some(place) = &place {
            notes.push(format!("the pot stands in {}, the only place in the book", self.name(place)?));
        }
        if batch.hardener_in.is_none() {
            notes.push("Hardener in is not recorded: the pot counts from the mix".to_owned());
        }
        let charge = match &card {
            Some(card) => self.charge(batch, card)?,
            None => Charge::default(),
        };
        let shorter = match &card {
            Some(card) => aged::of_pot(&card.glue, &charge, self.room_k(batch)?),
            None => Shorter::default(),
        };
        let mut clamping_ms = None;
        for bond in &batch.bonds {
            if let Some(story) = self.bond(bond)? {
                clamping_ms = clamping_ms.max(self.clamping_ms(&story)?);
            }
        }
        let parts = story.map(|story| self.part_marks(story)).transpose()?.unwrap_or_default();
        let of = story.map_or_else(|| format!("batch:{}", batch.name), |story| format!("bond:{}", story.name));
        let pot = Prepared {
            bond: story.map(|story| story.id.clone()),
            batch: Some(batch.id.clone()),
            batch_name: Some(batch.name.clone()),
            of,
            clock: Clock::Pot,
            card,
            bent: false,
            started_ms: Some(started),
            ended_ms,
            path: Path::new(),
            wood: Wood::default(),
            charge,
            carried: [0.0; 3],
            shorter,
            clamping_ms,
            notes,
            zone_min: self.zone(story.map_or(&batch.made, |story| &story.made)),
            reader: self.reader,
            lost_ms: None,
            parts,
            until_ms: None,
            kept: Kept::default(),
        };
        self.with_path(pot, &vec![(ALWAYS_MS, place)]).map(Some)
    }

    /// End of a pot (docs/science/clocks.md): *pot done*, else the last instant glue of it was joined; glue that goes on
    /// later reopens it.
    fn pot_end_ms(&self, batch: &BatchStory) -> Result<Option<i64>, Error> {
        let done = batch.pot_done.iter().map(|one| one.at_ms).max();
        let mut end = done;
        for bond in &batch.bonds {
            let Some(story) = self.bond(bond)? else { continue };
            let (on, joined) = (story.glue_on_ms(), story.joined_ms());
            let late = done.is_none_or(|done| on.or(joined).is_some_and(|on| on > done));
            match (on, joined) {
                _ if !late => {}
                (_, Some(joined)) => end = end.max(Some(joined)),
                (Some(_), None) => return Ok(None),
                (None, None) => {}
            }
        }
        Ok(end)
    }

    /// The instant until which a bond drew on a pot: *pot done* if its glue was on by then, else when it was joined.
    pub(crate) fn drew_until_ms(&self, batch: &BatchStory, story: &BondStory) -> Option<i64> {
        let on = story.glue_on_ms().or(story.joined_ms())?;
        let done = batch.pot_done.iter().map(|one| one.at_ms).filter(|done| *done >= on).min();
        let joined = story.joined_ms().unwrap_or(self.seen.at_ms);
        Some(done.map_or(joined, |done| done.min(joined)))
    }
}
