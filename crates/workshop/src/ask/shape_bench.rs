//! The shapes of the bench: what comes next, the room, one row a bond with its glue line and its presses.

pub use crate::line::{GlueLine, LineBox, LineMark, LineTemperature};

use super::answer::{AlarmLine, ClockAnswer, LastReading};
use schemars::JsonSchema;
use serde::Serialize;

/// What the bench shows.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BenchAnswer {
    /// Instant judged.
    pub at: String,
    /// Size of the own log.
    pub size: u64,
    /// Must-not-exceed first, the next instant on top.
    pub clocks: Vec<ClockAnswer>,
    /// Last reading of each place.
    pub readings: Vec<LastReading>,
    /// Alarms not answered.
    pub alarms: Vec<AlarmLine>,
    /// What is owed on live bonds.
    pub owed: Vec<String>,
    /// What comes next; null: nothing waits for anybody.
    pub next: Option<BenchNext>,
    /// The air of each place, the place worked at first.
    pub strip: Vec<StripPlace>,
    /// One row a live bond, and a batch whose pot is open and has no bond in assembly.
    pub rows: Vec<BenchRow>,
    /// The press that begins: *Hardener in*.
    pub primary: BenchPress,
    /// How far the record reaches.
    pub saved: Saved,
}

/// The next instant that somebody has to keep.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BenchNext {
    /// "14:47: ribs R1-L, R2-L must be tight".
    pub headline: String,
    /// What comes after it: "14:52: batch Tue 3 is past its pot life"; null: nothing.
    pub then: Option<String>,
}

/// The air of one place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StripPlace {
    /// Place.
    pub place: String,
    /// Temperature, humidity, wood, dew point, age of the reading.
    pub cells: Vec<StripCell>,
}

/// One value of a place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StripCell {
    /// What: "Temperature".
    pub label: String,
    /// How much, in the reader's units; "not recorded".
    pub value: String,
    /// `plain`, `doubt`, `heat` or `chill`.
    pub tone: String,
}

/// One bond, or one open pot.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BenchRow {
    /// `bond:47` or `batch:Tue 3`.
    pub id: String,
    /// Its parts: "R1-L, R2-L, R3-L"; a pot's batch.
    pub title: String,
    /// Parts, by mark; none for a pot.
    pub parts: Vec<String>,
    /// "first face, 42 joints · batch Tue 3 · together 14:31".
    pub about: String,
    /// `exceed`, `over`, `reach`, `waiting`, `passed` or `doubt`.
    pub tone: String,
    /// `must-not-exceed` or `must-reach`.
    pub direction: String,
    /// The clock the row counts: `pot`, `open`, `closed`, `fresh-surface`, `glue-again`, `clamp`, `machining`,
    /// `full-cure`; empty: none has started.
    pub clock: String,
    /// What the digits count down to: the earliest estimate of a must-not-exceed clock, the latest of a must-reach
    /// one; null: `headline` stands instead.
    pub until: Option<String>,
    /// A word instead of digits: "over", "waiting", "off".
    pub headline: Option<String>,
    /// Under the digits: "to all tight, at most".
    pub caption: String,
    /// The clock's whole sentence.
    pub said: String,
    /// What the number rests on, shown on request.
    pub basis: Vec<String>,
    /// What comes after: "no planing or turning until Thu 26 Nov 11:31".
    pub later: Vec<String>,
    /// The picture.
    pub line: GlueLine,
    /// The next press; null: none is left.
    pub press: Option<BenchPress>,
    /// Other acts of one press.
    pub more: Vec<BenchPress>,
    /// What holds it, in short.
    pub held: Vec<String>,
    /// What warmth from now on would bring, where it would bring an hour or more: "kept at 18 °C from now on: 09:40"; null:
    /// nothing, or the row waits for something else.
    pub helps: Option<String>,
}

/// A press with its act as it is sent; whoever sends it adds `key` and `person`.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BenchPress {
    /// On the button: "All tight".
    pub word: String,
    /// What is sent; null: one of `choices` is, or without any it is said in the room Mix.
    pub act: Option<PressAct>,
    /// What can be chosen; empty: `act` is sent at once.
    pub choices: Vec<BenchPress>,
}

/// An act without key and person.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PressAct {
    /// Its word: "press".
    pub act: String,
    /// Its body.
    pub body: serde_json::Value,
}

/// How far the record reaches.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Saved {
    /// Entries in the own log.
    pub size: u64,
    /// In words: "813 entries, the last at 14:31".
    pub said: String,
}
