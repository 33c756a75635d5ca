//! Entries after corrections and withdrawals, as seen from an instant.

use crate::entry::{Body, Entry, Id};
use std::collections::{BTreeMap, BTreeSet};

/// Which part of the record exists: what happened until `at_ms` among what was entered until `known_ms`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seen {
    /// What happened later does not exist, ms UTC.
    pub at_ms: i64,
    /// What was entered later does not exist, ms UTC.
    pub known_ms: i64,
}

impl Seen {
    /// Everything that was ever entered.
    pub const ALL: Seen = Seen { at_ms: i64::MAX, known_ms: i64::MAX };
}

/// One original entry with the body and instant now in force.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// The original entry.
    pub entry: Entry,
    /// Body in force: the last correction's in own-log order, else its own.
    pub body: Body,
    /// Instant in force, ms.
    pub happened_ms: i64,
    /// The correction in force.
    pub corrected_by: Option<Id>,
}

/// Applies corrections and withdrawals to a subject's entries (any order) and keeps what `seen` admits.
/// The result is in fold order (order_ms, log, seq) of the originals. Withdrawn originals are left out.
///
/// A correction or withdrawal counts when it was *entered* until `known_ms`, whenever it says it happened; a fact
/// exists when the instant in force is not after `at_ms`. A withdrawn correction or withdrawal counts for nothing.
/// Corrections and withdrawals themselves do not appear in the result.
pub fn settle(entries: &[Entry], seen: Seen) -> Vec<Settled> {
    let mut known: Vec<&Entry> = entries.iter().filter(|entry| entry.entered_ms <= seen.known_ms).collect();
    known.sort_by(|a, b| fold_key(a).cmp(&fold_key(b)));
    known.dedup_by(|a, b| a.id == b.id);
    let gone = withdrawn(&known);
    let corrections = last_corrections(&known, &gone);
    known
        .into_iter()
        .filter(|entry| is_original(entry) && !gone.contains(entry.id.as_str()))
        .map(|entry| in_force(entry, corrections.get(entry.id.as_str()).copied()))
        .filter(|settled| settled.happened_ms <= seen.at_ms)
        .collect()
}

/// Order in which state folds.
pub fn fold_key(entry: &Entry) -> (i64, &str, u64) {
    (entry.order_ms, entry.log.as_str(), entry.seq)
}

fn is_original(entry: &Entry) -> bool {
    entry.corrects.is_none() && !matches!(entry.body, Body::Withdrawn(_))
}

/// Ids withdrawn by a withdrawal that is not itself withdrawn. A withdrawal stands after what it withdraws, so the
/// last is judged first.
fn withdrawn<'a>(known: &[&'a Entry]) -> BTreeSet<&'a str> {
    let mut gone = BTreeSet::new();
    for entry in known.iter().rev() {
        if let Body::Withdrawn(body) = &entry.body
            && !gone.contains(entry.id.as_str())
        {
            gone.insert(body.entry.as_str());
        }
    }
    gone
}

/// Per original the last correction in fold order. A correction that names another correction counts for its original.
fn last_corrections<'a>(known: &[&'a Entry], gone: &BTreeSet<&str>) -> BTreeMap<&'a str, &'a Entry> {
    let mut origin: BTreeMap<&str, &str> = BTreeMap::new();
    let mut last = BTreeMap::new();
    for entry in known {
        let Some(target) = entry.corrects.as_deref() else {
            continue;
        };
        let root = origin.get(target).copied().unwrap_or(target);
        origin.insert(entry.id.as_str(), root);
        if !gone.contains(entry.id.as_str()) {
            last.insert(root, *entry);
        }
    }
    last
}

fn in_force(entry: &Entry, correction: Option<&Entry>) -> Settled {
    let source = correction.unwrap_or(entry);
    Settled {
        entry: entry.clone(),
        body: source.body.clone(),
        happened_ms: source.happened_ms,
        corrected_by: correction.map(|by| by.id.clone()),
    }
}
