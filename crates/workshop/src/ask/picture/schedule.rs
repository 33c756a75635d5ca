//! A lamination's schedule: the radius it has, and the least that so many strips allow.

use super::super::figure_shown::{digits, with_unit};
use super::FigurePicture;
use super::plot::Plot;
use super::side::Side;
use glue::figure::{Answer, Given, course};
use glue::lamination::{Bend, Schedule, schedule};

/// Least radii over the number of strips, beside the radius that is bent to.
pub(super) fn lamination(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let (wanted, strips) = (course::bent(given)?, answer.number("laminae")?);
    let first = if strips > 24.0 { (strips / 2.0).floor() } else { 2.0 };
    let across = Side::from(first - 0.5, (strips + 4.0).max(8.0) + 0.5);
    let step = ((across.high - first) / 60.0).ceil().max(1.0);
    let counts = (0..=60).map(|n| first + step * f64::from(n)).filter(|n| *n <= across.high);
    let all: Vec<(f64, Schedule)> = counts.filter_map(|n| Some((n, schedule(&wanted, n as u64)?))).collect();
    let up = Side::from(0.0, 2.2 * wanted.radius);
    let mut plot = Plot::new(across, up);
    let mut curve = |look: &str, word: &str, of: &dyn Fn(&Schedule) -> Option<f64>| {
        let points = all.iter().filter_map(|(n, one)| Some((*n, of(one)?))).filter(|at| up.holds(at.1));
        plot.line(look, word, points);
    };
    let dry = wanted.bend == Bend::Dry;
    curve(if wanted.stressed { "main" } else { "beyond" }, "500 t", &|one| Some(one.limits.stressed));
    curve("second", "margin x 80 t", &|one| one.limits.breaking.map(|limit| limit * wanted.margin));
    curve("edge", "80 t: breaks", &|one| one.limits.breaking);
    curve("second", "soaked strips take", &|one| one.limits.soaked);
    curve("third", if dry { "form" } else { "bending form" }, &|one| one.bending_form.or(Some(one.form)));
    plot.level("level", "finished", wanted.radius);
    let spot = (strips, wanted.radius);
    plot.told("asked", &format!("{} strips of {}", digits(strips), with_unit(answer.number("lamina_mm")?, "mm")), spot);
    let held = if wanted.stressed { "500 t, which the finished radius must keep, and " } else { "" };
    let bent = if dry { "the margin from breaking" } else { "what soaked strips take" };
    let words = format!(
        "The least radii that so many strips allow: {held}{bent}, which the form must keep. The piece is bent to {} in {} \
         strips.",
        with_unit(wanted.radius, "mm"),
        digits(strips)
    );
    plot.done(across.across_at("Strips", &across.whole_numbers()), up.up("Radius, mm"), words)
}
