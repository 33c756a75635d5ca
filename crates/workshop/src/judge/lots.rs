//! Which lots went into a batch, through which cans, and what was wrong with them when mixed.

use super::Judge;
use super::batch::BatchStory;
use logbook::entry::typed::Amount;
use logbook::entry::{Body, Id};
use logbook::store::Error;
use std::collections::BTreeMap;

/// A lot in a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotUse {
    /// Its id.
    pub id: Id,
    /// Its mark.
    pub mark: String,
    /// `resin`, `hardener`, `filler`.
    pub role: String,
    /// Good until, ms.
    pub expires_ms: Option<i64>,
    /// Expired when it was used, first or in a top-up.
    pub expired: bool,
    /// Belongs to another adhesive than the batch's card (revisions of one card are one adhesive).
    pub other_adhesive: bool,
    /// Cans, by mark, in order of use.
    pub cans: Vec<String>,
    /// Number of the entry that used it first.
    pub seq: u64,
}

impl Judge<'_> {
    /// Lots of a batch: mix, top-ups and filler, sorted by role and mark.
    pub fn lots_of(&self, batch: &BatchStory) -> Result<Vec<LotUse>, Error> {
        let mut lots: BTreeMap<Id, LotUse> = BTreeMap::new();
        for (_, mix) in &batch.mixes {
            for can in &mix.what.containers {
                let Some(one) = self.in_force(can)? else { continue };
                // A lot may be named directly where no can was entered.
                let (lot, mark) = match &one.body {
                    Body::Container(it) => (it.lot.clone(), Some(it.mark.clone())),
                    _ => (can.clone(), None),
                };
                self.use_lot(&mut lots, &lot, mark, mix.at_ms, Some(&mix.what.card), mix.entry.seq)?;
            }
        }
        for filler in &batch.fillers {
            self.use_lot(&mut lots, &filler.what.lot, None, filler.at_ms, None, filler.entry.seq)?;
        }
        let order = |role: &str| ["resin", "hardener", "filler"].iter().position(|it| *it == role);
        let mut lots: Vec<LotUse> = lots.into_values().collect();
        lots.sort_by(|a, b| (order(&a.role), &a.mark).cmp(&(order(&b.role), &b.mark)));
        Ok(lots)
    }

    fn use_lot(
        &self,
        lots: &mut BTreeMap<Id, LotUse>,
        id: &str,
        can: Option<String>,
        at_ms: i64,
        card: Option<&str>,
        seq: u64,
    ) -> Result<(), Error> {
        let Some(one) = self.in_force(id)? else { return Ok(()) };
        let Body::Lot(lot) = &one.body else { return Ok(()) };
        let other = match card {
            Some(card) if lot.role != "filler" => self.adhesive(card)? != self.adhesive(&lot.card)?,
            _ => false,
        };
        let expired = lot.expires_ms.is_some_and(|until| at_ms > until);
        let slot = lots.entry(id.to_owned()).or_insert_with(|| LotUse {
            id: id.to_owned(),
            mark: lot.mark.clone(),
            role: lot.role.clone(),
            expires_ms: lot.expires_ms,
            expired: false,
            other_adhesive: false,
            cans: Vec::new(),
            seq,
        });
        slot.expired |= expired;
        slot.other_adhesive |= other;
        slot.cans.extend(can.filter(|can| !slot.cans.contains(can)));
        Ok(())
    }

    /// The first card of a chain of revisions: what makes two cards one adhesive.
    pub fn adhesive(&self, card: &str) -> Result<Id, Error> {
        let mut first = card.to_owned();
        // A chain is followed at most this far; a circle cannot be entered, since a card names an older one.
        for _ in 0..1000 {
            match self.card(&first)?.and_then(|card| card.stored.revises.clone()) {
                Some(older) => first = older,
                None => break,
            }
        }
        Ok(first)
    }

    /// Cans that have given more than they held, in sentences: such a can is a new can.
    pub fn overdrawn(&self, batch: &BatchStory) -> Result<Vec<String>, Error> {
        let mut said = Vec::new();
        let mut cans: Vec<Id> = batch.cans().into_iter().map(|(can, _)| can).collect();
        cans.sort();
        cans.dedup();
        for can in cans {
            let Some(one) = self.in_force(&can)? else { continue };
            let Body::Container(container) = &one.body else {
                continue;
            };
            let Some(holds) = &container.holds else { continue };
            let given = self.given(&can)?;
            let (held, given) = match holds {
                Amount::Mass(mass) => (mass.mg, given.0),
                Amount::Volume(volume) => (volume.ul, given.1),
            };
            if given > held {
                let say = |amount| match holds {
                    Amount::Mass(_) => self.reader.mass(amount),
                    Amount::Volume(_) => self.reader.volume(amount),
                };
                said.push(format!(
                    "can {} has given {} but held {}: is it a new can?",
                    container.mark,
                    say(given),
                    say(held)
                ));
            }
        }
        Ok(said)
    }

    /// What a can has given in all mixes, (mg, ul). A mix with several cans of one role is not counted: nobody said
    /// how much came from which.
    pub(crate) fn given(&self, can: &str) -> Result<(i64, i64), Error> {
        let mut sum = (0, 0);
        let role = self.role_of(can)?;
        for one in self.subject(can)? {
            let (Body::Mix(mix) | Body::TopUp(mix)) = &one.body else {
                continue;
            };
            let mut same = 0;
            for other in &mix.containers {
                same += i32::from(self.role_of(other)? == role);
            }
            let amount = if role.as_deref() == Some("hardener") { &mix.hardener } else { &mix.resin };
            match amount {
                Some(Amount::Mass(mass)) if same == 1 && mix.containers.iter().any(|it| it == can) => sum.0 += mass.mg,
                Some(Amount::Volume(volume)) if same == 1 && mix.containers.iter().any(|it| it == can) => {
                    sum.1 += volume.ul
                }
                _ => {}
            }
        }
        Ok(sum)
    }

    fn role_of(&self, can: &str) -> Result<Option<String>, Error> {
        let Some(one) = self.in_force(can)? else {
            return Ok(None);
        };
        let lot = match &one.body {
            Body::Container(it) => it.lot.clone(),
            _ => can.to_owned(),
        };
        Ok(self.in_force(&lot)?.and_then(|one| match &one.body {
            Body::Lot(lot) => Some(lot.role.clone()),
            _ => None,
        }))
    }
}

/// An amount as it was typed.
pub fn typed(amount: &Amount) -> &str {
    match amount {
        Amount::Mass(mass) => &mass.typed,
        Amount::Volume(volume) => &volume.typed,
    }
}
