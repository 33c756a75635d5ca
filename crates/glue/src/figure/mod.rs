//! Every calculation askable by itself: a name, inputs as typed text, and a result with the basis it stands on.
//!
//! A figure is a row of [`ALL`]: what it wants, in which unit and range, what it gives, the formula, the source, and
//! the function that computes it. [`reckon`] reads and checks every input before the function is called, so that a
//! figure only ever sees numbers inside its ranges; what it returns is checked to be finite. Nothing is clamped.

pub mod course;
pub mod given;
pub mod input;
pub mod listed;
pub mod outcome;
pub mod words;

mod air;
mod clamps;
mod cure;
mod finish;
mod joint_age;
mod joint_area;
mod joints;
mod lamination;
mod law;
mod mixing;
mod pot;
mod ratio;
mod samples;
pub mod shape;
mod wood;

pub use given::Given;
pub use input::{Input, Kind, Preset};
pub use outcome::{Answer, Basis, Cause, Out, Reckoned, Refusal};

/// What a figure gives.
#[derive(Debug)]
pub struct Field {
    /// Its name on the wire.
    pub name: &'static str,
    /// Unit; empty for a word or a plain number.
    pub unit: &'static str,
    /// What it is.
    pub help: &'static str,
}

impl Field {
    /// A field of a result.
    pub const fn new(name: &'static str, unit: &'static str, help: &'static str) -> Field {
        Field { name, unit, help }
    }
}

/// One calculation.
#[derive(Debug)]
pub struct Figure {
    /// Its word.
    pub name: &'static str,
    /// What it is for, in a line.
    pub about: &'static str,
    /// What it wants.
    pub inputs: &'static [Input],
    /// What it gives, in order.
    pub results: &'static [Field],
    /// The formula.
    pub formula: &'static str,
    /// Where it comes from, and what is from memory.
    pub source: &'static str,
    /// Computes it from inputs that were read and are in range.
    pub compute: fn(&Given) -> Result<Reckoned, Refusal>,
}

/// Every figure, in the order they are listed.
pub static ALL: &[&Figure] = &[
    &air::WOOD_MOISTURE,
    &air::DEW_POINT,
    &air::HEATED_AIR,
    &air::WET_BULB,
    &wood::WOOD_MOVEMENT,
    &wood::GLUE_WATER,
    &wood::METER_CORRECTION,
    &ratio::MIX_RATIO,
    &mixing::WEIGH_LIMIT,
    &mixing::HARDENER_PER_HUNDRED,
    &mixing::BLEND_EQUIVALENT,
    &cure::OFF_RATIO,
    &law::CURE_LAW,
    &finish::CURE_FINISH,
    &finish::EQUIVALENT_AGE,
    &cure::ISOTHERMAL_CURE,
    &pot::POT,
    &cure::CURED_STATE,
    &cure::GLUE_LINE_WARMUP,
    &mixing::ASSEMBLY_USE,
    &joint_age::JOINT_AGE,
    &mixing::GLUE_AMOUNT,
    &joint_area::JOINT_AREA,
    &clamps::CLAMP_FORCE,
    &clamps::NAIL_GLUING,
    &clamps::SCREW_CLAMP,
    &clamps::STRAP_PRESSURE,
    &clamps::VACUUM,
    &clamps::SPRING_BACK,
    &clamps::BEND_RADIUS,
    &lamination::LAMINATION,
    &joints::SCARF,
    &samples::BLOCK_SHEAR,
    &samples::TOLERANCE_FACTOR,
    &samples::BASIS_VALUE,
    &samples::INDIVIDUALS_CHART,
    &joints::LAP_STRESS,
];

/// The figure of a name.
pub fn find(name: &str) -> Option<&'static Figure> {
    ALL.iter().copied().find(|figure| figure.name == name)
}

/// Computes a figure from inputs as typed: `reckon("dew-point", &[("temperature", "70F"), ("humidity", "50%")])`.
///
/// Errors: no such figure; an input that is unknown, given twice, missing, unreadable, out of range or in contradiction
/// to another. Each is one sentence that names the field, the value and the range.
pub fn reckon<'a>(name: &str, typed: impl IntoIterator<Item = (&'a str, &'a str)>) -> Result<Answer, Refusal> {
    let figure = find(name).ok_or_else(|| no_figure(name))?;
    let given = Given::read(figure, typed)?;
    let reckoned = (figure.compute)(&given)?;
    for (field, out) in &reckoned.result {
        if !out.is_finite() {
            let sentence = format!("{field} comes out as no finite number with these inputs");
            return Err(Refusal::new(Cause::Contradicts, field, "", sentence));
        }
    }
    let basis = Basis {
        formula: figure.formula,
        source: figure.source,
        inputs: given.shown(),
        assumptions: reckoned.assumptions,
    };
    Ok(Answer { figure: figure.name, result: reckoned.result, basis })
}

fn no_figure(name: &str) -> Refusal {
    let names: Vec<&str> = ALL.iter().map(|figure| figure.name).collect();
    let sentence = format!("figure {} is not one of {}", outcome::quoted(name), names.join(", "));
    Refusal { range: Some(names.join(", ")), ..Refusal::new(Cause::NotFound, "figure", name, sentence) }
}
