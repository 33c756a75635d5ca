//! What clocks say (docs/science/clocks.md): the headline of a must-reach clock is its latest estimate, that of a
//! must-not-exceed clock its earliest. Never more than the sheet's numbers against the record. Times of day are the
//! reader's own, so no zone is said with each.

use super::prepared::{Prepared, Reckoned};
use super::words::{Round, Saying, list, percent, stretch};
use crate::reader::Reader;
use glue::clock::{Assumed, Clock, Direction, Help, LawKind, State, Told};

/// Fills in the sentences of clocks that belong together: a release names what is still not allowed.
pub fn say_all(clocks: &mut [Reckoned], at_ms: i64) {
    let said: Vec<String> = clocks.iter().map(|one| say(one, clocks, at_ms)).collect();
    for (one, said) in clocks.iter_mut().zip(said) {
        one.said = said;
    }
}

fn say(one: &Reckoned, beside: &[Reckoned], at_ms: i64) -> String {
    let saying = Saying { zone_min: one.on.zone_min, at_ms };
    match one.on.clock.direction() {
        Direction::MustNotExceed => must_not_exceed(one, saying),
        Direction::MustReach => must_reach(one, beside, saying),
    }
}

// ---- must not exceed ----

fn must_not_exceed(one: &Reckoned, saying: Saying) -> String {
    let name = name(one);
    match one.told.state {
        State::Running => running_out(one, saying),
        State::Over => match one.told.earliest_ms {
            Some(at) => format!("{name} over since {}", saying.time(at, Round::Down)),
            None => format!("{name} over"),
        },
        State::Ended | State::Reached => {
            let at = one.on.ended_ms.map(|at| format!(" at {}", saying.time(at, Round::Down))).unwrap_or_default();
            format!("{name} ended{at}, in time: {} of the limit", percent(one.told.progress_ppm[2]))
        }
        State::Never => format!("{name}: no limit is met within the horizon at this temperature"),
        State::Held => format!("{name} cannot be judged: {}", no_law(&one.on)),
    }
}

fn running_out(one: &Reckoned, saying: Saying) -> String {
    let Some(earliest) = one.told.earliest_ms else {
        return format!("{}: no limit is met within the horizon at this temperature", name(one));
    };
    let until = saying.time(earliest, Round::Down);
    let likely = match one.told.expected_ms {
        Some(expected) if expected - earliest >= 60_000 => {
            format!(" (probably {})", saying.time(expected, Round::Down))
        }
        _ => String::new(),
    };
    let do_it = match one.on.clock {
        Clock::Pot => format!("{} is good until {until}", name(one)),
        Clock::Open => format!("Together by {until}"),
        Clock::Closed => format!("All tight by {until}"),
        Clock::FreshSurface => format!("Close the fresh faces by {until}"),
        _ => format!("Glue on this layer without abrading by {until}"),
    };
    format!("{do_it}{likely}")
}

fn name(one: &Reckoned) -> String {
    match (one.on.clock, &one.on.batch_name) {
        (Clock::Pot, Some(batch)) => format!("Pot {batch}"),
        (Clock::Pot, None) => "Pot".to_owned(),
        (Clock::Open, _) => "Open time".to_owned(),
        (Clock::Closed, _) => "Closed time".to_owned(),
        (Clock::FreshSurface, _) => "Time since the faces were made fresh".to_owned(),
        (Clock::GlueAgain, _) => "Time to glue on this layer without abrading".to_owned(),
        (Clock::Clamp, _) => "Clamp time".to_owned(),
        (Clock::Machining, _) => "Machining time".to_owned(),
        (Clock::FullCure, _) => "The sheet's full-cure time".to_owned(),
    }
}

fn no_law(on: &Prepared) -> &'static str {
    match &on.card {
        None => "no mix is recorded, so no card is in force: enter the mix",
        Some(card) if card.glue.water_borne && on.clock.direction() == Direction::MustNotExceed => {
            "the card states no range for it: enter the sheet's temperatures for application"
        }
        Some(_) => "the card gives one temperature and its class no law: enter a second point of the sheet",
    }
}

// ---- must reach ----

fn must_reach(one: &Reckoned, beside: &[Reckoned], saying: Saying) -> String {
    let until = until(one.on.clock);
    match one.told.state {
        State::Reached => reached(one, beside, saying),
        State::Ended => too_early(one, saying),
        State::Held => format!("{until}: it cannot be judged, {}", no_law(&one.on)),
        State::Never => format!("{until}: {}", why_never(one, saying)),
        State::Running | State::Over => match (one.told.latest_ms, one.told.expected_ms) {
            (Some(latest), expected) => {
                let likely =
                    expected.map(|at| format!(" (probably ready {})", saying.time(at, Round::Up))).unwrap_or_default();
                format!("{until} until {}{likely}", saying.time(latest, Round::Up))
            }
            (None, Some(expected)) => {
                let ready = saying.time(expected, Round::Up);
                format!("{until}: {} (probably ready {ready})", why_open(one))
            }
            (None, None) => format!("{until}: {}", why_open(one)),
        },
    }
}

fn until(clock: Clock) -> &'static str {
    match clock {
        Clock::Clamp => "Clamps stay on",
        Clock::Machining => "No planing or turning",
        _ => "No stress or heat",
    }
}

fn reached(one: &Reckoned, beside: &[Reckoned], saying: Saying) -> String {
    let since = one.told.latest_ms.map(|at| format!(" since {}", saying.time(at, Round::Up))).unwrap_or_default();
    match one.on.clock {
        Clock::Machining => format!("The sheet's machining time is reached{since}"),
        Clock::FullCure => format!("The sheet's full-cure time is reached{since}"),
        _ if one.on.ended_ms.is_some() => {
            format!("Clamps came off after the sheet's time was reached; {}", still_not(beside, saying))
        }
        _ => format!("Clamps may come off{since}; {}", still_not(beside, saying)),
    }
}

/// What is still not allowed when clamps come off.
fn still_not(beside: &[Reckoned], saying: Saying) -> String {
    let find = |clock| beside.iter().find(|one| one.on.clock == clock);
    let mut waits = Vec::new();
    for (clock, what) in [(Clock::Machining, "plane or turn"), (Clock::FullCure, "stress or heat")] {
        match find(clock) {
            Some(one) if one.told.state == State::Reached => {}
            Some(one) => {
                let when =
                    one.told.latest_ms.map(|at| format!(" until {}", saying.time(at, Round::Up))).unwrap_or_default();
                waits.push(format!("{what}{when}"));
            }
            None => waits.push(format!("{what} (the card states no {} time)", clock.word())),
        }
    }
    if waits.is_empty() {
        "machining and full-cure times are reached".to_owned()
    } else {
        format!("do not yet {}", list(&waits))
    }
}

fn too_early(one: &Reckoned, saying: Saying) -> String {
    let at = one.on.ended_ms.map(|at| saying.time(at, Round::Down)).unwrap_or_default();
    let what = match one.on.clock {
        Clock::Clamp => "First clamp off",
        Clock::Machining => "Used",
        _ => "Loaded or shipped",
    };
    let low = percent(one.told.progress_ppm[0].min(999_999));
    format!("{what} at {at}, too early: {low} of the time was reached")
}

fn why_never(one: &Reckoned, saying: Saying) -> String {
    if let Some(lost) = one.on.lost_ms {
        return format!(
            "a clamp was lost at {}; the time counts anew from Re-tightened",
            saying.time(lost, Round::Down)
        );
    }
    if one.on.started_ms.is_none() {
        return "All tight is not recorded".to_owned();
    }
    why_open(one)
}

/// "never at 9 °C (needs 12 °C); held at 18 °C from now: 09:40"; None: it waits for something else than warmth.
fn too_cold(one: &Reckoned, minimum_mk: i64) -> Option<String> {
    let (told, reader) = (&one.told, one.on.reader);
    let now_mk = (told.now_k.filter(|_| told.state == State::Never)? * 1000.0).round() as i64;
    // The safe bound is judged by a kelvin less than what was read.
    let cold = now_mk < minimum_mk + 1_000 && !told.assumed.contains(&Assumed::Forecast);
    let held = told.helps.first().map(|help| {
        let saying = Saying { zone_min: one.on.zone_min, at_ms: help.from_ms };
        format!("; held at {} from now: {}", reader.kelvin(help.at_k), saying.time(help.finish_ms, Round::Up))
    });
    let (now, needed) = (reader.temperature(now_mk), reader.temperature(minimum_mk));
    cold.then(|| format!("never at {now} (needs {needed}){}", held.unwrap_or_default()))
}

/// What would help, one sentence each: "at 18 °C: 09:40".
pub fn helps(one: &Reckoned) -> Vec<String> {
    let said = |help: &Help| {
        let saying = Saying { zone_min: one.on.zone_min, at_ms: help.from_ms };
        format!("at {}: {}", one.on.reader.kelvin(help.at_k), saying.time(help.finish_ms, Round::Up))
    };
    one.told.helps.iter().map(said).collect()
}

/// Why no finish can be given.
fn why_open(one: &Reckoned) -> String {
    let told = &one.told;
    if told.assumed.contains(&Assumed::NoReadings) {
        return "no temperature is recorded here, so no time is credited: read the thermometer".to_owned();
    }
    let Some(card) = &one.on.card else {
        return no_law(&one.on).to_owned();
    };
    if told.law == LawKind::None && told.state == State::Never {
        return "the card states no time for it".to_owned();
    }
    if card.glue.minimum_cure_k.is_none() && told.assumed.contains(&Assumed::NoMinimum) {
        let warm = card.lowest_clamp_mk().map(|mk| one.on.reader.temperature(mk)).unwrap_or_default();
        return format!(
            "this is never reached at this temperature; the card states no minimum: enter the sheet's, or warm to {warm}"
        );
    }
    if let Some(minimum) = &card.stored.minimum_cure
        && let Some(never) = too_cold(one, minimum.mk)
    {
        return never;
    }
    match card.stored.minimum_cure.as_ref() {
        Some(minimum) if told.state == State::Never => {
            format!(
                "this is never reached at this temperature; below {} no time is credited",
                one.on.reader.temperature(minimum.mk)
            )
        }
        _ if told.assumed.contains(&Assumed::TimePending) => {
            "the time the computer was off is not confirmed: confirm the shown time".to_owned()
        }
        _ => "the last reading is too old to say until when: read the thermometer".to_owned(),
    }
}

// ---- assumptions and bounds ----

/// Mass that a pot life holds for where the sheet states none, mg.
const SHEET_MASS_MG: i64 = 100_000;

/// Something taken for granted, in a sentence.
pub fn assumed(it: Assumed, reader: Reader) -> String {
    match it {
        Assumed::Thickness => {
            let taken = reader.length((glue::wood::THICKNESS_MM * 1000.0) as i64);
            format!("thickness of the members is not recorded: {taken} taken")
        }
        Assumed::WoodStart => {
            let taken = reader.kelvin(glue::wood::START_K);
            format!("temperature of the wood when glued is not recorded: {taken} taken")
        }
        Assumed::NoReadings => "no temperature is recorded for this stretch".to_owned(),
        Assumed::SheetMass => {
            format!("the sheet states no mass for its pot life: {} taken", reader.mass(SHEET_MASS_MG))
        }
        Assumed::PotMass => "mass mixed is not recorded".to_owned(),
        Assumed::Components => "temperature of the components is not recorded: air taken".to_owned(),
        Assumed::NoMinimum => {
            "the card states no minimum cure temperature: credit only from its lowest clamp point up".to_owned()
        }
        Assumed::BentFallback(clock) => format!("no time for bent joints on the card: its {} time taken", clock.word()),
        Assumed::PotModel(ppm) => {
            format!("by the model of its own heat the pot is good for {} of the sheet's time", percent(ppm))
        }
        Assumed::NoPotModel => {
            "no model of the pot's own heat meets this card's pot life: the sheet's time and the mass alone count"
                .to_owned()
        }
        Assumed::MixAge(age_ms) => format!("the mix was {} old when spread", stretch(age_ms)),
        Assumed::CountedFrom => "the sheet does not say what it counts from: the earliest instant taken".to_owned(),
        Assumed::TimePending => "time the computer was off is not confirmed: no credit for it".to_owned(),
        Assumed::TimeLost => "the computer's clock went back across a restart: the time is not known".to_owned(),
        Assumed::Vouched => "a floor that a person vouched for gave credit".to_owned(),
        Assumed::Forecast => "until when goes by the forecast stated for the place".to_owned(),
        Assumed::CoolingTime => {
            "how fast the place cools down is not known: a time constant of 4 h taken for the forecast".to_owned()
        }
        Assumed::OutsideRange => "outside the temperatures the sheet states for this drying adhesive".to_owned(),
    }
}

/// Which law the sheet's temperatures give and how sure it is; None: plain time, or none.
pub fn law(told: &Told) -> Option<String> {
    let [low, middle, high] = told.sure.energy?.map(|energy| (energy / 100.0).round() / 10.0);
    let energy = if low < high { format!("{middle} ({low} to {high}) kJ/mol") } else { format!("{middle} kJ/mol") };
    let points = told.sure.points;
    Some(match told.law {
        LawKind::OnePoint => format!("one temperature on the sheet: activation energy {energy}, the class's interval"),
        LawKind::TwoPoint => format!("two temperatures on the sheet: activation energy {energy}, their own"),
        LawKind::Fitted => {
            format!("{points} temperatures on the sheet: activation energy {energy}, with its 95 % band")
        }
        LawKind::Unscaled | LawKind::None => return None,
    })
}

/// The bound used, named for the screen.
pub fn bound(one: &Reckoned) -> String {
    let mut parts = Vec::new();
    match one.told.law {
        LawKind::OnePoint => parts.push("worse activation energy of the class".to_owned()),
        LawKind::TwoPoint => parts.push("line through the sheet's two points".to_owned()),
        LawKind::Fitted => parts.push("95 %".to_owned()),
        LawKind::Unscaled => return "plain time".to_owned(),
        LawKind::None => return "no law".to_owned(),
    }
    let sources = one.on.path.iter().flat_map(|(_, air)| air.iter().flat_map(|air| &air.air.sources));
    let widest =
        sources.map(|source| source.error_k).fold(None, |worst: Option<f64>, k| Some(worst.map_or(k, |it| it.max(k))));
    if let Some(k) = widest {
        parts.push(format!("sensor ±{}", one.on.reader.difference(k)));
    }
    parts.join(", ")
}
