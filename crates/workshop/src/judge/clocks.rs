//! The clocks of a bond and of a pot: where each starts and ends, on which card, in which air; the worst of several.

use super::batch::BatchStory;
use super::card::{CardInForce, counted_word};
use super::path::Path;
use super::story::BondStory;
use super::{Judge, said};
use crate::time::Axis;
use glue::clock::{
    Asked, Assumed, Charge, Clock, Direction, LawKind, State, Stay, Told, Wood, carried_open_to_closed, nearly_over_ms,
    start_ms, tell,
};
use logbook::entry::bond::Said;
use logbook::entry::{Body, Id};
use logbook::store::Error;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Everything one clock rests on, read from the book once.
#[derive(Clone, Debug)]
pub struct Prepared {
    /// Bond it is shown under.
    pub bond: Option<Id>,
    /// Batch, for a pot.
    pub batch: Option<Id>,
    /// Name of that batch.
    pub batch_name: Option<String>,
    /// `bond:47` or `batch:Tue 3`.
    pub of: String,
    /// Which clock.
    pub clock: Clock,
    /// Card in force; None: no mix is recorded.
    pub card: Option<Arc<CardInForce>>,
    /// Bent or sprung.
    pub bent: bool,
    /// Start, ms.
    pub started_ms: Option<i64>,
    /// End, ms.
    pub ended_ms: Option<i64>,
    /// Where it was.
    pub path: Path,
    /// Wood.
    pub wood: Wood,
    /// Pot.
    pub charge: Charge,
    /// Shares carried over at the start: safe, expected, other.
    pub carried: [f64; 3],
    /// How long setting the clamps takes, ms.
    pub clamping_ms: Option<i64>,
    /// Assumptions made here, in sentences.
    pub notes: Vec<String>,
    /// Zone its times are said in, minutes east.
    pub zone_min: i32,
    /// A clamp was lost and nothing has been tightened since, ms.
    pub lost_ms: Option<i64>,
}

/// A clock as it stands at an instant.
#[derive(Clone, Debug)]
pub struct Reckoned {
    /// What it rests on.
    pub on: Arc<Prepared>,
    /// What the model says.
    pub told: Told,
    /// When a must-not-exceed clock counts as nearly over, ms.
    pub nearly_ms: Option<i64>,
    /// In words.
    pub said: String,
}

impl Prepared {
    /// What the model says at an instant. Without a card nothing can be judged.
    pub fn tell(&self, at_ms: i64, axis: &Axis) -> Told {
        let Some(card) = &self.card else { return self.unjudged() };
        let path: Vec<Stay<'_>> = self
            .path
            .iter()
            .map(|(from_ms, air)| Stay { from_ms: *from_ms, air: air.as_ref().map(|it| &it.air) })
            .collect();
        tell(&Asked {
            clock: self.clock,
            card: &card.glue,
            bent: self.bent,
            started_ms: self.started_ms,
            ended_ms: self.ended_ms,
            at_ms,
            path: &path,
            wood: self.wood,
            charge: self.charge,
            carried: self.carried,
            pending: &axis.pending,
            time_lost_ms: axis.lost_ms,
        })
    }

    fn unjudged(&self) -> Told {
        let never = self.clock.direction() == Direction::MustReach && self.started_ms.is_none();
        Told {
            state: if never { State::Never } else { State::Held },
            progress_ppm: [0; 3],
            earliest_ms: None,
            expected_ms: None,
            latest_ms: None,
            law: LawKind::None,
            counted_from: None,
            readings: 0,
            no_credit_ms: 0,
            gap_ms: 0,
            fault_ms: None,
            range_k: None,
            assumed: Vec::new(),
        }
    }

    /// When it counts as nearly over (BOND.md "exactly" 17), ms.
    pub fn nearly_ms(&self, told: &Told) -> Option<i64> {
        nearly_over_ms(self.clock, told, self.started_ms?, self.clamping_ms.unwrap_or(0))
    }
}

impl Reckoned {
    /// What is stored when a decision rests on this clock.
    pub fn stored(&self) -> Said {
        let [low, expected, high] = self.told.progress_ppm;
        Said {
            clock: self.on.clock.word().to_owned(),
            state: state_word(self.told.state).to_owned(),
            low_ppm: low,
            expected_ppm: expected,
            high_ppm: high,
            model: glue::clock::MODEL.to_owned(),
        }
    }

    /// It started, a card is in force, and the card gives nothing to judge it by.
    pub fn lawless(&self) -> bool {
        self.on.started_ms.is_some() && self.on.card.is_some() && self.told.law == LawKind::None
    }

    /// Not ended, and not yet settled by its limit: may still fire.
    pub fn live(&self) -> bool {
        self.on.started_ms.is_some() && self.on.ended_ms.is_none()
    }
}

/// The word of a state.
pub fn state_word(state: State) -> &'static str {
    match state {
        State::Running => "running",
        State::Over => "over",
        State::Reached => "reached",
        State::Ended => "ended",
        State::Never => "never",
        State::Held => "held",
    }
}

/// The word of a law.
pub fn law_word(law: LawKind) -> &'static str {
    match law {
        LawKind::OnePoint => "one-point",
        LawKind::TwoPoint => "two-point",
        LawKind::Fitted => "fitted",
        LawKind::Unscaled => "unscaled",
        LawKind::None => "none",
    }
}

/// Larger is worse: which of several must-not-exceed clocks is shown.
fn badness(told: &Told) -> (u8, i64) {
    let high = told.progress_ppm[2];
    match told.state {
        State::Over => (4, high),
        State::Held => (3, high),
        State::Running => (2, told.earliest_ms.map_or(i64::MIN, |ms| -ms)),
        _ => (1, high),
    }
}

/// Larger is worse: which of several must-reach clocks is shown.
fn slowness(told: &Told) -> (u8, i64) {
    let rank = match told.state {
        State::Never => 4,
        State::Held => 3,
        State::Reached => 0,
        _ => 2,
    };
    (rank, -told.progress_ppm[0])
}

fn worst(all: Vec<Reckoned>) -> Option<Reckoned> {
    let key = |one: &Reckoned| match one.on.clock.direction() {
        Direction::MustReach => slowness(&one.told),
        Direction::MustNotExceed => badness(&one.told),
    };
    all.into_iter().reduce(|worst, one| if key(&one) > key(&worst) { one } else { worst })
}

/// Batches of a bond that share one card: the hardener of the oldest counts.
struct OnCard {
    card: Option<Arc<CardInForce>>,
    hardener_in_ms: Option<i64>,
}

impl Judge<'_> {
    /// All clocks of a bond, in the order of its life. A bond on several batches or cards shows the worst of each
    /// clock; further pots stand under their batch's name.
    pub fn clocks_of_bond(&self, bond: &str) -> Result<Vec<Reckoned>, Error> {
        let Some(story) = self.bond(bond)? else {
            return Ok(Vec::new());
        };
        let mut clocks = self.pots_of(&story)?;
        let open = self.worst_of(&story, Clock::Open, [0.0; 3])?;
        let share = |open: &Reckoned| open.on.card.as_ref().map(|card| carried_open_to_closed(&card.glue, &open.told));
        let carried = open.as_ref().and_then(share).unwrap_or([0.0; 3]);
        clocks.extend(open);
        for clock in
            [Clock::Closed, Clock::FreshSurface, Clock::GlueAgain, Clock::Clamp, Clock::Machining, Clock::FullCure]
        {
            clocks.extend(self.worst_of(&story, clock, if clock == Clock::Closed { carried } else { [0.0; 3] })?);
        }
        said::say_all(&mut clocks, self.seen.at_ms);
        Ok(clocks)
    }

    /// The pot clock of a batch alone; None: nothing went in yet.
    pub fn pot(&self, batch: &str) -> Result<Option<Reckoned>, Error> {
        let Some(story) = self.batch(batch)? else {
            return Ok(None);
        };
        let mut clocks: Vec<Reckoned> = self.prepare_pot(&story, None)?.map(|on| self.reckon(on)).into_iter().collect();
        said::say_all(&mut clocks, self.seen.at_ms);
        Ok(clocks.pop())
    }

    /// Every clock that may still matter, bonds in the order they were made; each pot once.
    pub fn live_clocks(&self) -> Result<Vec<Reckoned>, Error> {
        let live = self.book.live()?;
        let mut clocks = Vec::new();
        let mut pots: Vec<Id> = Vec::new();
        for bond in &live.bonds {
            for clock in self.clocks_of_bond(bond)? {
                if let Some(batch) = &clock.on.batch {
                    if pots.contains(batch) {
                        continue;
                    }
                    pots.push(batch.clone());
                }
                clocks.push(clock);
            }
        }
        for batch in live.batches.iter().filter(|batch| !pots.contains(batch)) {
            clocks.extend(self.pot(batch)?);
        }
        Ok(clocks)
    }

    fn pots_of(&self, story: &BondStory) -> Result<Vec<Reckoned>, Error> {
        let mut pots = Vec::new();
        for batch in self.batches_of(story)? {
            pots.extend(self.prepare_pot(&batch, Some(story))?.map(|on| self.reckon(on)));
        }
        pots.sort_by_key(|pot| std::cmp::Reverse(badness(&pot.told)));
        for pot in pots.iter_mut().skip(1) {
            let mut on = (*pot.on).clone();
            on.of = format!("batch:{}", on.batch_name.as_deref().unwrap_or_default());
            pot.on = Arc::new(on);
        }
        Ok(pots)
    }

    fn reckon(&self, on: Prepared) -> Reckoned {
        let told = self.tell_shortly(&on);
        let nearly_ms = on.nearly_ms(&told);
        Reckoned { on: Arc::new(on), told, nearly_ms, said: String::new() }
    }

    fn tell_shortly(&self, on: &Prepared) -> Told {
        on.tell(self.seen.at_ms, self.axis)
    }

    fn prepare_pot(&self, batch: &BatchStory, story: Option<&BondStory>) -> Result<Option<Prepared>, Error> {
        let Some(started) = batch.started_ms() else {
            return Ok(None);
        };
        let card = self.card_of(batch)?;
        let ended_ms = self.pot_end_ms(batch)?;
        let (place, assumed) = self.pot_place(batch)?;
        let mut notes = Vec::new();
        if assumed && let Some(place) = &place {
            notes.push(format!("the pot stands in {}, the only place in the book", self.name(place)?));
        }
        if batch.hardener_in.is_none() {
            notes.push("Hardener in is not recorded: the pot counts from the mix".to_owned());
        }
        let to_ms = ended_ms.unwrap_or(self.seen.at_ms);
        let path = self.path(&vec![(super::path::ALWAYS_MS, place)], started, to_ms)?;
        let charge = match &card {
            Some(card) => self.charge(batch, card)?,
            None => Charge::default(),
        };
        let mut clamping_ms = None;
        for bond in &batch.bonds {
            if let Some(story) = self.bond(bond)? {
                clamping_ms = clamping_ms.max(self.clamping_ms(&story)?);
            }
        }
        let of = story.map_or_else(|| format!("batch:{}", batch.name), |story| format!("bond:{}", story.name));
        Ok(Some(Prepared {
            bond: story.map(|story| story.id.clone()),
            batch: Some(batch.id.clone()),
            batch_name: Some(batch.name.clone()),
            of,
            clock: Clock::Pot,
            card,
            bent: false,
            started_ms: Some(started),
            ended_ms,
            path,
            wood: Wood::default(),
            charge,
            carried: [0.0; 3],
            clamping_ms,
            notes,
            zone_min: self.zone(story.map_or(&batch.made, |story| &story.made)),
            lost_ms: None,
        }))
    }

    /// End of a pot (BOND.md "exactly" 11): *pot done*, else the last instant glue of it was joined; glue that goes on
    /// later reopens it.
    fn pot_end_ms(&self, batch: &BatchStory) -> Result<Option<i64>, Error> {
        let done = batch.pot_done.iter().map(|one| one.at_ms).max();
        let mut end = done;
        for bond in &batch.bonds {
            let Some(story) = self.bond(bond)? else { continue };
            let (on, joined) = (story.glue_on_ms(), story.joined_ms());
            let late = done.is_none_or(|done| on.or(joined).is_some_and(|on| on > done));
            match (on, joined) {
                _ if !late => {}
                (_, Some(joined)) => end = end.max(Some(joined)),
                (Some(_), None) => return Ok(None),
                (None, None) => {}
            }
        }
        Ok(end)
    }

    /// The instant until which a bond drew on a pot: *pot done* if its glue was on by then, else when it was joined.
    pub(crate) fn drew_until_ms(&self, batch: &BatchStory, story: &BondStory) -> Option<i64> {
        let on = story.glue_on_ms().or(story.joined_ms())?;
        let done = batch.pot_done.iter().map(|one| one.at_ms).filter(|done| *done >= on).min();
        let joined = story.joined_ms().unwrap_or(self.seen.at_ms);
        Some(done.map_or(joined, |done| done.min(joined)))
    }

    /// The card of a batch's mix.
    pub fn card_of(&self, batch: &BatchStory) -> Result<Option<Arc<CardInForce>>, Error> {
        match batch.mix() {
            Some(mix) => self.card(&mix.what.card),
            None => Ok(None),
        }
    }

    fn cards_of(&self, story: &BondStory) -> Result<Vec<OnCard>, Error> {
        let mut by_card: BTreeMap<Id, OnCard> = BTreeMap::new();
        let mut bare: Option<OnCard> = None;
        for batch in self.batches_of(story)? {
            let started = batch.started_ms();
            let slot = match self.card_of(&batch)? {
                Some(card) => {
                    by_card.entry(card.id.clone()).or_insert(OnCard { card: Some(card), hardener_in_ms: None })
                }
                None => bare.get_or_insert(OnCard { card: None, hardener_in_ms: None }),
            };
            slot.hardener_in_ms = slot.hardener_in_ms.into_iter().chain(started).min();
        }
        if by_card.is_empty() {
            return Ok(vec![bare.unwrap_or(OnCard { card: None, hardener_in_ms: None })]);
        }
        Ok(by_card.into_values().collect())
    }

    fn worst_of(&self, story: &BondStory, clock: Clock, carried: [f64; 3]) -> Result<Option<Reckoned>, Error> {
        let below = self.layer_below(story, clock)?;
        let mut all = Vec::new();
        for on in self.cards_of(below.as_deref().unwrap_or(story))? {
            if let Some(prepared) = self.prepare(story, below.as_deref(), clock, on, carried)? {
                all.push(self.reckon(prepared));
            }
        }
        Ok(worst(all))
    }

    /// The layer below, for the clock that counts from it.
    fn layer_below(&self, story: &BondStory, clock: Clock) -> Result<Option<Arc<BondStory>>, Error> {
        match (&story.bond.layer_below, clock) {
            (Some(below), Clock::GlueAgain) => self.bond(below),
            _ => Ok(None),
        }
    }

    fn prepare(
        &self,
        story: &BondStory,
        below: Option<&BondStory>,
        clock: Clock,
        on: OnCard,
        carried: [f64; 3],
    ) -> Result<Option<Prepared>, Error> {
        let stated = on.card.as_ref().is_some_and(|card| card.states(clock));
        if !stated && clock != Clock::Clamp {
            return Ok(None);
        }
        let mut notes = Vec::new();
        let Some((natural, ended_ms)) = self.span(story, below, clock, &on, &mut notes)? else {
            return Ok(None);
        };
        let bent = self.bent(story)?;
        let together = story.first("together").map(|one| one.at_ms);
        let counted = on.card.as_ref().and_then(|card| card.counted_from(clock, bent));
        let moved = |natural| match clock {
            Clock::FreshSurface | Clock::GlueAgain => natural,
            _ => start_ms(clock, counted, natural, on.hardener_in_ms, story.glue_on_ms(), together),
        };
        let started_ms = natural.map(moved);
        let shared = on.card.as_ref().is_some_and(|card| card.glue.together);
        let carried = if shared && started_ms == natural { carried } else { [0.0; 3] };
        let from = started_ms.unwrap_or(self.seen.at_ms);
        let path = match started_ms {
            Some(_) => self.path(&self.places(below.unwrap_or(story))?, from, ended_ms.unwrap_or(self.seen.at_ms))?,
            None => Path::new(),
        };
        let lost_ms = story.last("clamp-lost").map(|one| one.at_ms).filter(|_| story.tight_ms().is_none());
        Ok(Some(Prepared {
            bond: Some(story.id.clone()),
            batch: None,
            batch_name: None,
            of: format!("bond:{}", story.name),
            clock,
            card: on.card,
            bent,
            started_ms,
            ended_ms,
            path,
            wood: self.wood(story)?,
            charge: Charge::default(),
            carried,
            clamping_ms: self.clamping_ms(story)?,
            notes,
            zone_min: self.zone(&story.made),
            lost_ms,
        }))
    }

    /// Start and end of a clock by the presses (BOND.md "Clocks"); None: it is left out.
    fn span(
        &self,
        story: &BondStory,
        below: Option<&BondStory>,
        clock: Clock,
        on: &OnCard,
        notes: &mut Vec<String>,
    ) -> Result<Option<(Option<i64>, Option<i64>)>, Error> {
        let must = |start: Option<i64>, end: Option<i64>| start.map(|start| (Some(start), end));
        Ok(match clock {
            Clock::Pot => None,
            Clock::Open => must(open_start_ms(story, on.hardener_in_ms, notes), story.joined_ms()),
            Clock::Closed if story.two_press() => None,
            Clock::Closed => must(story.first("together").map(|one| one.at_ms), closed_end_ms(story)),
            Clock::FreshSurface => must(self.fresh_ms(story)?, story.joined_ms()),
            Clock::GlueAgain => match below {
                Some(below) if !self.abraded(story, below)? => {
                    must(below.tight_ms(), story.glue_on_ms().or(story.joined_ms()))
                }
                _ => None,
            },
            Clock::Clamp => Some((story.tight_ms(), story.clamp_off().map(|one| one.at_ms))),
            Clock::Machining => Some((story.tight_ms(), story.used(false).map(|one| one.at_ms))),
            Clock::FullCure => Some((story.tight_ms(), story.used(true).map(|one| one.at_ms))),
        })
    }

    /// The earliest of the faces as they were last made fresh before the glue, ms.
    fn fresh_ms(&self, story: &BondStory) -> Result<Option<i64>, Error> {
        let until = story.glue_on_ms().or(story.joined_ms()).unwrap_or(i64::MAX);
        Ok(self.surfaced(story)?.into_iter().filter_map(|all| all.into_iter().filter(|at| *at <= until).max()).min())
    }

    /// Every face was made fresh again after the layer below was tight: gluing again without abrading is no question.
    fn abraded(&self, story: &BondStory, below: &BondStory) -> Result<bool, Error> {
        let Some(tight) = below.tight_ms() else {
            return Ok(false);
        };
        let until = story.glue_on_ms().or(story.joined_ms()).unwrap_or(i64::MAX);
        let joints = self.surfaced(story)?;
        Ok(!joints.is_empty() && joints.iter().all(|all| all.iter().any(|at| *at > tight && *at <= until)))
    }

    /// For each joint of a bond, the instants its faces were made fresh, ms.
    fn surfaced(&self, story: &BondStory) -> Result<Vec<Vec<i64>>, Error> {
        let mut by_part = BTreeMap::new();
        for part in story.parts() {
            let settled = self.subject(&part)?;
            by_part.insert(part, settled);
        }
        let times = |joint: &logbook::entry::part::JointRef| {
            let all = by_part.get(&joint.part).into_iter().flatten();
            all.filter(|one| match &one.body {
                Body::Surface(surface) => surface.joints.contains(joint) || surface.parts.contains(&joint.part),
                _ => false,
            })
            .map(|one| one.happened_ms)
            .collect::<Vec<i64>>()
        };
        Ok(story.bond.joints.iter().map(times).collect())
    }
}

/// Open time counts from the first glue on wood; not recorded: from *Hardener in*, once a later press shows that glue
/// was on.
fn open_start_ms(story: &BondStory, hardener_in_ms: Option<i64>, notes: &mut Vec<String>) -> Option<i64> {
    if let Some(on) = story.glue_on_ms() {
        return Some(on);
    }
    story.joined_ms()?;
    notes.push("First glue on is not recorded: open time counts from Hardener in".to_owned());
    hardener_in_ms
}

/// Closed time ends with *All tight*; not recorded: with whatever press came later.
fn closed_end_ms(story: &BondStory) -> Option<i64> {
    let tight = story.first("all-tight").or_else(|| story.first("first-clamp-off")).or_else(|| story.first("used"));
    tight.map(|one| one.at_ms)
}

/// The word of "counted from" on the wire.
pub fn counted(told: &Told) -> Option<&'static str> {
    told.counted_from.map(counted_word)
}

/// What was taken for granted, in sentences; the judge's own notes first.
pub fn assumed(one: &Reckoned) -> Vec<String> {
    let mut all = one.on.notes.clone();
    all.extend(one.told.assumed.iter().map(|it| said::assumed(*it)));
    if one.told.assumed.contains(&Assumed::NoReadings) && one.on.path.iter().all(|(_, air)| air.is_none()) {
        all.push("no place is recorded".to_owned());
    }
    all
}
