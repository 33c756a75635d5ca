//! Joints: scarfs and laps.

use super::{Field, Figure, Given, Input, Kind, Reckoned, Refusal};
use crate::joint;
use crate::unit::measure::{LINE_LOAD, MILLIMETRE, PLAIN, STIFFNESS};

/// A scarf.
pub static SCARF: Figure = Figure {
    name: "scarf",
    about: "Length, glued area and stress shares of a scarf",
    inputs: &[
        Input::needed("slope", Kind::Shape("12, 1:12 or 12:1; one in 1 to 100"), "length by thickness"),
        Input::needed("thickness", Kind::between(&MILLIMETRE, 0.1, 1_000.0), "of the member"),
        Input::needed("width", Kind::between(&MILLIMETRE, 0.1, 50_000.0), "of the member"),
    ],
    results: &[
        Field::new("length_mm", "mm", "Along the member"),
        Field::new("area_mm2", "mm2", "Glued"),
        Field::new("shear_share", "", "Shear on the glue by stress in the member"),
        Field::new("normal_share", "", "Stress across the glue by stress in the member"),
    ],
    formula: "length n t; area w t sqrt(n² + 1); shear n/(n² + 1); normal 1/(n² + 1)",
    source: "geometry; limits 1 in 15 for solid wood (ANC-18 (1944) 4.5), 1 in 12 for plywood (AC 43.13-1B 1-51c)",
    compute: scarf,
};

fn scarf(given: &Given) -> Result<Reckoned, Refusal> {
    let slope = slope(given)?;
    let (thickness, width) = (given.number("thickness")?, given.number("width")?);
    let shares = joint::scarf(slope);
    Ok(Reckoned::new()
        .number("length_mm", slope * thickness)
        .number("area_mm2", thickness * width * shares.area)
        .number("shear_share", shares.shear)
        .number("normal_share", shares.normal)
        .assuming("evenly stressed glue: stiffness alike on both sides")
        .assuming_if(slope < 15.0, "steeper than 1 in 15, the limit for solid wood")
        .assuming_if(slope < 12.0, "steeper than 1 in 12, the limit for plywood"))
}

pub(super) fn slope(given: &Given) -> Result<f64, Refusal> {
    let text = given.text("slope").ok_or_else(|| given.missing("slope"))?;
    let (left, right) = text.split_once(':').unwrap_or((text, "1"));
    let (left, right) = (left.trim(), right.trim());
    let typed = if left == "1" { right } else { left };
    if left != "1" && right != "1" {
        return Err(given.refuse("slope", "is not one in so many"));
    }
    super::shape::part(given, "slope", typed, &PLAIN, (1.0, 100.0))
}

/// A lap.
pub static LAP_STRESS: Figure = Figure {
    name: "lap-stress",
    about: "Average and highest shear in the glue of a lap, as a guide to its proportions",
    inputs: &[
        Input::needed("load-per-width", Kind::between(&LINE_LOAD, 1e-6, 1e6), "pull by width"),
        Input::needed("overlap", LENGTH, "length of the lap"),
        Input::needed("e1", MODULUS, "stiffness of the first member along the load"),
        Input::needed("t1", LENGTH, "its thickness"),
        Input::needed("e2", MODULUS, "stiffness of the second member"),
        Input::needed("t2", LENGTH, "its thickness"),
        Input::needed("glue-shear-modulus", Kind::between(&STIFFNESS, 0.001, 1e5), "of the glue"),
        Input::needed("glue-thickness", Kind::between(&MILLIMETRE, 0.001, 100.0), "of the glue line"),
    ],
    results: &[Field::new("average_mpa", "MPa", "Load by area"), Field::new("peak_mpa", "MPa", "At the worse end")],
    formula: "w² = (G/t)(1/E1t1 + 1/E2t2); peak/average = (wl/2)[coth(wl/2) + |E1t1-E2t2|/(E1t1+E2t2) tanh(wl/2)]",
    source: "Volkersen (1938), from memory; no published numeric example could be read",
    compute: lap_stress,
};

const LENGTH: Kind = Kind::between(&MILLIMETRE, 0.01, 10_000.0);
const MODULUS: Kind = Kind::between(&STIFFNESS, 1.0, 1e7);

fn lap_stress(given: &Given) -> Result<Reckoned, Refusal> {
    let (lap, load) = lap(given)?;
    let (average, peak) = joint::lap(load, &lap);
    Ok(Reckoned::new()
        .number("average_mpa", average)
        .number("peak_mpa", peak)
        .assuming("elastic members that stretch and do not bend, elastic glue; peeling is not in it")
        .assuming("a guide to proportions, no strength of the joint"))
}

/// The lap asked for, and its load by width, N/mm.
pub(super) fn lap(given: &Given) -> Result<(joint::Lap, f64), Refusal> {
    let lap = joint::Lap {
        overlap: given.number("overlap")?,
        members: [given.number("e1")? * given.number("t1")?, given.number("e2")? * given.number("t2")?],
        glue: given.number("glue-shear-modulus")? / given.number("glue-thickness")?,
    };
    Ok((lap, given.number("load-per-width")?))
}
