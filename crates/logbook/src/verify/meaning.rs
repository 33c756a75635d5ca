//! Depth *meaning*: canonical form, known kinds, references, exact order, and what entries state about others.

use super::bytes::{block_bytes, block_digests, row_at};
use super::ratio::{Again, Sources};
use super::references::named;
use super::{Look, StoredHashes, What};
use crate::canon;
use crate::checkpoint::root_text;
use crate::entry::mix::Mix;
use crate::entry::place::Readings;
use crate::entry::{Body, Entry};
use crate::store::Block;
use crate::tree;
use rusqlite::OptionalExtension;
use serde_json::Value;
use std::collections::BTreeMap;

/// The entry that an id names.
struct Target {
    place: i64,
    kind: String,
    order_ms: i64,
}

/// What is carried from entry to entry.
#[derive(Default)]
struct Run {
    order_ms: Option<i64>,
    counts: BTreeMap<String, u64>,
    /// Models whose values were not worked out anew, with how many.
    models: BTreeMap<String, u64>,
    unknown: u64,
    sources: Sources,
}

/// Where an entry stands.
struct At<'a> {
    log: &'a str,
    num: i64,
    seq: u64,
    own: bool,
}

impl Look<'_> {
    pub(super) fn meaning(&mut self) {
        for at in 0..self.logs.len() {
            let Some(log) = self.logs.get(at) else { break };
            let (num, id, size, own) = (log.num, log.id.clone(), log.size, log.standing != "foreign");
            let mut run = Run::default();
            for seq in 0..size {
                if !self.go_on() {
                    return;
                }
                // What cannot be read or parsed was found at depth bytes.
                let Ok(Some(row)) = row_at(self.connection, num, seq) else { continue };
                let Ok(value) = canon::parse(&row.bytes) else { continue };
                self.entry_meaning(&At { log: &id, num, seq, own }, &row.bytes, &value, &mut run);
            }
            self.say_not_recomputed(&id, &run);
        }
    }

    fn say_not_recomputed(&mut self, id: &str, run: &Run) {
        for (model, count) in &run.models {
            self.cannot_show.push(format!("{count} values worked out by {model} were not recomputed"));
        }
        if run.unknown > 0 {
            self.cannot_show.push(format!("{} entries of log {id} are of kinds not understood here", run.unknown));
        }
    }

    fn entry_meaning(&mut self, at: &At, bytes: &[u8], value: &Value, run: &mut Run) {
        let seq = at.seq;
        match serde_json_canonicalizer::to_vec(value) {
            Ok(canonical) if canonical == bytes => {}
            _ => self.find(
                at.log,
                seq,
                What::NotCanonical,
                format!("the bytes of entry {seq} are not in canonical form"),
            ),
        }
        let entry = match Entry::from_value(value.clone()) {
            Ok(entry) => entry,
            Err(error) => {
                return self.find(
                    at.log,
                    seq,
                    What::NotCanonical,
                    format!("entry {seq} is not of a known form: {error}"),
                );
            }
        };
        self.check_first(at, &entry);
        self.check_references(at, value, &entry, run);
        match &entry.body {
            Body::Readings(readings) => self.check_readings(at, readings, value),
            Body::Mix(mix) | Body::TopUp(mix) => self.check_ratio(at, &entry, mix, run),
            Body::Issued(issued) => self.check_issued(at, &issued.counts, run),
            Body::LogStart(start) => start.continues.iter().for_each(|it| self.check_claim(at, it)),
            Body::CheckpointGiven(given) => self.check_claim(at, &given.checkpoint),
            Body::Unknown(kind, _) if at.own => {
                self.find(
                    at.log,
                    seq,
                    What::NotCanonical,
                    format!("entry {seq} is of the kind {kind}, which no own entry has"),
                );
            }
            Body::Unknown(..) => run.unknown += 1,
            _ => {}
        }
        run.sources.meet(&entry);
        models_of(value, &mut run.models);
        for about in &entry.about {
            run.counts.insert(about.id.clone(), about.n);
        }
    }

    fn check_first(&mut self, at: &At, entry: &Entry) {
        if (at.seq == 0) != matches!(entry.body, Body::LogStart(_)) {
            let sentence = format!("entry {}: a log begins with a log-start, and no other entry is one", at.seq);
            self.find(at.log, at.seq, What::Order, sentence);
        }
    }

    fn check_references(&mut self, at: &At, value: &Value, entry: &Entry, run: &mut Run) {
        let place = (at.num << 40) | i64::try_from(at.seq).unwrap_or(i64::MAX);
        let mut due = entry.entered_ms.max(run.order_ms.unwrap_or(i64::MIN));
        let mut complete = true;
        for named in named(value) {
            let (field, id) = (named.field, named.id);
            let Some(target) = self.target(id) else {
                complete = false;
                if at.own {
                    let sentence = format!("entry {}: {field} names {id}, which no entry made", at.seq);
                    self.find(at.log, at.seq, What::Reference, sentence);
                }
                continue;
            };
            if !named.kinds.is_empty() && !named.kinds.contains(&target.kind.as_str()) {
                let sentence = format!("entry {}: {field} names {id}, which is a {}", at.seq, target.kind);
                self.find(at.log, at.seq, What::Reference, sentence);
            }
            if target.place >> 40 != at.num || target.place < place {
                due = due.max(target.order_ms);
            }
        }
        if complete && entry.order_ms != due {
            let sentence = format!(
                "entry {} is ordered at {} ms; by what it names it belongs at {due} ms",
                at.seq, entry.order_ms
            );
            self.find(at.log, at.seq, What::Order, sentence);
        }
        run.order_ms = Some(entry.order_ms);
        self.check_correction(at, entry);
    }

    fn target(&self, id: &str) -> Option<Target> {
        let mut ask = self.connection.prepare_cached(include_str!("target.sql")).ok()?;
        let read = |row: &rusqlite::Row| Ok(Target { place: row.get(0)?, kind: row.get(1)?, order_ms: row.get(2)? });
        ask.query_row([id], read).optional().ok()?
    }

    /// A correction is of its original's kind, and its original is no correction itself.
    fn check_correction(&mut self, at: &At, entry: &Entry) {
        let Some(original) = &entry.corrects else { return };
        let Some(target) = self.target(original) else { return };
        let seq = crate::store::seq_of(target.place);
        let bytes = row_at(self.connection, target.place >> 40, seq).ok().flatten().map(|row| row.bytes);
        let again =
            bytes.and_then(|bytes| canon::parse(&bytes).ok()).is_some_and(|value| value.get("corrects").is_some());
        if target.kind != entry.body.kind() || again {
            let sentence = format!("entry {} corrects {original}, which is no original of the same kind", at.seq);
            self.find(at.log, at.seq, What::Reference, sentence);
        }
    }

    fn check_readings(&mut self, at: &At, readings: &Readings, value: &Value) {
        for (named, digest) in readings.blocks.iter().zip(block_digests(value)) {
            // A missing or changed block was found at depth bytes.
            let Ok(Some(bytes)) = block_bytes(self.connection, digest) else { continue };
            let fits = Block::read(&bytes).is_some_and(|block| {
                block.place == readings.place && block.source == readings.source && block.hour_ms == named.hour_ms
            });
            if !fits {
                let sentence =
                    format!("the block {digest} is not of the place, source and hour that entry {} says", at.seq);
                self.find(at.log, at.seq, What::Block, sentence);
            }
        }
    }

    /// A verdict on a ratio must come out again. One that was worked out does not count as not recomputed.
    fn check_ratio(&mut self, at: &At, entry: &Entry, mix: &Mix, run: &mut Run) {
        let Some(judged) = &mix.judged else { return };
        match run.sources.judge(entry, mix) {
            Again::Not => *run.models.entry(judged.model.clone()).or_insert(0) += 1,
            Again::Same => {}
            Again::Other(stored, due) => {
                let sentence = format!("entry {} says the ratio was {stored}; worked out anew it is {due}", at.seq);
                self.find(at.log, at.seq, What::ReadModel, sentence);
            }
        }
    }

    /// The counts that an `issued` entry states are those before it.
    fn check_issued(&mut self, at: &At, counts: &[crate::entry::About], run: &Run) {
        for count in counts {
            let before = run.counts.get(&count.id).copied().unwrap_or(0);
            if count.n != before {
                let sentence =
                    format!("entry {} states {} entries about {}; there are {before}", at.seq, count.n, count.id);
                self.find(at.log, at.seq, What::Gap, sentence);
            }
        }
    }

    /// A checkpoint stated in an entry must be one that the log it names really had.
    fn check_claim(&mut self, at: &At, claim: &crate::entry::book::Continues) {
        let Some(log) = self.logs.iter().find(|log| log.id == claim.log && log.size >= claim.size) else { return };
        let mut stored = StoredHashes { connection: self.connection, log: log.num };
        let root = tree::root_at(&mut stored, claim.size).map(|root| root_text(&root));
        if root.as_ref() != Ok(&claim.root) {
            let sentence =
                format!("entry {} states a root that log {} did not have at {} entries", at.seq, claim.log, claim.size);
            self.find(at.log, at.seq, What::Checkpoint, sentence);
        }
    }
}

/// Counts the values that carry the name of the model that worked them out.
fn models_of(value: &Value, models: &mut BTreeMap<String, u64>) {
    match value {
        Value::Object(fields) => {
            // A ratio's verdict is worked out anew in its own place.
            if let Some(Value::String(model)) = fields.get("model").filter(|_| !fields.contains_key("verdict")) {
                *models.entry(model.clone()).or_insert(0) += 1;
            }
            fields.values().for_each(|item| models_of(item, models));
        }
        Value::Array(items) => items.iter().for_each(|item| models_of(item, models)),
        _ => {}
    }
}
