//! The demo's calendar: days counted back from the last one, in the made-up shop's zone.

use chrono::{DateTime, FixedOffset, SecondsFormat};

/// The shop's zone, minutes east of Greenwich. Fixed, so that the same T gives the same bytes everywhere.
pub const ZONE_MIN: i32 = 60;
/// One minute, ms.
pub const MINUTE: i64 = 60_000;
/// One day, ms.
pub const DAY: i64 = 24 * 60 * MINUTE;
/// How many days the shop was lived in before T.
pub const DAYS: i64 = 14;

/// Where T lies among the local days.
#[derive(Clone, Copy, Debug)]
pub struct Calendar {
    /// The instant the demo ends at, ms UTC.
    pub until_ms: i64,
}

impl Calendar {
    /// The instant the demo begins at, ms UTC.
    pub fn begin_ms(self) -> i64 {
        self.until_ms - DAYS * DAY
    }

    /// Local midnight that began the day `back` days before T's own local day, ms UTC.
    pub fn midnight_ms(self, back: i64) -> i64 {
        let shift = i64::from(ZONE_MIN) * MINUTE;
        (self.until_ms + shift).div_euclid(DAY) * DAY - shift - back * DAY
    }

    /// A local clock time (hour, minute) of the day `back` days before T's own, ms UTC.
    pub fn at_ms(self, back: i64, (hour, minute): (i64, i64)) -> i64 {
        self.midnight_ms(back) + (hour * 60 + minute) * MINUTE
    }

    /// A date of the shop's zone: `2026-11-24`.
    pub fn date(self, back: i64) -> String {
        local(self.midnight_ms(back)).format("%Y-%m-%d").to_string()
    }
}

/// RFC 3339 in the shop's zone.
pub fn written(at_ms: i64) -> String {
    local(at_ms).to_rfc3339_opts(SecondsFormat::Secs, false)
}

/// Local day and time for a file's name: `2026-11-24 0805`.
pub fn stamp(at_ms: i64) -> String {
    local(at_ms).format("%Y-%m-%d %H%M").to_string()
}

/// RFC 3339 in UTC with milliseconds.
pub fn written_utc(at_ms: i64) -> String {
    DateTime::from_timestamp_millis(at_ms).unwrap_or_default().to_rfc3339_opts(SecondsFormat::Millis, true)
}

/// The instant on the shop's own clock. An instant no calendar holds becomes 1970.
fn local(at_ms: i64) -> DateTime<FixedOffset> {
    let utc = DateTime::from_timestamp_millis(at_ms).unwrap_or_default();
    FixedOffset::east_opt(ZONE_MIN * 60).map_or_else(|| utc.fixed_offset(), |zone| utc.with_timezone(&zone))
}
