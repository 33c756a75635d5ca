//! What a caller asked under a key: kept outside the logs, so that a key used twice for two things is noticed.

use super::{Book, Error, Noun};
use rusqlite::{OptionalExtension, named_params};

impl Book {
    /// Digest of what was asked under an act's key; None: not asked here.
    pub fn asked(&self, key: &str) -> Result<Option<[u8; 32]>, Error> {
        let mut ask = self.sql(include_str!("asked.sql"))?;
        Ok(ask.query_row(named_params! { ":act": key }, |row| row.get(0)).optional()?)
    }

    /// Notes what was asked under an act's key. Only inside [`Book::transact`]; nothing true rests on it.
    pub fn note_asked(&self, key: &str, digest: &[u8; 32]) -> Result<(), Error> {
        self.sql(include_str!("note_asked.sql"))?.execute(named_params! { ":act": key, ":digest": digest })?;
        Ok(())
    }

    /// Name of the thing of a noun that was made last and stands.
    pub fn newest_name(&self, noun: Noun) -> Result<Option<String>, Error> {
        let mut ask = self.sql(include_str!("newest_name.sql"))?;
        Ok(ask.query_row(named_params! { ":noun": noun.word() }, |row| row.get(0)).optional()?)
    }
}
