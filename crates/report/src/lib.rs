//! What leaves the shop, as values: the page of a part, for the screen and for paper. It never queries, reads a clock
//! or opens a file; the answers and the instant of issue are handed in.

mod block;
mod bond;
mod card;
mod cautions;
mod changed;
mod cured;
mod limits;
mod part_page;
mod summary;
mod words;

pub use changed::questions;
pub use part_page::part_page;

use serde_json::Value;
use workshop::reader::Reader;

/// What a page is drawn from beside the trace.
#[derive(Clone, Debug, Default)]
pub struct Beside {
    /// Answers to [`questions`], in any order; what is missing is shown as a gap.
    pub answers: Vec<Value>,
    /// Minutes east of Greenwich of the times on the page.
    pub zone_min: i32,
    /// Units of what the page says itself; the answers come in theirs.
    pub reader: Reader,
}

impl Beside {
    /// The answer about a batch, by its id.
    fn batch(&self, id: &Value) -> Option<&Value> {
        self.answers.iter().find(|answer| !id.is_null() && answer["id"] == *id && answer["mixes"].is_array())
    }

    /// The answer about an entry, by its id.
    fn entry(&self, id: &Value) -> Option<&Value> {
        self.answers.iter().find(|answer| !id.is_null() && answer["entry"]["id"] == *id)
    }
}
