//! What the air was: readings by hand, from a file, and vouched floors.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A reading by hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Where.
    pub place: String,
    /// Air temperature, -40 to 60 °C.
    pub temperature: String,
    /// Relative humidity, 0 to 100 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity: Option<String>,
    /// Of the wood stored there: `9.8 %` is moisture, `14 C` temperature, or an object with both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wood: Option<Wood>,
    /// Min-max thermometer: an instant (then `temperature` itself is the lowest since), a temperature (lowest since the reading before here), or an object.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lowest_since: Option<LowestSince>,
    /// Instrument.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
}

/// Wood stored at the place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Wood {
    /// Moisture or temperature, told by the unit.
    Text(String),
    /// Both.
    Both(WoodBoth),
}

/// Temperature and moisture of wood.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WoodBoth {
    /// -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<String>,
    /// 0 to 100 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moisture: Option<String>,
}

/// The lowest since the thermometer was set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum LowestSince {
    /// An instant or a temperature.
    Text(String),
    /// Both.
    Both(LowestBoth),
}

/// The lowest and since when.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LowestBoth {
    /// Lowest, -40 to 60 °C.
    pub temperature: String,
    /// Since, RFC 3339.
    pub since: String,
}

/// Readings from a logger's file: comma, semicolon or tab separated, at most 64 MB.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingsFile {
    /// Where.
    pub place: String,
    /// Path of the file on this machine.
    pub path: String,
    /// Headers of the columns; absent: guessed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub columns: Option<Columns>,
    /// Instrument.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
}

/// Headers of a readings file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Columns {
    /// Column of the instant: RFC 3339, or `YYYY-MM-DD HH:MM[:SS]` in the shop's zone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<String>,
    /// Column of the temperature; C unless the header or the value names F or K.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<String>,
    /// Column of the relative humidity, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity: Option<String>,
}

/// A person vouches that a place is never below a floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Vouch {
    /// Where.
    pub place: String,
    /// Never below, -40 to 60 °C.
    pub floor: String,
    /// Until, RFC 3339; at most 31 days after its start.
    pub until: String,
    /// From, RFC 3339; absent: the instant of the act.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
}
