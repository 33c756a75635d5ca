//! The file around the entries: tables, triggers and indices as this build makes them, and SQLite's own check.

use super::{Look, What};
use crate::store::open;
use rusqlite::Connection;
use std::collections::BTreeMap;

/// Type and name of a piece of the schema, with the statement that made it.
type Pieces = BTreeMap<(String, String), String>;

impl Look<'_> {
    pub(super) fn schema(&mut self) {
        match (pieces(self.connection), open::model_schema().and_then(|model| Ok(pieces(&model)?))) {
            (Ok(held), Ok(due)) => self.compare_schema(&held, &due),
            (Err(error), _) => {
                self.find_in_file(What::ReadModel, format!("the file's table of contents cannot be read: {error}"))
            }
            (_, Err(error)) => self.cannot_show.push(format!("whether the tables are as they should be: {error}")),
        }
        self.check_pages();
    }

    fn compare_schema(&mut self, held: &Pieces, due: &Pieces) {
        for ((sort, name), statement) in due {
            match held.get(&(sort.clone(), name.clone())) {
                Some(other) if other == statement => {}
                Some(_) => {
                    self.find_in_file(What::ReadModel, format!("the {sort} {name} is not as this program makes it"))
                }
                None => self.find_in_file(What::ReadModel, format!("the {sort} {name} is missing")),
            }
        }
        for (sort, name) in held.keys().filter(|key| !due.contains_key(key)) {
            self.find_in_file(What::ReadModel, format!("there is a {sort} {name} that no book has"));
        }
    }

    /// SQLite's own look at pages and indices. It cannot see a changed value.
    fn check_pages(&mut self) {
        let asked = self.connection.prepare("PRAGMA quick_check(20)").and_then(|mut ask| {
            let rows = ask.query_map([], |row| row.get::<_, String>(0))?;
            rows.collect::<Result<Vec<String>, _>>()
        });
        match asked {
            Ok(lines) => {
                for line in lines.into_iter().filter(|line| line != "ok") {
                    self.find_in_file(What::ReadModel, format!("SQLite finds the file damaged: {line}"));
                }
            }
            Err(error) => self.find_in_file(What::ReadModel, format!("SQLite cannot read the file through: {error}")),
        }
    }
}

fn pieces(connection: &Connection) -> Result<Pieces, rusqlite::Error> {
    let mut ask = connection.prepare(include_str!("schema.sql"))?;
    let rows = ask.query_map([], |row| Ok(((row.get(0)?, row.get(1)?), row.get(2)?)))?;
    rows.collect()
}
