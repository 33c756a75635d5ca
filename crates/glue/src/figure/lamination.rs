//! The schedule of a bent lamination: strips, thickness against both limits, the form to cut, lines and glue.

use super::mixing::mixed;
use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::lamination::{self, Bend, Schedule, Wanted};
use crate::unit::measure::{MILLIMETRE, PERCENT, PLAIN, SPREAD};

const LONG: Kind = Kind::between(&MILLIMETRE, 1.0, 1e6);

/// A bow, a rib cap, a ring.
pub static LAMINATION: Figure = Figure {
    name: "lamination",
    about: "Strips of a bent lamination, their thickness against the least radius, and the form to cut",
    inputs: &[
        Input::maybe("radius", LONG, "rise and chord are needed", "of the finished piece's concave face"),
        Input::maybe(
            "rise",
            Kind::between(&MILLIMETRE, 0.01, 1e5),
            "radius is needed",
            "of the concave face's arc over its chord",
        ),
        Input::maybe("chord", LONG, "radius is needed", "across the arc"),
        Input::needed("thickness", Kind::between(&MILLIMETRE, 0.5, 2_000.0), "of the whole stack"),
        Input::preset(
            "bend",
            Kind::Word(BENDS),
            "dry",
            "dry while it is glued, or wet over a form and glued dry after",
        ),
        Input::preset("use", Kind::Word(USES), "highly-stressed", "a part that carries, or one that gives shape"),
        Input::preset(
            "margin",
            Kind::between(&PLAIN, 1.0, 20.0),
            "3",
            "the form's radius by the radius at which strips bent dry break",
        ),
        Input::maybe(
            "laminae",
            Kind::Count { min: 2, max: lamination::MOST },
            "the fewest that the limits allow",
            "strips at hand",
        ),
        Input::maybe(
            "area",
            Kind::between(&crate::unit::measure::SQUARE, 1.0, 1e8),
            "no glue is reckoned",
            "of one glue line",
        ),
        Input::maybe("spread", Kind::between(&SPREAD, 1.0, 5_000.0), "no glue is reckoned", "wet glue on one face"),
        Input::preset("faces", Kind::Count { min: 1, max: 2 }, "2", "faces spread: 1 or 2"),
        Input::preset("waste", Kind::between(&PERCENT, 0.0, 300.0), "0%", "more than that, for cup and brush"),
    ],
    results: &[
        Field::new("laminae", "", "Strips"),
        Field::new("lamina_mm", "mm", "Thickness of each"),
        Field::new("radius_mm", "mm", "Of the finished piece's concave face"),
        Field::new("stressed_radius_mm", "mm", "Least finished radius of a highly stressed part with these strips"),
        Field::new("breaking_radius_mm", "mm", "Where such strips break, bent dry; nothing for strips bent wet"),
        Field::new(
            "soaked_radius_mm",
            "mm",
            "Least radius of soaked strips, by the table of plywood; nothing for dry ones",
        ),
        Field::new("given_back_pct", "%", "Of its curvature, when it is let go"),
        Field::new("form_radius_mm", "mm", "Of the form on which it is glued"),
        Field::new("bending_form_mm", "mm", "Of the form for bending wet; nothing for strips bent dry"),
        Field::new("glue_lines", "", "Between the strips"),
        Field::new("mixed_g", "g", "Glue; nothing without an area and a spread"),
        Field::new("stages", "", "What to do in which order"),
        Field::new("warning", "", "A limit that is not kept; nothing where all are"),
    ],
    formula: "R = (c²/4 + h²)/(2 h); R >= 500 t if highly stressed; bent dry: form >= margin x 80 t, form = \
        (R + T/2)(1 - 1/n²) - T/2; bent wet: bending form 0.8 R, no tighter than soaked plywood of t, face grain across",
    source: "ANC-19 (1944) 2.4203, 5.400, 5.682, 5.6820, 5.6821, 5.6830, 5.6835; FAA AC 43.13-1B (1998) table 1-2; \
        spring-back derived from beam theory",
    compute: lamination,
};

const BENDS: &[&str] = &["dry", "wet-then-dry"];
const USES: &[&str] = &["highly-stressed", "former"];

fn lamination(given: &Given) -> Result<Reckoned, Refusal> {
    let wanted = wanted(given)?;
    let schedule = schedule(given, &wanted)?;
    let lines = schedule.laminae - 1;
    let glue = match (given.maybe("area")?, given.maybe("spread")?) {
        (Some(area), Some(_)) => Some(mixed(given, area * lines as f64)?),
        _ => None,
    };
    let limits = schedule.limits;
    let reckoned = Reckoned::new()
        .with("laminae", Out::Whole(schedule.laminae))
        .number("lamina_mm", schedule.lamina)
        .number("radius_mm", wanted.radius)
        .number("stressed_radius_mm", limits.stressed)
        .with("breaking_radius_mm", Out::maybe(limits.breaking))
        .with("soaked_radius_mm", Out::maybe(limits.soaked))
        .number("given_back_pct", 100.0 * schedule.given_back)
        .number("form_radius_mm", schedule.form)
        .with("bending_form_mm", Out::maybe(schedule.bending_form))
        .with("glue_lines", Out::Whole(lines))
        .with("mixed_g", Out::maybe(glue))
        .with("stages", Out::Word(stages(&wanted, &schedule)))
        .with("warning", warning(&wanted, &schedule).map_or(Out::Nothing, Out::Word));
    Ok(assumed(reckoned, &wanted))
}

/// The lamination asked for.
pub(super) fn wanted(given: &Given) -> Result<Wanted, Refusal> {
    let radius = match (given.maybe("radius")?, given.maybe("rise")?, given.maybe("chord")?) {
        (Some(_), Some(_), _) => return Err(given.contradicts("rise", "stands beside a radius; give one of the two")),
        (Some(_), _, Some(_)) => return Err(given.contradicts("chord", "stands beside a radius; give one of the two")),
        (Some(radius), None, None) => radius,
        (None, Some(rise), Some(chord)) if rise <= chord / 2.0 => lamination::arc_radius(rise, chord),
        (None, Some(_), Some(_)) => {
            return Err(
                given.contradicts("rise", "is more than half its chord, more than half a circle; give the radius")
            );
        }
        (None, Some(_), None) => return Err(given.missing("chord")),
        (None, None, Some(_)) => return Err(given.missing("rise")),
        (None, None, None) => return Err(given.missing("radius")),
    };
    let is = |name: &str, word: &str| given.text(name) == Some(word);
    Ok(Wanted {
        radius,
        thickness: given.number("thickness")?,
        bend: if is("bend", "dry") { Bend::Dry } else { Bend::Wet },
        stressed: is("use", "highly-stressed"),
        margin: given.number("margin")?,
    })
}

fn schedule(given: &Given, wanted: &Wanted) -> Result<Schedule, Refusal> {
    if let Some(laminae) = given.maybe("laminae")? {
        let schedule = lamination::schedule(wanted, laminae as u64);
        return schedule.ok_or_else(|| given.contradicts("laminae", "are so few that they spring back off any form"));
    }
    let why = format!("cannot be bent so far from {} strips or fewer", lamination::MOST);
    lamination::fewest(wanted).ok_or_else(|| given.contradicts("thickness", &why))
}

/// What moisture strips this thick are glued at.
fn moisture(schedule: &Schedule) -> &'static str {
    if schedule.lamina <= lamination::THIN_MM {
        "8 to 12 % (5 to 8 % for a glue that holds water)"
    } else {
        "8 to 12 %"
    }
}

fn stages(wanted: &Wanted, schedule: &Schedule) -> String {
    let moisture = moisture(schedule);
    match wanted.bend {
        Bend::Dry => format!(
            "One stage: strips at {moisture} moisture are spread, bent over the form and clamped in one go, from the middle or \
             from one end; let go, the piece opens to its radius."
        ),
        Bend::Wet => format!(
            "Two stages: first the soaked strips are bent over the bending form, without glue, and stay there until \
             they are down to {moisture} moisture; then they are glued on a form of the finished radius."
        ),
    }
}

fn warning(wanted: &Wanted, schedule: &Schedule) -> Option<String> {
    let limits = schedule.limits;
    let tight = |radius: f64, limit: f64| radius < limit * (1.0 - 1e-12);
    if wanted.stressed && tight(wanted.radius, limits.stressed) {
        return Some("tighter than 500 times a strip's thickness: not for a highly stressed part".to_owned());
    }
    match (schedule.bending_form, limits.breaking) {
        (None, Some(breaking)) if tight(schedule.form, breaking) => {
            Some("the form is tighter than the radius at which dry strips so thick break".to_owned())
        }
        (None, Some(breaking)) if tight(schedule.form, wanted.margin * breaking) => {
            Some("the form keeps less than the margin from the radius at which dry strips so thick break".to_owned())
        }
        (Some(form), _) if limits.soaked.is_none_or(|limit| tight(form, limit)) => {
            Some("the bending form is tighter than soaked strips so thick are known to take".to_owned())
        }
        (Some(_), _) if wanted.stressed => {
            Some("members of highest strength are laminated from strips so thin that they need no soaking".to_owned())
        }
        _ => None,
    }
}

fn assumed(reckoned: Reckoned, wanted: &Wanted) -> Reckoned {
    match wanted.bend {
        Bend::Dry => reckoned
            .assuming("equal strips, dry and elastic: 1/n² of the curvature is given back, of nothing else")
            .assuming(
                "80 t is where 1 in Douglas-fir and southern pine break at 10 to 12 %; thinner stock bends further",
            )
            .assuming(
                "the margin of 3 is the one asked for smooth bent plywood; for strips the source names no number",
            ),
        Bend::Wet => reckoned
            .assuming(
                "a form a fifth smaller for what springs back is what some shops take for plywood; bend a trial strip",
            )
            .assuming("soaked strips bend like soaked plywood as thick, face grain across, as ANC-19 5.6830 supposes")
            .assuming(
                "steamed hickory, elm and ash bend to 3 or 4 times their thickness with a strap outside (5.6814)",
            ),
    }
    .assuming("the stack bends about its middle; its concave face lies on the form")
}
