//! Acts about the book itself: alarms answered, time confirmed, checkpoints given, pages issued.

use super::desk::Desk;
use super::{Enact, correct, subject, text, typed};
use crate::alarm::due::Kind;
use crate::wire::{WireError, shown};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use logbook::entry::{Body, Entry, Id, book};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Somebody answers an alarm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AnswerAlarm {
    /// The alarm's entry, by id or place in the log; absent: every unanswered one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub alarm: Option<String>,
    /// True: only those that sound until answered; false: only the quiet notices. Absent: both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loud: Option<bool>,
}

/// The shown time is right: from now on it is the axis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ConfirmTime {}

/// A checkpoint handed to somebody.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CheckpointGiven {
    /// To whom.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
}

/// Counts stated before a page or bundle leaves.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Issue {
    /// A part by mark, or `part:R3-L`, `bond:47`, `batch:Tue 3`, `lot:R-118`, or an id.
    pub subject: String,
}

impl Enact for AnswerAlarm {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let waiting = desk.book.live()?.alarms;
        let mut answered: Vec<Id> = match &self.alarm {
            None => waiting,
            Some(typed) => {
                let entry = correct::own_entry(desk, "body.alarm", typed)?;
                waiting.into_iter().filter(|id| *id == entry.id).collect()
            }
        };
        if let Some(loud) = self.loud {
            let mut of_sort = Vec::new();
            for id in answered {
                let entry = desk.book.entry(&id)?;
                let fits = |entry: &Entry| matches!(&entry.body, Body::Alarm(it) if Kind::loud_word(&it.alarm) == loud);
                if entry.as_ref().is_some_and(fits) {
                    of_sort.push(id);
                }
            }
            answered = of_sort;
        }
        if answered.is_empty() {
            let typed = self.alarm.as_deref().unwrap_or("");
            let sentence = format!("body.alarm is \"{}\", but no such alarm waits for an answer.", shown(typed));
            let error = WireError::new("not-found", sentence, "Look at the bench for what waits.").field("body.alarm");
            return Err(error.value(typed).range("an alarm that nobody answered yet"));
        }
        for alarm in answered {
            let about = desk.book.entry(&alarm)?.map(|entry| entry.about).unwrap_or_default();
            let about = about.into_iter().map(|one| one.id).collect();
            desk.put(Body::AlarmAnswered(book::AlarmAnswered { alarm }), about);
        }
        Ok(())
    }
}

impl Enact for ConfirmTime {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let body = book::TimeConfirmed { shown_ms: desk.now.wall_ms, by: "person".to_owned() };
        desk.put(Body::TimeConfirmed(body), vec![]);
        Ok(())
    }
}

impl Enact for CheckpointGiven {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let to = typed::maybe("body.to", self.to.as_deref(), text::name)?;
        let Some(head) = desk.book.own()? else {
            return Err(WireError::new("fault", "This book has no log.", ""));
        };
        let now = book::Continues { log: head.log, size: head.size, root: STANDARD.encode(head.root) };
        // A correction says to whom it was given, not that another one was.
        let checkpoint = match desk.replaces.as_ref().map(|one| &one.body) {
            Some(Body::CheckpointGiven(then)) => then.checkpoint.clone(),
            _ => now,
        };
        desk.put(Body::CheckpointGiven(book::CheckpointGiven { to, checkpoint }), vec![]);
        Ok(())
    }
}

impl Enact for Issue {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let subject = subject::find(desk, "body.subject", &self.subject)?;
        let counts = subject::counts(desk, &subject)?;
        if let Some(act) = subject::unchanged_since(desk, &subject, &counts)? {
            desk.same_as = Some(act);
            return Ok(());
        }
        let about = vec![subject.clone()];
        desk.put(Body::Issued(book::Issued { subject, counts }), about);
        Ok(())
    }
}
