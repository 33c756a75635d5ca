//! Appending: the only way anything gets into a log. Every act passes here, so values are bound by number, in the
//! order in which their names first stand in the `.sql` file: looking names up costs a tenth of the work.

use super::{Appended, Block, Book, Error, Head, place_of};
use crate::canon;
use crate::entry::read::ids_in;
use crate::entry::{About, Body, Draft, Entry, Stamp};
use crate::tree::{self, Edge, Hash};
use rusqlite::{OptionalExtension, named_params, params};
use std::collections::{BTreeMap, BTreeSet};

/// A log as its row has it.
pub(crate) struct LogRow {
    pub num: i64,
    pub id: String,
    pub standing: String,
    pub size: u64,
    pub order_ms: i64,
    pub edge: Edge,
}

impl LogRow {
    pub fn head(&self) -> Head {
        Head { log: self.id.clone(), standing: self.standing.clone(), size: self.size, root: self.edge.root() }
    }

    /// Reads a row of (num, id, standing, size, order_ms, edge).
    pub fn read(row: &rusqlite::Row) -> Result<LogRow, Error> {
        let size = u64::try_from(row.get::<_, i64>(3)?).map_err(|_| Error::Damaged("a log of negative size".into()))?;
        let bytes: Vec<u8> = row.get(5)?;
        let id: String = row.get(1)?;
        let edge = Edge::read(size, &bytes)
            .ok_or_else(|| Error::Damaged(format!("the edge of log {id} does not fit its {size} entries")))?;
        Ok(LogRow { num: row.get(0)?, id, standing: row.get(2)?, size, order_ms: row.get(4)?, edge })
    }
}

impl Book {
    /// Begins a new own log; its first entry must be a `log-start`. Only inside [`Book::transact`].
    pub fn begin_log(&self, log: &str, stamp: &Stamp, start: Draft) -> Result<Appended, Error> {
        self.inside()?;
        if !matches!(start.body, Body::LogStart(_)) {
            return Err(Error::Fault("a log begins with a log-start".into()));
        }
        let mut insert = self.sql(include_str!("insert_log.sql"))?;
        insert.execute(named_params! { ":id": log })?;
        self.append(0, stamp, vec![start], &[])
    }

    /// Appends one act's entries to the own log. Only inside [`Book::transact`]. `expected` is the size the
    /// caller saw; the insert names it in its own statement. Blocks are stored first, under their digest.
    ///
    /// Every id in a draft's `about` must be an entry's, of this book or of this act.
    pub fn append(
        &self,
        expected: u64,
        stamp: &Stamp,
        drafts: Vec<Draft>,
        blocks: &[Block],
    ) -> Result<Appended, Error> {
        self.inside()?;
        let mut log = self.own_row()?.ok_or_else(|| Error::Fault("this book has no log yet".into()))?;
        if log.size != expected {
            return Err(Error::Moved { expected, found: log.size });
        }
        self.put_blocks(blocks)?;
        let mut tiles = Vec::new();
        let mut entries = Vec::with_capacity(drafts.len());
        let mut coming = Coming::of(&log, &drafts)?;
        for draft in drafts {
            let entry = self.place(&log, stamp, draft, &mut coming)?;
            let leaf = self.put(&log, expected, &entry.0, &entry.1)?;
            log.edge.push(leaf, &mut tiles);
            log.size += 1;
            log.order_ms = entry.0.order_ms;
            self.fold(place_of(log.num, entry.0.seq)?, &entry.0)?;
            entries.push((entry.0, leaf));
        }
        self.put_tiles(log.num, &tiles)?;
        self.move_log(&log, expected)?;
        Ok(Appended { head: log.head(), entries })
    }

    fn inside(&self) -> Result<(), Error> {
        if self.connection.is_autocommit() {
            return Err(Error::Fault("appending outside a transaction".into()));
        }
        Ok(())
    }

    /// Row of the log this book appends to: the newest own one.
    pub(crate) fn own_row(&self) -> Result<Option<LogRow>, Error> {
        let mut ask = self.sql(include_str!("own_log.sql"))?;
        let mut rows = ask.query([])?;
        rows.next()?.map(LogRow::read).transpose()
    }

    /// Gives a draft its place, numbers and order, and indexes what it names.
    fn place(&self, log: &LogRow, stamp: &Stamp, draft: Draft, coming: &mut Coming) -> Result<(Entry, Vec<u8>), Error> {
        let place = place_of(log.num, log.size)?;
        let mut order_ms = stamp.entered_ms.max(log.order_ms);
        let mut about = Vec::with_capacity(draft.about.len());
        let mut subjects = BTreeSet::new();
        for id in &draft.about {
            let (subject, order, last) = self.subject(id, log.num, coming)?;
            order_ms = order_ms.max(order.unwrap_or(order_ms));
            if subjects.insert(subject) {
                self.sql(include_str!("insert_about.sql"))?.execute(params![subject, log.num, log.size, last + 1])?;
                about.push(About { id: id.clone(), n: last + 1 });
            }
        }
        let entry = Entry {
            about,
            act: stamp.act.clone(),
            boot: stamp.boot.clone(),
            boot_ms: stamp.boot_ms,
            corrects: draft.corrects,
            entered_ms: stamp.entered_ms,
            happened_ms: draft.happened_ms,
            id: draft.id,
            log: log.id.clone(),
            order_ms,
            person: draft.person,
            seq: log.size,
            why: draft.why,
            zone_min: stamp.zone_min,
            body: draft.body,
        };
        self.finish(place, entry, &subjects, coming)
    }

    /// Indexes what the body, `corrects` and `person` name, and settles the order.
    fn finish(
        &self,
        place: i64,
        mut entry: Entry,
        subjects: &BTreeSet<i64>,
        coming: &mut Coming,
    ) -> Result<(Entry, Vec<u8>), Error> {
        let mut value = entry.to_value().map_err(|error| Error::Fault(error.to_string()))?;
        let mut named = value.get("body").map(ids_in).unwrap_or_default();
        named.extend(entry.corrects.clone());
        let mut targets = BTreeSet::new();
        for id in &named {
            let Some((target, order)) = self.thing(id, coming)? else {
                continue;
            };
            entry.order_ms = entry.order_ms.max(order.unwrap_or(entry.order_ms));
            if target != place && !subjects.contains(&target) && targets.insert(target) {
                self.sql(include_str!("insert_refer.sql"))?.execute(params![target, place])?;
            }
        }
        if let Some(person) = &entry.person
            && let Some((_, Some(order))) = self.thing(person, coming)?
        {
            entry.order_ms = entry.order_ms.max(order);
        }
        if let Some(order) = value.get_mut("order_ms") {
            *order = entry.order_ms.into();
        }
        let bytes = canon::write(&value).map_err(|error| Error::Fault(error.0))?;
        Ok((entry, bytes))
    }

    /// Place of the entry that made a thing, with its order where it is stored already.
    fn thing(&self, id: &str, coming: &mut Coming) -> Result<Option<Thing>, Error> {
        if let Some(place) = coming.places.get(id) {
            return Ok(Some((*place, None)));
        }
        if let Some(found) = coming.found.get(id) {
            return Ok(*found);
        }
        let found = self
            .sql(include_str!("thing_by_id.sql"))?
            .query_row([id], |row| Ok((row.get(0)?, Some(row.get(1)?))))
            .optional()?;
        coming.found.insert(id.to_owned(), found);
        Ok(found)
    }

    /// A subject's place, its order where it is stored already, and its last running number in this log.
    fn subject(&self, id: &str, log: i64, coming: &mut Coming) -> Result<(i64, Option<i64>, u64), Error> {
        if let Some(place) = coming.places.get(id).copied() {
            let mut ask = self.sql(include_str!("last_about.sql"))?;
            let last = ask.query_row(params![place, log], |row| row.get(0)).optional()?;
            return Ok((place, None, last.unwrap_or(0)));
        }
        let mut ask = self.sql(include_str!("subject.sql"))?;
        let found = ask
            .query_row(params![id, log], |row| Ok((row.get(0)?, row.get(1)?, row.get::<_, Option<u64>>(2)?)))
            .optional()?;
        let (place, order, last) = found.ok_or_else(|| Error::Fault(format!("no entry made {id}")))?;
        coming.found.insert(id.to_owned(), Some((place, Some(order))));
        Ok((place, Some(order), last.unwrap_or(0)))
    }

    /// Inserts one entry. The statement itself names the size the caller expected and its own place after it.
    fn put(&self, log: &LogRow, expected: u64, entry: &Entry, bytes: &[u8]) -> Result<Hash, Error> {
        let leaf = tree::leaf(bytes);
        let inserted = self.sql(include_str!("insert_entry.sql"))?.execute(params![
            entry.seq - expected,
            entry.id,
            entry.body.kind(),
            entry.act,
            entry.entered_ms,
            entry.happened_ms,
            entry.order_ms,
            leaf,
            bytes,
            log.num,
            expected,
        ])?;
        if inserted == 1 { Ok(leaf) } else { Err(Error::Moved { expected, found: self.size_of(log.num)? }) }
    }

    fn put_tiles(&self, log: i64, tiles: &[tree::Tile]) -> Result<(), Error> {
        for (level, at, hash) in tiles {
            self.sql(include_str!("insert_tile.sql"))?
                .execute(named_params! { ":log": log, ":level": level, ":at": at, ":hash": hash })?;
        }
        Ok(())
    }

    fn put_blocks(&self, blocks: &[Block]) -> Result<(), Error> {
        for block in blocks {
            let bytes = block.bytes()?;
            let digest = hex::decode(block.sha256()?).map_err(|error| Error::Fault(error.to_string()))?;
            self.sql(include_str!("insert_block.sql"))?
                .execute(named_params! { ":digest": digest, ":bytes": bytes })?;
        }
        Ok(())
    }

    fn move_log(&self, log: &LogRow, expected: u64) -> Result<(), Error> {
        let edge = log.edge.write();
        let moved = self.sql(include_str!("move_log.sql"))?.execute(params![
            log.size,
            log.order_ms,
            edge,
            log.num,
            expected
        ])?;
        if moved == 1 { Ok(()) } else { Err(Error::Moved { expected, found: self.size_of(log.num)? }) }
    }

    fn size_of(&self, log: i64) -> Result<u64, Error> {
        Ok(self.sql(include_str!("log_size.sql"))?.query_row(named_params! { ":num": log }, |row| row.get(0))?)
    }
}

/// Place of the entry that made a thing, and its order where it is stored already.
type Thing = (i64, Option<i64>);

/// Places that the drafts of one act will have, so that they may name each other, and what was looked up for them.
struct Coming {
    places: BTreeMap<String, i64>,
    found: BTreeMap<String, Option<Thing>>,
}

impl Coming {
    fn of(log: &LogRow, drafts: &[Draft]) -> Result<Coming, Error> {
        let mut places = BTreeMap::new();
        for (draft, seq) in drafts.iter().zip(log.size..) {
            if places.insert(draft.id.clone(), place_of(log.num, seq)?).is_some() {
                return Err(Error::Fault(format!("two entries of one act have the id {}", draft.id)));
            }
        }
        Ok(Coming { places, found: BTreeMap::new() })
    }
}
