//! The load at which a sample broke. Pound-force from 0.45359237 kg × 9.80665 m/s², exact.

use super::quantity::{Scale, quantity};

quantity! {
    /// A force, mN.
    Force, from_mn, mn,
    range 100 ..= 10_000_000_000 "0.1 N to 10000 kN",
    units "N, kN, kgf, lbf" as "3500 N", [
        Scale::times(&["N"], 1_000, 1),
        Scale::times(&["kN"], 1_000_000, 1),
        Scale::times(&["kgf"], 980_665, 100),
        Scale::times(&["lbf"], 44_482_216_152_605, 10_000_000_000),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pounds_and_kilonewtons() {
        assert_eq!(Force::parse("800 lbf").map(|t| t.value.mn()), Ok(3_558_577));
        assert_eq!(Force::parse("3.5 kN").map(|t| (t.value.mn(), t.step)), Ok((3_500_000, 100_000)));
        assert!(Force::parse("0 N").is_err() && Force::parse("12").is_err() && Force::parse("5 kg").is_err());
    }
}
