//! Adhesive cards, lots and containers.

use super::Id;
use super::typed::{Amount, Mass, Pressure, Share, Temperature, Time};
use serde::{Deserialize, Serialize};

/// An adhesive card, from the maker's sheet. A new revision is a new card that names the one it revises.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Card {
    /// Unique among current cards.
    pub name: String,
    /// `epoxy`, `resorcinol`, `urea`, `casein`, or another word (then a single-point limit has no law).
    pub class: String,
    /// Resin to hardener.
    pub ratio: Ratio,
    /// Where the numbers come from: `sheet`, `handbook` or `class`. The last two get the 10 % spread.
    pub origin: String,
    /// Times, each for one clock.
    pub limits: Vec<Limit>,
    /// Open and closed assembly times are used up together.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub together: Option<bool>,
    /// Below this no cure is credited.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub minimum_cure: Option<Temperature>,
    /// `resumes` or `fault`; absent: the class's preset.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub below_minimum: Option<String>,
    /// Highest cure temperature.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub maximum_cure: Option<Temperature>,
    /// Lowest temperature for application.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub application_minimum: Option<Temperature>,
    /// Highest temperature for application.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub application_maximum: Option<Temperature>,
    /// Sets by drying: assembly times are not scaled. Absent: the class's preset.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub water_borne: Option<bool>,
    /// Driest wood.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub moisture_minimum: Option<Share>,
    /// Dampest wood.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub moisture_maximum: Option<Share>,
    /// Driest air.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub humidity_minimum: Option<Share>,
    /// Dampest air.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub humidity_maximum: Option<Share>,
    /// Least clamping pressure.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub pressure_minimum: Option<Pressure>,
    /// Greatest clamping pressure.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub pressure_maximum: Option<Pressure>,
    /// Largest batch.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub largest_batch: Option<Mass>,
    /// Resin density, grams per litre.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub resin_g_per_l: Option<i64>,
    /// Hardener density, grams per litre.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub hardener_g_per_l: Option<i64>,
    /// Stirring time.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub stirring: Option<Time>,
    /// Standing time after stirring.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub standing: Option<Time>,
    /// Spread, milligrams per square metre of glue line.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub spread_mg_per_m2: Option<i64>,
    /// Gel time of a thin film, which does not heat itself.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub film_gel: Option<FilmGel>,
    /// Mass per reacting group of resin and hardener.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub equivalents: Option<Equivalents>,
    /// Glass transition of the fresh and of the fully cured mix.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub glass: Option<Glass>,
    /// The card it revises.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub revises: Option<Id>,
    /// Anything else the sheet says.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub note: Option<String>,
}

/// Gel time of a thin film at a temperature; a range keeps both ends.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FilmGel {
    /// Temperature of film and air.
    pub at: Temperature,
    /// Short end, ms.
    pub low_ms: i64,
    /// Long end, ms; equal to the short end for a single number.
    pub high_ms: i64,
    /// As typed.
    #[serde(rename = "as")]
    pub typed: String,
}

/// Mass per reacting group.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Equivalents {
    /// Of the resin, per epoxide.
    pub resin: Mass,
    /// Of the hardener, per amine hydrogen.
    pub hardener: Mass,
    /// Hydrogens of one hardener molecule, 3 to 12; absent: 4 is taken.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub functionality: Option<i64>,
}

/// Glass transitions the sheet states.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Glass {
    /// Of the fresh mix.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub fresh: Option<Temperature>,
    /// Of the fully cured glue.
    pub full: Temperature,
}

/// Resin to hardener, by weight and/or by volume, with the sheet's tolerance.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ratio {
    /// By weight.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub weight: Option<Parts>,
    /// By volume.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub volume: Option<Parts>,
    /// Allowed deviation of hardener per resin. Absent: deviation shown, no verdict.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub tolerance: Option<Share>,
}

/// Parts of resin to parts of hardener, each in millionths of a part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Parts {
    /// Millionths of a part of resin.
    pub resin_ppm: i64,
    /// Millionths of a part of hardener.
    pub hardener_ppm: i64,
    /// As typed: `100:83`.
    #[serde(rename = "as")]
    pub typed: String,
}

/// One time from the sheet, at one or more temperatures.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// `pot`, `open`, `closed`, `fresh-surface`, `glue-again`, `clamp`, `machining`, `full-cure`.
    pub clock: String,
    /// The sheet's points.
    pub points: Vec<Point>,
    /// `mixing`, `spreading`, `closing`, `pressure`; absent: unknown.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub counted_from: Option<String>,
    /// For bent or sprung joints.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub bent: Option<bool>,
    /// By what it was judged.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub judged_by: Option<String>,
}

/// A time at a temperature; a range keeps both ends.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Point {
    /// Temperature; absent only for unscaled times.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub at: Option<Temperature>,
    /// Short end, ms.
    pub low_ms: i64,
    /// Long end, ms; equal to the short end for a single number.
    pub high_ms: i64,
    /// As typed.
    #[serde(rename = "as")]
    pub typed: String,
    /// Mass in the pot for which it holds.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mass: Option<Mass>,
}

/// A lot of one component of a card.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lot {
    /// Unique in the shop.
    pub mark: String,
    /// Of this card.
    pub card: Id,
    /// `resin`, `hardener` or `filler`.
    pub role: String,
    /// Received, ms UTC.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub received_ms: Option<i64>,
    /// Good until the end of this instant, ms UTC (a bare date: the end of that day in the shop's zone).
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub expires_ms: Option<i64>,
}

/// A can under a lot.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Container {
    /// Unique in the shop.
    pub mark: String,
    /// Of this lot.
    pub lot: Id,
    /// What it held when new.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub holds: Option<Amount>,
    /// Where it stands.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub stored: Option<Id>,
    /// Opened, ms UTC.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub opened_ms: Option<i64>,
}
