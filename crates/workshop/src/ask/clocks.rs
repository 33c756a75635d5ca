//! Clocks of a bond, a batch, a part, or all that are live.

use super::answer::ClocksAnswer;
use super::question::Clocks;
use super::{Asking, lines};
use crate::judge::Reckoned;
use crate::judge::words::instant;
use crate::wire::WireError;
use glue::clock::{Clock, State};
use logbook::store::Noun;

/// How long a reached machining or full-cure time stays among the live clocks, ms.
const SHOWN_AFTER_MS: i64 = 24 * 3_600_000;

/// Answers `clocks`.
pub fn clocks(asking: &Asking, asked: &Clocks) -> Result<ClocksAnswer, WireError> {
    let named = [&asked.bond, &asked.batch, &asked.part].into_iter().flatten().count();
    if named > 1 {
        let sentence = "body names more than one of bond, batch and part.";
        return Err(
            WireError::new("contradicts", sentence, "Name one of them, or none for all live clocks.").field("body")
        );
    }
    let all = if let Some(bond) = &asked.bond {
        asking.judge.clocks_of_bond(&asking.find(Noun::Bond, "body.bond", bond)?)?
    } else if let Some(batch) = &asked.batch {
        asking.judge.pot(&asking.find(Noun::Batch, "body.batch", batch)?)?.into_iter().collect()
    } else if let Some(part) = &asked.part {
        of_part(asking, &asking.find(Noun::Part, "body.part", part)?)?
    } else {
        live(asking)?
    };
    Ok(ClocksAnswer { at: instant(asking.at_ms), size: asking.size()?, clocks: lines::clocks(&all) })
}

/// Clocks that somebody may still act on.
pub fn live(asking: &Asking) -> Result<Vec<Reckoned>, WireError> {
    let mut all = asking.judge.live_clocks()?;
    all.retain(|one| shown_live(one, asking.at_ms));
    Ok(all)
}

/// Started and not ended; a reached machining or full-cure time for a day.
pub fn shown_live(one: &Reckoned, at_ms: i64) -> bool {
    let done = one.told.state == State::Reached && one.on.clock != Clock::Clamp;
    let old = one.told.latest_ms.is_some_and(|at| at_ms - at > SHOWN_AFTER_MS);
    one.live() && !(done && old)
}

fn of_part(asking: &Asking, part: &str) -> Result<Vec<Reckoned>, WireError> {
    let mut all = Vec::new();
    for bond in asking.bonds_of(part)? {
        all.extend(asking.judge.clocks_of_bond(&bond.id)?);
    }
    Ok(all)
}

impl Asking<'_> {
    /// Entries in the own log.
    pub fn size(&self) -> Result<u64, WireError> {
        Ok(self.book.own()?.map_or(0, |head| head.size))
    }
}
