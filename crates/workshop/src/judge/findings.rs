//! What is found on a bond: broken limits, missing presses and values, hindsight; what settles it; clear, held or
//! running. Computed from the record each time, never stored.

use super::Judge;
use super::found::{List, find_clocks};
use super::prepared::Reckoned;
use super::pressed::find_missing;
use super::story::BondStory;
use super::words::Saying;
use glue::clock::{Clock, State};
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
        self.find_releases(&mut list, &clocks);
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
