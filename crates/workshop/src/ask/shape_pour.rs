//! The shape of what is said of a cup before it is poured, or while it stands.

use super::answer::Named;
use schemars::JsonSchema;
use serde::Serialize;

/// What a cup of glue will do.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PourAnswer {
    /// Instant judged.
    pub at: String,
    /// Card.
    pub card: Named,
    /// "150 g in a cup".
    pub what: String,
    /// In one sentence: "Use it up within 62 min".
    pub said: String,
    /// The shorter of clock and model, whole minutes, rounded down; null: neither knows.
    pub minutes: Option<i64>,
    /// By the heat model; null: none is used, or it never gets there.
    pub model_minutes: Option<i64>,
    /// By its clock, from the sheet; null: the sheet gives nothing for it.
    pub clock_minutes: Option<i64>,
    /// What the number comes from, in sentences.
    pub because: Vec<String>,
    /// What to beware of, the worst first.
    pub warnings: Vec<PourWarning>,
    /// What it would reach if it were forgotten; null: no heat model is used.
    pub peak: Option<PourPeak>,
    /// The same glue put otherwise; empty: no heat model is used.
    pub ways: Vec<PourWay>,
    /// What the ways are worth, in one sentence.
    pub ways_said: Option<String>,
    /// By what the heat model was set: "two numbers of the sheet …"; or why none is used.
    pub calibration: String,
    /// What temperatures and masses were taken, in sentences.
    pub rests_on: Vec<String>,
}

/// One warning.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PourWarning {
    /// `heat` or `doubt`.
    pub tone: String,
    /// In a few words: "left standing: smoke, foam and fire".
    pub short: String,
    /// In words.
    pub said: String,
}

/// Where a forgotten cup goes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PourPeak {
    /// Hottest, millikelvin.
    pub mk: i64,
    /// When, whole minutes after the hardener went in.
    pub minutes: i64,
    /// In words.
    pub said: String,
}

/// The same glue put otherwise.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PourWay {
    /// `tray`, `two-cups` or `cup`.
    pub way: String,
    /// By the model, whole minutes; null: it never gets there.
    pub minutes: Option<i64>,
    /// Longer or shorter than as it stands, whole per cent; null: one of the two never gets there.
    pub gain_percent: Option<i64>,
    /// In words.
    pub said: String,
}
