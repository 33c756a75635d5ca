//! The ratio of a mix as judged when it is entered, stored with the model that judged it.

use super::desk::Desk;
use crate::wire::WireError;
use glue::mix::{self, Nominal, Scale, Weighing};
use logbook::entry::card::{Card, Parts};
use logbook::entry::mix::{Mix, RatioJudged};
use logbook::entry::place::Instrument;
use logbook::entry::typed::{Amount, Mass, Volume};
use logbook::entry::{Body, Id};

/// The verdict on a mix whose amounts are known; nothing is judged without them.
pub(super) fn judged(desk: &Desk, mix: &Mix) -> Result<Option<RatioJudged>, WireError> {
    let (Some(resin), Some(hardener)) = (&mix.resin, &mix.hardener) else { return Ok(None) };
    let Some(one) = desk.in_force(&mix.card)? else { return Ok(None) };
    let Body::Card(card) = &one.body else { return Ok(None) };
    let scale = scale(desk, mix.instrument.as_ref())?;
    let weighing = if mix.weighing.as_deref() == Some("one-cup") { Weighing::OneCup } else { Weighing::Retared };
    let judged = match (resin, hardener) {
        (Amount::Mass(resin), Amount::Mass(hardener)) => by_weight(card, resin, hardener, weighing, scale.as_ref()),
        (Amount::Volume(resin), Amount::Volume(hardener)) => by_volume(card, resin, hardener),
        (Amount::Mass(resin), Amount::Volume(hardener)) => weighed(hardener, card.hardener_g_per_l)
            .map_or(mix::UNJUDGED, |hardener| by_weight(card, resin, &hardener, weighing, scale.as_ref())),
        (Amount::Volume(resin), Amount::Mass(hardener)) => weighed(resin, card.resin_g_per_l)
            .map_or(mix::UNJUDGED, |resin| by_weight(card, &resin, hardener, weighing, scale.as_ref())),
    };
    Ok(Some(stored(&judged)))
}

fn by_weight(
    card: &Card,
    resin: &Mass,
    hardener: &Mass,
    weighing: Weighing,
    scale: Option<&Instrument>,
) -> mix::Judged {
    let Some(nominal) = nominal_by_weight(card) else { return mix::UNJUDGED };
    let typed = [resin.step_mg, hardener.step_mg].into_iter().flatten().max().unwrap_or(1);
    let read = |mass: Option<&Mass>| mass.map(|mass| grams(mass.mg));
    let step = read(scale.and_then(|scale| scale.mass_step.as_ref())).unwrap_or(grams(typed));
    let accuracy = read(scale.and_then(|scale| scale.mass_accuracy.as_ref()));
    mix::by_weight(nominal, grams(resin.mg), grams(hardener.mg), weighing, Scale { step, accuracy })
}

fn by_volume(card: &Card, resin: &Volume, hardener: &Volume) -> mix::Judged {
    let Some(nominal) = nominal_by_volume(card) else { return mix::UNJUDGED };
    let read = |volume: &Volume| (grams(volume.ul), grams(volume.step_ul.unwrap_or(1)));
    mix::by_volume(nominal, read(resin), read(hardener))
}

fn nominal_by_weight(card: &Card) -> Option<Nominal> {
    let own = card.ratio.weight.as_ref().map(|parts| nominal(card, parts));
    own.or_else(|| {
        let volume = nominal(card, card.ratio.volume.as_ref()?);
        mix::by_the_other(volume, card.resin_g_per_l? as f64, card.hardener_g_per_l? as f64)
    })
}

fn nominal_by_volume(card: &Card) -> Option<Nominal> {
    let own = card.ratio.volume.as_ref().map(|parts| nominal(card, parts));
    own.or_else(|| {
        let weight = nominal(card, card.ratio.weight.as_ref()?);
        mix::by_the_other(weight, card.hardener_g_per_l? as f64, card.resin_g_per_l? as f64)
    })
}

fn nominal(card: &Card, parts: &Parts) -> Nominal {
    Nominal {
        hardener_per_resin: parts.hardener_ppm as f64 / parts.resin_ppm as f64,
        tolerance: card.ratio.tolerance.as_ref().map(|share| share.ppm as f64 / 1e6),
    }
}

/// A volume as the mass it is, with its step: 1 ul of 1000 g/l weighs 1 mg.
fn weighed(volume: &Volume, g_per_l: Option<i64>) -> Option<Mass> {
    let density = g_per_l?;
    let mg = |ul: i64| ul * density / 1_000;
    Some(Mass { mg: mg(volume.ul), typed: volume.typed.clone(), step_mg: volume.step_ul.map(mg), by: None })
}

fn scale(desk: &Desk, instrument: Option<&Id>) -> Result<Option<Instrument>, WireError> {
    let Some(id) = instrument else { return Ok(None) };
    let one = desk.in_force(id)?;
    Ok(one.and_then(|one| if let Body::Instrument(scale) = &one.body { Some(scale.clone()) } else { None }))
}

/// Thousandths of a unit in whole ones: mg in g, ul in ml.
fn grams(thousandths: i64) -> f64 {
    thousandths as f64 / 1_000.0
}

fn stored(judged: &mix::Judged) -> RatioJudged {
    let ppm = |share: Option<f64>| share.map(|share| (share * 1e6).round().clamp(-9e15, 9e15) as i64);
    RatioJudged {
        verdict: judged.verdict.word().to_owned(),
        error_ppm: ppm(judged.deviation),
        uncertainty_ppm: ppm(judged.uncertainty),
        swapped: judged.swapped.then_some(true),
        model: mix::MODEL.to_owned(),
    }
}
