//! What somebody stated a place's air will do, in words for who stands at the bench: what comes next of it, and whose word
//! it is. Never a reading.

use super::Asking;
use crate::act::forecast::clock_text;
use crate::judge::words::{Round, Saying};
use crate::reader::Reader;
use logbook::entry::Body;
use logbook::entry::forecast::{Forecast, Setback, Shape};
use logbook::settled::settle;
use logbook::store::Error;

/// A forecast in force for a place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Expected {
    forecast: Forecast,
    /// Zone of its times of day, minutes east.
    zone_min: i32,
    /// Who stated it.
    by: Option<String>,
}

/// The newest one that was stated by the instant judged.
pub(super) fn of(asking: &Asking, place: &str) -> Result<Option<Expected>, Error> {
    let all = settle(&asking.book.hand_readings(place, asking.at_ms, asking.at_ms)?, asking.judge.seen);
    let of_place = all.into_iter().filter_map(|one| match one.body {
        Body::Forecast(forecast) if forecast.place == place => Some((one.happened_ms, one.entry, forecast)),
        _ => None,
    });
    let newest = of_place.max_by_key(|(at, entry, _)| (*at, entry.order_ms, entry.seq));
    let Some((_, entry, forecast)) = newest else { return Ok(None) };
    Ok(Some(Expected { forecast, zone_min: entry.zone_min, by: asking.person(&entry)? }))
}

impl Expected {
    /// "forecast: heater back to 20 °C from 06:00 (stated by Ann)"; None: it has ended.
    pub fn said(&self, saying: Saying, reader: Reader) -> Option<String> {
        if self.forecast.until_ms.is_some_and(|until| until <= saying.at_ms) {
            return None;
        }
        let at = |mk: i64| reader.temperature(mk);
        let course = match &self.forecast.shape {
            Shape::Hold(hold) => format!("held at {}", at(hold.at.mk)),
            Shape::Setback(it) => self.setback(it, saying.at_ms, reader),
            Shape::Cooling(it) => format!("going towards {}", at(it.towards.mk)),
            Shape::Day(it) => {
                let swing = reader.difference(it.swing.mk_wide as f64 / 1000.0);
                format!("{} ± {swing} over the day, warmest at {}", at(it.mean.mk), clock_text(it.warmest_min))
            }
        };
        let until = self.forecast.until_ms.map(|ms| format!(", until {}", saying.time(ms, Round::Down)));
        let by = self.by.as_deref().unwrap_or("somebody");
        Some(format!("forecast: {course}{} (stated by {by})", until.unwrap_or_default()))
    }

    /// By night what the morning brings; by day the night first.
    fn setback(&self, it: &Setback, at_ms: i64, reader: Reader) -> String {
        let minute = (at_ms.div_euclid(60_000) + i64::from(self.zone_min)).rem_euclid(1440);
        let into_night = (minute - it.from_min).rem_euclid(1440);
        let night = into_night < (it.to_min - it.from_min).rem_euclid(1440);
        let back = format!("heater back to {} from {}", reader.temperature(it.day.mk), clock_text(it.to_min));
        if night {
            back
        } else {
            format!("down to {} from {}, {back}", reader.temperature(it.night.mk), clock_text(it.from_min))
        }
    }
}
