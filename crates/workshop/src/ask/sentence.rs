//! Every kind of entry in a plain sentence, without who and when: these stand beside it.

use super::Asking;
use crate::act::forecast::clock_text;
use crate::judge::lots::typed;
use crate::judge::words::{Round, Saying, capital, list, stretch};
use logbook::entry::bond::{Bond, Press};
use logbook::entry::book::{Alarm, Issued, LogStart};
use logbook::entry::forecast::{Forecast, Shape};
use logbook::entry::mix::Mix;
use logbook::entry::place::{Reading, Readings, Vouch};
use logbook::entry::settle::{Decide, Reason};
use logbook::entry::{Body, Entry, Id};
use logbook::store::Error;

/// Parts named one by one before they are only counted.
const FEW: usize = 4;

/// An entry in a sentence.
pub fn said(asking: &Asking, entry: &Entry) -> Result<String, Error> {
    let said = of_body(asking, &entry.body, entry)?;
    Ok(match &entry.corrects {
        Some(original) => format!("Correction of entry {}: {said}", asking.seq(original)?),
        None => said,
    })
}

// Long, because there are many kinds of entries: one line for each.
fn of_body(asking: &Asking, body: &Body, entry: &Entry) -> Result<String, Error> {
    let name = |id: &Id| asking.name_ever(id);
    Ok(match body {
        Body::LogStart(start) => log_start(start),
        Body::Person(it) => format!("Person {}", it.name),
        Body::Place(it) => {
            let feed = if it.feed == Some(true) { ", feed promised" } else { "" };
            let from = it.heated_from.as_ref().map(name).transpose()?;
            let heats = from.map(|from| format!(", heats the air of {from}")).unwrap_or_default();
            format!("Place {}{feed}{heats}", it.name)
        }
        Body::Instrument(it) => format!("Instrument {}", it.name),
        Body::Card(it) => {
            let revises = if it.revises.is_some() { ", a revision" } else { "" };
            format!("Card {}, {}, {}{revises}", it.name, it.class, super::store_card::ratio(&it.ratio))
        }
        Body::Lot(it) => format!("Lot {}, {} of {}", it.mark, it.role, name(&it.card)?),
        Body::Container(it) => {
            let holds = it.holds.as_ref().map(|holds| format!(", {}", typed(holds))).unwrap_or_default();
            format!("Can {} of lot {}{holds}", it.mark, name(&it.lot)?)
        }
        Body::Kind(it) => {
            let joints: usize = it.stages.iter().map(|stage| stage.joints.len()).sum();
            let service = it.service.as_ref().map(|it| format!(", up to {} in service", it.typed)).unwrap_or_default();
            format!("Kind {}, {}, {}{service}", it.mark, count(it.stages.len(), "stage"), count(joints, "joint"))
        }
        Body::Set(it) => format!("Set of {}: {}", name(&it.kind)?, parts(asking, &it.parts)?),
        Body::Part(it) => {
            let assembly = it.assembly.as_ref().map(|assembly| format!(", {assembly}")).unwrap_or_default();
            let kind = it.kind.as_ref().map(name).transpose()?.map(|kind| format!(", {kind}")).unwrap_or_default();
            let service = it.service.as_ref().map(|it| format!(", up to {} in service", it.typed)).unwrap_or_default();
            format!("Part {}{assembly}{kind}{service}", it.mark)
        }
        Body::Joint(it) => format!("Joint {} of part {}", it.joint.mark, name(&it.part)?),
        Body::Reading(it) => reading(asking, it)?,
        Body::Readings(it) => readings(asking, it)?,
        Body::Vouch(it) => vouch(asking, it)?,
        Body::Forecast(it) => forecast(asking, it)?,
        Body::Batch(it) => format!("Batch {} of {}", it.name, it.day),
        Body::Mix(it) => mix(asking, "Mixed", it)?,
        Body::TopUp(it) => mix(asking, "Topped up", it)?,
        Body::Filler(it) => {
            let mass = it.mass.as_ref().map(|mass| format!("{} ", mass.typed)).unwrap_or_default();
            format!("Filler into {}: {mass}of lot {}", name(&it.batch)?, name(&it.lot)?)
        }
        Body::Cup(it) => format!("{} in the cup of {}", it.temperature.typed, name(&it.batch)?),
        Body::ThrowAway(it) => format!("Thrown away of {}: {}", name(&it.batch)?, it.mass.typed),
        Body::Bond(it) => bond(asking, it)?,
        Body::Press(it) => press(asking, it)?,
        Body::Moved(it) => format!("Moved to {}, {}", name(&it.place)?, of_bond(asking, &it.bond)?),
        Body::Coat(it) => {
            let batch = it.batch.as_ref().map(name).transpose()?.map(|it| format!(" from {it}")).unwrap_or_default();
            format!("Wetting coat{batch}, {}", of_bond(asking, &it.bond)?)
        }
        Body::Surface(it) => {
            let mut ids: Vec<Id> = it.joints.iter().map(|joint| joint.part.clone()).collect();
            ids.extend(it.parts.clone());
            let how = it.how.as_ref().map(|how| format!(", {how}")).unwrap_or_default();
            format!("Faces made fresh{how}: {}", parts(asking, &ids)?)
        }
        Body::Sample(it) => super::sample::said(it),
        Body::Reason(it) => reason(asking, it)?,
        Body::Decide(it) => decide(asking, it, entry.why.as_deref())?,
        Body::Withdrawn(it) => withdrawn(asking, &it.entry, it.taken_back == Some(true))?,
        Body::Alarm(it) => alarm(it),
        Body::AlarmAnswered(it) => match asking.book.entry(&it.alarm)?.map(|entry| entry.body) {
            Some(Body::Alarm(alarm)) => format!("Alarm answered: {}", alarm.said),
            _ => "Alarm answered".to_owned(),
        },
        Body::TimeConfirmed(it) => {
            let by = if it.by == "person" { "by a person" } else { "by the synchronised clock" };
            format!("Time confirmed {by}: {}", clock(asking, it.shown_ms))
        }
        Body::ClockStep(it) => {
            let way = if it.by_ms < 0 { "back" } else { "forward" };
            format!("The computer's clock was set {way} by {}", stretch(it.by_ms))
        }
        Body::CheckpointGiven(it) => {
            let to = it.to.as_ref().map(|to| format!(" to {to}")).unwrap_or_default();
            format!("Checkpoint given{to}, {} entries", it.checkpoint.size)
        }
        Body::Issued(it) => issued(asking, it)?,
        Body::Unknown(kind, _) => format!("{kind}: not understood here"),
    })
}

fn log_start(start: &LogStart) -> String {
    let made_up = if start.made_up == Some(true) { "; everything in it is made up" } else { "" };
    match &start.continues {
        Some(before) => format!("A log begins, going on from one of {} entries{made_up}", before.size),
        None => format!("The log begins{made_up}"),
    }
}

fn count(n: usize, word: &str) -> String {
    format!("{n} {word}{}", if n == 1 { "" } else { "s" })
}

/// Marks of parts, each once; many are counted.
fn parts(asking: &Asking, ids: &[Id]) -> Result<String, Error> {
    let mut met: Vec<&Id> = Vec::new();
    for id in ids {
        if !met.contains(&id) {
            met.push(id);
        }
    }
    if met.len() > FEW {
        let first = met.first().map(|id| asking.name_ever(id)).transpose()?.unwrap_or_default();
        return Ok(format!("{first} and {} more", count(met.len() - 1, "part")));
    }
    let names = met.into_iter().map(|id| asking.name_ever(id)).collect::<Result<Vec<_>, _>>()?;
    Ok(list(&names))
}

/// "bond 47 (R1-L and R2-L)".
fn of_bond(asking: &Asking, id: &Id) -> Result<String, Error> {
    let one = asking.judge.in_force(id)?;
    let Some(Body::Bond(bond)) = one.as_ref().map(|one| &one.body) else {
        // Withdrawn, or made later than is seen.
        return Ok(match asking.book.entry(id)?.map(|entry| entry.body) {
            Some(Body::Bond(bond)) => format!("bond {}", bond.number),
            _ => "a bond".to_owned(),
        });
    };
    let ids: Vec<Id> = bond.joints.iter().map(|joint| joint.part.clone()).collect();
    Ok(format!("bond {} ({})", bond.number, parts(asking, &ids)?))
}

fn bond(asking: &Asking, bond: &Bond) -> Result<String, Error> {
    let ids: Vec<Id> = bond.joints.iter().map(|joint| joint.part.clone()).collect();
    let batches = bond.batches.iter().map(|used| asking.name_ever(&used.batch)).collect::<Result<Vec<_>, _>>()?;
    let stage = bond.stage.as_ref().map(|stage| format!(", {stage}")).unwrap_or_default();
    let joints = count(bond.joints.len(), "joint");
    Ok(format!("Bond {}: {}{stage}, {joints}, batch {}", bond.number, parts(asking, &ids)?, list(&batches)))
}

fn press(asking: &Asking, press: &Press) -> Result<String, Error> {
    let word = match press.press.as_str() {
        word @ ("squeeze-out" | "re-tightened") => capital(word),
        word => capital(&word.replace('-', " ")),
    };
    let seen = press.seen.as_ref().map(|seen| format!(": {}", seen.replace('-', " "))).unwrap_or_default();
    let of = match (&press.bond, &press.batch) {
        (Some(bond), _) => format!(", {}", of_bond(asking, bond)?),
        (None, Some(batch)) => format!(", batch {}", asking.name_ever(batch)?),
        (None, None) => String::new(),
    };
    Ok(format!("{word}{seen}{of}"))
}

/// "Mixed Tue 3, 40.0 g + 17.6 g, within the ratio".
fn mix(asking: &Asking, word: &str, mix: &Mix) -> Result<String, Error> {
    let amounts: Vec<&str> = [&mix.resin, &mix.hardener].into_iter().flatten().map(typed).collect();
    let amounts = if amounts.is_empty() { "amounts not recorded".to_owned() } else { amounts.join(" + ") };
    let verdict = match mix.judged.as_ref().map(|judged| judged.verdict.as_str()) {
        Some("within") => ", within the ratio",
        Some("outside") => ", outside the ratio",
        Some("cannot-tell") => ", cannot be told at this scale",
        _ => "",
    };
    Ok(format!("{word} {}, {amounts}{verdict}", asking.name_ever(&mix.batch)?))
}

fn reading(asking: &Asking, it: &Reading) -> Result<String, Error> {
    let mut said =
        format!("Reading at {}: {}", asking.name_ever(&it.place)?, asking.judge.reader.temperature(it.temperature.mk));
    if let Some(humidity) = &it.humidity {
        said += &format!(", {} humidity", humidity.typed);
    }
    if let Some(wood) = &it.wood_temperature {
        said += &format!(", wood {}", asking.judge.reader.temperature(wood.mk));
    }
    if let Some(wood) = &it.wood_moisture {
        said += &format!(", wood moisture {}", wood.typed);
    }
    if let Some(lowest) = &it.lowest {
        let since = lowest.since_ms.map_or("the reading before".to_owned(), |ms| clock(asking, ms));
        said += &format!(", lowest {} since {since}", asking.judge.reader.temperature(lowest.temperature.mk));
    }
    Ok(said)
}

fn readings(asking: &Asking, it: &Readings) -> Result<String, Error> {
    let (from, to) = (clock(asking, it.from_ms), clock(asking, it.to_ms));
    let place = asking.name_ever(&it.place)?;
    Ok(format!(
        "{} from {} at {place}, {from} to {to}",
        count(usize::try_from(it.count).unwrap_or(usize::MAX), "reading"),
        it.file_name
    ))
}

fn vouch(asking: &Asking, it: &Vouch) -> Result<String, Error> {
    let (from, to) = (clock(asking, it.from_ms), clock(asking, it.until_ms));
    let floor = asking.judge.reader.temperature(it.floor.mk);
    Ok(format!("Vouched: {} never below {floor} from {from} until {to}", asking.name_ever(&it.place)?))
}

fn forecast(asking: &Asking, it: &Forecast) -> Result<String, Error> {
    let at = |mk: i64| asking.judge.reader.temperature(mk);
    let course = match &it.shape {
        Shape::Hold(hold) => format!("held at {}", at(hold.at.mk)),
        Shape::Setback(it) => {
            let (from, to) = (clock_text(it.from_min), clock_text(it.to_min));
            format!("{} by day, {} by night, {from} to {to}", at(it.day.mk), at(it.night.mk))
        }
        Shape::Cooling(it) => format!("going towards {}", at(it.towards.mk)),
        Shape::Day(it) => {
            let swing = asking.judge.reader.difference(it.swing.mk_wide as f64 / 1000.0);
            format!("{} ± {swing} over the day, warmest at {}", at(it.mean.mk), clock_text(it.warmest_min))
        }
    };
    let until = it.until_ms.map(|ms| format!(", until {}", clock(asking, ms))).unwrap_or_default();
    Ok(format!("Forecast for {}: {course}{until}", asking.name_ever(&it.place)?))
}

fn reason(asking: &Asking, it: &Reason) -> Result<String, Error> {
    let words = |key: &String| {
        let bare = key.strip_prefix("missing:").unwrap_or(key);
        let bare = bare.replace('@', " of batch ").replace(':', " ");
        if bare == "squeeze-out" { bare } else { bare.replace('-', " ") }
    };
    let of: Vec<String> = it.of.iter().map(words).collect();
    Ok(format!("Reason for {}, {}: {}", of_bond(asking, &it.bond)?, list(&of), it.text))
}

fn decide(asking: &Asking, it: &Decide, why: Option<&str>) -> Result<String, Error> {
    let verdict = if it.verdict == "redo" { "to be done again" } else { &it.verdict };
    let why = it.why(why).map(|why| format!(": {why}")).unwrap_or_default();
    Ok(format!("Decided, {} {verdict}{why}", of_bond(asking, &it.bond)?))
}

fn withdrawn(asking: &Asking, target: &Id, taken_back: bool) -> Result<String, Error> {
    let word = if taken_back { "Taken back" } else { "Withdrawn" };
    let Some(original) = asking.book.entry(target)? else { return Ok(word.to_owned()) };
    // A withdrawal withdrawn is told without what it withdrew: sentences stay finite.
    let what = match &original.body {
        Body::Withdrawn(_) => "a withdrawal".to_owned(),
        body => of_body(asking, body, &original)?,
    };
    Ok(format!("{word} entry {}: {what}", original.seq))
}

fn alarm(it: &Alarm) -> String {
    let late = it.late.as_ref().map(|late| format!(" (noticed late: {late})")).unwrap_or_default();
    format!("Alarm: {}{late}", it.said)
}

fn issued(asking: &Asking, it: &Issued) -> Result<String, Error> {
    let one = asking.judge.in_force(&it.subject)?;
    let noun = one.as_ref().map_or("page", |one| one.body.kind());
    Ok(format!("Page handed out about {noun} {}", asking.name_ever(&it.subject)?))
}

fn clock(asking: &Asking, ms: i64) -> String {
    Saying { zone_min: asking.zone_min, at_ms: asking.at_ms }.time(ms, Round::Down)
}

impl Asking<'_> {
    /// A thing's name, of one withdrawn since as well.
    fn name_ever(&self, id: &str) -> Result<String, Error> {
        let name = self.judge.name(id)?;
        if name != id {
            return Ok(name);
        }
        Ok(match self.book.entry(id)?.map(|entry| entry.body) {
            Some(Body::Person(it)) => it.name,
            Some(Body::Place(it)) => it.name,
            Some(Body::Card(it)) => it.name,
            Some(Body::Lot(it)) => it.mark,
            Some(Body::Kind(it)) => it.mark,
            Some(Body::Part(it)) => it.mark,
            Some(Body::Batch(it)) => it.name,
            Some(Body::Bond(it)) => it.number.to_string(),
            _ => name,
        })
    }

    /// Number of an entry in its log, as text; "?" where this book does not hold it.
    fn seq(&self, id: &str) -> Result<String, Error> {
        Ok(self.book.seq(id)?.map_or("?".to_owned(), |seq| seq.to_string()))
    }
}
