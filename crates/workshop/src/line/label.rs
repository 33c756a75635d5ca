//! Where the labels of a glue line stand: three rows, no two of a row meet.

/// Width a label is laid out for, pixels, and the width of one character.
const WIDTH_PX: i64 = 560;
const CHAR_PX: i64 = 7;
/// Between two labels of one row, pixels.
const APART_PX: i64 = 7;
/// Rows.
const LANES: u8 = 3;
const FULL: i64 = 1_000_000;

/// A row and an anchor, or no room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// 0 to 2.
    pub lane: u8,
    /// `start`, `middle`, `end`.
    pub anchor: &'static str,
}

/// Labels laid so far: row, left and right edge in pixels.
#[derive(Clone, Debug, Default)]
pub struct Laid(Vec<(u8, i64, i64)>);

impl Laid {
    /// Room for a word at `at` millionths; None: there is none in any row.
    pub fn place(&mut self, at: i64, word: &str) -> Option<Spot> {
        let width = i64::try_from(word.chars().count()).unwrap_or(WIDTH_PX) * CHAR_PX;
        let x = at * WIDTH_PX / FULL;
        for lane in 0..LANES {
            for (anchor, left) in [("middle", x - width / 2), ("start", x), ("end", x - width)] {
                let right = left + width;
                let inside = left >= 0 && right <= WIDTH_PX;
                let meets =
                    |one: &&(u8, i64, i64)| one.0 == lane && left < one.2 + APART_PX && one.1 < right + APART_PX;
                if inside && !self.0.iter().any(|one| meets(&one)) {
                    self.0.push((lane, left, right));
                    return Some(Spot { lane, anchor });
                }
            }
        }
        None
    }
}
