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

/// Shear in the glue, MPa, at a distance, mm, from the end at which the second member begins; the same model as [`lap`].
///
/// (P/l)(wl/2)[cosh z/sinh(wl/2) + (E1t1 - E2t2)/(E1t1 + E2t2) sinh z/cosh(wl/2)], z = w (x - l/2).
pub fn along_lap(load: f64, lap: &Lap, x: f64) -> f64 {
    let [a, b] = lap.members;
    let w = libm::sqrt(lap.glue * (1.0 / a + 1.0 / b));
    let (u, z) = (w * lap.overlap / 2.0, w * (x - lap.overlap / 2.0));
    // By falling exponentials only: a long stiff lap overflows nothing.
    let (near, far) = (libm::exp(z.abs() - u), libm::exp(-z.abs() - u));
    let even = (near + far) / -libm::expm1(-2.0 * u);
    let uneven = (near - far).copysign(z) / (1.0 + libm::exp(-2.0 * u));
    load / lap.overlap * u * (even + (a - b) / (a + b) * uneven)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn along_a_lap_the_mean_is_the_average_and_the_worse_end_the_peak() {
        for members in [[1e4, 1e4], [2e3, 9e4], [9e4, 2e3]] {
            for (overlap, glue) in [(0.1, 10.0), (25.0, 500.0), (300.0, 2e4)] {
                let one = Lap { overlap, members, glue };
                let (average, peak) = lap(40.0, &one);
                let at = |n: u32| along_lap(40.0, &one, overlap * f64::from(n) / 4e4);
                let mean = (0..40_000).map(|n| (at(n) + at(n + 1)) / 2.0).sum::<f64>() / 4e4;
                assert!((mean / average - 1.0).abs() < 1e-4, "{one:?} {mean} {average}");
                assert!((at(0).max(at(40_000)) / peak - 1.0).abs() < 1e-9, "{one:?}");
            }
        }
    }
}
