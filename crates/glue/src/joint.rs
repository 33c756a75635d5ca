//! The stress in a glue line: scarfs and single laps. A guide to proportions, no strength.

/// A scarf of slope 1 in n.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scarf {
    /// Shear on the glue plane by the stress along the member: n/(n²+1).
    pub shear: f64,
    /// Stress across the glue plane by the stress along the member: 1/(n²+1).
    pub normal: f64,
    /// Glued area by the section's: sqrt(n²+1).
    pub area: f64,
}

/// Geometry of a scarf: the plane's normal is inclined to the member by atan n.
pub fn scarf(n: f64) -> Scarf {
    let square = n * n + 1.0;
    Scarf { shear: n / square, normal: 1.0 / square, area: libm::sqrt(square) }
}

/// A single lap: stiffness in MPa, lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lap {
    /// Overlap.
    pub overlap: f64,
    /// Stiffness times thickness of both members, N/mm.
    pub members: [f64; 2],
    /// Shear modulus of the glue by its thickness, N/mm³.
    pub glue: f64,
}

/// Average and highest shear, MPa, under a load per width, N/mm.
///
/// Volkersen (1938, from memory): w² = (G/t)(1/E1t1 + 1/E2t2), and at the ends
/// (P/l)(wl/2)[coth(wl/2) ± (E1t1 - E2t2)/(E1t1 + E2t2) tanh(wl/2)]; the larger end counts. Members do not bend.
pub fn lap(load: f64, lap: &Lap) -> (f64, f64) {
    let [a, b] = lap.members;
    let x = libm::sqrt(lap.glue * (1.0 / a + 1.0 / b)) * lap.overlap / 2.0;
    let average = load / lap.overlap;
    // x coth x goes to 1 + x²/3 for a stiff lap.
    let even = if x < 1e-4 { 1.0 + x * x / 3.0 } else { x / libm::tanh(x) };
    let uneven = ((a - b) / (a + b)).abs() * x * libm::tanh(x);
    (average, average * (even + uneven))
}
