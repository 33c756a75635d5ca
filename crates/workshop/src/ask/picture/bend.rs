//! Bending: how much a lamination springs back by the number of its layers, and how tightly a thickness may be bent.

use super::super::figure_shown::{digits, with_unit};
use super::FigurePicture;
use super::plot::Plot;
use super::side::Side;
use glue::clamping;
use glue::figure::{Answer, Given};

/// Curvature given back over the number of layers.
pub(super) fn spring_back(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let asked = given.number("laminae").ok()?;
    let first = if asked > 20.0 { (asked / 2.0).floor() } else { 2.0 };
    let last = (asked + 4.0).max(12.0);
    let share = |n: f64| 100.0 * clamping::spring_back(n);
    let across = Side::from(first - 0.5, last + 0.5);
    let up = Side::from(0.0, share(first) * 1.1);
    let mut plot = Plot::new(across, up);
    let step = ((last - first) / 40.0).ceil().max(1.0);
    let counts: Vec<f64> = (0..=40).map(|n| first + step * f64::from(n)).filter(|n| *n <= last).collect();
    plot.line("beyond", "", counts.iter().map(|n| (*n, share(*n))));
    for n in counts.iter().filter(|n| **n != asked) {
        plot.mark("point", &format!("{n} layers: {} %", digits(share(*n))), (*n, share(*n)));
    }
    plot.told("asked", &format!("{asked} layers: {} %", digits(share(asked))), (asked, share(asked)));
    let words = format!(
        "The share of its curvature that a bent lamination gives back, by the number of its layers. With {asked} it gives \
         back {} %: a form of {} makes a piece of {}.",
        digits(share(asked)),
        with_unit(answer.number("form_radius_mm")?, "mm"),
        with_unit(answer.number("radius_mm")?, "mm")
    );
    plot.done(across.across_at("Layers", &across.whole_numbers()), up.up("Curvature given back, %"), words)
}

/// What may be drawn beside what: the limit asked for, and the others of its family with their words.
const FAMILIES: [&[(&str, &str)]; 2] = [
    &[("stressed-lamination", "highly stressed"), ("breaking", "breaks")],
    &[
        ("plywood-dry-90", "dry, 90°"),
        ("plywood-dry-0", "dry, 0 to 45°"),
        ("plywood-soaked-90", "soaked, 90°"),
        ("plywood-soaked-0", "soaked, 0 to 45°"),
    ],
];
const STEPS: usize = 40;

/// The same limit of the same family under one name.
fn told(kind: &str) -> &str {
    kind.strip_suffix("-0-45").or_else(|| kind.strip_suffix("-45")).map_or(kind, |stem| match stem {
        "plywood-dry" => "plywood-dry-0",
        _ => "plywood-soaked-0",
    })
}

/// A limit, its word, its points.
type Curve = (&'static str, &'static str, Vec<(f64, f64)>);

/// Least radius over thickness.
pub(super) fn radius(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let (thickness, radius) = (given.number("thickness").ok()?, answer.number("least_radius_mm")?);
    let kind = told(given.text("kind")?);
    let family = FAMILIES.iter().find(|family| family.iter().any(|(one, _)| *one == kind))?;
    let plywood = kind.starts_with("plywood");
    let (thin, thick) = clamping::PLYWOOD_MM;
    let across = if plywood { Side::from(thin, thick) } else { Side::from(0.0, thickness * 1.8) };
    let curves: Vec<Curve> = family
        .iter()
        .map(|(one, word)| (*one, *word, across.steps(STEPS).iter().filter_map(|t| Some((*t, of(one, *t)?))).collect()))
        .collect();
    let highest = curves.iter().flat_map(|curve| &curve.2).map(|at| at.1).fold(radius, f64::max);
    let up = Side::from(0.0, highest * 1.08);
    let mut plot = Plot::new(across, up);
    for (one, word, points) in &curves {
        plot.line(if *one == kind { "main" } else { "edge" }, word, points.iter().copied());
    }
    plot.told("asked", &with_unit(radius, "mm"), (thickness, radius));
    let words = format!(
        "The least radius over the thickness. Solid: the limit asked for, {} at {} thick. Dashed: the others of its kind.",
        with_unit(radius, "mm"),
        with_unit(thickness, "mm")
    );
    plot.done(across.across("Thickness, mm"), up.up("Radius, mm"), words)
}

/// The limit of a kind at a thickness, mm, as the calculation gives it.
fn of(kind: &str, thickness: f64) -> Option<f64> {
    let thickness = thickness.max(0.05).to_string();
    glue::figure::reckon("bend-radius", [("kind", kind), ("thickness", thickness.as_str())])
        .ok()?
        .number("least_radius_mm")
}
