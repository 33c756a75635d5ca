//! People, places, instruments.

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
