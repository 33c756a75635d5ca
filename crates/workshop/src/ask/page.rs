//! The shapes of a trace: a part, its bonds, and every line under them. Long because it is a list of shapes without a
//! rule of its own.

use super::answer::{CheckpointAnswer, ClockAnswer};
use crate::line::GlueLine;
use schemars::JsonSchema;
use serde::Serialize;

/// Everything recorded about one part.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TraceAnswer {
    /// The part.
    pub part: PartAnswer,
    /// What to look at first, heaviest first; each names its entry.
    pub look_at_first: Vec<String>,
    /// Its bonds, in the order they were made.
    pub bonds: Vec<BondAnswer>,
    /// Entries about the part that belong to none of its bonds.
    pub entries: Vec<EntryLine>,
    /// What is not recorded: "bond 47: squeeze-out".
    pub not_recorded: Vec<String>,
    /// The log as it stood.
    pub checkpoint: CheckpointAnswer,
}

/// A part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PartAnswer {
    /// Mark.
    pub mark: String,
    /// Id.
    pub id: String,
    /// Assembly.
    pub assembly: Option<String>,
    /// Kind, by mark.
    pub kind: Option<String>,
}

/// One bond of a part.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BondAnswer {
    /// Its name.
    pub id: String,
    /// Its entry.
    pub entry: String,
    /// Joints, "R3-L/gusset 4".
    pub joints: Vec<String>,
    /// Stage.
    pub stage: Option<String>,
    /// `clear`, `held`, `running`.
    pub state: String,
    /// What is owed, in sentences.
    pub owed: Vec<String>,
    /// Everything found, settled or not.
    pub findings: Vec<FindingAnswer>,
    /// Batches, in the order they were spread.
    pub batches: Vec<BatchLine>,
    /// People, by name, sorted.
    pub people: Vec<String>,
    /// Clocks.
    pub clocks: Vec<ClockAnswer>,
    /// Its assembly and its cure as glue lines, with the temperature; what never began has none.
    pub lines: Vec<GlueLine>,
    /// How cured, by model and not by test; it changes no state.
    pub cured: CuredAnswer,
    /// What the air of a heated place did to the wood, stay by stay.
    pub dried: Vec<DriedAnswer>,
    /// Readings used.
    pub readings: ReadingsAnswer,
    /// Where it stood: place, from when.
    pub places: Vec<PlaceLine>,
    /// Moisture of the wood.
    pub moisture: Option<TakenAnswer>,
    /// Pressure as planned or measured.
    pub pressure: Option<PressureAnswer>,
    /// Put together dry before, clamps counted; null: not recorded.
    pub dry_run: Option<bool>,
    /// `all-round`, `not-all-round`, `cannot-see`; null: not recorded.
    pub squeeze_out: Option<String>,
    /// Presses, in time.
    pub presses: Vec<PressLine>,
    /// What was decided.
    pub decisions: Vec<DecisionLine>,
    /// Reasons given.
    pub reasons: Vec<ReasonLine>,
    /// Alarms recorded.
    pub alarms: Vec<AlarmLine>,
    /// Faces made fresh.
    pub surfaces: Vec<SurfaceLine>,
    /// Every entry about it, its batches and its lots, in order.
    pub entries: Vec<EntryLine>,
}

/// How cured a bond is, by the model.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CuredAnswer {
    /// Counted until; null: it cannot be told.
    pub at: Option<String>,
    /// Share reacted in whole per cent, 99 at most; null: it cannot be told.
    pub conversion_pct: Option<i64>,
    /// Glass transition, least, mk.
    pub glass_low_mk: Option<i64>,
    /// Glass transition, greatest, mk.
    pub glass_high_mk: Option<i64>,
    /// In the reader's units: "29 °C".
    pub glass: Option<String>,
    /// Only warmth takes it further.
    pub stalled: bool,
    /// The warmest the glue line was, in the reader's units.
    pub warmest: Option<String>,
    /// The hottest in service that was named for any of its parts, in the reader's units; null: none was.
    pub service: Option<String>,
    /// In words, or why it cannot be told.
    pub said: String,
    /// What the service asks for and this does not give; null: nothing.
    pub caution: Option<String>,
    /// What it rests on; first who decides.
    pub rests_on: Vec<String>,
}

/// A post-cure before it is done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PostCureAnswer {
    /// Instant judged.
    pub at: String,
    /// Bond, by name.
    pub bond: String,
    /// Temperature of the tent, in the reader's units.
    pub to: String,
    /// Hottest in service; null: not recorded and not asked with.
    pub service: Option<String>,
    /// The card's highest temperature for curing; null: it states none.
    pub maximum_cure: Option<String>,
    /// Share reacted now, whole per cent.
    pub conversion_pct: i64,
    /// Glass transition now.
    pub glass: String,
    /// Until the glue line is within 2 K of the tent, ms.
    pub warm_up_ms: i64,
    /// Soak from then on, ms; null: no service is known, or it is not reached within a week.
    pub soak_ms: Option<i64>,
    /// Both together, ms.
    pub total_ms: Option<i64>,
    /// Soaks and what they give, the shortest first.
    pub steps: Vec<PostCureStep>,
    /// In words.
    pub said: Vec<String>,
    /// What to mind.
    pub cautions: Vec<String>,
    /// What it rests on; first who decides.
    pub rests_on: Vec<String>,
}

/// One soak.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PostCureStep {
    /// How long the glue line is at the temperature: "4 h".
    pub soak: String,
    /// The same, ms.
    pub soak_ms: i64,
    /// With the way up.
    pub total: String,
    /// Share reacted after it, whole per cent, 99 at most.
    pub conversion_pct: i64,
    /// Glass transition after it.
    pub glass: String,
    /// Enough for the service; null: no service is known.
    pub enough: Option<bool>,
}

/// What the air of a heated place did to the wood.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DriedAnswer {
    /// The heated place.
    pub place: String,
    /// The place whose air it heats.
    pub heated_from: String,
    /// How long it was there.
    pub hours: String,
    /// Humidity there, %; null: the humidity of the air outside is not recorded.
    pub humidity_pct: Option<i64>,
    /// What wood would settle at there, ppm.
    pub settles_ppm: Option<i64>,
    /// In words.
    pub said: String,
    /// That is far drier than the wood, or than the card allows; null: it is not.
    pub caution: Option<String>,
}

/// A finding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FindingAnswer {
    /// Stable key: `over:pot`.
    pub key: String,
    /// In words.
    pub sentence: String,
    /// Settled by a value, a reason or a decision.
    pub settled: bool,
}

/// A batch in a bond.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BatchLine {
    /// Its entry's id.
    pub id: String,
    /// Its name, "Tue 3".
    pub name: String,
    /// Local day.
    pub day: String,
    /// Ratio verdict: `within`, `outside`, `cannot-tell`, `none`.
    pub verdict: String,
    /// What the ratio that was mixed means for the cured glue, in one sentence; null: the card has no equivalents, or
    /// not everything was weighed.
    pub off_ratio: Option<String>,
    /// Lots.
    pub lots: Vec<LotLine>,
    /// Taken from, along the joint.
    pub from: Option<String>,
    /// To, along the joint.
    pub to: Option<String>,
}

/// A lot in a batch.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
pub struct LotLine {
    /// Mark.
    pub mark: String,
    /// `resin`, `hardener`, `filler`.
    pub role: String,
    /// Expired when mixed.
    pub expired: bool,
    /// Id.
    pub id: String,
    /// Good until.
    pub expires: Option<String>,
    /// Belongs to another adhesive than the batch's card.
    pub other_adhesive: bool,
    /// Cans, by mark.
    pub containers: Vec<String>,
}

/// Readings behind a bond's clocks.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ReadingsAnswer {
    /// Digests of the blocks, hex, sorted.
    pub blocks: Vec<String>,
    /// Lowest met, mk; null: no readings.
    pub lowest_mk: Option<i64>,
    /// Highest met, mk; null: no readings.
    pub highest_mk: Option<i64>,
    /// Lowest met in the reader's units: "18.2 °C".
    pub lowest: Option<String>,
    /// Highest met in the reader's units.
    pub highest: Option<String>,
    /// Stretches of more than two hours without a reading.
    pub gaps: Vec<Gap>,
    /// Hand readings, by entry id, in time.
    pub by_hand: Vec<String>,
}

/// A stretch without readings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Gap {
    /// From.
    pub from: String,
    /// To.
    pub to: String,
}

/// A stay at a place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceLine {
    /// Place.
    pub place: String,
    /// From; null: from the start.
    pub from: Option<String>,
    /// Where the value came from: "said 20 min before in entry 12".
    pub source: Option<String>,
}

/// A value with its source and age.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TakenAnswer {
    /// As typed.
    pub value: String,
    /// ppm.
    pub ppm: i64,
    /// Source entry, when inherited.
    pub source: Option<String>,
    /// Age when taken, ms.
    pub age_ms: Option<i64>,
    /// In words: "moisture 9.8 %, measured 3 h ago".
    pub said: String,
}

/// Pressure.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PressureAnswer {
    /// As planned by the kind.
    pub planned: Option<String>,
    /// Planned pressure confirmed by a press.
    pub as_planned: bool,
    /// As measured.
    pub measured: Option<String>,
}

/// A press.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PressLine {
    /// Press.
    pub press: String,
    /// When.
    pub at: String,
    /// Who, by name.
    pub person: Option<String>,
    /// Seen.
    pub seen: Option<String>,
    /// Entry's number.
    pub seq: u64,
    /// Entered late.
    pub late: bool,
    /// What the clocks said then: "clamp: running, 41.2 %".
    pub said_then: Vec<String>,
}

/// A decision.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DecisionLine {
    /// `accepted`, `rejected`, `redo`.
    pub verdict: String,
    /// Why.
    pub why: Option<String>,
    /// Who, by name.
    pub person: Option<String>,
    /// When.
    pub at: String,
    /// Findings it settled.
    pub found: Vec<String>,
    /// Entry's number.
    pub seq: u64,
}

/// A reason.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ReasonLine {
    /// Findings it settles.
    pub of: Vec<String>,
    /// Text.
    pub text: String,
    /// Who, by name.
    pub person: Option<String>,
    /// When.
    pub at: String,
    /// Entry's number.
    pub seq: u64,
}

/// An alarm.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct AlarmLine {
    /// Kind of alarm.
    pub alarm: String,
    /// Given with its sound until answered; else a quiet notice.
    pub loud: bool,
    /// Clock.
    pub clock: Option<String>,
    /// When it fell due.
    pub due: String,
    /// What was said.
    pub said: String,
    /// Answered by, by name; null: not answered.
    pub answered_by: Option<String>,
    /// Entry's number.
    pub seq: u64,
    /// Entry id.
    pub id: String,
    /// `bond:47` or `batch:Tue 3`.
    pub of: Option<String>,
}

/// Faces made fresh.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SurfaceLine {
    /// Joints or parts.
    pub of: Vec<String>,
    /// How.
    pub how: Option<String>,
    /// When.
    pub at: String,
    /// Entry's number.
    pub seq: u64,
}

/// One entry in a trace.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EntryLine {
    /// Log.
    pub log: String,
    /// Number.
    pub seq: u64,
    /// Kind.
    pub kind: String,
    /// When it happened.
    pub happened: String,
    /// When it was entered.
    pub entered: String,
    /// Entered more than a minute after it happened.
    pub late: bool,
    /// Original it replaces.
    pub corrects: Option<String>,
    /// Id.
    pub id: String,
    /// Who, by name.
    pub person: Option<String>,
    /// Why.
    pub why: Option<String>,
    /// Withdrawn later.
    pub withdrawn: bool,
}
