//! Alarms as entries: once each, under an id derived from what they are about.

use super::due::Due;
use crate::clock::Now;
use crate::file;
use crate::time::{self, Axis};
use logbook::entry::book::{Alarm, ClockStep};
use logbook::entry::{Body, Draft, Id, Stamp};
use logbook::store::{Book, Error, Home};
use uuid::Uuid;

/// An alarm that was given and is to be kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// Its id.
    pub id: Id,
    /// What was due.
    pub due: Due,
    /// When it was noticed, ms UTC on the axis.
    pub noticed_ms: i64,
    /// Why so late.
    pub late: Option<String>,
    /// The desktop took the notification.
    pub notified: bool,
    /// A sound was started.
    pub sounded: bool,
    /// What stood in the way.
    pub trouble: Option<String>,
}

/// The id of an alarm: UUIDv5 of the log and its name.
pub fn id(log: &str, name: &str) -> Id {
    let space = Uuid::parse_str(log).unwrap_or(Uuid::NAMESPACE_OID);
    Uuid::new_v5(&space, name.as_bytes()).to_string()
}

/// The id under which an alarm is to be recorded; None: it was told already. What began after the alarm on record
/// was noticed, or what a corrected time has put into the future, is another alarm and gets an id of its own.
pub fn untold(book: &Book, log: &str, due: &Due, now_ms: i64) -> Result<Option<Id>, Error> {
    let name = due.name();
    let again = format!("{name}|{}", due.began_ms.unwrap_or(due.due_ms));
    for id in [id(log, &name), id(log, &again)] {
        let Some(entry) = book.entry(&id)? else {
            return Ok(Some(id));
        };
        let noticed_ms = match &entry.body {
            Body::Alarm(alarm) => alarm.noticed_ms,
            _ => entry.happened_ms,
        };
        let of_this_time = due.began_ms.is_none_or(|began_ms| noticed_ms >= began_ms);
        if of_this_time && noticed_ms <= now_ms + time::STEP_MS {
            return Ok(None);
        }
    }
    Ok(None)
}

/// Appends what time itself owes, then the alarms that are not in the book yet, in one transaction. Gives the ids
/// written.
pub fn save(
    book: &mut Book,
    now: &Now,
    axis: &Axis,
    step_ms: Option<i64>,
    records: &[Record],
) -> Result<Vec<Id>, Error> {
    book.transact(|book| {
        let Some(head) = book.own()? else { return Ok(Vec::new()) };
        let mut drafts = Vec::new();
        for (seq, (body, happened_ms)) in (head.size..).zip(owed(axis, now, step_ms)) {
            let id = id(&head.log, &format!("{}|{seq}", body.kind()));
            drafts.push(draft(id, body, Vec::new(), happened_ms));
        }
        let mut ids = Vec::new();
        for record in records {
            if book.entry(&record.id)?.is_none() {
                let about = record.due.bond.iter().chain(&record.due.batch).cloned().collect();
                drafts.push(draft(record.id.clone(), Body::Alarm(body(record)), about, record.noticed_ms));
                ids.push(record.id.clone());
            }
        }
        if !drafts.is_empty() {
            settle_in(book, now)?;
            book.append(head.size, &stamp(now, &drafts), drafts, &[])?;
        }
        Ok(ids)
    })
}

/// The first write after a book was made tells where it is at home.
fn settle_in(book: &Book, now: &Now) -> Result<(), Error> {
    match book.path() {
        Some(path) if book.home()?.is_none() && !now.machine.is_empty() => {
            book.set_home(&Home { machine: now.machine.clone(), file: file::identity(&path) })
        }
        _ => Ok(()),
    }
}

fn owed(axis: &Axis, now: &Now, step_ms: Option<i64>) -> Vec<(Body, i64)> {
    let mut owed = time::owed(axis, now);
    if let (None, Some(by_ms)) = (axis.new_step_ms, step_ms) {
        owed.insert(0, (Body::ClockStep(ClockStep { by_ms }), axis.now_ms));
    }
    owed
}

/// The act's key follows from what it records, as an alarm's own id does.
fn stamp(now: &Now, drafts: &[Draft]) -> Stamp {
    let first = drafts.first().map_or("", |draft| draft.id.as_str());
    Stamp {
        act: Uuid::new_v5(&Uuid::NAMESPACE_OID, first.as_bytes()).to_string(),
        entered_ms: now.wall_ms,
        boot: now.boot.clone(),
        boot_ms: now.boot_ms,
        zone_min: now.zone_min,
    }
}

fn draft(id: Id, body: Body, about: Vec<Id>, happened_ms: i64) -> Draft {
    Draft { id, body, about, happened_ms, corrects: None, why: None, person: None }
}

fn body(record: &Record) -> Alarm {
    let due = &record.due;
    Alarm {
        alarm: due.kind.word().to_owned(),
        clock: due.clock.map(|clock| clock.word().to_owned()),
        bond: due.bond.clone(),
        batch: due.batch.clone(),
        card: due.card.clone(),
        due_ms: due.due_ms,
        noticed_ms: record.noticed_ms,
        late: record.late.clone(),
        notified: record.notified,
        sounded: record.sounded,
        trouble: record.trouble.clone(),
        said: due.said.clone(),
        progress: due.progress.clone(),
    }
}
