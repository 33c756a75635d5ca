//! Read models: rows worked out from the entries. Each row is a function of the set of entries about its thing, so
//! that they can be dropped and folded anew.
//!
//! An original entry adds its rows. A correction or withdrawal works the rows of its original out afresh.

use super::name::noun_of;
use super::{Book, Error, Noun};
use crate::entry::{Body, Entry, Id};
use crate::settled::{Seen, Settled, settle};
use rusqlite::named_params;
use std::collections::BTreeSet;

impl Book {
    /// Works one new entry into the read models. Its `about` and `refer` rows are there already.
    pub(crate) fn fold(&self, place: i64, entry: &Entry) -> Result<(), Error> {
        self.fold_turn(place, entry)?;
        match amended(entry) {
            Some(target) => self.fold_amendment(place, entry, &target.clone())?,
            None => {
                self.fold_air(place, place, &entry.body, entry.happened_ms)?;
                self.fold_new(place, entry)?;
            }
        }
        self.wake(place, entry)
    }

    fn fold_new(&self, place: i64, entry: &Entry) -> Result<(), Error> {
        if let Some((noun, name)) = noun_of(&entry.body) {
            self.set_name(noun, place, Some(&name))?;
        }
        match &entry.body {
            Body::Card(card) => self.fold_revised(card.revises.as_deref()),
            Body::Bond(_) => {
                self.new_awake(place)?;
                self.set_live(place, Some("bond"))
            }
            Body::Batch(_) => {
                self.new_awake(place)?;
                self.set_live(place, Some("batch"))
            }
            Body::Alarm(_) => self.set_live(place, Some("alarm")),
            body => match ended(body) {
                Some(id) => self.end_live(id),
                None => Ok(()),
            },
        }
    }

    fn end_live(&self, id: &str) -> Result<(), Error> {
        match self.place_by_id(id)? {
            Some(place) => self.set_live(place, None),
            None => Ok(()),
        }
    }

    fn fold_revised(&self, revised: Option<&str>) -> Result<(), Error> {
        let Some(revised) = revised else { return Ok(()) };
        match self.place_by_id(revised)? {
            Some(place) => self.set_name(Noun::Card, place, None),
            None => Ok(()),
        }
    }

    fn fold_amendment(&self, place: i64, entry: &Entry, target: &Id) -> Result<(), Error> {
        let Some(target) = self.place_by_id(target)? else {
            return Ok(());
        };
        self.sql(include_str!("insert_amend.sql"))?.execute(named_params! { ":target": target, ":place": place })?;
        let versions = self.with_amendments(BTreeSet::from([target, place]))?;
        let originals: Vec<&Entry> = versions.iter().filter(|version| amended(version).is_none()).collect();
        for original in &originals {
            let Some(at) = self.place_by_id(&original.id)? else {
                continue;
            };
            if entry.corrects.is_some() {
                self.fold_air(at, place, &entry.body, entry.happened_ms)?;
            }
        }
        for version in &versions {
            self.refold(version)?;
        }
        Ok(())
    }

    /// Works the rows out afresh that one version of an amended entry touches.
    fn refold(&self, version: &Entry) -> Result<(), Error> {
        match &version.body {
            Body::Card(card) => {
                let root = self.root_of(version)?;
                for id in root.iter().chain(card.revises.as_ref()) {
                    self.refold_name(id)?;
                }
            }
            body if noun_of(body).is_some() => {
                if let Some(root) = self.root_of(version)? {
                    self.refold_name(&root)?;
                }
            }
            _ => {}
        }
        let root = self.root_of(version)?;
        let touched = match &version.body {
            Body::Bond(_) | Body::Batch(_) | Body::Alarm(_) => root.as_deref(),
            body => ended(body),
        };
        touched.map_or(Ok(()), |id| self.refold_live(id))
    }

    /// Id of the original that a version belongs to.
    fn root_of(&self, version: &Entry) -> Result<Option<Id>, Error> {
        let mut id = version.id.clone();
        let mut next = version.corrects.clone();
        while let Some(target) = next {
            next = self.entry(&target)?.and_then(|entry| entry.corrects);
            id = target;
        }
        Ok(Some(id))
    }

    fn refold_name(&self, id: &str) -> Result<(), Error> {
        let Some(place) = self.place_by_id(id)? else {
            return Ok(());
        };
        let settled = settle(&self.naming(id)?, Seen::ALL);
        let own = settled.iter().find(|one| one.entry.id == id);
        let Some((noun, name)) = own.and_then(|one| noun_of(&one.body)) else {
            return match self.entry_of(place)?.and_then(|entry| noun_of(&entry.body)) {
                Some((noun, _)) => self.set_name(noun, place, None),
                None => Ok(()),
            };
        };
        let revised = settled.iter().any(|one| revises(one, id));
        self.set_name(noun, place, (!revised).then_some(&name))
    }

    fn refold_live(&self, id: &str) -> Result<(), Error> {
        let Some(place) = self.place_by_id(id)? else {
            return Ok(());
        };
        let settled = settle(&self.naming(id)?, Seen::ALL);
        let what = settled.iter().find(|one| one.entry.id == id).and_then(|one| what_of(&one.body));
        let over = settled.iter().any(|one| ended(&one.body) == Some(id));
        self.set_live(place, what.filter(|_| !over))
    }

    fn set_live(&self, place: i64, what: Option<&str>) -> Result<(), Error> {
        match what {
            Some(what) => {
                self.sql(include_str!("set_live.sql"))?.execute(named_params! { ":place": place, ":what": what })?
            }
            None => self.sql(include_str!("end_live.sql"))?.execute(named_params! { ":place": place })?,
        };
        Ok(())
    }
}

/// The entry that this one corrects or withdraws.
pub(crate) fn amended(entry: &Entry) -> Option<&Id> {
    match (&entry.corrects, &entry.body) {
        (Some(original), _) => Some(original),
        (None, Body::Withdrawn(body)) => Some(&body.entry),
        _ => None,
    }
}

fn revises(one: &Settled, id: &str) -> bool {
    matches!(&one.body, Body::Card(card) if card.revises.as_deref() == Some(id))
}

fn what_of(body: &Body) -> Option<&'static str> {
    match body {
        Body::Bond(_) => Some("bond"),
        Body::Batch(_) => Some("batch"),
        Body::Alarm(_) => Some("alarm"),
        _ => None,
    }
}

/// What an entry of this body ends: a bond by `used`, a batch by `pot-done`, an alarm by its answer.
fn ended(body: &Body) -> Option<&str> {
    match body {
        Body::Press(press) if press.press == "used" => press.bond.as_deref(),
        Body::Press(press) if press.press == "pot-done" => press.batch.as_deref(),
        Body::AlarmAnswered(answer) => Some(&answer.alarm),
        _ => None,
    }
}
