//! The presses of a row with their acts ready: the next one follows what was recorded and what the kind takes.

use super::answer::{BenchPress, PressAct};
use super::board::{Board, OnBench, Told, runs};
use crate::judge::{BatchStory, Reckoned};
use glue::clock::{Clock, State};
use logbook::entry::Entry;
use serde_json::{Value, json};

/// A press may be taken back for this long, ms; the act judges it again by the boot clock.
const TAKE_BACK_MS: i64 = 10_000;

fn act(word: &str, act: &str, body: Value) -> BenchPress {
    BenchPress { word: word.to_owned(), act: Some(PressAct { act: act.to_owned(), body }), choices: Vec::new() }
}

fn choices(word: &str, choices: Vec<BenchPress>) -> BenchPress {
    BenchPress { word: word.to_owned(), act: None, choices }
}

fn press(word: &str, press: &str, bond: &str) -> BenchPress {
    act(word, "press", json!({ "press": press, "bond": bond }))
}

fn seen(press: &str, bond: &str, words: &[(&str, &str)]) -> Vec<BenchPress> {
    let one = |(word, seen): &(&str, &str)| act(word, "press", json!({ "press": press, "bond": bond, "seen": seen }));
    words.iter().map(one).collect()
}

/// *Hardener in*, of a batch that has none, or of a new one.
pub(super) fn hardener_in(batch: Option<&str>) -> BenchPress {
    let body = match batch {
        Some(batch) => json!({ "press": "hardener-in", "batch": batch }),
        None => json!({ "press": "hardener-in" }),
    };
    act("Hardener in", "press", body)
}

fn squeeze_out(bond: &str) -> BenchPress {
    let words = [("All round", "all-round"), ("Not all round", "not-all-round"), ("Cannot see", "cannot-see")];
    choices("Squeeze-out", seen("squeeze-out", bond, &words))
}

fn used(bond: &str) -> BenchPress {
    choices("Used", seen("used", bond, &[("Planed", "planed"), ("Loaded", "loaded"), ("Shipped", "shipped")]))
}

/// Where a bond's presses have come to.
struct Come {
    glue_on: bool,
    together: bool,
    tight: bool,
    lost: bool,
    looked: bool,
    off: bool,
    clamp_reached: bool,
}

impl Come {
    fn of(bond: &OnBench, told: &Told) -> Come {
        let story = &bond.story;
        let tight = bond.tight();
        Come {
            glue_on: story.glue_on_ms().is_some(),
            together: story.first("together").is_some(),
            tight,
            lost: tight && story.tight_ms().is_none(),
            looked: story.first("squeeze-out").is_some(),
            off: story.clamp_off().is_some(),
            clamp_reached: told.iter().any(|one| one.on.clock == Clock::Clamp && one.told.state == State::Reached),
        }
    }
}

/// The next press; None: none is left.
pub(super) fn next(bond: &OnBench, told: &Told) -> Option<BenchPress> {
    let (story, come) = (&bond.story, Come::of(bond, told));
    let name = &story.name;
    if !come.tight {
        return Some(match (come.together, come.glue_on, story.two_press()) {
            (true, ..) | (false, true, true) => press("All tight", "all-tight", name),
            (false, true, false) => press("Together", "together", name),
            (false, false, _) => press("First glue on", "first-glue-on", name),
        });
    }
    // Squeeze-out is looked at while wet; once the clamps may come off, that is the next thing.
    match (come.lost, come.looked, come.off) {
        (true, ..) => Some(press("Re-tightened", "re-tightened", name)),
        (_, false, false) if !come.clamp_reached => Some(squeeze_out(name)),
        (_, _, false) if !story.two_press() => Some(press("First clamp off", "first-clamp-off", name)),
        _ if story.used(true).is_none() => Some(used(name)),
        _ => None,
    }
}

/// Further acts of one press each.
pub(super) fn more(board: &Board, bond: &OnBench, told: &Told, at_ms: i64) -> Vec<BenchPress> {
    let (story, come) = (&bond.story, Come::of(bond, told));
    let name = &story.name;
    let next = next(bond, told).map(|one| one.word);
    let mut all = Vec::new();
    all.extend(
        story.presses.iter().map(|one| &one.entry).max_by_key(|one| one.seq).and_then(|one| taken_back(one, at_ms)),
    );
    if come.tight {
        all.push(squeeze_out(name));
        if !story.two_press() && !come.off {
            all.push(press("First clamp off", "first-clamp-off", name));
        }
        if !come.off {
            all.push(press("Clamp lost", "clamp-lost", name));
            all.push(press("Re-tightened", "re-tightened", name));
        }
        all.push(used(name));
    } else {
        all.push(press("First glue on", "first-glue-on", name));
        if !story.two_press() {
            all.push(press("Together", "together", name));
        }
        all.push(press("All tight", "all-tight", name));
        if come.together || (story.two_press() && come.glue_on) {
            all.push(squeeze_out(name));
        }
        all.extend(assembling(board, bond, told));
    }
    let recorded = |word: &str| match word {
        "First glue on" => come.glue_on,
        "Together" => come.together,
        "Squeeze-out" => come.looked,
        _ => false,
    };
    all.retain(|one| Some(&one.word) != next.as_ref() && !recorded(&one.word));
    for place in board.places.iter().filter(|place| Some(&place.id) != bond.place.as_ref()) {
        all.push(act(&format!("Moved to {}", place.name), "moved", json!({ "bond": name, "place": place.name })));
    }
    all
}

/// What is done with glue and faces before the joint is closed.
fn assembling(board: &Board, bond: &OnBench, told: &Told) -> Vec<BenchPress> {
    let mut all = vec![act("Wetting coat", "coat", coat(bond))];
    let fresh = |word: &str, how: &str| act(word, "surface", json!({ "joints": bond.joints, "how": how }));
    all.push(choices("Fresh surface", vec![fresh("Planed", "planed"), fresh("Scraped", "scraped")]));
    for batch in &bond.batches {
        let pot = told.iter().find(|one| one.on.batch.as_ref() == Some(&batch.id));
        if pot.is_some_and(runs) {
            all.extend(filler(board, batch, pot));
            all.push(pot_done(batch));
        }
    }
    all
}

fn coat(bond: &OnBench) -> Value {
    match bond.batches.as_slice() {
        [one] => json!({ "bond": bond.story.name, "batch": one.id }),
        _ => json!({ "bond": bond.story.name }),
    }
}

fn filler(board: &Board, batch: &BatchStory, pot: Option<&Reckoned>) -> Option<BenchPress> {
    let card = pot.and_then(|one| one.on.card.as_ref()).map(|card| &card.id);
    let lots = board.fillers.iter().filter(|(_, of)| card.is_none_or(|card| card == of));
    let all: Vec<BenchPress> =
        lots.map(|(mark, _)| act(mark, "filler", json!({ "batch": batch.id, "lot": mark }))).collect();
    if all.is_empty() { None } else { Some(choices(&format!("Filler into {}", batch.name), all)) }
}

fn pot_done(batch: &BatchStory) -> BenchPress {
    act(&format!("Pot {} done", batch.name), "press", json!({ "press": "pot-done", "batch": batch.id }))
}

fn taken_back(entry: &Entry, at_ms: i64) -> Option<BenchPress> {
    let fresh = (0..=TAKE_BACK_MS).contains(&(at_ms - entry.entered_ms));
    fresh.then(|| act("Taken back", "press", json!({ "press": "taken-back", "entry": entry.id })))
}

/// The next press of a batch without a bond in assembly. What is in it, and what it is spread on, is said in Mix: such
/// a press has neither an act nor choices.
pub(super) fn of_batch(batch: &BatchStory) -> BenchPress {
    match (&batch.hardener_in, batch.mixes.is_empty(), batch.bonds.is_empty()) {
        (None, ..) => hardener_in(Some(&batch.id)),
        (_, true, _) => choices("Say what is in it", Vec::new()),
        (_, _, true) => choices("Say what it is for", Vec::new()),
        _ => pot_done(batch),
    }
}

/// Further presses of such a batch.
pub(super) fn more_of_batch(board: &Board, batch: &BatchStory, pot: &Reckoned, at_ms: i64) -> Vec<BenchPress> {
    let last = batch.hardener_in.iter().chain(&batch.pot_done).map(|one| &one.entry).max_by_key(|one| one.seq);
    let mut all: Vec<BenchPress> = last.and_then(|one| taken_back(one, at_ms)).into_iter().collect();
    all.extend(filler(board, batch, Some(pot)));
    let done = pot_done(batch);
    if of_batch(batch) != done {
        all.push(done);
    }
    all
}
