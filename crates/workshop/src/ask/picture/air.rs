//! Air and wood: a map of what wood settles at, over temperature and humidity, and the dew point over humidity.

use super::super::figure_shown::{digits, with_unit};
use super::FigurePicture;
use super::plot::Plot;
use super::side::Side;
use glue::figure::{Answer, Given};
use glue::{moisture, vapour};

/// Moistures whose lines are drawn, %.
const LINES: [f64; 8] = [4.0, 6.0, 8.0, 10.0, 12.0, 15.0, 18.0, 22.0];
/// Temperatures at which a line is found, and halvings of the humidity for each.
const STEPS: usize = 32;
const HALVINGS: usize = 30;

/// Humidity at which wood settles at a moisture, %; None: not up to saturated air.
fn humidity(celsius: f64, pct: f64) -> Option<f64> {
    let (mut low, mut high) = (0.0, 100.0);
    if moisture::settles_at(celsius, high) < pct {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if moisture::settles_at(celsius, middle) < pct { low = middle } else { high = middle }
    }
    Some((low + high) / 2.0)
}

/// The map with the air that was asked for; of heated air also outdoors, and the way from there.
pub(super) fn map(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let heated = answer.figure == "heated-air";
    let (at, from) = if heated {
        let from = (given.number("outdoor-temperature").ok()?, given.number("outdoor-humidity").ok()?);
        ((given.number("indoor-temperature").ok()?, answer.number("humidity_pct")?), Some(from))
    } else {
        ((given.number("temperature").ok()?, given.number("humidity").ok()?), None)
    };
    let shop = [0.0, 40.0].into_iter().chain([at.0]).chain(from.map(|from| from.0));
    let across = Side::around(shop, 0.0);
    let up = Side::from(0.0, 100.0);
    let mut plot = Plot::new(across, up);
    for (n, pct) in LINES.into_iter().enumerate() {
        let steps = across.steps(STEPS);
        let points = steps.iter().filter_map(|celsius| Some((*celsius, humidity(*celsius, pct)?)));
        let word_at = across.low + (across.high - across.low) * if n % 2 == 0 { 0.94 } else { 0.84 };
        let word_at = (word_at, humidity(word_at, pct).unwrap_or(100.0));
        plot.named("level", &format!("{} %", digits(pct)), word_at, points);
    }
    if let Some(from) = from {
        let way = Side::around([from.0, at.0].into_iter(), 0.0).steps(STEPS).into_iter();
        plot.line("main", "", way.map(|celsius| (celsius, vapour::heated(from.0, from.1, celsius))));
        plot.told("point", "outdoors", from);
    }
    let wood = answer.number("wood_moisture_pct")?;
    plot.told(
        "asked",
        &format!("{} %{}", digits((wood * 10.0).round() / 10.0), if heated { " indoors" } else { "" }),
        at,
    );
    let words = format!(
        "Wood moisture over the air's temperature and humidity: along each dashed line wood settles at the moisture \
         written on it. The air asked for, {} and {} % humidity, lies at {} %.{}",
        with_unit(at.0, "C"),
        digits(at.1),
        digits(wood),
        if heated { " Solid: the way of the outdoor air as it is heated." } else { "" }
    );
    plot.done(across.across("Air temperature, °C"), up.up("Humidity, %"), words)
}

/// Dew point of air of this temperature over its humidity, with the surface.
pub(super) fn dew(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let (air, asked) = (given.number("temperature").ok()?, given.number("humidity").ok()?);
    let (surface, dew) = (given.number("surface").ok()?, answer.number("dew_point_c")?);
    let across = Side::from(asked.min(20.0), 100.0);
    let steps = across.steps(STEPS * 2);
    let curve = steps.into_iter().filter_map(|h| Some((h, vapour::dew_point(vapour::pressure(air, h))?)));
    let curve: Vec<(f64, f64)> = curve.collect();
    let up = Side::around(curve.iter().map(|at| at.1).chain([surface, air]), 0.1);
    let mut plot = Plot::new(across, up);
    let own = given.has("surface");
    plot.level(
        "limit",
        &format!("{} {}", if own { "surface" } else { "surface as the air" }, with_unit(surface, "C")),
        surface,
    );
    plot.line("main", "", curve.into_iter());
    plot.told("asked", &format!("dew point {}", with_unit((dew * 10.0).round() / 10.0, "C")), (asked, dew));
    let words = format!(
        "The dew point of air of {} over its humidity. Where the curve lies above the dashed line, water settles on a \
         surface of {}; the air asked for is {} K {} that.",
        with_unit(air, "C"),
        with_unit(surface, "C"),
        digits((surface - dew).abs()),
        if surface >= dew { "away from" } else { "past" }
    );
    plot.done(across.across("Humidity, %"), up.up("Dew point, °C"), words)
}
