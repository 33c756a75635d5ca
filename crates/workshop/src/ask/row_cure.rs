//! What a row under pressure says of its cure beside the clock: how cured by the model, what was stated of the air to
//! come, and, quietly, what the service will ask for.

use super::board::{Board, OnBench};
use super::rows::Moment;
use crate::judge::cured::HowCured;
use crate::judge::cured_said::{BY_MODEL, short};
use crate::judge::words::Round;
use crate::judge::{Reckoned, said};
use glue::clock::Direction;

/// How cured is told for every whole ten minutes: more often it does not change, ms.
const EVERY_MS: i64 = 600_000;
/// Warmth that brings less than this is not spoken of, ms. A choice of ours, no source.
const WORTH_MS: i64 = 3_600_000;
/// What a shop is heated to at most, K (20 °C; common practice, no source).
const USUAL_K: f64 = 293.15;

/// For *What the time rests on*.
pub(super) fn basis(board: &Board, bond: &OnBench, lead: &Reckoned, moment: &Moment) -> Vec<String> {
    let mut all = Vec::new();
    if lead.on.clock.direction() != Direction::MustReach {
        return all;
    }
    let helps = said::helps(lead);
    all.extend((!helps.is_empty()).then(|| format!("kept from now {}", helps.join("; "))));
    let at_ms = moment.at_ms.div_euclid(EVERY_MS) * EVERY_MS;
    if let Some(on) = &bond.cure
        && let HowCured::Told(cured) = on.tell(at_ms)
    {
        let at = moment.saying.time(at_ms, Round::Down);
        all.push(format!("how cured at {at}: {}; {BY_MODEL}", short(&cured, on.reader)));
    }
    let here = board.places.iter().find(|place| Some(&place.id) == bond.place.as_ref());
    all.extend(here.and_then(|place| place.expected.as_ref()?.said(moment.saying, board.reader)));
    all
}

/// For *After that*: only where somebody named the service, and where waiting alone does not help any more.
pub(super) fn later(bond: &OnBench, moment: &Moment) -> Option<String> {
    let on = bond.cure.as_ref().filter(|on| on.service.is_some())?;
    let told = on.tell(moment.at_ms.div_euclid(EVERY_MS) * EVERY_MS);
    match &told {
        HowCured::Told(cured) if cured.stalled => on.caution(&told),
        _ => None,
    }
}

/// What warmth from now on would bring the clock that a row counts: the coldest that helps. Said of one that waits, and of
/// one that a shop's usual warmth would bring on by an hour or more; hotter ones stand in [`basis`].
pub(super) fn helps(lead: &Reckoned) -> Option<String> {
    let help = lead.told.helps.first()?;
    let worth = |latest: i64| latest - help.finish_ms >= WORTH_MS && help.at_k <= USUAL_K;
    let said = said::helps(lead);
    let (at, finish) = said.first()?.split_once(": ")?;
    lead.told.latest_ms.is_none_or(worth).then(|| format!("kept {at} from now on: {finish}"))
}
