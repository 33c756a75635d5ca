//! Numbers as typed, kept exact: `40.0`, `1,41`, `-5`, `1/8`, `1 1/2`.

use super::error::UnitError;

/// Most digits a typed number may have; more than any instrument shows.
const DIGITS: usize = 15;

/// A typed number as a rational, with the step of its last digit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Number {
    /// Numerator, signed.
    pub num: i128,
    /// Denominator, positive.
    pub den: i128,
    /// Denominator of the step (numerator one): 10 for `40.0`, 8 for `1/8`.
    pub step_den: i128,
}

/// Splits typed text into its number and the unit behind it.
pub(super) fn split<'a>(text: &'a str, example: &'static str) -> Result<(Number, &'a str), UnitError> {
    let text = text.trim();
    let (negative, rest) = sign(text);
    let (whole, rest) = decimal(rest, example)?;
    let (mut number, rest) = fraction(whole, rest);
    if negative {
        number.num = -number.num;
    }
    Ok((number, rest.trim()))
}

fn sign(text: &str) -> (bool, &str) {
    match text.strip_prefix('-').or_else(|| text.strip_prefix('\u{2212}')) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    }
}

fn digits(text: &str) -> (&str, &str) {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    text.split_at(end)
}

fn decimal<'a>(text: &'a str, example: &'static str) -> Result<(Number, &'a str), UnitError> {
    let (whole, rest) = digits(text);
    let (mark, after) = match rest.chars().next() {
        Some(mark @ ('.' | ',')) => (Some(mark), rest.get(1..).unwrap_or("")),
        _ => (None, rest),
    };
    let (tail, rest) = if mark.is_some() { digits(after) } else { ("", rest) };
    let wrong = UnitError::NotANumber { example };
    if whole.is_empty() || (mark.is_some() && tail.is_empty()) || whole.len() + tail.len() > DIGITS {
        return Err(wrong);
    }
    if mark == Some(',') && tail.len() == 3 && whole.len() <= 3 && !whole.bytes().all(|b| b == b'0') {
        return Err(UnitError::TwoReadings);
    }
    if rest.starts_with(['.', ',']) {
        return Err(wrong);
    }
    let num: i128 = format!("{whole}{tail}").parse().map_err(|_| UnitError::NotANumber { example })?;
    let den = 10_i128.pow(u32::try_from(tail.len()).unwrap_or(0));
    Ok((Number { num, den, step_den: den }, rest))
}

/// `1/8` after `1`, or ` 1/2` after `1`; text that is no fraction is left for the unit.
fn fraction(whole: Number, rest: &str) -> (Number, &str) {
    if whole.den != 1 {
        return (whole, rest);
    }
    if let Some((den, rest)) = rest.strip_prefix('/').and_then(positive) {
        return (Number { num: whole.num, den, step_den: den }, rest);
    }
    let spaced = rest.trim_start();
    if spaced.len() < rest.len()
        && let Some((num, after)) = positive(spaced)
        && let Some((den, after)) = after.strip_prefix('/').and_then(positive)
    {
        return (Number { num: whole.num * den + num, den, step_den: den }, after);
    }
    (whole, rest)
}

fn positive(text: &str) -> Option<(i128, &str)> {
    let (typed, rest) = digits(text);
    let value: i128 = if typed.len() > 6 {
        return None;
    } else {
        typed.parse().ok()?
    };
    (value > 0).then_some((value, rest))
}

/// `num / den` to the nearest integer, ties to the even one. `den` must be positive.
pub(super) fn round_half_even(num: i128, den: i128) -> i128 {
    let floor = num.div_euclid(den);
    let twice = num.rem_euclid(den) * 2;
    match twice.cmp(&den) {
        std::cmp::Ordering::Less => floor,
        std::cmp::Ordering::Greater => floor + 1,
        std::cmp::Ordering::Equal => floor + floor.rem_euclid(2),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ties_go_to_the_even_neighbour() {
        let cases = [(5, 2, 2), (7, 2, 4), (-5, 2, -2), (-7, 2, -4), (1, 3, 0), (2, 3, 1), (-1, 3, 0), (-2, 3, -1)];
        for (num, den, expected) in cases {
            assert_eq!(round_half_even(num, den), expected, "{num}/{den}");
        }
    }

    #[test]
    fn fractions_and_commas() {
        let read = |text| split(text, "1 g").map(|(n, unit)| (n.num, n.den, n.step_den, unit.to_owned()));
        assert_eq!(read("1/8 in"), Ok((1, 8, 8, "in".to_owned())));
        assert_eq!(read("1 1/2in"), Ok((3, 2, 2, "in".to_owned())));
        assert_eq!(read("40,05 g"), Ok((4005, 100, 100, "g".to_owned())));
        assert_eq!(read("0,125 in"), Ok((125, 1000, 1000, "in".to_owned())));
        assert_eq!(read("\u{2212}5 C"), Ok((-5, 1, 1, "C".to_owned())));
        assert_eq!(read("1,000 g"), Err(UnitError::TwoReadings));
        for bad in ["", "g", ".", "1.", ".5 g", "1.2.3 g", "1/0 in x", "--1 g", "1234567890123456 g"] {
            let got = split(bad, "1 g");
            assert!(got.is_err() || got.is_ok_and(|(_, unit)| unit.starts_with('/')), "{bad}");
        }
    }
}
