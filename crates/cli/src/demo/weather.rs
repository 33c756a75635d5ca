//! The made-up air of three places, minute by minute, as a logger's CSV file.
//!
//! Whole hundredths of a degree throughout: no platform float, so every machine writes the same text. All numbers
//! are invented.

use super::calendar::{Calendar, MINUTE, written};
use std::fmt::Write;

/// A place with a logger.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// The heated room with the benches.
    Bench,
    /// A box with its own heater, for curing.
    WarmBox,
    /// The unheated shed where the wood lies.
    Store,
}

impl Spot {
    /// All places with a logger.
    pub const ALL: [Spot; 3] = [Spot::Bench, Spot::WarmBox, Spot::Store];

    /// Its name in the book.
    pub fn name(self) -> &'static str {
        match self {
            Spot::Bench => "bench room",
            Spot::WarmBox => "warm box",
            Spot::Store => "wood store",
        }
    }
}

/// Evening and morning of the night in which the bench room's heater failed, in days before T's own.
pub const COLD_EVENING: i64 = 8;
/// The day the box's logger lost its battery in the afternoon.
pub const BATTERY_DAY: i64 = 9;

/// Hundredths of a degree Celsius at each full local hour.
type Hours = [i64; 24];

const BENCH: Hours = [
    1780, 1770, 1760, 1755, 1750, 1750, 1780, 1920, 2030, 2060, 2080, 2100, 2110, 2120, 2120, 2115, 2110, 2100, 2060,
    1980, 1920, 1870, 1830, 1800,
];
const BENCH_HEATER_FAILS: Hours = [
    1780, 1770, 1760, 1755, 1750, 1750, 1780, 1920, 2030, 2060, 2080, 2100, 2110, 2120, 2120, 2115, 2110, 2080, 1890,
    1720, 1570, 1450, 1350, 1260,
];
const BENCH_HEATER_MENDED: Hours = [
    1180, 1110, 1060, 1010, 970, 930, 905, 890, 900, 1240, 1640, 1890, 2010, 2070, 2100, 2110, 2110, 2100, 2060, 1980,
    1920, 1870, 1830, 1800,
];
const WARM_BOX: Hours = [
    2840, 2840, 2840, 2835, 2835, 2835, 2840, 2840, 2845, 2850, 2855, 2860, 2860, 2865, 2865, 2860, 2860, 2855, 2850,
    2850, 2845, 2845, 2840, 2840,
];
const STORE: Hours = [
    620, 600, 590, 580, 570, 560, 560, 570, 600, 650, 700, 750, 790, 820, 830, 820, 790, 750, 720, 700, 680, 660, 650,
    630,
];

/// The logger's file for a place from one instant (inclusive) to another (exclusive), a line a minute.
pub fn csv(calendar: Calendar, spot: Spot, from_ms: i64, to_ms: i64) -> String {
    let mut text = String::from("time,temperature (C),humidity (%)\n");
    let mut at_ms = from_ms.div_euclid(MINUTE) * MINUTE;
    while at_ms < from_ms {
        at_ms += MINUTE;
    }
    while at_ms < to_ms {
        if !battery_empty(calendar, spot, at_ms) {
            line(&mut text, calendar, spot, at_ms);
        }
        at_ms += MINUTE;
    }
    text
}

/// What a thermometer on the wall shows at an instant: `20.4 C`.
pub fn shown(calendar: Calendar, spot: Spot, at_ms: i64) -> String {
    let tenths = centi(calendar, spot, at_ms).div_euclid(10);
    format!("{}.{} C", tenths / 10, tenths % 10)
}

/// One line; writing to a string cannot fail.
fn line(text: &mut String, calendar: Calendar, spot: Spot, at_ms: i64) {
    let temperature = shown(calendar, spot, at_ms);
    let humidity = humidity(calendar, spot, at_ms);
    let _ = writeln!(text, "{},{},{humidity}", written(at_ms), temperature.trim_end_matches(" C"));
}

/// Temperature, hundredths of a degree Celsius, never below zero: straight between hours, with a little flutter.
fn centi(calendar: Calendar, spot: Spot, at_ms: i64) -> i64 {
    let minute = (at_ms - calendar.midnight_ms(20)).div_euclid(MINUTE);
    let (hour, within) = (minute.div_euclid(60), minute.rem_euclid(60));
    let straight = at_hour(spot, hour) * (60 - within) + at_hour(spot, hour + 1) * within;
    let flutter = scatter(spot as u64, minute as u64, 13) - 6;
    (straight.div_euclid(60) + flutter).max(0)
}

/// Temperature at a full hour counted from the midnight 20 days before T's own.
fn at_hour(spot: Spot, hour: i64) -> i64 {
    let back = 20 - hour.div_euclid(24);
    let hours = match (spot, back) {
        (Spot::Bench, COLD_EVENING) => BENCH_HEATER_FAILS,
        (Spot::Bench, back) if back == COLD_EVENING - 1 => BENCH_HEATER_MENDED,
        (Spot::Bench, _) => BENCH,
        (Spot::WarmBox, _) => WARM_BOX,
        (Spot::Store, _) => STORE,
    };
    let of_day = hours.get(hour.rem_euclid(24) as usize).copied().unwrap_or(2000);
    of_day + frost(spot, back) + scatter(10 + spot as u64, back as u64, 41) - 20
}

/// How much colder the shed is around the cold night.
fn frost(spot: Spot, back: i64) -> i64 {
    match (spot, back) {
        (Spot::Store, COLD_EVENING) => -350,
        (Spot::Store, back) if back == COLD_EVENING - 1 => -470,
        (Spot::Store, back) if back == COLD_EVENING - 2 => -200,
        _ => 0,
    }
}

/// Relative humidity in whole per cent.
fn humidity(calendar: Calendar, spot: Spot, at_ms: i64) -> i64 {
    let quarter = (at_ms - calendar.midnight_ms(20)).div_euclid(15 * MINUTE);
    let around = match spot {
        Spot::Bench => 46,
        Spot::WarmBox => 33,
        Spot::Store => 71,
    };
    around + scatter(20 + spot as u64, quarter as u64, 5) - 2
}

/// The box's logger wrote nothing from 13:10 to 16:40 of its battery day.
fn battery_empty(calendar: Calendar, spot: Spot, at_ms: i64) -> bool {
    let gap = calendar.at_ms(BATTERY_DAY, (13, 10))..calendar.at_ms(BATTERY_DAY, (16, 40));
    spot == Spot::WarmBox && gap.contains(&at_ms)
}

/// A number in `0..below` that depends on stream and place only (the mixing step of SplitMix64, from memory).
fn scatter(stream: u64, at: u64, below: u64) -> i64 {
    let mut z = stream.wrapping_mul(0x9e37_79b9_7f4a_7c15).wrapping_add(at.wrapping_mul(0xd1b5_4a32_d192_ed03));
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((z ^ (z >> 31)) % below.max(1)) as i64
}
