//! Runs of the own log: stretches written under one boot whose boot clock never went back.

use logbook::entry::{Body, Entry};
use logbook::store::{Book, Error};

/// One run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Boot identity.
    pub boot: String,
    /// Boot clock at its first entry, ms.
    pub first_boot_ms: i64,
    /// Wall clock at its first entry, ms UTC.
    pub first_wall_ms: i64,
    /// Boot clock at its last entry, ms.
    pub last_boot_ms: i64,
    /// Boot clock at its last entry that records a fact of the shop, ms.
    pub fact_boot_ms: Option<i64>,
    /// Entries about time itself, in order.
    pub marks: Vec<Mark>,
}

/// An entry about time itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// Boot clock, ms.
    pub boot_ms: i64,
    /// Wall clock when entered, ms UTC.
    pub entered_ms: i64,
    /// Confirmed: the time shown, ms UTC. None: a step was noted.
    pub shown_ms: Option<i64>,
    /// Boot clock at the last fact of this run before it, ms.
    pub fact_boot_ms: Option<i64>,
}

impl Run {
    /// A run that begins.
    pub fn begun(boot: &str, boot_ms: i64, wall_ms: i64) -> Run {
        Run {
            boot: boot.to_owned(),
            first_boot_ms: boot_ms,
            first_wall_ms: wall_ms,
            last_boot_ms: boot_ms,
            fact_boot_ms: None,
            marks: Vec::new(),
        }
    }

    fn take(&mut self, entry: &Entry) {
        self.last_boot_ms = entry.boot_ms;
        let shown_ms = match &entry.body {
            Body::TimeConfirmed(confirmed) => Some(confirmed.shown_ms),
            Body::ClockStep(_) => None,
            body if is_fact(body) => {
                self.fact_boot_ms = Some(entry.boot_ms);
                return;
            }
            _ => return,
        };
        let (boot_ms, entered_ms) = (entry.boot_ms, entry.entered_ms);
        self.marks.push(Mark { boot_ms, entered_ms, shown_ms, fact_boot_ms: self.fact_boot_ms });
    }
}

/// Something of the shop, placed on the axis; not what the program notes about itself.
fn is_fact(body: &Body) -> bool {
    !matches!(
        body,
        Body::LogStart(_)
            | Body::Alarm(_)
            | Body::AlarmAnswered(_)
            | Body::TimeConfirmed(_)
            | Body::ClockStep(_)
            | Body::CheckpointGiven(_)
            | Body::Issued(_)
    )
}

/// The runs of the own log, in order.
pub fn read(book: &Book) -> Result<Vec<Run>, Error> {
    let Some(head) = book.own()? else { return Ok(Vec::new()) };
    let mut runs: Vec<Run> = Vec::new();
    for seq in 0..head.size {
        let Some(entry) = book.entry_at(&head.log, seq)? else { continue };
        match runs.last_mut() {
            Some(run) if run.boot == entry.boot && entry.boot_ms >= run.last_boot_ms => run.take(&entry),
            _ => {
                let mut run = Run::begun(&entry.boot, entry.boot_ms, entry.entered_ms);
                run.take(&entry);
                runs.push(run);
            }
        }
    }
    Ok(runs)
}
