//! A bond at rest: nothing can happen to it by time alone. What was judged of it then is kept beside the read models,
//! until an entry comes that may bear on it; only what is asked about now is answered from there.

use super::story::BondStory;
use super::{Judge, Judged, Reckoned};
use glue::clock::{Direction, MODEL, State};
use logbook::entry::Id;
use logbook::entry::part::JointRef;
use logbook::store::{Error, Resting};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::rc::Rc;

/// A bond comes to rest this long after the last thing that happened to it, ms.
pub const REST_MS: i64 = 24 * 3_600_000;

/// What lists tell of a bond.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Outline {
    /// Its name.
    pub name: String,
    /// Clear, held or running.
    pub state: String,
    /// Its parts, by mark, sorted.
    pub marks: Vec<String>,
    /// Its joints.
    pub joints: Vec<JointRef>,
    /// Its batches, by name.
    pub batches: Vec<String>,
    /// Its last press.
    pub last_press: Option<String>,
    /// What is owed: key and sentence.
    pub owed: Vec<(String, String)>,
    /// It was not rejected and is not to be done again.
    pub counts: bool,
}

/// The stretch that a bond's clocks looked at, ms.
pub type Stretch = (i64, i64);

/// What is at rest at the moment of a judge, by id.
pub type AtRest = BTreeMap<Id, Resting>;

impl BondStory {
    /// The last decision did not take it out: it was not rejected and is not to be done again.
    pub fn counts(&self) -> bool {
        let last = self.decisions.iter().max_by_key(|one| (one.at_ms, one.entry.order_ms, one.entry.seq));
        last.is_none_or(|one| one.what.verdict == "accepted")
    }

    /// Presses that leave nothing more to wait for than cure: *First clamp off*, or two-press.
    pub fn let_go(&self) -> bool {
        self.clamp_off().is_some() || self.two_press()
    }

    /// The last instant something was recorded of it, ms.
    pub fn last_ms(&self) -> i64 {
        let presses = self.presses.last().map(|one| one.at_ms);
        let moves = self.moves.last().map(|one| one.at_ms);
        let coats = self.coats.last().map(|one| one.at_ms);
        let reasons = self.reasons.iter().map(|one| one.at_ms).max();
        let decisions = self.decisions.iter().map(|one| one.at_ms).max();
        [presses, moves, coats, reasons, decisions].into_iter().flatten().fold(self.at_ms, i64::max)
    }
}

/// Instant from which nothing more can come of a clock by time alone, ms; None: something may.
fn settled_ms(one: &Reckoned) -> Option<i64> {
    let reached = one.on.clock.direction() == Direction::MustReach && one.told.state == State::Reached;
    one.on.ended_ms.or(one.told.latest_ms.filter(|_| reached))
}

impl Judge<'_> {
    /// The stretch a bond's clocks looked at, if it is at rest: a clamp came off or none was waited for, every clock has
    /// ended or was reached, and all that lies more than a day back. Never where time itself is in doubt.
    pub fn at_rest(&self, story: &BondStory, clocks: &[Reckoned]) -> Option<Stretch> {
        if !story.let_go() || clocks.is_empty() {
            return None;
        }
        let mut last_ms = story.last_ms();
        for one in clocks {
            last_ms = last_ms.max(settled_ms(one)?);
        }
        let starts = clocks.iter().filter_map(|one| one.on.started_ms);
        let first_ms = starts.chain(story.presses.first().map(|one| one.at_ms)).fold(story.at_ms, i64::min);
        self.rests((first_ms, last_ms)).then_some((first_ms, last_ms))
    }

    /// The pot of a batch was closed more than a day ago.
    pub fn pot_at_rest(&self, pot: &Reckoned) -> Option<Stretch> {
        let last_ms = pot.on.ended_ms?;
        let stretch = (pot.on.started_ms.unwrap_or(last_ms).min(last_ms), last_ms);
        self.rests(stretch).then_some(stretch)
    }

    fn rests(&self, (first_ms, last_ms): Stretch) -> bool {
        let axis = self.axis;
        let pending = axis.pending.iter().any(|(from, to)| *from < last_ms && *to > first_ms);
        axis.lost_ms.is_none() && !pending && last_ms.saturating_add(REST_MS) < self.seen.at_ms
    }

    /// What is at rest and holds for this judge: only one who sees all that is known now.
    pub fn resting(&self) -> Result<Rc<AtRest>, Error> {
        if let Some(known) = &*self.resting.borrow() {
            return Ok(Rc::clone(known));
        }
        let now = self.seen.known_ms == i64::MAX && self.seen.at_ms == self.axis.now_ms;
        let all = if now && self.axis.lost_ms.is_none() { self.book.resting()? } else { Vec::new() };
        let holds = |one: &Resting| {
            let said_here = one.zone_min.is_none() || one.zone_min == self.zone_min;
            one.model == MODEL && said_here && self.rests((one.first_ms, one.last_ms))
        };
        let resting: AtRest = all.into_iter().filter(holds).map(|one| (one.id.clone(), one)).collect();
        let resting = Rc::new(resting);
        self.resting.replace(Some(Rc::clone(&resting)));
        Ok(resting)
    }

    /// What lists tell of a bond, as it was kept or judged now; None: there is no such bond in what is seen.
    pub fn outline(&self, bond: &str) -> Result<Option<Outline>, Error> {
        if let Some(one) = self.resting()?.get(bond)
            && let Ok(kept) = serde_json::from_str(&one.kept)
        {
            return Ok(Some(kept));
        }
        self.judged(bond)?.map(|judged| self.outline_of(&judged)).transpose()
    }

    /// What lists tell of a bond that was judged.
    pub fn outline_of(&self, judged: &Judged) -> Result<Outline, Error> {
        let story = &judged.story;
        let mut marks = story.parts().iter().map(|part| self.name(part)).collect::<Result<Vec<_>, _>>()?;
        marks.sort();
        marks.dedup();
        let owed = judged.findings.iter().filter(|one| one.owed());
        Ok(Outline {
            name: story.name.clone(),
            state: judged.state.word().to_owned(),
            marks,
            joints: story.bond.joints.clone(),
            batches: self.batches_of(story)?.iter().map(|batch| batch.name.clone()).collect(),
            last_press: story.presses.last().map(|one| one.press.clone()),
            owed: owed.map(|one| (one.key.clone(), one.sentence.clone())).collect(),
            counts: story.counts(),
        })
    }
}

impl Outline {
    /// Parts, sorted, without repeats.
    pub fn parts(&self) -> Vec<Id> {
        let mut parts: Vec<Id> = self.joints.iter().map(|joint| joint.part.clone()).collect();
        parts.sort();
        parts.dedup();
        parts
    }
}
