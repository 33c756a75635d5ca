//! Quantities as people type them and as entries store them: an integer in one storage unit, inside a plausible
//! range that is declared once and quoted by every error.
//!
//! Reading is exact: typed decimals and fractions are rational numbers until the one rounding, half to even
//! (70 °F = 294261 mk). A bare number is refused unless the caller names the unit it stands in. A decimal comma is
//! read as a point; a comma before exactly three digits can be read two ways and is refused.

mod error;
pub mod measure;
mod number;
mod quantity;
mod ratio;

pub mod force;
pub mod mass;
pub mod pressure;
pub mod share;
pub mod space;
pub mod temperature;
pub mod time;

pub use error::UnitError;
pub use force::Force;
pub use mass::{Density, Mass, ScaleStep, Spread};
pub use measure::Measure;
pub use pressure::Pressure;
pub use quantity::{Scale, Typed};
pub use ratio::{RatioText, VolumeRatio, WeightRatio};
pub use share::{Humidity, MeterStep, Tolerance, WoodMoisture};
pub use space::{Area, Length, Volume};
pub use temperature::{AirTemperature, CureTemperature, TemperatureDifference, TemperatureSwing};
pub use time::{Duration, DurationRange};
