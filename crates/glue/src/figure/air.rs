//! Air and wood: what wood settles at, dew point, heated outdoor air, wet bulb.

use super::{Field, Figure, Given, Input, Kind, Reckoned, Refusal};
use crate::unit::measure::{CELSIUS, HECTOPASCAL, PERCENT};
use crate::{moisture, vapour};

const AIR: Kind = Kind::between(&CELSIUS, -40.0, 60.0);
const HUMIDITY: Kind = Kind::between(&PERCENT, 0.0, 100.0);
/// No air is quite dry, and dry air has no dew point.
const DAMP: Kind = Kind::between(&PERCENT, 0.1, 100.0);
const MOISTURE: Field =
    Field::new("wood_moisture_pct", "%", "Moisture that wood settles at, water by dry mass, after long enough");
const SETTLES: &str = "the air stays as it is until the wood has settled";
const SORPTION: &str = "M = 1800/W [Kh/(1-Kh) + (K1Kh + 2K1K2K²h²)/(1 + K1Kh + K1K2K²h²)]; T in °F, \
    W = 330 + 0.452T + 0.00415T², K = 0.791 + 0.000463T - 0.000000844T², \
    K1 = 6.34 + 0.000775T - 0.0000935T², K2 = 1.09 + 0.0284T - 0.0000904T²";
const SORPTION_SOURCE: &str = "Wood Handbook FPL-GTR-190 (2010) eq. 4-5 and table 4-2 (30 to 160 °F agree within \
    0.07 point); K2 from memory, confirmed by the table";

/// What wood settles at.
pub static WOOD_MOISTURE: Figure = Figure {
    name: "wood-moisture",
    about: "Moisture that wood settles at in steady air",
    inputs: &[
        Input::needed("temperature", Kind::between(&CELSIUS, -20.0, 100.0), "of the air"),
        Input::needed("humidity", HUMIDITY, "of the air, relative"),
    ],
    results: &[MOISTURE],
    formula: SORPTION,
    source: SORPTION_SOURCE,
    compute: wood_moisture,
};

fn wood_moisture(given: &Given) -> Result<Reckoned, Refusal> {
    let (t, h) = (given.number("temperature")?, given.number("humidity")?);
    Ok(settled(Reckoned::new(), t, h))
}

fn settled(reckoned: Reckoned, t: f64, humidity_pct: f64) -> Reckoned {
    let outside = t < moisture::CHECKED_C.0 || t > moisture::CHECKED_C.1;
    reckoned
        .number("wood_moisture_pct", moisture::settles_at(t, humidity_pct))
        .assuming(SETTLES)
        .assuming_if(outside, "outside -1 to 71 °C the equation was not held against the printed table")
}

/// Dew point and how far a surface is from it.
pub static DEW_POINT: Figure = Figure {
    name: "dew-point",
    about: "Dew point of the air, and how much warmer a surface is",
    inputs: &[
        Input::needed("temperature", AIR, "of the air"),
        Input::needed("humidity", DAMP, "of the air, relative"),
        Input::same("surface", AIR, "temperature", "temperature of the wood or part"),
    ],
    results: &[
        Field::new("dew_point_c", "C", "Temperature at which this air would begin to wet a surface"),
        Field::new("margin_k", "K", "Surface less dew point; below 0 water settles on it"),
        Field::new("vapour_pressure_hpa", "hPa", "Vapour pressure of the air"),
    ],
    formula: "e = RH/100 · 6.112 exp(17.62t/(243.12+t)); t_d = 243.12g/(17.62-g), g = ln(e/6.112)",
    source: "WMO-No. 8 annex 4.B, over water",
    compute: dew_point,
};

fn dew_point(given: &Given) -> Result<Reckoned, Refusal> {
    let (t, h, surface) = (given.number("temperature")?, given.number("humidity")?, given.number("surface")?);
    let e = vapour::pressure(t, h);
    let dew = vapour::dew_point(e).ok_or_else(|| given.refuse("humidity", "leaves no dew point"))?;
    Ok(Reckoned::new()
        .number("dew_point_c", dew)
        .number("margin_k", surface - dew)
        .number("vapour_pressure_hpa", e)
        .assuming_if(!given.has("surface"), "the surface is as warm as the air")
        .assuming_if(dew < 0.0, "over water also below 0 °C; frost settles a little sooner"))
}

/// Outdoor air brought in.
pub static HEATED_AIR: Figure = Figure {
    name: "heated-air",
    about: "Humidity of outdoor air once it is heated, and what wood settles at in it",
    inputs: &[
        Input::needed("outdoor-temperature", AIR, "outdoors"),
        Input::needed("outdoor-humidity", HUMIDITY, "outdoors, relative"),
        Input::needed("indoor-temperature", AIR, "after heating"),
    ],
    results: &[Field::new("humidity_pct", "%", "Relative humidity indoors"), MOISTURE],
    formula: "RH_in = RH_out · e_s(T_out)/e_s(T_in), e_s = 6.112 exp(17.62t/(243.12+t)), below 0 °C \
        6.112 exp(22.46t/(272.62+t)); wood by the sorption equation of wood-moisture",
    source: "WMO-No. 8 annex 4.B over water; over ice from memory; both give ANC-19 (1944) table 5-10 within 0.06 point",
    compute: heated_air,
};

fn heated_air(given: &Given) -> Result<Reckoned, Refusal> {
    let (outdoor, indoor) = (given.number("outdoor-temperature")?, given.number("indoor-temperature")?);
    let humidity = vapour::heated(outdoor, given.number("outdoor-humidity")?, indoor);
    if humidity > 100.0 {
        return Err(given.contradicts(
            "indoor-temperature",
            "lies below the dew point of that outdoor air, so that water would settle; it has to be warmer",
        ));
    }
    let reckoned = Reckoned::new().number("humidity_pct", humidity);
    Ok(settled(reckoned, indoor, humidity)
        .assuming("no moisture is added or taken indoors")
        .assuming_if(outdoor < 0.0, "below 0 °C outdoor humidity is that over ice"))
}

/// Two thermometers.
pub static WET_BULB: Figure = Figure {
    name: "wet-bulb",
    about: "Relative humidity from a dry and a wet thermometer",
    inputs: &[
        Input::needed("dry", Kind::between(&CELSIUS, 0.0, 100.0), "dry bulb"),
        Input::needed("wet", Kind::between(&CELSIUS, 0.0, 100.0), "wet bulb, well fanned; not above the dry one"),
        Input::preset("pressure", Kind::between(&HECTOPASCAL, 500.0, 1100.0), "1013.25hPa", "of the air"),
    ],
    results: &[Field::new("humidity_pct", "%", "Relative humidity")],
    formula: "RH = 100 [e_s(wet) - A p (dry - wet)] / e_s(dry), A = 6.62e-4 1/K, e_s over water",
    source: "psychrometer equation; A from memory, held against the worked example of ANC-19 (1944): 140 °F and \
        130 °F give 75 %",
    compute: wet_bulb,
};

fn wet_bulb(given: &Given) -> Result<Reckoned, Refusal> {
    let (dry, wet) = (given.number("dry")?, given.number("wet")?);
    if wet > dry {
        return Err(
            given.contradicts("wet", "is above the dry bulb, which it cannot be; it takes at most the dry bulb")
        );
    }
    let humidity = vapour::humidity_from_bulbs(dry, wet, given.number("pressure")?);
    if humidity < 0.0 {
        return Err(given.contradicts("wet", "is lower than even perfectly dry air would make it beside that dry bulb"));
    }
    Ok(Reckoned::new()
        .number("humidity_pct", humidity)
        .assuming("the wet bulb is fanned well and its wick is clean")
        .assuming_if(dry > 60.0, "the saturation formula is stated up to 60 °C"))
}
