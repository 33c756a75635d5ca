//! The time law of a sheet by itself: from times at temperatures to an activation energy, and times at others.

use super::shape::{self, POINTS, Point};
use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::law::curve::Form;
use crate::law::fit::{Fit, fit};
use crate::number::GAS;
use crate::unit::measure::CELSIUS;

/// Energies that two points are believed with, kJ/mol.
const BELIEVABLE: (f64, f64) = (25.0, 110.0);
/// Energies that no number of points is believed beyond, kJ/mol: no glue is near either end (no source).
pub(super) const POSSIBLE: (f64, f64) = (5.0, 300.0);
pub(super) const ZERO_C: f64 = 273.15;

/// The law of a sheet.
pub static CURE_LAW: Figure = Figure {
    name: "cure-law",
    about: "How a sheet's time depends on temperature, and the time at other temperatures",
    inputs: &[
        Input::needed("points", Kind::Shape(POINTS), "times of one limit by one criterion, at least two temperatures"),
        Input::maybe(
            "at",
            Kind::List { measure: &CELSIUS, min: -40.0, max: 260.0, least: 1 },
            "no times are asked for",
            "temperatures to give the time at",
        ),
    ],
    results: &[
        Field::new("activation_energy_kj_mol", "kJ/mol", "Ea"),
        Field::new("ln_t0_min", "ln min", "ln of the time in minutes at infinite temperature"),
        Field::new("times_min", "min", "Time at each temperature asked for"),
        Field::new("bands", "min", "95 % band of a new batch at each, lower and upper; nothing with two points"),
    ],
    formula: "ln t = ln t0 + Ea/(R T), least squares of ln t on 1/T; band exp(± q s sqrt(1 + 1/n + (x-xbar)²/Sxx)), \
        q Student's t 0.975 with n - 2",
    source: "Arrhenius law; any text on linear regression; two points outside 25 to 110 kJ/mol are refused (no source)",
    compute: cure_law,
};

fn cure_law(given: &Given) -> Result<Reckoned, Refusal> {
    let points = shape::points(given, "points")?;
    let law = through(given, &points)?;
    let energy = law.b * GAS / 1e3;
    let at = given.numbers("at")?;
    let edge = |h: f64, x: f64| libm::exp(Form::Edge { fit: law, h }.ln_t(x));
    let inverse = |celsius: &f64| 1.0 / (celsius + ZERO_C);
    let times = at.iter().map(|c| libm::exp(law.a + law.b * inverse(c))).collect();
    let ranges = points.iter().any(|point| point.low < point.high);
    let band = |c: &f64| (points.len() > 2).then(|| (edge(-law.qs, inverse(c)), edge(law.qs, inverse(c))));
    let (low, high) = hull(&points);
    let outside = at.iter().any(|c| *c < low || *c > high);
    let strange = energy < BELIEVABLE.0 || energy > BELIEVABLE.1;
    Ok(Reckoned::new()
        .number("activation_energy_kj_mol", energy)
        .number("ln_t0_min", law.a)
        .with("times_min", Out::Numbers(times))
        .with("bands", Out::Bands(at.iter().map(band).collect()))
        .assuming("all points are of one adhesive, one limit and one criterion; never pool two criteria")
        .assuming_if(ranges, "of a range the middle counts here; the clocks of a card keep both ends")
        .assuming_if(points.len() == 2, "two points give a line and no band")
        .assuming_if(strange, "the energy lies outside 25 to 110 kJ/mol, where glues usually are: look at the points")
        .assuming_if(outside, "some temperatures lie outside the points; the sheet does not speak for those"))
}

fn hull(points: &[Point]) -> (f64, f64) {
    let ends = (f64::INFINITY, f64::NEG_INFINITY);
    points.iter().fold(ends, |(low, high), point| (low.min(point.celsius), high.max(point.celsius)))
}

/// The line through the points, in ln min over 1/K.
pub(super) fn through(given: &Given, points: &[Point]) -> Result<Fit, Refusal> {
    let spot = |point: &Point| (1.0 / (point.celsius + ZERO_C), libm::log(point.middle()));
    let spots: Vec<(f64, f64)> = points.iter().map(spot).collect();
    let (low, high) = hull(points);
    let law = fit(&spots).filter(|_| high - low >= 0.5);
    let law = law.ok_or_else(|| given.refuse("points", "needs two temperatures at least half a kelvin apart"))?;
    let energy = law.b * GAS / 1e3;
    if energy <= 0.0 {
        return Err(given.refuse("points", "says that hotter is not quicker, which gives no law"));
    }
    if energy < POSSIBLE.0 || energy > POSSIBLE.1 {
        let why = format!("gives {energy:.1} kJ/mol, which is no glue's: 5 to 300 kJ/mol");
        return Err(given.refuse("points", &why));
    }
    if points.len() == 2 && !(BELIEVABLE.0..=BELIEVABLE.1).contains(&energy) {
        let why = format!("gives {energy:.1} kJ/mol, which two points are not believed with outside 25 to 110 kJ/mol");
        return Err(given.refuse("points", &why));
    }
    Ok(law)
}
