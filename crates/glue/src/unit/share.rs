//! Shares in parts per million: wood moisture and air humidity are not the same thing, nor is a tolerance.

use super::quantity::{Scale, quantity};

const SHARE: [Scale; 2] = [Scale::times(&["%", "percent", "% RH", "%RH"], 10_000, 1), Scale::times(&["ppm"], 1, 1)];

quantity! {
    /// Moisture of wood, mass of water per mass of dry wood, ppm.
    WoodMoisture, from_ppm, ppm,
    range 0 ..= 1_000_000 "0 to 100 %",
    units "%" as "9.8 %", [SHARE[0], SHARE[1]]
}

quantity! {
    /// Relative humidity of air, ppm.
    Humidity, from_ppm, ppm,
    range 0 ..= 1_000_000 "0 to 100 %",
    units "%" as "55 %", [SHARE[0], SHARE[1]]
}

quantity! {
    /// Allowed relative deviation of a mixing ratio, ppm.
    Tolerance, from_ppm, ppm,
    range 100 ..= 500_000 "0.01 to 50 %",
    units "%" as "5 %", [SHARE[0], SHARE[1]]
}

quantity! {
    /// Step or accuracy of a moisture or humidity meter, ppm.
    MeterStep, from_ppm, ppm,
    range 100 ..= 200_000 "0.01 to 20 %",
    units "%" as "0.1 %", [SHARE[0], SHARE[1]]
}
