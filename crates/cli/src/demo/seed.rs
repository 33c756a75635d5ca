//! Ids and keys that look random and are the same in every run for the same T.

use uuid::{Builder, Uuid};

/// A stream of version-4-shaped ids, derived from T and a counter.
pub struct Seed {
    until_ms: i64,
    next: u64,
}

impl Seed {
    /// The stream of a T. Books of different T share no id.
    pub fn new(until_ms: i64) -> Seed {
        Seed { until_ms, next: 0 }
    }

    /// The next id of the stream.
    pub fn id(&mut self) -> String {
        let text = format!("made-up wing {} {}", self.until_ms, self.next);
        self.next += 1;
        let digest = Uuid::new_v5(&Uuid::NAMESPACE_OID, text.as_bytes());
        Builder::from_random_bytes(digest.into_bytes()).into_uuid().to_string()
    }
}
