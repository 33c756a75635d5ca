//! Names and marks as they stand now: corrected names count, withdrawn things and revised cards have none.

use super::{Book, Error, Noun};
use crate::entry::{Body, Id};
use rusqlite::named_params;

impl Noun {
    /// The kind of entry that makes such a thing.
    pub fn word(self) -> &'static str {
        match self {
            Noun::Person => "person",
            Noun::Place => "place",
            Noun::Instrument => "instrument",
            Noun::Card => "card",
            Noun::Lot => "lot",
            Noun::Container => "container",
            Noun::Kind => "kind",
            Noun::Set => "set",
            Noun::Part => "part",
            Noun::Batch => "batch",
            Noun::Bond => "bond",
        }
    }
}

/// Noun and name of what a body makes. A set has an empty name.
pub(crate) fn noun_of(body: &Body) -> Option<(Noun, String)> {
    Some(match body {
        Body::Person(it) => (Noun::Person, it.name.clone()),
        Body::Place(it) => (Noun::Place, it.name.clone()),
        Body::Instrument(it) => (Noun::Instrument, it.name.clone()),
        Body::Card(it) => (Noun::Card, it.name.clone()),
        Body::Lot(it) => (Noun::Lot, it.mark.clone()),
        Body::Container(it) => (Noun::Container, it.mark.clone()),
        Body::Kind(it) => (Noun::Kind, it.mark.clone()),
        Body::Set(_) => (Noun::Set, String::new()),
        Body::Part(it) => (Noun::Part, it.mark.clone()),
        Body::Batch(it) => (Noun::Batch, it.name.clone()),
        Body::Bond(it) => (Noun::Bond, it.number.to_string()),
        _ => return None,
    })
}

impl Book {
    /// Ids that bear a name (exact, NFC) or are that id, newest last. Withdrawn things are left out; corrected names
    /// count. A card that was revised is found by its id only.
    pub fn find(&self, noun: Noun, name: &str) -> Result<Vec<Id>, Error> {
        let mut ask = self.sql(include_str!("find.sql"))?;
        let rows = ask.query_map(named_params! { ":noun": noun.word(), ":name": name }, |row| row.get(0))?;
        let mut found: Vec<Id> = rows.collect::<Result<_, _>>()?;
        if !found.iter().any(|id| id == name) && self.stands(noun, name)? {
            found.push(name.to_owned());
        }
        Ok(found)
    }

    /// True when this id made a thing of the noun that is not withdrawn.
    fn stands(&self, noun: Noun, id: &str) -> Result<bool, Error> {
        let Some(entry) = self.entry(id)? else { return Ok(false) };
        if entry.body.kind() != noun.word() || entry.corrects.is_some() {
            return Ok(false);
        }
        let Some(place) = self.place_by_id(id)? else {
            return Ok(false);
        };
        let versions = self.with_amendments([place].into())?;
        Ok(crate::settled::settle(&versions, crate::settled::Seen::ALL).iter().any(|one| one.entry.id == id))
    }

    /// All (name, id) of a noun in order of making.
    pub fn list(&self, noun: Noun) -> Result<Vec<(String, Id)>, Error> {
        let mut ask = self.sql(include_str!("list.sql"))?;
        let rows = ask.query_map(named_params! { ":noun": noun.word() }, |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    pub(crate) fn set_name(&self, noun: Noun, place: i64, name: Option<&String>) -> Result<(), Error> {
        match name {
            Some(name) => self
                .sql(include_str!("set_name.sql"))?
                .execute(named_params! { ":noun": noun.word(), ":place": place, ":name": name })?,
            None => self
                .sql(include_str!("end_name.sql"))?
                .execute(named_params! { ":noun": noun.word(), ":place": place })?,
        };
        Ok(())
    }
}
