//! Cure by chemistry: times at one temperature, how far and to which glass, a ratio off balance, wood warming through.

use super::shape;
use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::cure::glass::{GENERIC as GLASS, STALLED, State};
use crate::cure::isothermal::{Isothermal, Reached};
use crate::cure::kinetics::GENERIC;
use crate::cure::network::Mix;
use crate::unit::measure;
use crate::wood;

const RATE: Kind = Kind::between(&measure::RATE, 1e-10, 1.0);
const EXPONENT: Kind = Kind::between(&measure::PLAIN, 0.0, 5.0);

/// Time to a conversion.
pub static ISOTHERMAL_CURE: Figure = Figure {
    name: "isothermal-cure",
    about: "Time to a share of cure at one temperature, from published rate constants",
    inputs: &[
        Input::needed("k1", RATE, "rate without catalysis at this temperature"),
        Input::needed("k2", Kind::between(&measure::RATE, 0.0, 1.0), "rate catalysed by what has reacted"),
        Input::needed("m", EXPONENT, "exponent of what has reacted"),
        Input::needed("n", EXPONENT, "exponent of what is left"),
        Input::preset("plateau", Kind::between(&measure::SHARE, 0.01, 1.2), "1", "share at which the cure stops"),
        Input::needed(
            "conversion",
            Kind::between(&measure::SHARE, 1e-6, 1.0),
            "share of full cure, not of the plateau",
        ),
    ],
    results: &[Field::new("time_min", "min", "Time to that share; nothing: never, it lies at the plateau or above")],
    formula: "t = integral of da/((k1 + k2 a^m)(1-a)^(n/2)(r-a)^(n/2)), r the plateau; r = 1 gives (1-a)^n",
    source: "Kamal and Sourour (1976), from memory; the form with a plateau as in a public set of constants \
        (tests/tables/published_kinetics.csv)",
    compute: isothermal_cure,
};

fn isothermal_cure(given: &Given) -> Result<Reckoned, Refusal> {
    let (cure, conversion) = rates(given)?;
    let (time, never) = match cure.time(conversion) {
        Reached::After { seconds, .. } => (Out::Number(seconds / 60.0), false),
        Reached::Never => (Out::Nothing, true),
        Reached::NotSettled => {
            return Err(given.contradicts("conversion", "with these rates gives an integral that does not settle"));
        }
    };
    Ok(Reckoned::new()
        .with("time_min", time)
        .assuming("the temperature of the glue does not change, and it does not heat itself")
        .assuming_if(never, "the cure stops before this share is reached"))
}

/// The rates asked for, and the share.
pub(super) fn rates(given: &Given) -> Result<(Isothermal, f64), Refusal> {
    let cure = Isothermal {
        k1: given.number("k1")?,
        k2: given.number("k2")?,
        m: given.number("m")?,
        n: given.number("n")?,
        plateau: given.number("plateau")?,
    };
    Ok((cure, given.number("conversion")?))
}

const THEN: &str = "temperature:time, such as 60C:6h; -40 to 150 C, 0.001 to 87600 h";

/// How cured.
pub static CURED_STATE: Figure = Figure {
    name: "cured-state",
    about: "Share cured and glass transition after a time at one temperature, and after a post-cure",
    inputs: &[
        Input::needed("temperature", Kind::between(&measure::CELSIUS, -40.0, 150.0), "of the glue line"),
        Input::needed("time", Kind::between(&measure::HOUR, 0.0, 87_600.0), "at that temperature"),
        Input::maybe("then", Kind::Shape(THEN), "no post-cure", "post-cure of the glue line after that"),
    ],
    results: &[
        Field::new("conversion", "", "Share of the groups that have reacted"),
        Field::new("glass_transition_c", "C", "Glass transition; above it the glue is soft"),
        Field::new(
            "stalled",
            "",
            "True: the glass holds the cure below a tenth of its pace; more time here adds little",
        ),
    ],
    formula: "da/dt = k/(1 + k/kd) (1-a)², k = k1 + k2 a, kd = kd0 exp(C1 (T-Tg)/(C2 + |T-Tg|)), \
        Tg = Tg0 + (Tg1-Tg0) l a/(1 - (1-l) a)",
    source: "Rabinowitch, DiBenedetto in Pascault and Williams' form, a WLF-like diffusion rate: from memory; a generic \
        set (Tg -30 to 75 °C), nobody's product (docs/science/cured-state.md)",
    compute: cured_state,
};

fn cured_state(given: &Given) -> Result<Reckoned, Refusal> {
    let stages = stages(given)?;
    let kelvin: Vec<(f64, f64)> = stages.iter().map(|(c, hours)| (c + 273.15, hours * 3_600.0)).collect();
    let state: State = GLASS
        .after(&GENERIC, &kelvin)
        .map_err(|unsolved| given.contradicts("time", &format!("is not computed: {unsolved}")))?;
    let at = stages.last().map_or(0.0, |stage| stage.0);
    let glass = state.glass_k - 273.15;
    let stalled = format!(
        "stalled at {at:.1} °C: less than {:.0} % of the chemical pace is left, and only warmth takes it further",
        100.0 * STALLED
    );
    Ok(Reckoned::new()
        .number("conversion", state.conversion)
        .number("glass_transition_c", glass)
        .with("stalled", Out::Flag(state.stalled))
        .assuming("a generic epoxy that cures at room temperature; the sheet's own figures go before")
        .assuming_if(state.stalled, &stalled)
        .assuming_if(glass < 50.0, "in the sun a dark skin gets hotter than this glass transition: the glue goes soft"))
}

/// The stages asked for, °C and h.
pub(super) fn stages(given: &Given) -> Result<Vec<(f64, f64)>, Refusal> {
    let first = (given.number("temperature")?, given.number("time")?);
    Ok(std::iter::once(first).chain(then(given)?).collect())
}

/// The post-cure, °C and h.
fn then(given: &Given) -> Result<Option<(f64, f64)>, Refusal> {
    let Some(text) = given.text("then") else { return Ok(None) };
    let (at, time) = shape::pair(given, "then", text, ':')?;
    let celsius = shape::part(given, "then", at, &measure::CELSIUS, (-40.0, 150.0))?;
    Ok(Some((celsius, shape::part(given, "then", time, &measure::HOUR, (0.001, 87_600.0))?)))
}

const EQUIVALENTS: &str = "amine hydrogens:epoxides, such as 0.9:1, or hydrogens for each epoxide, such as 0.9; parts \
    above 0 and up to 1000, neither more than 100 times the other";

/// Ratio off balance.
pub static OFF_RATIO: Figure = Figure {
    name: "off-ratio",
    about: "What too much or too little amine hardener does: gel point, highest cure, what is never bound in",
    inputs: &[
        Input::needed("equivalents", Kind::Shape(EQUIVALENTS), "amine hydrogens to epoxides in the mix"),
        Input::preset("functionality", Kind::Count { min: 3, max: 12 }, "4", "hydrogens of one amine molecule"),
        Input::preset("eew", Kind::between(&measure::EQUIVALENT, 50.0, 10_000.0), "187", "epoxide equivalent weight"),
        Input::preset(
            "ahew",
            Kind::between(&measure::EQUIVALENT, 5.0, 5_000.0),
            "60",
            "amine hydrogen equivalent weight",
        ),
        Input::maybe(
            "conversion",
            Kind::between(&measure::SHARE, 0.0, 1.0),
            "full: all of the scarcer group",
            "share of the scarcer group that has reacted",
        ),
    ],
    results: &[
        Field::new("gel_conversion", "", "Share of the epoxide reacted at the gel point; nothing: it never gels"),
        Field::new("limit_conversion", "", "Share of the epoxide that can react at all"),
        Field::new("sol_pct", "%", "Mass not bound to the network"),
    ],
    formula: "gel sqrt(r/(f-1)); limit min(1, r); sol = wA x^f + wB (1 - p + p x^(f-1))², \
        s (1 + x + … + x^(f-2)) = 1, s = p²/r",
    source: "Flory and Stockmayer; Macosko and Miller, Macromolecules 9 (1976) 199, from memory; all hydrogens alike, no \
        rings, no other reaction",
    compute: off_ratio,
};

fn off_ratio(given: &Given) -> Result<Reckoned, Refusal> {
    let (mix, conversion) = mix(given)?;
    Ok(Reckoned::new()
        .with("gel_conversion", Out::maybe(mix.gel()))
        .number("limit_conversion", mix.limit())
        .number("sol_pct", 100.0 * mix.sol(conversion.unwrap_or(1.0)))
        .assuming(mix.said())
        .assuming_if(conversion.is_none(), "all of the scarcer group has reacted")
        .assuming("the resin's molecules carry two epoxides"))
}

/// The mix asked for, and the share of the scarcer group that has reacted.
pub(super) fn mix(given: &Given) -> Result<(Mix, Option<f64>), Refusal> {
    let mix = Mix {
        ratio: equivalents(given)?,
        functionality: given.number("functionality")? as u32,
        eew: given.number("eew")?,
        ahew: given.number("ahew")?,
    };
    Ok((mix, given.maybe("conversion")?))
}

fn equivalents(given: &Given) -> Result<f64, Refusal> {
    let name = "equivalents";
    let text = given.text(name).ok_or_else(|| given.missing(name))?;
    let parts = |text: &str| shape::part(given, name, text, &measure::PLAIN, (1e-6, 1_000.0));
    let ratio = match text.split_once(':') {
        Some((hydrogens, epoxides)) => parts(hydrogens.trim())? / parts(epoxides.trim())?,
        None => parts(text)?,
    };
    if (0.01..=100.0).contains(&ratio) {
        Ok(ratio)
    } else {
        Err(given.refuse(name, "has one side more than 100 times the other"))
    }
}

/// Wood warming through.
pub static GLUE_LINE_WARMUP: Figure = Figure {
    name: "glue-line-warmup",
    about: "Time until a glue line inside wood has covered a share of the way to the air's temperature",
    inputs: &[
        Input::needed("thickness", Kind::between(&measure::MILLIMETRE, 0.1, 1_000.0), "of the wood over all"),
        Input::needed(
            "film",
            Kind::between(&measure::HEAT_TRANSFER, 1.0, 1_000.0),
            "heat transfer; still air about 10",
        ),
        Input::preset("share", Kind::between(&measure::SHARE, 0.02, 0.999), "0.9", "of the step from wood to air"),
        Input::preset("sides", Kind::Count { min: 1, max: 2 }, "2", "faces in the warm air"),
    ],
    results: &[Field::new("time_min", "min", "Until the middle, or the face away from the air, is that far")],
    formula: "1 - share = sum Cn exp(-zn² Fo), zn tan zn = Bi = h L/k, Cn = 4 sin zn/(2 zn + sin 2 zn), Fo = a t/L²; \
        L half the thickness, with one face all of it",
    source: "series of a slab, any text on heat transfer; spruce at 12 %: k 0.12 W/mK, a 1.6e-7 m²/s after Wood Handbook \
        chapter 4",
    compute: glue_line_warmup,
};

fn glue_line_warmup(given: &Given) -> Result<Reckoned, Refusal> {
    let one = given.number("sides")? < 1.5;
    let thickness = given.number("thickness")? * if one { 2.0 } else { 1.0 };
    let time = wood::heat_up_ms(thickness, given.number("film")?, given.number("share")?);
    let time = time.ok_or_else(|| given.contradicts("thickness", "and film give no time"))?;
    Ok(Reckoned::new()
        .number("time_min", time / 60e3)
        .assuming("the air changes at once and then stays; the wood starts at one temperature")
        .assuming("spruce at 12 %, heat going across the grain")
        .assuming_if(one, "the other face is against something that takes no heat"))
}
