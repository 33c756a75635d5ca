//! What every quantity shares: its table of units, its range, and the one way to read it.

use super::error::UnitError;
use super::number::{self, Number};

/// One unit of a quantity: stored value = (typed × num + add) / den.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    /// Spellings, compared without regard to case unless they differ only by case.
    pub names: &'static [&'static str],
    /// Factor.
    pub num: i128,
    /// Added after the factor.
    pub add: i128,
    /// Divisor.
    pub den: i128,
}

impl Scale {
    /// A unit that is a plain multiple of the storage unit.
    pub const fn times(names: &'static [&'static str], num: i128, den: i128) -> Scale {
        Scale { names, num, add: 0, den }
    }
}

/// A quantity with the step of what was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Typed<Q> {
    /// The quantity.
    pub value: Q,
    /// The last digit typed, in the storage unit, at least 1.
    pub step: i64,
}

/// The table a quantity is read by.
pub(crate) struct Table {
    pub scales: &'static [Scale],
    pub units: &'static str,
    pub example: &'static str,
    pub range: &'static str,
    pub min: i64,
    pub max: i64,
}

impl Table {
    /// Value and step in the storage unit, inside the range.
    pub fn read(&self, text: &str, default_unit: Option<&str>) -> Result<(i64, i64), UnitError> {
        let (number, unit) = number::split(text, self.example)?;
        let scale = self.scale(if unit.is_empty() { default_unit.unwrap_or("") } else { unit })?;
        Ok((self.ranged(value(number, scale))?, step(number, scale)))
    }

    /// The unit of a spelling.
    pub fn scale(&self, unit: &str) -> Result<&'static Scale, UnitError> {
        if unit.is_empty() {
            return Err(UnitError::UnitMissing { units: self.units });
        }
        let exact = self.scales.iter().find(|scale| scale.names.contains(&unit));
        let lower = unit.to_lowercase();
        exact
            .or_else(|| self.scales.iter().find(|scale| scale.names.iter().any(|name| name.to_lowercase() == lower)))
            .ok_or_else(|| UnitError::UnitUnknown { unit: unit.chars().take(40).collect(), units: self.units })
    }

    /// A value if it lies inside the range.
    pub fn ranged(&self, value: i128) -> Result<i64, UnitError> {
        match i64::try_from(value) {
            Ok(value) if (self.min..=self.max).contains(&value) => Ok(value),
            _ => Err(UnitError::OutOfRange { range: self.range }),
        }
    }
}

/// Typed number times unit, rounded half to even.
pub(super) fn value(number: Number, scale: &Scale) -> i128 {
    number::round_half_even(number.num * scale.num + scale.add * number.den, number.den * scale.den)
}

/// Last typed digit in the storage unit, at least one.
pub(super) fn step(number: Number, scale: &Scale) -> i64 {
    let step = number::round_half_even(scale.num, number.step_den * scale.den);
    i64::try_from(step).unwrap_or(i64::MAX).max(1)
}

/// Declares a quantity: private integer, range, units, reading.
macro_rules! quantity {
    (
        $(#[$doc:meta])* $name:ident, $from:ident, $get:ident,
        range $min:literal ..= $max:literal $range:literal,
        units $units:literal as $example:literal, [$($scale:expr),* $(,)?]
    ) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub struct $name(i64);

        impl $name {
            /// The plausible range in words.
            pub const RANGE: &'static str = $range;
            /// Units understood when typed.
            pub const UNITS: &'static str = $units;
            pub(crate) const TABLE: crate::unit::quantity::Table = crate::unit::quantity::Table {
                scales: &[$($scale),*],
                units: $units,
                example: $example,
                range: $range,
                min: $min,
                max: $max,
            };

            /// From the storage unit; refused outside the plausible range.
            pub fn $from(value: i64) -> Result<$name, crate::unit::UnitError> {
                Self::TABLE.ranged(i128::from(value)).map($name)
            }

            /// In the storage unit.
            pub fn $get(self) -> i64 {
                self.0
            }

            /// Reads typed text with its unit.
            pub fn parse(text: &str) -> Result<crate::unit::Typed<$name>, crate::unit::UnitError> {
                Self::TABLE.read(text, None).map(|(value, step)| crate::unit::Typed { value: $name(value), step })
            }

            /// True when the unit behind the number is one of this quantity's.
            pub fn knows_unit_of(text: &str) -> bool {
                !matches!(Self::parse(text), Err(crate::unit::UnitError::UnitUnknown { .. } | crate::unit::UnitError::UnitMissing { .. }))
            }

            /// Reads typed text; a bare number stands in `unit`.
            pub fn parse_in(text: &str, unit: &str) -> Result<crate::unit::Typed<$name>, crate::unit::UnitError> {
                Self::TABLE.read(text, Some(unit)).map(|(value, step)| crate::unit::Typed { value: $name(value), step })
            }
        }
    };
}
pub(super) use quantity;
