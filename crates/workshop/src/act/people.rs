//! People, places, instruments.

use super::desk::Desk;
use super::{Enact, typed};
use crate::wire::{WireError, shown};
use glue::unit;
use logbook::entry::typed::{Kelvins, Mass, Share};
use logbook::entry::{Body, place};
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A name somebody entered; the program proves nobody's identity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Person {
    /// Unique in the shop, at most 200 characters.
    pub name: String,
}

/// A named spot with one air.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// Unique in the shop.
    pub name: String,
    /// A feed of readings is promised: thirty minutes of silence are an alarm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed: Option<bool>,
    /// The place whose air it heats: a hot box or a tent draws the shop's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heated_from: Option<String>,
}

/// A scale, thermometer or meter. The unit of a step tells what it measures.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Instrument {
    /// Unique in the shop.
    pub name: String,
    /// Smallest step shown: `0.1 g`, `0.1 K`, `0.5 %`, or a list of them. A mass: 0.001 g to 1 kg; a temperature: 0.001 to 10 K; a share: 0.01 to 20 %.
    pub step: Texts,
    /// Half-width of its error where it was calibrated, in the same units.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accuracy: Option<Texts>,
}

/// One text or several.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Texts {
    /// One.
    One(String),
    /// Several.
    Many(Vec<String>),
}

impl Enact for Person {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let name = desk.unused(Noun::Person, "body.name", &self.name)?;
        let id = desk.fresh();
        if desk.names_itself {
            desk.person = Some(id.clone());
        }
        desk.put_as(id, Body::Person(place::Person { name }), vec![]);
        Ok(())
    }
}

impl Enact for Place {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let name = desk.unused(Noun::Place, "body.name", &self.name)?;
        let heated_from = desk.find_if(Noun::Place, "body.heated_from", self.heated_from.as_deref())?;
        if let (Some(typed), true) = (&self.heated_from, heated_from.is_some() && heated_from == desk.own_id()) {
            let range = "another place, whose air it draws";
            let sentence = format!("body.heated_from is \"{}\", the place itself; it takes {range}.", shown(typed));
            let error = WireError::new("contradicts", sentence, "Name the place outside the box, or leave it out.");
            return Err(error.field("body.heated_from").value(typed).range(range));
        }
        desk.put(Body::Place(place::Place { name, feed: self.feed, heated_from }), vec![]);
        Ok(())
    }
}

impl Enact for Instrument {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let name = desk.unused(Noun::Instrument, "body.name", &self.name)?;
        let mut made = place::Instrument {
            name,
            mass_step: None,
            mass_accuracy: None,
            temperature_step: None,
            temperature_accuracy: None,
            share_step: None,
            share_accuracy: None,
        };
        for (field, text) in self.step.fields("body.step") {
            set(&field, text, &mut made.mass_step, &mut made.temperature_step, &mut made.share_step)?;
        }
        for (field, text) in self.accuracy.iter().flat_map(|texts| texts.fields("body.accuracy")) {
            set(&field, text, &mut made.mass_accuracy, &mut made.temperature_accuracy, &mut made.share_accuracy)?;
        }
        desk.put(Body::Instrument(made), vec![]);
        Ok(())
    }
}

/// Puts a step or accuracy where its unit says.
fn set(
    field: &str,
    text: &str,
    mass: &mut Option<Mass>,
    temperature: &mut Option<Kelvins>,
    share: &mut Option<Share>,
) -> Result<(), WireError> {
    if unit::TemperatureDifference::knows_unit_of(text) {
        *temperature = Some(typed::difference(field, text)?);
    } else if unit::MeterStep::knows_unit_of(text) {
        *share = Some(typed::meter_step(field, text)?);
    } else {
        *mass = Some(typed::scale_step(field, text)?);
    }
    Ok(())
}

impl Texts {
    fn fields(&self, field: &str) -> Vec<(String, &str)> {
        match self {
            Texts::One(text) => vec![(field.to_owned(), text.as_str())],
            Texts::Many(texts) => {
                texts.iter().enumerate().map(|(at, text)| (format!("{field}[{at}]"), text.as_str())).collect()
            }
        }
    }
}
