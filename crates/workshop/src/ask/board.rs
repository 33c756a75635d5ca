//! What the bench rests on, read from the book once: bonds with their stories, clocks and what holds them, pots, the
//! air of each place. In between its clocks go on from what they have gone through.

use super::Asking;
use super::answer::AlarmLine;
use super::pour;
use super::strip::{self, PlaceNow};
use crate::judge::cured::CureOn;
use crate::judge::findings::Finding;
use crate::judge::{BatchStory, BondStory, Prepared, Reckoned, said};
use crate::reader::Reader;
use crate::time::Axis;
use crate::wire::WireError;
use glue::clock::{Clock, State};
use logbook::entry::{Body, Id};
use logbook::store::{Error, Noun};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A live bond as the book has it.
pub(super) struct OnBench {
    /// Its story.
    pub story: Arc<BondStory>,
    /// Its batches.
    pub batches: Vec<Arc<BatchStory>>,
    /// All its clocks, pots first.
    pub clocks: Vec<Arc<Prepared>>,
    /// What is found and not settled.
    pub held: Vec<Finding>,
    /// Where it is.
    pub place: Option<Id>,
    /// Its joints, as an act names them.
    pub joints: Vec<String>,
    /// Its parts, by mark.
    pub parts: Vec<String>,
    /// How cured, once it is tight.
    pub cure: Option<CureOn>,
}

/// A batch that may still be used.
pub(super) struct InPot {
    /// Its story.
    pub story: Arc<BatchStory>,
    /// Its pot.
    pub pot: Arc<Prepared>,
    /// Until when it can be worked by the temperature measured in the cup, ms.
    pub by_cup_ms: Option<i64>,
}

/// Everything the bench is drawn from.
pub(super) struct Board {
    /// Live bonds, in the order they were made.
    pub bonds: Vec<OnBench>,
    /// Live batches.
    pub pots: Vec<InPot>,
    /// The air of each place; the one worked at first.
    pub places: Vec<PlaceNow>,
    /// Units of what is said.
    pub reader: Reader,
    /// Lots of filler: mark and card.
    pub fillers: Vec<(String, Id)>,
    /// Alarms nobody answered.
    pub alarms: Vec<AlarmLine>,
    /// What is owed on live bonds.
    pub owed: Vec<String>,
    /// Entries in the own log, and when the last was entered, ms.
    pub saved: (u64, Option<i64>),
    /// How every clock stood when this was read.
    states: Vec<State>,
}

/// A bond's clocks as they stand now.
pub(super) type Told = Vec<Reckoned>;

impl Board {
    /// Reads everything.
    pub fn read(asking: &Asking) -> Result<Board, WireError> {
        let (live, resting) = (asking.book.live()?, asking.judge.resting()?);
        let (mut bonds, mut owed, mut states) = (Vec::new(), Vec::new(), Vec::new());
        let mut in_pots: BTreeSet<Id> = BTreeSet::new();
        for id in &live.bonds {
            if let Some(one) = resting.get(id) {
                // Only where something is owed do sentences depend on a zone.
                if one.zone_min.is_some()
                    && let Some(outline) = asking.judge.outline(id)?
                {
                    owed.extend(outline.owed.into_iter().map(|(_, sentence)| sentence));
                }
                continue;
            }
            let Some(judged) = asking.judge.judged(id)? else { continue };
            let rests = asking.judge.at_rest(&judged.story, &judged.clocks).is_some();
            let mine = judged.findings.into_iter().filter(|it| !it.settled);
            let (held, clocks): (Vec<Finding>, Vec<Reckoned>) = (mine.collect(), judged.clocks);
            owed.extend(held.iter().filter(|it| it.owed()).map(|it| it.sentence.clone()));
            if rests {
                continue;
            }
            states.extend(clocks.iter().map(|one| one.told.state));
            let batches = asking.judge.batches_of(&judged.story)?;
            in_pots.extend(batches.iter().map(|one| one.id.clone()));
            let tight = judged.story.first("all-tight").is_some();
            bonds.push(OnBench {
                cure: tight.then(|| asking.judge.cure_on(&judged.story)).transpose()?,
                place: asking.judge.places(&judged.story)?.pop().and_then(|(_, place)| place),
                joints: asking.joints(&judged.story)?,
                parts: asking.marks(judged.story.parts())?,
                clocks: clocks.into_iter().map(|one| one.on).collect(),
                story: judged.story,
                batches,
                held,
            });
        }
        let open = live.batches.iter().filter(|batch| !resting.contains_key(*batch) && !in_pots.contains(*batch));
        for batch in open.cloned().collect::<Vec<Id>>() {
            if asking.judge.pot(&batch)?.is_some_and(|pot| asking.judge.pot_at_rest(&pot).is_none()) {
                in_pots.insert(batch);
            }
        }
        let pots = pots(asking, in_pots, &mut states)?;
        let mut alarms = Vec::new();
        for id in &live.alarms {
            if let Some(one) = asking.judge.in_force(id)?
                && let Body::Alarm(alarm) = &one.body
            {
                alarms.push(asking.alarm_line(&one.entry, alarm)?);
            }
        }
        let last = asking.book.tail(1)?.pop().map(|entry| entry.entered_ms);
        Ok(Board {
            places: strip::places(asking, worked_at(&bonds))?,
            reader: asking.judge.reader,
            fillers: fillers(asking)?,
            saved: (asking.size()?, last),
            bonds,
            pots,
            alarms,
            owed,
            states,
        })
    }

    /// Every clock as it stands at an instant: bond by bond, then pot by pot.
    pub fn tell(&self, at_ms: i64, axis: &Axis) -> (Vec<Told>, Vec<Reckoned>) {
        let bonds = self.bonds.iter().map(|one| told(&one.clocks, at_ms, axis)).collect();
        let pots = self.pots.iter().flat_map(|one| told(std::slice::from_ref(&one.pot), at_ms, axis)).collect();
        (bonds, pots)
    }

    /// No clock stands otherwise than when this was read: what was found still holds.
    pub fn holds(&self, bonds: &[Told], pots: &[Reckoned]) -> bool {
        bonds.iter().flatten().chain(pots).map(|one| one.told.state).eq(self.states.iter().copied())
    }
}

fn told(clocks: &[Arc<Prepared>], at_ms: i64, axis: &Axis) -> Vec<Reckoned> {
    let reckon = |on: &Arc<Prepared>| {
        let told = on.tell(at_ms, axis);
        let nearly_ms = on.nearly_ms(&told);
        Reckoned { on: Arc::clone(on), told, nearly_ms, said: String::new() }
    };
    let mut clocks: Vec<Reckoned> = clocks.iter().map(reckon).collect();
    said::say_all(&mut clocks, at_ms);
    clocks
}

/// Pots in the order of their making.
fn pots(asking: &Asking, ids: BTreeSet<Id>, states: &mut Vec<State>) -> Result<Vec<InPot>, Error> {
    let mut pots = Vec::new();
    for id in ids {
        let (Some(story), Some(pot)) = (asking.judge.batch(&id)?, asking.judge.pot(&id)?) else { continue };
        let by_cup_ms = match asking.judge.card_of(&story)? {
            Some(card) => pour::until_by_cup(asking, &story, &card)?,
            None => None,
        };
        pots.push((pot.told.state, InPot { story, pot: pot.on, by_cup_ms }));
    }
    pots.sort_by(|(_, a), (_, b)| (a.story.made.seq, &a.story.id).cmp(&(b.story.made.seq, &b.story.id)));
    states.extend(pots.iter().map(|(state, _)| *state));
    Ok(pots.into_iter().map(|(_, one)| one).collect())
}

/// The place of the bond that was worked on last.
fn worked_at(bonds: &[OnBench]) -> Option<&Id> {
    let last = |one: &&OnBench| one.story.presses.last().map_or(one.story.at_ms, |press| press.at_ms);
    bonds.iter().filter(|one| one.place.is_some()).max_by_key(last).and_then(|one| one.place.as_ref())
}

fn fillers(asking: &Asking) -> Result<Vec<(String, Id)>, Error> {
    let mut all = Vec::new();
    for (mark, id) in asking.book.list(Noun::Lot)? {
        if let Some(one) = asking.judge.in_force(&id)?
            && let Body::Lot(lot) = &one.body
            && lot.role == "filler"
        {
            all.push((mark, lot.card.clone()));
        }
    }
    Ok(all)
}

impl OnBench {
    /// Pressure has come on.
    pub fn tight(&self) -> bool {
        self.story.tightenings().next().is_some() || self.story.first("first-clamp-off").is_some()
    }

    /// Glue stands open or closed under no pressure yet, or nothing was pressed at all.
    pub fn in_assembly(&self) -> bool {
        !self.tight() && self.story.used(false).is_none()
    }
}

/// Whether a clock still runs for somebody: started, not ended.
pub(super) fn runs(one: &Reckoned) -> bool {
    one.live() && (one.on.clock == Clock::Pot || one.on.card.is_some())
}
