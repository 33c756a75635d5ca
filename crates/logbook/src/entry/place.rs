//! People, places, instruments, and what the air was.

use super::Id;
use super::typed::{Kelvins, Mass, Share, Temperature};
use serde::{Deserialize, Serialize};

/// A name somebody entered; the program proves nobody's identity.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Person {
    /// Unique in the shop.
    pub name: String,
}

/// A named spot with one air.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// Unique in the shop.
    pub name: String,
    /// A feed of readings is promised: thirty minutes of silence are an alarm.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub feed: Option<bool>,
    /// The place whose air it heats: a hot box or a tent draws the shop's.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub heated_from: Option<Id>,
}

/// A scale, thermometer or meter: its step and, where calibrated, its accuracy.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Instrument {
    /// Unique in the shop.
    pub name: String,
    /// A scale's step.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mass_step: Option<Mass>,
    /// A scale's accuracy, half-width.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mass_accuracy: Option<Mass>,
    /// A thermometer's step.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub temperature_step: Option<Kelvins>,
    /// A calibrated thermometer's accuracy, half-width.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub temperature_accuracy: Option<Kelvins>,
    /// A moisture or humidity meter's step.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub share_step: Option<Share>,
    /// A moisture or humidity meter's accuracy, half-width.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub share_accuracy: Option<Share>,
}

/// A reading by hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Where.
    pub place: Id,
    /// Air temperature at the entry's `happened_ms`.
    pub temperature: Temperature,
    /// Relative humidity of the air.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub humidity: Option<Share>,
    /// Temperature of the wood stored there.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub wood_temperature: Option<Temperature>,
    /// Moisture of the wood stored there.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub wood_moisture: Option<Share>,
    /// A min-max thermometer's lowest.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub lowest: Option<Lowest>,
    /// Instrument.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub instrument: Option<Id>,
}

/// The lowest temperature since an instant, by a min-max thermometer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lowest {
    /// Lowest.
    pub temperature: Temperature,
    /// Since, ms UTC. Absent: since the reading before at this place.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub since_ms: Option<i64>,
}

/// Readings imported from a file, sealed as blocks of one place and one hour.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Readings {
    /// Where.
    pub place: Id,
    /// Source's name within the place: the instrument's id, else `logger`.
    pub source: String,
    /// First minute, ms UTC.
    pub from_ms: i64,
    /// Last minute, ms UTC.
    pub to_ms: i64,
    /// Minutes with a reading.
    pub count: u64,
    /// Digest of the file as read.
    pub file_sha256: String,
    /// Its name, without a folder.
    pub file_name: String,
    /// Digest of each block, in order of the hour.
    pub blocks: Vec<BlockRef>,
    /// Lines that were not readings.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub skipped: Option<u64>,
    /// Instrument.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub instrument: Option<Id>,
}

/// A block named by its digest.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BlockRef {
    /// Start of the hour, ms UTC.
    pub hour_ms: i64,
    /// SHA-256 of the block's bytes, hex.
    pub sha256: String,
}

/// A person vouches that a place was never below a floor.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Vouch {
    /// Where.
    pub place: Id,
    /// Never below.
    pub floor: Temperature,
    /// From, ms UTC.
    pub from_ms: i64,
    /// Until, ms UTC.
    pub until_ms: i64,
}
