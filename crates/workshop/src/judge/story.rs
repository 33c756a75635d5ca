//! A bond's story: everything entered about it, folded in time. A pure fold; nothing is judged here.

use logbook::entry::bond::{Bond, Said};
use logbook::entry::book::Alarm;
use logbook::entry::settle::{Decide, Reason};
use logbook::entry::{Body, Entry, Id};
use logbook::settled::Settled;

/// A press with its instant and its entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Pressed {
    /// `first-glue-on`, `all-tight`, …
    pub press: String,
    /// When, ms UTC.
    pub at_ms: i64,
    /// What was seen, or how it was used.
    pub seen: Option<String>,
    /// What the clocks said then.
    pub said: Vec<Said>,
    /// The original entry.
    pub entry: Entry,
}

/// A fact with its instant and its entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact<T> {
    /// When, ms UTC.
    pub at_ms: i64,
    /// What.
    pub what: T,
    /// The original entry.
    pub entry: Entry,
}

/// One bond, folded from its entries.
#[derive(Clone, Debug, PartialEq)]
pub struct BondStory {
    /// Its id: the id of the entry that made it.
    pub id: Id,
    /// Its name: "47".
    pub name: String,
    /// The entry that made it.
    pub made: Entry,
    /// When it was made, ms UTC.
    pub at_ms: i64,
    /// What it names, corrections applied.
    pub bond: Bond,
    /// Presses in time.
    pub presses: Vec<Pressed>,
    /// Moves: to which place.
    pub moves: Vec<Fact<Id>>,
    /// Wetting coats: from which batch.
    pub coats: Vec<Fact<Option<Id>>>,
    /// Reasons given.
    pub reasons: Vec<Fact<Reason>>,
    /// Decisions taken.
    pub decisions: Vec<Fact<Decide>>,
    /// Alarms recorded.
    pub alarms: Vec<Fact<Alarm>>,
}

impl BondStory {
    /// Folds a bond from the settled entries that name it; None: it does not exist in what is seen.
    pub fn fold(id: &str, settled: &[Settled]) -> Option<BondStory> {
        let made = settled.iter().find(|one| one.entry.id == id)?;
        let Body::Bond(bond) = &made.body else { return None };
        let mut story = BondStory {
            id: id.to_owned(),
            name: bond.number.to_string(),
            made: made.entry.clone(),
            at_ms: made.happened_ms,
            bond: bond.clone(),
            presses: Vec::new(),
            moves: Vec::new(),
            coats: Vec::new(),
            reasons: Vec::new(),
            decisions: Vec::new(),
            alarms: Vec::new(),
        };
        for one in settled {
            story.take(one);
        }
        story.presses.sort_by_key(|one| (one.at_ms, one.entry.order_ms, one.entry.seq));
        story.moves.sort_by_key(|one| (one.at_ms, one.entry.order_ms, one.entry.seq));
        story.coats.sort_by_key(|one| (one.at_ms, one.entry.order_ms, one.entry.seq));
        Some(story)
    }

    fn take(&mut self, one: &Settled) {
        let mine = |id: &str| id == self.id;
        match &one.body {
            Body::Press(press) if press.bond.as_deref().is_some_and(mine) => self.presses.push(Pressed {
                press: press.press.clone(),
                at_ms: one.happened_ms,
                seen: press.seen.clone(),
                said: press.said.clone().unwrap_or_default(),
                entry: one.entry.clone(),
            }),
            Body::Moved(moved) if mine(&moved.bond) => self.moves.push(told(one, moved.place.clone())),
            Body::Coat(coat) if mine(&coat.bond) => self.coats.push(told(one, coat.batch.clone())),
            Body::Reason(reason) if mine(&reason.bond) => self.reasons.push(told(one, reason.clone())),
            Body::Decide(decide) if mine(&decide.bond) => self.decisions.push(told(one, decide.clone())),
            Body::Alarm(alarm) if alarm.bond.as_deref().is_some_and(mine) => self.alarms.push(told(one, alarm.clone())),
            _ => {}
        }
    }

    /// Presses of one word, in time.
    pub fn all<'a>(&'a self, press: &'a str) -> impl DoubleEndedIterator<Item = &'a Pressed> {
        self.presses.iter().filter(move |one| one.press == press)
    }

    /// The first press of a word.
    pub fn first(&self, press: &str) -> Option<&Pressed> {
        self.presses.iter().find(|one| one.press == press)
    }

    /// The last press of a word.
    pub fn last(&self, press: &str) -> Option<&Pressed> {
        self.presses.iter().rev().find(|one| one.press == press)
    }

    /// Nailed or stapled: two presses, no *Together*, no closed time.
    pub fn two_press(&self) -> bool {
        self.bond.presses == 2
    }

    /// Glue first touched wood: *First glue on* or the first coat, whichever came earlier, ms.
    pub fn glue_on_ms(&self) -> Option<i64> {
        let press = self.first("first-glue-on").map(|one| one.at_ms);
        let coat = self.coats.first().map(|one| one.at_ms);
        press.into_iter().chain(coat).min()
    }

    /// The instant until which glue stood open: *Together*, else *All tight*, else whatever press came later, ms.
    pub fn joined_ms(&self) -> Option<i64> {
        let together = if self.two_press() { None } else { self.last("together") };
        together
            .or_else(|| self.first("all-tight"))
            .or_else(|| self.first("first-clamp-off"))
            .or_else(|| self.first("used"))
            .map(|one| one.at_ms)
    }

    /// Where the must-reach clocks count from now: the last *All tight* or re-tightening, unless a clamp was lost
    /// after it, ms.
    pub fn tight_ms(&self) -> Option<i64> {
        let tight = self.tightenings().max()?;
        let lost = self.last("clamp-lost").map(|one| one.at_ms);
        if lost.is_some_and(|lost| lost > tight) { None } else { Some(tight) }
    }

    /// Every *All tight* and re-tightening, ms.
    pub fn tightenings(&self) -> impl Iterator<Item = i64> + '_ {
        let tight = |one: &&Pressed| one.press == "all-tight" || one.press == "re-tightened";
        self.presses.iter().filter(tight).map(|one| one.at_ms)
    }

    /// The first *First clamp off* since the clocks count, ms.
    pub fn clamp_off(&self) -> Option<&Pressed> {
        let tight = self.tightenings().max();
        self.all("first-clamp-off").find(|one| tight.is_none_or(|tight| one.at_ms >= tight))
    }

    /// The first use that ends a clock: planing ends machining, loading and shipping end both.
    pub fn used(&self, full_cure: bool) -> Option<&Pressed> {
        self.all("used").find(|one| !full_cure || one.seen.as_deref() != Some("planed"))
    }

    /// Parts, sorted, without repeats.
    pub fn parts(&self) -> Vec<Id> {
        let mut parts: Vec<Id> = self.bond.joints.iter().map(|joint| joint.part.clone()).collect();
        parts.sort();
        parts.dedup();
        parts
    }

    /// Whether any press on wood exists.
    pub fn glued(&self) -> bool {
        self.glue_on_ms().is_some() || self.joined_ms().is_some()
    }
}

fn told<T>(one: &Settled, what: T) -> Fact<T> {
    Fact { at_ms: one.happened_ms, what, entry: one.entry.clone() }
}
