//! Depth *bytes*: every entry's hash, place, columns and numbering; the tree over them; the blocks they name.

use super::{Found, Look, What};
use crate::canon;
use crate::tree::{self, Edge, Hash, TILE_BITS};
use rusqlite::{Connection, OptionalExtension, named_params};
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// One row of `entry`.
pub(super) struct Row {
    pub log: String,
    pub seq: i64,
    pub id: String,
    pub kind: String,
    pub act: String,
    pub entered_ms: i64,
    pub happened_ms: i64,
    pub order_ms: i64,
    pub leaf: Vec<u8>,
    pub bytes: Vec<u8>,
}

/// Reads one row by its place: None when it is missing.
pub(super) fn row_at(connection: &Connection, log: i64, seq: u64) -> Result<Option<Row>, rusqlite::Error> {
    let mut ask = connection.prepare_cached(include_str!("entry.sql"))?;
    ask.query_row(named_params! { ":log": log, ":seq": seq }, |row| {
        Ok(Row {
            log: row.get(0)?,
            seq: row.get(1)?,
            id: row.get(2)?,
            kind: row.get(3)?,
            act: row.get(4)?,
            entered_ms: row.get(5)?,
            happened_ms: row.get(6)?,
            order_ms: row.get(7)?,
            leaf: row.get(8)?,
            bytes: row.get(9)?,
        })
    })
    .optional()
}

/// What is carried from entry to entry of one log.
#[derive(Default)]
struct Run {
    /// The tree from the bytes, and from the stored leaves: where the second fits and the first does not, the damaged
    /// entries are named already.
    from_bytes: Edge,
    from_leaves: Edge,
    counts: BTreeMap<String, u64>,
    order_ms: i64,
    /// First of a stretch of missing entries.
    gap: Option<u64>,
    /// Digest of each block with the first entry that names it.
    blocks: BTreeMap<String, u64>,
    /// Stretches that are missing or cannot be read, first and last: no hash over them is compared.
    holes: Vec<(u64, u64)>,
}

impl Run {
    fn has_hole(&self, first: u64, last: u64) -> bool {
        self.gap.is_some_and(|gap| gap <= last) || self.holes.iter().any(|hole| hole.0 <= last && hole.1 >= first)
    }
}

impl Look<'_> {
    pub(super) fn bytes(&mut self) {
        for at in 0..self.logs.len() {
            let Some(log) = self.logs.get(at) else { break };
            let (num, id, size) = (log.num, log.id.clone(), log.size);
            let mut run = Run { order_ms: i64::MIN, ..Run::default() };
            for seq in 0..size {
                if !self.go_on() {
                    return;
                }
                self.check_checkpoint_at(&id, &run);
                self.entry_bytes(num, &id, seq, &mut run);
            }
            self.end_gap(&id, size, &mut run);
            self.check_checkpoint_at(&id, &run);
            self.check_edge(at, &run);
            self.check_extra_tiles(num, &id, size);
            self.check_blocks(&id, &run);
        }
        self.check_extra_rows();
        self.check_checkpoint_fits();
    }

    fn entry_bytes(&mut self, num: i64, id: &str, seq: u64, run: &mut Run) {
        let row = match row_at(self.connection, num, seq) {
            Ok(Some(row)) => row,
            Ok(None) => {
                run.gap.get_or_insert(seq);
                return self.grow(num, id, ([0; 32], [0; 32]), run);
            }
            Err(error) => {
                self.find(id, seq, What::Gap, format!("entry {seq} cannot be read: {error}"));
                run.holes.push((seq, seq));
                return self.grow(num, id, ([0; 32], [0; 32]), run);
            }
        };
        self.end_gap(id, seq, run);
        let leaf = tree::leaf(&row.bytes);
        if row.leaf != leaf {
            self.find(
                id,
                seq,
                What::Leaf,
                format!("entry {seq} does not have its leaf hash: its bytes or the hash were changed"),
            );
        }
        match canon::parse(&row.bytes) {
            Ok(value) => self.check_envelope(id, seq, &row, &value, run),
            Err(error) => {
                let sentence = format!("the bytes of entry {seq} are not the JSON of an entry: {error}");
                self.find(id, seq, What::NotCanonical, sentence);
            }
        }
        let stored = row.leaf.try_into().unwrap_or([0; 32]);
        self.grow(num, id, (leaf, stored), run);
    }

    fn end_gap(&mut self, id: &str, seq: u64, run: &mut Run) {
        let Some(first) = run.gap.take() else { return };
        run.holes.push((first, seq - 1));
        let sentence = match seq - first {
            1 => format!("entry {first} is missing"),
            _ => format!("entries {first} to {} are missing", seq - 1),
        };
        self.find(id, first, What::Gap, sentence);
    }

    fn check_envelope(&mut self, id: &str, seq: u64, row: &Row, value: &Value, run: &mut Run) {
        self.check_columns(id, seq, row, value);
        let order = value.get("order_ms").and_then(Value::as_i64).unwrap_or(i64::MIN);
        let entered = value.get("entered_ms").and_then(Value::as_i64).unwrap_or(i64::MAX);
        if order < run.order_ms || order < entered {
            self.find(
                id,
                seq,
                What::Order,
                format!("entry {seq} is ordered before the entry before it, or before it was entered"),
            );
        }
        run.order_ms = run.order_ms.max(order);
        self.check_counts(id, seq, value, run);
        for digest in block_digests(value) {
            run.blocks.entry(digest.to_owned()).or_insert(seq);
        }
    }

    fn check_columns(&mut self, id: &str, seq: u64, row: &Row, value: &Value) {
        let text = |name: &str| value.get(name).and_then(Value::as_str).unwrap_or_default();
        let number = |name: &str| value.get(name).and_then(Value::as_i64);
        let place = i64::try_from(seq).ok();
        if number("seq") != place || text("log") != id {
            let sentence = match number("seq") {
                Some(other) if text("log") == id => format!("at place {seq} stands the entry of place {other}"),
                _ => format!("at place {seq} stands an entry of another log"),
            };
            self.find(id, seq, What::Order, sentence);
        }
        let texts = [("id", &row.id), ("kind", &row.kind), ("act", &row.act)];
        let numbers = [("entered_ms", row.entered_ms), ("happened_ms", row.happened_ms), ("order_ms", row.order_ms)];
        let mut wrong: Vec<&str> =
            texts.iter().filter(|(name, copy)| text(name) != **copy).map(|pair| pair.0).collect();
        wrong.extend(numbers.iter().filter(|(name, copy)| number(name) != Some(*copy)).map(|pair| pair.0));
        if row.log != id {
            wrong.push("log");
        }
        if Some(row.seq) != place {
            wrong.push("seq");
        }
        if !wrong.is_empty() {
            let sentence = format!("entry {seq}: the column {} differs from its bytes or its place", wrong.join(", "));
            self.find(id, seq, What::Column, sentence);
        }
    }

    /// Each subject's running number goes 1, 2, 3 … within a log.
    fn check_counts(&mut self, id: &str, seq: u64, value: &Value, run: &mut Run) {
        for about in value.get("about").and_then(Value::as_array).into_iter().flatten() {
            let subject = about.get("id").and_then(Value::as_str).unwrap_or_default();
            let n = about.get("n").and_then(Value::as_u64).unwrap_or(0);
            let last = run.counts.entry(subject.to_owned()).or_insert(0);
            let due = *last + 1;
            *last = (*last).max(n);
            if n != due {
                let sentence = format!(
                    "entry {seq} is number {n} about {subject}, but {due} is due: entries are missing or stand twice"
                );
                self.find(id, seq, What::Gap, sentence);
            }
        }
    }

    /// Adds a leaf to both trees and compares the tiles it finishes.
    fn grow(&mut self, num: i64, id: &str, leaves: (Hash, Hash), run: &mut Run) {
        let (mut tiles, mut other) = (Vec::new(), Vec::new());
        run.from_bytes.push(leaves.0, &mut tiles);
        run.from_leaves.push(leaves.1, &mut other);
        for ((level, at, hash), (_, _, second)) in tiles.into_iter().zip(other) {
            let first = at << (u32::from(level) * TILE_BITS);
            let last = run.from_bytes.size() - 1;
            let stored = self.stored_tile(num, level, at);
            let sentence = match stored {
                Ok(Some(stored)) if stored == hash || stored == second => continue,
                Ok(Some(_)) => format!("the stored hash over entries {first} to {last} does not fit them"),
                Ok(None) => format!("the stored hash over entries {first} to {last} is missing"),
                Err(error) => format!("the stored hash over entries {first} to {last} cannot be read: {error}"),
            };
            if !run.has_hole(first, last) {
                self.find(id, first, What::Tile, sentence);
            }
        }
    }

    fn stored_tile(&self, log: i64, level: u8, at: u64) -> Result<Option<Vec<u8>>, rusqlite::Error> {
        let mut ask = self.connection.prepare_cached(include_str!("tile.sql"))?;
        ask.query_row((log, level, at), |row| row.get(0)).optional()
    }

    fn check_edge(&mut self, at: usize, run: &Run) {
        let Some(log) = self.logs.get(at) else { return };
        let id = log.id.clone();
        let Some(edge) = Edge::read(log.size, &log.edge) else {
            let last = log.size.saturating_sub(1);
            return self.find(
                &id,
                last,
                What::Tile,
                format!("the right edge does not fit a log of {} entries", log.size),
            );
        };
        let mut first = 0;
        let mut left = log.size;
        for (at, peak) in edge.peaks().iter().enumerate() {
            let width = 1u64 << (63 - left.leading_zeros());
            let fits = [&run.from_bytes, &run.from_leaves].iter().any(|tree| tree.peaks().get(at) == Some(peak));
            let last = first + width - 1;
            if !fits && !run.has_hole(first, last) && !self.blamed(&id, first) {
                self.find(&id, first, What::Tile, format!("the right edge does not fit entries {first} to {last}"));
            }
            first += width;
            left -= width;
        }
    }

    /// The tile over these entries was found wrong already.
    fn blamed(&self, id: &str, first: u64) -> bool {
        let same =
            |found: &Found| found.what == What::Tile && found.seq == Some(first) && found.log.as_deref() == Some(id);
        self.found.iter().any(same)
    }

    fn check_extra_tiles(&mut self, num: i64, id: &str, size: u64) {
        let asked = self.connection.prepare_cached(include_str!("tiles.sql")).and_then(|mut ask| {
            let rows = ask.query_map([num], |row| Ok((row.get(0)?, row.get(1)?)))?;
            rows.collect::<Result<Vec<(u32, u64)>, _>>()
        });
        match asked {
            Ok(tiles) => {
                for (level, at) in tiles {
                    let width = 1u64.checked_shl(level.saturating_mul(TILE_BITS)).unwrap_or(u64::MAX);
                    let end = at.saturating_add(1).saturating_mul(width);
                    if level == 0 || end > size {
                        let first = at.saturating_mul(width);
                        let sentence = format!("a hash is stored over {end} entries, but the log has only {size}");
                        self.find(id, first, What::Tile, sentence);
                    }
                }
            }
            Err(error) => {
                self.find_in_file(What::Tile, format!("the stored hashes of log {id} cannot be read: {error}"))
            }
        }
    }

    fn check_blocks(&mut self, id: &str, run: &Run) {
        for (digest, seq) in &run.blocks {
            let wrong = match block_bytes(self.connection, digest) {
                Ok(Some(bytes)) if hex::encode(Sha256::digest(&bytes)) == *digest => continue,
                Ok(Some(_)) => "was changed".to_owned(),
                Ok(None) => "is missing".to_owned(),
                Err(error) => format!("cannot be read: {error}"),
            };
            self.find(id, *seq, What::Block, format!("the block {digest} that entry {seq} names {wrong}"));
        }
    }

    /// Rows of `entry` that stand in no log.
    fn check_extra_rows(&mut self) {
        let asked = self.connection.prepare_cached(include_str!("extra.sql")).and_then(|mut ask| {
            let rows = ask.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
            rows.collect::<Result<Vec<(i64, String, i64)>, _>>()
        });
        match asked {
            Ok(rows) => {
                for (place, log, seq) in rows {
                    let at = crate::store::seq_of(place);
                    self.find(
                        &log,
                        at,
                        What::Order,
                        format!("an entry marked {seq} of log {log} stands beyond the log's end"),
                    );
                }
            }
            Err(error) => self.find_in_file(What::Gap, format!("the entries cannot be read through: {error}")),
        }
    }

    /// Compares the tree of as many entries as the checkpoint has.
    fn check_checkpoint_at(&mut self, id: &str, run: &Run) {
        let Some(checkpoint) = self.checkpoint else { return };
        if checkpoint.log != id || checkpoint.size != run.from_bytes.size() || run.from_bytes.root() == checkpoint.root
        {
            return;
        }
        let last = checkpoint.size.saturating_sub(1);
        let sentence = format!(
            "the first {} entries do not have the checkpoint's root: something up to entry {last} was changed since it was given",
            checkpoint.size
        );
        self.find(id, last, What::Checkpoint, sentence);
    }

    fn check_checkpoint_fits(&mut self) {
        let Some(checkpoint) = self.checkpoint else { return };
        let held = self.logs.iter().find(|log| log.id == checkpoint.log).map(|log| log.size);
        let (size, log) = (checkpoint.size, checkpoint.log.clone());
        match held {
            None => self.find(&log, 0, What::Checkpoint, format!("this book does not hold the checkpoint's log {log}")),
            Some(held) if held < size => {
                let sentence =
                    format!("the checkpoint was given at {size} entries; the log has only {held}: its tail was cut");
                self.find(&log, held, What::Checkpoint, sentence);
            }
            Some(_) => {}
        }
    }
}

/// Digests of the blocks that an entry names.
pub(super) fn block_digests(value: &Value) -> impl Iterator<Item = &str> {
    let kind = value.get("kind").and_then(Value::as_str);
    let blocks = value.get("body").and_then(|body| body.get("blocks")).filter(|_| kind == Some("readings"));
    blocks.and_then(Value::as_array).into_iter().flatten().filter_map(|block| block.get("sha256")?.as_str())
}

pub(super) fn block_bytes(connection: &Connection, digest: &str) -> Result<Option<Vec<u8>>, rusqlite::Error> {
    let Ok(digest) = hex::decode(digest) else { return Ok(None) };
    connection.prepare_cached(include_str!("block.sql"))?.query_row([digest], |row| row.get(0)).optional()
}
