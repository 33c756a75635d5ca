//! Cure over time: share cured and glass transition, the curve of published rates, and wood warming through.

use super::super::figure_shown::{digits, minutes, with_unit};
use super::plot::Plot;
use super::side::{Side, clock};
use super::{FigurePicture, again};
use glue::figure::course::{self, Curing, GEL_CONVERSION};
use glue::figure::{Answer, Given};

struct Stages {
    path: Vec<Curing>,
    /// Ends of the stages, h.
    ends: Vec<f64>,
    per_hour: f64,
    label: &'static str,
}

fn stages(given: &Given) -> Option<Stages> {
    let path = course::cured(given)?;
    let last = path.last()?.hours;
    let turns = path.windows(2).filter(|two| two[0].hours == two[1].hours && two[0].celsius != two[1].celsius);
    let ends = turns.map(|two| two[0].hours).collect();
    let (unit, label) = clock(last * 60.0);
    Some(Stages { path, ends, per_hour: 60.0 / unit, label })
}

impl Stages {
    fn across(&self) -> Side {
        let last = self.path.last().map_or(0.0, |at| at.hours) * self.per_hour;
        Side::from(0.0, if last > 0.0 { last * 1.02 } else { 1.0 })
    }

    fn put_gates(&self, plot: &mut Plot) {
        for hours in &self.ends {
            plot.gate("post-cure begins", hours * self.per_hour);
        }
    }

    fn along(&self, of: fn(&Curing) -> f64) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.path.iter().map(move |at| (at.hours * self.per_hour, of(at)))
    }
}

/// Share cured over time.
pub(super) fn conversion(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let stages = stages(given)?;
    let (across, up) = (stages.across(), Side::from(0.0, 105.0));
    let mut plot = Plot::new(across, up);
    let gel = 100.0 * GEL_CONVERSION;
    let word = format!("{} %: gel", digits((gel * 10.0).round() / 10.0));
    plot.named("level", &word, (across.high * 0.5, gel), [(0.0, gel), (across.high, gel)].into_iter());
    stages.put_gates(&mut plot);
    plot.line("main", "", stages.along(|at| 100.0 * at.conversion));
    let last = stages.path.last()?;
    let end = 100.0 * answer.number("conversion")?;
    let said = digits((end * 10.0).round() / 10.0);
    plot.told("asked", &format!("{said} %"), (last.hours * stages.per_hour, end));
    let words = format!("The share cured over {}, ending at {said} %.", minutes(last.hours * 60.0));
    plot.done(across.across(stages.label), up.up("Cured, %"), words)
}

/// Glass transition over time, with the temperature that it runs into.
pub(super) fn glass(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let stages = stages(given)?;
    let across = stages.across();
    let both = stages.path.iter().flat_map(|at| [at.glass_c, at.celsius]);
    let up = Side::around(both, 0.12);
    let mut plot = Plot::new(across, up);
    stages.put_gates(&mut plot);
    let last = stages.path.last()?;
    let first = stages.path.first()?;
    let end = last.hours * stages.per_hour;
    plot.named("second", "glue line", (end * 0.4, first.celsius), stages.along(|at| at.celsius));
    plot.line("main", "", stages.along(|at| at.glass_c));
    let glass = answer.number("glass_transition_c")?;
    let said = with_unit((glass * 10.0).round() / 10.0, "C");
    plot.told("asked", &format!("glass transition {said}"), (end, glass));
    let words = format!(
        "Solid: the glass transition, ending at {said}. Long dashes: the temperature of the glue line. Where the solid \
         line has come up to the dashed one and passed it, the glue turns to glass and its cure crawls."
    );
    plot.done(across.across(stages.label), up.up("Temperature, °C"), words)
}

/// Share over time at one temperature, from published rates.
pub(super) fn isothermal(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let path = course::isothermal(given)?;
    let last = path.last()?.0;
    let (unit, label) = clock(last);
    let across = Side::from(0.0, if last > 0.0 { last / unit * 1.05 } else { 1.0 });
    let (plateau, asked) = (given.number("plateau").ok()?, given.number("conversion").ok()?);
    let up = Side::from(0.0, 105.0);
    let mut plot = Plot::new(across, up);
    if plateau < 1.0 {
        plot.level("limit", &format!("stops at {} %", digits(100.0 * plateau)), 100.0 * plateau);
    }
    plot.line("main", "", path.iter().map(|(time, share)| (time / unit, 100.0 * share)));
    let time = answer.number("time_min");
    if let Some(time) = time {
        plot.told(
            "asked",
            &format!("{} % after {}", digits(100.0 * asked), minutes(time)),
            (time / unit, 100.0 * asked),
        );
    }
    let words = match time {
        Some(time) => format!("The share cured, up to {} % after {}.", digits(100.0 * asked), minutes(time)),
        None => format!("The share cured, which never comes to {} %.", digits(100.0 * asked)),
    };
    plot.done(across.across(label), up.up("Cured, %"), words)
}

/// Shares of the step at which the warming of wood is drawn.
const SHARES: usize = 40;

/// Share of the step that the glue line has covered over time.
pub(super) fn warm_up(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let (asked, time) = (given.number("share").ok()?, answer.number("time_min")?);
    let top = asked.max(0.95);
    let at = |n: usize| 0.02 + (top - 0.02) * n as f64 / SHARES as f64;
    let of = |share: f64| Some((again::number("glue-line-warmup", given, ("share", share), "time_min")?, share));
    let path: Vec<(f64, f64)> = (0..=SHARES).filter_map(|n| of(at(n))).collect();
    let last = path.iter().map(|at| at.0).fold(time, f64::max);
    let (unit, label) = clock(last);
    let (across, up) = (Side::from(0.0, last / unit * 1.05), Side::from(0.0, 105.0));
    let mut plot = Plot::new(across, up);
    plot.level("level", "as warm as the air", 100.0);
    plot.line("main", "", path.iter().map(|(time, share)| (time / unit, 100.0 * share)));
    plot.told("asked", &format!("{} % after {}", digits(100.0 * asked), minutes(time)), (time / unit, 100.0 * asked));
    let words = format!(
        "How far the glue line has come on the way from the wood's temperature to the air's: {} % after {}.",
        digits(100.0 * asked),
        minutes(time)
    );
    plot.done(across.across(label), up.up("Way to the air's temperature, %"), words)
}
