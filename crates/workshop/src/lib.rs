//! What a person can do (acts) and ask (questions); the clock; the alarms. Two doors: [`Workshop::act`] and
//! [`Workshop::ask`]. It knows no window, no HTML, no PDF and no terminal.

pub mod act;
pub mod alarm;
pub mod ask;
pub mod clock;
mod file;
pub mod judge;
pub mod line;
pub mod reader;
mod rest;
pub mod time;
pub mod wire;

use clock::Clock;
use logbook::store::Book;
use std::cell::RefCell;
use std::path::{Path, PathBuf};

/// A shop's book behind its two doors.
pub struct Workshop {
    path: PathBuf,
    clock: Box<dyn Clock>,
    ids: Box<dyn FnMut() -> String + Send>,
    made_up: bool,
    /// In whose units answers are said.
    reader: reader::Reader,
    /// The book open for acts, with the identity of its file when it was opened.
    book: Option<(String, Book)>,
    /// Whom to put to rest next.
    round: rest::Round,
    /// The book open for live clocks, with what was read last.
    asked: RefCell<Option<ask::kept::Kept>>,
}

impl Workshop {
    /// A workshop on a book that may not exist yet: the first act makes it.
    pub fn new(path: &Path, clock: Box<dyn Clock>, ids: Box<dyn FnMut() -> String + Send>) -> Workshop {
        Workshop {
            path: path.to_owned(),
            clock,
            ids,
            made_up: false,
            reader: reader::Reader::default(),
            book: None,
            round: rest::Round::default(),
            asked: RefCell::new(None),
        }
    }

    /// The same, answering in these units. Entries keep what was typed.
    pub fn for_reader(mut self, reader: reader::Reader) -> Workshop {
        self.reader = reader;
        self
    }

    /// Answers in other units from now on.
    pub fn read_in(&mut self, reader: reader::Reader) {
        self.reader = reader;
    }

    /// The same, whose new books say of themselves that their data is invented.
    pub fn made_up(mut self) -> Workshop {
        self.made_up = true;
        self
    }
}

/// Makes an empty book where no file is: it can be asked at once, and the first act begins its log.
///
/// Errors: code 4 errors say why it cannot be made there.
pub fn begin(path: &Path) -> Result<(), wire::WireError> {
    Book::create(path).map(drop).map_err(wire::WireError::from)
}
