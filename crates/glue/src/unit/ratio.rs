//! Mixing ratios, resin to hardener. By weight and by volume are two types: 100:83 by weight is no ratio by volume.

use super::error::UnitError;
use super::number;

const EXAMPLE: &str = "100:83";
const RANGE: &str = "parts above 0 and up to 10000, neither side more than 100 times the other";

/// Millionths of a part of resin to millionths of a part of hardener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RatioText {
    /// Resin.
    pub resin_ppm: i64,
    /// Hardener.
    pub hardener_ppm: i64,
}

/// A ratio by weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WeightRatio(RatioText);

/// A ratio by volume.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct VolumeRatio(RatioText);

impl RatioText {
    /// Plausible parts, in words.
    pub const RANGE: &'static str = RANGE;

    /// Reads `100:83`, `100 : 83`, `2.5:1` or `100/45`. Zero, negative and absurd parts are refused.
    pub fn parse(text: &str) -> Result<RatioText, UnitError> {
        let wrong = UnitError::NotANumber { example: EXAMPLE };
        let (resin, hardener) = text.split_once(':').or_else(|| text.split_once('/')).ok_or(wrong)?;
        let (resin_ppm, hardener_ppm) = (part(resin)?, part(hardener)?);
        if resin_ppm.max(hardener_ppm) / 100 > resin_ppm.min(hardener_ppm) {
            return Err(UnitError::OutOfRange { range: RANGE });
        }
        Ok(RatioText { resin_ppm, hardener_ppm })
    }
}

impl WeightRatio {
    /// Reads a ratio by weight.
    pub fn parse(text: &str) -> Result<WeightRatio, UnitError> {
        RatioText::parse(text).map(WeightRatio)
    }

    /// The parts.
    pub fn parts(self) -> RatioText {
        self.0
    }
}

impl VolumeRatio {
    /// Reads a ratio by volume.
    pub fn parse(text: &str) -> Result<VolumeRatio, UnitError> {
        RatioText::parse(text).map(VolumeRatio)
    }

    /// The parts.
    pub fn parts(self) -> RatioText {
        self.0
    }
}

fn part(text: &str) -> Result<i64, UnitError> {
    let (number, rest) = number::split(text, EXAMPLE)?;
    if !rest.is_empty() {
        return Err(UnitError::NotANumber { example: EXAMPLE });
    }
    let ppm = number::round_half_even(number.num * 1_000_000, number.den);
    match i64::try_from(ppm) {
        Ok(ppm) if (1..=10_000_000_000).contains(&ppm) => Ok(ppm),
        _ => Err(UnitError::OutOfRange { range: RANGE }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_sides_above_zero() {
        let read = |text| WeightRatio::parse(text).map(|r| (r.parts().resin_ppm, r.parts().hardener_ppm));
        assert_eq!(read("100:83"), Ok((100_000_000, 83_000_000)));
        assert_eq!(read("2,5 : 1"), Ok((2_500_000, 1_000_000)));
        for bad in ["0:83", "100:0", "100:-83", "100", "100:83 g", "1:1000", ":", "a:b"] {
            assert!(read(bad).is_err(), "{bad}");
        }
    }
}
