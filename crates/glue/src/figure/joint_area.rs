//! Glued faces of the usual joints, and the glue for them.

use super::joints::slope;
use super::mixing::mixed;
use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::faces::{self, Joint};
use crate::unit::measure::{MILLIMETRE, PERCENT, SHARE, SPREAD};

const LONG: Kind = Kind::between(&MILLIMETRE, 0.1, 50_000.0);
const NOT: &str = "joints that do not have it";

/// The area of a joint.
pub static JOINT_AREA: Figure = Figure {
    name: "joint-area",
    about: "Glued area of a usual joint from its measures, and the glue for it",
    inputs: &[
        Input::needed("sort", Kind::Word(SORTS), "which joint"),
        Input::maybe("length", LONG, NOT, "along the joint: overlap, strip, plate, corner, face"),
        Input::maybe("width", LONG, NOT, "across it: of the lap, scarf, plate, face, or of the web in its slot"),
        Input::maybe("thickness", LONG, NOT, "of the scarfed members or of the web"),
        Input::maybe("depth", LONG, NOT, "of the groove, or of the member with the slot"),
        Input::maybe("slope", Kind::Shape("12, 1:12 or 12:1; one in 1 to 100"), NOT, "of the scarf"),
        Input::maybe("leg", LONG, NOT, "of the fillet on either member"),
        Input::maybe(
            "covered",
            Kind::between(&SHARE, 0.01, 1.0),
            "all of a gusset",
            "share of a gusset that lies on wood",
        ),
        Input::preset("joints", Kind::Count { min: 1, max: 100_000 }, "1", "joints alike"),
        Input::maybe("spread", Kind::between(&SPREAD, 1.0, 5_000.0), "no glue is reckoned", "wet glue on one face"),
        Input::preset("faces", Kind::Count { min: 1, max: 2 }, "2", "faces spread of each pair: 1 or 2"),
        Input::preset("waste", Kind::between(&PERCENT, 0.0, 300.0), "0%", "more than that, for cup and brush"),
    ],
    results: &[
        Field::new("area_mm2", "mm2", "Of one joint; two faces that meet count once"),
        Field::new("pairs", "", "Pairs of faces that meet in it"),
        Field::new("all_mm2", "mm2", "Of all the joints"),
        Field::new("mixed_g", "g", "Glue for all of them; nothing without a spread"),
        Field::new("fillet_ml", "ml", "Body of all the fillets, if it is of glue; nothing for other joints"),
    ],
    formula: "lap, butt: l w; scarf: w t sqrt(n² + 1); web let into a cap: l (2 d + t); gussets: 2 l w covered, half for \
        triangles; web in a slot: 2 d (w + t); fillet: 2 l leg; glue = area x spread x faces x (1 + waste)",
    source: "geometry; end grain of a butt joint at best a quarter of the wood's strength: ANC-19 (1944) 5.271",
    compute: joint_area,
};

const SORTS: &[&str] =
    &["lap", "scarf", "web-in-cap", "gusset-pair", "triangular-gusset-pair", "web-in-slot", "fillet", "butt"];

/// Which measures each sort wants.
fn measures(sort: &str) -> &'static [&'static str] {
    match sort {
        "scarf" => &["width", "thickness", "slope"],
        "web-in-cap" => &["length", "thickness", "depth"],
        "gusset-pair" | "triangular-gusset-pair" => &["length", "width", "covered"],
        "web-in-slot" => &["width", "thickness", "depth"],
        "fillet" => &["length", "leg"],
        _ => &["length", "width"],
    }
}

fn joint_area(given: &Given) -> Result<Reckoned, Refusal> {
    let sort = given.text("sort").unwrap_or("");
    let wanted = measures(sort);
    for name in ["length", "width", "thickness", "depth", "slope", "leg", "covered"] {
        if given.has(name) && !wanted.contains(&name) {
            return Err(given.contradicts(name, &format!("is no measure of a joint of sort {sort}")));
        }
    }
    let joint = joint(given, sort)?;
    let (glued, joints) = (faces::glued(&joint), given.number("joints")?);
    let all = glued.area * joints;
    let glue = given.maybe("spread")?.map(|_| mixed(given, all)).transpose()?;
    let body = match joint {
        Joint::Fillet { length, leg } => Some(faces::fillet_body(length, leg) * joints / 1e3),
        _ => None,
    };
    Ok(assumed(sort, glued.area)
        .with("pairs", Out::Whole(glued.faces))
        .number("all_mm2", all)
        .with("mixed_g", Out::maybe(glue))
        .with("fillet_ml", Out::maybe(body)))
}

fn joint(given: &Given, sort: &str) -> Result<Joint, Refusal> {
    let of = |name: &str| given.number(name);
    Ok(match sort {
        "lap" => Joint::Lap { length: of("length")?, width: of("width")? },
        "scarf" => Joint::Scarf { width: of("width")?, thickness: of("thickness")?, slope: slope(given)? },
        "web-in-cap" => Joint::WebInCap { length: of("length")?, thickness: of("thickness")?, depth: of("depth")? },
        "gusset-pair" | "triangular-gusset-pair" => Joint::GussetPair {
            length: of("length")?,
            width: of("width")?,
            triangular: sort == "triangular-gusset-pair",
            covered: given.maybe("covered")?.unwrap_or(1.0),
        },
        "web-in-slot" => Joint::WebInSlot { width: of("width")?, thickness: of("thickness")?, depth: of("depth")? },
        "fillet" => Joint::Fillet { length: of("length")?, leg: of("leg")? },
        _ => Joint::Butt { length: of("length")?, width: of("width")? },
    })
}

fn assumed(sort: &str, area: f64) -> Reckoned {
    let reckoned = Reckoned::new().number("area_mm2", area);
    match sort {
        "web-in-cap" => reckoned.assuming("the web's edge reaches the bottom of its groove and is glued there too"),
        "gusset-pair" | "triangular-gusset-pair" => {
            reckoned.assuming("one plate on either side; the share that lies on wood is the same on both")
        }
        "web-in-slot" => reckoned.assuming("the slot goes through: both sides and both edges are glued, no bottom"),
        "fillet" => reckoned
            .assuming("a three-sided body with two legs alike; hollowed round it takes 43 % of that glue")
            .assuming("the glue spread on the faces does not count the body"),
        "butt" => reckoned.assuming("end grain reaches about a quarter of the wood's tensile strength at best"),
        _ => reckoned,
    }
}
