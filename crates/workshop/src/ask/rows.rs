//! The rows of the bench: which clock a bond's row counts, in what order the rows stand, what is written in them.

use super::answer::{BenchPress, BenchRow, GlueLine};
use super::board::{Board, InPot, OnBench, Told, runs};
use super::{pour, presses, row_cure};
use crate::judge::prepared::assumed;
use crate::judge::said;
use crate::judge::words::{Round, Saying, instant, stretch};
use crate::judge::{BatchStory, Reckoned};
use crate::line::{self, chill, sketch};
use crate::time::Axis;
use glue::clock::{Assumed, Clock, Direction, State};

/// Parts named in a title; the rest is counted.
const NAMED: usize = 6;

/// A row with what it is sorted by.
pub(super) struct Placed {
    /// 0 over, 1 must not exceed, 2 must reach, 3 waiting, 4 reached.
    pub rank: u8,
    /// The instant it counts down to, ms.
    pub at_ms: i64,
    /// The row.
    pub row: BenchRow,
}

/// The moment a bench is drawn at.
pub(super) struct Moment<'a> {
    /// Now, ms.
    pub at_ms: i64,
    /// The axis, for asking a clock along its way.
    pub axis: &'a Axis,
    /// How times are said.
    pub saying: Saying,
}

/// All rows, must-not-exceed ones first, the next instant on top.
pub(super) fn rows(board: &Board, bonds: &[Told], pots: &[Reckoned], moment: &Moment) -> Vec<Placed> {
    let mut rows: Vec<Placed> =
        board.bonds.iter().zip(bonds).filter_map(|(bond, told)| bond_row(board, bond, told, moment)).collect();
    for (one, pot) in board.pots.iter().zip(pots) {
        let assembled = board.bonds.iter().any(|bond| bond.in_assembly() && names(bond, &one.story.id));
        if !assembled && runs(pot) {
            rows.extend(pot_row(board, one, pot, moment));
        }
    }
    rows.sort_by(|a, b| (a.rank, a.at_ms, &a.row.id).cmp(&(b.rank, b.at_ms, &b.row.id)));
    rows
}

fn names(bond: &OnBench, batch: &str) -> bool {
    bond.batches.iter().any(|one| one.id == batch)
}

// ---- which clock ----

/// The clock that a row counts; None: none has started.
pub(super) fn lead<'a>(bond: &OnBench, told: &'a Told) -> Option<&'a Reckoned> {
    if bond.tight() { lead_cure(bond, told) } else { lead_assembly(told) }
}

/// Of the clocks that must not be exceeded: one that is over, else the next limit, else one that cannot be judged.
fn lead_assembly(told: &Told) -> Option<&Reckoned> {
    let key = |one: &&Reckoned| match one.told.state {
        State::Over => (0, one.told.earliest_ms.unwrap_or(i64::MIN)),
        State::Running => (1, one.told.earliest_ms.unwrap_or(i64::MAX)),
        State::Held => (2, 0),
        _ => (3, 0),
    };
    told.iter().filter(|one| one.on.clock.direction() == Direction::MustNotExceed && one.live()).min_by_key(key)
}

/// The next gate: clamp until a clamp came off, then machining, then full cure.
fn lead_cure<'a>(bond: &OnBench, told: &'a Told) -> Option<&'a Reckoned> {
    let clamps_on = bond.story.clamp_off().is_none();
    let waits = |one: &&Reckoned| match one.on.clock {
        Clock::Clamp if bond.story.two_press() => one.told.state != State::Reached && clamps_on,
        Clock::Clamp => clamps_on,
        _ => one.on.ended_ms.is_none() && one.told.state != State::Reached,
    };
    let gates = |one: &&Reckoned| one.on.clock.direction() == Direction::MustReach;
    told.iter().filter(gates).find(waits)
}

/// Everything under this bond is reached or ended: it leaves the bench.
fn done(bond: &OnBench, told: &Told) -> bool {
    let gates = || told.iter().filter(|one| one.on.clock.direction() == Direction::MustReach);
    let full = gates().find(|one| one.on.clock == Clock::FullCure);
    let over = |one: &Reckoned| one.on.ended_ms.is_some() || one.told.state == State::Reached;
    match full {
        Some(full) => over(full),
        None => bond.story.clamp_off().is_some() && gates().all(over),
    }
}

// ---- one row ----

fn bond_row(board: &Board, bond: &OnBench, told: &Told, moment: &Moment) -> Option<Placed> {
    if bond.tight() && done(bond, told) {
        return None;
    }
    let lead = lead(bond, told);
    if bond.tight() && lead.is_none() {
        return None;
    }
    let pauses = lead.map(|one| chill::stretches(one, moment.at_ms, moment.axis)).unwrap_or_default();
    let mut shown = lead.map_or_else(Shown::nothing, |one| Shown::of(one, &pauses, moment));
    let by_cup = lead.and_then(|one| shown.beside(board, one, moment));
    let cure = lead.map(|one| row_cure::basis(board, bond, one, moment)).unwrap_or_default();
    let row = BenchRow {
        id: format!("bond:{}", bond.story.name),
        title: title(&bond.parts),
        parts: bond.parts.clone(),
        about: about(bond, moment),
        tone: shown.tone.to_owned(),
        direction: shown.direction.to_owned(),
        clock: lead.map(|one| one.on.clock.word().to_owned()).unwrap_or_default(),
        until: shown.until_ms.map(instant),
        headline: shown.headline.map(str::to_owned),
        caption: shown.caption,
        said: lead.map_or_else(|| "Nothing has been pressed yet.".to_owned(), |one| format!("{}.", one.said)),
        basis: by_cup.into_iter().chain(lead.map(basis).unwrap_or_default()).chain(cure).collect(),
        later: later(told, lead, moment.saying).into_iter().chain(row_cure::later(bond, moment)).collect(),
        line: bond_line(bond, told, lead, pauses, moment),
        press: presses::next(bond, told),
        more: presses::more(board, bond, told, moment.at_ms),
        held: bond.held.iter().map(|one| short(&one.sentence, &bond.story.name)).collect(),
        helps: lead.and_then(row_cure::helps),
    };
    Some(Placed { rank: shown.rank, at_ms: shown.until_ms.unwrap_or(i64::MAX), row })
}

fn pot_row(board: &Board, one: &InPot, pot: &Reckoned, moment: &Moment) -> Option<Placed> {
    let batch: &BatchStory = &one.story;
    let mut shown = Shown::of(pot, &[], moment);
    let by_cup = shown.beside(board, pot, moment);
    let card = pot.on.card.as_ref().map_or_else(|| "no mix recorded".to_owned(), |card| card.stored.name.clone());
    let mass = batch.mixed_mg(None, None).map(|mg| format!(" · {}", pot.on.reader.mass(mg))).unwrap_or_default();
    let row = BenchRow {
        id: format!("batch:{}", batch.name),
        title: format!("Batch {}", batch.name),
        parts: Vec::new(),
        about: format!("{card}{mass} · no bond of it is being closed"),
        tone: shown.tone.to_owned(),
        direction: shown.direction.to_owned(),
        clock: pot.on.clock.word().to_owned(),
        until: shown.until_ms.map(instant),
        headline: shown.headline.map(str::to_owned),
        caption: shown.caption,
        said: format!("{}.", pot.said),
        basis: by_cup.into_iter().chain(basis(pot)).collect(),
        later: Vec::new(),
        line: line::draw(&sketch::pot(pot, moment.at_ms, moment.saying)?),
        press: Some(presses::of_batch(batch)),
        more: presses::more_of_batch(board, batch, pot, moment.at_ms),
        held: Vec::new(),
        helps: None,
    };
    Some(Placed { rank: shown.rank, at_ms: shown.until_ms.unwrap_or(i64::MAX), row })
}

fn bond_line(
    bond: &OnBench,
    told: &Told,
    lead: Option<&Reckoned>,
    pauses: Vec<(i64, i64)>,
    moment: &Moment,
) -> GlueLine {
    let (at_ms, saying) = (moment.at_ms, moment.saying);
    let hardener_in: Vec<i64> = bond.batches.iter().filter_map(|batch| batch.started_ms()).collect();
    let sketch = if bond.tight() {
        let gates = |one: &&Reckoned| one.on.clock.direction() == Direction::MustReach && one.on.ended_ms.is_none();
        let upto = lead.map_or(Clock::FullCure, |one| one.on.clock);
        let drawn: Vec<&Reckoned> = told.iter().filter(gates).filter(|one| one.on.clock <= upto).collect();
        sketch::cure(&bond.story, &drawn, pauses, at_ms, saying)
    } else {
        let walls: Vec<&Reckoned> = told.iter().filter(|one| one.live()).collect();
        sketch::assembly(&bond.story, &walls, &hardener_in, at_ms, saying)
    };
    line::draw(&sketch.unwrap_or_else(|| sketch::nothing(bond.story.at_ms, at_ms)))
}

/// What a row shows of its clock.
struct Shown {
    rank: u8,
    tone: &'static str,
    direction: &'static str,
    until_ms: Option<i64>,
    headline: Option<&'static str>,
    caption: String,
}

impl Shown {
    fn nothing() -> Shown {
        let caption = "nothing has been pressed yet".to_owned();
        let direction = "must-not-exceed";
        Shown { rank: 3, tone: "waiting", direction, until_ms: None, headline: Some("ready"), caption }
    }

    /// Puts what the cup's own temperature says under a pot's digits, where it is the earlier; gives it as a sentence.
    fn beside(&mut self, board: &Board, one: &Reckoned, moment: &Moment) -> Option<String> {
        let pots = board.pots.iter().filter(|_| one.on.clock == Clock::Pot);
        let mine = pots.filter(|pot| Some(&pot.story.id) == one.on.batch.as_ref()).find_map(|pot| pot.by_cup_ms)?;
        let said = pour::beside_clock(mine, one.told.earliest_ms, moment.saying)?;
        self.caption = format!("{}; {said}", self.caption);
        Some(said)
    }

    fn of(one: &Reckoned, pauses: &[(i64, i64)], moment: &Moment) -> Shown {
        match one.on.clock.direction() {
            Direction::MustNotExceed => Shown::must_not_exceed(one, moment.saying),
            Direction::MustReach => Shown::must_reach(one, pauses, moment),
        }
    }

    fn must_not_exceed(one: &Reckoned, saying: Saying) -> Shown {
        let direction = "must-not-exceed";
        let earliest = one.told.earliest_ms;
        let limit = earliest.map(|at| saying.time(at, Round::Down)).unwrap_or_default();
        let show =
            |rank, tone, until_ms, headline, caption| Shown { rank, tone, direction, until_ms, headline, caption };
        match (one.told.state, earliest) {
            (State::Over, _) => {
                show(0, "over", None, Some("over"), format!("{} over since {limit}", time_of(one.on.clock)))
            }
            (State::Running, Some(at)) => show(1, "exceed", Some(at), None, format!("{}, at most", goal(one.on.clock))),
            (State::Held, _) => show(1, "doubt", None, Some("cannot tell"), one.said.clone()),
            _ => show(3, "waiting", None, Some("no limit"), one.said.clone()),
        }
    }

    fn must_reach(one: &Reckoned, pauses: &[(i64, i64)], moment: &Moment) -> Shown {
        let direction = "must-reach";
        let show =
            |rank, tone, until_ms, headline, caption| Shown { rank, tone, direction, until_ms, headline, caption };
        let saying = moment.saying;
        match (one.told.state, one.told.latest_ms) {
            (State::Reached, at) => {
                let since = at.map(|at| format!(" since {}", saying.time(at, Round::Up))).unwrap_or_default();
                show(4, "passed", None, Some("off"), format!("clamps may come off{since}"))
            }
            (State::Running, Some(at)) => {
                let until = saying.time(at, Round::Up);
                show(2, "reach", Some(at), None, format!("{} until {until}", stays(one.on.clock)))
            }
            (State::Held, _) => show(3, "doubt", None, Some("cannot tell"), one.said.clone()),
            _ => show(3, "waiting", None, Some("waiting"), why_waiting(one, pauses, moment)),
        }
    }
}

fn time_of(clock: Clock) -> &'static str {
    match clock {
        Clock::Pot => "pot life",
        Clock::Open => "open time",
        Clock::Closed => "closed time",
        Clock::FreshSurface => "time since the faces were made fresh",
        _ => "time to glue on this layer",
    }
}

fn goal(clock: Clock) -> &'static str {
    match clock {
        Clock::Pot => "to the end of the pot",
        Clock::Open => "to together",
        Clock::Closed => "to all tight",
        Clock::FreshSurface => "to close the fresh faces",
        _ => "to glue on this layer",
    }
}

fn stays(clock: Clock) -> &'static str {
    match clock {
        Clock::Clamp => "clamps stay on",
        Clock::Machining => "no planing or turning",
        _ => "no stress or heat",
    }
}

/// Why no finish can be given, in short.
fn why_waiting(one: &Reckoned, pauses: &[(i64, i64)], moment: &Moment) -> String {
    let saying = moment.saying;
    if let Some(lost) = one.on.lost_ms {
        return format!("a clamp was lost at {}", saying.time(lost, Round::Down));
    }
    if one.on.started_ms.is_none() {
        return "All tight is not recorded".to_owned();
    }
    if one.told.assumed.contains(&Assumed::NoReadings) {
        return "no temperature is recorded here".to_owned();
    }
    let reads = one.on.path.iter().filter_map(|(_, air)| air.as_ref()).flat_map(|air| &air.air.sources);
    let last_ms = reads.filter_map(|source| source.knots.last()).map(|knot| knot.at_ms).max();
    let since = pauses.last().filter(|pause| moment.at_ms - pause.1 < 60_000).map(|pause| pause.0);
    match (last_ms, since) {
        (Some(last), _) if moment.at_ms - last > 2 * 3_600_000 => {
            format!("no reading since {}", saying.time(last, Round::Down))
        }
        (_, Some(since)) => format!("too cold to cure since {}", saying.time(since, Round::Down)),
        _ => "not reached at this temperature".to_owned(),
    }
}

// ---- words ----

fn title(parts: &[String]) -> String {
    match parts.get(..NAMED) {
        Some(first) if parts.len() > NAMED => format!("{} and {} more", first.join(", "), parts.len() - NAMED),
        _ => parts.join(", "),
    }
}

/// "first face, 42 joints · batch Tue 3 · together 14:31".
fn about(bond: &OnBench, moment: &Moment) -> String {
    let story = &bond.story;
    let joints = match story.bond.joints.len() {
        1 => "1 joint".to_owned(),
        many => format!("{many} joints"),
    };
    let stage = story.bond.stage.as_ref().map(|stage| format!("{stage}, ")).unwrap_or_default();
    let mut all = vec![format!("{stage}{joints}")];
    let batches: Vec<&str> = bond.batches.iter().map(|batch| batch.name.as_str()).collect();
    match batches.as_slice() {
        [] => all.push("no batch".to_owned()),
        [one] => all.push(format!("batch {one}")),
        many => all.push(format!("batches {}", many.join(", "))),
    }
    if let Some(last) = story.presses.last() {
        let at = moment.saying.time(last.at_ms, Round::Down);
        all.push(format!("{} {at}", last.press.replace('-', " ").replace("squeeze out", "squeeze-out")));
    }
    all.join(" · ")
}

/// What the number rests on.
fn basis(one: &Reckoned) -> Vec<String> {
    let mut all = Vec::new();
    if let Some(card) = &one.on.card {
        let stated = card.stated(one.on.clock, one.on.reader);
        let stated = if stated.is_empty() { "states no time of its own for it".to_owned() } else { stated.join("; ") };
        all.push(format!("{}: {stated}", card.stored.name));
    }
    all.extend(said::law(&one.told));
    all.push(said::bound(one));
    let readings = one.told.readings;
    all.push(format!("{readings} {}", if readings == 1 { "reading" } else { "readings" }));
    if one.told.no_credit_ms >= 60_000 && one.on.clock.direction() == Direction::MustReach {
        all.push(format!("no credit for {}", stretch(one.told.no_credit_ms)));
    }
    all.extend(assumed(one));
    all
}

/// What else waits behind the clock that the row counts.
fn later(told: &Told, lead: Option<&Reckoned>, saying: Saying) -> Vec<String> {
    let Some(lead) = lead else { return Vec::new() };
    let must_reach = lead.on.clock.direction() == Direction::MustReach;
    let behind = |one: &&Reckoned| {
        let same = one.on.clock == lead.on.clock && one.on.batch == lead.on.batch;
        !same && one.live() && one.on.clock.direction() == lead.on.clock.direction()
    };
    let waits = |one: &Reckoned| match (must_reach, one.told.state) {
        (true, State::Reached) => None,
        (true, _) => Some(match one.told.latest_ms {
            Some(at) => format!("{} until {}", stays(one.on.clock), saying.time(at, Round::Up)),
            None => format!("{}: no time yet", stays(one.on.clock)),
        }),
        (false, _) => Some(one.said.clone()),
    };
    told.iter().filter(behind).filter(|one| !must_reach || one.on.clock > lead.on.clock).filter_map(waits).collect()
}

fn short(sentence: &str, bond: &str) -> String {
    sentence.strip_prefix(&format!("bond {bond}: ")).unwrap_or(sentence).to_owned()
}

/// The press that begins.
pub(super) fn primary() -> BenchPress {
    presses::hardener_in(None)
}
