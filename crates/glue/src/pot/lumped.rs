//! A pot of one temperature: m cp dT/dt = m dH da/dt - U A (T - air), 1/U = 1/h + wall + inside.
//!
//! Integrated with Dormand and Prince's pair, restarted at every knot of the air; what happens on the way is found on
//! the step's continuous curve.

use super::{FILM, HORIZON_S, HOT_K, Pot, SAFETY, WALL};
use crate::cure::ode::{Step, Tolerance, Unsolved, Work, solve};

/// What a pot does; an instant is None where it does not happen within sixty days.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Course {
    /// Conversion limit of working, s.
    pub work: Option<f64>,
    /// Temperature there, K.
    pub work_k: Option<f64>,
    /// Gel point, s.
    pub gel: Option<f64>,
    /// First at 50 °C, s.
    pub hot: Option<f64>,
    /// First at 60 °C, s.
    pub warned: Option<f64>,
    /// Highest temperature, K.
    pub peak_k: f64,
    /// When, s.
    pub peak: f64,
    /// Work of the solver.
    pub done: Work,
}

impl Course {
    /// The safety factor times the earlier of the conversion limit and 50 °C, s.
    pub fn advised(&self) -> Option<f64> {
        let first = match (self.work, self.hot) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        first.map(|s| SAFETY * s)
    }
}

/// How exact by default: relative 1e-8.
pub const TOLERANCE: Tolerance<2> = Tolerance { relative: 1e-8, absolute: [1e-10, 1e-6], longest: 3_600.0 };
/// 60 °C.
const WARNED_K: f64 = 333.15;

/// Runs a pot.
///
/// Errors: the solver did not converge.
pub fn run(pot: &Pot, tolerance: &Tolerance<2>) -> Result<Course, Unsolved> {
    let mut course = Course { peak_k: pot.start, ..Course::default() };
    begin(pot, &mut course);
    let rhs = balance(pot);
    let mut knots: Vec<f64> = pot.air.iter().map(|knot| knot.0).filter(|at| *at > 0.0 && *at < HORIZON_S).collect();
    let settled = knots.last().copied().unwrap_or(0.0);
    knots.push(HORIZON_S);
    let mut state = [pot.reacted, pot.start];
    let mut from = 0.0;
    let mut work = Work::default();
    for to in knots {
        let mut over = false;
        let (_, end) = solve(&rhs, (from, to), state, tolerance, &mut work, |step| {
            note(&mut course, step, pot, &rhs);
            let spent = step.end[0] > 0.999 || (step.slope[1] < 0.0 && step.end[0] > 0.6);
            over = course.gel.is_some() && spent && step.from >= settled;
            !over
        })?;
        if over {
            break;
        }
        (state, from) = (end, to);
    }
    course.done = work;
    Ok(course)
}

/// Conversion and temperature, K, of a pot after so long, s.
///
/// Errors: the solver did not converge.
pub fn after(pot: &Pot, seconds: f64, tolerance: &Tolerance<2>) -> Result<(f64, f64), Unsolved> {
    let rhs = balance(pot);
    let mut knots: Vec<f64> = pot.air.iter().map(|knot| knot.0).filter(|at| *at > 0.0 && *at < seconds).collect();
    knots.push(seconds.max(0.0));
    let (mut state, mut from) = ([pot.reacted, pot.start], 0.0);
    let mut work = Work::default();
    for to in knots {
        if to > from {
            (_, state) = solve(&rhs, (from, to), state, tolerance, &mut work, |_| true)?;
        }
        from = to;
    }
    Ok((state[0], state[1]))
}

/// The pot's conversion and temperature, K, from mixing to an instant, s: four points of each step. Equal to what [`run`]
/// goes through.
///
/// Errors: the solver did not converge.
pub fn path(pot: &Pot, until: f64, tolerance: &Tolerance<2>) -> Result<Vec<(f64, [f64; 2])>, Unsolved> {
    let rhs = balance(pot);
    let knots = pot.air.iter().map(|knot| knot.0).filter(|at| *at > 0.0 && *at < until);
    let mut state = [pot.reacted, pot.start];
    let mut path = vec![(0.0, state)];
    let mut from = 0.0;
    for to in knots.chain([until]) {
        (from, state) = solve(&rhs, (from, to), state, tolerance, &mut Work::default(), |step| {
            path.extend([0.25, 0.5, 0.75, 1.0].map(|share| (step.from + share * step.length, step.at(share))));
            true
        })?;
    }
    Ok(path)
}

/// The right-hand side: conversion, 1/s, and temperature, K/s.
fn balance(pot: &Pot) -> impl Fn(f64, &[f64; 2]) -> [f64; 2] + '_ {
    let glue = pot.glue;
    let (area, inside) = pot.vessel.shape(pot.mass, &glue);
    let loss = area / (1.0 / FILM + WALL + inside) / (pot.mass * glue.capacity);
    let rise = glue.heat / glue.capacity;
    move |t, y| {
        let rate = glue.kinetics.rate(y[0], y[1]);
        [rate, rise * rate - loss * (y[1] - pot.air_at(t))]
    }
}

/// What has happened before the start.
fn begin(pot: &Pot, course: &mut Course) {
    let at = |yes: bool| yes.then_some(0.0);
    course.work = at(pot.reacted >= pot.glue.work);
    course.work_k = course.work.map(|_| pot.start);
    course.gel = at(pot.reacted >= pot.glue.gel);
    course.hot = at(pot.start >= HOT_K);
    course.warned = at(pot.start >= WARNED_K);
}

type Rhs<'a> = &'a dyn Fn(f64, &[f64; 2]) -> [f64; 2];

/// Looks for what happens along a step.
fn note(course: &mut Course, step: &Step<2>, pot: &Pot, rhs: Rhs) {
    let glue = &pot.glue;
    if course.work.is_none()
        && let Some((at, y)) = crossing(step, |y| y[0] - glue.work)
    {
        (course.work, course.work_k) = (Some(at), Some(y[1]));
    }
    if course.gel.is_none() {
        course.gel = crossing(step, |y| y[0] - glue.gel).map(|found| found.0);
    }
    for (instant, kelvin) in [(&mut course.hot, HOT_K), (&mut course.warned, WARNED_K)] {
        if instant.is_none() {
            *instant = crossing(step, |y| y[1] - kelvin).map(|found| found.0);
        }
    }
    top(course, step, rhs);
}

/// Where something crosses 0 along a step, s, and the values there.
fn crossing(step: &Step<2>, of: impl Fn(&[f64; 2]) -> f64) -> Option<(f64, [f64; 2])> {
    step.crossing(of).map(|share| (step.from + share * step.length, step.at(share)))
}

/// Keeps the highest temperature: at the step's end, or where it turns on the way.
fn top(course: &mut Course, step: &Step<2>, rhs: Rhs) {
    let warming = |share: f64| rhs(step.from + share * step.length, &step.at(share))[1];
    let mut spots = vec![1.0];
    if step.slope[1] < 0.0 && warming(0.0) > 0.0 {
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if warming(middle) > 0.0 { low = middle } else { high = middle }
        }
        spots.push(low);
    }
    for share in spots {
        let kelvin = step.at(share)[1];
        if kelvin > course.peak_k {
            (course.peak_k, course.peak) = (kelvin, step.from + share * step.length);
        }
    }
}
