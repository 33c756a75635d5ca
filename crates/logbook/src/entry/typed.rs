//! Measured values as stored: an integer in the unit its field names, what was typed, the step and the instrument.

use super::Id;
use serde::{Deserialize, Serialize};

macro_rules! measured {
    ($($name:ident $field:ident $step:ident, $doc:literal;)*) => {$(
        #[doc = $doc]
        #[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $name {
            /// The value in the unit of the field's name, rounded half to even.
            pub $field: i64,
            /// What was typed.
            #[serde(rename = "as")]
            pub typed: String,
            /// Smallest step of the display it was read from.
            #[serde(skip_serializing_if = "Option::is_none", default)]
            pub $step: Option<i64>,
            /// Instrument.
            #[serde(skip_serializing_if = "Option::is_none", default)]
            pub by: Option<Id>,
        }
    )*};
}

measured! {
    Mass mg step_mg, "A mass in milligrams.";
    Volume ul step_ul, "A volume in microlitres.";
    Temperature mk step_mk, "A temperature in millikelvin (70 °F = 294261 mk).";
    Kelvins mk_wide step_mk, "A temperature difference in millikelvin.";
    Share ppm step_ppm, "A share in parts per million: wood moisture, air humidity, tolerance.";
    Length um step_um, "A length in micrometres.";
    Area mm2 step_mm2, "An area in square millimetres.";
    Pressure pa step_pa, "A pressure in pascals.";
    Force mn step_mn, "A force in millinewtons.";
    Time time_ms step_ms, "A stretch of time in milliseconds.";
}

/// What went into a cup: by weight or by volume.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Amount {
    /// Weighed.
    Mass(Mass),
    /// Measured out.
    Volume(Volume),
}

/// A value inherited from the working session: its source entry and its age when taken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Taken {
    /// Entry it was taken from.
    pub entry: Id,
    /// Age when taken, ms.
    pub age_ms: i64,
}
