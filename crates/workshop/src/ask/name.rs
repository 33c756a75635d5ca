//! Names in questions: as in acts, and only what exists at the moment asked about.

use super::Asking;
use crate::act::names;
use crate::wire::WireError;
use logbook::entry::{Body, Id};
use logbook::store::Noun;

impl Asking<'_> {
    /// The one thing of a name. Two that bear it: `ambiguous`, with the candidates; none: `not-found`.
    pub fn find(&self, noun: Noun, field: &str, typed: &str) -> Result<Id, WireError> {
        let id =
            names::resolve(self.book, noun, field, typed).map_err(|error| self.with_candidates(noun, typed, error))?;
        if self.judge.in_force(&id)?.is_none() {
            let sentence = format!("{field} names something that is not in the book at the moment asked about.");
            let advice = "Ask at a later instant, or without --at and --known-at.";
            return Err(WireError::new("not-found", sentence, advice).field(field).value(typed));
        }
        Ok(id)
    }

    fn with_candidates(&self, noun: Noun, typed: &str, mut error: WireError) -> WireError {
        if error.code != "ambiguous" {
            return error;
        }
        let bare = typed.trim();
        let bare = bare.split_once(':').map_or(bare, |(_, rest)| rest.trim());
        let ids = self.book.find(noun, bare).unwrap_or_default();
        let said: Vec<String> = ids.iter().map(|id| self.candidate(id)).collect();
        if !said.is_empty() {
            error.advice = format!("{} Candidates: {}.", error.advice, said.join("; "));
        }
        error
    }

    fn candidate(&self, id: &str) -> String {
        match self.book.entry(id) {
            Ok(Some(entry)) => match &entry.body {
                Body::Batch(batch) => format!("{} {} ({id})", batch.name, batch.day),
                _ => id.to_owned(),
            },
            _ => id.to_owned(),
        }
    }
}
