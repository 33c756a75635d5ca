//! Masses on the scale, densities and spread. Ounce and pound are avoirdupois: 1 lb = 0.45359237 kg exactly
//! (international yard and pound agreement of 1959, from memory).

use super::quantity::{Scale, quantity};

const MASS: [Scale; 5] = [
    Scale::times(&["mg"], 1, 1),
    Scale::times(&["g", "gram", "grams"], 1_000, 1),
    Scale::times(&["kg"], 1_000_000, 1),
    Scale::times(&["oz", "ounce", "ounces"], 28_349_523_125, 1_000_000),
    Scale::times(&["lb", "lbs"], 45_359_237, 100),
];

quantity! {
    /// An amount of adhesive, mg.
    Mass, from_mg, mg,
    range 50 ..= 50_000_000 "0.05 g to 50 kg",
    units "mg, g, kg, oz, lb" as "40.0 g", [MASS[0], MASS[1], MASS[2], MASS[3], MASS[4]]
}

quantity! {
    /// A scale's step or accuracy, mg.
    ScaleStep, from_mg, mg,
    range 1 ..= 1_000_000 "0.001 g to 1 kg",
    units "mg, g, kg, oz, lb" as "0.1 g", [MASS[0], MASS[1], MASS[2], MASS[3], MASS[4]]
}

quantity! {
    /// A density, g/l.
    Density, from_g_per_l, g_per_l,
    range 500 ..= 3_000 "0.5 to 3 kg/l",
    units "g/l, kg/l, g/ml, g/cm3, kg/m3" as "1.12 kg/l", [
        Scale::times(&["g/l", "kg/m3", "kg/m³"], 1, 1),
        Scale::times(&["kg/l", "g/ml", "g/cm3", "g/cm³", "g/cc"], 1_000, 1),
    ]
}

quantity! {
    /// Adhesive per area of glue line, mg/m².
    Spread, from_mg_per_m2, mg_per_m2,
    range 1_000 ..= 5_000_000 "1 g/m2 to 5 kg/m2",
    units "g/m2, kg/m2, lb/1000ft2" as "250 g/m2", [
        Scale::times(&["g/m2", "g/m²"], 1_000, 1),
        Scale::times(&["kg/m2", "kg/m²"], 1_000_000, 1),
        // 1 lb per 1000 ft2: 453592.37 mg over 92.90304 m2.
        Scale::times(&["lb/1000ft2", "lb/MSGL"], 45_359_237_000, 9_290_304),
    ]
}
