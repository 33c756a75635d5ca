//! Water vapour in air: saturation, dew point, the psychrometer, outdoor air brought in and heated.
//!
//! Over water e_s(t) = 6.112 exp(17.62 t / (243.12 + t)) hPa, over ice 6.112 exp(22.46 t / (272.62 + t)), t in °C.
//! Sources: WMO-No. 8 annex 4.B for water (-45 to 60 °C); over ice from memory, held against ANC-19 (1944) table 5-10.

const PLACE: f64 = 6.112;
const WATER: (f64, f64) = (17.62, 243.12);
const ICE: (f64, f64) = (22.46, 272.62);
/// Psychrometer coefficient of a ventilated bulb, 1/K. From memory; with it the worked example of ANC-19 (dry 140 °F,
/// wet 130 °F: 75 %) comes out as 74.94 %.
pub const PSYCHROMETER: f64 = 6.62e-4;

fn magnus(t: f64, (b, c): (f64, f64)) -> f64 {
    PLACE * libm::exp(b * t / (c + t))
}

/// Saturation pressure over water, hPa; t in °C, above -243.
pub fn over_water(t: f64) -> f64 {
    magnus(t, WATER)
}

/// Saturation pressure over ice below 0 °C, over water from there on, hPa.
pub fn over_ice_or_water(t: f64) -> f64 {
    if t < 0.0 { magnus(t, ICE) } else { over_water(t) }
}

/// Vapour pressure of air with a relative humidity over water, hPa.
pub fn pressure(t: f64, humidity_pct: f64) -> f64 {
    over_water(t) * humidity_pct / 100.0
}

/// Dew point over water of air with this vapour pressure, °C; None for a pressure that is none.
pub fn dew_point(vapour_hpa: f64) -> Option<f64> {
    let g = libm::log(vapour_hpa / PLACE);
    let (b, c) = WATER;
    let t = c * g / (b - g);
    (t.is_finite() && g < b).then_some(t)
}

/// Relative humidity, %, from a dry and a wet bulb, °C, at an air pressure, hPa: e = e_s(wet) - A p (dry - wet).
/// Below zero where no air could be that dry.
pub fn humidity_from_bulbs(dry: f64, wet: f64, pressure_hpa: f64) -> f64 {
    let e = over_water(wet) - PSYCHROMETER * pressure_hpa * (dry - wet);
    100.0 * e / over_water(dry)
}

/// Relative humidity indoors, %, of outdoor air brought to another temperature, no water added or taken.
pub fn heated(outdoor: f64, outdoor_humidity_pct: f64, indoor: f64) -> f64 {
    outdoor_humidity_pct * over_ice_or_water(outdoor) / over_ice_or_water(indoor)
}
