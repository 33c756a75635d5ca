//! What is answered. Instants are UTC text with milliseconds and Z; what is missing is null; lists are sorted. The
//! shapes of a trace stand in `page.rs`, those of the bench in `shape_bench.rs`, those of the rooms beside it in `shape_rooms.rs`. Long because it is a list of shapes without a rule of its own.

pub use super::figure::{FigureAnswer, FiguresAnswer};
pub use super::page::*;
pub use super::shape_bench::*;
pub use super::shape_pour::*;
pub use super::shape_rooms::*;

use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// Clocks at an instant.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ClocksAnswer {
    /// Instant judged.
    pub at: String,
    /// Size of the own log.
    pub size: u64,
    /// Clocks.
    pub clocks: Vec<ClockAnswer>,
}

/// One clock.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ClockAnswer {
    /// `bond:47` or `batch:Tue 3`.
    pub of: String,
    /// `pot`, `open`, `closed`, `fresh-surface`, `glue-again`, `clamp`, `machining`, `full-cure`.
    pub clock: String,
    /// `must-not-exceed` or `must-reach`.
    pub direction: String,
    /// `running`, `over`, `reached`, `ended`, `never`, `held`.
    pub state: String,
    /// Start; null: it never started.
    pub started: Option<String>,
    /// End; null: it goes on.
    pub ended: Option<String>,
    /// Progress in millionths of the limit.
    pub progress_ppm: Progress,
    /// Earliest finish.
    pub earliest: Option<String>,
    /// Expected finish.
    pub expected: Option<String>,
    /// Latest finish.
    pub latest: Option<String>,
    /// The limit.
    pub limit: LimitAnswer,
    /// What it rests on.
    pub used: Used,
    /// Model, name and version.
    pub model: String,
    /// In words.
    pub said: String,
    /// The bound used: "95 %, sensor ±1 K".
    pub bound: String,
    /// When a must-not-exceed clock counts as nearly over.
    pub nearly_over: Option<String>,
    /// Batch a pot belongs to, by name.
    pub batch: Option<String>,
    /// Parts it concerns, by mark.
    pub parts: Vec<String>,
    /// What would help a must-reach clock that is running or never: one temperature held from now on, coldest first.
    pub helps: Vec<HelpAnswer>,
}

/// A temperature that would help.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct HelpAnswer {
    /// Held from the instant asked on: "18 °C".
    pub at: String,
    /// Then the limit is reached at the latest.
    pub finish: String,
    /// In words: "at 18 °C: 09:40".
    pub said: String,
}

/// Low (rounded down), expected, high (rounded up).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Progress {
    /// Low.
    pub low: i64,
    /// Expected.
    pub expected: i64,
    /// High.
    pub high: i64,
}

/// The limit in force and where it comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LimitAnswer {
    /// Card entry in force; null: no mix is recorded.
    pub card: Option<String>,
    /// `one-point`, `two-point`, `fitted`, `unscaled`, `none`.
    pub law: String,
    /// `mixing`, `spreading`, `closing`, `pressure`; null: the sheet does not say.
    pub counted_from: Option<String>,
    /// Card's name.
    pub name: Option<String>,
    /// The sheet's numbers: "12 h at 20 °C".
    pub stated: Vec<String>,
    /// Where they come from: `sheet`, `handbook`, `class`.
    pub origin: Option<String>,
    /// Activation energy, lowest, middle, highest, kJ/mol: of the class for one point, by two points, by the slope's 95 %
    /// interval for three and more. Null: plain time or no law.
    #[schemars(with = "Option<[f64; 3]>")]
    pub energy_kj_mol: Option<[Tenths; 3]>,
    /// Temperatures of the sheet that the law goes through; of plain times, points.
    pub points: u64,
    /// How sure it is: `class interval`, `fitted pair`, `95 % band of a new batch`, `plain time`. Null: no law.
    pub band: Option<String>,
}

/// A number with one decimal, kept as whole tenths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tenths(i64);

impl Tenths {
    /// A thousandth of a number, to the nearest tenth.
    pub fn of_thousand(number: f64) -> Tenths {
        Tenths((number / 100.0).round() as i64)
    }
}

impl Serialize for Tenths {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_f64(self.0 as f64 / 10.0)
    }
}

/// What a clock rests on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Used {
    /// Readings used.
    pub readings: u64,
    /// Stretch without credit, ms.
    pub no_credit_ms: i64,
    /// Stretch in gaps longer than two hours, ms.
    pub gap_ms: i64,
    /// Taken for granted, in sentences.
    pub assumed: Vec<String>,
}

/// The own log's size and root.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CheckpointAnswer {
    /// Log.
    pub log: String,
    /// Entries.
    pub size: u64,
    /// Root, base64.
    pub root: String,
}

/// Size and root of every log.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct HeadAnswer {
    /// Logs; the own one first.
    pub logs: Vec<HeadLine>,
}

/// One log.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct HeadLine {
    /// Log.
    pub log: String,
    /// `own`, `bench`, `foreign`.
    pub standing: String,
    /// Entries.
    pub size: u64,
    /// Root, base64.
    pub root: String,
}

/// Every part a lot went into.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WhereUsedAnswer {
    /// Lot, by mark.
    pub lot: String,
    /// Its id.
    pub id: String,
    /// Parts, by mark.
    pub parts: Vec<UsedPart>,
    /// Batches it went into, with those that reached no part.
    pub batches: Vec<UsedBatch>,
}

/// A part a lot went into.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
pub struct UsedPart {
    /// Mark.
    pub mark: String,
    /// Bonds, by name.
    pub bonds: Vec<String>,
    /// In words: "joints a, b; batch Tue 3 (hardener)".
    pub r#where: String,
    /// Id.
    pub id: String,
}

/// A batch a lot went into.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
pub struct UsedBatch {
    /// Day.
    pub day: String,
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// `mix`, `top-up`, `filler`.
    pub by: Vec<String>,
    /// Bonds, by name.
    pub bonds: Vec<String>,
}

/// What verify found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct VerifyAnswer {
    /// Nothing found.
    pub ok: bool,
    /// Depth.
    pub depth: String,
    /// Logs.
    pub logs: Vec<HeadLine>,
    /// Findings.
    pub found: Vec<VerifyFound>,
    /// What it cannot show.
    pub cannot_show: Vec<String>,
}

/// One thing verify found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct VerifyFound {
    /// Log; null: the file itself.
    pub log: Option<String>,
    /// Entry's number; null: not about one entry.
    pub seq: Option<u64>,
    /// What.
    pub what: String,
    /// In words.
    pub sentence: String,
}

/// What is owed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OwedAnswer {
    /// Instant judged.
    pub at: String,
    /// Sentences, bond by bond.
    pub owed: Vec<String>,
    /// The same with keys.
    pub bonds: Vec<OwedBond>,
}

/// What one bond owes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OwedBond {
    /// Bond, by name.
    pub bond: String,
    /// Unsettled findings, with what settles each.
    pub findings: Vec<OwedFinding>,
}

/// All bonds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BondsAnswer {
    /// Instant judged.
    pub at: String,
    /// Bonds, in the order they were made.
    pub bonds: Vec<BondLine>,
}

/// One bond in a list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BondLine {
    /// Name.
    pub id: String,
    /// Entry.
    pub entry: String,
    /// State.
    pub state: String,
    /// Parts, by mark.
    pub parts: Vec<String>,
    /// Batches, by name.
    pub batches: Vec<String>,
    /// Last press.
    pub last_press: Option<String>,
    /// What is owed.
    pub owed: Vec<String>,
}

/// Names and ids.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ListAnswer {
    /// Noun.
    pub of: String,
    /// In order of making.
    pub list: Vec<Named>,
}

/// A name and an id.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Named {
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
}

/// One entry.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct EntryAnswer {
    /// As stored.
    pub entry: serde_json::Value,
    /// Corrections and withdrawals of it, by id, in order.
    pub amended_by: Vec<String>,
    /// In a sentence.
    pub said: String,
    /// The act that corrects it, with the body in force as typed; null: it is not corrected by hand, or withdrawn.
    pub act: Option<EntryAct>,
    /// Its fields in words: those of that act, else as stored.
    pub fields: Vec<EntryField>,
}

/// A batch.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BatchAnswer {
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// Local day.
    pub day: String,
    /// Card.
    pub card: Option<Named>,
    /// Hardener in.
    pub hardener_in: Option<String>,
    /// Worst verdict over mix and top-ups.
    pub verdict: String,
    /// What the ratio that was mixed means for the cured glue, in one sentence; null: the card has no equivalents, or
    /// not everything was weighed.
    pub off_ratio: Option<String>,
    /// Each mix and top-up.
    pub mixes: Vec<MixLine>,
    /// Lots.
    pub lots: Vec<LotLine>,
    /// Balance.
    pub balance: Balance,
    /// Bonds, by name.
    pub bonds: Vec<String>,
    /// Begun within a working session before the instant judged: four hours.
    pub this_session: bool,
    /// Its pot.
    pub pot: Option<ClockAnswer>,
    /// What to ask about.
    pub asked: Vec<String>,
}

/// One mix or top-up.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct MixLine {
    /// `mix` or `top-up`.
    pub kind: String,
    /// When.
    pub at: String,
    /// Resin as typed.
    pub resin: Option<String>,
    /// Hardener as typed.
    pub hardener: Option<String>,
    /// Verdict.
    pub verdict: String,
    /// Deviation of hardener per resin, ppm.
    pub error_ppm: Option<i64>,
    /// Its expanded uncertainty, ppm.
    pub uncertainty_ppm: Option<i64>,
    /// The inverse ratio fits.
    pub swapped: bool,
    /// The verdict in words: how far off, what the scale can tell, what the sheet allows, what to do.
    pub said: String,
    /// Entry's number.
    pub seq: u64,
    /// Who, by name.
    pub person: Option<String>,
}

/// Where a batch went.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Balance {
    /// Mixed, mg; null: not weighed.
    pub mixed_mg: Option<i64>,
    /// Thrown away, mg; null: not recorded.
    pub thrown_away_mg: Option<i64>,
    /// Mixed less thrown away, mg; null: unknown.
    pub on_joints_mg: Option<i64>,
    /// In words.
    pub said: String,
}

/// Amounts to weigh out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct AmountsAnswer {
    /// Card.
    pub card: Named,
    /// `weight` or `volume`.
    pub by: String,
    /// "100:83".
    pub ratio: String,
    /// Resin, "33.0 g".
    pub resin: String,
    /// Hardener.
    pub hardener: String,
    /// Total.
    pub total: String,
    /// In mg or ul, by the same names.
    pub exact: BTreeMap<String, i64>,
    /// Running totals in one cup: "stop at 60.4 g".
    pub stop_at: Vec<String>,
    /// The least that this scale can tell the ratio of; null: by volume, no tolerance on the sheet, or no scale known.
    pub least: Option<LeastAmount>,
    /// In words.
    pub said: String,
}

/// Last reading of a place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LastReading {
    /// Place.
    pub place: String,
    /// When; null: none in the last 30 days.
    pub at: Option<String>,
    /// Age, ms.
    pub age_ms: Option<i64>,
    /// Temperature, mk.
    pub temperature_mk: Option<i64>,
    /// Humidity, ppm.
    pub humidity_ppm: Option<i64>,
}

/// What would hold a mix.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct GateAnswer {
    /// Nothing would hold it.
    pub open: bool,
    /// What would hold it and what would open it, in sentences.
    pub held_by: Vec<GateLine>,
    /// What wood and air say besides; it holds nothing.
    pub notes: Vec<GateNote>,
    /// What cannot be told, in sentences.
    pub unknown: Vec<String>,
}

/// What wood and air say before glue goes on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct GateNote {
    /// `wood`, `dew-point` or `heated-air`.
    pub what: String,
    /// `doubt`, `chill` or `plain`.
    pub tone: String,
    /// In a few words: "parts differ by 3.1 points".
    pub short: String,
    /// In words.
    pub sentence: String,
    /// Where the rule comes from.
    pub source: String,
}

/// One bar of the gate.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
pub struct GateLine {
    /// `lot`, `moisture`, `temperature`, `humidity`.
    pub what: String,
    /// What stands in the way.
    pub sentence: String,
    /// What would open it.
    pub opens: String,
}
