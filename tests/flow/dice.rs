//! Dice that a seed throws the same for ever.

/// A small generator (splitmix64), so that a seed gives the same shop for ever.
pub struct Dice(u64);

impl Dice {
    /// Dice of a seed.
    pub fn of(seed: u64) -> Dice {
        Dice(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from..=to.
    pub fn whole(&mut self, from: i64, to: i64) -> i64 {
        from + (self.next() % (to - from + 1) as u64) as i64
    }

    /// True that many times in a hundred.
    pub fn percent(&mut self, n: i64) -> bool {
        self.whole(1, 100) <= n
    }

    /// One of several.
    pub fn one<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.whole(0, of.len() as i64 - 1) as usize]
    }

    /// A temperature in tenths of a degree as typed.
    pub fn celsius(&mut self, from: i64, to: i64) -> String {
        let tenths = self.whole(from * 10, to * 10);
        format!("{}{}.{} C", if tenths < 0 { "-" } else { "" }, tenths.abs() / 10, tenths.abs() % 10)
    }
}
