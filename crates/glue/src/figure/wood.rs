//! Wood that moves and takes up water: width, water of the glue, meter correction.

use super::{Field, Figure, Given, Input, Kind, Reckoned, Refusal};
use crate::timber;
use crate::unit::measure::{CELSIUS, MILLIMETRE, PERCENT, PLAIN, SHARE, SPREAD};

const MOISTURE: Kind = Kind::between(&PERCENT, 0.0, 30.0);

/// How far wood swells or shrinks.
pub static WOOD_MOVEMENT: Figure = Figure {
    name: "wood-movement",
    about: "How much wider or narrower a piece becomes between two moistures",
    inputs: &[
        Input::needed("width", Kind::between(&MILLIMETRE, 0.1, 50_000.0), "across the grain, at the start"),
        Input::maybe(
            "coefficient",
            Kind::between(&PLAIN, 0.0001, 0.01),
            "shrinkage is needed",
            "change per percent of moisture by width, radial or tangential: 0.00263 for flat-sawn Sitka spruce",
        ),
        Input::maybe(
            "shrinkage",
            Kind::between(&PERCENT, 0.3, 20.0),
            "coefficient is needed",
            "total shrinkage from green to oven-dry, radial or tangential",
        ),
        Input::needed("from", MOISTURE, "moisture at the start"),
        Input::needed("to", MOISTURE, "moisture at the end"),
    ],
    results: &[
        Field::new("change_mm", "mm", "Change of the width; negative: it shrinks"),
        Field::new("coefficient_per_pct", "1/%", "Change per percent of moisture, by width"),
    ],
    formula: "dD = D C (to - from); C = (S/30)/(100 - S (1 - 10/30)) from total shrinkage S in %",
    source: "Wood Handbook FPL-GTR-190 (2010) table 13-5, stated for 6 to 14 %; dD from memory; C derived from its \
        eq. 4-7, and gives the cells of table 13-5 that were read",
    compute: wood_movement,
};

fn wood_movement(given: &Given) -> Result<Reckoned, Refusal> {
    let coefficient = match (given.maybe("coefficient")?, given.maybe("shrinkage")?) {
        (Some(_), Some(_)) => {
            return Err(given.contradicts("shrinkage", "stands beside a coefficient; give one of the two"));
        }
        (Some(coefficient), None) => coefficient,
        (None, Some(shrinkage)) => timber::coefficient(shrinkage),
        (None, None) => return Err(given.missing("coefficient")),
    };
    let (from, to) = (given.number("from")?, given.number("to")?);
    let (low, high) = timber::STATED_PCT;
    let outside = from.min(to) < low || from.max(to) > high;
    Ok(Reckoned::new()
        .number("change_mm", timber::movement(given.number("width")?, coefficient, from, to))
        .number("coefficient_per_pct", coefficient)
        .assuming_if(given.has("shrinkage"), "fibre saturation at 30 %, shrinkage in a straight line below")
        .assuming_if(outside, "coefficients are stated for 6 to 14 % moisture; outside, the change is less sure"))
}

/// Water that the glue brings.
pub static GLUE_WATER: Figure = Figure {
    name: "glue-water",
    about: "Rise of wood moisture when all water of the glue goes into the laminations",
    inputs: &[
        Input::needed("spread", Kind::between(&SPREAD, 1.0, 2_000.0), "wet glue per area of glue line"),
        Input::needed("water", Kind::between(&SHARE, 0.0, 0.95), "share of water in the wet glue; epoxy: 0"),
        Input::needed("laminations", Kind::Count { min: 2, max: 1_000 }, "number of layers"),
        Input::needed("thickness", Kind::between(&MILLIMETRE, 0.1, 500.0), "of one lamination"),
        Input::needed("specific-gravity", Kind::between(&PLAIN, 0.1, 1.3), "of the oven-dry wood: spruce 0.4"),
    ],
    results: &[Field::new("moisture_rise_pct", "%", "Points by which the moisture rises")],
    formula: "dM = 100 S w (n-1)/n / (t G 1000 kg/m3)",
    source: "derived here from the masses; gives the rows of ANC-19 (1944) table 5-11 to their last digit",
    compute: glue_water,
};

fn glue_water(given: &Given) -> Result<Reckoned, Refusal> {
    let rise = timber::glue_water(
        given.number("spread")?,
        given.number("water")?,
        given.number("laminations")?,
        given.number("thickness")?,
        given.number("specific-gravity")?,
    );
    Ok(Reckoned::new()
        .number("moisture_rise_pct", rise)
        .assuming("all water of the glue goes into the wood, evenly, and none into the air"))
}

/// What a cold meter means.
pub static METER_CORRECTION: Figure = Figure {
    name: "meter-correction",
    about: "Moisture of cold or warm wood from what a resistance meter shows",
    inputs: &[
        Input::needed("reading", Kind::between(&PERCENT, 6.0, 25.0), "as shown, set for the species"),
        Input::needed("wood-temperature", Kind::between(&CELSIUS, -20.0, 50.0), "of the wood, not of the air"),
    ],
    results: &[Field::new("wood_moisture_pct", "%", "Moisture of the wood")],
    formula: "reading + correction, straight between the points of the grid 6, 10, 15, 20, 25 % by -20 to 50 °C",
    source: "James, FPL-GTR-6 (1988) figure 5 as digitised in a public project; the figure itself was not read",
    compute: meter_correction,
};

fn meter_correction(given: &Given) -> Result<Reckoned, Refusal> {
    let moisture = timber::metered(given.number("reading")?, given.number("wood-temperature")?);
    let moisture = moisture.ok_or_else(|| given.refuse("reading", "lies off the grid"))?;
    Ok(Reckoned::new()
        .number("wood_moisture_pct", moisture)
        .assuming("a resistance meter calibrated at 21 °C (70 °F) that does not correct for temperature itself"))
}
