//! Sample joints: shear of a block, tolerance factors, basis values, the individuals chart.

use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::sample;
use crate::unit::measure::{MILLIMETRE, NEWTON, PERCENT, PLAIN};

const SIDE: Kind = Kind::between(&MILLIMETRE, 0.1, 10_000.0);
const COVERAGE: Input = Input::preset(
    "coverage",
    Kind::between(&PERCENT, 50.0, 99.99),
    "90%",
    "share of all joints that shall be stronger: 90 for a B value, 99 for an A value",
);
const CONFIDENCE: Input =
    Input::preset("confidence", Kind::between(&PERCENT, 50.0, 99.9), "95%", "how sure that shall be");
const VALUES: Kind = Kind::List { measure: &PLAIN, min: -1e12, max: 1e12, least: 2 };
const TOLERANCE_FORMULA: &str = "k = t'(confidence; n - 1, z sqrt(n))/sqrt(n), t' the noncentral t quantile, z the \
    normal quantile of the coverage";
/// Below this many values a basis value is mostly about the smallness of the sample, and a chart's limits wander.
/// Common practice, no source.
const FEW: usize = 10;

/// What is said of a small sample.
fn few(n: usize) -> String {
    format!("only {n} values: the factor is that large because little can be told from so few; break more joints")
}

const NORMAL: &str = "the values are a sample of one normal population";

/// A broken block.
pub static BLOCK_SHEAR: Figure = Figure {
    name: "block-shear",
    about: "Shear strength of a sample block from its breaking load",
    inputs: &[
        Input::needed("load", Kind::between(&NEWTON, 0.1, 1e8), "at which it broke"),
        Input::needed("width", SIDE, "of the glued face"),
        Input::needed("length", SIDE, "of the glued face along the load"),
    ],
    results: &[Field::new("shear_mpa", "MPa", "Load by area")],
    formula: "tau = F/(w l)",
    source: "definition; ASTM D905 blocks are 2 in by 1.5 in",
    compute: block_shear,
};

fn block_shear(given: &Given) -> Result<Reckoned, Refusal> {
    let area = given.number("width")? * given.number("length")?;
    Ok(Reckoned::new()
        .number("shear_mpa", given.number("load")? / area)
        .assuming("average over the face; the share of wood failure says as much as this number"))
}

/// The exact factor.
pub static TOLERANCE_FACTOR: Figure = Figure {
    name: "tolerance-factor",
    about: "How many standard deviations below the mean a basis value lies",
    inputs: &[Input::needed("n", Kind::Count { min: 2, max: 1_000_000 }, "number of values"), COVERAGE, CONFIDENCE],
    results: &[Field::new("k", "", "Basis value = mean - k x standard deviation")],
    formula: TOLERANCE_FORMULA,
    source: "exact one-sided normal tolerance limits; held against the CMH-17-1G table (tests/tables/tolerance_printed.csv)",
    compute: tolerance_factor,
};

fn tolerance_factor(given: &Given) -> Result<Reckoned, Refusal> {
    let n = given.number("n")? as usize;
    let k = factor(given, n as u64)?;
    Ok(Reckoned::new().number("k", k).assuming(NORMAL).assuming_if(n < FEW, &few(n)))
}

fn factor(given: &Given, n: u64) -> Result<f64, Refusal> {
    let (coverage, confidence) = (given.number("coverage")? / 100.0, given.number("confidence")? / 100.0);
    let k = sample::tolerance_factor(n, coverage, confidence);
    k.ok_or_else(|| given.refuse("confidence", "gives no factor that could be found"))
}

/// A lower bound from broken joints.
pub static BASIS_VALUE: Figure = Figure {
    name: "basis-value",
    about: "Strength that most joints exceed, as far as the broken ones can tell",
    inputs: &[Input::needed("values", VALUES, "strengths, all in one unit"), COVERAGE, CONFIDENCE],
    results: &[
        Field::new("mean", "as given", "Mean"),
        Field::new("sd", "as given", "Standard deviation, n - 1"),
        Field::new("k", "", "Tolerance factor"),
        Field::new("basis_value", "as given", "mean - k sd"),
    ],
    formula: TOLERANCE_FORMULA,
    source: "exact one-sided normal tolerance limits, as for tolerance-factor",
    compute: basis_value,
};

fn basis_value(given: &Given) -> Result<Reckoned, Refusal> {
    let values = given.numbers("values")?;
    let (mean, sd) = sample::mean_and_sd(&values).ok_or_else(|| given.missing("values"))?;
    let k = factor(given, values.len() as u64)?;
    let basis = mean - k * sd;
    Ok(Reckoned::new()
        .number("mean", mean)
        .number("sd", sd)
        .number("k", k)
        .number("basis_value", basis)
        .assuming(NORMAL)
        .assuming_if(values.len() < FEW, &few(values.len()))
        .assuming_if(basis < 0.0 && mean > 0.0, "below zero: too few values, or too much scatter, to say anything"))
}

/// Is it still the same shop?
pub static INDIVIDUALS_CHART: Figure = Figure {
    name: "individuals-chart",
    about: "Which values in a row do not belong with the others",
    inputs: &[Input::needed("values", VALUES, "in the order they were found, all in one unit")],
    results: &[
        Field::new("mean", "as given", "Mean"),
        Field::new("lower", "as given", "Lower limit"),
        Field::new("upper", "as given", "Upper limit"),
        Field::new("out_of_control", "", "Places of the values outside, counted from 1"),
    ],
    formula: "mean ± 3 MR/d2, MR the mean moving range, d2 = 2/sqrt(pi): 2.6587 MR",
    source: "any text on control charts, where 2.6587 is rounded to 2.66",
    compute: individuals_chart,
};

fn individuals_chart(given: &Given) -> Result<Reckoned, Refusal> {
    let values = given.numbers("values")?;
    let chart = sample::individuals(&values).ok_or_else(|| given.missing("values"))?;
    let few = format!("only {} values: limits from so few move with every further one", values.len());
    Ok(Reckoned::new()
        .number("mean", chart.mean)
        .number("lower", chart.lower)
        .number("upper", chart.upper)
        .with("out_of_control", Out::Wholes(chart.outside))
        .assuming("the values are independent and in the order they were found")
        .assuming_if(values.len() < FEW, &few))
}
