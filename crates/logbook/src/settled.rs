//! Entries after corrections and withdrawals, as seen from an instant.

use crate::entry::{Body, Entry, Id};

/// Which part of the record exists: what happened until `at_ms` among what was entered until `known_ms`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seen {
    /// What happened later does not exist, ms UTC.
    pub at_ms: i64,
    /// What was entered later does not exist, ms UTC.
    pub known_ms: i64,
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
pub fn settle(entries: &[Entry], seen: Seen) -> Vec<Settled> {
    let _ = (entries, seen);
    todo!("logbook room")
}
