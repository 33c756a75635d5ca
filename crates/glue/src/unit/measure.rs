//! Quantities of a single calculation: read with the same numbers and units as everything typed, kept as a plain
//! number in one named unit. The range belongs to the input that asks, not to the unit.

use super::error::UnitError;
use super::number;
use super::quantity::Scale;

/// A kind of quantity and the unit a bare number stands in.
#[derive(Debug)]
pub struct Measure {
    /// The unit of the value and of a bare number; empty for a plain number.
    pub unit: &'static str,
    /// Units understood, in words.
    pub units: &'static str,
    /// What would be read.
    pub example: &'static str,
    scales: &'static [Scale],
    /// Storage units of the scales in one unit, and what is taken away after dividing.
    size: f64,
    less: f64,
}

impl Measure {
    /// A measure over scales whose storage unit goes `size` times into `unit`.
    pub(super) const fn new(
        unit: &'static str,
        units: &'static str,
        example: &'static str,
        scales: &'static [Scale],
        size: f64,
    ) -> Measure {
        Measure { unit, units, example, scales, size, less: 0.0 }
    }

    /// The value in `unit`; a bare number stands in it. A power of ten may follow the number (`2.4e-5`).
    ///
    /// Errors: no number, an unknown unit, a comma that can be read two ways.
    pub fn read(&self, text: &str) -> Result<f64, UnitError> {
        if let Some((value, unit)) = long(text) {
            let scale = self.scale(if unit.is_empty() { self.unit } else { unit })?;
            let stored = (value * scale.num as f64 + scale.add as f64) / scale.den as f64;
            return Ok(stored / self.size - self.less);
        }
        let (typed, unit) = number::split(text, self.example)?;
        let scale = self.scale(if unit.is_empty() { self.unit } else { unit })?;
        let stored = (typed.num * scale.num + scale.add * typed.den) as f64 / (typed.den * scale.den) as f64;
        Ok(stored / self.size - self.less)
    }

    /// True for text whose unit is one of this measure's, or that has none.
    pub fn knows(&self, text: &str) -> bool {
        self.read(text).is_ok()
    }

    /// True for text that ends in its number.
    pub fn is_bare(&self, text: &str) -> bool {
        let unit = long(text).map(|(_, unit)| unit);
        unit.or(number::split(text, self.example).ok().map(|(_, unit)| unit)).is_some_and(str::is_empty)
    }

    fn scale(&self, unit: &str) -> Result<&'static Scale, UnitError> {
        let exact = self.scales.iter().find(|scale| scale.names.contains(&unit));
        let lower = unit.to_lowercase();
        exact
            .or_else(|| self.scales.iter().find(|scale| scale.names.iter().any(|name| name.to_lowercase() == lower)))
            .ok_or_else(|| UnitError::UnitUnknown { unit: unit.chars().take(40).collect(), units: self.units })
    }
}

/// A number as a program writes it, with more digits than anybody types or with a power of ten (`3.577e-5`), and the
/// unit behind it. None for anything that is read exactly.
fn long(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let digits = |text: &str| text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let signed = text.strip_prefix(['-', '+']).unwrap_or(text);
    let whole = digits(signed);
    let tail = signed.get(whole..).and_then(|rest| rest.strip_prefix('.')).map_or(0, digits);
    let mantissa = text.len() - signed.len() + whole + if tail > 0 { tail + 1 } else { 0 };
    let power = exponent(text.get(mantissa..)?);
    let is_long = (whole > 0 && power > 0) || (whole + tail > 15 && whole <= 300);
    let end = mantissa + power;
    let value: f64 = text.get(..end).filter(|_| is_long)?.parse().ok()?;
    Some((value, text.get(end..)?.trim()))
}

/// Length of a power of ten at the front: `e-5`, at most two digits.
fn exponent(rest: &str) -> usize {
    let Some(after) = rest.strip_prefix(['e', 'E']) else { return 0 };
    let unsigned = after.strip_prefix(['-', '+']).unwrap_or(after);
    let count = unsigned.find(|c: char| !c.is_ascii_digit()).unwrap_or(unsigned.len());
    if (1..=2).contains(&count) { rest.len() - unsigned.len() + count } else { 0 }
}

const TEMPERATURE: &[Scale] = super::temperature::CureTemperature::TABLE.scales;
const SPACE: &[Scale] = super::space::Length::TABLE.scales;
const AREAS: &[Scale] = super::space::Area::TABLE.scales;
const TIME: &[Scale] = super::time::Duration::TABLE.scales;
const PRESSURES: &[Scale] = super::pressure::Pressure::TABLE.scales;

/// A temperature, °C.
pub static CELSIUS: Measure =
    Measure { unit: "C", units: "C, F, K", example: "21.5C", scales: TEMPERATURE, size: 1_000.0, less: 273.15 };
/// A temperature difference, K.
pub static KELVIN: Measure =
    Measure::new("K", "K, C, F", "0.5K", super::temperature::TemperatureDifference::TABLE.scales, 1_000.0);
/// A length, mm.
pub static MILLIMETRE: Measure = Measure::new("mm", "mm, cm, m, um, in, ft", "12mm", SPACE, 1_000.0);
/// A length, m.
pub static METRE: Measure = Measure::new("m", "mm, cm, m, um, in, ft", "1500m", SPACE, 1e6);
/// An area, mm².
pub static SQUARE: Measure = Measure::new("mm2", "mm2, cm2, m2, in2, ft2", "1200mm2", AREAS, 1.0);
/// A mass, g.
pub static GRAM: Measure = Measure::new("g", "mg, g, kg, oz, lb", "100g", super::mass::Mass::TABLE.scales, 1_000.0);
/// A volume, ml.
pub static MILLILITRE: Measure =
    Measure::new("ml", "ul, ml, cl, l, cm3", "50ml", super::space::Volume::TABLE.scales, 1_000.0);
/// A density, kg/l.
pub static DENSITY: Measure =
    Measure::new("kg/l", "g/l, kg/l, g/ml, g/cm3, kg/m3", "1.12kg/l", super::mass::Density::TABLE.scales, 1_000.0);
/// Adhesive per area, g/m².
pub static SPREAD: Measure =
    Measure::new("g/m2", "g/m2, kg/m2, lb/1000ft2", "250g/m2", super::mass::Spread::TABLE.scales, 1_000.0);
/// Progress along a joint, m/min.
pub static PACE: Measure =
    Measure::new("m/min", "m/min, cm/min, mm/min, mm/s, ft/min, in/min", "0.4m/min", PACES, 1_000.0);
/// A stretch of time, min.
pub static MINUTE: Measure = Measure::new("min", "s, min, h, d, weeks", "45min", TIME, 60_000.0);
/// A stretch of time, h.
pub static HOUR: Measure = Measure::new("h", "s, min, h, d, weeks", "12h", TIME, 3_600_000.0);
/// Air pressure, hPa.
pub static HECTOPASCAL: Measure = Measure::new("hPa", "Pa, hPa, kPa, mbar, bar, psi", "1013.25hPa", PRESSURES, 100.0);
/// Clamping pressure, kPa.
pub static KILOPASCAL: Measure = Measure::new("kPa", "Pa, kPa, MPa, bar, N/mm2, psi", "150psi", PRESSURES, 1_000.0);

/// A share, %.
pub static PERCENT: Measure = Measure::new("%", "%", "65%", super::share::Humidity::TABLE.scales, 10_000.0);
/// A share of one; `0.4` and `40%` are the same.
pub static SHARE: Measure = Measure::new("", "none, %", "0.4", SHARES, 100.0);
/// A plain number.
pub static PLAIN: Measure = Measure::new("", "none", "12", &[Scale::times(&[""], 1, 1)], 1.0);
/// A force, N.
pub static NEWTON: Measure = Measure::new("N", "N, kN, kgf, lbf", "500N", FORCES, 1e12);
/// A force per width, N/mm.
pub static LINE_LOAD: Measure = Measure::new("N/mm", "N/mm, kN/m, N/m, lb/in", "100N/mm", LINE_LOADS, 1.0);
/// Stiffness of a material, MPa.
pub static STIFFNESS: Measure = Measure::new("MPa", "Pa, kPa, MPa, GPa, N/mm2, psi", "10.8GPa", STIFFNESSES, 1e6);
/// An activation energy, kJ/mol.
pub static ENERGY: Measure = Measure::new("kJ/mol", "J/mol, kJ/mol, kcal/mol", "55kJ/mol", ENERGIES, 1_000.0);
/// A rate of reaction, 1/s.
pub static RATE: Measure = Measure::new("1/s", "1/s, 1/min, 1/h", "2.4e-5", RATES, 1.0);
/// Heat transfer, W/(m² K).
pub static HEAT_TRANSFER: Measure =
    Measure::new("W/m2K", "W/m2K", "10W/m2K", &[Scale::times(&["W/m2K", "W/(m2K)", "W/m²K"], 1, 1)], 1.0);
/// Mass per chemical equivalent, g/eq.
pub static EQUIVALENT: Measure =
    Measure::new("g/eq", "g/eq", "190g/eq", &[Scale::times(&["g/eq", "g/mol", "g"], 1, 1)], 1.0);

const SHARES: &[Scale] = &[Scale::times(&[""], 100, 1), Scale::times(&["%"], 1, 1)];
/// In billionths of a millinewton: one pound-force is 4.4482216152605 N exactly.
const FORCES: &[Scale] = &[
    Scale::times(&["N"], 1_000_000_000_000, 1),
    Scale::times(&["kN"], 1_000_000_000_000_000, 1),
    Scale::times(&["kgf", "kp"], 9_806_650_000_000, 1),
    Scale::times(&["lbf", "lb", "lbs"], 44_482_216_152_605, 10),
];
const LINE_LOADS: &[Scale] = &[
    Scale::times(&["N/mm", "kN/m"], 1, 1),
    Scale::times(&["N/m"], 1, 1_000),
    // 4.4482216152605 N over 25.4 mm.
    Scale::times(&["lb/in", "lbf/in", "pli"], 44_482_216_152_605, 254_000_000_000_000),
];
const STIFFNESSES: &[Scale] = &[
    Scale::times(&["Pa"], 1, 1),
    Scale::times(&["kPa"], 1_000, 1),
    Scale::times(&["MPa", "N/mm2", "N/mm²"], 1_000_000, 1),
    Scale::times(&["GPa", "kN/mm2"], 1_000_000_000, 1),
    Scale::times(&["psi", "lb/in2"], 44_482_216_152_605, 6_451_600_000),
];
/// The thermochemical calorie, 4.184 J.
const ENERGIES: &[Scale] = &[
    Scale::times(&["J/mol"], 1, 1),
    Scale::times(&["kJ/mol", "kJ"], 1_000, 1),
    Scale::times(&["kcal/mol", "kcal"], 4_184, 1),
];
/// In millimetres a minute.
const PACES: &[Scale] = &[
    Scale::times(&["m/min"], 1_000, 1),
    Scale::times(&["cm/min"], 10, 1),
    Scale::times(&["mm/min"], 1, 1),
    Scale::times(&["mm/s"], 60, 1),
    Scale::times(&["ft/min"], 3_048, 10),
    Scale::times(&["in/min"], 254, 10),
];
const RATES: &[Scale] = &[
    Scale::times(&["1/s", "/s", "s-1"], 1, 1),
    Scale::times(&["1/min", "/min"], 1, 60),
    Scale::times(&["1/h", "/h"], 1, 3_600),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn near(measure: &Measure, text: &str, wanted: f64) {
        let got = measure.read(text).unwrap_or(f64::NAN);
        assert!((got - wanted).abs() <= 1e-12 * wanted.abs().max(1.0), "{text}: {got}");
    }

    #[test]
    fn suffixes_and_bare_numbers() {
        near(&CELSIUS, "70F", 190.0 / 9.0);
        near(&CELSIUS, "21.5", 21.5);
        near(&MILLIMETRE, "1/8in", 3.175);
        near(&MILLIMETRE, "1 1/2 in", 38.1);
        near(&GRAM, "3.5oz", 99.223_330_937_5);
        near(&PERCENT, "65%", 65.0);
        near(&SHARE, "40%", 0.4);
        near(&SHARE, "0.4", 0.4);
        near(&RATE, "3.577e-5", 3.577e-5);
        near(&RATE, "3.577e-5/s", 3.577e-5);
        near(&STIFFNESS, "10.8GPa", 10_800.0);
        near(&NEWTON, "1lbf", 4.448_221_615_260_5);
        near(&LINE_LOAD, "1000lb/in", 175.126_835_246_476_4);
        near(&HECTOPASCAL, "1013.25", 1013.25);
        near(&PLAIN, "-3e2", -300.0);
        near(&PACE, "10mm/s", 0.6);
        near(&PACE, "2ft/min", 0.6096);
        near(&PLAIN, "0.30000000000000004", 0.3);
        near(&CELSIUS, "68.000000000000000001F", 20.0);
        assert!(PLAIN.is_bare("0.30000000000000004") && PLAIN.is_bare("1e3") && !CELSIUS.is_bare("1e1F"));
    }

    #[test]
    fn what_is_no_quantity() {
        for text in [
            "",
            "x",
            "NaN",
            "inf",
            "1e400",
            "12furlong",
            "1,000",
            "--1",
            "e5",
            "1e",
            "1e-",
            "5C5",
            ".",
            "-",
            "-.5",
            "12345678901234567890.x",
        ] {
            assert!(CELSIUS.read(text).is_err(), "{text}");
        }
    }
}
