//! Depth *rebuild*: every read model folded anew from the entries into a scratch file, then compared row by row.
//!
//! The scratch file holds only the read models; entries are read from the book, attached read-only beside it.

use super::{Look, What};
use crate::entry::Entry;
use crate::entry::read::ids_in;
use crate::store::{Book, Error, open, place_of, seq_of};
use rusqlite::{Connection, named_params};
use std::collections::BTreeSet;
use std::path::Path;

/// The read models: table, the columns to compare, the column that tells which entry a row belongs to.
const MODELS: &[(&str, &str, &str)] = &[
    ("about", "subject, log, seq, n", "(log << 40) | seq"),
    ("refer", "target, place", "place"),
    ("amend", "target, place", "place"),
    ("name", "noun, place, name", "place"),
    ("hand", "spot, source, at_ms, place", "place"),
    ("cover", "spot, until_ms, from_ms, place", "place"),
    ("hour", "spot, hour_ms, place", "place"),
    ("live", "place, what", "place"),
    ("turn", "place, starts", "place"),
];

impl Look<'_> {
    pub(super) fn rebuild(&mut self, path: &Path) {
        if self.stopped() {
            return;
        }
        let done = open::scratch(path).and_then(|scratch| {
            let book = Book::over(scratch);
            self.fold_all(&book)?;
            Ok(book)
        });
        match done {
            Ok(book) if !self.stopped() => MODELS.iter().for_each(|model| self.compare(book.connection(), model)),
            Ok(_) => {}
            Err(error) => {
                self.find_in_file(What::ReadModel, format!("the read models cannot be worked out anew: {error}"));
            }
        }
    }

    /// Folds all entries in the order of state: order_ms, log, sequence.
    fn fold_all(&mut self, book: &Book) -> Result<(), Error> {
        let mut ask = self.connection.prepare(include_str!("fold_order.sql"))?;
        let mut rows = ask.query([])?;
        book.connection().execute_batch("BEGIN")?;
        while let Some(row) = rows.next()? {
            if !self.go_on() {
                break;
            }
            let (place, bytes): (i64, Vec<u8>) = (row.get(0)?, row.get(1)?);
            // What cannot be read was found before.
            if let Ok(entry) = Entry::from_bytes(&bytes) {
                index(book, place, &entry)?;
                book.fold(place, &entry)?;
            }
        }
        book.connection().execute_batch("COMMIT")?;
        Ok(())
    }

    fn compare(&mut self, scratch: &Connection, model: &(&str, &str, &str)) {
        let (table, columns, place) = *model;
        let sides = [
            ("main", "book", "lacks a row that the entries give"),
            ("book", "main", "has a row that the entries do not give"),
        ];
        for (this, other, words) in sides {
            let sql = format!(
                "SELECT {place}, count(*) FROM (SELECT {columns} FROM {this}.{table} EXCEPT SELECT {columns} FROM {other}.{table}) GROUP BY 1"
            );
            let asked = scratch.prepare(&sql).and_then(|mut ask| {
                let rows = ask.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
                rows.collect::<Result<Vec<(i64, u64)>, _>>()
            });
            match asked {
                Ok(rows) => rows.into_iter().for_each(|row| self.find_row(table, words, row.0)),
                Err(error) => self.find_in_file(What::ReadModel, format!("the table {table} cannot be read: {error}")),
            }
        }
    }

    fn find_row(&mut self, table: &str, words: &str, place: i64) {
        let seq = seq_of(place);
        let log = self.logs.iter().find(|log| log.num == place >> 40).map(|log| log.id.clone());
        let sentence = format!("the table {table} {words}, at entry {seq}");
        match log {
            Some(log) => self.find(&log, seq, What::ReadModel, sentence),
            None => self.find_in_file(What::ReadModel, sentence),
        }
    }
}

/// The `about` and `refer` rows of an entry, as appending writes them.
fn index(book: &Book, place: i64, entry: &Entry) -> Result<(), Error> {
    let mut subjects = BTreeSet::from([place]);
    for about in &entry.about {
        let Some(subject) = book.place_by_id(&about.id)? else { continue };
        subjects.insert(subject);
        let own = place_of(place >> 40, entry.seq)?;
        book.sql(include_str!("../store/insert_about.sql"))?
            .execute(named_params! { ":subject": subject, ":log": own >> 40, ":seq": entry.seq, ":n": about.n })?;
    }
    let body = entry.body.write().map_err(|error| Error::Fault(error.to_string()))?;
    for id in ids_in(&body).iter().chain(&entry.corrects) {
        let Some(target) = book.place_by_id(id)? else { continue };
        if subjects.insert(target) {
            book.sql(include_str!("../store/insert_refer.sql"))?
                .execute(named_params! { ":target": target, ":place": place })?;
        }
    }
    Ok(())
}
