//! One axis for presses and readings: boot time plus an offset fixed at the boot's first entry, so that a step of
//! the wall clock bends no integral.
//!
//! A *run* is a stretch of the own log written under one boot whose boot clock never went back. Between two runs the
//! boot clock says nothing: that off-time is pending for must-reach clocks until the system or a person confirms the
//! shown time, and if the wall clock went back across it, time itself is lost. Never does the axis go behind a fact
//! already recorded.

use crate::clock::Now;
use logbook::entry::{Body, book::ClockStep, book::TimeConfirmed};
use logbook::store::{Book, Error};

pub mod beat;
pub mod run;
use beat::Beat;
use run::{Mark, Run};

/// A difference between wall clock and axis above this is a step, ms.
pub const STEP_MS: i64 = 2_000;
/// Slewing is no step: a wall clock may be steered by this many parts per million against the boot clock
/// (500 ppm by frequency and as much again by phase; Linux adjtimex(2), from memory).
const SLEW_PPM: i64 = 1_000;

/// The axis as it stands now.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Axis {
    /// Now on the axis, ms UTC.
    pub now_ms: i64,
    /// Wall clock minus axis, ms, when it is more than two seconds.
    pub step_ms: Option<i64>,
    /// Off-time across restarts that is not confirmed: no must-reach credit in it. In time order.
    pub pending: Vec<(i64, i64)>,
    /// The clock went back across a restart and nobody has confirmed the time: instant on the axis.
    pub lost_ms: Option<i64>,
    /// A step of the wall clock that no entry records yet: wall clock minus axis, ms.
    pub new_step_ms: Option<i64>,
    /// A confirmation of the shown time would settle something.
    pub to_confirm: bool,
    /// Nothing was written or watched under this boot before.
    pub fresh_boot: bool,
}

/// Reads the axis from the book's entries and the clocks.
pub fn axis(book: &Book, now: &Now) -> Result<Axis, Error> {
    axis_known(book, now, i64::MAX)
}

/// As [`axis`], but confirmations entered after `known_ms` do not exist yet.
pub fn axis_known(book: &Book, now: &Now, known_ms: i64) -> Result<Axis, Error> {
    let runs = run::read(book)?;
    let beats = beat::read(book)?;
    Ok(axis_of(&runs, &beats, now, known_ms))
}

/// The entries that whoever writes next owes the book about time itself, to go before his own in one transaction:
/// a step of the wall clock, and the system's own confirmation after a restart. Each with its instant, ms UTC.
pub fn owed(axis: &Axis, now: &Now) -> Vec<(Body, i64)> {
    let mut owed = Vec::new();
    if let Some(by_ms) = axis.new_step_ms {
        owed.push((Body::ClockStep(ClockStep { by_ms }), axis.now_ms));
    }
    if now.synchronised && axis.to_confirm {
        let confirmed = TimeConfirmed { shown_ms: now.wall_ms, by: "synchronised".to_owned() };
        owed.push((Body::TimeConfirmed(confirmed), axis.now_ms));
    }
    owed
}

/// The axis of a log's runs, in order, with the heartbeats of this machine's alarm thread.
pub fn axis_of(runs: &[Run], beats: &[Beat], now: &Now, known_ms: i64) -> Axis {
    let mut fold = Fold::default();
    let mut beats: Vec<&Beat> = beats.iter().collect();
    let goes_on = runs.last().is_some_and(|last| {
        let ahead = beats.iter().any(|beat| beat.is_ahead(&now.boot, now.boot_ms, last));
        last.boot == now.boot && now.boot_ms >= last.last_boot_ms && !ahead
    });
    for (at, run) in runs.iter().enumerate() {
        let beat = take(&mut beats, |beat| beat.of_run(run));
        fold.run(run, beat, known_ms);
        if at + 1 < runs.len() || !goes_on {
            fold.close(run, beat);
        }
    }
    if goes_on {
        return fold.axis(now, false);
    }
    let run = Run::begun(u64::MAX, &now.boot, now.boot_ms, now.wall_ms);
    let beat = take(&mut beats, |beat| beat.boot == run.boot && beat.last_boot_ms <= now.boot_ms);
    fold.run(&run, beat, known_ms);
    fold.axis(now, beat.is_none())
}

/// The first beat that fits; a beat belongs to one run only.
fn take<'a>(beats: &mut Vec<&'a Beat>, fits: impl Fn(&Beat) -> bool) -> Option<&'a Beat> {
    let at = beats.iter().position(|beat| fits(beat))?;
    Some(beats.remove(at))
}

/// What is known of the axis while runs go by.
#[derive(Default)]
struct Fold {
    /// Axis minus boot clock of the run at hand, ms.
    offset_ms: i64,
    /// Last instant known before this run, on the axis.
    end_ms: Option<i64>,
    /// Off-time that a confirmation settles.
    open: Vec<(i64, i64)>,
    /// Stretches that stay without credit for ever.
    shut: Vec<(i64, i64)>,
    lost_ms: Option<i64>,
    /// Wall minus axis, and the boot clock, when last written down.
    seen_step_ms: i64,
    seen_boot_ms: i64,
}

impl Fold {
    fn run(&mut self, run: &Run, beat: Option<&Beat>, known_ms: i64) {
        let from_boot_ms = beat.map_or(run.first_boot_ms, |beat| beat.first_boot_ms.min(run.first_boot_ms));
        let natural_ms = run.first_wall_ms - run.first_boot_ms;
        self.offset_ms = natural_ms;
        if let Some(end_ms) = self.end_ms {
            let resumed_ms = from_boot_ms + natural_ms;
            self.offset_ms = natural_ms.max(end_ms - from_boot_ms);
            if resumed_ms < end_ms - STEP_MS {
                self.lost_ms = self.lost_ms.or(Some(end_ms));
            } else if resumed_ms > end_ms {
                self.open.push((end_ms, resumed_ms));
            }
        }
        self.seen_boot_ms = run.first_boot_ms;
        self.seen_step_ms = natural_ms - self.offset_ms;
        for mark in run.marks.iter().filter(|mark| mark.entered_ms <= known_ms) {
            self.mark(mark);
        }
    }

    fn mark(&mut self, mark: &Mark) {
        if let Some(shown_ms) = mark.shown_ms {
            self.confirm(mark, shown_ms);
        }
        self.seen_boot_ms = mark.boot_ms;
        self.seen_step_ms = mark.entered_ms - mark.boot_ms - self.offset_ms;
    }

    /// The shown time is right. Facts of this run before it were placed by the old offset: the jump that now lies
    /// between them and what follows earns no must-reach credit, and the axis never goes behind them.
    fn confirm(&mut self, mark: &Mark, shown_ms: i64) {
        let before_ms = mark.boot_ms + self.offset_ms;
        let fact_ms = mark.fact_boot_ms.map(|boot_ms| boot_ms + self.offset_ms);
        let floor_ms = fact_ms.or(self.end_ms).unwrap_or(i64::MIN);
        let after_ms = shown_ms.max(floor_ms);
        self.offset_ms = after_ms - mark.boot_ms;
        let open = std::mem::take(&mut self.open);
        if shown_ms < floor_ms {
            self.shut.extend(open);
        }
        if fact_ms.is_some() && after_ms > before_ms + STEP_MS {
            self.shut.push((before_ms, after_ms));
        }
        self.lost_ms = None;
    }

    fn close(&mut self, run: &Run, beat: Option<&Beat>) {
        let last_boot_ms = beat.map_or(run.last_boot_ms, |beat| beat.last_boot_ms.max(run.last_boot_ms));
        self.end_ms = Some(last_boot_ms + self.offset_ms);
    }

    fn axis(mut self, now: &Now, fresh_boot: bool) -> Axis {
        let now_ms = now.boot_ms + self.offset_ms;
        let step_ms = now.wall_ms - now_ms;
        let slewed_ms = (now.boot_ms - self.seen_boot_ms).max(0) * SLEW_PPM / 1_000_000;
        let new_step = (step_ms - self.seen_step_ms).abs() > STEP_MS + slewed_ms;
        let to_confirm = !self.open.is_empty() || self.lost_ms.is_some();
        self.shut.append(&mut self.open);
        self.shut.sort_unstable();
        Axis {
            now_ms,
            step_ms: (step_ms.abs() > STEP_MS).then_some(step_ms),
            pending: self.shut,
            lost_ms: self.lost_ms,
            new_step_ms: new_step.then_some(step_ms),
            to_confirm,
            fresh_boot,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::{Clock, FixedClock};

    const T: i64 = 1_795_600_000_000;
    const HOUR: i64 = 3_600_000;

    fn run(now: &Now) -> Run {
        Run::begun(0, &now.boot, now.boot_ms, now.wall_ms)
    }

    fn confirmed(now: &Now, fact_boot_ms: Option<i64>) -> Mark {
        Mark { seq: 2, boot_ms: now.boot_ms, entered_ms: now.wall_ms, shown_ms: Some(now.wall_ms), fact_boot_ms }
    }

    fn told(runs: &[Run], clock: &FixedClock) -> Axis {
        axis_of(runs, &[], &clock.now(), i64::MAX)
    }

    #[test]
    fn a_step_bends_nothing_and_is_noticed() {
        let clock = FixedClock::at(T);
        let runs = [run(&clock.now())];
        clock.advance(60_000);
        clock.step_wall(2 * HOUR);
        let axis = told(&runs, &clock);
        assert_eq!((axis.now_ms, axis.step_ms), (T + 60_000, Some(2 * HOUR)));
        assert_eq!((axis.new_step_ms, axis.pending, axis.to_confirm), (Some(2 * HOUR), vec![], false));
    }

    #[test]
    fn slewing_and_leap_seconds_are_no_steps() {
        let clock = FixedClock::at(T);
        let runs = [run(&clock.now())];
        clock.step_wall(1_000);
        assert_eq!(told(&runs, &clock).new_step_ms, None);
        clock.advance(12 * HOUR);
        clock.step_wall(20_600);
        assert_eq!(told(&runs, &clock).new_step_ms, None, "500 ppm over twelve hours");
    }

    #[test]
    fn off_time_is_pending_until_confirmed() {
        let clock = FixedClock::at(T);
        let first = run(&clock.now());
        clock.reboot("boot-2", T + HOUR);
        let axis = told(std::slice::from_ref(&first), &clock);
        assert_eq!((axis.now_ms, axis.lost_ms, axis.to_confirm), (T + HOUR, None, true));
        assert_eq!(axis.pending, vec![(T, T + HOUR)]);
        let mut second = Run::begun(1, "boot-2", 10_000, T + HOUR);
        second.marks.push(confirmed(&clock.now(), None));
        let axis = told(&[first, second], &clock);
        assert_eq!((axis.now_ms, axis.pending, axis.to_confirm), (T + HOUR, vec![], false));
    }

    #[test]
    fn a_clock_gone_back_loses_time_until_confirmed() {
        let clock = FixedClock::at(T);
        let first = run(&clock.now());
        clock.reboot("boot-2", T - HOUR);
        let axis = told(std::slice::from_ref(&first), &clock);
        assert_eq!((axis.now_ms, axis.lost_ms, axis.to_confirm), (T, Some(T), true));
        let begun = Run::begun(1, "boot-2", 10_000, T - HOUR);
        clock.advance(60_000);
        clock.step_wall(3 * HOUR);
        let second = Run { marks: vec![confirmed(&clock.now(), None)], ..begun.clone() };
        let axis = told(&[first.clone(), second], &clock);
        assert_eq!((axis.now_ms, axis.lost_ms), (T + 2 * HOUR + 60_000, None));
        assert!(axis.pending.is_empty(), "no fact of this boot lies before the jump: {:?}", axis.pending);
        let fact = Some(20_000);
        let third = Run { marks: vec![confirmed(&clock.now(), fact)], ..begun };
        let axis = told(&[first, third], &clock);
        assert_eq!(axis.pending, vec![(T + 60_000, T + 2 * HOUR + 60_000)], "a fact placed by the wrong time");
    }

    #[test]
    fn a_boot_clock_gone_back_counts_as_a_restart() {
        let clock = FixedClock::at(T);
        clock.advance(HOUR);
        let first = run(&clock.now());
        clock.set(|now| now.boot_ms -= HOUR);
        clock.set(|now| now.wall_ms += HOUR);
        let axis = told(&[first], &clock);
        assert_eq!(axis.pending, vec![(T + HOUR, T + 2 * HOUR)]);
    }

    #[test]
    fn a_heartbeat_narrows_the_off_time() {
        let clock = FixedClock::at(T);
        let first = run(&clock.now());
        let beat = |boot: &str, first_boot_ms, last_boot_ms| Beat {
            log: String::new(),
            boot: boot.to_owned(),
            first_boot_ms,
            last_boot_ms,
            size: 1,
        };
        let old = beat("boot-1", HOUR, HOUR + 600_000);
        clock.reboot("boot-2", T + HOUR);
        let axis = axis_of(&[first], &[old, beat("boot-2", 4_000, 9_000)], &clock.now(), i64::MAX);
        assert_eq!(axis.pending, vec![(T + 600_000, T + HOUR - 6_000)]);
    }

    #[test]
    fn the_axis_never_goes_behind_a_fact() {
        let clock = FixedClock::at(T);
        let first = run(&clock.now());
        clock.reboot("boot-2", T + 3 * HOUR);
        let second = run(&clock.now());
        clock.advance(60_000);
        clock.step_wall(-3 * HOUR + 600_000);
        let now = clock.now();
        let third = Run { marks: vec![confirmed(&now, Some(second.first_boot_ms))], ..second };
        let axis = told(&[first.clone(), third], &clock);
        assert_eq!(axis.now_ms, T + 3 * HOUR, "held at the fact");
        assert_eq!((axis.pending.len(), axis.to_confirm), (1, false), "the off-time stays without credit");
        let fourth = Run { marks: vec![confirmed(&now, None)], ..Run::begun(1, "boot-2", 10_000, T + 3 * HOUR) };
        assert_eq!(told(&[first, fourth], &clock).now_ms, now.wall_ms, "no fact in the way");
    }
}
