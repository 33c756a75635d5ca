//! Clamping pressure. Pound-force per square inch from 0.45359237 kg × 9.80665 m/s² over (0.0254 m)², all exact.

use super::quantity::{Scale, quantity};

quantity! {
    /// Pressure on a glue line, pa.
    Pressure, from_pa, pa,
    range 100 ..= 20_000_000 "0.1 kPa to 20 MPa",
    units "Pa, kPa, MPa, bar, N/mm2, psi" as "1.0 MPa", [
        Scale::times(&["Pa"], 1, 1),
        Scale::times(&["kPa"], 1_000, 1),
        Scale::times(&["MPa", "N/mm2", "N/mm²"], 1_000_000, 1),
        Scale::times(&["bar"], 100_000, 1),
        Scale::times(&["mbar", "hPa"], 100, 1),
        Scale::times(&["psi", "lb/in2"], 44_482_216_152_605, 6_451_600_000),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pounds_per_square_inch() {
        assert_eq!(Pressure::parse("150 psi").map(|t| t.value.pa()), Ok(1_034_214));
        assert_eq!(Pressure::parse("1.0 MPa").map(|t| (t.value.pa(), t.step)), Ok((1_000_000, 100_000)));
        assert!(Pressure::parse("0 psi").is_err());
    }
}
