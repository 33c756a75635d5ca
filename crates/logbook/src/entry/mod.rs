//! The entry: one fact, stored once and never changed. Envelope, bodies, and which ids a body names.
//!
//! The bytes of an entry are the RFC 8785 canonical JSON of the whole envelope (docs/format.md). One file per
//! room holds its bodies; this page is the table of contents.

pub mod bond;
pub mod book;
pub mod card;
pub mod forecast;
pub mod mix;
pub mod part;
pub mod place;
pub mod read;
pub mod sample;
pub mod settle;
pub mod typed;

use serde::{Deserialize, Serialize};
use serde_json::Value;

/// A lower-case UUID. Ids of things are the ids of the entries that made them.
pub type Id = String;

/// Version of every entry body: 0 is draft, to be refused by later builds.
pub const VERSION: u32 = 0;

/// A subject of an entry and the running number of this entry among those about that subject in this log, from 1.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct About {
    /// A part, bond, batch or lot.
    pub id: Id,
    /// Running number in this log, from 1 without a gap.
    pub n: u64,
}

/// One entry as stored. Field order is alphabetical, as in the canonical bytes.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The parts, bonds, batches and lots this entry concerns.
    pub about: Vec<About>,
    /// Key of the act that made it.
    pub act: String,
    /// What it says.
    pub body: Body,
    /// Boot identity of the machine when it was entered.
    pub boot: String,
    /// Boot time counting sleep, ms.
    pub boot_ms: i64,
    /// The original entry that this one replaces.
    pub corrects: Option<Id>,
    /// Instant entered, by the machine's wall clock, ms since 1970 UTC.
    pub entered_ms: i64,
    /// Instant it happened, ms since 1970 UTC. In a correction: the instant as corrected.
    pub happened_ms: i64,
    /// This entry's id.
    pub id: Id,
    /// Log that holds it.
    pub log: Id,
    /// Fold order: the larger of the instant entered and the order of the previous entry and of every entry named.
    pub order_ms: i64,
    /// Who, as an id; absent when not recorded.
    pub person: Option<Id>,
    /// Place in the log, from 0.
    pub seq: u64,
    /// Why, as typed.
    pub why: Option<String>,
    /// Minutes east of Greenwich shown when it was entered.
    pub zone_min: i32,
}

/// What a caller hands in: an entry without the places and numbers that the store gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// Id of the entry to be.
    pub id: Id,
    /// What it says.
    pub body: Body,
    /// Subjects (parts, bonds, batches, lots), without numbers; order kept, repeats dropped.
    pub about: Vec<Id>,
    /// Instant it happened, ms.
    pub happened_ms: i64,
    /// Original entry replaced.
    pub corrects: Option<Id>,
    /// Why, as typed.
    pub why: Option<String>,
    /// Who.
    pub person: Option<Id>,
}

/// What all entries of one act share.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// The act's key.
    pub act: String,
    /// Wall clock, ms UTC.
    pub entered_ms: i64,
    /// Boot identity.
    pub boot: String,
    /// Boot time counting sleep, ms.
    pub boot_ms: i64,
    /// Minutes east of Greenwich.
    pub zone_min: i32,
}

macro_rules! bodies {
    ($($kind:literal $variant:ident $type:ty, $doc:literal;)*) => {
        /// Every kind of entry.
        #[derive(Clone, Debug, PartialEq)]
        #[expect(clippy::large_enum_variant, reason = "entries are read one by one, never held in bulk; a box would show in every room")]
        pub enum Body {
            $(#[doc = $doc] $variant($type),)*
            /// A kind this build does not know, in another's log: kept, proved, shown as not understood.
            Unknown(String, Value),
        }

        impl Body {
            /// The kind's word in the entry.
            pub fn kind(&self) -> &str {
                match self { $(Body::$variant(_) => $kind,)* Body::Unknown(kind, _) => kind }
            }

            /// Reads a body of the given kind. Unknown fields and null are refused.
            pub fn read(kind: &str, value: Value) -> Result<Body, serde_json::Error> {
                Ok(match kind {
                    $($kind => Body::$variant(serde_json::from_value(value)?),)*
                    other => Body::Unknown(other.to_owned(), value),
                })
            }

            /// The body as JSON; absent fields are left out.
            pub fn write(&self) -> Result<Value, serde_json::Error> {
                match self {
                    $(Body::$variant(body) => serde_json::to_value(body),)*
                    Body::Unknown(_, value) => Ok(value.clone()),
                }
            }
        }

        /// Every kind this build writes.
        pub const KINDS: &[&str] = &[$($kind),*];
    };
}

bodies! {
    "log-start" LogStart book::LogStart, "The first entry of a log.";
    "person" Person place::Person, "A name somebody entered.";
    "place" Place place::Place, "A named spot with one air.";
    "instrument" Instrument place::Instrument, "A scale, thermometer, meter.";
    "card" Card card::Card, "An adhesive card from the maker's sheet.";
    "lot" Lot card::Lot, "A lot of one component.";
    "container" Container card::Container, "A can under a lot.";
    "kind" Kind part::Kind, "A described part.";
    "set" Set part::Set, "Parts made from a kind in one act.";
    "part" Part part::Part, "One part.";
    "joint" Joint part::Joint, "A joint of one part, beyond those of its kind.";
    "reading" Reading place::Reading, "A reading by hand.";
    "readings" Readings place::Readings, "Blocks of readings from a file.";
    "vouch" Vouch place::Vouch, "A floor that a person vouches for.";
    "forecast" Forecast forecast::Forecast, "What the air of a place is expected to do.";
    "batch" Batch mix::Batch, "A batch gets its name.";
    "mix" Mix mix::Mix, "What went into a batch.";
    "top-up" TopUp mix::Mix, "More of the components into a running batch.";
    "filler" Filler mix::Filler, "Filler added to a batch.";
    "cup" Cup mix::Cup, "How warm the glue in a cup was.";
    "throw-away" ThrowAway mix::ThrowAway, "What was left of a batch.";
    "bond" Bond bond::Bond, "Batches times joints at one stage.";
    "press" Press bond::Press, "One press at the bench.";
    "moved" Moved bond::Moved, "A bond's parts went to another place.";
    "coat" Coat bond::Coat, "A wetting coat.";
    "surface" Surface bond::Surface, "Faces made fresh.";
    "sample" Sample sample::Sample, "A sample joint that was broken.";
    "reason" Reason settle::Reason, "Why a missing value cannot be known.";
    "decide" Decide settle::Decide, "A broken limit decided.";
    "withdrawn" Withdrawn settle::Withdrawn, "An entry withdrawn.";
    "alarm" Alarm book::Alarm, "An alarm or notice, once.";
    "alarm-answered" AlarmAnswered book::AlarmAnswered, "Who answered it.";
    "time-confirmed" TimeConfirmed book::TimeConfirmed, "A person or the system confirms the shown time.";
    "clock-step" ClockStep book::ClockStep, "The wall clock stepped under a running boot.";
    "checkpoint-given" CheckpointGiven book::CheckpointGiven, "A checkpoint handed to somebody.";
    "issued" Issued book::Issued, "Counts stated before a page or bundle.";
}

impl Entry {
    /// The envelope as one JSON value, fields as in docs/format.md.
    pub fn to_value(&self) -> Result<Value, serde_json::Error> {
        let mut map = serde_json::Map::new();
        map.insert("about".into(), serde_json::to_value(&self.about)?);
        map.insert("act".into(), self.act.clone().into());
        map.insert("body".into(), self.body.write()?);
        map.insert("boot".into(), self.boot.clone().into());
        map.insert("boot_ms".into(), self.boot_ms.into());
        if let Some(original) = &self.corrects {
            map.insert("corrects".into(), original.clone().into());
        }
        map.insert("entered_ms".into(), self.entered_ms.into());
        map.insert("happened_ms".into(), self.happened_ms.into());
        map.insert("id".into(), self.id.clone().into());
        map.insert("kind".into(), self.body.kind().into());
        map.insert("log".into(), self.log.clone().into());
        map.insert("order_ms".into(), self.order_ms.into());
        if let Some(person) = &self.person {
            map.insert("person".into(), person.clone().into());
        }
        map.insert("seq".into(), self.seq.into());
        map.insert("version".into(), VERSION.into());
        if let Some(why) = &self.why {
            map.insert("why".into(), why.clone().into());
        }
        map.insert("zone_min".into(), self.zone_min.into());
        Ok(Value::Object(map))
    }
}
