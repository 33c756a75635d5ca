//! Blocks of readings: one source, one place, one hour, delta-coded (docs/format.md gives the bytes).

use super::Error;
use crate::entry::Id;
use sha2::{Digest, Sha256};

/// One hour in ms.
pub const HOUR_MS: i64 = 3_600_000;
/// One minute in ms.
pub const MINUTE_MS: i64 = 60_000;

/// One minute of a source as stored in a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Minute {
    /// Start of the minute, ms UTC.
    pub at_ms: i64,
    /// Lowest, mk.
    pub low_mk: i64,
    /// Mean, mk.
    pub mean_mk: i64,
    /// Highest, mk.
    pub high_mk: i64,
    /// Mean relative humidity, ppm.
    pub humidity_ppm: Option<i64>,
}

/// A block of one source, one place, one hour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// Place.
    pub place: Id,
    /// Source.
    pub source: String,
    /// Start of the hour, ms UTC.
    pub hour_ms: i64,
    /// Minutes, rising.
    pub minutes: Vec<Minute>,
}

impl Block {
    /// The coded bytes. Refuses minutes that do not rise, stand off the minute or outside the hour, and
    /// low > mean or mean > high.
    pub fn bytes(&self) -> Result<Vec<u8>, Error> {
        self.check()?;
        let mut out = vec![0u8];
        put_text(&mut out, &self.place);
        put_text(&mut out, &self.source);
        put_signed(&mut out, self.hour_ms / HOUR_MS);
        put(&mut out, self.minutes.len() as u64);
        let (mut minute, mut low, mut humidity) = (0, 0, 0);
        for at in &self.minutes {
            let this = (at.at_ms - self.hour_ms) / MINUTE_MS;
            put(&mut out, (this - minute) as u64);
            put_signed(&mut out, at.low_mk - low);
            put(&mut out, (at.mean_mk - at.low_mk) as u64);
            put(&mut out, (at.high_mk - at.mean_mk) as u64);
            match at.humidity_ppm {
                None => put(&mut out, 0),
                Some(ppm) => {
                    put(&mut out, 1 + zigzag(ppm - humidity));
                    humidity = ppm;
                }
            }
            (minute, low) = (this, at.low_mk);
        }
        Ok(out)
    }

    /// SHA-256 of the coded bytes, lower-case hex: the block's name.
    pub fn sha256(&self) -> Result<String, Error> {
        Ok(hex::encode(Sha256::digest(self.bytes()?)))
    }

    fn check(&self) -> Result<(), Error> {
        let fault = |what: &str| Err(Error::Fault(format!("block of {}: {what}", self.hour_ms)));
        if self.hour_ms.rem_euclid(HOUR_MS) != 0 {
            return fault("its hour does not start on an hour");
        }
        let mut last = self.hour_ms - 1;
        for at in &self.minutes {
            let inside = at.at_ms > last && at.at_ms < self.hour_ms + HOUR_MS;
            if !inside || at.at_ms.rem_euclid(MINUTE_MS) != 0 {
                return fault("a minute stands outside the hour, off the minute or out of order");
            }
            let sane = [at.low_mk, at.mean_mk, at.high_mk, at.humidity_ppm.unwrap_or(0)];
            if sane.iter().any(|value| value.abs() > 1 << 40) || at.low_mk > at.mean_mk || at.mean_mk > at.high_mk {
                return fault("a minute's lowest, mean and highest are out of order");
            }
            last = at.at_ms;
        }
        Ok(())
    }

    /// Reads coded bytes back; None when they are not exactly one block.
    pub fn read(bytes: &[u8]) -> Option<Block> {
        let mut rest = bytes;
        if take_byte(&mut rest)? != 0 {
            return None;
        }
        let place = take_text(&mut rest)?;
        let source = take_text(&mut rest)?;
        let hour_ms = take_signed(&mut rest)?.checked_mul(HOUR_MS)?;
        let count = take(&mut rest)?;
        let mut minutes = Vec::new();
        let (mut minute, mut low, mut humidity) = (0i64, 0i64, 0i64);
        for _ in 0..count {
            minute = minute.checked_add(i64::try_from(take(&mut rest)?).ok()?)?;
            low = low.checked_add(take_signed(&mut rest)?)?;
            let mean_mk = low.checked_add(i64::try_from(take(&mut rest)?).ok()?)?;
            let high_mk = mean_mk.checked_add(i64::try_from(take(&mut rest)?).ok()?)?;
            let humidity_ppm = match take(&mut rest)? {
                0 => None,
                coded => {
                    humidity = humidity.checked_add(unzigzag(coded - 1))?;
                    Some(humidity)
                }
            };
            let at_ms = hour_ms.checked_add(minute.checked_mul(MINUTE_MS)?)?;
            minutes.push(Minute { at_ms, low_mk: low, mean_mk, high_mk, humidity_ppm });
        }
        let block = Block { place, source, hour_ms, minutes };
        (rest.is_empty() && block.check().is_ok()).then_some(block)
    }
}

fn zigzag(value: i64) -> u64 {
    ((value << 1) ^ (value >> 63)) as u64
}

fn unzigzag(coded: u64) -> i64 {
    ((coded >> 1) as i64) ^ -((coded & 1) as i64)
}

/// Seven bits a byte, lowest first, the top bit set on all but the last.
fn put(out: &mut Vec<u8>, mut value: u64) {
    while value >= 0x80 {
        out.push((value as u8) | 0x80);
        value >>= 7;
    }
    out.push(value as u8);
}

fn put_signed(out: &mut Vec<u8>, value: i64) {
    put(out, zigzag(value));
}

fn put_text(out: &mut Vec<u8>, text: &str) {
    put(out, text.len() as u64);
    out.extend_from_slice(text.as_bytes());
}

fn take_byte(rest: &mut &[u8]) -> Option<u8> {
    let (first, after) = rest.split_first()?;
    *rest = after;
    Some(*first)
}

fn take(rest: &mut &[u8]) -> Option<u64> {
    let mut value = 0u64;
    for shift in (0..63).step_by(7) {
        let byte = take_byte(rest)?;
        value |= u64::from(byte & 0x7f) << shift;
        if byte & 0x80 == 0 {
            return (byte != 0 || shift == 0).then_some(value);
        }
    }
    None
}

fn take_signed(rest: &mut &[u8]) -> Option<i64> {
    take(rest).map(unzigzag)
}

fn take_text(rest: &mut &[u8]) -> Option<String> {
    let length = usize::try_from(take(rest)?).ok()?;
    let text = rest.get(..length)?;
    *rest = rest.get(length..)?;
    String::from_utf8(text.to_vec()).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block() -> Block {
        let minute = |at: i64, low, mean, high, humidity_ppm| Minute {
            at_ms: 1_764_061_200_000 + at * MINUTE_MS,
            low_mk: low,
            mean_mk: mean,
            high_mk: high,
            humidity_ppm,
        };
        Block {
            place: "0b54cf16-8a9a-4b3e-8f2b-6a5f0d4d6f01".into(),
            source: "logger".into(),
            hour_ms: 1_764_061_200_000,
            minutes: vec![
                minute(0, 293_150, 293_200, 293_260, Some(450_000)),
                minute(1, 293_100, 293_100, 293_100, None),
                minute(59, 288_000, 290_000, 295_000, Some(449_000)),
            ],
        }
    }

    #[test]
    fn comes_back_as_it_went_in() {
        let bytes = block().bytes().unwrap();
        assert_eq!(Block::read(&bytes), Some(block()));
        for cut in 0..bytes.len() {
            assert_eq!(Block::read(&bytes[..cut]), None, "cut at {cut}");
        }
    }

    #[test]
    fn refuses_minutes_out_of_place() {
        let mut wrong = block();
        wrong.minutes.swap(0, 1);
        assert!(wrong.bytes().is_err());
        let mut wrong = block();
        wrong.minutes[2].at_ms += 30_000;
        assert!(wrong.bytes().is_err());
    }

    #[test]
    fn never_panics_on_any_bytes() {
        let bytes = block().bytes().unwrap();
        for at in 0..bytes.len() {
            for bit in 0..8 {
                let mut changed = bytes.clone();
                changed[at] ^= 1 << bit;
                let _ = Block::read(&changed);
            }
        }
    }
}
