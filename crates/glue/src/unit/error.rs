//! What can be wrong with a typed quantity. Every variant completes the sentence "… : ".

/// Why a typed quantity cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UnitError {
    /// No number at the front.
    NotANumber {
        /// An example that would be read.
        example: &'static str,
    },
    /// A number without a unit.
    UnitMissing {
        /// Units understood.
        units: &'static str,
    },
    /// A unit of something else, or a misspelt one.
    UnitUnknown {
        /// Unit as typed.
        unit: String,
        /// Units understood.
        units: &'static str,
    },
    /// `1,000 g`: one or one thousand?
    TwoReadings,
    /// Outside the plausible range.
    OutOfRange {
        /// The range: `0.05 g to 50 kg`.
        range: &'static str,
    },
    /// A range typed the wrong way round: `6-4 h`.
    Backwards,
}

impl UnitError {
    /// The plausible range, when that is what was broken.
    pub fn range(&self) -> Option<&'static str> {
        match self {
            UnitError::OutOfRange { range } => Some(range),
            _ => None,
        }
    }
}

impl std::fmt::Display for UnitError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            UnitError::NotANumber { example } => write!(f, "is not a number with a unit, such as \"{example}\""),
            UnitError::UnitMissing { units } => write!(f, "has no unit: write one of {units}"),
            UnitError::UnitUnknown { unit, units } => write!(f, "has the unit \"{unit}\", which is none of {units}"),
            UnitError::TwoReadings => {
                write!(
                    f,
                    "has a comma before three digits, which can be read two ways: use a decimal point or leave the comma out"
                )
            }
            UnitError::OutOfRange { range } => write!(f, "is outside {range}"),
            UnitError::Backwards => write!(f, "is a range with its larger end first"),
        }
    }
}

impl std::error::Error for UnitError {}
