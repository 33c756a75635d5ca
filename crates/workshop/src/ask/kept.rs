//! The question asked four times a second, all live clocks now, answered from an open book and what was read last.

use super::answer::ClocksAnswer;
use super::clocks::shown_live;
use super::lines;
use crate::Workshop;
use crate::clock::Now;
use crate::judge::live::Live;
use crate::judge::words::instant;
use crate::wire::WireError;
use crate::{file, time};
use logbook::store::{Book, Mode};

/// A book open for questions, with the identity of its file, and its live clocks.
pub(crate) struct Kept {
    identity: String,
    book: Book,
    live: Live,
}

impl Workshop {
    /// All live clocks now.
    pub(super) fn live_now(&self, now: &Now) -> Result<ClocksAnswer, WireError> {
        let mut slot = self.asked.borrow_mut();
        let identity = file::identity(&self.path);
        let mut kept = match slot.take() {
            Some(kept) if kept.identity == identity && !identity.is_empty() => kept,
            _ => Kept { identity, book: Book::open(&self.path, Mode::Read)?, live: Live::default() },
        };
        // Put back only after an answer: a book that failed is opened afresh, and its trouble told.
        let answer = kept.answer(now)?;
        *slot = Some(kept);
        Ok(answer)
    }
}

impl Kept {
    fn answer(&mut self, now: &Now) -> Result<ClocksAnswer, WireError> {
        let version = self.book.data_version()?;
        let live = &mut self.live;
        self.book.read(|book| {
            let axis = time::axis(book, now)?;
            let mut clocks = live.clocks(book, version, &axis, now.zone_min)?;
            clocks.retain(|one| shown_live(one, axis.now_ms));
            Ok(ClocksAnswer { at: instant(axis.now_ms), size: live.size(), clocks: lines::clocks(&clocks) })
        })
    }
}
