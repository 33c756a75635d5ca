//! What is found on a bond: broken limits, missing presses and values, hindsight; what settles it; clear, held or
//! running. Computed from the record each time, never stored.

use super::Judge;
use super::batch::BatchStory;
use super::clocks::{Reckoned, state_word};
use super::lots::LotUse;
use super::story::{BondStory, Pressed};
use super::words::{Round, Saying, percent};
use glue::clock::{Assumed, Clock, Direction, State};
use logbook::entry::mix::Mix;
use logbook::store::Error;
use std::collections::BTreeSet;
use std::sync::Arc;

/// One thing found on a bond.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Stable key: `over:pot`, `missing:squeeze-out`; on a bond of several batches with the batch: `ratio:outside@Tue 3`.
    pub key: String,
    /// In words, with the bond's name.
    pub sentence: String,
    /// Settled by a reason or a decision. What is not settled holds the bond.
    pub settled: bool,
    /// Entry it is seen in: its number.
    pub seq: Option<u64>,
}

/// What a bond is, from its findings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BondState {
    /// Nothing holds it, the clamp time was reached, squeeze-out is answered.
    Clear,
    /// Something found is not settled.
    Held,
    /// Neither.
    Running,
}

impl BondState {
    /// Its word on the wire.
    pub fn word(self) -> &'static str {
        match self {
            BondState::Clear => "clear",
            BondState::Held => "held",
            BondState::Running => "running",
        }
    }
}

impl Finding {
    /// Something is owed for it: a reason, a value or a decision. A rejected bond owes nothing more.
    pub fn owed(&self) -> bool {
        !self.settled && self.key != REJECTED
    }

    /// A reason settles it ("cannot be known, because"); all else takes a decision.
    pub fn by_reason(key: &str) -> bool {
        let bare = key.split('@').next().unwrap_or(key);
        bare.starts_with("missing:") || bare == "squeeze-out:not-all-round" || bare == "ratio:cannot-tell"
    }
}

const REJECTED: &str = "decided:rejected";

/// A bond with all that is judged about it at one moment.
pub struct Judged {
    /// Its story.
    pub story: Arc<BondStory>,
    /// Its clocks.
    pub clocks: Vec<Reckoned>,
    /// What was found.
    pub findings: Vec<Finding>,
    /// What differs today from what was said then; holds nothing by itself.
    pub hindsight: Vec<Finding>,
    /// Clear, held or running.
    pub state: BondState,
}

impl Judge<'_> {
    /// A bond with its clocks, findings and state; None: there is no such bond in what is seen.
    pub fn judged(&self, bond: &str) -> Result<Option<Judged>, Error> {
        let Some(story) = self.bond(bond)? else { return Ok(None) };
        let clocks = self.clocks_of_bond(bond)?;
        let mut list = List { story: &story, saying: self.saying(&story), found: Vec::new(), hindsight: Vec::new() };
        self.find_batches(&mut list)?;
        self.find_pots(&mut list)?;
        find_clocks(&mut list, &clocks);
        self.find_releases(&mut list, &clocks)?;
        find_missing(&mut list);
        self.find_moisture(&mut list)?;
        let (mut findings, hindsight) = (list.found, list.hindsight);
        settle_by(&story, &mut findings);
        let state = state_of(&story, &clocks, &findings);
        Ok(Some(Judged { story, clocks, findings, hindsight, state }))
    }

    /// Everything found on a bond, settled or not.
    pub fn findings(&self, bond: &str) -> Result<Vec<Finding>, Error> {
        Ok(self.judged(bond)?.map(|it| it.findings).unwrap_or_default())
    }

    /// What a bond owes, in sentences.
    pub fn owed(&self, bond: &str) -> Result<Vec<String>, Error> {
        Ok(self.findings(bond)?.into_iter().filter(Finding::owed).map(|it| it.sentence).collect())
    }

    /// Sentences about a bond give the date only of other days than its own, so that they stay the same for ever.
    fn saying(&self, story: &BondStory) -> Saying {
        Saying { zone_min: self.zone(&story.made), at_ms: story.at_ms }
    }

    fn find_batches(&self, list: &mut List) -> Result<(), Error> {
        let batches = self.batches_of(list.story)?;
        let many = batches.len() > 1;
        for batch in &batches {
            let at = if many { format!("@{}", batch.name) } else { String::new() };
            if batch.hardener_in.is_none() && list.story.glued() {
                list.add(
                    format!("missing:hardener-in{at}"),
                    format!("Hardener in of batch {} not recorded", batch.name),
                    Some(batch.made.seq),
                );
            }
            find_ratio(list, batch, &at);
            self.find_mix(list, batch, &at)?;
            for lot in self.lots_of(batch)? {
                find_lot(list, batch, &lot, &at);
            }
            self.find_roles(list, batch, &at)?;
        }
        Ok(())
    }

    fn find_mix(&self, list: &mut List, batch: &BatchStory, at: &str) -> Result<(), Error> {
        if !list.story.glued() {
            return Ok(());
        }
        if batch.mixes.is_empty() {
            list.add(
                format!("missing:mix{at}"),
                format!("mix of batch {} not recorded", batch.name),
                Some(batch.made.seq),
            );
            return Ok(());
        }
        let Some(card) = self.card_of(batch)? else {
            return Ok(());
        };
        let ratio = &card.stored.ratio;
        let plain = ratio.volume.as_ref().is_some_and(|it| it.resin_ppm == it.hardener_ppm);
        let weighed = ratio.weight.is_some() || (ratio.volume.is_some() && !plain);
        for (_, one) in &batch.mixes {
            if weighed && (one.what.resin.is_none() || one.what.hardener.is_none()) {
                list.add(
                    format!("missing:amounts{at}"),
                    format!("amounts of batch {} not recorded", batch.name),
                    Some(one.entry.seq),
                );
            }
        }
        Ok(())
    }

    fn find_roles(&self, list: &mut List, batch: &BatchStory, at: &str) -> Result<(), Error> {
        let roles: BTreeSet<String> = self.lots_of(batch)?.into_iter().map(|lot| lot.role).collect();
        let Some(mix) = batch.mix().filter(|_| !roles.is_empty()) else {
            return Ok(());
        };
        for role in ["resin", "hardener"] {
            if !roles.contains(role) {
                let sentence = format!("no {role} lot among the cans of batch {}", batch.name);
                list.add(format!("lot:roles{at}"), sentence, Some(mix.entry.seq));
            }
        }
        Ok(())
    }

    /// Glue of this bond that left its pot after the pot's limit (BOND.md "exactly" 11).
    fn find_pots(&self, list: &mut List) -> Result<(), Error> {
        let batches = self.batches_of(list.story)?;
        let many = batches.len() > 1;
        for batch in &batches {
            let at = if many { format!("@{}", batch.name) } else { String::new() };
            let (Some(pot), Some(drew)) = (self.pot(&batch.id)?, self.drew_until_ms(batch, list.story)) else {
                continue;
            };
            let limit = pot.told.earliest_ms;
            if pot.told.state == State::Over && limit.is_none_or(|limit| drew >= limit) {
                let limit = limit.map(|limit| format!(", limit {}", list.time(limit))).unwrap_or_default();
                let sentence = format!("pot {} over: its glue was joined at {}{limit}", batch.name, list.time(drew));
                let seq = list.story.first("together").or(list.story.first("all-tight")).or(list.story.presses.first());
                list.add(format!("over:pot{at}"), sentence, seq.map(|one| one.entry.seq));
            }
            if pot.lawless() {
                list.add(
                    format!("law:none:pot{at}"),
                    format!("pot {}: the card gives no law for it", batch.name),
                    None,
                );
            }
        }
        Ok(())
    }

    fn find_releases(&self, list: &mut List, clocks: &[Reckoned]) -> Result<(), Error> {
        for clock in clocks.iter().filter(|one| one.on.clock.direction() == Direction::MustReach) {
            let story = list.story;
            let press = match clock.on.clock {
                Clock::Clamp => story.clamp_off(),
                Clock::Machining => story.used(false),
                _ => story.used(true),
            };
            if let Some(press) = press {
                find_release(list, clock, press);
            }
            if clock.on.clock == Clock::Clamp {
                find_said_free(list, clock, self);
                self.find_first_release(list, clock);
            }
        }
        Ok(())
    }

    /// A clamp that came off before the last re-tightening: judged on the stretch that it ended.
    fn find_first_release(&self, list: &mut List, clock: &Reckoned) {
        let story = list.story;
        let Some(last) = story.tightenings().max() else { return };
        for press in story.all("first-clamp-off").filter(|press| press.at_ms < last) {
            let started_ms = story.tightenings().filter(|at| *at <= press.at_ms).max();
            let on = super::clocks::Prepared { started_ms, ended_ms: Some(press.at_ms), ..(*clock.on).clone() };
            let told = on.tell(self.seen.at_ms, self.axis);
            if told.state != State::Reached {
                let low = percent(told.progress_ppm[0].min(999_999));
                let sentence = format!(
                    "First clamp off at {} too early: {low} of the clamp time; tightened again later",
                    list.time(press.at_ms)
                );
                list.add("early:clamp".to_owned(), sentence, Some(press.entry.seq));
            }
        }
    }

    fn find_moisture(&self, list: &mut List) -> Result<(), Error> {
        if !list.story.glued() {
            return Ok(());
        }
        for batch in self.batches_of(list.story)? {
            let Some(card) = self.card_of(&batch)? else { continue };
            let (low, high) = (card.stored.moisture_minimum.as_ref(), card.stored.moisture_maximum.as_ref());
            if low.is_none() && high.is_none() {
                continue;
            }
            let range = match (low, high) {
                (Some(low), Some(high)) => format!("{} to {}", low.typed, high.typed),
                (Some(low), None) => format!("{} or more", low.typed),
                (None, high) => format!("{} or less", high.map_or("", |it| it.typed.as_str())),
            };
            let seq = Some(list.story.made.seq);
            match &list.story.bond.moisture {
                None => list.add("missing:moisture".to_owned(), "wood moisture not recorded".to_owned(), seq),
                Some(wood) if low.is_some_and(|it| wood.ppm < it.ppm) || high.is_some_and(|it| wood.ppm > it.ppm) => {
                    list.add(
                        "moisture:outside".to_owned(),
                        format!("wood moisture {}, the card says {range}", wood.typed),
                        seq,
                    );
                }
                Some(_) => {}
            }
        }
        Ok(())
    }
}

struct List<'a> {
    story: &'a BondStory,
    saying: Saying,
    found: Vec<Finding>,
    hindsight: Vec<Finding>,
}

impl List<'_> {
    /// Once per key; the first sentence stands.
    fn add(&mut self, key: String, sentence: String, seq: Option<u64>) {
        if self.found.iter().all(|one| one.key != key) {
            self.found.push(Finding {
                key,
                sentence: format!("bond {}: {sentence}", self.story.name),
                settled: false,
                seq,
            });
        }
    }

    fn note(&mut self, key: &str, sentence: String, seq: Option<u64>) {
        let sentence = format!("bond {}: {sentence}", self.story.name);
        self.hindsight.push(Finding { key: key.to_owned(), sentence, settled: true, seq });
    }

    fn time(&self, ms: i64) -> String {
        self.saying.time(ms, Round::Down)
    }
}

fn find_ratio(list: &mut List, batch: &BatchStory, at: &str) {
    for (top_up, one) in &batch.mixes {
        let what = if *top_up { "top-up of batch" } else { "batch" };
        let Some(judged) = &one.what.judged else { continue };
        if judged.swapped == Some(true) {
            list.add(
                format!("ratio:swapped{at}"),
                format!("{what} {}: resin and hardener look swapped", batch.name),
                Some(one.entry.seq),
            );
        }
        match judged.verdict.as_str() {
            "outside" => {
                list.add(
                    format!("ratio:outside{at}"),
                    format!("{what} {} out of ratio{}", batch.name, deviation(&one.what)),
                    Some(one.entry.seq),
                );
            }
            "cannot-tell" => {
                let sentence = format!(
                    "{what} {}: this scale cannot tell whether the ratio is within{}",
                    batch.name,
                    deviation(&one.what)
                );
                list.add(format!("ratio:cannot-tell{at}"), sentence, Some(one.entry.seq));
            }
            _ => {}
        }
    }
}

fn deviation(mix: &Mix) -> String {
    let Some(judged) = &mix.judged else {
        return String::new();
    };
    let Some(error) = judged.error_ppm else {
        return String::new();
    };
    let sign = if error < 0 { "-" } else { "+" };
    let within = judged.uncertainty_ppm.map(|it| format!(" ± {}", percent(it))).unwrap_or_default();
    format!(" (hardener {sign}{}{within})", percent(error.abs()))
}

fn find_lot(list: &mut List, batch: &BatchStory, lot: &LotUse, at: &str) {
    if lot.expired {
        let until = lot.expires_ms.map(|ms| format!(" {}", list.time(ms))).unwrap_or_default();
        let sentence = format!("{} lot {} of batch {} had expired{until}", lot.role, lot.mark, batch.name);
        list.add(format!("lot:expired{at}"), sentence, Some(lot.seq));
    }
    if lot.other_adhesive {
        let sentence = format!("{} lot {} of batch {} belongs to another adhesive", lot.role, lot.mark, batch.name);
        list.add(format!("lot:wrong-adhesive{at}"), sentence, Some(lot.seq));
    }
}

fn find_clocks(list: &mut List, clocks: &[Reckoned]) {
    for one in clocks {
        let (word, told) = (one.on.clock.word(), &one.told);
        if told.assumed.contains(&Assumed::TimeLost) {
            let sentence = "the computer's clock went back across a restart: how long it stood is not known".to_owned();
            list.add("time:lost".to_owned(), sentence, None);
        }
        if let Some(cold) = told.fault_ms {
            let sentence = format!(
                "colder than the card's minimum for a minute at {}, which its sheet calls a fault",
                list.time(cold)
            );
            list.add("fault:cold".to_owned(), sentence, None);
        }
        if one.on.clock == Clock::Pot {
            continue;
        }
        if told.state == State::Over {
            find_over(list, one);
        } else if one.lawless() {
            list.add(format!("law:none:{word}"), format!("{word}: the card gives no law for it"), None);
        }
    }
}

fn find_over(list: &mut List, one: &Reckoned) {
    let word = one.on.clock.word();
    let limit = one.told.earliest_ms.map(|at| format!(", limit {}", list.time(at))).unwrap_or_default();
    let end = one.on.ended_ms.map_or_else(|| "it still runs".to_owned(), |at| format!("it ended at {}", list.time(at)));
    let seq = list.story.presses.iter().find(|press| Some(press.at_ms) == one.on.ended_ms).map(|press| press.entry.seq);
    list.add(format!("over:{word}"), format!("{word} time over: {end}{limit}"), seq);
}

/// A release judged with what the book now holds; what was said then stands beside it.
fn find_release(list: &mut List, clock: &Reckoned, press: &Pressed) {
    let word = clock.on.clock.word();
    let early = clock.told.state != State::Reached;
    let low = percent(clock.told.progress_ppm[0].clamp(0, if early { 999_999 } else { i64::MAX }));
    let then = press.said.iter().find(|said| said.clock == word);
    let differs = then.filter(|said| (said.state == "reached") == early);
    let said = differs
        .map(|said| format!("; then it was said: {}, {}", said.state, percent(said.low_ppm)))
        .unwrap_or_default();
    let what = if clock.on.clock == Clock::Clamp { "First clamp off" } else { "used" };
    if early {
        let sentence = format!("{what} at {} too early: {low} of the {word} time{said}", list.time(press.at_ms));
        list.add(format!("early:{word}"), sentence, Some(press.entry.seq));
    } else if differs.is_some() {
        let sentence = format!(
            "{what} at {}: with what the book now holds the {word} time was reached{said}",
            list.time(press.at_ms)
        );
        list.note(&format!("hindsight:{word}"), sentence, Some(press.entry.seq));
    }
}

/// Alarms that said clamps may come off, judged again with what the book now holds.
fn find_said_free(list: &mut List, clock: &Reckoned, judge: &Judge) {
    let story = list.story;
    for alarm in &story.alarms {
        let Some(then) = &alarm.what.progress else { continue };
        if then.clock != clock.on.clock.word() || alarm.what.alarm != "clamps-may-come-off" {
            continue;
        }
        let on = super::clocks::Prepared { ended_ms: Some(alarm.what.noticed_ms), ..(*clock.on).clone() };
        if on.started_ms.is_none_or(|start| start > alarm.what.noticed_ms) {
            continue;
        }
        let now = on.tell(judge.seen.at_ms, judge.axis);
        if now.state != State::Reached {
            let at = list.time(alarm.what.noticed_ms);
            let low = percent(now.progress_ppm[0].clamp(0, 999_999));
            let sentence = format!(
                "at {at} it was said that clamps may come off ({}); with what the book now holds it was {low} ({})",
                percent(then.low_ppm),
                state_word(now.state)
            );
            list.note("hindsight:said-free", sentence, Some(alarm.entry.seq));
        }
    }
}

/// Presses in the order of a bond's life: (word, rank, name). What is looked at while wet may come before *All tight*.
const ORDER: [(&str, u8, &str); 8] = [
    ("first-glue-on", 1, "First glue on"),
    ("together", 2, "Together"),
    ("all-tight", 3, "All tight"),
    ("squeeze-out", 3, "Squeeze-out"),
    ("clamp-lost", 4, "Clamp lost"),
    ("re-tightened", 4, "Re-tightened"),
    ("first-clamp-off", 5, "First clamp off"),
    ("used", 6, "Used"),
];

/// A press that is missing although a later one exists.
fn find_missing(list: &mut List) {
    let story = list.story;
    let rank = |press: &str| ORDER.iter().find(|one| one.0 == press).map_or(0, |one| one.1);
    let latest = story.presses.iter().map(|one| rank(&one.press)).max().unwrap_or(0);
    let two: &[&str] = &["first-glue-on", "all-tight"];
    let six: &[&str] = &["first-glue-on", "together", "all-tight", "first-clamp-off"];
    for press in if story.two_press() { two } else { six } {
        let there = story.first(press).is_some() || (*press == "first-glue-on" && story.glue_on_ms().is_some());
        if !there && rank(press) < latest {
            let name = ORDER.iter().find(|one| one.0 == *press).map_or("", |one| one.2);
            list.add(
                format!("missing:{press}"),
                format!("{name} not recorded"),
                story.presses.last().map(|one| one.entry.seq),
            );
        }
    }
    find_squeeze_out(list, latest >= 5);
}

fn find_squeeze_out(list: &mut List, released: bool) {
    let story = list.story;
    match story.last("squeeze-out") {
        Some(press) if press.seen.as_deref() == Some("not-all-round") => {
            list.add(
                "squeeze-out:not-all-round".to_owned(),
                "squeeze-out not all round".to_owned(),
                Some(press.entry.seq),
            );
        }
        Some(_) => {}
        None if released => {
            list.add(
                "missing:squeeze-out".to_owned(),
                "squeeze-out not recorded".to_owned(),
                story.presses.last().map(|one| one.entry.seq),
            );
        }
        None => {}
    }
}

/// Reasons settle what cannot be known; decisions settle what was found when they were taken. The last decision's
/// verdict stands.
fn settle_by(story: &BondStory, findings: &mut Vec<Finding>) {
    let reasons: BTreeSet<&str> = story.reasons.iter().flat_map(|one| one.what.of.iter().map(String::as_str)).collect();
    let decided: BTreeSet<&str> =
        story.decisions.iter().flat_map(|one| one.what.found.iter().map(String::as_str)).collect();
    for one in findings.iter_mut() {
        let by_reason = Finding::by_reason(&one.key) && reasons.contains(one.key.as_str());
        one.settled = by_reason || decided.contains(one.key.as_str());
    }
    let last = story.decisions.iter().max_by_key(|one| (one.at_ms, one.entry.order_ms, one.entry.seq));
    if let Some(last) = last.filter(|one| one.what.verdict != "accepted") {
        let verdict = if last.what.verdict == "redo" { "to be done again" } else { "rejected" };
        let sentence = format!("bond {}: {verdict}", story.name);
        findings.push(Finding { key: REJECTED.to_owned(), sentence, settled: false, seq: Some(last.entry.seq) });
    }
}

fn state_of(story: &BondStory, clocks: &[Reckoned], findings: &[Finding]) -> BondState {
    if findings.iter().any(|one| !one.settled) {
        return BondState::Held;
    }
    // A decision or a reason may have settled an early release or a squeeze-out nobody looked at.
    let decided = |key: &str| findings.iter().any(|one| one.key == key && one.settled);
    let clamp = clocks.iter().any(|one| one.on.clock == Clock::Clamp && one.told.state == State::Reached);
    let looked = story.first("squeeze-out").is_some() || decided("missing:squeeze-out");
    if (clamp || decided("early:clamp")) && looked { BondState::Clear } else { BondState::Running }
}
