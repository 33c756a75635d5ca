//! A pot that is hotter inside: a cup in rings and layers, a tray in layers, by finite volumes.
//!
//! Heat flows between cells and out through half a cell, the wall and the air film; each cell reacts by its own
//! temperature. Conduction makes this stiff, so time goes by a stabilised explicit rule of second order (Sommeijer,
//! Shampine and Verwer, J. Comput. Appl. Math. 88, 1998, 315; coefficients from memory, held by the tests to a closed
//! form and to second order).

use super::{FILM, HORIZON_S, HOT_K, Pot, SAFETY, Vessel, WALL, cup_width};
use crate::cure::ode::{Unsolved, Work};

/// What happens at the hottest point and on average; an instant is None where it does not happen within sixty days.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Inside {
    /// First point at the conversion limit, s.
    pub work: Option<f64>,
    /// Mean conversion at it, s.
    pub mean_work: Option<f64>,
    /// First point gelled, s.
    pub gel: Option<f64>,
    /// Mean conversion at the gel point, s.
    pub mean_gel: Option<f64>,
    /// First point at 50 °C, s.
    pub hot: Option<f64>,
    /// Highest temperature anywhere, K.
    pub peak_k: f64,
    /// When, s.
    pub peak: f64,
    /// Work of the solver; a call is one value of the whole right-hand side.
    pub done: Work,
}

impl Inside {
    /// The earlier of the conversion limit and 50 °C at the hottest point, s.
    pub fn first(&self) -> Option<f64> {
        match (self.work, self.hot) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        }
    }
}

/// How fine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// Cells along the radius of a cup, and along half its height or half a tray's depth; 2 to 128.
    pub cells: usize,
    /// Relative tolerance in time.
    pub relative: f64,
}

/// Ten cells each way: the hottest point's time within 0.1 % of sixty-four.
pub const GRID: Grid = Grid { cells: 10, relative: 1e-5 };
const MOST: u32 = 100_000;
/// Most values of the right-hand side: a usual pot needs 600 to 2 400 with ten cells.
const MOST_CALLS: u32 = 200_000;
/// Most stages of a step; where conduction asks for more, the step is shortened.
const MOST_STAGES: usize = 400;

/// Cells and what flows between them, 1/s.
struct Cells<'a> {
    pot: &'a Pot,
    across: usize,
    inward: Vec<f64>,
    outward: Vec<f64>,
    layer: f64,
    top: f64,
    up: usize,
}

impl Cells<'_> {
    fn new(pot: &Pot, cells: usize) -> Cells<'_> {
        let glue = &pot.glue;
        let store = glue.density * glue.capacity;
        let n = cells as f64;
        let out = |half: f64| 1.0 / (1.0 / FILM + WALL + half / glue.conductivity);
        let (across, half) = match pot.vessel {
            Vessel::Cup => (cells, cup_width(pot.mass / glue.density) / 2.0),
            Vessel::Tray(depth) => (1, depth / 2.0),
        };
        let d = half / n;
        let between = glue.conductivity / d;
        let ring = |i: usize, side: usize, flow: f64| {
            let (low, face) = (i as f64, (i + side) as f64);
            // Face by volume of a ring from low d to (low + 1) d.
            flow * 2.0 * face / ((2.0 * low + 1.0) * d) / store
        };
        let round = across > 1;
        let inward = (0..across).map(|i| if round { ring(i, 0, between) } else { 0.0 }).collect();
        let outward = (0..across)
            .map(|i| if round { ring(i, 1, if i + 1 == across { out(d / 2.0) } else { between }) } else { 0.0 })
            .collect();
        let (layer, top) = (between / d / store, out(d / 2.0) / d / store);
        Cells { pot, across, inward, outward, layer, top, up: cells }
    }

    fn count(&self) -> usize {
        self.across * self.up
    }

    /// Slopes of all conversions, then of all temperatures.
    fn slopes(&self, t: f64, y: &[f64], into: &mut [f64]) {
        let count = self.count();
        let air = self.pot.air_at(t);
        let (a, kelvin) = y.split_at(count);
        let (da, dt) = into.split_at_mut(count);
        let rise = self.pot.glue.heat / self.pot.glue.capacity;
        let kinetics = self.pot.glue.kinetics;
        let at = |k: usize| kelvin.get(k).copied().unwrap_or(air);
        for (k, (((own, a), da), dt)) in kelvin.iter().zip(a).zip(da).zip(dt).enumerate() {
            let (j, i) = (k / self.across, k % self.across);
            let outer = if i + 1 < self.across { at(k + 1) } else { air };
            let inner = if i > 0 { at(k - 1) } else { *own };
            let (above, upward) = if j + 1 < self.up { (at(k + self.across), self.layer) } else { (air, self.top) };
            let below = if j > 0 { at(k - self.across) } else { *own };
            let (out, inw) = (self.outward.get(i).copied().unwrap_or(0.0), self.inward.get(i).copied().unwrap_or(0.0));
            *da = kinetics.rate(*a, *own);
            *dt = rise * *da
                + out * (outer - own)
                + inw * (inner - own)
                + upward * (above - own)
                + self.layer * (below - own);
        }
    }

    /// A bound of how fast anything decays, 1/s.
    fn stiffness(&self, y: &[f64]) -> f64 {
        let hottest = y.iter().skip(self.count()).copied().fold(0.0, f64::max);
        let (k1, k2) = self.pot.glue.kinetics.constants(hottest);
        let across = self.outward.iter().zip(&self.inward).map(|(a, b)| a + b).fold(0.0, f64::max);
        2.0 * (across + self.layer + self.layer.max(self.top)) + 2.0 * (k1 + k2)
    }

    /// Mean conversion: layers are alike, rings count by their area.
    fn mean(&self, y: &[f64]) -> f64 {
        let weight = |k: usize| (2 * (k % self.across) + 1) as f64;
        let sum: f64 = y.iter().take(self.count()).enumerate().map(|(k, a)| weight(k) * a).sum();
        sum / (self.across * self.across * self.up) as f64
    }
}

/// Runs a pot cell by cell, from `pot.start` throughout.
///
/// Errors: the solver did not converge; fewer than two cells or more than 128.
pub fn run(pot: &Pot, grid: Grid) -> Result<Inside, Unsolved> {
    if !(2..=128).contains(&grid.cells) {
        return Err(Unsolved::Cells(grid.cells));
    }
    let cells = Cells::new(pot, grid.cells);
    let count = cells.count();
    let mut y = vec![pot.reacted; count];
    y.resize(2 * count, pot.start);
    let mut slope = vec![0.0; 2 * count];
    cells.slopes(0.0, &y, &mut slope);
    let mut inside = Inside { peak_k: pot.start, ..Inside::default() };
    begin(pot, &mut inside);
    let mut work = Work { calls: 1, ..Work::default() };
    let (mut t, mut h) = (0.0, 1.0);
    let mut stages = Stages::new(2 * count);
    while t < HORIZON_S {
        if work.steps + work.rejected > MOST || work.calls > MOST_CALLS {
            return Err(Unsolved::TooManySteps(t));
        }
        h = pot.air.iter().map(|knot| knot.0 - t).filter(|ahead| *ahead > 1e-6).fold(h, f64::min);
        let stiffness = cells.stiffness(&y);
        let wanted = |h: f64| (libm::sqrt(1.0 + 1.54 * h * stiffness) as usize).saturating_add(1);
        if wanted(h) > MOST_STAGES {
            h = (MOST_STAGES * MOST_STAGES) as f64 / 1.6 / stiffness;
        }
        let count = wanted(h).min(MOST_STAGES);
        stages.step(&cells, t, h, &y, &slope, count.max(2));
        work.calls += count.max(2) as u32;
        let error = stages.error(h, &y, &slope, grid.relative);
        if !error.is_finite() {
            return Err(Unsolved::NoNumber(t));
        }
        let grow = (0.8 * libm::pow(error.max(1e-9), -1.0 / 3.0)).clamp(0.1, 4.0);
        if error > 1.0 {
            work.rejected += 1;
            h *= grow;
            if h < 1e-9 {
                return Err(Unsolved::TooStiff(t));
            }
            continue;
        }
        work.steps += 1;
        let over = note(&cells, &mut inside, &Span { t, h, y: &y, slope: &slope, stages: &stages });
        core::mem::swap(&mut y, &mut stages.now);
        core::mem::swap(&mut slope, &mut stages.slope);
        t += h;
        h = (h * grow).min(3_600.0);
        if over {
            break;
        }
    }
    inside.done = work;
    Ok(inside)
}

/// What has happened before the start.
fn begin(pot: &Pot, inside: &mut Inside) {
    let at = |yes: bool| yes.then_some(0.0);
    (inside.work, inside.gel) = (at(pot.reacted >= pot.glue.work), at(pot.reacted >= pot.glue.gel));
    (inside.mean_work, inside.mean_gel) = (inside.work, inside.gel);
    inside.hot = at(pot.start >= HOT_K);
}

/// Values on the way through a step.
struct Stages {
    before: Vec<f64>,
    last: Vec<f64>,
    now: Vec<f64>,
    slope: Vec<f64>,
}

/// Chebyshev polynomial, first and second derivative, at a place.
type Triple = (f64, f64, f64);

impl Stages {
    fn new(size: usize) -> Stages {
        let empty = || vec![0.0; size];
        Stages { before: empty(), last: empty(), now: empty(), slope: empty() }
    }

    /// One step of `count` stages; leaves the end in `now` and its slope in `slope`.
    fn step(&mut self, cells: &Cells, t: f64, h: f64, y: &[f64], f0: &[f64], count: usize) {
        let s = count as f64;
        let w0 = 1.0 + 2.0 / 13.0 / (s * s);
        let table = chebyshev(w0, count);
        let get = |j: usize| table.get(j).copied().unwrap_or((1.0, 0.0, 0.0));
        let (_, d1, d2) = get(count);
        let w1 = d1 / d2;
        let second = get(2).2 / (get(2).1 * get(2).1);
        let b = |j: usize| match j {
            0 => second,
            1 => 1.0 / w0,
            _ => get(j).2 / (get(j).1 * get(j).1),
        };
        let c = |j: usize| if j < 2 { w1 * get(2).2 / get(2).1 / (4.0 * w0) } else { w1 * get(j).2 / get(j).1 };
        let first = b(1) * w1;
        self.before.copy_from_slice(y);
        for ((to, y), f) in self.last.iter_mut().zip(y).zip(f0) {
            *to = y + first * h * f;
        }
        for j in 2..=count {
            let (mu, nu, tilde) = (2.0 * b(j) * w0 / b(j - 1), -b(j) / b(j - 2), 2.0 * b(j) * w1 / b(j - 1));
            let gamma = -(1.0 - b(j - 1) * get(j - 1).0) * tilde;
            cells.slopes(t + c(j - 1) * h, &self.last, &mut self.slope);
            let all = self.now.iter_mut().zip(y).zip(f0).zip(&self.last).zip(&self.before).zip(&self.slope);
            for (((((now, y), f0), last), before), f) in all {
                *now = (1.0 - mu - nu) * y + mu * last + nu * before + h * (tilde * f + gamma * f0);
            }
            core::mem::swap(&mut self.before, &mut self.last);
            core::mem::swap(&mut self.last, &mut self.now);
        }
        core::mem::swap(&mut self.last, &mut self.now);
        cells.slopes(t + h, &self.now, &mut self.slope);
    }

    /// Root mean square of the estimated error by the tolerance: 0.8 (y0 - y1) + 0.4 h (f0 + f1).
    fn error(&self, h: f64, y: &[f64], f0: &[f64], relative: f64) -> f64 {
        let half = y.len() / 2;
        let mut sum = 0.0;
        for (k, (((y, f0), now), f1)) in y.iter().zip(f0).zip(&self.now).zip(&self.slope).enumerate() {
            let floor = if k < half { 0.1 } else { 0.0 };
            let scaled = (0.8 * (y - now) + 0.4 * h * (f0 + f1)) / (relative * (floor + y.abs().max(now.abs())));
            sum += scaled * scaled;
        }
        libm::sqrt(sum / y.len() as f64)
    }
}

fn chebyshev(w: f64, count: usize) -> Vec<Triple> {
    let mut table = vec![(1.0, 0.0, 0.0), (w, 1.0, 0.0)];
    let (mut a, mut b) = ((1.0, 0.0, 0.0), (w, 1.0, 0.0));
    for _ in 2..=count {
        let next: Triple = (2.0 * w * b.0 - a.0, 2.0 * b.0 + 2.0 * w * b.1 - a.1, 4.0 * b.1 + 2.0 * w * b.2 - a.2);
        (a, b) = (b, next);
        table.push(next);
    }
    table
}

/// A step taken.
struct Span<'a> {
    t: f64,
    h: f64,
    y: &'a [f64],
    slope: &'a [f64],
    stages: &'a Stages,
}

impl Span<'_> {
    /// One value at both ends with its slopes.
    fn ends(&self, k: usize) -> [f64; 4] {
        let get = |all: &[f64]| all.get(k).copied().unwrap_or(f64::NAN);
        [get(self.y), get(&self.stages.now), get(self.slope), get(&self.stages.slope)]
    }

    /// Where a cubic through both ends crosses a level; None: it does not, upwards.
    fn crossing(&self, [y0, y1, f0, f1]: [f64; 4], level: f64) -> Option<f64> {
        if !(y0 < level && y1 >= level) {
            return None;
        }
        let curve = |x: f64| {
            let (up, bend) = (y1 - y0, self.h * f0 - (y1 - y0));
            y0 + x * (up + (1.0 - x) * (bend + x * (up - self.h * f1 - bend)))
        };
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if curve(middle) < level { low = middle } else { high = middle }
        }
        Some(self.t + high * self.h)
    }
}

/// Place and value of the largest.
fn largest(values: &[f64]) -> (usize, f64) {
    values.iter().copied().enumerate().fold((0, f64::NEG_INFINITY), |best, one| if one.1 > best.1 { one } else { best })
}

/// Looks for what happens along a step; true: nothing more is to be seen.
fn note(cells: &Cells, inside: &mut Inside, span: &Span) -> bool {
    let count = cells.count();
    let glue = &cells.pot.glue;
    let (a, kelvin) = span.stages.now.split_at(count);
    let (most, _) = largest(a);
    let (hottest, hot_k) = largest(kelvin);
    let mean = [span.y, &span.stages.now, span.slope, &span.stages.slope].map(|all| cells.mean(all));
    let first = span.ends(most);
    let heat = span.ends(count + hottest);
    inside.work = inside.work.or_else(|| span.crossing(first, glue.work));
    inside.gel = inside.gel.or_else(|| span.crossing(first, glue.gel));
    inside.mean_work = inside.mean_work.or_else(|| span.crossing(mean, glue.work));
    inside.mean_gel = inside.mean_gel.or_else(|| span.crossing(mean, glue.gel));
    inside.hot = inside.hot.or_else(|| span.crossing(heat, HOT_K));
    if hot_k > inside.peak_k {
        (inside.peak_k, inside.peak) = (hot_k, span.t + span.h);
    }
    let settled = cells.pot.air.last().is_none_or(|knot| span.t >= knot.0);
    let cooling = hot_k < inside.peak_k - 0.5 || heat[3] < 0.0;
    inside.mean_gel.is_some() && cooling && mean[1] > 0.6 && settled
}

/// The safety factor on the lumped model and the hottest point of this one, whichever is earlier, s.
///
/// Errors: a solver that did not converge.
pub fn advised(pot: &Pot, lumped: &super::lumped::Course) -> Result<Option<f64>, Unsolved> {
    let inside = run(pot, GRID)?.first();
    Ok(match (lumped.advised(), inside) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b.map(|s| SAFETY * s)),
    })
}
