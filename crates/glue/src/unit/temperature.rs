//! Temperatures and temperature differences, which are two things: 20 °C warmer is not 293 K.

use super::quantity::{Scale, quantity};

const TEMPERATURE: [Scale; 3] = [
    Scale { names: &["C", "°C", "º C", "° C", "degC"], num: 1_000, add: 273_150, den: 1 },
    // K = (F + 459.67) × 5/9
    Scale { names: &["F", "°F", "º F", "° F", "degF"], num: 5_000, add: 2_298_350, den: 9 },
    Scale { names: &["K"], num: 1_000, add: 0, den: 1 },
];

quantity! {
    /// Temperature of shop air, wood or components, mk.
    AirTemperature, from_mk, mk,
    range 233_150 ..= 333_150 "-40 to 60 °C (-40 to 140 °F)",
    units "C, F, K" as "22.0 C", [TEMPERATURE[0], TEMPERATURE[1], TEMPERATURE[2]]
}

quantity! {
    /// Temperature on an adhesive's sheet, mk: some are cured in an oven.
    CureTemperature, from_mk, mk,
    range 233_150 ..= 533_150 "-40 to 260 °C (-40 to 500 °F)",
    units "C, F, K" as "20 C", [TEMPERATURE[0], TEMPERATURE[1], TEMPERATURE[2]]
}

quantity! {
    /// A temperature difference, mk: a thermometer's step or accuracy.
    TemperatureDifference, from_mk, mk,
    range 1 ..= 10_000 "0.001 to 10 K",
    units "K, C, F" as "0.5 K", [
        Scale::times(&["K", "C", "°C"], 1_000, 1),
        Scale::times(&["F", "°F"], 5_000, 9),
    ]
}

quantity! {
    /// How far the warmest of a day is above its mean, mk.
    TemperatureSwing, from_mk, mk,
    range 100 ..= 30_000 "0.1 to 30 K",
    units "K, C, F" as "5 K", [
        Scale::times(&["K", "C", "°C"], 1_000, 1),
        Scale::times(&["F", "°F"], 5_000, 9),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::UnitError;

    #[test]
    fn seventy_fahrenheit() {
        let read = |text| AirTemperature::parse(text).map(|t| (t.value.mk(), t.step));
        assert_eq!(read("70 °F"), Ok((294_261, 556)));
        assert_eq!(read("70F"), Ok((294_261, 556)));
        assert_eq!(read("22.0 C"), Ok((295_150, 100)));
        assert_eq!(read("22 °C"), Ok((295_150, 1_000)));
        assert_eq!(read("295.2 K"), Ok((295_200, 100)));
        assert_eq!(read("-5,5 C"), Ok((267_650, 100)));
        assert_eq!(read("-40 F"), Ok((233_150, 556)));
    }

    #[test]
    fn seven_hundred_fahrenheit_is_out_of_range() {
        let expected = UnitError::OutOfRange { range: AirTemperature::RANGE };
        assert_eq!(AirTemperature::parse("700 °F"), Err(expected));
        assert!(CureTemperature::parse("700 F").is_err());
        assert!(CureTemperature::parse("120 C").is_ok());
        assert!(matches!(AirTemperature::parse("70"), Err(UnitError::UnitMissing { .. })));
        assert!(AirTemperature::parse_in("70", "F").is_ok());
    }

    #[test]
    fn a_difference_has_no_zero_point() {
        assert_eq!(TemperatureDifference::parse("1 C").map(|t| t.value.mk()), Ok(1_000));
        assert_eq!(TemperatureDifference::parse("1.8 F").map(|t| t.value.mk()), Ok(1_000));
    }
}
