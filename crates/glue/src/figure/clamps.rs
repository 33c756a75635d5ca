//! Clamps and laminations: pressure to force, nails, screws, straps, vacuum, spring-back, least radii.

use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::clamping::{self, Plywood};
use crate::unit::measure::{KILOPASCAL, LINE_LOAD, METRE, MILLIMETRE, NEWTON, PERCENT, SHARE, SQUARE};

const RADIUS: Kind = Kind::between(&MILLIMETRE, 1.0, 1e6);

const PRESSURE: Kind = Kind::between(&KILOPASCAL, 0.1, 20_000.0);
const WANTED: Input = Input::maybe("wanted", PRESSURE, "nothing is held against it", "the sheet's least pressure");
const MAXIMUM: Input = Input::maybe("maximum", PRESSURE, "nothing is held against it", "the sheet's highest pressure");
const WARNING: Field = Field::new("warning", "", "Too much or too little; nothing where it is neither, or not asked");

/// Pressure to force.
pub static CLAMP_FORCE: Figure = Figure {
    name: "clamp-force",
    about: "Force that a pressure on an area wants, how many clamps give it, and whether it is too much",
    inputs: &[
        Input::needed("area", Kind::between(&SQUARE, 1.0, 1e8), "of the glue line"),
        Input::needed("pressure", PRESSURE, "the sheet's"),
        Input::maybe("clamps", CLAMPS, "as many as each is needed for", "number of clamps"),
        Input::maybe(
            "each",
            FORCE,
            "the clamps give what is wanted",
            "force that one clamp really gives; screw-clamp tells a screw's",
        ),
        MAXIMUM,
    ],
    results: &[
        Field::new("force_n", "N", "Altogether"),
        Field::new("per_clamp_n", "N", "Of each clamp"),
        Field::new("clamps_needed", "", "Clamps; nothing without the force of one"),
        Field::new("given_kpa", "kPa", "Pressure that these clamps give; nothing without the force of one"),
        WARNING,
    ],
    formula: "F = p A; F/n; n = F/each, rounded up",
    source: "definition of pressure; what too much and too little do: ANC-19 (1944) 5.25, 5.250, 5.405",
    compute: clamp_force,
};

const CLAMPS: Kind = Kind::Count { min: 1, max: 10_000 };
const FORCE: Kind = Kind::between(&NEWTON, 0.1, 1e7);

fn clamp_force(given: &Given) -> Result<Reckoned, Refusal> {
    let (pressure, area) = (given.number("pressure")?, given.number("area")?);
    let (force, each) = (pressure * area * 1e-3, given.maybe("each")?);
    let needed = each.map(|each| clamping::clamps_for(force, each));
    let clamps = match (given.maybe("clamps")?, needed) {
        (Some(clamps), _) => clamps,
        (None, Some(needed)) => needed as f64,
        (None, None) => return Err(given.missing("clamps")),
    };
    // What the clamps give counts where it is known; else what is planned.
    let pressed = each.map(|each| each * clamps / area * 1e3);
    let warning = pressing(pressed.unwrap_or(pressure), Some(pressure), given.maybe("maximum")?);
    Ok(Reckoned::new()
        .number("force_n", force)
        .number("per_clamp_n", force / clamps)
        .with("clamps_needed", needed.map_or(Out::Nothing, Out::Whole))
        .with("given_kpa", Out::maybe(pressed))
        .with("warning", warning)
        .assuming("cauls spread the force evenly and every clamp pulls alike"))
}

/// A pressure, kPa, against the least and the highest that are asked for, in words.
fn pressing(pressure: f64, least: Option<f64>, most: Option<f64>) -> Out {
    let noise = 1e-9;
    if let Some(most) = most.filter(|most| pressure > most * (1.0 + noise)) {
        return Out::Word(format!(
            "over-pressed: {pressure:.0} kPa where the sheet allows {most:.0} kPa; the glue is driven out and the joint \
             starves"
        ));
    }
    match least.filter(|least| pressure < least * (1.0 - noise)) {
        Some(least) => Out::Word(format!(
            "under-pressed: {pressure:.0} kPa of the {least:.0} kPa wanted; the glue line stays thick unless the faces \
             fit without force"
        )),
        None => Out::Nothing,
    }
}

/// Nails in place of clamps.
pub static NAIL_GLUING: Figure = Figure {
    name: "nail-gluing",
    about: "Nails or staples of a joint that is pressed by them, and how long they must be",
    inputs: &[
        Input::needed("length", Kind::between(&MILLIMETRE, 1.0, 100_000.0), "of the joint"),
        Input::needed("width", Kind::between(&MILLIMETRE, 1.0, 5_000.0), "of the joint"),
        Input::needed("thickness", Kind::between(&MILLIMETRE, 0.1, 100.0), "of the thinner member, which is nailed on"),
        Input::preset("pitch", Kind::between(&MILLIMETRE, 1.0, 500.0), "1in", "from nail to nail in a row"),
        Input::preset("row-pitch", Kind::between(&MILLIMETRE, 1.0, 500.0), "1/2in", "from row to row"),
    ],
    results: &[
        Field::new("nails", "", "Nails or staples"),
        Field::new("rows", "", "Rows, each staggered against the next"),
        Field::new("per_row", "", "In each row"),
        Field::new("least_length_mm", "mm", "Of a nail, without a strip under its head"),
        Field::new("strip_mm", "mm", "Thickness of a nailing strip, at least"),
        WARNING,
    ],
    formula: "rows = width/row pitch, nails in each = length/pitch, both rounded up; length = thickness + 3/8 in; strip \
        twice the thinner member",
    source: "ANC-19 (1944) 5.405, 5.4612, 5.4712; FAA AC 43.13-1B (1998) 1-11c and e. Staples by the same spacing: common \
        practice, no source",
    compute: nail_gluing,
};

fn nail_gluing(given: &Given) -> Result<Reckoned, Refusal> {
    let (pitch, row_pitch, thickness) =
        (given.number("pitch")?, given.number("row-pitch")?, given.number("thickness")?);
    let nails = clamping::nails(given.number("length")?, given.number("width")?, pitch, row_pitch);
    let warning = if thickness > clamping::NAILED_MM.1 {
        Some("the thinner member is over 1/4 in: nails should not be used")
    } else if thickness > clamping::NAILED_MM.0 {
        Some("the thinner member is over 1/8 in: pressure by nails is doubtful")
    } else if nails.rows > 1 && nails.apart > clamping::NAILS_APART_MM {
        Some("nails lie more than 3/4 in from the nearest in the next row")
    } else {
        None
    };
    Ok(Reckoned::new()
        .with("nails", Out::Whole(nails.rows * nails.per_row))
        .with("rows", Out::Whole(nails.rows))
        .with("per_row", Out::Whole(nails.per_row))
        .number("least_length_mm", thickness + clamping::NAIL_BITE_MM)
        .number("strip_mm", 2.0 * thickness)
        .with("warning", warning.map_or(Out::Nothing, |said| Out::Word(said.to_owned())))
        .assuming("the pressure of nails is low and nobody knows it; the faces must fit without force")
        .assuming("small gussets of ribs are nailed closer than that"))
}

/// A screw.
pub static SCREW_CLAMP: Figure = Figure {
    name: "screw-clamp",
    about: "Force of a screw clamp or jackscrew from the hand on its lever",
    inputs: &[
        Input::needed("hand-force", Kind::between(&NEWTON, 0.1, 10_000.0), "on the lever"),
        Input::needed("lever", Kind::between(&MILLIMETRE, 1.0, 10_000.0), "from the screw's axis to the hand"),
        Input::needed("diameter", Kind::between(&MILLIMETRE, 1.0, 500.0), "mean diameter of the thread"),
        Input::needed("pitch", Kind::between(&MILLIMETRE, 0.1, 200.0), "advance in one turn"),
        Input::preset("friction", Kind::between(&SHARE, 0.0, 1.0), "0.2", "in the thread"),
    ],
    results: &[Field::new("load_n", "N", "Force of the screw")],
    formula: "W = F L (pi D - f K)/(R (K + pi D f)), R = D/2, K pitch",
    source: "ANC-19 (1944) 5.251; its print is damaged in the copy read, and this square-thread form gives table 5-13",
    compute: screw_clamp,
};

fn screw_clamp(given: &Given) -> Result<Reckoned, Refusal> {
    let [hand, lever] = [given.number("hand-force")?, given.number("lever")?];
    let [diameter, pitch, friction] = [given.number("diameter")?, given.number("pitch")?, given.number("friction")?];
    let load = clamping::screw_load(hand, lever, diameter, pitch, friction);
    let load = load.ok_or_else(|| given.contradicts("pitch", "is too steep to be driven with that friction"))?;
    Ok(Reckoned::new()
        .number("load_n", load)
        .assuming("friction in the thread only; a shoe or collar takes more of the hand's force"))
}

/// A strap.
pub static STRAP_PRESSURE: Figure = Figure {
    name: "strap-pressure",
    about: "Pressure under a strap drawn over a round form",
    inputs: &[
        Input::needed("tension", Kind::between(&LINE_LOAD, 0.001, 10_000.0), "pull by width of the strap"),
        Input::needed("radius", RADIUS, "of the form under it"),
        WANTED,
        MAXIMUM,
    ],
    results: &[Field::new("pressure_kpa", "kPa", "On the joint"), WARNING],
    formula: "p = T/R",
    source: "ANC-19 (1944) 5.430",
    compute: strap_pressure,
};

fn strap_pressure(given: &Given) -> Result<Reckoned, Refusal> {
    let pressure = 1e3 * clamping::strap_pressure(given.number("tension")?, given.number("radius")?);
    Ok(Reckoned::new()
        .number("pressure_kpa", pressure)
        .with("warning", pressing(pressure, given.maybe("wanted")?, given.maybe("maximum")?))
        .assuming("the strap slides without friction, so that its tension is the same all round"))
}

/// A bag.
pub static VACUUM: Figure = Figure {
    name: "vacuum",
    about: "Pressure that a vacuum bag gives at an altitude",
    inputs: &[
        Input::needed("altitude", Kind::between(&METRE, -500.0, 11_000.0), "of the shop above the sea"),
        Input::needed("vacuum", Kind::between(&PERCENT, 0.1, 100.0), "share of the outside pressure pumped off"),
        WANTED,
        MAXIMUM,
    ],
    results: &[Field::new("pressure_kpa", "kPa", "On the joint"), WARNING],
    formula: "p = vacuum x 101325 (1 - 2.25577e-5 h)^5.25588 Pa",
    source: "standard atmosphere, from memory",
    compute: vacuum,
};

fn vacuum(given: &Given) -> Result<Reckoned, Refusal> {
    let pressure = clamping::atmosphere_pa(given.number("altitude")?) / 1e3 * given.number("vacuum")? / 100.0;
    Ok(Reckoned::new()
        .number("pressure_kpa", pressure)
        .with("warning", pressing(pressure, given.maybe("wanted")?, given.maybe("maximum")?))
        .assuming("standard air; a low in the weather takes three or four per cent more away"))
}

/// Laminations let go.
pub static SPRING_BACK: Figure = Figure {
    name: "spring-back",
    about: "Radius of a bent lamination after the form is taken away, or the form to cut for a radius",
    inputs: &[
        Input::needed("laminae", Kind::Count { min: 2, max: 1_000 }, "equal layers"),
        Input::maybe("radius", RADIUS, "form-radius is needed", "wanted in the finished piece"),
        Input::maybe("form-radius", RADIUS, "radius is needed", "of the form"),
    ],
    results: &[
        Field::new("radius_mm", "mm", "Of the finished piece"),
        Field::new("form_radius_mm", "mm", "Of the form"),
    ],
    formula: "R = R_form/(1 - 1/n²)",
    source: "derived from beam theory: n equal laminae bent, then glued to one; the rule x/n² is the builders' too",
    compute: spring_back,
};

fn spring_back(given: &Given) -> Result<Reckoned, Refusal> {
    let kept = 1.0 - clamping::spring_back(given.number("laminae")?);
    let (radius, form) = match (given.maybe("radius")?, given.maybe("form-radius")?) {
        (Some(_), Some(_)) => {
            return Err(given.contradicts("form-radius", "stands beside a radius; give one of the two"));
        }
        (Some(radius), None) => (radius, radius * kept),
        (None, Some(form)) => (form / kept, form),
        (None, None) => return Err(given.missing("radius")),
    };
    Ok(Reckoned::new()
        .number("radius_mm", radius)
        .number("form_radius_mm", form)
        .assuming("dry elastic strips of one thickness; wood bent wet or hot is another matter"))
}

const KINDS: &[&str] = &[
    "stressed-lamination",
    "breaking",
    "plywood-dry-90",
    "plywood-dry-0-45",
    "plywood-dry-45",
    "plywood-dry-0",
    "plywood-soaked-90",
    "plywood-soaked-0-45",
    "plywood-soaked-45",
    "plywood-soaked-0",
];

/// How far it may be bent.
pub static BEND_RADIUS: Figure = Figure {
    name: "bend-radius",
    about: "Least radius of a lamination or of aircraft plywood",
    inputs: &[
        Input::needed("thickness", Kind::between(&MILLIMETRE, 0.05, 500.0), "of one lamination, or of the plywood"),
        Input::needed("kind", Kind::Word(KINDS), "what limit; degrees are from the bend's axis to the face grain"),
    ],
    results: &[Field::new("least_radius_mm", "mm", "No smaller")],
    formula: "500 t for highly stressed laminations; 80 t where dry softwood breaks; plywood by table, straight between \
        its thicknesses",
    source: "ANC-19 (1944) 2.4203 and 5.6821; FAA AC 43.13-1B (1998) table 1-2, page 1-25",
    compute: bend_radius,
};

fn bend_radius(given: &Given) -> Result<Reckoned, Refusal> {
    let thickness = given.number("thickness")?;
    let kind = match given.text("kind").unwrap_or("") {
        "stressed-lamination" => return Ok(least(clamping::STRESSED * thickness)),
        "breaking" => {
            return Ok(least(clamping::BREAKING * thickness)
                .assuming("stated for 1 in Douglas-fir and southern pine at 10 to 12 %; thinner stock bends further")
                .assuming("a limit at which wood breaks, without any safety"));
        }
        "plywood-dry-90" => Plywood::DryAcross,
        "plywood-dry-0-45" | "plywood-dry-45" | "plywood-dry-0" => Plywood::DryAlong,
        "plywood-soaked-90" => Plywood::SoakedAcross,
        _ => Plywood::SoakedAlong,
    };
    let radius = clamping::plywood_radius(thickness, kind);
    let (thin, thick) = clamping::PLYWOOD_MM;
    let why = format!("lies off the plywood table, which reaches from {thin} to {thick} mm");
    let radius = radius.ok_or_else(|| given.contradicts("thickness", &why))?;
    Ok(least(radius).assuming("bent cold over a mandrel: dry at 10 % moisture, or soaked thoroughly in hot water"))
}

fn least(radius: f64) -> Reckoned {
    Reckoned::new().number("least_radius_mm", radius)
}
