//! Everything recorded about one part: every bond with its batches, lots, people, clocks, readings and entries; first
//! what to look at first. It reads only entries about the part, its bonds, their batches and lots.

use super::Asking;
use super::answer::{
    BondAnswer, DecisionLine, EntryLine, PartAnswer, PlaceLine, PressLine, PressureAnswer, ReasonLine, SurfaceLine,
    TakenAnswer, TraceAnswer,
};
use super::first;
use super::lines::{self, finding, late};
use super::list::checkpoint;
use super::page_lines;
use super::question::Trace;
use super::readings::readings;
use super::{cured, dried};
use crate::judge::findings::{Finding, Judged};
use crate::judge::story::{Fact, Pressed};
use crate::judge::words::{instant, percent, stretch};
use crate::judge::{BatchStory, BondStory};
use crate::wire::WireError;
use logbook::entry::{Body, Entry, Id};
use logbook::settled::fold_key;
use logbook::store::{Error, Noun};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A bond with everything gathered for its page.
pub struct Gathered {
    /// What is judged.
    pub judged: Judged,
    /// Its batches.
    pub batches: Vec<Arc<BatchStory>>,
    /// Every entry about it, in fold order.
    pub entries: Vec<Entry>,
    /// Ids withdrawn.
    pub withdrawn: BTreeSet<Id>,
}

/// Answers `trace`.
pub fn trace(asking: &Asking, asked: &Trace) -> Result<TraceAnswer, WireError> {
    let id = asking.find(Noun::Part, "body.part", &asked.part)?;
    let mut gathered = Vec::new();
    for story in asking.bonds_of(&id)? {
        gathered.extend(gather(asking, &story)?);
    }
    let mut bonds = Vec::new();
    for one in &gathered {
        bonds.push(bond(asking, one)?);
    }
    let (entries, own) = part_entries(asking, &id, &gathered)?;
    Ok(TraceAnswer {
        part: part(asking, &id)?,
        look_at_first: first::look_at_first(asking, &gathered, &bonds, &own)?,
        not_recorded: first::not_recorded(asking, &gathered)?,
        bonds,
        entries,
        checkpoint: checkpoint(asking)?,
    })
}

impl Asking<'_> {
    /// Bonds of a part, in the order they were made.
    pub fn bonds_of(&self, part: &str) -> Result<Vec<Arc<BondStory>>, Error> {
        let mut bonds = Vec::new();
        for one in self.judge.subject(part)? {
            if matches!(&one.body, Body::Bond(bond) if bond.joints.iter().any(|joint| joint.part == part)) {
                bonds.extend(self.judge.bond(&one.entry.id)?);
            }
        }
        Ok(bonds)
    }

    /// Entered and happened by the moment asked about.
    fn sees(&self, entry: &Entry) -> bool {
        entry.entered_ms <= self.judge.seen.known_ms && (entry.happened_ms <= self.at_ms || entry.corrects.is_some())
    }
}

fn part(asking: &Asking, id: &str) -> Result<PartAnswer, Error> {
    let settled = asking.judge.in_force(id)?;
    let part = settled.as_ref().and_then(|one| match &one.body {
        Body::Part(part) => Some(part),
        _ => None,
    });
    Ok(PartAnswer {
        mark: asking.judge.name(id)?,
        id: id.to_owned(),
        assembly: part.and_then(|part| part.assembly.clone()),
        kind: part.and_then(|part| part.kind.as_ref()).map(|kind| asking.judge.name(kind)).transpose()?,
    })
}

/// Entries about the part itself that stand under none of its bonds.
fn part_entries(asking: &Asking, part: &str, gathered: &[Gathered]) -> Result<(Vec<EntryLine>, Vec<Entry>), Error> {
    let under: BTreeSet<&Id> = gathered.iter().flat_map(|one| one.entries.iter().map(|entry| &entry.id)).collect();
    let all = asking.book.naming(part)?;
    let own: Vec<Entry> = all.into_iter().filter(|one| !under.contains(&one.id) && asking.sees(one)).collect();
    let withdrawn = withdrawn(&own);
    let lines = own.iter().map(|one| asking.entry_line(one, withdrawn.contains(&one.id))).collect::<Result<_, _>>()?;
    Ok((lines, own))
}

fn withdrawn(entries: &[Entry]) -> BTreeSet<Id> {
    let target = |one: &Entry| match &one.body {
        Body::Withdrawn(it) => Some(it.entry.clone()),
        _ => None,
    };
    entries.iter().filter_map(target).collect()
}

fn gather(asking: &Asking, story: &BondStory) -> Result<Option<Gathered>, Error> {
    let Some(judged) = asking.judge.judged(&story.id)? else { return Ok(None) };
    let batches = asking.judge.batches_of(story)?;
    let mut by_id: BTreeMap<Id, Entry> = BTreeMap::new();
    let mut add = |entries: Vec<Entry>| by_id.extend(entries.into_iter().map(|one| (one.id.clone(), one)));
    add(asking.book.naming(&story.id)?);
    for batch in &batches {
        add(of_batch(asking.book.naming(&batch.id)?, &story.id));
        for (_, mix) in &batch.mixes {
            add(asking.book.versions(&mix.what.card)?);
        }
        for lot in asking.judge.lots_of(batch)? {
            add(asking.book.versions(&lot.id)?);
        }
        for (can, _) in batch.cans() {
            add(asking.book.versions(&can)?);
        }
    }
    let mut entries: Vec<Entry> = by_id.into_values().filter(|one| asking.sees(one) && mine(one, &story.id)).collect();
    entries.sort_by(|a, b| fold_key(a).cmp(&fold_key(b)));
    let withdrawn = withdrawn(&entries);
    Ok(Some(Gathered { judged, batches, entries, withdrawn }))
}

/// Of a batch's entries, those that do not speak of another bond.
fn of_batch(entries: Vec<Entry>, bond: &str) -> Vec<Entry> {
    let others: BTreeSet<Id> =
        entries.iter().filter(|one| speaks_of_other(one, bond)).map(|one| one.id.clone()).collect();
    let of_other = |one: &Entry| match &one.body {
        Body::Withdrawn(it) => others.contains(&it.entry),
        _ => others.contains(&one.id),
    };
    entries.into_iter().filter(|one| !of_other(one)).collect()
}

fn speaks_of_other(one: &Entry, bond: &str) -> bool {
    let other = |id: &str| id != bond;
    match &one.body {
        Body::Bond(_) => other(one.corrects.as_deref().unwrap_or(&one.id)),
        Body::Press(it) => it.bond.as_deref().is_some_and(other),
        Body::Alarm(it) => it.bond.as_deref().is_some_and(other),
        Body::Moved(it) => other(&it.bond),
        Body::Coat(it) => other(&it.bond),
        Body::Sample(it) => it.bond.as_deref().is_some_and(other),
        Body::Reason(it) => other(&it.bond),
        Body::Decide(it) => other(&it.bond),
        _ => false,
    }
}

/// A bond that names this one as its layer below has a page of its own.
fn mine(one: &Entry, bond: &str) -> bool {
    !matches!(one.body, Body::Bond(_)) || one.corrects.as_deref().unwrap_or(&one.id) == bond
}

fn bond(asking: &Asking, one: &Gathered) -> Result<BondAnswer, Error> {
    let story = &one.judged.story;
    let mut people = BTreeSet::new();
    for entry in &one.entries {
        people.extend(asking.person(entry)?);
    }
    let mut batches = Vec::new();
    for used in &story.bond.batches {
        batches.extend(asking.batch_line(used)?);
    }
    let mut alarms = Vec::new();
    for alarm in &story.alarms {
        alarms.push(asking.alarm_line(&alarm.entry, &alarm.what)?);
    }
    Ok(BondAnswer {
        id: story.name.clone(),
        entry: story.id.clone(),
        joints: asking.joints(story)?,
        stage: story.bond.stage.clone(),
        state: one.judged.state.word().to_owned(),
        owed: one.judged.findings.iter().filter(|it| it.owed()).map(|it| it.sentence.clone()).collect(),
        findings: one.judged.findings.iter().chain(&one.judged.hindsight).map(finding).collect(),
        batches,
        people: people.into_iter().collect(),
        clocks: lines::clocks(&one.judged.clocks),
        lines: page_lines::lines(asking, &one.judged)?,
        cured: cured::answer(asking, story)?,
        dried: dried::dried(asking, story)?,
        readings: readings(asking, story, &one.judged.clocks)?,
        places: places(asking, story)?,
        moisture: moisture(asking, story)?,
        pressure: pressure(asking, story)?,
        dry_run: story.bond.dry_run,
        squeeze_out: story.last("squeeze-out").and_then(|press| press.seen.clone()),
        presses: presses(asking, one)?,
        decisions: story.decisions.iter().map(|it| decision(asking, it)).collect::<Result<_, _>>()?,
        reasons: story.reasons.iter().map(|it| reason(asking, it)).collect::<Result<_, _>>()?,
        alarms,
        surfaces: surfaces(asking, story)?,
        entries: entry_lines(asking, one)?,
    })
}

fn entry_lines(asking: &Asking, one: &Gathered) -> Result<Vec<EntryLine>, Error> {
    one.entries.iter().map(|entry| asking.entry_line(entry, one.withdrawn.contains(&entry.id))).collect()
}

fn places(asking: &Asking, story: &BondStory) -> Result<Vec<PlaceLine>, Error> {
    let mut lines = Vec::new();
    for (index, (since, place)) in asking.judge.places(story)?.iter().enumerate() {
        let Some(place) = place else { continue };
        let taken = story.bond.place_from.as_ref().filter(|_| index == 0);
        lines.push(PlaceLine {
            place: asking.judge.name(place)?,
            from: (index > 0).then(|| instant(*since)),
            source: taken.map(|it| source(asking, &it.entry, it.age_ms)).transpose()?,
        });
    }
    Ok(lines)
}

/// Where an inherited value came from: "said 3 h before in entry 12".
fn source(asking: &Asking, entry: &str, age_ms: i64) -> Result<String, Error> {
    let seq = asking.book.entry(entry)?.map(|one| format!(" in entry {}", one.seq)).unwrap_or_default();
    Ok(format!("said {} before{seq}", stretch(age_ms)))
}

fn moisture(asking: &Asking, story: &BondStory) -> Result<Option<TakenAnswer>, Error> {
    let Some(share) = &story.bond.moisture else { return Ok(None) };
    let taken = story.bond.moisture_from.as_ref();
    let at = match taken {
        Some(taken) => asking.judge.in_force(&taken.entry)?.and_then(|one| match &one.body {
            Body::Reading(reading) => Some(reading.place.clone()),
            _ => None,
        }),
        None => None,
    };
    let at =
        at.map(|place| asking.judge.name(&place)).transpose()?.map(|name| format!(" at {name}")).unwrap_or_default();
    let said = match taken {
        Some(taken) => format!("moisture {}, measured {} before{at}", share.typed, stretch(taken.age_ms)),
        None => format!("moisture {}, given with the bond", share.typed),
    };
    Ok(Some(TakenAnswer {
        value: share.typed.clone(),
        ppm: share.ppm,
        source: taken.map(|it| it.entry.clone()),
        age_ms: taken.map(|it| it.age_ms),
        said,
    }))
}

fn pressure(asking: &Asking, story: &BondStory) -> Result<Option<PressureAnswer>, Error> {
    let mut planned = None;
    for part in story.parts() {
        planned = planned.or(asking.judge.kind_of(&part)?.and_then(|kind| kind.pressure));
    }
    let answer = PressureAnswer {
        planned: planned.map(|it| it.typed),
        as_planned: story.bond.pressure_as_planned.unwrap_or(false),
        measured: story.bond.pressure.as_ref().map(|it| it.typed.clone()),
    };
    Ok((answer.planned.is_some() || answer.measured.is_some() || answer.as_planned).then_some(answer))
}

fn presses(asking: &Asking, one: &Gathered) -> Result<Vec<PressLine>, Error> {
    let mut lines: Vec<(i64, PressLine)> = Vec::new();
    for batch in &one.batches {
        let batch_press = |press: &str, it: &Fact<()>| -> Result<(i64, PressLine), Error> {
            let person = asking.person(&it.entry)?;
            Ok((it.at_ms, line(press, it.at_ms, &it.entry, person)))
        };
        if let Some(it) = &batch.hardener_in {
            lines.push(batch_press("hardener-in", it)?);
        }
        for it in &batch.pot_done {
            lines.push(batch_press("pot-done", it)?);
        }
    }
    for press in &one.judged.story.presses {
        let person = asking.person(&press.entry)?;
        let told = PressLine {
            seen: press.seen.clone(),
            said_then: said_then(press),
            ..line(&press.press, press.at_ms, &press.entry, person)
        };
        lines.push((press.at_ms, told));
    }
    lines.sort_by_key(|(at, line)| (*at, line.seq));
    Ok(lines.into_iter().map(|(_, line)| line).collect())
}

fn line(press: &str, at_ms: i64, entry: &Entry, person: Option<String>) -> PressLine {
    PressLine {
        press: press.to_owned(),
        at: instant(at_ms),
        person,
        seen: None,
        seq: entry.seq,
        late: late(entry),
        said_then: Vec::new(),
    }
}

fn said_then(press: &Pressed) -> Vec<String> {
    press.said.iter().map(|said| format!("{}: {}, {}", said.clock, said.state, percent(said.low_ppm))).collect()
}

fn decision(asking: &Asking, it: &Fact<logbook::entry::settle::Decide>) -> Result<DecisionLine, Error> {
    Ok(DecisionLine {
        verdict: it.what.verdict.clone(),
        why: it.what.why(it.entry.why.as_deref()).map(str::to_owned),
        person: asking.person(&it.entry)?,
        at: instant(it.at_ms),
        found: it.what.found.clone(),
        seq: it.entry.seq,
    })
}

fn reason(asking: &Asking, it: &Fact<logbook::entry::settle::Reason>) -> Result<ReasonLine, Error> {
    Ok(ReasonLine {
        of: it.what.of.clone(),
        text: it.what.text.clone(),
        person: asking.person(&it.entry)?,
        at: instant(it.at_ms),
        seq: it.entry.seq,
    })
}

/// Faces of this bond's joints that were made fresh before it was closed.
fn surfaces(asking: &Asking, story: &BondStory) -> Result<Vec<SurfaceLine>, Error> {
    let until = story.joined_ms().unwrap_or(i64::MAX);
    let mut lines = BTreeMap::new();
    for part in story.parts() {
        for one in asking.judge.subject(&part)? {
            let Body::Surface(surface) = &one.body else { continue };
            let touches =
                surface.parts.contains(&part) || surface.joints.iter().any(|joint| story.bond.joints.contains(joint));
            if !touches || one.happened_ms > until {
                continue;
            }
            let mut of = asking.marks(surface.parts.clone())?;
            for joint in &surface.joints {
                of.push(format!("{}/{}", asking.judge.name(&joint.part)?, joint.mark));
            }
            let line = SurfaceLine { of, how: surface.how.clone(), at: instant(one.happened_ms), seq: one.entry.seq };
            lines.insert((one.happened_ms, one.entry.seq), line);
        }
    }
    Ok(lines.into_values().collect())
}

/// Findings that need a decision, not only a missing value.
pub fn broken(one: &Finding) -> bool {
    !one.key.starts_with("missing:")
}
