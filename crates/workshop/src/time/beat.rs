//! The alarm thread's heartbeat: kept beside the book on this machine, never in it. It narrows the off-time of a
//! restart to what the machine was really off for.

use super::run::{Mark, Run};
use logbook::store::{Book, Error};
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// Boots remembered.
const KEPT: usize = 8;

/// The alarm thread was alive under one boot, from first to last.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Beat {
    /// Log it watched.
    pub log: String,
    /// Boot identity.
    pub boot: String,
    /// Boot clock when it began, ms.
    pub first_boot_ms: i64,
    /// Boot clock when last alive, ms.
    pub last_boot_ms: i64,
    /// Entries in the log when last alive.
    pub size: u64,
}

impl Beat {
    /// It falls into a run: same boot, and the stretches touch.
    pub fn of_run(&self, run: &Run) -> bool {
        self.boot == run.boot && self.first_boot_ms <= run.last_boot_ms && self.last_boot_ms >= run.first_boot_ms
    }

    /// The boot clock was further than it is now, and the last run's entries do not know it yet: none of them that
    /// began the run or confirmed the time came after this beat.
    pub fn is_ahead(&self, boot: &str, boot_ms: i64, last: &Run) -> bool {
        let settled = |mark: &Mark| mark.shown_ms.is_some() && mark.seq >= self.size;
        self.boot == boot
            && self.last_boot_ms > boot_ms + super::STEP_MS
            && last.first_seq < self.size
            && !last.marks.iter().any(settled)
    }
}

/// What the side file holds.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Side {
    /// Process that owns the alarms, or owned them last.
    pub pid: u32,
    /// It ended as asked, and was not killed.
    pub ended: bool,
    /// Heartbeats, oldest first.
    pub beats: Vec<Beat>,
}

impl Side {
    /// The side file of a book.
    pub fn path(book: &Path) -> PathBuf {
        let mut name = book.as_os_str().to_owned();
        name.push(".alarms");
        PathBuf::from(name)
    }

    /// What a side file says; one that is missing or unreadable says nothing.
    pub fn read(path: &Path) -> Side {
        std::fs::read(path).ok().and_then(|bytes| serde_json::from_slice(&bytes).ok()).unwrap_or_default()
    }

    /// The thread is alive: the last beat of this log and boot goes on, or a new one begins.
    pub fn beat(&mut self, log: &str, size: u64, boot: &str, boot_ms: i64) {
        match self.beats.last_mut() {
            Some(beat) if beat.log == log && beat.boot == boot && beat.last_boot_ms <= boot_ms => {
                (beat.last_boot_ms, beat.size) = (boot_ms, size);
            }
            _ => self.beats.push(Beat {
                log: log.to_owned(),
                boot: boot.to_owned(),
                first_boot_ms: boot_ms,
                last_boot_ms: boot_ms,
                size,
            }),
        }
        let spare = self.beats.len().saturating_sub(KEPT);
        self.beats.drain(..spare);
    }
}

/// Heartbeats beside a book that watched its own log.
pub fn read(book: &Book) -> Result<Vec<Beat>, Error> {
    let (Some(path), Some(head)) = (book.path(), book.own()?) else {
        return Ok(Vec::new());
    };
    let mut beats = Side::read(&Side::path(&path)).beats;
    beats.retain(|beat| beat.log == head.log);
    Ok(beats)
}
