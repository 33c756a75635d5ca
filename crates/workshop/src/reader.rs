//! The reader's units: in what temperatures, masses, volumes, lengths, areas and pressures are said. Entries keep what
//! was typed; only sentences change.

use serde::{Deserialize, Serialize};

/// °C or °F.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Degrees {
    /// °C, differences in K.
    #[default]
    #[serde(rename = "C")]
    Celsius,
    /// °F, differences too.
    #[serde(rename = "F")]
    Fahrenheit,
}

/// Metric or customary US units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Measure {
    /// g, ml, mm, cm², kPa.
    #[default]
    Metric,
    /// oz, fl oz, in, in², psi.
    Us,
}

/// In which units somebody reads.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reader {
    /// `C` or `F`.
    pub temperature: Degrees,
    /// `metric` or `us`.
    pub measure: Measure,
}

/// Exact: 1 oz (avoirdupois), mg; 1 in, um; 1 in², mm². US fluid ounce, ul, and psi, Pa: from memory.
const OUNCE_MG: f64 = 28_349.523_125;
const INCH_UM: f64 = 25_400.0;
const SQUARE_INCH_MM2: f64 = 645.16;
const FLUID_OUNCE_UL: f64 = 29_573.529_562_5;
const PSI_PA: f64 = 6_894.757_293;

impl Reader {
    /// °F and customary US units.
    pub const US: Reader = Reader { temperature: Degrees::Fahrenheit, measure: Measure::Us };

    /// A temperature, mk, with at most one decimal: `20 °C`, `68 °F`.
    pub fn temperature(self, mk: i64) -> String {
        self.kelvin(mk as f64 / 1000.0)
    }

    /// The same from K.
    pub fn kelvin(self, k: f64) -> String {
        match self.temperature {
            Degrees::Celsius => format!("{} °C", decimals(k - 273.15, 1)),
            Degrees::Fahrenheit => format!("{} °F", decimals(k * 1.8 - 459.67, 1)),
        }
    }

    /// A temperature, K, in whole degrees: `29 °C`, `84 °F`.
    pub fn whole(self, k: f64) -> String {
        match self.temperature {
            Degrees::Celsius => format!("{} °C", decimals(k - 273.15, 0)),
            Degrees::Fahrenheit => format!("{} °F", decimals(k * 1.8 - 459.67, 0)),
        }
    }

    /// A temperature difference, K: `1 K`, `1.8 °F`.
    pub fn difference(self, k: f64) -> String {
        match self.temperature {
            Degrees::Celsius => format!("{} K", decimals(k, 2)),
            Degrees::Fahrenheit => format!("{} °F", decimals(k * 1.8, 2)),
        }
    }

    /// A mass, mg: `60.4 g`, `2.13 oz`.
    pub fn mass(self, mg: i64) -> String {
        match self.measure {
            Measure::Metric => format!("{} g", decimals(mg as f64 / 1000.0, 1)),
            Measure::Us => format!("{} oz", decimals(mg as f64 / OUNCE_MG, 2)),
        }
    }

    /// A mass to be read off a scale, mg: always with its last digit, `33.0 g`, `1.16 oz`.
    pub fn weighed(self, mg: i64) -> String {
        match self.measure {
            Measure::Metric => format!("{:.1} g", mg as f64 / 1000.0),
            Measure::Us => format!("{:.2} oz", mg as f64 / OUNCE_MG),
        }
    }

    /// A volume, ul: `50 ml`, `1.69 fl oz`.
    pub fn volume(self, ul: i64) -> String {
        match self.measure {
            Measure::Metric => format!("{} ml", decimals(ul as f64 / 1000.0, 1)),
            Measure::Us => format!("{} fl oz", decimals(ul as f64 / FLUID_OUNCE_UL, 2)),
        }
    }

    /// A volume to be read off a measure, ul.
    pub fn measured(self, ul: i64) -> String {
        match self.measure {
            Measure::Metric => format!("{:.1} ml", ul as f64 / 1000.0),
            Measure::Us => format!("{:.2} fl oz", ul as f64 / FLUID_OUNCE_UL),
        }
    }

    /// A length, um: `60 mm`, `2.36 in`.
    pub fn length(self, um: i64) -> String {
        match self.measure {
            Measure::Metric => format!("{} mm", decimals(um as f64 / 1000.0, 1)),
            Measure::Us => format!("{} in", decimals(um as f64 / INCH_UM, 2)),
        }
    }

    /// An area, mm²: `120 cm²`, `18.6 in²`.
    pub fn area(self, mm2: i64) -> String {
        match self.measure {
            Measure::Metric => format!("{} cm²", decimals(mm2 as f64 / 100.0, 1)),
            Measure::Us => format!("{} in²", decimals(mm2 as f64 / SQUARE_INCH_MM2, 1)),
        }
    }

    /// A pressure, Pa: `1 MPa`, `80 kPa`, `145 psi`.
    pub fn pressure(self, pa: i64) -> String {
        match self.measure {
            Measure::Metric if pa >= 1_000_000 => format!("{} MPa", decimals(pa as f64 / 1e6, 2)),
            Measure::Metric => format!("{} kPa", decimals(pa as f64 / 1000.0, 1)),
            Measure::Us => format!("{} psi", decimals(pa as f64 / PSI_PA, 1)),
        }
    }
}

/// At most so many decimals, none that are zero at the end; below zero a real minus sign, before a zero none.
fn decimals(value: f64, most: usize) -> String {
    let text = format!("{value:.most$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.replacen('-', "\u{2212}", 1) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_value_in_both_units() {
        let (metric, us) = (Reader::default(), Reader::US);
        // 68 °F = 20 °C and 1 K = 1.8 °F by definition of the scale.
        assert_eq!((metric.temperature(293_150), us.temperature(293_150)), ("20 °C".into(), "68 °F".into()));
        assert_eq!((metric.kelvin(273.15), us.kelvin(255.372_222)), ("0 °C".into(), "0 °F".into()));
        assert_eq!(metric.kelvin(273.12), "0 °C", "no minus before a zero");
        assert_eq!((metric.kelvin(271.65), us.kelvin(233.15)), ("−1.5 °C".into(), "−40 °F".into()), "a real minus");
        assert_eq!((metric.difference(1.0), us.difference(1.0)), ("1 K".into(), "1.8 °F".into()));
        assert_eq!((metric.mass(100_000), us.mass(28_349_523)), ("100 g".into(), "1000 oz".into()));
        assert_eq!((metric.weighed(33_000), us.weighed(28_350)), ("33.0 g".into(), "1.00 oz".into()));
        assert_eq!((metric.volume(50_000), us.volume(29_574)), ("50 ml".into(), "1 fl oz".into()));
        assert_eq!((metric.length(60_000), us.length(25_400)), ("60 mm".into(), "1 in".into()));
        assert_eq!((metric.area(12_000), us.area(64_516)), ("120 cm²".into(), "100 in²".into()));
        assert_eq!((metric.pressure(1_000_000), us.pressure(68_948)), ("1 MPa".into(), "10 psi".into()));
    }

    #[test]
    fn settings_are_read_by_their_words() {
        let read = |text| serde_json::from_str::<Reader>(text).ok();
        assert_eq!(read(r#"{"temperature":"F","measure":"us"}"#), Some(Reader::US));
        assert_eq!(read(r#"{"temperature":"C","measure":"metric"}"#), Some(Reader::default()));
        assert_eq!(read(r#"{"temperature":"K","measure":"metric"}"#), None);
    }
}
