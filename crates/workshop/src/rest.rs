//! Putting to rest: whoever writes looks at a few bonds that are awake, and keeps what is judged of those to which
//! nothing can happen by time alone. Questions never do.

use crate::clock::Now;
use crate::judge::Judge;
use crate::judge::rest::REST_MS;
use crate::time;
use logbook::entry::Id;
use logbook::settled::Seen;
use logbook::store::{Book, Error, Resting};
use std::collections::BTreeMap;

/// What cannot be told to come to rest is looked at again after so long, ms.
const AGAIN_MS: i64 = 6 * 3_600_000;
/// Once everything was looked at, nobody looks again for so long, ms.
const IDLE_MS: i64 = 600_000;
/// More instants than that are not remembered.
const REMEMBERED: usize = 20_000;
/// Another process begins among so many of the oldest.
const OLDEST: u64 = 256;

/// Where the round stands, and what need not be looked at yet.
#[derive(Debug, Default)]
pub(crate) struct Round {
    after: Option<i64>,
    not_before: BTreeMap<Id, i64>,
    /// By the boot clock, ms.
    idle_until_ms: Option<i64>,
}

impl Round {
    /// Puts to rest what rests among the next `most` that are awake. Not inside a transaction.
    pub fn go_on(&mut self, book: &mut Book, now: &Now, most: u32) -> Result<(), Error> {
        let idle = |until: i64| now.boot_ms < until && until - now.boot_ms <= IDLE_MS;
        if self.idle_until_ms.is_some_and(idle) {
            return Ok(());
        }
        let (size, found) = book.read(|book| {
            let size = book.own()?.map_or(0, |head| head.size);
            self.found(book, now, (size, most)).map(|found| (size, found))
        })?;
        if found.is_empty() {
            return Ok(());
        }
        book.transact(|book| {
            // Somebody may have written meanwhile.
            let same = book.own()?.is_some_and(|head| head.size == size);
            if same { book.rest(&found) } else { Ok(()) }
        })
    }

    fn found(&mut self, book: &Book, now: &Now, (size, most): (u64, u32)) -> Result<Vec<Resting>, Error> {
        let axis = time::axis(book, now)?;
        let now_ms = axis.now_ms;
        if axis.lost_ms.is_some() || book.ahead_of(now_ms)? {
            return Ok(Vec::new());
        }
        let after = match self.after {
            Some(after) => after,
            None => book.awake_nth(size % OLDEST)?.map_or(0, |place| place - 1),
        };
        let awake = book.awake(after, most)?;
        let whole = u32::try_from(awake.len()).is_ok_and(|count| count < most);
        self.idle_until_ms = (whole && after == 0).then_some(now.boot_ms + IDLE_MS);
        self.after = Some(awake.last().filter(|_| !whole).map_or(0, |last| last.0));
        if self.not_before.len() > REMEMBERED {
            self.not_before.clear();
        }
        let judge = Judge::new(book, Seen { at_ms: now_ms, known_ms: i64::MAX }, &axis).in_zone(now.zone_min);
        let mut found = Vec::new();
        for (_, id, bond) in awake {
            if self.not_before.get(&id).is_some_and(|at| (now_ms..now_ms + AGAIN_MS + REST_MS).contains(at)) {
                continue;
            }
            let one = if bond { of_bond(&judge, &id, now.zone_min)? } else { of_batch(&judge, &id)? };
            match one {
                Ok(resting) => found.push(resting),
                Err(at_ms) => drop(self.not_before.insert(id, at_ms.max(now_ms + IDLE_MS))),
            }
        }
        Ok(found)
    }
}

/// What is kept of a bond, or when to look at it again, ms.
fn of_bond(judge: &Judge, id: &str, zone_min: i32) -> Result<Result<Resting, i64>, Error> {
    let again_ms = judge.seen.at_ms + AGAIN_MS;
    let Some(story) = judge.bond(id)? else { return Ok(Err(again_ms)) };
    if story.last_ms() + REST_MS >= judge.seen.at_ms {
        return Ok(Err(story.last_ms() + REST_MS));
    }
    if !story.let_go() {
        return Ok(Err(again_ms));
    }
    let Some(judged) = judge.judged(id)? else { return Ok(Err(again_ms)) };
    let Some((first_ms, last_ms)) = judge.at_rest(&judged.story, &judged.clocks) else { return Ok(Err(again_ms)) };
    let outline = judge.outline_of(&judged)?;
    let kept = serde_json::to_string(&outline).map_err(|error| Error::Fault(error.to_string()))?;
    let zone_min = (!outline.owed.is_empty()).then_some(zone_min);
    let model = glue::clock::MODEL.to_owned();
    Ok(Ok(Resting { id: id.to_owned(), first_ms, last_ms, zone_min, model, kept }))
}

fn of_batch(judge: &Judge, id: &str) -> Result<Result<Resting, i64>, Error> {
    let stretch = judge.pot(id)?.and_then(|pot| judge.pot_at_rest(&pot));
    let Some((first_ms, last_ms)) = stretch else { return Ok(Err(judge.seen.at_ms + AGAIN_MS)) };
    let (model, kept) = (glue::clock::MODEL.to_owned(), String::new());
    Ok(Ok(Resting { id: id.to_owned(), first_ms, last_ms, zone_min: None, model, kept }))
}
