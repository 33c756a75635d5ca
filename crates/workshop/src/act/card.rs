//! The adhesive card: numbers from the maker's sheet.
//!
//! Long because a sheet says many things, and each is a field of its own.

use super::card_cure::{Equivalents, FilmGel, Glass};
use super::desk::{Desk, taken};
use super::{Enact, text, typed};
use crate::wire::{WireError, shown};
use logbook::entry::typed::{Pressure, Share, Temperature};
use logbook::entry::{Body, Id, card};
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

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
    /// Gel time of a thin film: with the pot life it tells how the pot heats itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub film_gel: Option<FilmGel>,
    /// Mass per reacting group: what a ratio off balance means.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub equivalents: Option<Equivalents>,
    /// Glass transition, fresh and fully cured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub glass: Option<Glass>,
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

const ORIGINS: &[&str] = &["sheet", "handbook", "class"];
const BELOW: &[&str] = &["resumes", "fault"];
const COUNTED: &[&str] = &["mixing", "spreading", "closing", "pressure"];
const SIDES: &[&str] = &["weight", "volume"];
const CLOCKS: &[&str] = &["pot", "open", "closed", "fresh-surface", "glue-again", "clamp", "machining", "full-cure"];

impl Enact for Card {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let revises = desk.find_if(Noun::Card, "body.revises", self.revises.as_deref())?;
        let name = self.current_name(desk, revises.as_ref())?;
        let body = self.body(name, revises)?;
        ordered("body.application_minimum", body.application_minimum.as_ref(), body.application_maximum.as_ref())?;
        ordered("body.minimum_cure", body.minimum_cure.as_ref(), body.maximum_cure.as_ref())?;
        ordered("body.moisture_minimum", body.moisture_minimum.as_ref(), body.moisture_maximum.as_ref())?;
        ordered("body.humidity_minimum", body.humidity_minimum.as_ref(), body.humidity_maximum.as_ref())?;
        ordered("body.pressure_minimum", body.pressure_minimum.as_ref(), body.pressure_maximum.as_ref())?;
        desk.put(Body::Card(body), vec![]);
        Ok(())
    }
}

impl Card {
    /// Unique among current cards; a revision may keep the name of the card it revises.
    fn current_name(&self, desk: &Desk, revises: Option<&Id>) -> Result<String, WireError> {
        let name = text::name("body.name", &self.name)?;
        let own = desk.own_id();
        let allowed = |id: &Id| Some(id) == own.as_ref() || Some(id) == revises;
        if desk.book.find(Noun::Card, &name)?.iter().any(|id| !allowed(id)) {
            let mut error = taken(Noun::Card, "body.name", &name);
            error.advice = "A changed sheet is a new card with \"revises\": the card before.".to_owned();
            return Err(error);
        }
        Ok(name)
    }

    // Long, because a sheet says many things: one line for each.
    fn body(&self, name: String, revises: Option<Id>) -> Result<card::Card, WireError> {
        let cure = |field: &str, text: &Option<String>| typed::maybe(field, text.as_deref(), typed::cure);
        let wood = |field: &str, text: &Option<String>| typed::maybe(field, text.as_deref(), typed::moisture);
        let air = |field: &str, text: &Option<String>| typed::maybe(field, text.as_deref(), typed::humidity);
        let pressure = |field: &str, text: &Option<String>| typed::maybe(field, text.as_deref(), typed::pressure);
        let time = |field: &str, text: &Option<String>| typed::maybe(field, text.as_deref(), typed::time);
        let below = self.below_minimum.as_deref();
        Ok(card::Card {
            class: text::name("body.class", &self.class)?.to_lowercase(),
            ratio: self.ratio.parse(self.tolerance.as_deref())?,
            origin: text::word("body.origin", self.origin.as_deref().unwrap_or("sheet"), ORIGINS)?.to_owned(),
            limits: self.limits()?,
            together: self.together,
            minimum_cure: cure("body.minimum_cure", &self.minimum_cure)?,
            below_minimum: below.map(|b| text::word("body.below_minimum", b, BELOW).map(str::to_owned)).transpose()?,
            maximum_cure: cure("body.maximum_cure", &self.maximum_cure)?,
            application_minimum: cure("body.application_minimum", &self.application_minimum)?,
            application_maximum: cure("body.application_maximum", &self.application_maximum)?,
            water_borne: self.water_borne,
            moisture_minimum: wood("body.moisture_minimum", &self.moisture_minimum)?,
            moisture_maximum: wood("body.moisture_maximum", &self.moisture_maximum)?,
            humidity_minimum: air("body.humidity_minimum", &self.humidity_minimum)?,
            humidity_maximum: air("body.humidity_maximum", &self.humidity_maximum)?,
            pressure_minimum: pressure("body.pressure_minimum", &self.pressure_minimum)?,
            pressure_maximum: pressure("body.pressure_maximum", &self.pressure_maximum)?,
            largest_batch: typed::maybe("body.largest_batch", self.largest_batch.as_deref(), typed::mass)?,
            resin_g_per_l: typed::maybe("body.resin_density", self.resin_density.as_deref(), typed::density)?,
            hardener_g_per_l: typed::maybe("body.hardener_density", self.hardener_density.as_deref(), typed::density)?,
            stirring: time("body.stirring", &self.stirring)?,
            standing: time("body.standing", &self.standing)?,
            spread_mg_per_m2: typed::maybe("body.spread", self.spread.as_deref(), typed::spread)?,
            film_gel: self.film_gel.as_ref().map(FilmGel::parse).transpose()?,
            equivalents: self.equivalents.as_ref().map(Equivalents::parse).transpose()?,
            glass: self.glass.as_ref().map(Glass::parse).transpose()?,
            note: typed::maybe("body.note", self.note.as_deref(), text::note)?,
            name,
            revises,
        })
    }

    fn limits(&self) -> Result<Vec<card::Limit>, WireError> {
        text::few("body.limits", &self.limits, 40)?;
        let mut met = BTreeSet::new();
        let mut limits = Vec::new();
        for (at, limit) in self.limits.iter().enumerate() {
            let field = format!("body.limits[{at}]");
            let made = limit.parse(&field)?;
            if !met.insert((made.clock.clone(), made.bent.unwrap_or(false))) {
                let sentence =
                    format!("{field}.clock is \"{}\", for which this card gives a limit already.", made.clock);
                let advice = "Put all points of one clock into one limit.";
                let error = WireError::new("contradicts", sentence, advice).field(format!("{field}.clock"));
                return Err(error.value(&made.clock).range("each clock once, and once more for bent joints"));
            }
            limits.push(made);
        }
        Ok(limits)
    }
}

impl Limit {
    fn parse(&self, field: &str) -> Result<card::Limit, WireError> {
        let clock = text::word(&format!("{field}.clock"), &self.clock, CLOCKS)?;
        text::few(&format!("{field}.points"), &self.points, 100)?;
        let mut points: Vec<card::Point> = Vec::new();
        for (at, point) in self.points.iter().enumerate() {
            let field = format!("{field}.points[{at}]");
            let made = point.parse(&field, clock)?;
            let key = |point: &card::Point| (point.at.as_ref().map(|t| t.mk), point.mass.as_ref().map(|m| m.mg));
            if points.iter().any(|earlier| key(earlier) == key(&made)) {
                let sentence =
                    format!("{field} gives a second time for the same temperature and mass: \"{}\".", made.typed);
                let error = WireError::new("contradicts", sentence, "Give each temperature once; a span as \"4-6 h\".");
                return Err(error.field(field).value(&made.typed).range("each temperature and mass once"));
            }
            points.push(made);
        }
        let counted = self.counted_from.as_deref();
        let counted =
            counted.map(|word| text::word(&format!("{field}.counted_from"), word, COUNTED).map(str::to_owned));
        let judged = self.judged_by.as_deref().map(|by| text::note(&format!("{field}.judged_by"), by));
        Ok(card::Limit {
            clock: clock.to_owned(),
            points,
            counted_from: counted.transpose()?,
            bent: self.bent,
            judged_by: judged.transpose()?,
        })
    }
}

impl Point {
    fn parse(&self, field: &str, clock: &str) -> Result<card::Point, WireError> {
        let at = typed::maybe(&format!("{field}.at"), self.at.as_deref(), typed::cure)?;
        if at.is_none() && !matches!(clock, "fresh-surface" | "glue-again") {
            let sentence = format!("{field}.at is missing: a {clock} time holds at a temperature, -40 to 260 °C.");
            let error = WireError::new("missing", sentence, "Write the sheet's temperature, as in \"20 C\".");
            return Err(error.field(format!("{field}.at")).range(glue::unit::CureTemperature::RANGE));
        }
        let (low_ms, high_ms, typed) = typed::time_range(&format!("{field}.time"), &self.time)?;
        let mass = typed::maybe(&format!("{field}.mass"), self.mass.as_deref(), typed::mass)?;
        Ok(card::Point { at, low_ms, high_ms, typed, mass })
    }
}

impl RatioWire {
    /// By weight and/or by volume, with one tolerance.
    fn parse(&self, tolerance: Option<&str>) -> Result<card::Ratio, WireError> {
        let outer = typed::maybe("body.tolerance", tolerance, typed::tolerance)?;
        match self {
            RatioWire::Text(text) => {
                let (parts, by) = split_side(text);
                side(card::Ratio { weight: None, volume: None, tolerance: outer }, "body.ratio", by, parts)
            }
            RatioWire::Full(full) => full.parse(outer),
        }
    }
}

impl RatioFull {
    fn parse(&self, outer: Option<Share>) -> Result<card::Ratio, WireError> {
        let inner = typed::maybe("body.ratio.tolerance", self.tolerance.as_deref(), typed::tolerance)?;
        let mut ratio = card::Ratio { weight: None, volume: None, tolerance: inner.or(outer) };
        if let Some(text) = &self.weight {
            ratio = side(ratio, "body.ratio.weight", "weight", text)?;
        }
        if let Some(text) = &self.volume {
            ratio = side(ratio, "body.ratio.volume", "volume", text)?;
        }
        if let Some(text) = &self.nominal {
            let by = text::word("body.ratio.by", self.by.as_deref().unwrap_or("weight"), SIDES)?;
            ratio = side(ratio, "body.ratio.nominal", by, text)?;
        }
        if ratio.weight.is_none() && ratio.volume.is_none() {
            let sentence = "body.ratio names no ratio: give weight, volume or both, like \"100:83\".";
            return Err(WireError::new("missing", sentence, "Write the sheet's ratio.")
                .field("body.ratio")
                .range("by weight, by volume or both"));
        }
        Ok(ratio)
    }
}

fn side(mut ratio: card::Ratio, field: &str, by: &str, text: &str) -> Result<card::Ratio, WireError> {
    let parts = Some(typed::parts(field, text)?);
    let place = if by == "volume" { &mut ratio.volume } else { &mut ratio.weight };
    if place.is_some() {
        let sentence = format!("{field} is \"{}\", a second ratio by {by}.", shown(text));
        return Err(WireError::new("contradicts", sentence, "Give one ratio by weight and one by volume.")
            .field(field)
            .value(text)
            .range("one by weight, one by volume"));
    }
    *place = parts;
    Ok(ratio)
}

/// `2:1 by volume` into `2:1` and `volume`.
fn split_side(text: &str) -> (&str, &'static str) {
    for (mark, by) in [("by volume", "volume"), ("by weight", "weight"), ("by mass", "weight")] {
        if let Some(parts) = text.trim_end().strip_suffix(mark) {
            return (parts.trim(), by);
        }
    }
    (text.trim(), "weight")
}

/// A stored quantity as a bare number, to compare two of a kind.
trait Bare {
    fn bare(&self) -> (i64, &str);
}

impl Bare for Temperature {
    fn bare(&self) -> (i64, &str) {
        (self.mk, &self.typed)
    }
}

impl Bare for Share {
    fn bare(&self) -> (i64, &str) {
        (self.ppm, &self.typed)
    }
}

impl Bare for Pressure {
    fn bare(&self) -> (i64, &str) {
        (self.pa, &self.typed)
    }
}

fn ordered<T: Bare>(field: &str, low: Option<&T>, high: Option<&T>) -> Result<(), WireError> {
    let (Some(low), Some(high)) = (low, high) else {
        return Ok(());
    };
    let ((low, typed), (high, above)) = (low.bare(), high.bare());
    if low <= high {
        return Ok(());
    }
    let sentence = format!("{field} is \"{typed}\", which is above the maximum \"{above}\".");
    let error = WireError::new("contradicts", sentence, "Exchange the two, or correct one.").field(field);
    Err(error.value(typed).range(format!("at most {above}")))
}
