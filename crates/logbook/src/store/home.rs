//! Which machine and file this book was last written on: kept outside the logs, so that a copy is noticed.

use super::{Book, Error};
use rusqlite::{OptionalExtension, named_params};

/// Where a book is at home. Both words are the caller's; the store only keeps them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Home {
    /// Identity of the machine.
    pub machine: String,
    /// Identity of the file: inode and birth time.
    pub file: String,
}

impl Book {
    /// Where this book was last written; None until it is set.
    pub fn home(&self) -> Result<Option<Home>, Error> {
        let one = |key: &str| -> Result<Option<String>, Error> {
            let mut ask = self.sql(include_str!("home.sql"))?;
            Ok(ask.query_row(named_params! { ":key": key }, |row| row.get(0)).optional()?)
        };
        Ok(one("machine")?.zip(one("file")?).map(|(machine, file)| Home { machine, file }))
    }

    /// Notes where this book is at home now. Only inside [`Book::transact`].
    pub fn set_home(&self, home: &Home) -> Result<(), Error> {
        for (key, value) in [("machine", &home.machine), ("file", &home.file)] {
            self.sql(include_str!("set_home.sql"))?.execute(named_params! { ":key": key, ":value": value })?;
        }
        Ok(())
    }
}
