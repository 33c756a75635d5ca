//! What the bench shows: what comes next, the air, one row a bond or open pot, alarms, what is owed.

use super::Asking;
use super::answer::{BenchAnswer, BenchNext, Saved, StripPlace};
use super::board::{Board, Told};
use super::clocks::shown_live;
use super::dried::POINTS;
use super::lines;
use super::rows::{self, Moment, Placed};
use super::strip::{Bounds, PlaceNow};
use crate::judge::Reckoned;
use crate::judge::card::CardInForce;
use crate::judge::words::{Round, Saying, instant};
use crate::reader::Reader;
use crate::wire::WireError;
use glue::clock::{Clock, Direction, State};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Parts named in the line over the bench.
const NAMED: usize = 4;

/// Answers `bench` at the moment asked about.
pub fn bench(asking: &Asking) -> Result<BenchAnswer, WireError> {
    let board = Board::read(asking)?;
    let (bonds, pots) = board.tell(asking.at_ms, asking.judge.axis);
    let saying = Saying { zone_min: asking.zone_min, at_ms: asking.at_ms };
    let moment = Moment { at_ms: asking.at_ms, axis: asking.judge.axis, saying };
    Ok(drawn(&board, &bonds, &pots, &moment, asking.judge.reader))
}

/// The bench from what was read and how its clocks stand.
pub(super) fn drawn(board: &Board, bonds: &[Told], pots: &[Reckoned], moment: &Moment, reader: Reader) -> BenchAnswer {
    let rows = rows::rows(board, bonds, pots, moment);
    let (size, last) = board.saved;
    let last = last.map(|at| format!(", the last at {}", moment.saying.time(at, Round::Down))).unwrap_or_default();
    BenchAnswer {
        at: instant(moment.at_ms),
        size,
        clocks: lines::clocks(&clocks(bonds, pots, moment.at_ms)),
        readings: board.places.iter().map(|place| place.answer(moment.at_ms)).collect(),
        alarms: board.alarms.clone(),
        owed: board.owed.clone(),
        next: next(&rows, bonds, pots, moment.saying),
        strip: strip(board, bonds, moment, reader),
        primary: rows::primary(),
        saved: Saved { size, said: format!("{size} entries{last}") },
        rows: rows.into_iter().map(|one| one.row).collect(),
    }
}

/// Live clocks, must-not-exceed first, the next instant on top; each pot once.
fn clocks(bonds: &[Told], pots: &[Reckoned], at_ms: i64) -> Vec<Reckoned> {
    let mut seen = BTreeSet::new();
    let once = |one: &&Reckoned| one.on.batch.as_ref().is_none_or(|batch| seen.insert(batch.clone()));
    let mut all: Vec<Reckoned> =
        bonds.iter().flatten().chain(pots).filter(once).filter(|one| shown_live(one, at_ms)).cloned().collect();
    all.sort_by_key(order);
    all
}

/// Must-not-exceed rows stand above must-reach rows; what is over stands first, then the next instant on top.
fn order(one: &Reckoned) -> (u8, i64, String) {
    let over = one.told.state == State::Over;
    let (rank, at) = match one.on.clock.direction() {
        Direction::MustNotExceed if over => (0, one.told.earliest_ms),
        Direction::MustNotExceed => (1, one.told.earliest_ms),
        Direction::MustReach => (2, one.told.latest_ms),
    };
    (rank, at.unwrap_or(i64::MAX), one.on.of.clone())
}

// ---- what comes next ----

/// The next two instants that somebody has to keep: limits before gates.
fn next(rows: &[Placed], bonds: &[Told], pots: &[Reckoned], saying: Saying) -> Option<BenchNext> {
    let shown: BTreeSet<&str> = rows.iter().map(|one| one.row.id.as_str()).collect();
    let mut seen = BTreeSet::new();
    let mut all: Vec<(u8, i64, String)> = Vec::new();
    for one in bonds.iter().flatten().chain(pots).filter(|one| one.live()) {
        let once = one.on.batch.as_ref().is_none_or(|batch| seen.insert(batch.clone()));
        if once && (one.on.clock == Clock::Pot || shown.contains(one.on.of.as_str())) {
            all.extend(event(one, saying));
        }
    }
    all.sort();
    let mut said = all.into_iter().map(|(_, _, said)| said);
    said.next().map(|headline| BenchNext { headline, then: said.next() })
}

fn event(one: &Reckoned, saying: Saying) -> Option<(u8, i64, String)> {
    let parts = named(&one.on.parts);
    let (told, clock) = (&one.told, one.on.clock);
    let what = match (clock, &one.on.batch_name) {
        (Clock::Pot, Some(batch)) => format!("batch {batch} is past its pot life"),
        (Clock::Pot, None) => "the pot life is over".to_owned(),
        (Clock::Open, _) => format!("{parts} must be together"),
        (Clock::Closed, _) => format!("{parts} must be tight"),
        (Clock::FreshSurface, _) => format!("the fresh faces of {parts} must be closed"),
        (Clock::GlueAgain, _) => format!("the next layer must be on {parts}"),
        (Clock::Clamp, _) => format!("clamps may come off {parts}"),
        (Clock::Machining, _) => format!("{parts} may be planed or turned"),
        (Clock::FullCure, _) => format!("the sheet's full-cure time of {parts} is reached"),
    };
    let rank = if clock.direction() == Direction::MustReach { 1 } else { 0 };
    match (told.state, rank) {
        (State::Over, _) => {
            let at = told.earliest_ms?;
            let since = saying.time(at, Round::Down);
            let what = if clock == Clock::Pot { what } else { format!("{what}: the time is over") };
            Some((0, at, format!("Since {since}: {what}")))
        }
        (State::Running, 0) => told.earliest_ms.map(|at| (0, at, format!("{}: {what}", saying.time(at, Round::Down)))),
        (State::Running, _) => told.latest_ms.map(|at| (1, at, format!("{}: {what}", saying.time(at, Round::Up)))),
        _ => None,
    }
}

fn named(parts: &[String]) -> String {
    match parts.get(..NAMED) {
        Some(first) if parts.len() > NAMED => format!("{} and {} more", first.join(", "), parts.len() - NAMED),
        _ => parts.join(", "),
    }
}

// ---- the air ----

/// Each place, held against the cards of what is live in it.
fn strip(board: &Board, bonds: &[Told], moment: &Moment, reader: Reader) -> Vec<StripPlace> {
    let one = |place: &PlaceNow| place.strip(moment.at_ms, &bounds(board, bonds, &place.id), reader);
    board.places.iter().map(one).collect()
}

/// The highest least and the lowest greatest cure temperature of what is live in a place, and how dry its wood may get:
/// no drier than a card allows, nor five points below what it was.
fn bounds(board: &Board, bonds: &[Told], place: &str) -> Bounds {
    let there = || board.bonds.iter().zip(bonds).filter(|(bond, _)| bond.place.as_deref() == Some(place));
    let cards: Vec<&Arc<CardInForce>> =
        there().flat_map(|(_, told)| told).filter(|one| one.live()).filter_map(|one| one.on.card.as_ref()).collect();
    let pct = |ppm: i64| ppm as f64 / 10_000.0;
    let wood = there().filter_map(|(bond, _)| bond.story.bond.moisture.as_ref()).map(|it| pct(it.ppm) - POINTS);
    let stated = cards.iter().filter_map(|card| card.stored.moisture_minimum.as_ref()).map(|it| pct(it.ppm));
    Bounds {
        least_k: cards.iter().filter_map(|card| card.glue.minimum_cure_k).reduce(f64::max),
        most_k: cards.iter().filter_map(|card| card.glue.maximum_cure_k).reduce(f64::min),
        driest_pct: wood.chain(stated).reduce(f64::max),
    }
}
