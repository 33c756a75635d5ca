//! What somebody expects the air of a place to do: estimates go by it, no clamp ever comes off by it.

use super::desk::Desk;
use super::{Enact, instant, typed};
use crate::wire::{WireError, shown};
use logbook::entry::forecast::{self as stored, Shape};
use logbook::entry::{Body, typed as kept};
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the air of a place is expected to do from now on; the newest forecast of a place holds. `hold` takes `at`;
/// `setback` takes `day`, `night`, `from`, `to`, `ramp`; `cooling` takes `towards`, `time_constant`; `day` takes `mean`,
/// `swing`, `warmest`. Estimates go by it; nothing is ever reached by it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Forecast {
    /// Where.
    pub place: String,
    /// `hold`, `setback`, `cooling` or `day`.
    pub shape: String,
    /// `hold`: the temperature, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// `setback`: by day, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<String>,
    /// `setback`: by night, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub night: Option<String>,
    /// `setback`: the night begins, local time of day such as `22:00`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// `setback`: the day begins, local time of day such as `06:00`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// `setback`: how long each change takes, not longer than night or day; absent: 2 h.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ramp: Option<String>,
    /// `cooling`: where it ends, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub towards: Option<String>,
    /// `cooling`: until 37 % of the difference is left, 10 min to 100 h; absent: from the place's last cool-down, else 4 h.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time_constant: Option<String>,
    /// `day`: mean, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mean: Option<String>,
    /// `day`: the warmest above the mean, 0.1 to 30 K.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub swing: Option<String>,
    /// `day`: when it is warmest, local time of day such as `15:00`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warmest: Option<String>,
    /// RFC 3339; from then on the air stays as it was then. Absent: it goes on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
}

/// Shapes with their fields; `true`: it has to be there.
const SHAPES: [(&str, &[(&str, bool)]); 4] = [
    ("hold", &[("at", true)]),
    ("setback", &[("day", true), ("night", true), ("from", true), ("to", true), ("ramp", false)]),
    ("cooling", &[("towards", true), ("time_constant", false)]),
    ("day", &[("mean", true), ("swing", true), ("warmest", true)]),
];
const WORDS: &str = "hold, setback, cooling or day";
/// Times of day.
const CLOCK: &str = "00:00 to 23:59";
/// Minutes of a day.
const DAY_MIN: i64 = 1_440;

impl Enact for Forecast {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let place = desk.find(Noun::Place, "body.place", &self.place)?;
        self.fields_fit()?;
        let shape = self.shape()?;
        let until_ms = self.until.as_ref().map(|until| instant::any("body.until", until)).transpose()?;
        if let (Some(until_ms), Some(until)) = (until_ms, &self.until)
            && until_ms <= desk.happened_ms
        {
            let range = format!("after {}", instant::written(desk.happened_ms));
            let sentence = format!("body.until is \"{}\"; it takes an instant {range}.", shown(until));
            let error = WireError::new("out-of-range", sentence, "Say until when, or leave it out.");
            return Err(error.field("body.until").value(until).range(range));
        }
        desk.put(Body::Forecast(stored::Forecast { place, shape, until_ms }), vec![]);
        Ok(())
    }
}

impl Forecast {
    /// What each field says.
    fn said(&self) -> [(&'static str, Option<&String>); 11] {
        [
            ("at", self.at.as_ref()),
            ("day", self.day.as_ref()),
            ("night", self.night.as_ref()),
            ("from", self.from.as_ref()),
            ("to", self.to.as_ref()),
            ("ramp", self.ramp.as_ref()),
            ("towards", self.towards.as_ref()),
            ("time_constant", self.time_constant.as_ref()),
            ("mean", self.mean.as_ref()),
            ("swing", self.swing.as_ref()),
            ("warmest", self.warmest.as_ref()),
        ]
    }

    /// Refuses an unknown shape, a field of another shape, and a missing one.
    fn fields_fit(&self) -> Result<(), WireError> {
        let Some((word, takes)) = SHAPES.into_iter().find(|(word, _)| *word == self.shape.trim()) else {
            let sentence = format!("body.shape is \"{}\"; it takes {WORDS}.", shown(&self.shape));
            let error = WireError::new("out-of-range", sentence, "Write one of these words.");
            return Err(error.field("body.shape").value(&self.shape).range(WORDS));
        };
        for (name, value) in self.said() {
            let Some(value) = value else { continue };
            if takes.iter().all(|(taken, _)| *taken != name) {
                let names = takes.iter().map(|(name, _)| *name).collect::<Vec<_>>().join(", ");
                let sentence = format!("body.{name} is \"{}\", but shape \"{word}\" takes {names}.", shown(value));
                let error = WireError::new("contradicts", sentence, "Leave it out, or name another shape.");
                return Err(error.field(format!("body.{name}")).value(value).range(names));
            }
        }
        for (name, needed) in takes {
            let given = self.said().into_iter().any(|(said, value)| said == *name && value.is_some());
            if *needed && !given {
                let range = range_of(name);
                let sentence = format!("body.{name} is missing; shape \"{word}\" needs it: {range}.");
                let error = WireError::new("missing", sentence, format!("Write {name}."));
                return Err(error.field(format!("body.{name}")).range(range));
            }
        }
        Ok(())
    }

    fn shape(&self) -> Result<Shape, WireError> {
        let air = |field: &str, text: &Option<String>| typed::air(field, text.as_deref().unwrap_or_default());
        let clock = |field: &str, text: &Option<String>| time_of_day(field, text.as_deref().unwrap_or_default());
        Ok(match self.shape.trim() {
            "hold" => Shape::Hold(stored::Hold { at: air("body.at", &self.at)? }),
            "setback" => {
                let setback = stored::Setback {
                    day: air("body.day", &self.day)?,
                    night: air("body.night", &self.night)?,
                    from_min: clock("body.from", &self.from)?,
                    to_min: clock("body.to", &self.to)?,
                    ramp: typed::maybe("body.ramp", self.ramp.as_deref(), typed::time)?,
                };
                self.ramp_fits(&setback)?;
                Shape::Setback(setback)
            }
            "cooling" => Shape::Cooling(stored::Cooling {
                towards: air("body.towards", &self.towards)?,
                time_constant: typed::maybe("body.time_constant", self.time_constant.as_deref(), time_constant)?,
            }),
            _ => Shape::Day(stored::Day {
                mean: air("body.mean", &self.mean)?,
                swing: typed::swing("body.swing", self.swing.as_deref().unwrap_or_default())?,
                warmest_min: clock("body.warmest", &self.warmest)?,
            }),
        })
    }

    /// Each change has to be over before the next begins.
    fn ramp_fits(&self, it: &stored::Setback) -> Result<(), WireError> {
        let night_min = (it.to_min - it.from_min).rem_euclid(DAY_MIN);
        let (to, from) = (self.to.as_deref().unwrap_or_default(), self.from.as_deref().unwrap_or_default());
        if night_min == 0 {
            let sentence = format!("body.to is \"{}\", the same as body.from: there is no night.", shown(to));
            let error = WireError::new("contradicts", sentence, "Use shape hold, or say when the day begins.");
            return Err(error.field("body.to").value(to).range("another time of day than from"));
        }
        let ramp_ms = it.ramp.as_ref().map_or(glue::clock::RAMP_MS, |ramp| ramp.time_ms);
        let shorter_ms = night_min.min(DAY_MIN - night_min) * 60_000;
        if ramp_ms <= shorter_ms {
            return Ok(());
        }
        let ramp = self.ramp.clone().unwrap_or_else(|| "2 h".to_owned());
        let (half, since, until) =
            if night_min * 60_000 == shorter_ms { ("night", from, to) } else { ("day", to, from) };
        let (since, until, minutes) = (shown(since), shown(until), shorter_ms / 60_000);
        let sentence = format!(
            "body.ramp \"{}\" does not fit: the {half} from {since} to {until} is only {minutes} min.",
            shown(&ramp)
        );
        let error = WireError::new("contradicts", sentence, "Write a shorter ramp.");
        Err(error.field("body.ramp").value(&ramp).range(format!("not longer than the {half}")))
    }
}

/// What a field takes.
fn range_of(name: &str) -> &'static str {
    match name {
        "from" | "to" | "warmest" => CLOCK,
        "swing" => glue::unit::TemperatureSwing::RANGE,
        _ => glue::unit::AirTemperature::RANGE,
    }
}

/// How long until 37 % of a difference is left: 10 min to 100 h.
fn time_constant(field: &str, text: &str) -> Result<kept::Time, WireError> {
    let time = typed::time(field, text)?;
    let (shortest, longest) = glue::clock::TAU_MS;
    if (shortest..=longest).contains(&time.time_ms) {
        return Ok(time);
    }
    let sentence = format!("{field} \"{}\" is outside 10 min to 100 h.", shown(text));
    let error = WireError::new("out-of-range", sentence, "Check the number and its unit, or leave it out.");
    Err(error.field(field).value(text).range("10 min to 100 h"))
}

/// A local time of day: minutes after midnight.
fn time_of_day(field: &str, text: &str) -> Result<i64, WireError> {
    let whole = text.trim();
    let parts = whole.split_once(':').filter(|(hours, minutes)| {
        let digits = |part: &str| part.bytes().all(|letter| letter.is_ascii_digit());
        (1..=2).contains(&hours.len()) && minutes.len() == 2 && digits(hours) && digits(minutes)
    });
    let read = parts.and_then(|(hours, minutes)| Some((hours.parse::<i64>().ok()?, minutes.parse::<i64>().ok()?)));
    match read {
        Some((hours, minutes)) if hours < 24 && minutes < 60 => Ok(hours * 60 + minutes),
        _ => {
            let sentence = format!("{field} is \"{}\", which is no time of day; it takes {CLOCK}.", shown(text));
            let error = WireError::new("out-of-range", sentence, "Write hours and minutes, such as 22:00.");
            Err(error.field(field).value(text).range(CLOCK))
        }
    }
}

/// `22:00` of minutes after midnight.
pub(crate) fn clock_text(minutes: i64) -> String {
    format!("{:02}:{:02}", minutes.div_euclid(60).rem_euclid(24), minutes.rem_euclid(60))
}
