//! The adhesive card: numbers from the maker's sheet.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// An adhesive card from the maker's sheet. A changed sheet is a new card that names the one it revises.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Card {
    /// Unique among current cards.
    pub name: String,
    /// `epoxy`, `resorcinol`, `urea`, `casein`, or another word (then a limit with one point has no law).
    pub class: String,
    /// Resin to hardener: `"100:83"` (by weight), `"2:1 by volume"`, or an object.
    pub ratio: RatioWire,
    /// The sheet's times, each for one clock.
    pub limits: Vec<Limit>,
    /// Allowed deviation of the ratio, 0.01 to 50 %; absent: the sheet gives none, and no verdict is spoken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<String>,
    /// `sheet` (preset), `handbook` or `class`; the last two get a spread of 10 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub origin: Option<String>,
    /// Open and closed times are used up together.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub together: Option<bool>,
    /// Below this no cure is credited, -40 to 260 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minimum_cure: Option<String>,
    /// `resumes` or `fault`; preset: fault for resorcinol and urea.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub below_minimum: Option<String>,
    /// Highest cure temperature, -40 to 260 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub maximum_cure: Option<String>,
    /// Lowest temperature for application.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub application_minimum: Option<String>,
    /// Highest temperature for application.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub application_maximum: Option<String>,
    /// It sets by drying: assembly times are not scaled. Preset: true for urea, casein, resorcinol and pva.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_borne: Option<bool>,
    /// Driest wood, 0 to 100 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moisture_minimum: Option<String>,
    /// Dampest wood, 0 to 100 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moisture_maximum: Option<String>,
    /// Driest air, 0 to 100 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity_minimum: Option<String>,
    /// Dampest air, 0 to 100 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity_maximum: Option<String>,
    /// Least clamping pressure, 0.1 kPa to 20 MPa.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_minimum: Option<String>,
    /// Greatest clamping pressure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_maximum: Option<String>,
    /// Largest batch, 0.05 g to 50 kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub largest_batch: Option<String>,
    /// Density of the resin, 0.5 to 3 kg/l.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resin_density: Option<String>,
    /// Density of the hardener.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hardener_density: Option<String>,
    /// Stirring time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stirring: Option<String>,
    /// Standing time after stirring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standing: Option<String>,
    /// Spread on a glue line, 1 g/m2 to 5 kg/m2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread: Option<String>,
    /// The card it revises.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revises: Option<String>,
    /// Anything else the sheet says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A ratio as typed: one text, or by weight and by volume.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum RatioWire {
    /// `100:83`, `100:83 by weight`, `2:1 by volume`.
    Text(String),
    /// Both, with the tolerance.
    Full(RatioFull),
}

/// A ratio in full: `weight` and/or `volume`, or `by` and `nominal`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RatioFull {
    /// By weight: `100:83`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weight: Option<String>,
    /// By volume: `2:1`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume: Option<String>,
    /// `weight` or `volume`, for `nominal`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// The ratio of `by`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nominal: Option<String>,
    /// Allowed deviation, 0.01 to 50 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<String>,
}

/// One time of the sheet, for one clock.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// `pot`, `open`, `closed`, `fresh-surface`, `glue-again`, `clamp`, `machining` or `full-cure`.
    pub clock: String,
    /// At one or more temperatures.
    pub points: Vec<Point>,
    /// `mixing`, `spreading`, `closing` or `pressure`; absent: the sheet does not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counted_from: Option<String>,
    /// For bent or sprung joints.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bent: Option<bool>,
    /// By what it was judged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub judged_by: Option<String>,
}

/// A time at a temperature.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Point {
    /// Temperature, -40 to 260 °C; absent only for unscaled times (`fresh-surface`, `glue-again`).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// `12 h`, `45 min` or `4-6 h`; 1 s to 365 days.
    pub time: String,
    /// Mass in the pot for which it holds, 0.05 g to 50 kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass: Option<String>,
}
