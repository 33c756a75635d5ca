//! What is found in a bond's batches, pots, wood and clocks: broken limits, missing values.

use super::Judge;
use super::batch::BatchStory;
use super::findings::Finding;
use super::lots::LotUse;
use super::prepared::Reckoned;
use super::story::BondStory;
use super::words::{Round, Saying, percent};
use glue::clock::{Assumed, Clock, State};
use logbook::entry::mix::Mix;
use logbook::store::Error;
use std::collections::BTreeSet;

/// What is found while a bond is gone through.
pub(super) struct List<'a> {
    pub story: &'a BondStory,
    pub saying: Saying,
    pub found: Vec<Finding>,
    pub hindsight: Vec<Finding>,
}

impl List<'_> {
    /// Once per key; the first sentence stands.
    pub fn add(&mut self, key: String, sentence: String, seq: Option<u64>) {
        if self.found.iter().all(|one| one.key != key) {
            self.found.push(Finding {
                key,
                sentence: format!("bond {}: {sentence}", self.story.name),
                settled: false,
                seq,
            });
        }
    }

    /// What differs today from what was said then.
    pub fn note(&mut self, key: &str, sentence: String, seq: Option<u64>) {
        let sentence = format!("bond {}: {sentence}", self.story.name);
        self.hindsight.push(Finding { key: key.to_owned(), sentence, settled: true, seq });
    }

    /// A time of day.
    pub fn time(&self, ms: i64) -> String {
        self.saying.time(ms, Round::Down)
    }
}
impl Judge<'_> {
    pub(super) fn find_batches(&self, list: &mut List) -> Result<(), Error> {
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

    pub(super) fn find_mix(&self, list: &mut List, batch: &BatchStory, at: &str) -> Result<(), Error> {
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

    pub(super) fn find_roles(&self, list: &mut List, batch: &BatchStory, at: &str) -> Result<(), Error> {
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

    /// Glue of this bond that left its pot after the pot's limit (docs/science/clocks.md).
    pub(super) fn find_pots(&self, list: &mut List) -> Result<(), Error> {
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
                let stands = list.story.joined_ms().is_none() && drew == self.seen.at_ms;
                let glue = if stands { "not joined yet".to_owned() } else { format!("joined at {}", list.time(drew)) };
                let verb = if stands { "is" } else { "was" };
                let sentence = format!("pot {} over: its glue {verb} {glue}{limit}", batch.name);
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

    pub(super) fn find_moisture(&self, list: &mut List) -> Result<(), Error> {
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
    let sign = if error < 0 { "\u{2212}" } else { "+" };
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

/// What the clocks themselves show.
pub(super) fn find_clocks(list: &mut List, clocks: &[Reckoned]) {
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
