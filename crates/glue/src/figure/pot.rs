//! The pot by itself: when to stop using it, how hot it gets.

use super::shape::{pair, part};
use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::cure::ode::Unsolved;
use crate::pot::advice::warning;
use crate::pot::calibrate::{Found, Sheet, Unfit, calibrate};
use crate::pot::{GLUE, Glue, Pot, Vessel, lumped, resolved};
use crate::unit::measure;

const ZERO_C: f64 = 273.15;
const VESSEL: &str = "cup, or tray:depth such as tray:6mm; 1 to 100 mm";
const POT_LIFE: &str = "mass@temperature:time, such as 100g@25C:45min; 1 to 10000 g, -10 to 60 C, 1 to 10080 min";
const FILM_GEL: &str = "temperature:time, such as 25C:3h; -10 to 60 C, 1 to 43200 min";
const RANGE_C: (f64, f64) = (-10.0, 60.0);

/// The pot.
pub static POT: Figure = Figure {
    name: "pot",
    about: "How long a pot of epoxy can be used, when it gels, how hot it gets if it is forgotten",
    inputs: &[
        Input::needed("mass", Kind::between(&measure::GRAM, 1.0, 10_000.0), "mixed glue in the vessel"),
        Input::needed("ambient", Kind::between(&measure::CELSIUS, RANGE_C.0, RANGE_C.1), "air"),
        Input::same("start", Kind::between(&measure::CELSIUS, -10.0, 80.0), "ambient", "mix at the start"),
        Input::preset("vessel", Kind::Shape(VESSEL), "cup", "what it stands in"),
        Input::maybe("pot-life", Kind::Shape(POT_LIFE), "the generic set", "the sheet's, of a mass in a cup"),
        Input::maybe("film-gel", Kind::Shape(FILM_GEL), "the generic set", "the sheet's, of a thin film"),
    ],
    results: &[
        Field::new("work_limit_min", "min", "Conversion limit alone: the viscosity has doubled but for the heat"),
        Field::new("gel_min", "min", "Gels; nothing: not within 60 days"),
        Field::new("peak_c", "C", "Hottest, if left standing; above 150 an upper limit"),
        Field::new("peak_min", "min", "When it is hottest"),
        Field::new("advised_min", "min", "Use it up within; nothing: not within 60 days"),
        Field::new("warning", "", "What to beware of; nothing: it stays below 60 °C"),
    ],
    formula: "m cp dT/dt = m dH da/dt - U A (T - air), da/dt = (k1 + k2 a)(1-a)²; advised: the earlier of 0.90 times the \
        earlier of the conversion limit and 50 °C, and the same at the hottest point of the pot resolved in space",
    source: "heat balance and kinetics as in any text; properties usual for epoxies, from memory; a generic set, nobody's \
        product (docs/science/pot.md)",
    compute: pot,
};

fn pot(given: &Given) -> Result<Reckoned, Refusal> {
    let (pot, found) = pot_of(given)?;
    let unsolved = |why: Unsolved| given.contradicts("mass", &format!("is not computed: {why}"));
    let course = lumped::run(&pot, &lumped::TOLERANCE).map_err(unsolved)?;
    let advised = resolved::advised(&pot, &course).map_err(unsolved)?;
    let minutes = |s: Option<f64>| Out::maybe(s.map(|s| s / 60.0));
    let warned = warning(course.peak_k);
    let sheet = found.map(|found| said(&found));
    let answer = Reckoned::new()
        .with("work_limit_min", minutes(course.work))
        .with("gel_min", minutes(course.gel))
        .number("peak_c", course.peak_k - ZERO_C)
        .number("peak_min", course.peak / 60.0)
        .with("advised_min", minutes(advised))
        .with("warning", if warned.is_empty() { Out::Nothing } else { Out::Word(warned.to_owned()) })
        .assuming("a forecast only shortens: never use glue for longer than its sheet says")
        .assuming("still air on every face; a lid, an insulated bench or another pot beside it makes it hotter");
    Ok(answer.assuming(
        sheet.unwrap_or_else(|| "a generic epoxy: give the sheet's pot-life and film-gel for yours".to_owned()),
    ))
}

/// The pot asked for, and what its sheet's times told of its glue.
pub(super) fn pot_of(given: &Given) -> Result<(Pot, Option<Found>), Refusal> {
    let (glue, found) = glue(given)?;
    let kelvin = |name: &str| given.number(name).map(|celsius| celsius + ZERO_C);
    let mass = given.number("mass")? / 1e3;
    Ok((Pot::fresh(glue, mass, vessel(given)?, kelvin("ambient")?, kelvin("start")?), found))
}

fn vessel(given: &Given) -> Result<Vessel, Refusal> {
    let text = given.text("vessel").ok_or_else(|| given.missing("vessel"))?;
    if text == "cup" {
        return Ok(Vessel::Cup);
    }
    let Some(depth) = text.strip_prefix("tray:") else { return Err(given.refuse("vessel", "is neither")) };
    Ok(Vessel::Tray(part(given, "vessel", depth.trim(), &measure::MILLIMETRE, (1.0, 100.0))? / 1e3))
}

/// The sheet's glue, or the generic one.
fn glue(given: &Given) -> Result<(Glue, Option<Found>), Refusal> {
    let (Some(life), Some(film)) = (given.text("pot-life"), given.text("film-gel")) else {
        return match (given.has("pot-life"), given.has("film-gel")) {
            (true, false) => Err(given.missing("film-gel")),
            (false, true) => Err(given.missing("pot-life")),
            _ => Ok((GLUE, None)),
        };
    };
    let (mass, rest) = pair(given, "pot-life", life, '@')?;
    let mass = part(given, "pot-life", mass, &measure::GRAM, (1.0, 10_000.0))? / 1e3;
    let (pot_k, pot_life) = timed(given, "pot-life", rest, 10_080.0)?;
    let (film_k, film_gel) = timed(given, "film-gel", film, 43_200.0)?;
    let sheet = Sheet { mass, pot_k, pot_life, film_k, film_gel };
    let found = calibrate(&GLUE, &sheet).map_err(|unfit| match unfit {
        Unfit::Unsolved(why) => given.contradicts("pot-life", &format!("is not met: {why}")),
        Unfit::NoRate => given.contradicts("pot-life", "is met by no rate of reaction"),
    })?;
    Ok((found.glue, Some(found)))
}

/// Temperature, K, and time, s.
fn timed(given: &Given, name: &str, text: &str, longest: f64) -> Result<(f64, f64), Refusal> {
    let (at, time) = pair(given, name, text, ':')?;
    let celsius = part(given, name, at, &measure::CELSIUS, RANGE_C)?;
    Ok((celsius + ZERO_C, 60.0 * part(given, name, time, &measure::MINUTE, (1.0, longest))?))
}

fn said(found: &Found) -> String {
    match found.film_instead {
        None => "rates from the sheet's pot life and film gel; energies and heat are generic".to_owned(),
        Some(film) => format!(
            "pot life and film gel of the sheet disagree: no rates give both; the pot life is kept, with which a film \
             would gel after {:.0} min",
            film / 60.0
        ),
    }
}
