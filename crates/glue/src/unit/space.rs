//! Lengths, areas and volumes. One inch is 25.4 mm exactly.

use super::quantity::{Scale, quantity};

quantity! {
    /// A length, um.
    Length, from_um, um,
    range 1 ..= 50_000_000 "0.001 mm to 50 m",
    units "mm, cm, m, um, in, ft" as "12 mm", [
        Scale::times(&["um", "µm", "μm"], 1, 1),
        Scale::times(&["mm"], 1_000, 1),
        Scale::times(&["cm"], 10_000, 1),
        Scale::times(&["m"], 1_000_000, 1),
        Scale::times(&["in", "inch", "inches", "\""], 25_400, 1),
        Scale::times(&["ft", "'"], 304_800, 1),
    ]
}

quantity! {
    /// An area of glue line, mm².
    Area, from_mm2, mm2,
    range 1 ..= 100_000_000 "1 mm2 to 100 m2",
    units "mm2, cm2, m2, in2, ft2" as "1200 mm2", [
        Scale::times(&["mm2", "mm²"], 1, 1),
        Scale::times(&["cm2", "cm²"], 100, 1),
        Scale::times(&["m2", "m²"], 1_000_000, 1),
        Scale::times(&["in2", "in²", "sq in"], 64_516, 100),
        Scale::times(&["ft2", "ft²", "sq ft"], 9_290_304, 100),
    ]
}

quantity! {
    /// A volume of adhesive, ul. Fluid ounces are not read: there are two of them.
    Volume, from_ul, ul,
    range 50 ..= 50_000_000 "0.05 ml to 50 l",
    units "ul, ml, cl, l, cm3" as "50 ml", [
        Scale::times(&["ul", "µl", "μl"], 1, 1),
        Scale::times(&["ml", "cm3", "cm³", "cc"], 1_000, 1),
        Scale::times(&["cl"], 10_000, 1),
        Scale::times(&["l", "L"], 1_000_000, 1),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_by_fraction() {
        assert_eq!(Length::parse("1/8 in").map(|t| (t.value.um(), t.step)), Ok((3_175, 3_175)));
        assert_eq!(Length::parse("1 1/2 in").map(|t| (t.value.um(), t.step)), Ok((38_100, 12_700)));
        assert_eq!(Length::parse("12mm").map(|t| (t.value.um(), t.step)), Ok((12_000, 1_000)));
        assert_eq!(Area::parse("2 in²").map(|t| t.value.mm2()), Ok(1_290));
        assert_eq!(Volume::parse("50 ml").map(|t| (t.value.ul(), t.step)), Ok((50_000, 1_000)));
        assert!(Length::parse("0 mm").is_err());
    }
}
