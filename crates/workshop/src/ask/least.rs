//! The least amount worth weighing on a scale: below it the scale's own doubt is as wide as the sheet's tolerance.

use super::Asking;
use super::answer::LeastAmount;
use super::question::Amounts;
use crate::judge::card::CardInForce;
use crate::wire::WireError;
use glue::mix::{Scale, Weighing, doubt};
use logbook::entry::Body;
use logbook::entry::card::Parts;
use logbook::entry::place::Instrument;
use logbook::store::{Error, Noun};

/// The least total of a ratio by weight; None: the sheet gives no tolerance, or no scale is known.
pub(super) fn least(
    asking: &Asking,
    asked: &Amounts,
    card: &CardInForce,
    parts: &Parts,
    total_mg: i64,
) -> Result<Option<LeastAmount>, WireError> {
    let Some(tolerance) = &card.stored.ratio.tolerance else { return Ok(None) };
    let Some((name, scale)) = scale(asking, asked)? else { return Ok(None) };
    let weighing = if asked.cup.is_some() { Weighing::OneCup } else { Weighing::Retared };
    let per_resin = parts.hardener_ppm as f64 / parts.resin_ppm as f64;
    let Some(resin_g) = doubt::smallest_resin(per_resin, tolerance.ppm as f64 / 1e6, weighing, scale) else {
        return Ok(None);
    };
    let least_mg = libm::ceil(resin_g * (1.0 + per_resin) * 1000.0) as i64;
    let reader = asking.judge.reader;
    let said = reader.weighed(tenth_up(least_mg));
    Ok(Some(LeastAmount {
        said: format!("below {said} in all {name} cannot tell {}", tolerance.typed),
        total: said,
        total_mg: least_mg,
        comfortable: reader.weighed(tenth_up(3 * least_mg)),
        enough: total_mg >= least_mg,
    }))
}

/// The next tenth of a gram, so that what is said in grams is never less than what is needed.
fn tenth_up(mg: i64) -> i64 {
    (mg + 99) / 100 * 100
}

/// The scale named, else the only one of the book; None: none, or several.
fn scale(asking: &Asking, asked: &Amounts) -> Result<Option<(String, Scale)>, WireError> {
    if let Some(typed) = &asked.instrument {
        let id = asking.find(Noun::Instrument, "body.instrument", typed)?;
        return Ok(read(asking, &id)?);
    }
    let mut scales = Vec::new();
    for (id, _) in asking.all(Noun::Instrument)? {
        scales.extend(read(asking, &id)?);
    }
    Ok(if scales.len() == 1 { scales.pop() } else { None })
}

fn read(asking: &Asking, id: &str) -> Result<Option<(String, Scale)>, Error> {
    let grams = |mg: i64| mg as f64 / 1000.0;
    let scale = |it: &Instrument| {
        let accuracy = it.mass_accuracy.as_ref().map(|mass| grams(mass.mg));
        Some((it.name.clone(), Scale { step: grams(it.mass_step.as_ref()?.mg), accuracy }))
    };
    Ok(asking.judge.in_force(id)?.and_then(|one| match &one.body {
        Body::Instrument(it) => scale(it),
        _ => None,
    }))
}
