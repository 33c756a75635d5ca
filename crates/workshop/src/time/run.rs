//! Runs of the own log: stretches written under one boot whose boot clock never went back.

use logbook::entry::Body;
use logbook::store::{Book, Error};

/// One run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Place of its first entry in the log.
    pub first_seq: u64,
    /// Boot identity.
    pub boot: String,
    /// Boot clock at its first entry, ms.
    pub first_boot_ms: i64,
    /// Wall clock at its first entry, ms UTC.
    pub first_wall_ms: i64,
    /// Boot clock at its last entry, ms.
    pub last_boot_ms: i64,
    /// Entries about time itself, in order.
    pub marks: Vec<Mark>,
}

/// An entry about time itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// Place in the log.
    pub seq: u64,
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
    pub fn begun(first_seq: u64, boot: &str, boot_ms: i64, wall_ms: i64) -> Run {
        Run {
            first_seq,
            boot: boot.to_owned(),
            first_boot_ms: boot_ms,
            first_wall_ms: wall_ms,
            last_boot_ms: boot_ms,
            marks: Vec::new(),
        }
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

/// The runs of the own log and of those it goes on from, in order. Reads the few entries at which time may have turned, and their neighbours.
pub fn read(book: &Book) -> Result<Vec<Run>, Error> {
    book.read(runs)
}

fn runs(book: &Book) -> Result<Vec<Run>, Error> {
    let Some(head) = book.own()? else { return Ok(Vec::new()) };
    // The own log, and before it the logs it goes on from, newest first.
    let mut logs = vec![(head.log, head.size)];
    while let Some((log, _)) = logs.last()
        && let Some(continued) = continues(book, log)?
        && logs.iter().all(|(known, _)| *known != continued.0)
    {
        logs.push(continued);
    }
    let mut runs = Vec::new();
    for (log, size) in logs.iter().rev() {
        of_log(book, log, *size, &mut runs)?;
    }
    Ok(runs)
}

/// The log a log goes on from, and how much of it.
fn continues(book: &Book, log: &str) -> Result<Option<(String, u64)>, Error> {
    let first = book.entry_at(log, 0)?.map(|entry| entry.body);
    let continued = if let Some(Body::LogStart(start)) = first { start.continues } else { None };
    Ok(continued.map(|continued| (continued.log, continued.size)))
}

/// Adds the runs of one log, up to a size.
fn of_log(book: &Book, log: &str, size: u64, runs: &mut Vec<Run>) -> Result<(), Error> {
    let mut turns = book.turns(log)?;
    turns.retain(|turn| turn.entry.seq < size);
    let starts: Vec<u64> = turns.iter().filter(|turn| turn.starts).map(|turn| turn.entry.seq).collect();
    let mut from = 0;
    for turn in &turns {
        let entry = &turn.entry;
        if turn.starts {
            from = entry.seq;
            let until = starts.iter().find(|start| **start > from).copied().unwrap_or(size);
            let last = book.entry_at(log, until.saturating_sub(1))?;
            let last_boot_ms = last.map_or(entry.boot_ms, |last| last.boot_ms);
            match runs.last_mut() {
                // A copy made under the same boot: its log goes on with the run.
                Some(run) if from == 0 && run.boot == entry.boot && run.last_boot_ms <= entry.boot_ms => {
                    (run.first_seq, run.last_boot_ms) = (0, last_boot_ms);
                }
                _ => runs
                    .push(Run { last_boot_ms, ..Run::begun(entry.seq, &entry.boot, entry.boot_ms, entry.entered_ms) }),
            }
        }
        if let (Some(run), Some(shown_ms)) = (runs.last_mut(), noted(&entry.body)) {
            let fact_boot_ms = last_fact(book, log, from, entry.seq)?;
            let (seq, boot_ms, entered_ms) = (entry.seq, entry.boot_ms, entry.entered_ms);
            run.marks.push(Mark { seq, boot_ms, entered_ms, shown_ms, fact_boot_ms });
        }
    }
    Ok(())
}

/// Some: time itself is noted; the inner value is the time shown and confirmed.
fn noted(body: &Body) -> Option<Option<i64>> {
    match body {
        Body::TimeConfirmed(confirmed) => Some(Some(confirmed.shown_ms)),
        Body::ClockStep(_) => Some(None),
        _ => None,
    }
}

/// Boot clock at the last fact of a run before an entry.
fn last_fact(book: &Book, log: &str, from: u64, before: u64) -> Result<Option<i64>, Error> {
    for seq in (from..before).rev() {
        match book.entry_at(log, seq)? {
            Some(entry) if is_fact(&entry.body) => return Ok(Some(entry.boot_ms)),
            _ => {}
        }
    }
    Ok(None)
}
