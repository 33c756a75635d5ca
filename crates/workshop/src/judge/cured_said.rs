//! How cured, in words: whole per cent and whole degrees, since the model knows no better, and never "cured".

use super::cured::{CureOn, Cured, HowCured, Rates};
use super::words::{Round, Saying, capital, stretch};
use crate::reader::Reader;

/// Whose word counts.
pub const BY_MODEL: &str = "by model, not by test: the sample joint decides";
const ZERO_C: f64 = 273.15;
/// Up to here a temperature is called a room's, K (30 °C).
const ROOM_K: f64 = ZERO_C + 30.0;
/// A dark skin in the sun passes this, K (50 °C; common knowledge, no source).
const DARK_SKIN_K: f64 = ZERO_C + 50.0;
/// A stretch without a reading shorter than this is not spoken of, ms.
const WORTH_SAYING_MS: i64 = 30 * 60_000;

/// Whole per cent; never all of it.
pub fn percent_of(conversion: f64) -> i64 {
    (libm::round(conversion * 100.0) as i64).clamp(0, 99)
}

/// "29 °C", or "28 °C to 31 °C".
pub fn glass(glass_k: (f64, f64), reader: Reader) -> String {
    let (low, high) = (reader.whole(glass_k.0), reader.whole(glass_k.1));
    if low == high { low } else { format!("{low} to {high}") }
}

/// The sentence.
pub fn said(told: &HowCured, reader: Reader) -> String {
    match told {
        HowCured::CannotTell(why) => format!("How cured cannot be told: {why}."),
        HowCured::Told(cured) => format!("{}.", capital(&short(cured, reader))),
    }
}

/// The same without capital letter and full stop.
pub fn short(cured: &Cured, reader: Reader) -> String {
    let numbers =
        format!("about {} %, glass transition about {}", percent_of(cured.conversion), glass(cured.glass_k, reader));
    let room = if cured.line_k <= ROOM_K { "this room temperature" } else { "this temperature" };
    if cured.stalled {
        format!("stalled at {room}: {numbers}; warming helps, waiting does not")
    } else {
        format!("still curing: {numbers} so far; warmth makes it quicker")
    }
}

/// What it rests on.
pub fn rests_on(cured: &Cured, on: &CureOn) -> Vec<String> {
    let saying = Saying { zone_min: on.zone_min, at_ms: 0 };
    let (from, to) = (saying.time(cured.since_ms, Round::Down), saying.time(cured.until_ms, Round::Down));
    let warmest = on.reader.temperature(libm::round(cured.highest_k * 1000.0) as i64);
    let mut all = vec![BY_MODEL.to_owned(), format!("the glue line from All tight {from} to {to}, warmest {warmest}")];
    all.push(if cured.of.own_glass {
        format!("glass transition, fully cured, {} by {}", on.reader.kelvin(cured.of.glass.full_k), cured.of.name)
    } else {
        "glass: values for the class, not this adhesive".to_owned()
    });
    all.push(rates(cured.of.rates).to_owned());
    let long = |ms: i64| (ms >= WORTH_SAYING_MS).then(|| stretch(ms));
    all.extend(
        long(cured.held_ms).map(|long| format!("{long} without a reading: the last temperature taken to go on")),
    );
    all.extend(long(cured.unknown_ms).map(|long| format!("the first {long} without a reading: not counted")));
    if on.wood.thickness_mm.is_none() {
        let taken = on.reader.length((glue::wood::THICKNESS_MM * 1000.0) as i64);
        all.push(format!("thickness of the members is not recorded: {taken} taken"));
    }
    if on.wood.start_k.is_none() {
        let taken = on.reader.kelvin(glue::wood::START_K);
        all.push(format!("temperature of the wood when glued is not recorded: {taken} taken"));
    }
    all
}

fn rates(rates: Rates) -> &'static str {
    match rates {
        Rates::PotAndFilm => "rates from the card's pot life and gel time of a film",
        Rates::Pot => "rates from the card's pot life",
        Rates::PotAgainstFilm => "rates from the card's pot life; its gel time of a film does not go with it",
        Rates::Class => "rates: values for the class, not this adhesive",
    }
}

/// What the service asks for and the glue line does not give.
pub fn caution(cured: &Cured, service: Option<&(i64, String)>, reader: Reader) -> Option<String> {
    let glass = glass(cured.glass_k, reader);
    match service {
        Some((mk, part)) if cured.glass_k.0 < *mk as f64 / 1000.0 => {
            let hot = reader.temperature(*mk);
            let rises = if cured.stalled { "A post-cure raises it" } else { "It is still rising" };
            Some(format!(
                "The glass transition, about {glass}, lies below the {hot} named for the service of {part}: hotter than \
                 its glass transition the glue goes soft. {rises}."
            ))
        }
        None if cured.stalled && cured.glass_k.0 < DARK_SKIN_K => Some(
            "In the sun a dark skin gets hotter than this glass transition: the glue goes soft. What the part sees in \
             service is not recorded."
                .to_owned(),
        ),
        _ => None,
    }
}
