//! What the rooms beside the bench are answered: the session, what can be glued next, parts, stores, entries. Texts
//! are in the reader's units and this computer's zone. Long because it is a list of shapes without a rule of its own.

use super::answer::Named;
use schemars::JsonSchema;
use serde::Serialize;

/// What the next act would inherit, and the names it may use.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SessionAnswer {
    /// Who acts: the one asked for, else who acted last within four hours; null: nobody.
    pub person: Option<Named>,
    /// Place an act without one gets; null: none.
    pub place: Option<Named>,
    /// In words where the place comes from.
    pub place_said: Option<String>,
    /// Wood moisture a bond without one gets; null: none measured within four hours.
    pub moisture: Option<SessionMoisture>,
    /// Cans, those confirmed in this session first.
    pub containers: Vec<SessionCan>,
    /// Card of this person's last mix within four hours; null: none.
    pub card: Option<Named>,
    /// Names of people.
    pub people: Vec<String>,
    /// Names of places.
    pub places: Vec<String>,
    /// Names of instruments.
    pub instruments: Vec<String>,
}

/// Wood moisture that is inherited.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SessionMoisture {
    /// As typed: "9.8 %".
    pub value: String,
    /// "measured 3 h ago on pile 4".
    pub said: String,
    /// Age, ms.
    pub age_ms: i64,
}

/// A can that may be mixed from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SessionCan {
    /// Mark.
    pub mark: String,
    /// Id.
    pub id: String,
    /// Lot, by mark.
    pub lot: String,
    /// `resin`, `hardener`, `filler`.
    pub role: String,
    /// Card, by name.
    pub card: String,
    /// The card's id.
    pub card_id: String,
    /// Used by this person within four hours, so that a mix of this card without cans takes it.
    pub confirmed: bool,
    /// In words.
    pub said: String,
}

/// What can be glued next.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WorkAnswer {
    /// Instant judged.
    pub at: String,
    /// Kinds with their stages, in order of making.
    pub kinds: Vec<WorkKind>,
    /// Parts with joints of their own, beyond their kind.
    pub loose: Vec<WorkLoose>,
}

/// A kind of part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WorkKind {
    /// Mark.
    pub kind: String,
    /// Id.
    pub id: String,
    /// Stages, in order.
    pub stages: Vec<WorkStage>,
}

/// A stage of a kind.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WorkStage {
    /// Mark.
    pub stage: String,
    /// Parts of the kind, in order of making.
    pub parts: Vec<WorkPart>,
    /// Parts still open.
    pub open: u64,
    /// "6 of 18 parts to glue, 22 joints each".
    pub said: String,
}

/// A part at a stage.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WorkPart {
    /// Mark.
    pub mark: String,
    /// Id.
    pub id: String,
    /// Joints of this stage that are in no bond yet; when glued, all of the stage.
    pub joints: u64,
    /// Their area; null: an area is not recorded.
    pub area: Option<String>,
    /// The same in mm².
    pub area_mm2: Option<i64>,
    /// `glued`: every joint of the stage is in a bond that was not rejected. Else `open`.
    pub state: String,
    /// Those bonds, by name.
    pub bonds: Vec<String>,
}

/// A part with joints of its own.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WorkLoose {
    /// Mark.
    pub mark: String,
    /// Id.
    pub id: String,
    /// Joints, in order of making.
    pub joints: Vec<WorkJoint>,
}

/// A joint of a part's own.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WorkJoint {
    /// Mark.
    pub mark: String,
    /// Sort; null: not recorded.
    pub sort: Option<String>,
    /// Area; null: not recorded.
    pub area: Option<String>,
    /// Total thickness; null: not recorded.
    pub thickness: Option<String>,
    /// `open` or `glued`.
    pub state: String,
    /// Bonds it is in, by name.
    pub bonds: Vec<String>,
}

/// Parts by assembly.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PartsAnswer {
    /// Instant judged.
    pub at: String,
    /// Assemblies by name; parts of none stand last.
    pub assemblies: Vec<PartsAssembly>,
    /// "35 parts: 2 held, 3 running".
    pub said: String,
}

/// An assembly.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PartsAssembly {
    /// Name; null: parts of no assembly.
    pub assembly: Option<String>,
    /// Parts, in order of making.
    pub parts: Vec<PartLine>,
}

/// A part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PartLine {
    /// Mark.
    pub mark: String,
    /// Id.
    pub id: String,
    /// Kind, by mark; null: none.
    pub kind: Option<String>,
    /// `held`: a bond of it is held. `running`: none is, but one is not clear yet. `not glued`: something of it is in
    /// no bond. `clear`: all of it is in bonds and every bond is clear.
    pub state: String,
    /// "2 of 3 stages glued; bond 12 held".
    pub said: String,
    /// Bonds, by name.
    pub bonds: Vec<String>,
}

/// Everything in the stores.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StoresAnswer {
    /// Instant judged.
    pub at: String,
    /// Cards; a revised one stands after the one that revises it.
    pub cards: Vec<StoreCard>,
    /// Lots, in order of making.
    pub lots: Vec<StoreLot>,
    /// Kinds.
    pub kinds: Vec<StoreKind>,
    /// Places.
    pub places: Vec<StorePlace>,
    /// People.
    pub people: Vec<Named>,
    /// Instruments.
    pub instruments: Vec<StoreInstrument>,
}

/// An adhesive card in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StoreCard {
    /// Id.
    pub id: String,
    /// Its entry's number.
    pub seq: u64,
    /// Name.
    pub name: String,
    /// Class.
    pub class: String,
    /// From 1: how many cards stand in its chain of revisions up to it.
    pub revision: u64,
    /// Id of the card that revises it; null: it is the newest.
    pub revised_by: Option<String>,
    /// `sheet`, `handbook`, `class`.
    pub origin: String,
    /// "100:44 by weight ±5 %".
    pub ratio: String,
    /// What else the sheet says, and what is taken where it says nothing.
    pub facts: Vec<StoreFact>,
    /// Its times, clock by clock.
    pub limits: Vec<StoreLimit>,
    /// What to mind with this card, in sentences.
    pub cautions: Vec<String>,
}

/// One fact of a card.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StoreFact {
    /// What.
    pub label: String,
    /// Value; null: not recorded.
    pub value: Option<String>,
    /// The sheet does not say it: a preset of the class, or the safe reading of nothing.
    pub assumed: bool,
}

/// The times of a card for one clock.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StoreLimit {
    /// Clock.
    pub clock: String,
    /// In a word: "Clamps".
    pub word: String,
    /// For bent or sprung joints.
    pub bent: bool,
    /// The sheet's numbers: "10 h at 20 °C".
    pub stated: Vec<String>,
    /// In words what they are counted from.
    pub counted_from: String,
    /// The sheet does not say what they are counted from.
    pub assumed: bool,
    /// By what it was judged; null: not recorded.
    pub judged_by: Option<String>,
}

/// A lot.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StoreLot {
    /// Id.
    pub id: String,
    /// Its entry's number.
    pub seq: u64,
    /// Mark.
    pub mark: String,
    /// `resin`, `hardener`, `filler`.
    pub role: String,
    /// Card, by name.
    pub card: String,
    /// Received; null: not recorded.
    pub received: Option<String>,
    /// Good until; null: not recorded.
    pub expires: Option<String>,
    /// `plain`, `doubt` (no date, or within 30 days), `heat` (expired).
    pub tone: String,
    /// "in use", "expired", "expires in 12 days", "no expiry recorded".
    pub state: String,
    /// In words.
    pub said: String,
    /// Given in all mixes.
    pub given: String,
    /// What its cans held less what they gave; null: not known.
    pub left: Option<String>,
    /// Cans.
    pub containers: Vec<StoreCan>,
    /// Parts it went into.
    pub parts: u64,
}

/// A can.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StoreCan {
    /// Id.
    pub id: String,
    /// Its entry's number.
    pub seq: u64,
    /// Mark.
    pub mark: String,
    /// What it held when new; null: not recorded.
    pub holds: Option<String>,
    /// Given in mixes where it was the only can of its role.
    pub given: String,
    /// What it held less what it gave; null: not known.
    pub left: Option<String>,
    /// Place where it stands; null: not recorded.
    pub stored: Option<String>,
    /// Opened; null: not recorded.
    pub opened: Option<String>,
}

/// A kind of part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StoreKind {
    /// Id.
    pub id: String,
    /// Its entry's number.
    pub seq: u64,
    /// Mark.
    pub mark: String,
    /// "first face: 21 joints, 252 cm²".
    pub stages: Vec<String>,
    /// Presses, planned pressure, clamping time, bent, hottest in service.
    pub facts: Vec<StoreFact>,
}

/// A place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StorePlace {
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// A feed of readings is promised.
    pub feed: bool,
    /// The place whose air it heats, by name.
    pub heated_from: Option<String>,
}

/// An instrument.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StoreInstrument {
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// "step 0.1 g; accuracy not recorded".
    pub said: String,
    /// It is a scale.
    pub weighs: bool,
}

/// Entries, newest first.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EntriesAnswer {
    /// Log they are of; null: the book is empty.
    pub log: Option<String>,
    /// Entries.
    pub entries: Vec<EntryRow>,
    /// Entries in that log.
    pub total: u64,
    /// `before` of the next page; null: this was the last. A page may be short, or empty, and yet have a next one.
    pub next_before: Option<u64>,
    /// Log the next page is of, when this log is done; null: none.
    pub next_log: Option<String>,
}

/// One entry in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EntryRow {
    /// Number.
    pub seq: u64,
    /// Id.
    pub id: String,
    /// Log.
    pub log: String,
    /// Kind.
    pub kind: String,
    /// When it happened, in this computer's zone.
    pub happened: String,
    /// When it was entered, in this computer's zone.
    pub entered: String,
    /// Entered more than a minute after it happened.
    pub late: bool,
    /// Who, by name; null: not recorded.
    pub person: Option<String>,
    /// In a sentence.
    pub said: String,
    /// Number of the entry it corrects or withdraws; null: none.
    pub corrects: Option<u64>,
    /// Numbers of its corrections.
    pub corrected_by: Vec<u64>,
    /// Withdrawn.
    pub withdrawn: bool,
    /// Why, as typed.
    pub why: Option<String>,
    /// The act `correct` takes it.
    pub can_correct: bool,
}

/// The act whose body, changed, corrects an entry.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct EntryAct {
    /// Its word.
    pub act: String,
    /// Its body, as typed.
    pub body: serde_json::Value,
}

/// One field of an entry.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EntryField {
    /// Where it stands in the act's body: `limits[0].points[1].time`.
    pub path: String,
    /// In words: "Limit 1, point 2, time".
    pub label: String,
    /// As typed.
    pub value: String,
}

/// Something owed, with what settles it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OwedFinding {
    /// Stable key: `over:pot`.
    pub key: String,
    /// In words.
    pub sentence: String,
    /// Settled by a value, a reason or a decision: never, in a list of what is owed.
    pub settled: bool,
    /// `value`: enter what is missing, or say why it cannot be known with `reason`. `reason`: act `reason`.
    /// `decide`: act `decide`.
    pub settled_by: String,
    /// What `reason` takes as `of`, or `decide` as `bond`.
    pub of: String,
    /// Where the missing value itself is entered; null: nowhere, it is settled only as `settled_by` says.
    pub enter: Option<EnterMissing>,
}

/// Where a missing value is entered: the act, and what of it is known.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EnterMissing {
    /// `press`, `mix`, or `correct` of the bond's own entry.
    pub act: String,
    /// Press that was not made.
    pub press: Option<String>,
    /// Bond, by name.
    pub bond: Option<String>,
    /// Batch, by id.
    pub batch: Option<String>,
    /// Entry to be corrected, by id.
    pub entry: Option<String>,
    /// Its field that is missing.
    pub field: Option<String>,
}

/// The least amount whose ratio a scale can tell.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LeastAmount {
    /// Both components together, "8.2 g".
    pub total: String,
    /// The same, mg.
    pub total_mg: i64,
    /// Three times as much: what is told with ease.
    pub comfortable: String,
    /// What is wanted is at least that least amount.
    pub enough: bool,
    /// "below 8.2 g in all this scale cannot tell 5 %".
    pub said: String,
}
