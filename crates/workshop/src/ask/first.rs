//! What to look at first, heaviest first: limits exceeded, what else holds a bond, hindsight, gaps, corrections, late
//! entries, what is not settled. Each sentence names its entry. And what is not recorded at all.

use super::Asking;
use super::answer::BondAnswer;
use super::lines::late;
use super::trace::{Gathered, broken};
use crate::judge::findings::{BondState, Finding};
use crate::judge::said;
use crate::judge::words::{Round, Saying, stretch};
use crate::wire::WireError;
use glue::clock::{Assumed, Clock, State};
use logbook::entry::{Body, Entry, Id};
use logbook::store::Error;
use std::collections::BTreeMap;

/// Weights, heaviest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Weight {
    MadeUp,
    Exceeded,
    Held,
    Hindsight,
    Gap,
    Correction,
    Late,
    Unsettled,
    Decided,
}

/// Sentences in order of weight; within one weight in order of the record.
pub fn look_at_first(
    asking: &Asking,
    gathered: &[Gathered],
    bonds: &[BondAnswer],
    own: &[Entry],
) -> Result<Vec<String>, WireError> {
    let mut lines: Vec<(Weight, String)> = Vec::new();
    if made_up(asking)? {
        lines.push((Weight::MadeUp, "everything in this book is made up (entry 0)".to_owned()));
    }
    for (one, answer) in gathered.iter().zip(bonds) {
        found(one, &mut lines);
        clamp(one, &mut lines);
        pressed(asking, one, &mut lines)?;
        gaps(one, answer, asking, &mut lines);
    }
    let mut entries: BTreeMap<(i64, &Id, u64), &Entry> = BTreeMap::new();
    for entry in gathered.iter().flat_map(|one| &one.entries).chain(own) {
        entries.insert((entry.order_ms, &entry.log, entry.seq), entry);
    }
    let entries: Vec<&Entry> = entries.into_values().collect();
    for entry in &entries {
        amended(asking, entry, &mut lines)?;
    }
    came_late(asking, &entries, &mut lines);
    lines.sort_by_key(|(weight, _)| *weight);
    let mut sentences: Vec<String> = Vec::new();
    for (_, sentence) in lines {
        if !sentences.contains(&sentence) {
            sentences.push(sentence);
        }
    }
    Ok(sentences)
}

fn found(one: &Gathered, lines: &mut Vec<(Weight, String)>) {
    let story = &one.judged.story;
    for finding in &one.judged.findings {
        let weight = match (finding.settled, broken(finding)) {
            (true, _) => Weight::Decided,
            (false, true) if exceeded(finding) => Weight::Exceeded,
            (false, true) => Weight::Held,
            (false, false) => Weight::Unsettled,
        };
        let after = if finding.settled { "; settled" } else { "" };
        let seq = finding.seq.unwrap_or(story.made.seq);
        lines.push((weight, format!("{}{after} (entry {seq})", finding.sentence)));
    }
    for note in &one.judged.hindsight {
        lines.push((Weight::Hindsight, format!("{} (entry {})", note.sentence, note.seq.unwrap_or(story.made.seq))));
    }
    let owed = one.judged.findings.iter().any(|finding| !finding.settled && broken(finding));
    if one.judged.state == BondState::Held && !owed {
        lines.push((Weight::Held, format!("bond {} is held, a reason is owed (entry {})", story.name, story.made.seq)));
    }
}

/// A clamp time that never comes at this temperature, and one that rests on somebody's word.
fn clamp(one: &Gathered, lines: &mut Vec<(Weight, String)>) {
    let story = &one.judged.story;
    for clock in one.judged.clocks.iter().filter(|clock| clock.on.clock == Clock::Clamp) {
        let stuck = clock.told.state == State::Never && clock.on.started_ms.is_some() && clock.on.ended_ms.is_none();
        if stuck {
            let sentence = format!("bond {}: {} (entry {})", story.name, clock.said, story.made.seq);
            lines.push((Weight::Held, sentence));
        }
        if clock.told.assumed.contains(&Assumed::Vouched) {
            let word = said::assumed(Assumed::Vouched, clock.on.reader);
            lines.push((Weight::Gap, format!("bond {}: clamp: {word} (entry {})", story.name, story.made.seq)));
        }
    }
}

/// A pressure that was measured, or confirmed as planned, outside what a sheet of the bond asks for. It holds nothing:
/// what it did to the glue line is seen at the squeeze-out and in a broken sample.
fn pressed(asking: &Asking, one: &Gathered, lines: &mut Vec<(Weight, String)>) -> Result<(), Error> {
    let story = &one.judged.story;
    let mut pressure = story.bond.pressure.clone();
    if pressure.is_none() && story.bond.pressure_as_planned == Some(true) {
        for part in story.parts() {
            pressure = pressure.or(asking.judge.kind_of(&part)?.and_then(|kind| kind.pressure));
        }
    }
    let Some(pressure) = pressure else { return Ok(()) };
    for batch in &one.batches {
        let Some(card) = asking.judge.card_of(batch)? else { continue };
        let (least, most) = (card.stored.pressure_minimum.as_ref(), card.stored.pressure_maximum.as_ref());
        let say = |pa: i64| asking.judge.reader.pressure(pa);
        let wrong = match (least, most) {
            (_, Some(most)) if pressure.pa > most.pa => {
                format!("above the sheet's highest {}: the glue may have been driven out", say(most.pa))
            }
            (Some(least), _) if pressure.pa < least.pa => {
                format!("below the sheet's least {}: the glue line may be thick", say(least.pa))
            }
            _ => continue,
        };
        let said = format!("bond {}: pressed at {}, {wrong} (entry {})", story.name, say(pressure.pa), story.made.seq);
        lines.push((Weight::Hindsight, said));
    }
    Ok(())
}

/// The log says of itself that its data is invented.
fn made_up(asking: &Asking) -> Result<bool, Error> {
    let Some(head) = asking.book.own()? else { return Ok(false) };
    let first = asking.book.entry_at(&head.log, 0)?;
    Ok(first.is_some_and(|entry| matches!(&entry.body, Body::LogStart(start) if start.made_up == Some(true))))
}

/// A limit was exceeded, as against a doubt or a decision.
fn exceeded(finding: &Finding) -> bool {
    let key = finding.key.as_str();
    ["over:", "early:", "fault:", "ratio:outside", "ratio:swapped", "lot:", "moisture:", "time:"]
        .iter()
        .any(|it| key.starts_with(it))
}

fn gaps(one: &Gathered, answer: &BondAnswer, asking: &Asking, lines: &mut Vec<(Weight, String)>) {
    let story = &one.judged.story;
    let saying = Saying { zone_min: asking.zone_min, at_ms: story.at_ms };
    let parse = |text: &str| chrono::DateTime::parse_from_rfc3339(text).map_or(0, |at| at.timestamp_millis());
    for gap in &answer.readings.gaps {
        let (from, to) = (parse(&gap.from), parse(&gap.to));
        let said = format!(
            "bond {}: no reading from {} to {} ({}) (entry {})",
            story.name,
            saying.time(from, Round::Down),
            saying.time(to, Round::Down),
            stretch(to - from),
            story.made.seq,
        );
        lines.push((Weight::Gap, said));
    }
}

fn amended(asking: &Asking, entry: &Entry, lines: &mut Vec<(Weight, String)>) -> Result<(), Error> {
    let target = match (&entry.corrects, &entry.body) {
        (Some(original), _) => original,
        (None, Body::Withdrawn(it)) => &it.entry,
        _ => return Ok(()),
    };
    let Some(original) = asking.book.entry(target)? else { return Ok(()) };
    let what = match &entry.body {
        Body::Withdrawn(it) if it.taken_back == Some(true) => "was taken back",
        Body::Withdrawn(_) => "was withdrawn",
        _ => "was corrected",
    };
    let by = asking.person(entry)?.map(|name| format!(" by {name}")).unwrap_or_default();
    let why = entry.why.as_ref().map(|why| format!(": {why}")).unwrap_or_default();
    let said = format!("{} (entry {}) {what}{by}{why} (entry {})", word(&original), original.seq, entry.seq);
    lines.push((Weight::Correction, said));
    Ok(())
}

/// Late entries; those of one paper, typed in one after the other with one reason, make one sentence.
fn came_late(asking: &Asking, entries: &[&Entry], lines: &mut Vec<(Weight, String)>) {
    let mut papers: Vec<Vec<&Entry>> = Vec::new();
    for entry in entries.iter().filter(|entry| late(entry) && entry.corrects.is_none()) {
        match papers.last_mut() {
            Some(paper) if paper.last().is_some_and(|last| of_one_paper(last, entry)) => paper.push(entry),
            _ => papers.push(vec![entry]),
        }
    }
    lines.extend(papers.iter().map(|paper| (Weight::Late, said_late(asking, paper))));
}

/// Typed in by the same person within ten minutes, with the same reason.
fn of_one_paper(last: &Entry, next: &Entry) -> bool {
    let close = next.entered_ms - last.entered_ms <= 10 * 60_000;
    close && last.person == next.person && last.why == next.why
}

fn said_late(asking: &Asking, paper: &[&Entry]) -> String {
    let saying = Saying { zone_min: asking.zone_min, at_ms: asking.at_ms };
    let happened = || paper.iter().map(|entry| entry.happened_ms);
    let (first, last) = (happened().min().unwrap_or_default(), happened().max().unwrap_or_default());
    let by = paper.iter().map(|entry| entry.entered_ms - entry.happened_ms).max().unwrap_or_default();
    let seqs: Vec<String> = paper.iter().map(|entry| entry.seq.to_string()).collect();
    let why = paper.first().and_then(|entry| entry.why.as_ref());
    let why = why.map_or_else(|| "no reason given".to_owned(), |why| format!("\"{why}\""));
    let (from, by) = (saying.time(first, Round::Down), stretch(by));
    match paper {
        [one] => format!("{} of {from} entered {by} late: {why} (entry {})", word(one), one.seq),
        many => {
            let until = saying.time(last, Round::Down);
            let count = many.len();
            format!("{count} entries of {from} to {until} entered up to {by} late: {why} (entries {})", seqs.join(", "))
        }
    }
}

/// What an entry is in a word: the press itself, else its kind.
fn word(entry: &Entry) -> String {
    match &entry.body {
        Body::Press(press) => press.press.clone(),
        body => body.kind().to_owned(),
    }
}

/// What is not recorded: "bond 47: squeeze-out". A press that may still come is not missing.
pub fn not_recorded(asking: &Asking, gathered: &[Gathered]) -> Result<Vec<String>, Error> {
    let mut list = Vec::new();
    for one in gathered {
        for what in missing(asking, one)? {
            list.push(format!("bond {}: {what}", one.judged.story.name));
        }
    }
    Ok(list)
}

fn missing(asking: &Asking, one: &Gathered) -> Result<Vec<String>, Error> {
    let story = &one.judged.story;
    let mut list: Vec<String> = Vec::new();
    if !story.glued() {
        return Ok(list);
    }
    for finding in &one.judged.findings {
        if let Some(key) = finding.key.strip_prefix("missing:") {
            let (word, batch) = key.split_once('@').map_or((key, None), |(word, batch)| (word, Some(batch)));
            let of = batch.map(|batch| format!(" of batch {batch}")).unwrap_or_default();
            list.push(format!(
                "{}{of}",
                word.replace('-', " ").replace("squeeze out", "squeeze-out").replace("moisture", "wood moisture")
            ));
        }
    }
    let tight = story.tightenings().next().is_some();
    let mut also = |there: bool, what: &str| {
        if !there && !list.iter().any(|it| it == what) {
            list.push(what.to_owned());
        }
    };
    also(!tight || story.first("squeeze-out").is_some(), "squeeze-out");
    also(story.bond.moisture.is_some(), "wood moisture");
    also(asking.judge.places(story)?.iter().any(|(_, place)| place.is_some()), "place");
    also(story.bond.pressure.is_some() || story.bond.pressure_as_planned == Some(true), "pressure");
    also(one.entries.iter().any(|entry| entry.person.is_some()), "people");
    Ok(list)
}
