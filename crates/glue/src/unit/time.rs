//! Stretches of time as sheets give them: `45 min`, `12 h`, `4-6 h`.

use super::error::UnitError;
use super::quantity::{Scale, Typed, quantity};

quantity! {
    /// A stretch of time, ms.
    Duration, from_ms, ms,
    range 1_000 ..= 31_536_000_000 "1 s to 365 days",
    units "s, min, h, d, weeks" as "45 min", [
        Scale::times(&["s", "sec", "second", "seconds"], 1_000, 1),
        Scale::times(&["min", "mins", "minute", "minutes"], 60_000, 1),
        Scale::times(&["h", "hr", "hrs", "hour", "hours"], 3_600_000, 1),
        Scale::times(&["d", "day", "days"], 86_400_000, 1),
        Scale::times(&["week", "weeks"], 604_800_000, 1),
    ]
}

/// A time of the sheet with both its ends; a single number has them equal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DurationRange {
    /// Short end.
    pub low: Duration,
    /// Long end.
    pub high: Duration,
}

impl DurationRange {
    /// Reads `45 min`, `4-6 h`, `4 – 6 h`, `4 to 6 h` or `50 min - 1 h`.
    pub fn parse(text: &str) -> Result<DurationRange, UnitError> {
        let ends = ["-", "–", "—", " to ", ".."].iter().find_map(|mark| text.split_once(mark));
        let Some((low, high)) = ends else {
            let value = Duration::parse(text)?.value;
            return Ok(DurationRange { low: value, high: value });
        };
        let high_end: Typed<Duration> = Duration::parse(high)?;
        let unit: String = high.trim_start().chars().skip_while(|c| !c.is_alphabetic()).collect();
        let low = Duration::parse_in(low, unit.trim())?.value;
        if low > high_end.value {
            return Err(UnitError::Backwards);
        }
        Ok(DurationRange { low, high: high_end.value })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<(i64, i64), UnitError> {
        DurationRange::parse(text).map(|range| (range.low.ms(), range.high.ms()))
    }

    #[test]
    fn single_and_ranges() {
        assert_eq!(read("45min"), Ok((2_700_000, 2_700_000)));
        assert_eq!(read("12 h"), Ok((43_200_000, 43_200_000)));
        assert_eq!(read("4-6 h"), Ok((14_400_000, 21_600_000)));
        assert_eq!(read("50 min - 1 h"), Ok((3_000_000, 3_600_000)));
        assert_eq!(read("1.5 to 2,5 hours"), Ok((5_400_000, 9_000_000)));
        assert_eq!(read("6-4 h"), Err(UnitError::Backwards));
        assert!(read("12").is_err());
        assert!(read("0 min").is_err());
        assert!(read("-5 min").is_err());
    }
}
