//! Mixing: what was mixed against what the sheet asks, how little can be weighed, equivalents, how much to mix.

use super::shape::{self, RATIO};
use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::mix::doubt::smallest_resin;
use crate::mix::target::{Wanted, amounts};
use crate::mix::{Scale, Weighing};
use crate::unit::measure::{EQUIVALENT, GRAM, PERCENT, SPREAD, SQUARE};

/// How little can be weighed.
pub static WEIGH_LIMIT: Figure = Figure {
    name: "weigh-limit",
    about: "Smallest amount of resin at which a scale can tell that the ratio is within its tolerance",
    inputs: &[
        Input::needed("resolution", Kind::between(&GRAM, 1e-4, 1_000.0), "step of the scale's display"),
        Input::needed("nominal", Kind::Shape(RATIO), "by weight"),
        Input::needed("tolerance", Kind::between(&PERCENT, 0.01, 50.0), "allowed deviation of the ratio"),
    ],
    results: &[
        Field::new("smallest_resin_g", "g", "Below this no mix can be told to be within"),
        Field::new("comfortable_resin_g", "g", "Three times that: a third of the tolerance goes to the scale"),
    ],
    formula: "m = 2 d/sqrt(6) sqrt(1 + 1/r²)/tolerance, r hardener by resin, d resolution",
    source: "JCGM 100:2008 (GUM) F.2.2.1 for a step's uncertainty d/sqrt(12); JCGM 106:2012 for the guard band",
    compute: weigh_limit,
};

fn weigh_limit(given: &Given) -> Result<Reckoned, Refusal> {
    let ratio = shape::ratio(given, "nominal")?.ok_or_else(|| given.missing("nominal"))?;
    let scale = Scale { step: given.number("resolution")?, accuracy: None };
    let smallest = smallest_resin(ratio, given.number("tolerance")? / 100.0, Weighing::Retared, scale);
    let smallest = smallest.ok_or_else(|| given.refuse("nominal", "leaves no smallest amount"))?;
    Ok(Reckoned::new()
        .number("smallest_resin_g", smallest)
        .number("comfortable_resin_g", 3.0 * smallest)
        .assuming("resolution only: the scale's accuracy counts as perfect")
        .assuming("resin and hardener are each weighed with the scale set to zero"))
}

/// Hardener by equivalents.
pub static HARDENER_PER_HUNDRED: Figure = Figure {
    name: "hardener-per-hundred",
    about: "Parts of amine hardener for a hundred parts of epoxy resin, one hydrogen for each epoxide",
    inputs: &[
        Input::needed("eew", Kind::between(&EQUIVALENT, 50.0, 10_000.0), "epoxide equivalent weight of the resin side"),
        Input::needed("ahew", Kind::between(&EQUIVALENT, 5.0, 5_000.0), "amine hydrogen equivalent weight"),
    ],
    results: &[Field::new("hardener_phr", "per 100", "Parts by weight for 100 parts of resin")],
    formula: "phr = 100 AHEW/EEW",
    source: "common to all texts on epoxy resins; worked examples in tests/tables/equivalents.csv",
    compute: hardener_per_hundred,
};

fn hardener_per_hundred(given: &Given) -> Result<Reckoned, Refusal> {
    Ok(Reckoned::new()
        .number("hardener_phr", 100.0 * given.number("ahew")? / given.number("eew")?)
        .assuming("the maker's ratio goes before: it need not be one hydrogen for each epoxide"))
}

/// Equivalent weight of a blend.
pub static BLEND_EQUIVALENT: Figure = Figure {
    name: "blend-equivalent",
    about: "Equivalent weight of resins, thinners and fillers mixed together",
    inputs: &[Input::needed("parts", Kind::Shape(shape::PARTS), "mass and equivalent weight of each part")],
    results: &[Field::new("equivalent_weight", "g/eq", "Of the whole")],
    formula: "total mass / sum(m_i/E_i)",
    source: "balance of reactive groups; worked example in tests/tables/equivalents.csv",
    compute: blend_equivalent,
};

fn blend_equivalent(given: &Given) -> Result<Reckoned, Refusal> {
    let parts = shape::blend(given, "parts")?;
    let mass: f64 = parts.iter().map(|part| part.0).sum();
    let groups: f64 = parts.iter().filter_map(|part| part.1.map(|equivalent| part.0 / equivalent)).sum();
    if groups <= 0.0 {
        return Err(given.refuse("parts", "has no part that reacts"));
    }
    let inert = parts.iter().any(|part| part.1.is_none());
    Ok(Reckoned::new()
        .number("equivalent_weight", mass / groups)
        .assuming_if(inert, "parts marked with a dash do not react"))
}

/// How much glue a joint wants.
pub static GLUE_AMOUNT: Figure = Figure {
    name: "glue-amount",
    about: "Glue to mix for an area of glue line",
    inputs: &[
        Input::needed("area", Kind::between(&SQUARE, 1.0, 1e8), "of the glue line, counted once"),
        Input::needed("spread", Kind::between(&SPREAD, 1.0, 5_000.0), "wet glue on one face"),
        Input::preset("faces", Kind::Count { min: 1, max: 2 }, "1", "faces spread: 1 or 2"),
        Input::preset("waste", Kind::between(&PERCENT, 0.0, 300.0), "0%", "more than that, for cup and brush"),
        Input::maybe("nominal", Kind::Shape(RATIO), "no split into resin and hardener", "ratio by weight"),
    ],
    results: &[
        Field::new("mixed_g", "g", "Both together"),
        Field::new("resin_g", "g", "Resin; nothing without a ratio"),
        Field::new("hardener_g", "g", "Hardener; nothing without a ratio"),
    ],
    formula: "m = area x spread x faces x (1 + waste)",
    source: "plain mass balance; spreads per face are the sheet's or a handbook's",
    compute: glue_amount,
};

/// Glue, g, for an area, mm², from the inputs spread, faces and waste.
pub(super) fn mixed(given: &Given, area_mm2: f64) -> Result<f64, Refusal> {
    let waste = 1.0 + given.number("waste")? / 100.0;
    Ok(area_mm2 / 1e6 * given.number("spread")? * given.number("faces")? * waste)
}

fn glue_amount(given: &Given) -> Result<Reckoned, Refusal> {
    let mixed = mixed(given, given.number("area")?)?;
    let ratio = shape::ratio(given, "nominal")?;
    let split = ratio.and_then(|ratio| amounts(ratio, Wanted::Total(mixed)));
    Ok(Reckoned::new()
        .number("mixed_g", mixed)
        .with("resin_g", Out::maybe(split.map(|split| split.resin)))
        .with("hardener_g", Out::maybe(split.map(|split| split.hardener)))
        .assuming("the spread is that of one face; two faces take twice as much")
        .assuming_if(ratio.is_none(), "no ratio given, so that the mix is not split"))
}

/// Share of an assembly period used.
pub static ASSEMBLY_USE: Figure = Figure {
    name: "assembly-use",
    about: "Share of the assembly period used up by open and closed time together",
    inputs: &[
        Input::needed("open", TIME, "time with the spread faces open"),
        Input::needed("closed", TIME, "time from putting together to full pressure"),
        Input::needed("open-limit", LIMIT, "longest open time on the sheet"),
        Input::needed("closed-limit", LIMIT, "longest closed time on the sheet"),
    ],
    results: &[Field::new("used_share", "", "1 is all of it; above, the joint is too late")],
    formula: "open/open-limit + closed/closed-limit",
    source: "ANC-19 (1944) table 5-12 note: one minute open counts as two closed, where the limits are as one to two",
    compute: assembly_use,
};

const TIME: Kind = Kind::between(&crate::unit::measure::MINUTE, 0.0, 10_080.0);
const LIMIT: Kind = Kind::between(&crate::unit::measure::MINUTE, 0.01, 10_080.0);

fn assembly_use(given: &Given) -> Result<Reckoned, Refusal> {
    let open = given.number("open")? / given.number("open-limit")?;
    let closed = given.number("closed")? / given.number("closed-limit")?;
    Ok(Reckoned::new()
        .number("used_share", open + closed)
        .assuming("both limits hold at the same temperature, and their use adds up"))
}
