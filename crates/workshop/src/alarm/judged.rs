//! Looks taken from the judge. What the clocks rest on is read again only when the book changed; in between they are
//! told anew from what was read.

use super::watched::{Clocks, LastReading, Look, LotEnds, UnderPressure, Watched};
use crate::judge::clocks::Prepared;
use crate::judge::{Judge, Reckoned, said};
use crate::reader::Reader;
use crate::time::Axis;
use glue::clock::{Air, Clock, Source};
use logbook::entry::Body;
use logbook::settled::Seen;
use logbook::store::{Book, Error, Noun};
use std::sync::Arc;

/// What is owed is judged at most this often: it is called up once a day.
const OWED_AGAIN_MS: i64 = 600_000;

/// The judge, with what it read last.
#[derive(Default)]
pub struct Judged {
    /// Clocks that belong together, bond by bond.
    rests_on: Vec<Vec<Arc<Prepared>>>,
    look: Look,
    owed_ms: Option<i64>,
    reader: Reader,
}

impl Judged {
    /// Sentences in these units.
    pub fn for_reader(reader: Reader) -> Judged {
        Judged { reader, ..Judged::default() }
    }
}

impl Clocks for Judged {
    fn look(&mut self, book: &Book, axis: &Axis, zone_min: i32, changed: bool) -> Result<Look, Error> {
        let seen = Seen { at_ms: axis.now_ms, known_ms: i64::MAX };
        let judge = Judge::new(book, seen, axis).in_zone(zone_min).for_reader(self.reader);
        if changed {
            self.read(&judge, book)?;
        } else {
            self.look.clocks = self.rests_on.iter().flat_map(|bond| told_anew(bond, axis)).collect();
        }
        if self.owed_ms.is_none_or(|owed_ms| !(0..OWED_AGAIN_MS).contains(&(axis.now_ms - owed_ms))) {
            self.owed_ms = Some(axis.now_ms);
            self.look.owed = owed(&judge, book)?;
        }
        Ok(self.look.clone())
    }
}

impl Judged {
    fn read(&mut self, judge: &Judge, book: &Book) -> Result<(), Error> {
        let clocks: Vec<Reckoned> = judge.live_clocks()?.into_iter().filter(Reckoned::live).collect();
        self.look.clocks = clocks.iter().map(watched).collect();
        self.look.pressed = Vec::new();
        for one in clocks.iter().filter(|one| one.on.clock == Clock::Clamp) {
            self.look.pressed.extend(under_pressure(judge, &one.on)?);
        }
        self.look.lots = lots(judge, book)?;
        let bonds = clocks.chunk_by(|one, next| one.on.bond == next.on.bond && one.on.batch == next.on.batch);
        self.rests_on = bonds.map(|bond| bond.iter().map(|one| Arc::clone(&one.on)).collect()).collect();
        Ok(())
    }
}

/// The same clocks at a later instant, nothing written in between.
fn told_anew(bond: &[Arc<Prepared>], axis: &Axis) -> Vec<Watched> {
    let reckon = |on: &Arc<Prepared>| {
        let told = on.tell(axis.now_ms, axis);
        let nearly_ms = on.nearly_ms(&told);
        Reckoned { on: Arc::clone(on), told, nearly_ms, said: String::new() }
    };
    let mut clocks: Vec<Reckoned> = bond.iter().map(reckon).collect();
    said::say_all(&mut clocks, axis.now_ms);
    clocks.iter().map(watched).collect()
}

fn watched(one: &Reckoned) -> Watched {
    let (on, told) = (&one.on, &one.told);
    let pot = on.clock == Clock::Pot;
    Watched {
        clock: on.clock,
        // A pot is its batch's, whether or not a bond has been made of it meanwhile.
        bond: if pot { None } else { on.bond.clone() },
        batch: if pot { on.batch.clone() } else { None },
        card: on.card.as_ref().map(|card| card.id.clone()),
        name: name(on),
        state: told.state,
        progress_ppm: told.progress_ppm,
        started_ms: on.started_ms,
        ended_ms: on.ended_ms,
        earliest_ms: told.earliest_ms,
        latest_ms: told.latest_ms,
        clamping_ms: on.clamping_ms.unwrap_or(0),
        said: one.said.clone(),
    }
}

/// Parts named before the rest are counted.
const NAMED: usize = 3;

/// "Batch Wed 3" for a pot; "R1-L, R2-L (bond 47)" for what a bond is of: parts are known at the bench, numbers are not.
fn name(on: &Prepared) -> String {
    let of = on.of.replacen(':', " ", 1);
    match (&on.batch_name, on.parts.get(..NAMED)) {
        (Some(batch), _) if on.clock == Clock::Pot => format!("Batch {batch}"),
        (_, Some(first)) if on.parts.len() > NAMED => {
            format!("{} and {} more ({of})", first.join(", "), on.parts.len() - NAMED)
        }
        _ if on.parts.is_empty() => of,
        _ => format!("{} ({of})", on.parts.join(", ")),
    }
}

fn under_pressure(judge: &Judge, on: &Prepared) -> Result<Option<UnderPressure>, Error> {
    let (Some(bond), Some(since_ms), None) = (&on.bond, on.started_ms, on.lost_ms) else {
        return Ok(None);
    };
    let Some(story) = judge.bond(bond)? else {
        return Ok(None);
    };
    let place = judge.places(&story)?.pop().and_then(|(_, place)| place);
    let place = match place {
        Some(id) => judge.in_force(&id)?,
        None => None,
    };
    let (place, feed) = match place.as_deref().map(|one| &one.body) {
        Some(Body::Place(place)) => (Some(place.name.clone()), place.feed.unwrap_or(false)),
        _ => (None, false),
    };
    let air = on.path.last().and_then(|(_, air)| air.as_ref());
    let card = on.card.as_ref();
    Ok(Some(UnderPressure {
        bond: bond.clone(),
        name: name(on),
        card: card.map(|card| card.id.clone()),
        since_ms,
        place,
        feed,
        last: air.and_then(|air| last_reading(&air.air)),
        minimum_k: card.and_then(|card| card.glue.minimum_cure_k),
        maximum_k: card.and_then(|card| card.glue.maximum_cure_k),
    }))
}

/// The newest reading of whichever source spoke last.
fn last_reading(air: &Air) -> Option<LastReading> {
    let newest = |source: &&Source| source.knots.last().map_or(i64::MIN, |knot| knot.at_ms);
    let source = air.sources.iter().max_by_key(newest)?;
    let last = source.knots.last()?;
    let before = source.knots.iter().rev().nth(1);
    let slope = before.map(|before| {
        let hours = (last.at_ms - before.at_ms) as f64 / 3_600_000.0;
        (last.mean_k - before.mean_k) / hours
    });
    Some(LastReading {
        at_ms: last.at_ms,
        low_k: last.low_k - source.error_k,
        high_k: last.high_k + source.error_k,
        slope_k_per_h: slope.filter(|slope| slope.is_finite()),
    })
}

fn lots(judge: &Judge, book: &Book) -> Result<Vec<LotEnds>, Error> {
    let mut lots = Vec::new();
    for (mark, lot) in book.list(Noun::Lot)? {
        if let Some(one) = judge.in_force(&lot)?
            && let Body::Lot(body) = &one.body
            && let Some(expires_ms) = body.expires_ms
        {
            lots.push(LotEnds { lot, mark, expires_ms });
        }
    }
    Ok(lots)
}

fn owed(judge: &Judge, book: &Book) -> Result<Vec<String>, Error> {
    let mut owed = Vec::new();
    let resting = judge.resting()?;
    for bond in book.live()?.bonds {
        match resting.get(&bond) {
            Some(one) if one.zone_min.is_none() => {}
            Some(_) => owed.extend(judge.outline(&bond)?.into_iter().flat_map(|one| one.owed).map(|one| one.1)),
            None => owed.extend(judge.owed(&bond)?),
        }
    }
    Ok(owed)
}
