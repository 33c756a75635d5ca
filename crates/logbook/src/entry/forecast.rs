//! What somebody expects the air of a place to do: never a reading, only what estimates go by.

use super::Id;
use super::typed::{Kelvins, Temperature, Time};
use serde::{Deserialize, Serialize};

/// What the air of a place is expected to do from the entry's `happened_ms` on. The newest one holds for its place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Forecast {
    /// Where.
    pub place: Id,
    /// Its course.
    pub shape: Shape,
    /// From then on the air stays as it was then, ms UTC.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub until_ms: Option<i64>,
}

/// The course of the air, one key: `{"hold":{"at":{…}}}`. Times of day are local, minutes after midnight in the entry's
/// `zone_min`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shape {
    /// One temperature.
    Hold(Hold),
    /// Day and night.
    Setback(Setback),
    /// Cooling or warming towards a temperature.
    Cooling(Cooling),
    /// A wave of one day.
    Day(Day),
}

/// One temperature.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hold {
    /// Temperature.
    pub at: Temperature,
}

/// Day and night, with straight lines between.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Setback {
    /// By day.
    pub day: Temperature,
    /// By night.
    pub night: Temperature,
    /// The night begins: minutes after local midnight.
    pub from_min: i64,
    /// The day begins: minutes after local midnight.
    pub to_min: i64,
    /// How long each change takes. Absent: two hours.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ramp: Option<Time>,
}

/// Newton's cooling from the last temperature known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cooling {
    /// Where it ends.
    pub towards: Temperature,
    /// Until 37 % of the difference is left. Absent: from the place's own last cool-down.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub time_constant: Option<Time>,
}

/// A wave of one day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Day {
    /// Mean.
    pub mean: Temperature,
    /// Warmest above the mean.
    pub swing: Kelvins,
    /// When it is warmest: minutes after local midnight.
    pub warmest_min: i64,
}
