//! All 75 pots of the matrix: ours beside a Rust crate for differential equations (Dormand and Prince of order five, and
//! the one of order eight) and beside CVODE (Adams and BDF), each at the loosest tolerance at which the error measured
//! over all 75 is no larger than ours. The crate is given our right-hand side; the peers are spared the instant and the
//! height of the peak, and go on as long as ours. The crate's curve of order eight is coarser than its steps, so that
//! there both instants are found by a few short runs from the step before instead.

use super::{Peer, peers, timed};
use differential_equations::prelude::*;
use glue::cure::ode::Tolerance as Ours;
use glue::pot::lumped::{self, TOLERANCE};
use glue::pot::{FILM, GLUE, HORIZON_S, Pot, Vessel, WALL};
use std::hint::black_box;
use std::process::Command;

/// Conversion limit and gel point.
const LEVELS: [f64; 2] = [GLUE.work, GLUE.gel];
/// Conversion limit and gel point of every pot, s; values of the right-hand side.
type Done = (Vec<f64>, usize);

fn matrix() -> Vec<Pot> {
    let vessels = [Vessel::Cup, Vessel::Tray(0.006), Vessel::Tray(0.012)];
    let grams = [25.0, 50.0, 100.0, 200.0, 500.0];
    let celsius = [15.0, 20.0, 25.0, 30.0, 35.0];
    let pot = |vessel, g: f64, c: f64| Pot::fresh(GLUE, g / 1e3, vessel, c + 273.15, c + 273.15);
    let all = vessels.into_iter().flat_map(|v| grams.into_iter().flat_map(move |g| celsius.map(|c| pot(v, g, c))));
    all.collect()
}

fn ours(pots: &[Pot], tolerance: &Ours<2>) -> Done {
    let mut done = (Vec::new(), 0);
    for pot in pots {
        let course = lumped::run(pot, tolerance).expect("it converges");
        done.0.extend([course.work, course.gel].map(|at| at.expect("it gels")));
        done.1 += course.done.calls as usize;
    }
    done
}

/// Ours at another relative tolerance, the floors in proportion.
fn tolerance(relative: f64) -> Ours<2> {
    Ours { relative, absolute: [relative * 1e-2, relative * 1e2], ..TOLERANCE }
}

/// The floors of all: a hundredth of the relative tolerance for conversion, a hundredfold of it for kelvin.
fn floors(relative: f64) -> Vec<f64> {
    vec![relative * 1e-2, relative * 1e2]
}

/// What a pot loses, 1/s.
fn loss(pot: &Pot) -> f64 {
    let (area, inside) = pot.vessel.shape(pot.mass, &pot.glue);
    area / (1.0 / FILM + WALL + inside) / (pot.mass * pot.glue.capacity)
}

/// The same balance for the crate.
struct Balance {
    loss: f64,
    air: f64,
}

impl Balance {
    fn of(pot: &Pot) -> Balance {
        Balance { loss: loss(pot), air: pot.air[0].1 }
    }
}

impl ODE<f64, [f64; 2]> for Balance {
    fn diff(&self, _: f64, y: &[f64; 2], slope: &mut [f64; 2]) {
        let rate = GLUE.kinetics.rate(y[0], y[1]);
        *slope = [rate, GLUE.heat / GLUE.capacity * rate - self.loss * (y[1] - self.air)];
    }
}

/// Looks for both levels and stops where ours stops.
struct Levels<'a> {
    /// Instants found on the crate's own continuous curve, halving as ours does.
    found: &'a mut [f64; 2],
    /// If wanted, the step before each: instant and values.
    before: Option<&'a mut [(f64, [f64; 2]); 2]>,
}

impl Levels<'_> {
    fn look<I>(&mut self, level: usize, (from, to): (f64, f64), earlier: &[f64; 2], curve: &mut I)
    where
        I: Interpolation<f64, [f64; 2]> + ?Sized,
    {
        let (mut low, mut high) = (from, to);
        for _ in 0..50 {
            let middle = (low + high) / 2.0;
            let below = curve.interpolate(middle).is_ok_and(|y| y[0] < LEVELS[level]);
            (low, high) = if below { (middle, high) } else { (low, middle) };
        }
        if let Some(before) = &mut self.before {
            before[level] = (from, *earlier);
        }
        self.found[level] = high;
    }
}

impl Solout<f64, [f64; 2]> for Levels<'_> {
    fn solout<I>(
        &mut self,
        now: f64,
        before: f64,
        y: &[f64; 2],
        earlier: &[f64; 2],
        curve: &mut I,
        _: &mut Solution<f64, [f64; 2]>,
    ) -> ControlFlag<f64, [f64; 2]>
    where
        I: Interpolation<f64, [f64; 2]> + ?Sized,
    {
        for (level, conversion) in LEVELS.into_iter().enumerate() {
            if self.found[level].is_nan() && y[0] >= conversion {
                self.look(level, (before, now), earlier, curve);
            }
        }
        let spent = y[0] > 0.999 || (y[0] > 0.6 && earlier[1] > y[1]);
        if spent && !self.found[1].is_nan() { ControlFlag::Terminate } else { ControlFlag::Continue }
    }
}

fn by_fifth(pots: &[Pot], relative: f64) -> Done {
    let mut done = (Vec::new(), 0);
    for pot in pots {
        let (balance, mut found) = (Balance::of(pot), [f64::NAN; 2]);
        let method = ExplicitRungeKutta::dopri5().rtol(relative).atol(floors(relative)).max_steps(1_000_000);
        let problem = IVP::ode(&balance, 0.0, HORIZON_S, [pot.reacted, pot.start]);
        let end = problem.method(method).solout(Levels { found: &mut found, before: None }).solve();
        done.1 += end.expect("it converges").evals.function;
        done.0.extend(found);
    }
    done
}

fn by_eighth(pots: &[Pot], relative: f64) -> Done {
    let mut done = (Vec::new(), 0);
    for pot in pots {
        let (balance, mut found) = (Balance::of(pot), [f64::NAN; 2]);
        let mut before = [(0.0, [0.0; 2]); 2];
        let run = |from: f64, to: f64, start: [f64; 2]| {
            let method = ExplicitRungeKutta::dop853().rtol(relative).atol(floors(relative)).max_steps(1_000_000);
            IVP::ode(&balance, from, to, start).method(method)
        };
        let levels = Levels { found: &mut found, before: Some(&mut before) };
        let end = run(0.0, HORIZON_S, [pot.reacted, pot.start]).solout(levels).solve();
        done.1 += end.expect("it converges").evals.function;
        for (((from, start), level), mut at) in before.into_iter().zip(LEVELS).zip(found) {
            for _ in 0..6 {
                let end = run(from, at, start).solve().expect("it converges");
                let [a, kelvin] = end.y.last().copied().expect("an end");
                let on = (level - a) / GLUE.kinetics.rate(a, kelvin);
                done.1 += end.evals.function + 1;
                at += on;
                if on.abs() < 1e-3 * relative * at {
                    break;
                }
            }
            done.0.push(at);
        }
    }
    done
}

fn cvode(peer: &mut Peer, method: &str, relative: f64) -> (f64, Done) {
    let answer = peer.ask(&format!("{method} {relative:e} {:e} {:e}", relative * 1e-2, relative * 1e2));
    (answer[0], (answer[2..].to_vec(), answer[1] as usize))
}

fn error(times: &[f64], exact: &[f64]) -> f64 {
    let off = times.iter().zip(exact).map(|(at, exact)| (at / exact - 1.0).abs());
    off.fold(0.0, |worst, one| if one > worst || one.is_nan() { one } else { worst })
}

/// The loosest of a ladder of tolerances whose measured error is no larger than ours.
fn tuned(mut run: impl FnMut(f64) -> Vec<f64>, exact: &[f64], wanted: f64) -> f64 {
    let ladder = (16..104).map(|eighth| libm::pow(10.0, -f64::from(eighth) / 8.0));
    ladder.into_iter().find(|relative| error(&run(*relative), exact) <= wanted).expect("one is fine enough")
}

pub fn run() {
    let pots = matrix();
    let path = peers("pots.txt");
    let lines: Vec<String> = pots.iter().map(|pot| format!("{:?} {:?}\n", loss(pot), pot.air[0].1)).collect();
    std::fs::write(&path, lines.concat()).expect("room for the pots");
    let mut command = Command::new(peers("pots"));
    command.arg(&path);
    let mut peer = Peer::start(command);
    let exact = by_eighth(&pots, 1e-13).0;
    let others = [
        ("the crate's order 5 at 1e-13", by_fifth(&pots, 1e-13).0),
        ("CVODE's Adams at 1e-12", cvode(&mut peer, "adams", 1e-12).1.0),
        ("ours at 1e-12", ours(&pots, &tolerance(1e-12)).0),
    ];
    println!("pot matrix, {} pots; reference: the crate's order 8 at 1e-13", pots.len());
    for (name, times) in others {
        println!("  {name} differs from it by {:.1e}", error(&times, &exact));
    }
    for relative in [1e-6, TOLERANCE.relative] {
        level(&pots, &mut peer, &exact, relative);
    }
}

fn level(pots: &[Pot], peer: &mut Peer, exact: &[f64], relative: f64) {
    let own = tolerance(relative);
    let wanted = error(&ours(pots, &own).0, exact);
    let fifth = tuned(|r| by_fifth(pots, r).0, exact, wanted);
    let eighth = tuned(|r| by_eighth(pots, r).0, exact, wanted);
    let adams = tuned(|r| cvode(peer, "adams", r).1.0, exact, wanted);
    let bdf = tuned(|r| cvode(peer, "bdf", r).1.0, exact, wanted);
    let mut rows: [(&str, f64, f64, Done); 5] = [
        ("ours", relative, f64::INFINITY, Done::default()),
        ("crate, order 5", fifth, f64::INFINITY, Done::default()),
        ("crate, order 8", eighth, f64::INFINITY, Done::default()),
        ("CVODE, Adams", adams, f64::INFINITY, Done::default()),
        ("CVODE, BDF", bdf, f64::INFINITY, Done::default()),
    ];
    for _ in 0..25 {
        for (i, (_, relative, best, done)) in rows.iter_mut().enumerate() {
            let (seconds, found) = match i {
                0 => timed(|| black_box(ours(black_box(pots), &own))),
                1 => timed(|| black_box(by_fifth(black_box(pots), *relative))),
                2 => timed(|| black_box(by_eighth(black_box(pots), *relative))),
                _ => cvode(peer, if i == 3 { "adams" } else { "bdf" }, *relative),
            };
            *best = best.min(seconds);
            *done = found;
        }
    }
    println!("  ours at {relative:.0e}, worst error of 150 instants {wanted:.1e}:");
    let base = (rows[0].2, rows[0].3.1 as f64);
    for (name, relative, seconds, (times, calls)) in &rows {
        println!(
            "  {name:<15} tolerance {relative:.1e}  error {:.1e}  {:7.3} ms ({:.2} of ours)  {calls} calls ({:.2} of ours)",
            error(times, exact),
            seconds * 1e3,
            seconds / base.0,
            *calls as f64 / base.1
        );
    }
}
