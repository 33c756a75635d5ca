//! What a figure wants to be given: names, kinds, ranges, presets.

use crate::unit::Measure;

/// What is used where an input is not given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Preset {
    /// It has to be given.
    Needed,
    /// This text.
    Text(&'static str),
    /// The same as another input.
    Same(&'static str),
    /// Nothing; the words say what follows.
    Without(&'static str),
}

/// What an input is.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// One quantity.
    Amount {
        /// Its unit.
        measure: &'static Measure,
        /// Lowest, in that unit.
        min: f64,
        /// Highest, in that unit.
        max: f64,
    },
    /// A whole number.
    Count {
        /// Lowest.
        min: u64,
        /// Highest.
        max: u64,
    },
    /// Quantities with commas between them.
    List {
        /// Unit of each.
        measure: &'static Measure,
        /// Lowest, in that unit.
        min: f64,
        /// Highest, in that unit.
        max: f64,
        /// Fewest.
        least: usize,
    },
    /// One of these words.
    Word(&'static [&'static str]),
    /// Text that the figure reads itself; the words say what it looks like and how far it reaches.
    Shape(&'static str),
}

/// Most quantities in a list, knots in a trace, points of a law.
pub const MOST: usize = 20_000;

/// One input.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// Its name.
    pub name: &'static str,
    /// What it is.
    pub kind: Kind,
    /// What is used without it.
    pub preset: Preset,
    /// What it means.
    pub help: &'static str,
}

impl Input {
    /// One that has to be given.
    pub const fn needed(name: &'static str, kind: Kind, help: &'static str) -> Input {
        Input { name, kind, preset: Preset::Needed, help }
    }

    /// One with a preset.
    pub const fn preset(name: &'static str, kind: Kind, preset: &'static str, help: &'static str) -> Input {
        Input { name, kind, preset: Preset::Text(preset), help }
    }

    /// One that stands in for another where it is not given.
    pub const fn same(name: &'static str, kind: Kind, other: &'static str, help: &'static str) -> Input {
        Input { name, kind, preset: Preset::Same(other), help }
    }

    /// One that may be left out; `without` says what follows.
    pub const fn maybe(name: &'static str, kind: Kind, without: &'static str, help: &'static str) -> Input {
        Input { name, kind, preset: Preset::Without(without), help }
    }
}

impl Kind {
    /// A quantity between two limits, both included.
    pub const fn between(measure: &'static Measure, min: f64, max: f64) -> Kind {
        Kind::Amount { measure, min, max }
    }

    /// The unit a bare number stands in; empty where there is none.
    pub fn unit(&self) -> &'static str {
        match self {
            Kind::Amount { measure, .. } | Kind::List { measure, .. } => measure.unit,
            _ => "",
        }
    }

    /// Both limits of a quantity, or of each in a list, in another unit that it can be typed in; None: no such unit.
    pub fn limits_in(&self, unit: &str) -> Option<(f64, f64)> {
        let (Kind::Amount { measure, min, max } | Kind::List { measure, min, max, .. }) = self else { return None };
        let zero = measure.read(&format!("0 {unit}")).ok()?;
        let one = measure.read(&format!("1 {unit}")).ok()? - zero;
        Some(((min - zero) / one, (max - zero) / one))
    }

    /// What may be given, in words: `0 to 100 %`.
    pub fn range(&self) -> String {
        match self {
            Kind::Amount { measure, min, max } => ends(measure, *min, *max),
            Kind::Count { min, max } => format!("whole numbers {min} to {max}"),
            Kind::List { measure, min, max, least } => {
                format!("{least} to {MOST} of them with commas between, each {}", ends(measure, *min, *max))
            }
            Kind::Word(words) => words.join(", "),
            Kind::Shape(shape) => (*shape).to_owned(),
        }
    }
}

fn ends(measure: &Measure, min: f64, max: f64) -> String {
    if measure.unit.is_empty() { format!("{min} to {max}") } else { format!("{min} to {max} {}", measure.unit) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::measure::{CELSIUS, MILLIMETRE};

    #[test]
    fn limits_in_another_unit() {
        let near = |got: Option<(f64, f64)>, (low, high): (f64, f64)| {
            got.is_some_and(|(a, b)| (a - low).abs() < 1e-9 && (b - high).abs() < 1e-9)
        };
        assert!(near(Kind::between(&CELSIUS, -40.0, 100.0).limits_in("F"), (-40.0, 212.0)));
        assert!(near(Kind::between(&MILLIMETRE, 0.0, 254.0).limits_in("in"), (0.0, 10.0)));
        assert_eq!(Kind::between(&MILLIMETRE, 0.0, 1.0).limits_in("F"), None);
    }
}
