//! The alarms: a loop that a thread, a terminal or a test drives step by step. Each step reads the clocks, looks at
//! the book when something changed, rings what is due, records it once, and says how long it may wait.
//!
//! It never waits longer than [`POLL_MS`]: a wall clock that was set, a new entry, an answer are noticed within that
//! time by looking, not by an event of the system. Sound starts before anything is written, and a notification is
//! handed over without waiting for the desktop. Long because the loop's state and its one step are read together.

pub mod command;
pub mod due;
pub mod judged;
mod late;
pub mod owner;
pub mod record;
mod ring;
pub mod say;
pub mod sound;
pub mod voice;
pub mod watched;

use crate::clock::{Clock, Now};
use crate::file;
use crate::reader::Reader;
use crate::rest::Round;
use crate::time::beat::Beat;
use crate::time::run::{self, Run};
use crate::time::{self, Axis};
use due::Moment;
use late::Since;
use logbook::entry::Id;
use logbook::store::{Book, Error, Home, Mode};
use owner::{Owner, Taken};
use record::Record;
use ring::{At, Ring};
use std::path::{Path, PathBuf};
use voice::Voice;
use watched::{Clocks, Look};

/// Longest wait between two steps, ms.
pub const POLL_MS: i64 = 100;
/// Live clocks are looked at again after so long even when nothing changed, ms.
const LOOK_AGAIN_MS: i64 = 5_000;
/// The heartbeat, ms.
const BEAT_MS: i64 = 1_000;
/// What could not be saved is tried again after so long, ms.
const SAVE_AGAIN_MS: i64 = 1_000;
/// A book that another process holds is no alarm before so long, ms.
const LOCKED_MS: i64 = 5_000;

/// Nothing is put to rest so shortly before something is due, ms.
const NEAR_MS: i64 = 10_000;
/// At most so many bonds and batches are looked at in one step, to put them to rest.
const RESTED: u32 = 40;

/// What is set on this machine, never in a book.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// Quiet notices at night (22 to 6) too.
    pub night: bool,
    /// File of the command to run on any alarm.
    pub command: Option<PathBuf>,
}

/// Why the alarms cannot start.
#[derive(Debug, thiserror::Error)]
pub enum Refused {
    /// Somebody else owns them, or the side file cannot be used.
    #[error(transparent)]
    Owner(#[from] Taken),
    /// The book.
    #[error(transparent)]
    Book(#[from] Error),
}

/// One alarm or several at once, as they were given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rung {
    /// Headline.
    pub title: String,
    /// One sentence each, the most serious first.
    pub lines: Vec<String>,
    /// Loud, or a quiet notice.
    pub loud: bool,
    /// Ids, in the same order.
    pub ids: Vec<Id>,
}

/// What one step did.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Step {
    /// How long the caller may wait before the next step, ms.
    pub next_wake_ms: i64,
    /// The axis of this step.
    pub axis: Axis,
    /// What was rung.
    pub rung: Vec<Rung>,
    /// Alarms recorded.
    pub saved: Vec<Id>,
    /// Alarms answered.
    pub answered: Vec<Id>,
    /// Alarms given and not saved yet.
    pub unsaved: usize,
    /// A loud alarm sounds until it is answered.
    pub sounding: bool,
    /// What stands in the way, newly found, in sentences.
    pub trouble: Vec<String>,
    /// The wall clock was set: wall minus axis, ms.
    pub clock_set_ms: Option<i64>,
    /// The clocks were looked at anew.
    pub looked: bool,
    /// The book is at home on another computer: its clocks are shown and not armed here.
    pub elsewhere: bool,
}

/// The alarms of one book.
pub struct Alarms {
    path: PathBuf,
    clock: Box<dyn Clock>,
    clocks: Box<dyn Clocks>,
    ring: Ring,
    reader: Reader,
    owner: Owner,
    book: Book,
    writable: bool,
    version: Option<i64>,
    /// Something was written that no look has seen.
    stale: bool,
    runs: Vec<Run>,
    beats: Vec<Beat>,
    look: Look,
    elsewhere: bool,
    log: Option<Id>,
    size: u64,
    looked_ms: Option<i64>,
    next_due_ms: Option<i64>,
    last: Option<(Now, i64)>,
    beat_ms: Option<i64>,
    unsaved: Vec<Record>,
    unsaved_since_ms: Option<i64>,
    save_at_ms: i64,
    round: Round,
}

impl Alarms {
    /// Takes the alarms of a book.
    pub fn new(
        path: &Path,
        clock: Box<dyn Clock>,
        clocks: Box<dyn Clocks>,
        voice: Box<dyn Voice>,
        options: Options,
    ) -> Result<Alarms, Refused> {
        let (book, writable) = open(path)?;
        let owner = Owner::take(path)?;
        Ok(Alarms {
            path: path.to_owned(),
            clock,
            clocks,
            ring: Ring::new(voice, options),
            reader: Reader::default(),
            owner,
            book,
            writable,
            version: None,
            stale: true,
            runs: Vec::new(),
            beats: Vec::new(),
            look: Look::default(),
            elsewhere: false,
            log: None,
            size: 0,
            looked_ms: None,
            next_due_ms: None,
            last: None,
            beat_ms: None,
            unsaved: Vec::new(),
            unsaved_since_ms: None,
            save_at_ms: i64::MIN,
            round: Round::default(),
        })
    }

    /// The same, speaking in these units from now on; its clocks have to be told by themselves.
    pub fn for_reader(mut self, reader: Reader) -> Alarms {
        self.reader = reader;
        self
    }

    /// What the last owner of these alarms left: how it ended, and for how long nobody watched, ms (None: it was
    /// under another boot, or never).
    pub fn gap(&self) -> Option<(bool, Option<i64>)> {
        let before = self.owner.before();
        let beat = before.beats.last()?;
        let now = self.clock.now();
        let gap_ms = now.boot_ms - beat.last_boot_ms;
        Some((before.ended, (beat.boot == now.boot && gap_ms >= 0).then_some(gap_ms)))
    }

    /// What the clocks looked like at the last step.
    pub fn look(&self) -> &Look {
        &self.look
    }

    /// A notification is on its way and its outcome is not known yet.
    pub fn busy(&self) -> bool {
        self.ring.busy()
    }

    /// Waits as long as a step allowed.
    pub fn wait(&self, step: &Step) {
        self.clock.wait(step.next_wake_ms.clamp(1, POLL_MS).unsigned_abs());
    }

    /// One step. Never fails: what goes wrong is in what it says.
    pub fn step(&mut self) -> Step {
        let now = self.clock.now();
        let mut step = Step::default();
        let changed = self.noticed_change(&mut step);
        let axis = time::axis_of(&self.runs, &self.beats, &now, i64::MAX);
        let set_ms = self.clock_set(&now, &axis);
        if self.last.as_ref().is_some_and(|(_, last_ms)| axis.now_ms < last_ms - time::STEP_MS) {
            self.ring.forget();
        }
        step.clock_set_ms = set_ms.or(axis.new_step_ms);
        self.beat(&now);
        if changed && let Err(error) = self.answered(&now, &axis, &mut step) {
            step.trouble.push(error.to_string());
        }
        if (self.stale || self.is_time_to_look(&axis))
            && let Err(error) = self.look_anew(&now, &axis, &mut step)
        {
            step.trouble.push(format!("The clocks cannot be read: {error}."));
        }
        if let (Some(log), false) = (self.log.clone(), self.elsewhere) {
            self.ring.watch_voice(&At { now: &now, axis: &axis, log: &log }, &mut step);
        }
        self.unsaved.extend(self.ring.outcomes(now.boot_ms, &mut step));
        self.save(&now, &axis, set_ms, &mut step);
        self.put_to_rest(&now, &axis);
        self.last = Some((now, axis.now_ms));
        step.unsaved = self.unsaved.len();
        step.sounding = self.ring.sounding();
        step.elsewhere = self.elsewhere;
        let until_due = self.next_due_ms.map_or(POLL_MS, |due_ms| due_ms - axis.now_ms);
        step.next_wake_ms = until_due.clamp(1, POLL_MS);
        step.axis = axis;
        step
    }

    /// Whether another process wrote since the last step; what depends on the log alone is read again.
    fn noticed_change(&mut self, step: &mut Step) -> bool {
        let version = match self.book.data_version() {
            Ok(version) => version,
            Err(error) => {
                step.trouble.push(format!("The book cannot be read: {error}."));
                return false;
            }
        };
        if self.version == Some(version) {
            return false;
        }
        match (run::read(&self.book), self.book.own()) {
            (Ok(runs), Ok(head)) => {
                self.runs = runs;
                self.size = head.as_ref().map_or(0, |head| head.size);
                self.log = head.map(|head| head.log);
                self.beats = self.log.as_ref().map_or_else(Vec::new, |log| of_log(self.owner.beats(), log));
                self.version = Some(version);
                self.stale = true;
                true
            }
            (Err(error), _) | (_, Err(error)) => {
                step.trouble.push(format!("The book cannot be read: {error}."));
                false
            }
        }
    }

    /// Somebody set the wall clock since the last step: wall minus axis, ms. The step since the last *entry* is
    /// found by [`time::axis_of`]; this one is finer, because it knows the moment just before.
    fn clock_set(&self, now: &Now, axis: &Axis) -> Option<i64> {
        let (last, _) = self.last.as_ref()?;
        if last.boot != now.boot || now.boot_ms < last.boot_ms {
            return None;
        }
        let moved_ms = (now.wall_ms - now.boot_ms) - (last.wall_ms - last.boot_ms);
        let slewed_ms = (now.boot_ms - last.boot_ms) / 1_000;
        (moved_ms.abs() > time::STEP_MS + slewed_ms && axis.new_step_ms.is_none()).then_some(now.wall_ms - axis.now_ms)
    }

    fn beat(&mut self, now: &Now) {
        if self.beat_ms.is_some_and(|beat_ms| (0..BEAT_MS).contains(&(now.boot_ms - beat_ms))) {
            return;
        }
        self.beat_ms = Some(now.boot_ms);
        if let Some(log) = &self.log {
            self.owner.beat(log, self.size, &now.boot, now.boot_ms);
            self.beats = of_log(self.owner.beats(), log);
        }
    }

    fn is_time_to_look(&self, axis: &Axis) -> bool {
        self.next_due_ms.is_some_and(|due_ms| due_ms <= axis.now_ms)
            || self.looked_ms.is_none_or(|looked_ms| !(0..LOOK_AGAIN_MS).contains(&(axis.now_ms - looked_ms)))
    }

    fn answered(&mut self, now: &Now, axis: &Axis, step: &mut Step) -> Result<(), Error> {
        let unanswered = self.book.live()?.alarms;
        step.answered = self.ring.answered(&unanswered, &self.unsaved);
        if let (None, Some(log)) = (self.looked_ms, self.log.clone()) {
            self.ring.again(&self.book, &unanswered, &At { now, axis, log: &log }, step)?;
        }
        Ok(())
    }

    /// The book is at home on another computer, or is a copy of the file that is.
    fn is_elsewhere(&self, now: &Now) -> Result<bool, Error> {
        let here = |home: Home| home.machine == now.machine && home.file == file::identity(&self.path);
        Ok(!self.book.home()?.is_none_or(here))
    }

    /// Looks at the clocks and rings what is due and was not told.
    fn look_anew(&mut self, now: &Now, axis: &Axis, step: &mut Step) -> Result<(), Error> {
        let first = self.looked_ms.is_none();
        self.elsewhere = self.is_elsewhere(now)?;
        self.look = self.clocks.look(&self.book, axis, now.zone_min, self.stale)?;
        self.stale = false;
        self.looked_ms = Some(axis.now_ms);
        step.looked = true;
        let (now_ms, zone_min, lost) = (axis.now_ms, now.zone_min, axis.lost_ms.is_some());
        let at = Moment { now_ms, zone_min, lost, reader: self.reader };
        let (dues, next_ms) = due::due(&self.look, at);
        self.next_due_ms = next_ms;
        let Some(log) = self.log.clone() else { return Ok(()) };
        if self.elsewhere {
            return Ok(());
        }
        let since = Since { last: self.last.as_ref(), now, at };
        let mut records = Vec::new();
        for due in self.ring.wanted(dues, at, first) {
            self.ring.told(&due);
            // A book that cannot be asked does not keep an alarm from ringing.
            let untold = record::untold(&self.book, &log, &due, at.now_ms)
                .unwrap_or_else(|_| Some(record::id(&log, &due.name())));
            if let Some(id) = untold {
                let held_back = self.ring.held_back(&due).then(|| "held back for the night".to_owned());
                let (noticed_ms, late) = (at.now_ms, held_back.or_else(|| since.late(&due)));
                records.push(Record { id, due, noticed_ms, late, notified: false, sounded: false, trouble: None });
            }
        }
        self.ring.ring(records, &At { now, axis, log: &log }, step);
        Ok(())
    }

    /// Writes what time owes and what was rung. What cannot be written is rung as *not saved* and kept for later.
    fn save(&mut self, now: &Now, axis: &Axis, set_ms: Option<i64>, step: &mut Step) {
        let owed = set_ms.is_some() || axis.new_step_ms.is_some() || (now.synchronised && axis.to_confirm);
        if (self.unsaved.is_empty() && !owed) || self.elsewhere {
            return;
        }
        if set_ms.is_none() && now.boot_ms < self.save_at_ms {
            return;
        }
        if !self.writable {
            self.reopen();
        }
        match record::save(&mut self.book, now, axis, set_ms, &self.unsaved) {
            Ok(ids) => {
                self.ring.saved();
                self.unsaved.clear();
                self.unsaved_since_ms = None;
                self.save_at_ms = i64::MIN;
                self.version = None;
                step.saved = ids;
            }
            Err(error) => self.not_saved(now, axis, &error, step),
        }
    }

    /// Puts a few bonds to rest while nothing is about to be due: another writer may have to be waited for.
    fn put_to_rest(&mut self, now: &Now, axis: &Axis) {
        let near = self.next_due_ms.is_some_and(|due_ms| due_ms - axis.now_ms < NEAR_MS);
        if near || !self.writable || self.elsewhere || !self.unsaved.is_empty() {
            return;
        }
        if self.round.go_on(&mut self.book, now, RESTED).is_err() {
            self.reopen();
        }
    }

    /// After a failed commit a connection says nothing more; one that could only read may be able to write again.
    fn reopen(&mut self) {
        if let Ok((book, writable)) = open(&self.path) {
            (self.book, self.writable, self.version) = (book, writable, None);
        }
    }

    fn not_saved(&mut self, now: &Now, axis: &Axis, error: &Error, step: &mut Step) {
        self.save_at_ms = now.boot_ms + SAVE_AGAIN_MS;
        if !matches!(error, Error::Locked | Error::Moved { .. }) {
            self.reopen();
        }
        let since_ms = *self.unsaved_since_ms.get_or_insert(now.boot_ms);
        let patient = matches!(error, Error::Locked | Error::Moved { .. }) && now.boot_ms - since_ms < LOCKED_MS;
        if self.unsaved.is_empty() || patient {
            return;
        }
        let Some(log) = self.log.clone() else { return };
        self.ring.not_saved(&error.to_string(), &self.unsaved, &At { now, axis, log: &log }, step);
    }
}

fn of_log(beats: &[Beat], log: &str) -> Vec<Beat> {
    beats.iter().filter(|beat| beat.log == log).cloned().collect()
}

fn open(path: &Path) -> Result<(Book, bool), Error> {
    match Book::open(path, Mode::Write) {
        Ok(book) => Ok((book, true)),
        Err(Error::Missing) => Err(Error::Missing),
        Err(first) => match Book::open(path, Mode::Read) {
            Ok(book) => Ok((book, false)),
            Err(_) => Err(first),
        },
    }
}
