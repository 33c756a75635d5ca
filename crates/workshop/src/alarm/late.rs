//! Why an alarm is noticed late: asleep, stopped, not running, entered afterwards.

use super::due::{Due, Moment};
use crate::clock::Now;
use crate::time;

/// A pause between two steps above this is a standstill of the program, ms.
const STANDSTILL_MS: i64 = 2_000;

/// What lies between the last step and this one.
pub struct Since<'a> {
    /// Clocks and axis of the last step; None: this is the first.
    pub last: Option<&'a (Now, i64)>,
    /// Clocks now.
    pub now: &'a Now,
    /// When it is judged.
    pub at: Moment,
}

impl Since<'_> {
    /// Why an alarm is noticed only now; None: it is in time.
    pub fn late(&self, due: &Due) -> Option<String> {
        let waited_ms = self.at.now_ms - due.due_ms;
        if waited_ms <= time::STEP_MS {
            return None;
        }
        let Some((last, last_ms)) = self.last.filter(|(last, _)| last.boot == self.now.boot) else {
            return Some("not running".to_owned());
        };
        if due.due_ms <= *last_ms {
            return Some("entered afterwards".to_owned());
        }
        let slept_ms = (self.now.boot_ms - self.now.awake_ms) - (last.boot_ms - last.awake_ms);
        let stood_ms = self.now.awake_ms - last.awake_ms;
        let why = if slept_ms > time::STEP_MS {
            "asleep"
        } else if stood_ms > STANDSTILL_MS {
            "the program stood still"
        } else {
            "the time was corrected"
        };
        Some(why.to_owned())
    }
}
