//! Entries about the book itself: its start, its alarms, its time, what was handed out.

use super::{About, Id};
use serde::{Deserialize, Serialize};

/// The first entry of a log.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LogStart {
    /// Program version that began it.
    pub program: String,
    /// Invented data.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub made_up: Option<bool>,
    /// The log it goes on from, when the book was copied, restored or opened on another machine.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub continues: Option<Continues>,
}

/// A log that another goes on from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Continues {
    /// Log.
    pub log: Id,
    /// Its size.
    pub size: u64,
    /// Its root, base64.
    pub root: String,
}

/// An alarm or notice, recorded once: its id is derived from log, clock, kind, bond and card.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Alarm {
    /// `nearly-over`, `over`, `conditions-lost`, `not-saved`, `cannot-sound`, `clamps-may-come-off`, `reached`,
    /// `lot-expiring`, `reasons-owed`.
    pub alarm: String,
    /// Clock it belongs to.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub clock: Option<String>,
    /// Bond.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub bond: Option<Id>,
    /// Batch.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub batch: Option<Id>,
    /// Card entry in force.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub card: Option<Id>,
    /// When it fell due, ms UTC.
    pub due_ms: i64,
    /// When it was noticed, ms UTC.
    pub noticed_ms: i64,
    /// Why it was noticed late: `asleep`, `not running`, …
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub late: Option<String>,
    /// The desktop took the notification.
    pub notified: bool,
    /// A sound was started.
    pub sounded: bool,
    /// What stood in the way.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub trouble: Option<String>,
    /// What was said.
    pub said: String,
    /// Progress when it fired: low, expected, high, and the model.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub progress: Option<super::bond::Said>,
}

/// Who answered an alarm (the entry's person) and which.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AlarmAnswered {
    /// Alarm entry.
    pub alarm: Id,
}

/// The shown time is right: from now on it is the axis.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TimeConfirmed {
    /// Wall clock shown, ms UTC.
    pub shown_ms: i64,
    /// `person` or `synchronised`.
    pub by: String,
}

/// The wall clock stepped by more than two seconds within one boot.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClockStep {
    /// Wall clock now minus the axis, ms.
    pub by_ms: i64,
}

/// A checkpoint handed to somebody.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckpointGiven {
    /// To whom.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub to: Option<String>,
    /// The checkpoint.
    pub checkpoint: Continues,
}

/// Stated before a page or bundle leaves: how many entries there are about each subject.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Issued {
    /// Part, bond, batch or lot the page is about.
    pub subject: Id,
    /// Counts before this entry, sorted by id.
    pub counts: Vec<About>,
}
