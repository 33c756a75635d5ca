//! When a limit is reached under a temperature that varies, and how old a glue line is: the clocks' own integral.

use super::law::{POSSIBLE, ZERO_C, through};
use super::shape::{self, POINT, POINTS, TRACE};
use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::air::{Piece, Sort};
use crate::card::{BelowMinimum, Card, Class, Limit, Origin, Point};
use crate::clock::{Clock, Direction, LawKind};
use crate::law::curve::{Curve, Form};
use crate::law::{Law, of_limit};
use crate::number::{GAS, HOUR, MINUTE};
use crate::progress::shape::Body;
use crate::progress::{Course, Sums};
use crate::unit::measure;

const TEMPERATURE: Kind = Kind::between(&measure::CELSIUS, -40.0, 260.0);
const ENERGY: Kind = Kind::between(&measure::ENERGY, POSSIBLE.0, POSSIBLE.1);
const WEEK_H: f64 = 7.0 * 24.0;

/// When a must-reach limit is reached.
pub static CURE_FINISH: Figure = Figure {
    name: "cure-finish",
    about: "When a cure time is reached under a temperature that varies: expected, earliest, latest",
    inputs: &[
        Input::maybe("points", Kind::Shape(POINTS), "ea and point are needed", "times of the sheet, two or more"),
        Input::maybe("ea", ENERGY, "points are needed", "activation energy, beside one point"),
        Input::maybe("point", Kind::Shape(POINT), "points are needed", "the sheet's one point, beside ea"),
        Input::needed("trace", Kind::Shape(TRACE), "temperature of the glue; straight between, the last value is held"),
        Input::maybe("minimum", TEMPERATURE, "cure goes on at any temperature", "below it no progress is credited"),
        Input::maybe("maximum", TEMPERATURE, "no cap", "above it no more progress is credited than there"),
        Input::preset("sensor-error", Kind::between(&measure::KELVIN, 0.0, 10.0), "1K", "half-width"),
        Input::maybe(
            "horizon",
            Kind::between(&measure::HOUR, 0.01, 87_600.0),
            "the larger of 7 d and 6 times the longest stated time",
            "how far ahead to look",
        ),
    ],
    results: &[
        Field::new("finish_h", "h", "Expected; nothing: not within the horizon"),
        Field::new("earliest_h", "h", "Warm sensor, quick side of the law; nothing: not within the horizon"),
        Field::new("latest_h", "h", "Cold sensor, slow side of the law; nothing: not within the horizon"),
        Field::new("progress", "", "Expected share at the trace's end, at most 1"),
    ],
    formula: "P = integral of dt/t(T), done at P = 1; latest at T - error and the slow bound of the law, no faster than \
        at its highest point; earliest at T + error and the quick bound",
    source: "additivity, as for the clocks of a card (docs/science/clocks.md)",
    compute: cure_finish,
};

fn cure_finish(given: &Given) -> Result<Reckoned, Refusal> {
    let (course, longest_h) = asked(given)?;
    let trace = shape::trace(given, "trace")?;
    let error = given.number("sensor-error")?;
    let horizon_h = given.maybe("horizon")?.unwrap_or_else(|| WEEK_H.max(6.0 * longest_h));
    let minimum = given.maybe("minimum")?;
    let mut sums = Sums::new(0.0, ZERO_C);
    let ends_h = along(&mut sums, &course, &trace, [-error, 0.0, error], horizon_h);
    let share = sums.done[1].min(1.0);
    if let Some(last) = trace.last().filter(|_| ends_h < horizon_h) {
        sums.step(&course, &piece((ends_h, last.1), (horizon_h, last.1), [-error, 0.0, error]));
    }
    let hours = |bound: usize| Out::maybe(sums.finished.get(bound).copied().flatten().map(|ms| ms / HOUR));
    let never = sums.finished.iter().any(Option::is_none);
    Ok(Reckoned::new()
        .with("finish_h", hours(1))
        .with("earliest_h", hours(2))
        .with("latest_h", hours(0))
        .number("progress", share)
        .assuming(format!("looked ahead {horizon_h} h; the last temperature of the trace is held"))
        .assuming_if(!given.has("points"), "the activation energy is taken as exact")
        .assuming_if(minimum.is_none(), "no minimum given: cold only slows the cure, which no sheet promises")
        .assuming_if(never, "nothing where it is not reached within the horizon at these temperatures"))
}

/// The limit asked for, and its longest time, h.
fn asked(given: &Given) -> Result<(Course, f64), Refusal> {
    let (law, longest_h) = law(given)?;
    let minimum = given.maybe("minimum")?;
    let law = match given.maybe("maximum")? {
        Some(c) if minimum.is_some_and(|minimum| minimum >= c) => {
            let why = format!("is not above the minimum of {}", given.text("minimum").unwrap_or(""));
            return Err(given.contradicts("maximum", &why));
        }
        Some(c) => Law { curves: law.curves.map(|curve| curve.capped_above(c + ZERO_C)), ..law },
        None => law,
    };
    Ok((course(law, minimum), longest_h))
}

/// Progress at these rising instants, h: cold side, expected, warm side; each at most 1.
pub(super) fn progress(given: &Given, hours: &[f64]) -> Result<Vec<[f64; 3]>, Refusal> {
    let course = asked(given)?.0;
    let trace = shape::trace(given, "trace")?;
    let error = given.number("sensor-error")?;
    let shift = [-error, 0.0, error];
    let mut sums = Sums::new(0.0, ZERO_C);
    let last = trace.last().copied().unwrap_or((0.0, 0.0));
    let far = hours.last().copied().unwrap_or(0.0).max(last.0) + 1.0;
    let knots: Vec<(f64, f64)> = trace.into_iter().chain([(far, last.1)]).collect();
    let mut knots = knots.windows(2).map(|two| piece(two[0], two[1], shift));
    let mut now = knots.next();
    let mut shares = vec![];
    for at in hours.iter().map(|hours| hours * HOUR) {
        while let Some(one) = now.filter(|one| one.to <= at) {
            sums.step(&course, &one);
            now = knots.next();
        }
        if let Some(one) = now.filter(|one| one.from < at) {
            sums.step(&course, &one.part(one.from, at));
            now = Some(one.part(at, one.to));
        }
        shares.push(sums.done.map(|done| done.min(1.0)));
    }
    Ok(shares)
}

/// The law asked for, and its longest time, h.
fn law(given: &Given) -> Result<(Law, f64), Refusal> {
    let point = match (given.has("points"), given.has("ea"), given.has("point")) {
        (true, false, false) => return from_points(given),
        (true, ea, _) => {
            let other = if ea { "ea" } else { "point" };
            return Err(given.contradicts(other, "stands beside points, which give the law already; give one of them"));
        }
        (false, true, true) => given.text("point").unwrap_or(""),
        (false, false, false) => return Err(given.missing("points")),
        (false, has_ea, _) => return Err(given.missing(if has_ea { "point" } else { "ea" })),
    };
    let point = shape::point(given, "point", point)?;
    let energy = given.number("ea")?;
    let law = |minutes: f64| straight(energy, point.celsius, minutes * MINUTE);
    let capped = law(point.high).capped_above(point.celsius + ZERO_C);
    let curves = [capped, law(point.middle()), law(point.low)];
    Ok((made(LawKind::OnePoint, curves, point.high * MINUTE), point.high / 60.0))
}

fn straight(ea_kj: f64, celsius: f64, ms: f64) -> Curve {
    let b = ea_kj * 1e3 / GAS;
    Curve::new(vec![(f64::INFINITY, Form::Straight { a: libm::log(ms) - b / (celsius + ZERO_C), b })])
}

fn made(kind: LawKind, curves: [Curve; 3], longest_ms: f64) -> Law {
    Law { kind, curves, spread: 0.0, longest_ms, points_k: None, range_k: None, sure: Default::default() }
}

/// The law of a card with nothing on it but these points.
fn from_points(given: &Given) -> Result<(Law, f64), Refusal> {
    let points = shape::points(given, "points")?;
    through(given, &points)?;
    let point = |point: &shape::Point| Point {
        at_k: Some(point.celsius + ZERO_C),
        low_ms: point.low * MINUTE,
        high_ms: point.high * MINUTE,
        mass_g: None,
    };
    let points = points.iter().map(point).collect();
    let card = Card {
        class: Class::Other,
        origin: Origin::Sheet,
        limits: vec![Limit { clock: Clock::Clamp, points, counted_from: None, bent: false }],
        together: false,
        minimum_cure_k: None,
        below_minimum: BelowMinimum::Resumes,
        maximum_cure_k: None,
        application_minimum_k: None,
        application_maximum_k: None,
        water_borne: false,
        film_gel: None,
        equivalents: None,
        glass: None,
    };
    let law = card.limits.first().and_then(|limit| of_limit(&card, limit, |_| 1.0));
    let law = law.ok_or_else(|| {
        given.refuse(
            "points",
            "gives no law: it wants two temperatures or more, quicker when hotter, two points within 25 to 110 kJ/mol",
        )
    })?;
    let longest_h = law.longest_ms / HOUR;
    Ok((law, longest_h))
}

fn course(law: Law, minimum_c: Option<f64>) -> Course {
    Course {
        law,
        direction: Direction::MustReach,
        body: Body::Warmer(None),
        minimum: minimum_c.map(|c| (c + ZERO_C, true)),
        fault: false,
        carried: [0.0; 3],
        pending: vec![],
        allowance: 0.0,
    }
}

fn piece(from: (f64, f64), to: (f64, f64), shift: [f64; 3]) -> Piece {
    Piece {
        from: from.0 * HOUR,
        to: to.0 * HOUR,
        a: [from.1 + ZERO_C; 3],
        b: [to.1 + ZERO_C; 3],
        shift,
        sort: Sort::Read,
        long_gap: false,
    }
}

/// Goes along the trace up to the horizon; gives where it stopped, h.
fn along(sums: &mut Sums, course: &Course, trace: &[(f64, f64)], shift: [f64; 3], horizon_h: f64) -> f64 {
    let mut at = 0.0;
    for two in trace.windows(2) {
        let [from, to] = [two[0], two[1]];
        let whole = piece(from, to, shift);
        if to.0 > horizon_h {
            if from.0 < horizon_h {
                sums.step(course, &whole.part(whole.from, horizon_h * HOUR));
            }
            return horizon_h;
        }
        sums.step(course, &whole);
        at = to.0;
    }
    at
}

/// Hours at a reference temperature that a trace amounts to.
pub static EQUIVALENT_AGE: Figure = Figure {
    name: "equivalent-age",
    about: "Hours at a reference temperature that a varying temperature amounts to",
    inputs: &[
        Input::needed("ea", ENERGY, "activation energy"),
        Input::needed("reference", TEMPERATURE, "temperature the age is counted at"),
        Input::needed("trace", Kind::Shape(TRACE), "temperature of the glue; straight between its instants"),
    ],
    results: &[Field::new("equivalent_h", "h", "Age at the trace's end")],
    formula: "t_e = integral of exp[-(Ea/R)(1/T - 1/T_ref)] dt",
    source: "Freiesleben Hansen and Pedersen (1977) as in ASTM C1074, from memory; the clocks' own integral",
    compute: equivalent_age,
};

/// A limit so far away that no trace comes to it, h.
const FAR_H: f64 = 1e30;

fn equivalent_age(given: &Given) -> Result<Reckoned, Refusal> {
    let curve = straight(given.number("ea")?, given.number("reference")?, FAR_H * HOUR);
    let course = course(made(LawKind::OnePoint, [curve.clone(), curve.clone(), curve], FAR_H * HOUR), None);
    let trace = shape::trace(given, "trace")?;
    if trace.len() < 2 {
        return Err(given.refuse("trace", "has one instant only, at which nothing has aged"));
    }
    let mut sums = Sums::new(0.0, ZERO_C);
    along(&mut sums, &course, &trace, [0.0; 3], f64::INFINITY);
    Ok(Reckoned::new()
        .number("equivalent_h", sums.done[1] * FAR_H)
        .assuming("one activation energy holds at all temperatures of the trace"))
}
