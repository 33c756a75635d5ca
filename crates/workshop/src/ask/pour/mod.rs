//! What a cup of glue will do, before it is poured or while it stands: how long it can be worked, what a tray or two
//! cups would give, how hot it gets if it is forgotten. The heat model only shortens what the sheet allows
//! (docs/science/pot.md).

mod asked;
mod cup;
mod said;
mod said_standing;
mod standing;

pub(super) use said_standing::beside_clock;

use super::Asking;
use super::answer::PourAnswer;
use super::question::Pour;
use crate::judge::BatchStory;
use crate::judge::card::CardInForce;
use crate::wire::WireError;
use glue::pot::Vessel;
use logbook::store::Error;

/// Answers `pour`.
pub fn pour(asking: &Asking, body: &Pour) -> Result<PourAnswer, WireError> {
    let Some(batch) = &body.batch else {
        let asked = asked::asked(asking, body)?;
        let known = cup::known(asking, &asked)?;
        return Ok(said::answer(asking, &asked, &known));
    };
    let asked = asked::of_batch(asking, body, batch)?;
    let now = body.measured.as_deref().map(|text| standing::typed(asking, text)).transpose()?;
    let known = cup::known(asking, &asked)?;
    let by_cup = standing::by_cup(asking, &asked.story, &asked.card, asked.vessel, now)?;
    let started_ms = asked.story.started_ms().unwrap_or(asking.at_ms);
    Ok(said_standing::answer(asking, &asked, &known, by_cup.as_ref(), started_ms))
}

/// Until when a cup can be worked by its own temperature, ms; None: nobody measured it, or no heat model fits.
pub(super) fn until_by_cup(asking: &Asking, story: &BatchStory, card: &CardInForce) -> Result<Option<i64>, Error> {
    if story.cups.is_empty() {
        return Ok(None);
    }
    Ok(standing::by_cup(asking, story, card, Vessel::Cup, None)?.and_then(|cup| cup.until_ms))
}
