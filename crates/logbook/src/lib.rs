//! Entries, the append-only store, verification. It never reads a clock, never updates or deletes an entry, and
//! lets no SQL text leave.

pub mod canon;
pub mod checkpoint;
pub mod entry;
pub mod settled;
pub mod store;
pub mod tree;
pub mod verify;

#[cfg(test)]
extern crate self as logbook;
