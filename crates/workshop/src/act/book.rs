//! Acts about the book itself: alarms answered, time confirmed, checkpoints given, pages issued.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Somebody answers an alarm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AnswerAlarm {
    /// The alarm's entry, by id or place in the log; absent: every unanswered one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub alarm: Option<String>,
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
