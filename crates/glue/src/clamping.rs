//! Pressing a joint: clamps, nails, screws, straps, vacuum, and laminations bent over a form.

use crate::timber::place;

const PI: f64 = core::f64::consts::PI;

/// Clamps of this force each, N, that give a force, N: at least one.
pub fn clamps_for(force_n: f64, each_n: f64) -> u64 {
    // A force typed in pounds may miss a whole number of clamps by the last bits.
    libm::ceil(force_n / each_n * (1.0 - 1e-12)).max(1.0) as u64
}

/// Thickest thinner member, mm, that nails press without doubt (1/8 in), and that they should press at all (1/4 in).
/// ANC-19 (1944) 5.405.
pub const NAILED_MM: (f64, f64) = (3.175, 6.35);
/// A nail reaches this far into the wood under the joint, mm: 3/8 in. ANC-19 5.4612, FAA AC 43.13-1B (1998) 1-11c.
pub const NAIL_BITE_MM: f64 = 9.525;
/// Farthest from a nail to the nearest in the next row, mm: 3/4 in. AC 43.13-1B 1-11c.
pub const NAILS_APART_MM: f64 = 19.05;

/// Nails of a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nails {
    /// Rows along the joint.
    pub rows: u64,
    /// In each.
    pub per_row: u64,
    /// From a nail to the nearest in the next row, staggered by half the pitch, mm.
    pub apart: f64,
}

/// Rows for each started row pitch of the width, nails for each started pitch of the length; all mm.
pub fn nails(length: f64, width: f64, pitch: f64, row_pitch: f64) -> Nails {
    let started = |whole: f64, step: f64| libm::ceil(whole / step * (1.0 - 1e-12)).max(1.0) as u64;
    let apart = libm::sqrt(row_pitch * row_pitch + pitch * pitch / 4.0);
    Nails { rows: started(width, row_pitch), per_row: started(length, pitch), apart }
}

/// Force of a screw in N from a hand's force in N on a lever in mm: W = F L (pi D - f K) / (R (K + pi D f)), R = D/2.
///
/// D mean thread diameter and K pitch, mm; f friction. Source: ANC-19 (1944) 5.251; its print is damaged in the copy
/// read, and this common square-thread form gives its table 5-13. None where the thread is too steep to be driven.
pub fn screw_load(hand_n: f64, lever: f64, diameter: f64, pitch: f64, friction: f64) -> Option<f64> {
    let drive = PI * diameter - friction * pitch;
    let load = hand_n * lever * drive / (diameter / 2.0 * (pitch + PI * diameter * friction));
    (drive > 0.0 && load.is_finite()).then_some(load)
}

/// Pressure under a strap, MPa: tension per width, N/mm, by radius, mm. Source: ANC-19 (1944) 5.430.
pub fn strap_pressure(tension: f64, radius: f64) -> f64 {
    tension / radius
}

/// Pressure of the standard atmosphere, Pa, at an altitude in m up to 11 km: 101325 (1 - 2.25577e-5 h)^5.25588.
/// From memory.
pub fn atmosphere_pa(altitude_m: f64) -> f64 {
    101_325.0 * libm::pow(1.0 - 2.255_77e-5 * altitude_m, 5.255_88)
}

/// Share of its curvature that a bent lamination of n equal dry elastic laminae gives back: 1/n².
///
/// Derived: each lamina keeps the moment E I k, together n E I k; the glued section is n³ E I stiff, so that k/n² is lost.
pub fn spring_back(laminae: f64) -> f64 {
    1.0 / (laminae * laminae)
}

/// Least radius of a highly stressed lamination by its thickness: 500. ANC-19 (1944) 2.4203, 5.6821.
pub const STRESSED: f64 = 500.0;
/// Radius at which dry laminations break, by thickness: 80, for 1 in softwood; thinner stock bends further. ANC-19 5.6821.
pub const BREAKING: f64 = 80.0;

/// Columns of the table below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plywood {
    /// Dry, face grain across the bend axis (90°).
    DryAcross,
    /// Dry, face grain along the axis or at 45° to it.
    DryAlong,
    /// Soaked hot, 90°.
    SoakedAcross,
    /// Soaked hot, 0 or 45°.
    SoakedAlong,
}

/// Thickness, then the four columns, in. FAA AC 43.13-1B (1998) table 1-2, page 1-25; three and five plies, by thickness.
const BENDS: [[f64; 5]; 12] = [
    [0.035, 2.0, 1.1, 0.5, 0.1],
    [0.070, 5.2, 3.2, 1.5, 0.4],
    [0.100, 8.6, 5.2, 2.6, 0.8],
    [0.125, 12.0, 7.1, 3.8, 1.2],
    [0.155, 16.0, 10.0, 5.3, 1.8],
    [0.160, 17.0, 11.0, 6.0, 2.0],
    [0.185, 20.0, 13.0, 7.1, 2.6],
    [0.190, 21.0, 14.0, 7.0, 3.0],
    [0.225, 27.0, 17.0, 10.0, 4.0],
    [0.250, 31.0, 20.0, 12.0, 5.0],
    [0.315, 43.0, 28.0, 16.0, 7.0],
    [0.375, 54.0, 36.0, 21.0, 10.0],
];
/// Thinnest and thickest plywood of the table, mm.
pub const PLYWOOD_MM: (f64, f64) = (0.889, 9.525);

/// Least radius of aircraft plywood, mm, straight between the table's thicknesses. None outside them.
pub fn plywood_radius(thickness_mm: f64, kind: Plywood) -> Option<f64> {
    let thicknesses = BENDS.map(|row| row[0] * 25.4);
    let (first, last) = (thicknesses.first()?, thicknesses.last()?);
    // A thickness typed in inches may miss the table's own by the last bit.
    let noise = 1e-9;
    let inside = thickness_mm >= first - noise && thickness_mm <= last + noise;
    let (row, along) = place(&thicknesses, thickness_mm.clamp(*first, *last)).filter(|_| inside)?;
    let column = match kind {
        Plywood::DryAcross => 1,
        Plywood::DryAlong => 2,
        Plywood::SoakedAcross => 3,
        Plywood::SoakedAlong => 4,
    };
    let at = |row: usize| BENDS.get(row).and_then(|row| row.get(column)).copied();
    Some(25.4 * (at(row)? * (1.0 - along) + at(row + 1)? * along))
}
