//! What a sheet says of how its glue reacts: gel time of a film, equivalents, glass transition.

use super::typed;
use crate::wire::WireError;
use logbook::entry::card;
use logbook::entry::typed::Mass;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Gel time of a thin film, which does not heat itself.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FilmGel {
    /// Temperature of film and air, -40 to 260 °C.
    pub at: String,
    /// `3 h` or `150-200 min`; 1 s to 365 days. Of a range the short end counts.
    pub time: String,
}

/// Mass per reacting group, as sheets give it: grams of resin for one epoxide, of hardener for one amine hydrogen.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Equivalents {
    /// Of the resin, per epoxide, 10 g to 10 kg.
    pub resin: String,
    /// Of the hardener, per amine hydrogen, 10 g to 10 kg.
    pub hardener: String,
    /// Hydrogens of one hardener molecule, 3 to 12; absent: 4 is taken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub functionality: Option<i64>,
}

/// Glass transition: where the glue turns from glass to rubber.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Glass {
    /// Of the fresh mix, -40 to 260 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fresh: Option<String>,
    /// Of the fully cured glue, -40 to 260 °C.
    pub full: String,
}

const GROUP_MG: core::ops::RangeInclusive<i64> = 10_000..=10_000_000;
const HYDROGENS: core::ops::RangeInclusive<i64> = 3..=12;

impl FilmGel {
    /// Errors: `out-of-range`, `missing` unit, with the field.
    pub(super) fn parse(&self) -> Result<card::FilmGel, WireError> {
        let at = typed::cure("body.film_gel.at", &self.at)?;
        let (low_ms, high_ms, typed) = typed::time_range("body.film_gel.time", &self.time)?;
        Ok(card::FilmGel { at, low_ms, high_ms, typed })
    }
}

impl Equivalents {
    /// Errors: `out-of-range`, `missing` unit, with the field.
    pub(super) fn parse(&self) -> Result<card::Equivalents, WireError> {
        let resin = group("body.equivalents.resin", &self.resin)?;
        let hardener = group("body.equivalents.hardener", &self.hardener)?;
        if let Some(hydrogens) = self.functionality.filter(|it| !HYDROGENS.contains(it)) {
            let field = "body.equivalents.functionality";
            let sentence = format!("{field} is {hydrogens}: a hardener molecule that makes a network has 3 to 12.");
            let error = WireError::new("out-of-range", sentence, "Leave it out if the sheet does not say.");
            return Err(error.field(field).value(&hydrogens.to_string()).range("3 to 12"));
        }
        Ok(card::Equivalents { resin, hardener, functionality: self.functionality })
    }
}

fn group(field: &str, text: &str) -> Result<Mass, WireError> {
    let mass = typed::mass(field, text)?;
    if GROUP_MG.contains(&mass.mg) {
        return Ok(mass);
    }
    let sentence = format!("{field} \"{}\" is no mass per reacting group: sheets give 10 g to 10 kg.", mass.typed);
    let error = WireError::new("out-of-range", sentence, "Write the sheet's number of grams per equivalent.");
    Err(error.field(field).value(text).range("10 g to 10 kg"))
}

impl Glass {
    /// Errors: `out-of-range`, `missing` unit; `contradicts` where the fresh mix would be the harder one.
    pub(super) fn parse(&self) -> Result<card::Glass, WireError> {
        let full = typed::cure("body.glass.full", &self.full)?;
        let fresh = typed::maybe("body.glass.fresh", self.fresh.as_deref(), typed::cure)?;
        if let Some(fresh) = fresh.as_ref().filter(|fresh| fresh.mk >= full.mk) {
            let field = "body.glass.fresh";
            let sentence =
                format!("{field} is \"{}\", not below the fully cured glue's \"{}\".", fresh.typed, full.typed);
            let error = WireError::new("contradicts", sentence, "Exchange the two, or correct one.").field(field);
            return Err(error.value(&fresh.typed).range(format!("below {}", full.typed)));
        }
        Ok(card::Glass { fresh, full })
    }
}
