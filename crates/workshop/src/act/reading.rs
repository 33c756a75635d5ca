//! What the air was: readings by hand, from a file, and vouched floors.

use super::desk::Desk;
use super::{Enact, instant, logger, typed};
use crate::wire::{WireError, shown};
use glue::unit;
use logbook::entry::typed::{Share, Temperature};
use logbook::entry::{Body, place};
use logbook::store::Noun;
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

/// Longest stretch a person may vouch for: 31 days, ms.
const VOUCH_MS: i64 = 31 * 86_400_000;

impl Enact for Reading {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let place = desk.find(Noun::Place, "body.place", &self.place)?;
        let instrument = desk.find_if(Noun::Instrument, "body.instrument", self.instrument.as_deref())?;
        let mut temperature = typed::air("body.temperature", &self.temperature)?;
        temperature.by.clone_from(&instrument);
        let humidity = typed::maybe("body.humidity", self.humidity.as_deref(), typed::humidity)?;
        let (wood_temperature, wood_moisture) = self.wood.as_ref().map_or(Ok((None, None)), Wood::parse)?;
        let lowest = self.lowest_since.as_ref().map(|lowest| lowest.parse(&temperature, desk)).transpose()?;
        let body = place::Reading { place, temperature, humidity, wood_temperature, wood_moisture, lowest, instrument };
        desk.put(Body::Reading(body), vec![]);
        Ok(())
    }
}

impl Wood {
    fn parse(&self) -> Result<(Option<Temperature>, Option<Share>), WireError> {
        match self {
            Wood::Text(text) if unit::AirTemperature::knows_unit_of(text) => {
                Ok((Some(typed::air("body.wood", text)?), None))
            }
            Wood::Text(text) => Ok((None, Some(typed::moisture("body.wood", text)?))),
            Wood::Both(both) => Ok((
                typed::maybe("body.wood.temperature", both.temperature.as_deref(), typed::air)?,
                typed::maybe("body.wood.moisture", both.moisture.as_deref(), typed::moisture)?,
            )),
        }
    }
}

impl LowestSince {
    /// An instant: the reading itself is the lowest since. A temperature: the lowest since the reading before here.
    fn parse(&self, now: &Temperature, desk: &Desk) -> Result<place::Lowest, WireError> {
        let latest_ms = desk.happened_ms;
        let lowest = match self {
            LowestSince::Text(text) if unit::AirTemperature::knows_unit_of(text) => {
                place::Lowest { temperature: typed::air("body.lowest_since", text)?, since_ms: None }
            }
            LowestSince::Text(text) => {
                let since_ms = instant::past("body.lowest_since", text, latest_ms)?;
                place::Lowest { temperature: now.clone(), since_ms: Some(since_ms) }
            }
            LowestSince::Both(both) => place::Lowest {
                temperature: typed::air("body.lowest_since.temperature", &both.temperature)?,
                since_ms: Some(instant::past("body.lowest_since.since", &both.since, latest_ms)?),
            },
        };
        if lowest.temperature.mk > now.mk {
            let typed = &lowest.temperature.typed;
            let sentence =
                format!("body.lowest_since is \"{typed}\", which is above the reading itself, \"{}\".", now.typed);
            let error = WireError::new("contradicts", sentence, "Check which of the two is the lowest.");
            return Err(error.field("body.lowest_since").value(typed).range(format!("at most {}", now.typed)));
        }
        Ok(lowest)
    }
}

impl Enact for Vouch {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let place = desk.find(Noun::Place, "body.place", &self.place)?;
        let floor = typed::air("body.floor", &self.floor)?;
        let latest_ms = desk.latest_ms();
        let from = |from: &String| instant::past("body.from", from, latest_ms);
        let from_ms = self.from.as_ref().map(from).transpose()?.unwrap_or(desk.happened_ms);
        let until_ms = instant::ahead("body.until", &self.until)?;
        if until_ms <= from_ms || until_ms > from_ms + VOUCH_MS {
            let from = instant::written(from_ms);
            let range = format!("after {from} and at most 31 days later");
            let sentence = format!("body.until is \"{}\"; it takes an instant {range}.", shown(&self.until));
            let error = WireError::new("out-of-range", sentence, "Vouch for a shorter stretch, or say from when.");
            return Err(error.field("body.until").value(&self.until).range(range));
        }
        desk.put(Body::Vouch(place::Vouch { place, floor, from_ms, until_ms }), vec![]);
        Ok(())
    }
}

impl Enact for ReadingsFile {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let place = desk.find(Noun::Place, "body.place", &self.place)?;
        let instrument = desk.find_if(Noun::Instrument, "body.instrument", self.instrument.as_deref())?;
        let file = logger::File::read(&self.path, self.columns.as_ref(), desk.now.zone_min, desk.latest_ms())?;
        let source = instrument.clone().unwrap_or_else(|| "logger".to_owned());
        let blocks = file.blocks(&place, &source);
        let mut named = Vec::new();
        for block in &blocks {
            named.push(place::BlockRef { hour_ms: block.hour_ms, sha256: block.sha256()? });
        }
        let body = place::Readings {
            place,
            source,
            from_ms: file.minutes.first().map_or(0, |minute| minute.at_ms),
            to_ms: file.minutes.last().map_or(0, |minute| minute.at_ms),
            count: file.minutes.len() as u64,
            file_sha256: file.sha256,
            file_name: file.name,
            blocks: named,
            skipped: (file.skipped > 0).then_some(file.skipped),
            instrument,
        };
        desk.blocks = blocks;
        desk.put(Body::Readings(body), vec![]);
        Ok(())
    }
}
