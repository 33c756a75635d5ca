//! Amounts to weigh out or measure: from a total, from the resin or from the hardener at hand; and where to stop when
//! both go into one cup.

use super::answer::{AmountsAnswer, Named};
use super::question::Amounts;
use super::{Asking, least};
use crate::judge::card::CardInForce;
use crate::reader::Reader;
use crate::wire::WireError;
use glue::unit::{Mass, UnitError, Volume};
use logbook::entry::card::Parts;
use logbook::store::Noun;
use std::collections::BTreeMap;

/// Which amount is given.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Given {
    Total,
    Resin,
    Hardener,
}

/// By weight in mg, or by volume in ul.
#[derive(Clone, Copy, PartialEq, Eq)]
enum By {
    Weight,
    Volume,
}

/// Answers `amounts`.
pub fn amounts(asking: &Asking, asked: &Amounts) -> Result<AmountsAnswer, WireError> {
    let id = asking.find(Noun::Card, "body.card", &asked.card)?;
    let Some(card) = asking.judge.card(&id)? else {
        return Err(WireError::new("not-found", "body.card is no card.", "Name a card.")
            .field("body.card")
            .value(&asked.card));
    };
    let (given, field, text) = given(asked)?;
    let (by, amount) = read(field, text)?;
    let parts = parts(&card, by)?;
    let (resin, hardener) = split(given, amount, &parts);
    let total = resin + hardener;
    let say = |amount| said(amount, by, asking.judge.reader);
    let cup = asked.cup.as_deref().map(|text| cup(text, by)).transpose()?;
    let exact =
        BTreeMap::from([("resin".to_owned(), resin), ("hardener".to_owned(), hardener), ("total".to_owned(), total)]);
    let stop_at = cup.map(|cup| vec![say(cup), say(cup + resin), say(cup + total)]).unwrap_or_default();
    let stop = match stop_at.as_slice() {
        [cup, resin, all] => format!("; in one cup from {cup}: resin until {resin}, then stop at {all}"),
        _ => format!("; in one cup: resin until {}, then stop at {}", say(resin), say(total)),
    };
    let least = if by == By::Weight { least::least(asking, asked, &card, &parts, total)? } else { None };
    Ok(AmountsAnswer {
        card: Named { name: card.stored.name.clone(), id },
        by: if by == By::Weight { "weight" } else { "volume" }.to_owned(),
        ratio: parts.typed.clone(),
        resin: say(resin),
        hardener: say(hardener),
        total: say(total),
        exact,
        stop_at,
        least,
        said: format!("{} resin and {} hardener{stop}", say(resin), say(hardener)),
    })
}

fn given(asked: &Amounts) -> Result<(Given, &'static str, &str), WireError> {
    let total = asked.total.as_deref().map(|text| (Given::Total, "body.total", text));
    let resin = asked.resin.as_deref().map(|text| (Given::Resin, "body.resin", text));
    let hardener = asked.hardener.as_deref().map(|text| (Given::Hardener, "body.hardener", text));
    let mut all = [total, resin, hardener].into_iter().flatten();
    match (all.next(), all.next()) {
        (Some(one), None) => Ok(one),
        (None, _) => Err(WireError::new(
            "missing",
            "body.total is missing: how much is wanted?",
            "Give total, resin or hardener.",
        )
        .field("body.total")),
        _ => Err(WireError::new(
            "contradicts",
            "body gives more than one amount.",
            "Give one of total, resin and hardener.",
        )
        .field("body")),
    }
}

fn read(field: &str, text: &str) -> Result<(By, i64), WireError> {
    if Volume::knows_unit_of(text) {
        return Volume::parse(text).map(|it| (By::Volume, it.value.ul())).map_err(|error| refused(field, text, &error));
    }
    Mass::parse(text).map(|it| (By::Weight, it.value.mg())).map_err(|error| refused(field, text, &error))
}

fn cup(text: &str, by: By) -> Result<i64, WireError> {
    let (of, amount) = read("body.cup", text)?;
    if of == by {
        return Ok(amount);
    }
    let error = WireError::new(
        "contradicts",
        "body.cup and the amount are not of one sort.",
        "Give both as masses or both as volumes.",
    );
    Err(error.field("body.cup").value(text))
}

/// Why an amount was refused.
pub(super) fn refused(field: &str, text: &str, error: &UnitError) -> WireError {
    let range = error.range().unwrap_or(Mass::RANGE);
    let code = if matches!(error, UnitError::OutOfRange { .. }) { "out-of-range" } else { "bad-json" };
    let sentence = format!("{field} is \"{}\": {error}. The range is {range}.", crate::wire::shown(text));
    WireError::new(
        code,
        sentence,
        format!("Write it as \"40.0 g\" or \"50 ml\"; units: {}, {}.", Mass::UNITS, Volume::UNITS),
    )
    .field(field)
    .value(text)
    .range(range)
}

/// The ratio of the sort asked for; where the sheet has only the other, densities turn it.
fn parts(card: &CardInForce, by: By) -> Result<Parts, WireError> {
    let ratio = &card.stored.ratio;
    let (own, other) = match by {
        By::Weight => (&ratio.weight, &ratio.volume),
        By::Volume => (&ratio.volume, &ratio.weight),
    };
    if let Some(own) = own {
        return Ok(own.clone());
    }
    let densities = (card.stored.resin_g_per_l, card.stored.hardener_g_per_l);
    let (Some(other), (Some(resin), Some(hardener))) = (other, densities) else {
        let sort = if by == By::Weight { "weight" } else { "volume" };
        let sentence = format!("The card states no ratio by {sort}, nor the densities to turn the other one.");
        return Err(WireError::new("missing", sentence, "Ask with the other sort of amount, or enter the densities.")
            .field("body.card"));
    };
    let turned = match by {
        By::Weight => (other.resin_ppm * resin, other.hardener_ppm * hardener),
        By::Volume => (other.resin_ppm * hardener, other.hardener_ppm * resin),
    };
    Ok(Parts { resin_ppm: turned.0, hardener_ppm: turned.1, typed: format!("{} (by densities)", other.typed) })
}

fn split(given: Given, amount: i64, parts: &Parts) -> (i64, i64) {
    let (a, r, h) = (i128::from(amount), i128::from(parts.resin_ppm), i128::from(parts.hardener_ppm));
    let near = |num: i128, den: i128| i64::try_from((2 * num + den) / (2 * den.max(1))).unwrap_or(i64::MAX);
    match given {
        Given::Total => {
            let resin = near(a * r, r + h);
            (resin, amount - resin)
        }
        Given::Resin => (amount, near(a * h, r)),
        Given::Hardener => (near(a * r, h), amount),
    }
}

fn said(amount: i64, by: By, reader: Reader) -> String {
    if by == By::Weight { reader.weighed(amount) } else { reader.measured(amount) }
}
