//! A cup's forecast in words, in the reader's units.

use super::asked::Asked;
use super::cup::{From, Known, Model, NoModel, Outlook, TRAY_M};
use crate::ask::Asking;
use crate::ask::answer::{Named, PourAnswer, PourPeak, PourWarning, PourWay};
use crate::judge::clocks::assumed;
use crate::judge::words::{capital, instant, list, stretch};
use crate::reader::{Degrees, Reader};
use glue::clock::Clock;
use glue::pot::Vessel;
use glue::pot::sheet::{Basis, OfCard, Unmodelled};

const WARM_K: f64 = 333.15;
const FIRE_K: f64 = 423.15;

/// The answer. `known` is what the book and the model gave for what was asked.
pub fn answer(asking: &Asking, asked: &Asked, known: &Known) -> PourAnswer {
    let reader = asking.judge.reader;
    let model = known.model.as_ref().ok();
    let clock_minutes = clock_minutes(asking, known);
    let model_minutes = model.and_then(|model| minutes(model.as_is.advised));
    let shorter = [clock_minutes, model_minutes].into_iter().flatten().min();
    let ways = model.map(|model| ways(model, reader)).unwrap_or_default();
    PourAnswer {
        at: instant(asking.at_ms),
        card: Named { name: asked.card.stored.name.clone(), id: asked.card.id.clone() },
        what: what(asked, known, reader),
        said: headline(shorter, model),
        minutes: shorter,
        model_minutes,
        clock_minutes,
        because: because(asked, known, (model_minutes, clock_minutes), reader),
        warnings: model.map(|model| warnings(asked, known, model, reader)).unwrap_or_default(),
        peak: model.map(|model| peak(&model.as_is, reader)),
        ways_said: model.and_then(|model| ways_said(model, known, reader)),
        ways,
        calibration: calibration(asked, known, reader),
        rests_on: rests_on(known, reader),
    }
}

/// Whole minutes, rounded down.
fn minutes(seconds: Option<f64>) -> Option<i64> {
    seconds.map(|s| libm::floor(s / 60.0) as i64)
}

/// A temperature, K, in whole degrees.
fn whole(k: f64, reader: Reader) -> String {
    let (zero, per_k) = match reader.temperature {
        Degrees::Celsius => (273.15, 1.0),
        Degrees::Fahrenheit => (459.67, 1.8),
    };
    reader.kelvin((libm::round(k * per_k - zero) + zero) / per_k)
}

/// Minutes as a builder says them: "62 min", "3 h 20 min".
pub fn span(minutes: i64) -> String {
    if minutes <= 120 { format!("{minutes} min") } else { stretch(minutes * 60_000) }
}

/// What its clock leaves, whole minutes.
pub fn clock_minutes(asking: &Asking, known: &Known) -> Option<i64> {
    let earliest = known.clock.as_ref()?.told.earliest_ms?;
    Some((earliest - asking.at_ms).max(0).div_euclid(60_000))
}

/// "150 g in a cup", "150 g, 6 mm deep".
pub fn what(asked: &Asked, known: &Known, reader: Reader) -> String {
    let mass = known.mass_g.map_or("an unknown mass".to_owned(), |g| reader.mass((g * 1000.0) as i64));
    match asked.vessel {
        Vessel::Cup => format!("{mass} in a cup"),
        Vessel::Tray(depth) => format!("{mass}, {} deep", deep(depth, reader)),
    }
}

fn deep(depth: f64, reader: Reader) -> String {
    reader.length(libm::round(depth * 1e6) as i64)
}

fn headline(shorter: Option<i64>, model: Option<&Model>) -> String {
    match (shorter, model) {
        (Some(0), _) => "Do not pour it like this: it is too hot or too old to work with from the start".to_owned(),
        (Some(within), _) => format!("Use it up within {}", span(within)),
        (None, Some(_)) => "It does not set in this vessel within two months".to_owned(),
        (None, None) => "Nothing says how long it can be worked".to_owned(),
    }
}

fn because(asked: &Asked, known: &Known, both: (Option<i64>, Option<i64>), reader: Reader) -> Vec<String> {
    let mut said = Vec::new();
    let stated = asked.card.stated(Clock::Pot, reader);
    let (model, clock) = both;
    if let Some(model) = model {
        let (start, air) = (reader.kelvin(known.start.k), reader.kelvin(known.air.k));
        let mixed = if start == air { format!("mixed at {start}") } else { format!("mixed at {start}, air {air}") };
        said.push(format!("{} by the heat model: {}, {mixed}", span(model), what(asked, known, reader)));
    }
    match clock {
        Some(clock) => said.push(format!("{} by its clock, from the sheet's {}", span(clock), list(&stated))),
        None if stated.is_empty() => said.push("The sheet states no pot life".to_owned()),
        None => said.push(format!("The sheet's {} gives no limit here", list(&stated))),
    }
    match both {
        (Some(model), Some(clock)) if model < clock => said.push("The shorter counts".to_owned()),
        (Some(model), Some(clock)) if model > clock => {
            said.push("The clock counts: the heat model never lengthens a sheet".to_owned());
        }
        _ => {}
    }
    said
}

/// How hot it gets, if that is too hot.
pub fn heat(outlook: &Outlook, reader: Reader) -> Option<PourWarning> {
    let peak = outlook.course.peak_k;
    let (limit, short, what) = if peak > FIRE_K {
        let fire = "smoke, foam and fire. Use it up or spread it out; what is left goes outdoors on something that does \
                    not burn, never into a bin";
        (FIRE_K, "smoke, foam and fire", fire)
    } else if peak > WARM_K {
        (WARM_K, "too hot to hold", "too hot to hold, and it sets within minutes. Use it up or spread it out")
    } else {
        return None;
    };
    let said = format!("Left standing it gets hotter than {}: {what}", reader.kelvin(limit));
    Some(PourWarning { tone: "heat".to_owned(), short: format!("left standing: {short}"), said })
}

/// Warnings, the worst first.
fn warnings(asked: &Asked, known: &Known, model: &Model, reader: Reader) -> Vec<PourWarning> {
    let doubt = |short: String, said: String| PourWarning { tone: "doubt".to_owned(), short, said };
    let mut all: Vec<PourWarning> = heat(&model.as_is, reader).into_iter().collect();
    all.extend(warmed(known, model, reader).map(|(short, said)| doubt(short, said)));
    let largest = asked.card.stored.largest_batch.as_ref();
    if let (Some(most), Some(g)) = (largest, known.mass_g)
        && g * 1000.0 > most.mg as f64
    {
        let most = reader.mass(most.mg);
        all.push(doubt(format!("the sheet's largest batch is {most}"), format!("The sheet's largest batch is {most}")));
    }
    all
}

/// What warming the components costs: in a few words, and in a sentence.
fn warmed(known: &Known, model: &Model, reader: Reader) -> Option<(String, String)> {
    let cool = model.unwarmed?;
    let now = minutes(model.as_is.advised)?;
    let (start, air) = (reader.kelvin(known.start.k), reader.kelvin(known.air.k));
    let instead = minutes(cool.advised).map_or("far longer".to_owned(), span);
    let shorter = cool.advised.is_none_or(|cool| model.as_is.advised.is_some_and(|now| now < 0.9 * cool));
    let short = format!("warm at the start: {} by the model, not {instead}", span(now));
    shorter.then(|| {
        let said = format!(
            "Mixed at {start} in air of {air} it lasts {}; mixed at {air} it would last {instead}. Inside it stays warm \
             though the shop is cold",
            span(now)
        );
        (short, said)
    })
}

/// Where it goes if it is forgotten.
pub fn peak(as_is: &Outlook, reader: Reader) -> PourPeak {
    let course = &as_is.course;
    let after = libm::floor(course.peak / 60.0) as i64;
    let hottest = whole(course.peak_k, reader);
    let said = if course.peak <= 0.0 {
        format!("Forgotten, it gets no warmer than it starts, {}", reader.kelvin(course.peak_k))
    } else if course.peak_k > FIRE_K {
        format!("Forgotten, it would reach {hottest} after {}, as an upper limit", span(after))
    } else {
        format!("Forgotten, it would reach {hottest} after {}", span(after))
    };
    PourPeak { mk: libm::round(course.peak_k * 1000.0) as i64, minutes: after, said }
}

fn ways(model: &Model, reader: Reader) -> Vec<PourWay> {
    let all = [
        ("tray", format!("Spread {} deep", deep(TRAY_M, reader)), &model.tray),
        ("two-cups", "In two cups".to_owned(), &model.halves),
        ("cup", "All in one cup".to_owned(), &model.cup),
    ];
    let way = |(way, name, outlook): (&str, String, &Option<Outlook>)| {
        let outlook = outlook.as_ref()?;
        let (minutes, gain) = (minutes(outlook.advised), gain(model, outlook));
        let lasts = minutes.map_or("not set within two months".to_owned(), span);
        let by = gain.map(|percent| format!(" ({percent:+} %)")).unwrap_or_default();
        let hot = Some(outlook.course.peak_k).filter(|peak| *peak > WARM_K);
        let hot = hot.map(|peak| format!(", and still {} if forgotten", whole(peak, reader)));
        let said = format!("{name}: {lasts}{by}{}", hot.unwrap_or_default());
        Some(PourWay { way: way.to_owned(), minutes, gain_percent: gain, said })
    };
    all.into_iter().filter_map(way).collect()
}

/// Longer than as it stands, whole per cent.
fn gain(model: &Model, other: &Outlook) -> Option<i64> {
    let (now, other) = (model.as_is.advised?, other.advised?);
    (now > 0.0).then(|| libm::round(100.0 * (other / now - 1.0)) as i64)
}

fn ways_said(model: &Model, known: &Known, reader: Reader) -> Option<String> {
    let percent = gain(model, model.halves.as_ref()?)?;
    let mass = reader.mass((known.mass_g? * 1000.0) as i64);
    let worth = match percent {
        ..=0 => "helps nothing".to_owned(),
        1..15 => format!("helps by {percent} %, which is little"),
        _ => format!("helps by {percent} %"),
    };
    Some(format!(
        "Splitting {mass} in two {worth}. These are the model's times: the clock keeps to the sheet whatever it stands in"
    ))
}

/// By what the model was set, or why there is none.
pub fn calibration(asked: &Asked, known: &Known, reader: Reader) -> String {
    let class = &asked.card.stored.class;
    match &known.model {
        Ok(model) => calibrated(asked, &model.of, reader),
        Err(NoModel::Card(Unmodelled::Class)) => {
            format!("No heat model is used for {class}: its clock goes by the sheet alone")
        }
        Err(NoModel::Card(Unmodelled::NoPotLife)) => {
            "The card has no pot life with a temperature, so no heat model is used".to_owned()
        }
        Err(NoModel::Card(Unmodelled::Unfit(_))) => {
            "No heat model meets the sheet's pot life, so none is used".to_owned()
        }
        Err(NoModel::Mass) => "The mass is not known, so no heat model is used".to_owned(),
        Err(NoModel::Outside) => format!(
            "No heat model is used outside 1 g to 10 kg and {} to {}",
            reader.kelvin(263.15),
            reader.kelvin(333.15)
        ),
        Err(NoModel::Unsolved(why)) => format!("No heat model is used: {why}"),
    }
}

/// By what the model was set.
fn calibrated(asked: &Asked, of: &OfCard, reader: Reader) -> String {
    let unstated = if of.mass_stated { "" } else { ", a mass the sheet does not state" };
    let mass = reader.mass(libm::round(of.mass_g * 1000.0) as i64);
    let life = format!("pot life of {mass} at {}{unstated}", reader.kelvin(of.at_k));
    let film = asked.card.stored.film_gel.as_ref();
    let gel = film.map(|it| format!("{} at {}", it.typed, reader.temperature(it.at.mk))).unwrap_or_default();
    match of.basis {
        Basis::Both => format!("Heat model by two numbers of the sheet: {life}, and gel of a film, {gel}"),
        Basis::PotLife => format!("Heat model by the {life} alone: the gel time of a film is not on the card"),
        Basis::Disagree(film_s) => format!(
            "The sheet's two numbers disagree: with the {life}, a film would gel after {}, where the sheet says {gel}. \
             The pot life is kept",
            span(libm::round(film_s / 60.0) as i64)
        ),
    }
}

/// Temperatures taken, and what the clock takes for granted.
pub fn rests_on(known: &Known, reader: Reader) -> Vec<String> {
    let start = reader.kelvin(known.start.k);
    let mut all = vec![match known.start.from {
        From::Typed => format!("Components at {start}, as typed"),
        From::Storage => format!("Components at {start}, the air where the cans stand"),
        From::Air => format!("Components at {start}, like the air"),
    }];
    let air = reader.kelvin(known.air.k);
    all.push(match (&known.air.place, known.air.age_ms) {
        (Some(place), Some(..60_000)) => format!("Air {air} at {place}, read just now"),
        (Some(place), Some(age)) => format!("Air {air} at {place}, read {} ago", stretch(age)),
        (Some(place), None) => format!("{place} was not read in the last 4 h: air of {air} is taken, the hottest"),
        (None, _) => format!("No place is named: air of {air} is taken, the hottest"),
    });
    all.extend(known.clock.iter().flat_map(assumed).map(|said| capital(&said)));
    all
}
