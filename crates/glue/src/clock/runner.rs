//! A clock that is asked again and again: what was integrated once is kept.

use super::help::Stand;
use super::limit::{assumed, chosen, course, hottest_k, law};
use super::told::{Story, without_law};
use super::{Asked, Assumed, Clock, Direction, Knot, LawKind, Told};
use crate::air::{KNOWN_MS, Piece, Sort, View, Walker, ahead, source, walk};
use crate::card::Card;
use crate::number::after;
use crate::progress::run::Room;
use crate::progress::{Course, Sums};
use core::ops::ControlFlow;

/// Horizon: at least seven days, ms.
const WEEK_MS: f64 = 7.0 * 24.0 * 3_600_000.0;

/// Keeps what one clock has gone through, so that asking again costs nothing for what lies before the last reading.
///
/// The readings handed in may only grow at their end between two questions, and `at_ms` may only rise; whatever else
/// is different is noticed (another card, start, place, an earlier instant, fewer readings, another floor) and everything
/// is read anew. Readings *changed in place* are not noticed: take a new runner then.
#[derive(Clone, Debug, Default)]
pub struct Runner {
    kept: Option<Kept>,
}

#[derive(Clone, Debug)]
struct Kept {
    fixed: Fixed,
    counts: Vec<usize>,
    course: Course,
    /// Up to the instant before which no later reading changes anything.
    settled: Sums,
    /// Up to the newest reading.
    newest: Sums,
    assumed: Vec<Assumed>,
}

/// What has to be the same for the kept sums to hold.
#[derive(Clone, Debug, PartialEq)]
struct Fixed {
    clock: Clock,
    card: Card,
    bent: bool,
    start_ms: i64,
    stays: Vec<i64>,
    wood: super::Wood,
    charge: super::Charge,
    carried: [f64; 3],
    shorter: super::Shorter,
    pending: Vec<(i64, i64)>,
    floors: Vec<usize>,
}

impl Runner {
    /// What the clock says at `asked.at_ms`.
    pub fn tell(&mut self, asked: &Asked) -> Told {
        let found = chosen(asked.card, asked.clock, asked.bent);
        let start = asked.started_ms.filter(|start| *start <= asked.at_ms);
        let Some((limit, judged_by)) = found else {
            return without_law(asked, None, start);
        };
        let Some(start_ms) = start else {
            return without_law(asked, Some(limit), None);
        };
        let fixed = Fixed::of(asked, start_ms);
        if self.kept.as_ref().is_none_or(|kept| kept.fixed != fixed) {
            let Some(law) = law(asked, limit) else {
                self.kept = None;
                return without_law(asked, Some(limit), start);
            };
            self.kept = Some(Kept::new(asked, fixed, law, limit, judged_by));
        }
        match &mut self.kept {
            Some(kept) => kept.tell(asked, limit, start_ms),
            None => without_law(asked, Some(limit), start),
        }
    }

    /// Exponentials evaluated for what is kept.
    pub fn evaluations(&self) -> u64 {
        self.kept.as_ref().map_or(0, |kept| kept.newest.evaluations)
    }
}

impl Fixed {
    fn of(asked: &Asked, start_ms: i64) -> Fixed {
        let airs = asked.path.iter().filter_map(|stay| stay.air);
        let floors = |air: &super::Air| {
            let lowest = air.sources.iter().map(|source| known_floors(&source.lowest, asked.at_ms));
            lowest.sum::<usize>() + air.vouched.iter().filter(|floor| floor.from_ms <= asked.at_ms).count()
        };
        Fixed {
            clock: asked.clock,
            card: asked.card.clone(),
            bent: asked.bent,
            start_ms,
            stays: asked.path.iter().filter(|stay| stay.from_ms <= asked.at_ms).map(|stay| stay.from_ms).collect(),
            wood: asked.wood,
            charge: asked.charge,
            carried: asked.carried,
            shorter: asked.shorter,
            pending: asked.pending.to_vec(),
            floors: airs.map(floors).collect(),
        }
    }
}

fn known_floors(floors: &[super::Floor], at_ms: i64) -> usize {
    floors.iter().filter(|floor| floor.until_ms <= at_ms).count()
}

/// Knots known of every source along the path.
fn counts(asked: &Asked) -> Vec<usize> {
    let sources = asked.path.iter().filter_map(|stay| stay.air).flat_map(|air| &air.sources);
    sources.map(|source| source::known(source, asked.at_ms).len()).collect()
}

impl Kept {
    fn new(asked: &Asked, fixed: Fixed, law: crate::law::Law, limit: &crate::card::Limit, judged_by: Clock) -> Kept {
        let assumed = assumed(asked, limit, judged_by, &law);
        let course = course(asked, law, fixed.start_ms);
        let sums = begin(asked, &course, fixed.start_ms);
        Kept { fixed, counts: vec![], course, settled: sums.clone(), newest: sums, assumed }
    }

    fn tell(&mut self, asked: &Asked, limit: &crate::card::Limit, start_ms: i64) -> Told {
        let view = View {
            direction: self.course.direction,
            known_ms: asked.at_ms,
            base_ms: start_ms,
            hottest_k: hottest_k(asked.card, &self.course.law),
        };
        let ended_ms = asked.ended_ms.filter(|end| *end <= asked.at_ms);
        let stop = after(start_ms, ended_ms.unwrap_or(asked.at_ms)).max(0.0);
        self.catch_up(asked, &view, stop);
        let mut now = self.newest.clone();
        go_on(&view, asked, &self.course, &mut now, stop);
        lose_time(asked, &self.course, &mut now, start_ms, stop);
        let (mut later, mut ahead_assumed) = (now.clone(), vec![]);
        let horizon = WEEK_MS.max(6.0 * self.course.law.longest_ms);
        if ended_ms.is_none() && !later.all_finished() {
            look_ahead(&view, asked, &self.course, &mut later, stop + horizon);
            ahead_assumed = ahead::assumed(&view, asked.path);
        }
        let mut assumed = self.assumed.clone();
        assumed.extend(ahead_assumed);
        assumed.extend(seen(asked, &self.course, &now));
        let waits = self.course.direction == Direction::MustReach && ended_ms.is_none() && now.finished[0].is_none();
        let (course, latest, to) = (&self.course, later.finished[0], stop + horizon);
        let helps = if waits { Stand { asked, course, now: &now, start_ms, latest, to }.helps() } else { vec![] };
        let now_k = ahead::now_k(&view, asked.path);
        Story { asked, limit, start_ms, ended_ms, stop, course, now: &now, later: &later, assumed, now_k, helps }.told()
    }

    /// Brings the kept sums up to the readings there are now.
    fn catch_up(&mut self, asked: &Asked, view: &View, stop: f64) {
        let counts = counts(asked);
        let grown = self.counts.len() == counts.len() && self.counts.iter().zip(&counts).all(|(old, new)| old <= new);
        if !grown || self.newest.at > stop {
            self.settled = begin(asked, &self.course, view.base_ms);
            self.newest = self.settled.clone();
        } else if self.counts != counts {
            self.newest = self.settled.clone();
        }
        if self.counts != counts || !grown || self.newest == self.settled {
            let (settled, newest) = marks(asked, view, stop);
            go_on(view, asked, &self.course, &mut self.settled, settled);
            if self.newest.at < self.settled.at {
                self.newest = self.settled.clone();
            }
            go_on(view, asked, &self.course, &mut self.newest, newest);
            self.counts = counts;
        }
    }
}

/// Before the start, early enough for the wood to follow the air from its own start.
fn begin(asked: &Asked, course: &Course, start_ms: i64) -> Sums {
    let wood_k = asked.wood.start_k.filter(|k| k.is_finite()).unwrap_or(crate::wood::START_K);
    let since_ms = asked.wood.since_ms;
    let from = if course.direction == Direction::MustReach && since_ms != 0 && since_ms < start_ms {
        after(start_ms, since_ms)
    } else {
        0.0
    };
    Sums::new(from, wood_k)
}

/// Goes along the recorded air to an instant, or until all bounds are at their limit.
fn go_on(view: &View, asked: &Asked, course: &Course, sums: &mut Sums, to: f64) {
    if sums.at >= to || sums.all_finished() {
        return;
    }
    let from = sums.at;
    let _ = walk(view, asked.path, from, to, &mut Along { course, sums, room: Room::default() });
}

/// Goes along what is recorded.
struct Along<'a> {
    course: &'a Course,
    sums: &'a mut Sums,
    room: Room,
}

impl Walker for Along<'_> {
    fn take(&mut self, piece: &Piece) -> ControlFlow<()> {
        self.sums.step(self.course, piece);
        if self.sums.all_finished() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }

    fn take_run(&mut self, view: &View, knots: &[Knot], shift: [f64; 3]) -> usize {
        self.sums.run(self.course, view, knots, shift, &mut self.room)
    }
}

/// Goes along what would be if the last readings, or what was forecast, went on.
struct Ahead<'a> {
    course: &'a Course,
    sums: &'a mut Sums,
    to: f64,
    room: Room,
}

impl Walker for Ahead<'_> {
    fn take(&mut self, piece: &Piece) -> ControlFlow<()> {
        if piece.sort == Sort::Nothing && piece.to >= self.to {
            return ControlFlow::Break(());
        }
        self.sums.step(self.course, piece);
        if self.sums.all_finished() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }

    fn take_run(&mut self, view: &View, knots: &[Knot], shift: [f64; 3]) -> usize {
        self.sums.run(self.course, view, knots, shift, &mut self.room)
    }
}

/// Up to where later readings change nothing, and where the newest reading stands (both at most `stop`).
fn marks(asked: &Asked, view: &View, stop: f64) -> (f64, f64) {
    let here = asked.path.iter().rev().find(|stay| stay.from_ms <= asked.at_ms).or(asked.path.first());
    let arrived = here.map_or(0.0, |stay| after(view.base_ms, stay.from_ms));
    let (mut settled, mut newest) = (f64::INFINITY, arrived);
    // Earlier places can still get readings that end a gap: only what their newest reading covers is settled.
    for (index, stay) in asked.path.iter().enumerate() {
        let left = asked.path.get(index + 1).map_or(f64::INFINITY, |next| after(view.base_ms, next.from_ms));
        for source in stay.air.iter().flat_map(|air| &air.sources) {
            let last = source::known(source, asked.at_ms).last();
            let last = last.map_or(f64::NEG_INFINITY, |knot| after(view.base_ms, knot.at_ms));
            if last < left {
                settled = settled.min(last);
                newest = newest.max(last);
            }
        }
    }
    (settled.min(newest).min(stop), newest.min(stop))
}

/// A clock that went back across a restart: must-not-exceed counts as over then.
fn lose_time(asked: &Asked, course: &Course, now: &mut Sums, start_ms: i64, stop: f64) {
    let lost = asked.time_lost_ms.map(|ms| after(start_ms, ms)).filter(|at| (0.0..=stop).contains(at));
    if let (Some(at), Direction::MustNotExceed) = (lost, course.direction) {
        for finished in &mut now.finished {
            *finished = Some(finished.map_or(at, |earlier| earlier.min(at)));
        }
    }
}

/// The last readings go on, or what was forecast.
fn look_ahead(view: &View, asked: &Asked, course: &Course, later: &mut Sums, to: f64) {
    let course = Course { pending: vec![], fault: false, ..course.clone() };
    later.cold_since = None;
    let _ = ahead::ahead(view, asked.path, to, &mut Ahead { course: &course, sums: later, to, room: Room::default() });
}

/// What had to be taken for granted along the way.
fn seen(asked: &Asked, course: &Course, now: &Sums) -> Vec<Assumed> {
    let mut all = vec![];
    let scaled = course.law.kind != LawKind::Unscaled;
    let fresh = asked.path.iter().filter_map(|stay| stay.air).flat_map(|air| &air.sources).any(|source| {
        let last = source::known(source, asked.at_ms).last();
        last.is_some_and(|knot| asked.at_ms.saturating_sub(knot.at_ms) <= KNOWN_MS)
    });
    if scaled && now.read <= 0.0 && !(fresh && now.at <= 0.0) {
        all.push(Assumed::NoReadings);
    }
    if now.vouched {
        all.push(Assumed::Vouched);
    }
    if now.outside {
        all.push(Assumed::OutsideRange);
    }
    let unproven = course.pending.iter().any(|(from, to)| *from < now.at && *to > 0.0);
    if course.direction == Direction::MustReach && unproven {
        all.push(Assumed::TimePending);
    }
    if asked.time_lost_ms.is_some() {
        all.push(Assumed::TimeLost);
    }
    all
}
