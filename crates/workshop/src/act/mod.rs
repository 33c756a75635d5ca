//! What a person can do: the table of contents of every act. Each body lives in the file of its room; this page
//! holds no rule of its own.

mod batch;
pub(crate) mod desk;
mod door;
pub(crate) mod instant;
mod joints;
mod logger;
pub(crate) mod names;
mod owed;
mod ratio;
mod read;
mod receipt;
pub(crate) mod session;
mod subject;
mod text;
pub(crate) mod typed;
mod written;

pub mod bond;
pub mod book;
pub mod card;
pub mod card_cure;
pub mod correct;
pub mod forecast;
pub mod mix;
pub mod part;
pub mod people;
pub mod press;
pub mod reading;
pub mod sample;
pub mod settle;
pub mod store;

use crate::wire::WireError;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// What every act carries around its body.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Envelope {
    /// Word of the act: `press`.
    pub act: String,
    /// Key chosen by the caller: the same key again repeats the receipt and appends nothing. Absent: a fresh one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub key: Option<String>,
    /// Who acts: a person's name or id. Absent: not recorded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub person: Option<String>,
    /// When it happened, RFC 3339. Absent: now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub happened: Option<String>,
    /// Why it is entered late or differently, as typed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
    /// The act's own fields. Absent: none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub body: Option<Value>,
}

/// Writes an act's entries at the desk.
pub(crate) trait Enact {
    /// Parses what was typed, finds what was named, and lays entries down. Refuses only what cannot be parsed, names
    /// nothing, uses a mark twice, lies outside its range, or lies ahead.
    fn enact(self, desk: &mut desk::Desk) -> Result<(), WireError>;
}

macro_rules! acts {
    ($($word:literal $variant:ident $type:ty, $doc:literal;)*) => {
        /// Every act.
        #[derive(Clone, Debug, PartialEq)]
        #[expect(clippy::large_enum_variant, reason = "an act is read once and handed on, never kept in numbers")]
        pub enum Act {
            $(#[doc = $doc] $variant($type),)*
        }

        /// Every act's word, in the order of a shop's life.
        pub const WORDS: &[&str] = &[$($word),*];

        impl Act {
            /// Reads an act's body. Unknown words and fields are refused by name.
            pub fn read(word: &str, body: Value) -> Result<Act, WireError> {
                match word {
                    $($word => read::body(body).map(Act::$variant),)*
                    other => Err(read::unknown_act(other)),
                }
            }

            /// The act's word.
            pub fn word(&self) -> &'static str {
                match self { $(Act::$variant(_) => $word,)* }
            }
        }

        impl Enact for Act {
            fn enact(self, desk: &mut desk::Desk) -> Result<(), WireError> {
                match self { $(Act::$variant(body) => body.enact(desk),)* }
            }
        }

        /// JSON Schema of every act: `{"envelope":{…},"press":{…},…}`.
        pub fn schema() -> Value {
            let mut all = serde_json::Map::new();
            all.insert("envelope".into(), schemars::schema_for!(Envelope).to_value());
            $(all.insert($word.into(), schemars::schema_for!($type).to_value());)*
            Value::Object(all)
        }
    };
}

acts! {
    "person" Person people::Person, "A name somebody entered.";
    "place" Place people::Place, "A named spot with one air.";
    "instrument" Instrument people::Instrument, "A scale, thermometer or meter.";
    "card" Card card::Card, "An adhesive card from the maker's sheet.";
    "lot" Lot store::Lot, "A lot of one component.";
    "container" Container store::Container, "A can under a lot.";
    "kind" Kind part::Kind, "A described part.";
    "set" Set part::Set, "Parts made from a kind.";
    "part" Part part::Part, "One part.";
    "joint" Joint part::Joint, "A joint of one part.";
    "reading" Reading reading::Reading, "A reading by hand.";
    "readings-file" ReadingsFile reading::ReadingsFile, "Readings from a logger's file.";
    "vouch" Vouch reading::Vouch, "A floor that a person vouches for.";
    "forecast" Forecast forecast::Forecast, "What the air of a place is expected to do.";
    "mix" Mix mix::Mix, "What went into a batch.";
    "top-up" TopUp mix::TopUp, "More of the components into a running batch.";
    "filler" Filler mix::Filler, "Filler added to a batch.";
    "cup" Cup mix::Cup, "How warm the glue in a cup is.";
    "throw-away" ThrowAway mix::ThrowAway, "What was left of a batch.";
    "bond" Bond bond::Bond, "Batches times joints at one stage.";
    "press" Press press::Press, "One press at the bench.";
    "moved" Moved bond::Moved, "A bond's parts went to another place.";
    "coat" Coat bond::Coat, "A wetting coat before a filled one.";
    "surface" Surface bond::Surface, "Faces made fresh.";
    "sample" Sample sample::Sample, "A sample joint that was broken.";
    "reason" Reason settle::Reason, "Why a missing value cannot be known.";
    "decide" Decide settle::Decide, "A broken limit decided.";
    "correct" Correct correct::Correct, "A full replacement of an entry's body.";
    "withdraw" Withdraw correct::Withdraw, "An entry withdrawn.";
    "answer-alarm" AnswerAlarm book::AnswerAlarm, "Somebody answers an alarm.";
    "confirm-time" ConfirmTime book::ConfirmTime, "The shown time is right.";
    "checkpoint-given" CheckpointGiven book::CheckpointGiven, "A checkpoint handed to somebody.";
    "issue" Issue book::Issue, "Counts stated before a page or bundle leaves.";
}
