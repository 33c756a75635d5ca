//! What a person can ask. One file per room; this page only hands each question to its room. A question opens the
//! book read-only, reads it in one transaction and never changes a byte.

mod act_body;
pub mod amounts;
pub mod answer;
pub mod batch;
pub mod bench;
mod board;
pub mod clocks;
mod cured;
mod dried;
pub mod entries;
mod expected;
pub mod figure;
mod figure_box;
pub mod figure_sends;
mod figure_shown;
pub mod first;
pub mod gate;
mod gate_wood;
pub(crate) mod kept;
mod least;
pub mod lines;
pub mod list;
pub mod name;
mod off_ratio;
pub mod page;
mod page_lines;
pub mod parts;
mod picture;
mod post_cure;
pub mod pour;
mod presses;
pub mod question;
pub mod read;
pub mod readings;
mod row_cure;
mod rows;
mod sample;
mod sentence;
pub mod session;
pub mod shape_bench;
pub mod shape_pour;
pub mod shape_rooms;
mod store_card;
pub mod stores;
mod strip;
pub mod trace;
pub mod verify;
pub mod where_used;
pub mod work;

use crate::Workshop;
use crate::judge::Judge;
use crate::time;
use crate::wire::WireError;
use logbook::settled::Seen;
use logbook::store::{Book, Mode};
use question::Question;
use serde::Serialize;
use serde_json::Value;
use std::ops::ControlFlow;

/// Told by a long question how far it is, millionths and in words; `Break` stops it.
pub type OnTheWay<'a> = &'a mut dyn FnMut(u32, &str) -> ControlFlow<()>;

/// A question at its desk: the book inside one read transaction, judged at one moment.
pub struct Asking<'a> {
    /// The book.
    pub book: &'a Book,
    /// The judge of that moment.
    pub judge: Judge<'a>,
    /// The instant judged, ms.
    pub at_ms: i64,
    /// Zone of this computer, minutes east.
    pub zone_min: i32,
}

impl Workshop {
    /// Asks one question: `{"ask":"clocks","body":{…}}`. Gives the bare answer, keys sorted.
    ///
    /// `at` is the instant judged, ms UTC (absent: now on the axis); `known_at` hides what was entered later, ms UTC
    /// (absent: nothing is hidden). Errors: a refusal names the field; code 4 errors say what is wrong with the book.
    pub fn ask(&self, at: Option<i64>, known_at: Option<i64>, question: Value) -> Result<Value, WireError> {
        self.ask_telling(at, known_at, question, &mut |_, _| ControlFlow::Continue(()))
    }

    /// The same; a long question tells on the way how far it is, and can be stopped. So far that is `verify`.
    pub fn ask_telling(
        &self,
        at: Option<i64>,
        known_at: Option<i64>,
        question: Value,
        way: OnTheWay,
    ) -> Result<Value, WireError> {
        let question = read::question(question)?;
        match &question {
            Question::Figure(asked) => return figure::figure(asked).and_then(value),
            Question::Figures(_) => return value(figure::figures(self.reader)),
            _ => {}
        }
        if let Question::Verify(asked) = &question {
            return verify::verify(&self.path, asked, way).and_then(value);
        }
        let now = self.clock.now();
        if question == Question::Clocks(question::Clocks::default()) && at.is_none() && known_at.is_none() {
            return self.live_now(&now).and_then(value);
        }
        if matches!(question, Question::Bench(_)) && at.is_none() && known_at.is_none() {
            return self.bench_now(&now).and_then(value);
        }
        let book = Book::open(&self.path, Mode::Read)?;
        book.read(|book| {
            let known_ms = known_at.unwrap_or(i64::MAX);
            let axis = time::axis_known(book, &now, known_ms)?;
            let at_ms = at.unwrap_or(axis.now_ms);
            let judge = Judge::new(book, Seen { at_ms, known_ms }, &axis).in_zone(now.zone_min).for_reader(self.reader);
            answer(&Asking { book, judge, at_ms, zone_min: now.zone_min }, &question)
        })
    }
}

/// Answers a question that needs no more than the book at one moment.
fn answer(asking: &Asking, question: &Question) -> Result<Value, WireError> {
    match question {
        Question::Clocks(asked) => clocks::clocks(asking, asked).and_then(value),
        Question::Trace(asked) => trace::trace(asking, asked).and_then(value),
        Question::WhereUsed(asked) => where_used::where_used(asking, asked).and_then(value),
        Question::Owed(_) => list::owed(asking).and_then(value),
        Question::Bonds(_) => list::bonds(asking).and_then(value),
        Question::List(asked) => list::list(asking, asked).and_then(value),
        Question::Entry(asked) => list::entry(asking, asked).and_then(value),
        Question::Head(_) => list::head(asking).and_then(value),
        Question::Checkpoint(_) => list::checkpoint(asking).and_then(value),
        Question::Batch(asked) => batch::batch(asking, asked).and_then(value),
        Question::Amounts(asked) => amounts::amounts(asking, asked).and_then(value),
        Question::Bench(_) => bench::bench(asking).and_then(value),
        Question::Gate(asked) => gate::gate(asking, asked).and_then(value),
        Question::Pour(asked) => pour::pour(asking, asked).and_then(value),
        Question::PostCure(asked) => post_cure::post_cure(asking, asked).and_then(value),
        Question::Figure(asked) => figure::figure(asked).and_then(value),
        Question::Figures(_) => value(figure::figures(asking.judge.reader)),
        Question::Session(asked) => session::session(asking, asked).and_then(value),
        Question::Work(_) => work::work(asking).and_then(value),
        Question::Parts(_) => parts::parts(asking).and_then(value),
        Question::Stores(_) => stores::stores(asking).and_then(value),
        Question::Entries(asked) => entries::entries(asking, asked).and_then(value),
        Question::Verify(_) => Err(WireError::new("fault", "Verify is answered before the book is read.", "")),
    }
}

/// An answer as JSON; object keys come out sorted.
fn value<T: Serialize>(answer: T) -> Result<Value, WireError> {
    serde_json::to_value(answer)
        .map_err(|error| WireError::new("fault", format!("The answer could not be written: {error}."), ""))
}

/// JSON Schema of every question and answer: `{"questions":{…},"answers":{"clocks":{…},…}}`.
pub fn schema() -> Value {
    macro_rules! answers {
        ($($word:literal $type:ident),* $(,)?) => {{
            let mut all = serde_json::Map::new();
            $(all.insert($word.to_owned(), schemars::schema_for!(answer::$type).to_value());)*
            all
        }};
    }
    let answers = answers! {
        "clocks" ClocksAnswer, "trace" TraceAnswer, "where-used" WhereUsedAnswer, "verify" VerifyAnswer,
        "owed" OwedAnswer, "bonds" BondsAnswer, "list" ListAnswer, "entry" EntryAnswer, "batch" BatchAnswer,
        "amounts" AmountsAnswer, "head" HeadAnswer, "checkpoint" CheckpointAnswer, "bench" BenchAnswer,
        "gate" GateAnswer, "post-cure" PostCureAnswer, "pour" PourAnswer, "figure" FigureAnswer, "figures" FiguresAnswer,
        "session" SessionAnswer, "work" WorkAnswer, "parts" PartsAnswer, "stores" StoresAnswer,
        "entries" EntriesAnswer,
    };
    serde_json::json!({ "questions": schemars::schema_for!(Question).to_value(), "answers": answers })
}
