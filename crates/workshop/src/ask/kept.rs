//! The questions asked again and again, all live clocks and the bench now, answered from an open book and what was
//! read last.

use super::answer::{BenchAnswer, ClocksAnswer};
use super::board::Board;
use super::clocks::shown_live;
use super::rows::Moment;
use super::{Asking, bench, lines};
use crate::Workshop;
use crate::clock::Now;
use crate::judge::Judge;
use crate::judge::live::{AHEAD_MS, Live};
use crate::judge::words::{Saying, instant};
use crate::reader::Reader;
use crate::time::Axis;
use crate::wire::WireError;
use crate::{file, time};
use logbook::settled::Seen;
use logbook::store::{Book, Mode};

/// A book open for questions, with the identity of its file, its live clocks and its bench.
pub(crate) struct Kept {
    identity: String,
    book: Book,
    live: Live,
    board: Option<(Read, Board)>,
}

/// Of what and when the bench was read.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Read {
    version: i64,
    size: u64,
    zone_min: i32,
    at_ms: i64,
    reader: Reader,
    /// Nothing that was known then lay ahead of then.
    firm: bool,
}

impl Workshop {
    /// All live clocks now.
    pub(super) fn live_now(&self, now: &Now) -> Result<ClocksAnswer, WireError> {
        self.with_kept(|kept| kept.clocks(now, self.reader))
    }

    /// The bench now.
    pub(super) fn bench_now(&self, now: &Now) -> Result<BenchAnswer, WireError> {
        self.with_kept(|kept| kept.bench(now, self.reader))
    }

    fn with_kept<T>(&self, ask: impl FnOnce(&mut Kept) -> Result<T, WireError>) -> Result<T, WireError> {
        let mut slot = self.asked.borrow_mut();
        let identity = file::identity(&self.path);
        let mut kept = match slot.take() {
            Some(kept) if kept.identity == identity && !identity.is_empty() => kept,
            _ => Kept { identity, book: Book::open(&self.path, Mode::Read)?, live: Live::default(), board: None },
        };
        // Put back only after an answer: a book that failed is opened afresh, and its trouble told.
        let answer = ask(&mut kept)?;
        *slot = Some(kept);
        Ok(answer)
    }
}

impl Kept {
    fn clocks(&mut self, now: &Now, reader: Reader) -> Result<ClocksAnswer, WireError> {
        let version = self.book.data_version()?;
        let live = &mut self.live;
        self.book.read(|book| {
            let axis = time::axis(book, now)?;
            let mut clocks = live.clocks(book, version, &axis, now.zone_min, reader)?;
            clocks.retain(|one| shown_live(one, axis.now_ms));
            Ok(ClocksAnswer { at: instant(axis.now_ms), size: live.size(), clocks: lines::clocks(&clocks) })
        })
    }

    fn bench(&mut self, now: &Now, reader: Reader) -> Result<BenchAnswer, WireError> {
        let version = self.book.data_version()?;
        let board = &mut self.board;
        self.book.read(|book| {
            let axis = time::axis(book, now)?;
            let size = book.own()?.map_or(0, |head| head.size);
            let read = Read { version, size, zone_min: now.zone_min, at_ms: axis.now_ms, reader, firm: false };
            let moment = Moment {
                at_ms: axis.now_ms,
                axis: &axis,
                saying: Saying { zone_min: now.zone_min, at_ms: axis.now_ms },
            };
            if let Some((last, known)) = &*board
                && last.holds(&read)
            {
                let (bonds, pots) = known.tell(axis.now_ms, &axis);
                if known.holds(&bonds, &pots) {
                    return Ok(bench::drawn(known, &bonds, &pots, &moment, reader));
                }
            }
            let firm = board.as_ref().is_some_and(|(last, _)| last.version == version && last.size == size);
            let fresh = read_board(book, &axis, &read)?;
            let (bonds, pots) = fresh.tell(axis.now_ms, &axis);
            let answer = bench::drawn(&fresh, &bonds, &pots, &moment, reader);
            *board = Some((Read { firm, ..read }, fresh));
            Ok(answer)
        })
    }
}

fn read_board(book: &Book, axis: &Axis, read: &Read) -> Result<Board, WireError> {
    let seen = Seen { at_ms: axis.now_ms, known_ms: i64::MAX };
    let judge = Judge::new(book, seen, axis).in_zone(read.zone_min).for_reader(read.reader);
    Board::read(&Asking { book, judge, at_ms: axis.now_ms, zone_min: read.zone_min })
}

impl Read {
    /// What was read is still what the book says at another instant.
    fn holds(&self, now: &Read) -> bool {
        let of = |read: &Read| (read.version, read.size, read.zone_min, read.reader);
        let ahead = now.at_ms - self.at_ms;
        of(self) == of(now) && ahead >= 0 && (self.firm || ahead <= AHEAD_MS)
    }
}
