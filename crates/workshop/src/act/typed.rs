//! Typed quantities into stored ones: value, what was typed, the typed step.

use crate::wire::{WireError, shown};
use glue::unit::{self, Typed, UnitError};
use logbook::entry::card::Parts;
use logbook::entry::typed::{Amount, Area, Force, Kelvins, Length, Mass, Pressure, Share, Temperature, Time, Volume};

macro_rules! reading {
    ($($(#[$doc:meta])* $name:ident $unit:ident $get:ident -> $entry:ident $value:ident $step:ident;)*) => {$(
        $(#[$doc])*
        pub(crate) fn $name(field: &str, text: &str) -> Result<$entry, WireError> {
            let read = unit::$unit::parse(text).map_err(|e| refused(field, text, &e, unit::$unit::RANGE))?;
            Ok($entry { $value: read.value.$get(), typed: kept(text), $step: Some(read.step), by: None })
        }
    )*};
}

reading! {
    /// An amount by weight.
    mass Mass mg -> Mass mg step_mg;
    /// A scale's step or accuracy.
    scale_step ScaleStep mg -> Mass mg step_mg;
    /// An amount by volume.
    volume Volume ul -> Volume ul step_ul;
    /// Air, wood, components.
    air AirTemperature mk -> Temperature mk step_mk;
    /// On a sheet.
    cure CureTemperature mk -> Temperature mk step_mk;
    /// A thermometer's step or accuracy.
    difference TemperatureDifference mk -> Kelvins mk_wide step_mk;
    /// How far the warmest of a day is above its mean.
    swing TemperatureSwing mk -> Kelvins mk_wide step_mk;
    /// Wood moisture.
    moisture WoodMoisture ppm -> Share ppm step_ppm;
    /// Air humidity.
    humidity Humidity ppm -> Share ppm step_ppm;
    /// A ratio's tolerance.
    tolerance Tolerance ppm -> Share ppm step_ppm;
    /// A meter's step or accuracy.
    meter_step MeterStep ppm -> Share ppm step_ppm;
    /// Length.
    length Length um -> Length um step_um;
    /// Area.
    area Area mm2 -> Area mm2 step_mm2;
    /// Pressure.
    pressure Pressure pa -> Pressure pa step_pa;
    /// A load.
    force Force mn -> Force mn step_mn;
    /// A stretch of time.
    time Duration ms -> Time time_ms step_ms;
}

/// An optional quantity.
pub(super) fn maybe<T>(
    field: &str,
    text: Option<&str>,
    read: impl Fn(&str, &str) -> Result<T, WireError>,
) -> Result<Option<T>, WireError> {
    text.map(|text| read(field, text)).transpose()
}

/// Both ends of a sheet's time, ms.
pub(super) fn time_range(field: &str, text: &str) -> Result<(i64, i64, String), WireError> {
    let range = unit::DurationRange::parse(text).map_err(|e| refused(field, text, &e, unit::Duration::RANGE))?;
    Ok((range.low.ms(), range.high.ms(), kept(text)))
}

/// A density, g/l.
pub(super) fn density(field: &str, text: &str) -> Result<i64, WireError> {
    let read = unit::Density::parse(text).map_err(|e| refused(field, text, &e, unit::Density::RANGE))?;
    Ok(read.value.g_per_l())
}

/// Spread, mg/m².
pub(super) fn spread(field: &str, text: &str) -> Result<i64, WireError> {
    let read = unit::Spread::parse(text).map_err(|e| refused(field, text, &e, unit::Spread::RANGE))?;
    Ok(read.value.mg_per_m2())
}

/// What went into a cup: by weight or by volume, told by the unit.
pub(super) fn amount(field: &str, text: &str) -> Result<Amount, WireError> {
    match unit::Mass::parse(text) {
        Err(UnitError::UnitUnknown { .. }) if unit::Volume::knows_unit_of(text) => {
            volume(field, text).map(Amount::Volume)
        }
        _ => mass(field, text).map(Amount::Mass),
    }
}

/// Parts of a ratio.
pub(super) fn parts(field: &str, text: &str) -> Result<Parts, WireError> {
    let read = unit::RatioText::parse(text).map_err(|e| refused(field, text, &e, unit::RatioText::RANGE))?;
    Ok(Parts { resin_ppm: read.resin_ppm, hardener_ppm: read.hardener_ppm, typed: kept(text) })
}

/// A place along a joint, from its end: may be 0.
pub(super) fn along(field: &str, text: &str) -> Result<Length, WireError> {
    let zero = text.trim().trim_start_matches(['0', '.', ',']).trim_start();
    if zero.len() < text.trim().len() && unit::Length::parse(&format!("1 {zero}")).is_ok() {
        return Ok(Length { um: 0, typed: kept(text), step_um: None, by: None });
    }
    length(field, text)
}

/// A mass in a list that names its unit once, at its end.
pub(super) fn mass_in(field: &str, text: &str, unit: &str) -> Result<Mass, WireError> {
    let read: Typed<unit::Mass> =
        unit::Mass::parse_in(text, unit).map_err(|e| refused(field, text, &e, unit::Mass::RANGE))?;
    let own = text.contains(char::is_alphabetic);
    let typed = if own { kept(text) } else { format!("{} {unit}", kept(text)) };
    Ok(Mass { mg: read.value.mg(), typed, step_mg: Some(read.step), by: None })
}

/// Why a typed quantity was refused: field, value and range are named whatever was wrong.
pub(super) fn refused(field: &str, text: &str, error: &UnitError, range: &str) -> WireError {
    let (code, advice) = match error {
        UnitError::UnitMissing { .. } => ("missing", "Write the unit behind the number."),
        UnitError::NotANumber { .. } => ("out-of-range", "Write a number and its unit."),
        UnitError::UnitUnknown { .. } => ("out-of-range", "Write one of these units."),
        UnitError::TwoReadings => ("ambiguous", "Write it with a point, or without the comma."),
        UnitError::OutOfRange { .. } => ("out-of-range", "Check the number and its unit."),
        UnitError::Backwards => ("out-of-range", "Write the smaller end first."),
    };
    let also = if error.range().is_some() { String::new() } else { format!("; it takes {range}") };
    let sentence = format!("{field} \"{}\" {error}{also}.", shown(text));
    WireError::new(code, sentence, advice).field(field).value(text).range(range)
}

fn kept(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
