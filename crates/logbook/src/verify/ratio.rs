//! The verdict stored with a mix, worked out anew from the amounts, the card and the scale as the book then had them.
//!
//! Both amounts by weight, or both by volume, against a ratio of the same measure; anything else counts as not recomputed.

use crate::entry::card::{Card, Parts};
use crate::entry::mix::{Mix, RatioJudged};
use crate::entry::place::Instrument;
use crate::entry::typed::{Amount, Mass};
use crate::entry::{Body, Entry};
use crate::settled::{Seen, settle};
use glue::mix::{self, Judged, Nominal, Scale, Weighing};
use std::collections::BTreeSet;

/// What became of working a verdict out anew.
pub(super) enum Again {
    /// It is the same.
    Same,
    /// It differs: what was stored, what comes out.
    Other(String, String),
    /// It was not worked out.
    Not,
}

/// Cards and instruments met so far, with their corrections and withdrawals.
#[derive(Default)]
pub(super) struct Sources {
    ids: BTreeSet<String>,
    entries: Vec<Entry>,
}

impl Sources {
    /// Keeps an entry if it is a card or an instrument, or withdraws a kept one.
    pub fn meet(&mut self, entry: &Entry) {
        let keep = match &entry.body {
            Body::Card(_) | Body::Instrument(_) => true,
            Body::Withdrawn(body) => self.ids.contains(&body.entry),
            _ => false,
        };
        if keep {
            self.ids.insert(entry.id.clone());
            self.entries.push(entry.clone());
        }
    }

    /// Works the verdict of a mix out anew. What a late act saw of a card corrected since is not told by the entry, so
    /// both readings are tried: as of the instant it happened, and as of when it was entered.
    pub fn judge(&self, entry: &Entry, mix: &Mix) -> Again {
        let Some(stored) = &mix.judged else { return Again::Same };
        if stored.model != mix::MODEL {
            return Again::Not;
        }
        let results = [entry.happened_ms, i64::MAX].map(|at_ms| self.judge_at(at_ms, mix));
        match results.iter().flatten().next() {
            None => Again::Not,
            Some(_) if results.iter().flatten().any(|judged| said(judged) == words(stored)) => Again::Same,
            Some(judged) => Again::Other(words(stored), said(judged)),
        }
    }

    fn judge_at(&self, at_ms: i64, mix: &Mix) -> Option<Judged> {
        let settled = settle(&self.entries, Seen { at_ms, known_ms: i64::MAX });
        let body = |id: &str| settled.iter().find(|one| one.entry.id == id).map(|one| &one.body);
        let Some(Body::Card(card)) = body(&mix.card) else { return None };
        let scale = mix.instrument.as_deref().and_then(body);
        let scale = if let Some(Body::Instrument(scale)) = scale { Some(scale) } else { None };
        judged(card, mix, scale)
    }
}

fn judged(card: &Card, mix: &Mix, scale: Option<&Instrument>) -> Option<Judged> {
    let weighing = if mix.weighing.as_deref() == Some("one-cup") { Weighing::OneCup } else { Weighing::Retared };
    match (mix.resin.as_ref()?, mix.hardener.as_ref()?) {
        (Amount::Mass(resin), Amount::Mass(hardener)) => {
            let nominal = nominal(card, card.ratio.weight.as_ref()?);
            let typed = resin.step_mg.max(hardener.step_mg).unwrap_or(1);
            let read = |mass: &Option<Mass>| mass.as_ref().map(|mass| whole(mass.mg));
            let step = scale.and_then(|scale| read(&scale.mass_step)).unwrap_or(whole(typed));
            let accuracy = scale.and_then(|scale| read(&scale.mass_accuracy));
            Some(mix::by_weight(nominal, whole(resin.mg), whole(hardener.mg), weighing, Scale { step, accuracy }))
        }
        (Amount::Volume(resin), Amount::Volume(hardener)) => {
            let nominal = nominal(card, card.ratio.volume.as_ref()?);
            let read = |ul: i64, step: Option<i64>| (whole(ul), whole(step.unwrap_or(1)));
            Some(mix::by_volume(nominal, read(resin.ul, resin.step_ul), read(hardener.ul, hardener.step_ul)))
        }
        _ => None,
    }
}

fn nominal(card: &Card, parts: &Parts) -> Nominal {
    Nominal {
        hardener_per_resin: parts.hardener_ppm as f64 / parts.resin_ppm as f64,
        tolerance: card.ratio.tolerance.as_ref().map(|share| share.ppm as f64 / 1e6),
    }
}

/// Thousandths of a unit in whole ones.
fn whole(thousandths: i64) -> f64 {
    thousandths as f64 / 1_000.0
}

fn said(judged: &Judged) -> String {
    let ppm = |share: Option<f64>| share.map(|share| (share * 1e6).round().clamp(-9e15, 9e15) as i64);
    text(judged.verdict.word(), ppm(judged.deviation), ppm(judged.uncertainty), judged.swapped)
}

fn words(stored: &RatioJudged) -> String {
    text(&stored.verdict, stored.error_ppm, stored.uncertainty_ppm, stored.swapped == Some(true))
}

fn text(verdict: &str, deviation: Option<i64>, uncertainty: Option<i64>, swapped: bool) -> String {
    let ppm = |value: Option<i64>| value.map_or("no deviation".to_owned(), |value| format!("{value} ppm"));
    let swapped = if swapped { ", swapped" } else { "" };
    format!("{verdict} ({} ± {}{swapped})", ppm(deviation), ppm(uncertainty))
}
