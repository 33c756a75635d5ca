//! One side of a picture: which numbers it holds, evenly, by powers or by the inverse of the temperature; its ticks.

use super::super::figure_shown::{digits, minutes};
use super::{PictureAxis, PictureTick};

/// How numbers are spread along a side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Spread {
    /// Evenly.
    Even,
    /// Each as far from its double as any other; all above 0.
    Powers,
    /// Temperatures in °C, even in 1/T, the hottest last.
    Inverse,
}

/// A stretch of numbers along one side.
#[derive(Clone, Copy, Debug)]
pub(super) struct Side {
    pub low: f64,
    pub high: f64,
    pub spread: Spread,
}

impl Side {
    /// From one number to another.
    pub fn from(low: f64, high: f64) -> Side {
        Side { low, high: if high > low { high } else { low + 1.0 }, spread: Spread::Even }
    }

    /// From one to another, both above 0, by powers.
    pub fn powers(low: f64, high: f64) -> Side {
        Side { low, high: if high > low { high } else { low * 2.0 }, spread: Spread::Powers }
    }

    /// Holds all of them and a little more.
    pub fn around(values: impl Iterator<Item = f64>, room: f64) -> Side {
        let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)));
        let more = if high > low { (high - low) * room } else { (high.abs() * 0.1).max(1.0) };
        Side { low: low - more, high: high + more, spread: Spread::Even }
    }

    /// Where a number lies: 0 at the low end, a million at the high one; beyond, at the end.
    pub fn along(&self, value: f64) -> i64 {
        let on = |x: f64| match self.spread {
            Spread::Even => x,
            Spread::Powers => libm::log(x),
            Spread::Inverse => -1.0 / (x + 273.15),
        };
        let share = (on(value) - on(self.low)) / (on(self.high) - on(self.low));
        (share.clamp(0.0, 1.0) * 1e6).round() as i64
    }

    /// True where the number lies on this side.
    pub fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// Numbers between both ends, evenly spread as this side spreads them, both ends among them.
    pub fn steps(&self, count: usize) -> Vec<f64> {
        let at = |n: usize| {
            let share = n as f64 / count as f64;
            match self.spread {
                Spread::Powers => self.low * libm::pow(self.high / self.low, share),
                _ => self.low + (self.high - self.low) * share,
            }
        };
        (0..=count).map(at).collect()
    }

    /// Round numbers inside, about six; by powers 1, 2 and 5 of each.
    pub fn round_numbers(&self) -> Vec<f64> {
        if self.spread == Spread::Powers && self.high > 6.0 * self.low {
            return self.by_ten();
        }
        let rough = (self.high - self.low) / 6.0;
        let power = libm::pow(10.0, libm::log10(rough).floor());
        let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|n| n * power).find(|step| *step >= rough).unwrap_or(rough);
        let first = (self.low / step).ceil();
        let count = ((self.high / step).floor() - first).max(0.0) as usize;
        (0..=count.min(12)).map(|n| (first + n as f64) * step).collect()
    }

    fn by_ten(&self) -> Vec<f64> {
        let first = libm::log10(self.low).floor();
        let decades = (libm::log10(self.high).ceil() - first).clamp(1.0, 40.0);
        let within: &[f64] = if decades <= 3.0 { &[1.0, 2.0, 5.0] } else { &[1.0] };
        let all =
            (0..=decades as usize).flat_map(|n| within.iter().map(move |w| w * libm::pow(10.0, first + n as f64)));
        all.filter(|at| self.holds(*at)).collect()
    }

    /// Whole numbers inside, about six, none below 1.
    pub fn whole_numbers(&self) -> Vec<f64> {
        self.round_numbers().into_iter().filter(|at| at.fract() == 0.0 && *at >= 1.0).collect()
    }

    /// Times that people say, min, no two closer than a tenth of the side.
    pub fn said_times(&self) -> Vec<f64> {
        let mut kept: Vec<f64> = vec![];
        for time in SAID.iter().copied().filter(|time| self.holds(*time)) {
            if kept.last().is_none_or(|last| self.along(time) - self.along(*last) >= 100_000) {
                kept.push(time);
            }
        }
        kept
    }

    /// The axis from left to right with round numbers.
    pub fn across(&self, label: &str) -> PictureAxis {
        self.across_at(label, &self.round_numbers())
    }

    /// The axis from left to right with these numbers.
    pub fn across_at(&self, label: &str, at: &[f64]) -> PictureAxis {
        let tick = |value: &f64| PictureTick { at: self.along(*value), word: digits(*value) };
        PictureAxis { label: label.to_owned(), ticks: at.iter().map(tick).collect() }
    }

    /// The axis that goes up, with round numbers.
    pub fn up(&self, label: &str) -> PictureAxis {
        let tick = |value: &f64| PictureTick { at: 1_000_000 - self.along(*value), word: digits(*value) };
        PictureAxis { label: label.to_owned(), ticks: self.round_numbers().iter().map(tick).collect() }
    }

    /// The axis that goes up, with times that people say.
    pub fn up_times(&self, label: &str) -> PictureAxis {
        let tick = |value: &f64| PictureTick { at: 1_000_000 - self.along(*value), word: minutes(*value) };
        PictureAxis { label: label.to_owned(), ticks: self.said_times().iter().map(tick).collect() }
    }
}

/// Times that people say, min.
const SAID: &[f64] = &[
    0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0, 90.0, 120.0, 180.0, 240.0, 360.0, 480.0, 720.0, 960.0,
    1_440.0, 2_160.0, 2_880.0, 4_320.0, 5_760.0, 10_080.0, 20_160.0, 43_200.0, 100_800.0, 201_600.0, 525_600.0,
];

/// The unit in which a stretch of time is best read: minutes in one, and its name as a label.
pub(super) fn clock(longest_min: f64) -> (f64, &'static str) {
    match longest_min {
        short if short <= 240.0 => (1.0, "Minutes"),
        day if day <= 4_320.0 => (60.0, "Hours"),
        _ => (1_440.0, "Days"),
    }
}
