//! Where a bond or a pot was, in which air, in which wood: what its clocks need besides the card.

use super::Judge;
use super::air::PlaceAir;
use super::batch::{BatchStory, mass_mg};
use super::card::CardInForce;
use super::story::BondStory;
use glue::clock::{Charge, Stay, Wood};
use glue::wood::stored::{STORED_MS, followed_k};
use logbook::entry::part::{JointPlan, JointRef, Kind};
use logbook::entry::{Body, Id};
use logbook::store::{Error, Noun};
use std::sync::Arc;

/// A wood temperature older than this says nothing about the wood glued now, ms (a working session).
pub(super) const WOOD_AGE_MS: i64 = 4 * 3_600_000;
/// From the beginning: before every instant a book may hold, ms.
pub const ALWAYS_MS: i64 = 0;

/// Where something was: from when, in which place; None: no place known.
pub type Places = Vec<(i64, Option<Id>)>;

/// The same with the air of each place.
pub type Path = Vec<(i64, Option<Arc<PlaceAir>>)>;

/// The same, as the clocks take it.
pub(super) fn stays(path: &Path) -> Vec<Stay<'_>> {
    path.iter().map(|(from_ms, air)| Stay { from_ms: *from_ms, air: air.as_ref().map(|it| &it.air) }).collect()
}

impl Judge<'_> {
    /// Where a bond was, moves included.
    pub fn places(&self, story: &BondStory) -> Result<Places, Error> {
        let mut places = vec![(ALWAYS_MS, self.first_place(story)?)];
        places.extend(story.moves.iter().map(|moved| (moved.at_ms, Some(moved.what.clone()))));
        Ok(places)
    }

    /// The place a bond was glued at: its own, else its first batch's.
    fn first_place(&self, story: &BondStory) -> Result<Option<Id>, Error> {
        if story.bond.place.is_some() {
            return Ok(story.bond.place.clone());
        }
        let batches = self.batches_of(story)?;
        Ok(batches.iter().find_map(|batch| batch.mix().and_then(|mix| mix.what.place.clone())))
    }

    /// The place of a pot, and whether it was only assumed: the mix's, else the first bond's, else the book's only one.
    pub fn pot_place(&self, batch: &BatchStory) -> Result<(Option<Id>, bool), Error> {
        if let Some(place) = batch.mixes.iter().find_map(|(_, mix)| mix.what.place.clone()) {
            return Ok((Some(place), false));
        }
        for bond in &batch.bonds {
            if let Some(place) = self.bond(bond)?.and_then(|story| story.bond.place.clone()) {
                return Ok((Some(place), false));
            }
        }
        let all = self.book.list(Noun::Place)?;
        Ok(match all.as_slice() {
            [(_, only)] => (Some(only.clone()), true),
            _ => (None, false),
        })
    }

    /// The air along a path for a stretch.
    pub fn path(&self, places: &Places, from_ms: i64, to_ms: i64) -> Result<Path, Error> {
        let mut path = Path::new();
        for (index, (since, place)) in places.iter().enumerate() {
            let until = places.get(index + 1).map_or(i64::MAX, |next| next.0);
            let touched = *since <= to_ms && until >= from_ms;
            let air = match place {
                Some(place) if touched => Some(self.air(place, from_ms, to_ms)?),
                _ => None,
            };
            path.push((*since, air));
        }
        Ok(path)
    }

    /// The wood around a bond's glue line: its temperature at *All tight* is where the lag begins; not recorded, at
    /// `else_ms`.
    pub fn wood(&self, story: &BondStory, else_ms: i64) -> Result<Wood, Error> {
        self.wood_from(story, else_ms, f64::min)
    }

    /// The same for what must not be exceeded: the warmer of what the wood may be.
    pub fn wood_at_most(&self, story: &BondStory, else_ms: i64) -> Result<Wood, Error> {
        self.wood_from(story, else_ms, f64::max)
    }

    fn wood_from(&self, story: &BondStory, else_ms: i64, of: fn(f64, f64) -> f64) -> Result<Wood, Error> {
        let since_ms = story.first("all-tight").map_or(else_ms, |one| one.at_ms);
        let thickness_mm = self.thickness_mm(story)?;
        let start_k = self.wood_start_k(story, since_ms, thickness_mm, of)?;
        Ok(Wood { thickness_mm, start_k, since_ms })
    }

    /// Measured on the bond, else at its place, else by its store: what the wood had followed of the air there, or the
    /// air itself, whichever `of` takes.
    fn wood_start_k(
        &self,
        story: &BondStory,
        tight: i64,
        thickness_mm: Option<f64>,
        of: fn(f64, f64) -> f64,
    ) -> Result<Option<f64>, Error> {
        if let Some(typed) = &story.bond.wood_temperature {
            return Ok(Some(typed.mk as f64 / 1000.0));
        }
        let places = self.places(story)?;
        if let Some((_, Some(place))) = places.iter().rev().find(|(since, _)| *since <= tight)
            && let Some(k) = self.air(place, tight - WOOD_AGE_MS, tight)?.wood_k(tight, WOOD_AGE_MS)
        {
            return Ok(Some(k));
        }
        let Some(stored) = &story.bond.stored else {
            return Ok(None);
        };
        let air = self.air(stored, tight.saturating_sub(STORED_MS), tight)?;
        let tau_ms = glue::wood::tau_ms(glue::wood::thickness_mm(thickness_mm));
        let followed = followed_k(&air.air, tight, self.seen.at_ms, tau_ms);
        Ok(air.mean_k(tight).map(|now| followed.map_or(now, |wood| of(wood, now))))
    }

    /// Total thickness at the thickest of a bond's joints, mm; None: not recorded.
    pub fn thickness_mm(&self, story: &BondStory) -> Result<Option<f64>, Error> {
        let mut thickest: Option<i64> = None;
        for joint in &story.bond.joints {
            let um = self.joint_plan(joint)?.and_then(|plan| plan.thickness).map(|it| it.um);
            thickest = thickest.max(um);
        }
        Ok(thickest.map(|um| um as f64 / 1000.0))
    }

    /// A joint as its kind or an entry of its own describes it.
    pub fn joint_plan(&self, joint: &JointRef) -> Result<Option<JointPlan>, Error> {
        if let Some(kind) = self.kind_of(&joint.part)? {
            let planned = kind.stages.iter().flat_map(|stage| &stage.joints).find(|plan| plan.mark == joint.mark);
            if planned.is_some() {
                return Ok(planned.cloned());
            }
        }
        let mine = |body: &Body| match body {
            Body::Joint(it) if it.part == joint.part && it.joint.mark == joint.mark => Some(it.joint.clone()),
            _ => None,
        };
        Ok(self.subject(&joint.part)?.iter().find_map(|one| mine(&one.body)))
    }

    /// The kind a part was made from.
    pub fn kind_of(&self, part: &str) -> Result<Option<Kind>, Error> {
        let kind = self.in_force(part)?.and_then(|one| match &one.body {
            Body::Part(part) => part.kind.clone(),
            _ => None,
        });
        let Some(kind) = kind else { return Ok(None) };
        Ok(self.in_force(&kind)?.and_then(|one| match &one.body {
            Body::Kind(kind) => Some(kind.clone()),
            _ => None,
        }))
    }

    /// Bent or sprung, by the bond itself or by the kind of any of its parts.
    pub fn bent(&self, story: &BondStory) -> Result<bool, Error> {
        if let Some(bent) = story.bond.bent {
            return Ok(bent);
        }
        for part in story.parts() {
            if self.kind_of(&part)?.is_some_and(|kind| kind.bent == Some(true)) {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// How long setting a bond's clamps takes, ms; None: not planned.
    pub fn clamping_ms(&self, story: &BondStory) -> Result<Option<i64>, Error> {
        if story.bond.clamping_ms.is_some() {
            return Ok(story.bond.clamping_ms);
        }
        let mut longest = None;
        for part in story.parts() {
            longest = longest.max(self.kind_of(&part)?.and_then(|kind| kind.clamping).map(|it| it.time_ms));
        }
        Ok(longest)
    }

    /// What is in a pot: its mass and the temperature of its components.
    pub fn charge(&self, batch: &BatchStory, card: &CardInForce) -> Result<Charge, Error> {
        let mass_g = batch.mixed_mg(card.stored.resin_g_per_l, card.stored.hardener_g_per_l);
        let typed = batch.mixes.iter().filter_map(|(_, mix)| mix.what.start_temperature.as_ref()).map(|it| it.mk).max();
        let components_k = match typed {
            Some(mk) => Some(mk as f64 / 1000.0),
            None => self.stored_k(batch)?.or(self.room_k(batch)?),
        };
        Ok(Charge { mass_g: mass_g.map(|mg| mg as f64 / 1000.0), components_k })
    }

    /// Air where the pot stands, at its start: the components are taken to have come from there, and do not cool, K.
    pub(super) fn room_k(&self, batch: &BatchStory) -> Result<Option<f64>, Error> {
        match (batch.started_ms(), self.pot_place(batch)?.0) {
            (Some(started), Some(place)) => Ok(self.air(&place, started, started)?.mean_k(started)),
            _ => Ok(None),
        }
    }

    /// Warmest air where the cans of a batch stand, at its start, K; None: no can has a storage place with readings.
    fn stored_k(&self, batch: &BatchStory) -> Result<Option<f64>, Error> {
        let Some(started) = batch.started_ms() else {
            return Ok(None);
        };
        let mut warmest: Option<f64> = None;
        for (can, _) in batch.cans() {
            let stored = self.in_force(&can)?.and_then(|one| match &one.body {
                Body::Container(can) => can.stored.clone(),
                _ => None,
            });
            if let Some(place) = stored
                && let Some(k) = self.air(&place, started, started)?.mean_k(started)
            {
                warmest = Some(warmest.map_or(k, |known| known.max(k)));
            }
        }
        Ok(warmest)
    }

    /// Mass of one amount, mg, by the card's densities.
    pub fn amounts_mg(card: &CardInForce, mix: &logbook::entry::mix::Mix) -> (Option<i64>, Option<i64>) {
        let resin = mix.resin.as_ref().and_then(|it| mass_mg(it, card.stored.resin_g_per_l));
        let hardener = mix.hardener.as_ref().and_then(|it| mass_mg(it, card.stored.hardener_g_per_l));
        (resin, hardener)
    }
}
