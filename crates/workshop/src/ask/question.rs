//! What can be asked: one variant per question, its body beside it. The answer of each is named in `answer.rs`.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Every question. On the wire `{"ask":"clocks","body":{"bond":"47"}}`; a missing body is an empty one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "ask", content = "body", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Question {
    /// Clocks of a bond, a batch or a part; without any, all live ones. Answer: `ClocksAnswer`.
    Clocks(Clocks),
    /// Everything recorded about one part. Answer: `TraceAnswer`.
    Trace(Trace),
    /// Every part a lot went into. Answer: `WhereUsedAnswer`.
    WhereUsed(WhereUsed),
    /// Checks the book. Answer: `VerifyAnswer`.
    Verify(Verify),
    /// What is owed, bond by bond. Answer: `OwedAnswer`.
    Owed(Nothing),
    /// All bonds with their state. Answer: `BondsAnswer`.
    Bonds(Nothing),
    /// Names and ids of a noun. Answer: `ListAnswer`.
    List(List),
    /// One entry as stored. Answer: `EntryAnswer`.
    Entry(EntryAsked),
    /// A batch: verdict, balance, lots. Answer: `BatchAnswer`.
    Batch(BatchAsked),
    /// Amounts to weigh out. Answer: `AmountsAnswer`.
    Amounts(Amounts),
    /// Size and root of every log. Answer: `HeadAnswer`.
    Head(Nothing),
    /// The own log's checkpoint. Answer: `CheckpointAnswer`.
    Checkpoint(Nothing),
    /// What the bench shows: live clocks in order, last readings, alarms. Answer: `BenchAnswer`.
    Bench(Nothing),
    /// What would hold a mix from these cans, here and now. Answer: `GateAnswer`.
    Gate(Gate),
    /// What a cup of glue will do, before it is poured. Answer: `PourAnswer`.
    Pour(Pour),
    /// A post-cure of a bond before it is done. Answer: `PostCureAnswer`.
    PostCure(PostCure),
    /// One calculation by itself; needs no book. Answer: `FigureAnswer`.
    Figure(FigureAsked),
    /// Every calculation with its inputs, units, ranges and source. Answer: `FiguresAnswer`.
    Figures(Nothing),
    /// What the next act would inherit. Answer: `SessionAnswer`.
    Session(SessionAsked),
    /// What can be glued next, kind by kind and stage by stage. Answer: `WorkAnswer`.
    Work(Nothing),
    /// Every part with its state. Answer: `PartsAnswer`.
    Parts(Nothing),
    /// Cards, lots, cans, kinds, places, people, instruments. Answer: `StoresAnswer`.
    Stores(Nothing),
    /// Entries as they were made, newest first, page by page. Answer: `EntriesAnswer`.
    Entries(EntriesAsked),
}

/// No fields.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Nothing {}

/// At most one of the three.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Clocks {
    /// Bond, by number or id.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub bond: Option<String>,
    /// Batch, by name or id: its pot alone.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub batch: Option<String>,
    /// Part, by mark or id: clocks of all its bonds.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub part: Option<String>,
}

/// A part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Trace {
    /// By mark or id.
    pub part: String,
}

/// A lot.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WhereUsed {
    /// By mark or id.
    pub lot: String,
}

/// How deep, and against what.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Verify {
    /// `bytes` (preset), `meaning`, `rebuild`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub depth: Option<String>,
    /// Text of a checkpoint file held outside: log, size, base64 root, one a line.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub checkpoint: Option<String>,
}

/// Which noun.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct List {
    /// `person`, `place`, `instrument`, `card`, `lot`, `container`, `kind`, `set`, `part`, `batch`, `bond`.
    pub of: String,
}

/// One entry: by id, or by its number in a log.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EntryAsked {
    /// Id.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub id: Option<String>,
    /// Number, from 0.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub seq: Option<u64>,
    /// Log; absent: the own one.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub log: Option<String>,
}

/// A batch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BatchAsked {
    /// By name ("Tue 3", "Tue 3 2026-11-24") or id.
    pub batch: String,
}

/// Exactly one of total, resin and hardener, as typed with its unit ("60 g", "100 ml").
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Amounts {
    /// Card, by name or id.
    pub card: String,
    /// Both together.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub total: Option<String>,
    /// Resin at hand.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub resin: Option<String>,
    /// Hardener at hand.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub hardener: Option<String>,
    /// Empty cup on the scale: running totals start there.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub cup: Option<String>,
    /// Scale, by name or id; absent: the book's only one.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub instrument: Option<String>,
}

/// A mix that has not happened.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Gate {
    /// Cans, by mark or id.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub containers: Vec<String>,
    /// Lots, by mark or id.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub lots: Vec<String>,
    /// Card, by name or id; absent: the lots'.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub card: Option<String>,
    /// Place, by name or id; absent: the book's only place.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub place: Option<String>,
}

/// A cup that is not poured yet: `card` with `mass`, or with resin and hardener, as typed with their units; or one that
/// stands: `batch`, with the temperature of the glue in it where somebody measured it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Pour {
    /// Card, by name or id.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub card: Option<String>,
    /// Both together: "150 g".
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mass: Option<String>,
    /// Resin.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub resin: Option<String>,
    /// Hardener.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub hardener: Option<String>,
    /// Cans, by mark or id: how warm they stand.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub containers: Vec<String>,
    /// Place, by name or id; absent: the book's only place.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub place: Option<String>,
    /// Temperature of the components; absent: the air where the cans stand, else the air of the place.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub start_temperature: Option<String>,
    /// `cup` (preset), or `tray:6mm`, 1 to 100 mm.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub vessel: Option<String>,
    /// A batch that stands, by name or id.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub batch: Option<String>,
    /// Temperature of the glue in it now: "38 C".
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub measured: Option<String>,
}

/// A post-cure that has not happened.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PostCure {
    /// Bond, by number or id.
    pub bond: String,
    /// Temperature of the tent or box, "60 C".
    pub to: String,
    /// Hottest in service, "55 C"; absent: what its parts or their kinds name.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub service: Option<String>,
    /// Faces of the wood in the warm air: 2 (preset), or 1.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub faces: Option<u64>,
}

/// A calculation and its inputs.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FigureAsked {
    /// Its name: `dew-point`.
    pub figure: String,
    /// Inputs by name, each as typed with its unit ("70F"), a number in the unit its help names, or a list of such.
    #[serde(skip_serializing_if = "std::collections::BTreeMap::is_empty", default)]
    pub inputs: std::collections::BTreeMap<String, serde_json::Value>,
    /// Also how to show it: in words, as a table, as a picture.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub show: bool,
}

/// Whose session.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SessionAsked {
    /// Person, by name or id; absent: who acted last within four hours.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub person: Option<String>,
}

/// Which page of the entries.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EntriesAsked {
    /// Only entries with a smaller number; absent: from the newest.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub before: Option<u64>,
    /// Most entries on the page, 1 to 500; absent: 50.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub limit: Option<u64>,
    /// Only entries that name this: a part by mark, `bond:47`, `batch:Tue 3`, `lot:R-118`, `place:bench`, or an id.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub about: Option<String>,
    /// Only entries of this kind: `press`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub kind: Option<String>,
    /// Log; absent: the own one.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub log: Option<String>,
}
