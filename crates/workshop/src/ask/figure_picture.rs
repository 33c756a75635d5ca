//! The pictures of calculations: a law's time over temperature, a finish under its trace, a control chart. Every
//! position is laid out here, in millionths of the drawn width and height; whoever draws computes nothing.

use super::figure_shown::{digits, minutes, with_unit};
use glue::figure::{self, Answer, Given, Out, shape};
use schemars::JsonSchema;
use serde::Serialize;

/// A picture: 0 is the left and the top edge, 1 000 000 the right and the bottom one.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigurePicture {
    /// Left to right.
    pub across: PictureAxis,
    /// Top to bottom.
    pub up: PictureAxis,
    /// Lines, the lower ones first.
    pub lines: Vec<PictureLine>,
    /// Points that stand out.
    pub marks: Vec<PictureMark>,
    /// The whole meaning in words.
    pub words: String,
}

/// An axis with its ticks.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PictureAxis {
    /// What it measures, with its unit.
    pub label: String,
    /// Ticks in order.
    pub ticks: Vec<PictureTick>,
}

/// A tick of an axis.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PictureTick {
    /// Where.
    pub at: i64,
    /// Its number.
    pub word: String,
}

/// A line through points.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PictureLine {
    /// `main`, `beyond` (not spoken for), `edge` (of a band), `level` (across), `gate` (upright).
    pub look: String,
    /// Its points.
    pub points: Vec<[i64; 2]>,
    /// What it is; empty: nothing stands beside it.
    pub word: String,
}

/// A point that stands out.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PictureMark {
    /// `point` (given), `asked` (answered), `out` (does not belong).
    pub look: String,
    /// Where.
    pub at: [i64; 2],
    /// What it is.
    pub word: String,
}

/// The picture of an answer; none where numbers say it all.
pub(super) fn picture(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    match answer.figure {
        "cure-law" => law(answer, given),
        "cure-finish" => finish(answer, given),
        "individuals-chart" => chart(answer, given),
        _ => None,
    }
}

/// A stretch of numbers along one side, perhaps by powers.
struct Side {
    low: f64,
    high: f64,
    by_powers: bool,
}

impl Side {
    /// Holds all of them and a little more.
    fn around(values: impl Iterator<Item = f64>, room: f64) -> Side {
        let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)));
        let more = if high > low { (high - low) * room } else { (high.abs() * 0.1).max(1.0) };
        Side { low: low - more, high: high + more, by_powers: false }
    }

    fn share(&self, value: f64) -> i64 {
        let on = |x: f64| if self.by_powers { libm::log(x) } else { x };
        let share = (on(value) - on(self.low)) / (on(self.high) - on(self.low));
        (share.clamp(0.0, 1.0) * 1e6).round() as i64
    }

    fn across(&self, value: f64) -> i64 {
        self.share(value)
    }

    fn up(&self, value: f64) -> i64 {
        1_000_000 - self.share(value)
    }

    /// Round numbers inside, about six.
    fn round_numbers(&self) -> Vec<f64> {
        let rough = (self.high - self.low) / 6.0;
        let power = libm::pow(10.0, libm::log10(rough).floor());
        let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|n| n * power).find(|step| *step >= rough).unwrap_or(rough);
        let first = (self.low / step).ceil();
        let count = ((self.high / step).floor() - first).max(0.0) as usize;
        (0..=count.min(12)).map(|n| (first + n as f64) * step).collect()
    }

    fn ticks(&self, at: impl Fn(&Side, f64) -> i64, all: &[f64], word: impl Fn(f64) -> String) -> Vec<PictureTick> {
        all.iter().map(|value| PictureTick { at: at(self, *value), word: word(*value) }).collect()
    }
}

/// Times that people say, min.
const SAID: &[f64] = &[
    0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0, 90.0, 120.0, 180.0, 240.0, 360.0, 480.0, 720.0, 960.0,
    1_440.0, 2_160.0, 2_880.0, 4_320.0, 5_760.0, 10_080.0, 20_160.0, 43_200.0, 100_800.0, 201_600.0, 525_600.0,
];

/// Those that lie inside, no two closer than a tenth of the height.
fn said_times(side: &Side) -> Vec<f64> {
    let mut kept: Vec<f64> = vec![];
    for time in SAID.iter().copied().filter(|time| (side.low..=side.high).contains(time)) {
        if kept.last().is_none_or(|last| side.share(time) - side.share(*last) >= 100_000) {
            kept.push(time);
        }
    }
    kept
}

fn axis(label: &str, ticks: Vec<PictureTick>) -> PictureAxis {
    PictureAxis { label: label.to_owned(), ticks }
}

fn line(look: &str, word: &str, points: Vec<[i64; 2]>) -> PictureLine {
    PictureLine { look: look.to_owned(), points, word: word.to_owned() }
}

/// Temperatures at which a law is drawn.
const STEPS: usize = 48;

fn law(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let points = shape::points(given, "points").ok()?;
    let asked = given.numbers("at").ok()?;
    let across = Side::around(points.iter().map(|point| point.celsius).chain(asked.iter().copied()), 0.08);
    let across = Side { low: across.low.max(-40.0), high: across.high.min(260.0), ..across };
    let hull = Side::around(points.iter().map(|point| point.celsius), 0.0);
    let between = |low: f64, high: f64| {
        (0..=STEPS).map(move |n| low + (high - low) * n as f64 / STEPS as f64).collect::<Vec<f64>>()
    };
    let (cold, own, hot) =
        (between(across.low, hull.low), between(hull.low, hull.high), between(hull.high, across.high));
    let (times, bands) = along(given, &[cold.as_slice(), &own, &hot].concat())?;
    let edges = bands.iter().flatten().flat_map(|(low, high)| [*low, *high]);
    let up = Side::around(times.iter().copied().chain(edges).filter(|t| *t > 0.0), 0.0);
    let up = Side { low: up.low * 0.9, high: up.high * 1.1, by_powers: true };
    let spot = |celsius: f64, time: f64| [across.across(celsius), up.up(time)];
    let path = |from: usize, at: &[f64]| {
        at.iter().zip(times.iter().skip(from)).map(|(celsius, time)| spot(*celsius, *time)).collect::<Vec<_>>()
    };
    let mut lines = edges_of(&[cold.as_slice(), &own, &hot].concat(), &bands, spot);
    lines.push(line("beyond", "", path(0, &cold)));
    lines.push(line("beyond", "", path(cold.len() + own.len(), &hot)));
    lines.push(line("main", "", path(cold.len(), &own)));
    let words = format!(
        "The time falls from {} at {} to {} at {}. Solid between the sheet's temperatures, dashed where the sheet does \
         not speak.",
        minutes(*times.first()?),
        with_unit(across.low, "C"),
        minutes(*times.last()?),
        with_unit(across.high, "C")
    );
    Some(FigurePicture {
        up: axis("Time, by powers", up.ticks(Side::up, &said_times(&up), minutes)),
        across: axis("Temperature, °C", across.ticks(Side::across, &across.round_numbers(), digits)),
        lines,
        marks: law_marks(&points, &asked, answer, spot),
        words,
    })
}

/// Both edges of a law's band; none where it has none.
fn edges_of(at: &[f64], bands: &Bands, spot: impl Fn(f64, f64) -> [i64; 2]) -> Vec<PictureLine> {
    let edge = |high: bool| {
        let points = at.iter().zip(bands);
        let points = points.filter_map(|(celsius, band)| band.map(|(l, h)| spot(*celsius, if high { h } else { l })));
        line("edge", if high { "95 % band" } else { "" }, points.collect())
    };
    [false, true].map(edge).into_iter().filter(|line| !line.points.is_empty()).collect()
}

/// Most answers that are marked on a law.
const MARKED: usize = 100;

/// The sheet's points, and the times that were asked for.
fn law_marks(
    points: &[shape::Point],
    asked: &[f64],
    answer: &Answer,
    spot: impl Fn(f64, f64) -> [i64; 2],
) -> Vec<PictureMark> {
    let mark = |look: &str, of: &str, celsius: f64, time: f64| {
        let word = format!("{of}{} at {}", minutes(time), with_unit(celsius, "C"));
        PictureMark { look: look.to_owned(), at: spot(celsius, time), word }
    };
    let own = points.iter().map(|point| mark("point", "of the sheet: ", point.celsius, point.middle()));
    let times = if let Some(Out::Numbers(times)) = answer.get("times_min") { times.as_slice() } else { &[] };
    let answered = asked.iter().zip(times).take(MARKED).map(|(celsius, time)| mark("asked", "", *celsius, *time));
    own.chain(answered).collect()
}

type Bands = Vec<Option<(f64, f64)>>;

/// The law's times at these temperatures, as the calculation itself gives them.
fn along(given: &Given, at: &[f64]) -> Option<(Vec<f64>, Bands)> {
    let at = at.iter().map(f64::to_string).collect::<Vec<_>>().join(",");
    let answer = figure::reckon("cure-law", [("points", given.text("points")?), ("at", at.as_str())]).ok()?;
    match (answer.get("times_min")?, answer.get("bands")?) {
        (Out::Numbers(times), Out::Bands(bands)) => Some((times.clone(), bands.clone())),
        _ => None,
    }
}

fn finish(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let trace = shape::trace(given, "trace").ok()?;
    let (last_h, last_c) = *trace.last()?;
    let gates = [("earliest_h", "earliest"), ("finish_h", "expected"), ("latest_h", "latest")]
        .map(|(field, word)| (answer.number(field), word));
    let reached = gates.iter().filter_map(|(hours, _)| *hours);
    let end = reached.fold(last_h, f64::max);
    let across = Side { low: 0.0, high: if end > 0.0 { end * 1.06 } else { 1.0 }, by_powers: false };
    let minimum = given.maybe("minimum").ok()?;
    let up = Side::around(trace.iter().map(|knot| knot.1).chain(minimum), 0.15);
    let spot = |hours: f64, celsius: f64| [across.across(hours), up.up(celsius)];
    let mut lines = vec![];
    if let Some(celsius) = minimum {
        let word = format!("no credit below {}", with_unit(celsius, "C"));
        lines.push(line("level", &word, vec![spot(0.0, celsius), spot(across.high, celsius)]));
    }
    lines.push(line("main", "", trace.iter().map(|(hours, celsius)| spot(*hours, *celsius)).collect()));
    lines.push(line("beyond", "", vec![spot(last_h, last_c), spot(across.high, last_c)]));
    let mut said = vec![];
    for (hours, word) in gates {
        let words =
            hours.map_or_else(|| format!("{word}: not in sight"), |hours| format!("{word} {} h", digits(hours)));
        if let Some(hours) = hours {
            let x = across.across(hours);
            lines.push(line("gate", &words, vec![[x, 0], [x, 1_000_000]]));
        }
        said.push(words);
    }
    let words = format!(
        "The temperature of the glue over {} h, and when the time is reached: {}. Dashed: the last temperature, held.",
        digits(across.high),
        said.join(", ")
    );
    Some(FigurePicture {
        across: axis("Hours", across.ticks(Side::across, &across.round_numbers(), digits)),
        up: axis("Temperature, °C", up.ticks(Side::up, &up.round_numbers(), digits)),
        lines,
        marks: vec![],
        words,
    })
}

/// Most values a chart is drawn of: the last ones.
const DRAWN: usize = 400;

fn chart(answer: &Answer, given: &Given) -> Option<FigurePicture> {
    let values = given.numbers("values").ok()?;
    let Out::Wholes(outside) = answer.get("out_of_control")? else { return None };
    let (mean, lower, upper) = (answer.number("mean")?, answer.number("lower")?, answer.number("upper")?);
    let skipped = values.len().saturating_sub(DRAWN);
    let drawn = || values.iter().enumerate().skip(skipped).map(|(at, value)| (at + 1, *value));
    let across = Side { low: skipped as f64 + 0.5, high: values.len() as f64 + 0.5, by_powers: false };
    let up = Side::around(drawn().map(|(_, value)| value).chain([lower, upper]), 0.08);
    let spot = |at: usize, value: f64| [across.across(at as f64), up.up(value)];
    let level = |word: &str, value: f64| {
        line("level", &format!("{word} {}", digits(value)), vec![[0, up.up(value)], [1_000_000, up.up(value)]])
    };
    let lines = vec![
        level("upper limit", upper),
        level("mean", mean),
        level("lower limit", lower),
        line("main", "", drawn().map(|(at, value)| spot(at, value)).collect()),
    ];
    let marks = drawn().map(|(at, value)| {
        let out = outside.contains(&(at as u64));
        let word = format!("value {at}: {}{}", digits(value), if out { ", does not belong" } else { "" });
        PictureMark { look: if out { "out" } else { "point" }.to_owned(), at: spot(at, value), word }
    });
    let all = if skipped > 0 {
        format!("The last {DRAWN} of {} values", values.len())
    } else {
        format!("{} values", values.len())
    };
    let out = if outside.is_empty() { "none lies outside".to_owned() } else { format!("{} outside", outside.len()) };
    let words = format!("{all} in the order they were found, between {} and {}; {out}.", digits(lower), digits(upper));
    let whole: Vec<f64> = across.round_numbers().into_iter().filter(|at| at.fract() == 0.0 && *at >= 1.0).collect();
    Some(FigurePicture {
        across: axis("Place in the row", across.ticks(Side::across, &whole, digits)),
        up: axis("Value", up.ticks(Side::up, &up.round_numbers(), digits)),
        lines,
        marks: marks.collect(),
        words,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(name: &str, inputs: &[(&str, &str)]) -> Option<FigurePicture> {
        let answer = figure::reckon(name, inputs.iter().copied()).ok()?;
        picture(&answer, &Given::read(figure::find(name)?, inputs.iter().copied()).ok()?)
    }

    #[test]
    fn everything_drawn_lies_inside_and_says_what_it_is() {
        let points = ("points", "20C:10h,25C:6h,30C:4h");
        let law = drawn("cure-law", &[points, ("at", "10,40")]);
        let finish = drawn("cure-finish", &[points, ("trace", "0h:22C,3h:14C,7h:24C"), ("minimum", "15C")]);
        let never = drawn("cure-finish", &[points, ("trace", "0h:5C"), ("minimum", "15C")]);
        let chart = drawn("individuals-chart", &[("values", "1,2,1,2,1,2,9")]);
        let looks = |picture: &Option<FigurePicture>, look: &str| {
            picture.iter().flat_map(|one| &one.lines).filter(|line| line.look == look).count()
        };
        assert_eq!((looks(&law, "edge"), looks(&law, "main"), looks(&law, "beyond")), (2, 1, 2));
        assert_eq!((looks(&finish, "gate"), looks(&finish, "level"), looks(&never, "gate")), (3, 1, 0));
        assert_eq!(chart.iter().flat_map(|one| &one.marks).filter(|mark| mark.look == "out").count(), 1);
        for one in [law, finish, never, chart] {
            let Some(one) = one else { panic!("each has a picture") };
            let on_lines = one.lines.iter().flat_map(|line| &line.points);
            let spots: Vec<&[i64; 2]> = on_lines.chain(one.marks.iter().map(|mark| &mark.at)).collect();
            assert!(spots.iter().flat_map(|spot| spot.iter()).all(|at| (0..=1_000_000).contains(at)), "{one:?}");
            assert!(one.across.ticks.len() > 1 && one.up.ticks.len() > 1 && one.words.ends_with('.'), "{one:?}");
        }
    }
}
