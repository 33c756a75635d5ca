//! What a person can do (acts) and ask (questions); the clock; the alarms. Two doors: [`Workshop::act`] and
//! [`Workshop::ask`]. It knows no window, no HTML, no PDF and no terminal.

pub mod act;
pub mod alarm;
pub mod ask;
pub mod clock;
pub mod judge;
pub mod time;
pub mod wire;

use clock::Clock;
use std::path::{Path, PathBuf};

/// A shop's book behind its two doors.
pub struct Workshop {
    path: PathBuf,
    clock: Box<dyn Clock>,
    ids: Box<dyn FnMut() -> String + Send>,
}

impl Workshop {
    /// A workshop on a book that may not exist yet: the first act makes it.
    pub fn new(path: &Path, clock: Box<dyn Clock>, ids: Box<dyn FnMut() -> String + Send>) -> Workshop {
        Workshop { path: path.to_owned(), clock, ids }
    }
}
