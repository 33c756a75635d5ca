//! What an answer passes through on its way: the pot's temperature, the growing cure, the progress along a trace. The
//! same inputs and the same models as the answers, for whoever draws them.

use super::{Given, cure, finish, joint_age, lamination, pot};
use crate::cure::glass::GENERIC as GLASS;
use crate::cure::isothermal::{Isothermal, Reached};
use crate::cure::kinetics::{GEL, GENERIC};
use crate::cure::network::Mix;
use crate::joint::Lap;
use crate::pot::lumped;

const ZERO_C: f64 = 273.15;

/// The lamination that is asked for. None: the inputs name none.
pub fn bent(given: &Given) -> Option<crate::lamination::Wanted> {
    lamination::wanted(given).ok()
}

/// How a joint is spread and clamped. None: the inputs do not say.
pub fn assembly(given: &Given) -> Option<crate::along::Work> {
    joint_age::work(given).ok()
}

/// A point of a pot's course.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InPot {
    /// Since mixing, min.
    pub minutes: f64,
    /// Mean temperature, °C.
    pub celsius: f64,
    /// Share reacted.
    pub conversion: f64,
}

/// The lumped pot up to an instant, min, with the conversions that end its work and at which it gels. None: not solved.
pub fn pot(given: &Given, until_min: f64) -> Option<(Vec<InPot>, f64, f64)> {
    let pot = pot::pot_of(given).ok()?.0;
    let at = |(s, y): (f64, [f64; 2])| InPot { minutes: s / 60.0, celsius: y[1] - ZERO_C, conversion: y[0] };
    let path = lumped::path(&pot, until_min * 60.0, &lumped::TOLERANCE).ok()?;
    Some((path.into_iter().map(at).collect(), pot.glue.work, pot.glue.gel))
}

/// A point of a cure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Curing {
    /// Since mixing, h.
    pub hours: f64,
    /// Temperature of the glue line, °C.
    pub celsius: f64,
    /// Share reacted.
    pub conversion: f64,
    /// Glass transition, °C.
    pub glass_c: f64,
}

/// Conversion at the gel point of a mix in balance.
pub const GEL_CONVERSION: f64 = GEL;

/// Pieces into which each stage is cut: finer at its beginning, where cure is quick.
const PIECES: usize = 40;

/// The cure of `cured-state` over its one or two stages. None: not solved.
pub fn cured(given: &Given) -> Option<Vec<Curing>> {
    let mut at = Curing { hours: 0.0, celsius: 0.0, conversion: 0.0, glass_c: GLASS.transition(0.0) - ZERO_C };
    let mut path = vec![];
    for (celsius, hours) in cure::stages(given).ok()? {
        at.celsius = celsius;
        path.push(at);
        let share = |n: usize| libm::pow(n as f64 / PIECES as f64, 3.0);
        for n in 1..=PIECES {
            let piece = hours * (share(n) - share(n - 1));
            let state = GLASS.on(&GENERIC, at.conversion, &[(celsius + ZERO_C, piece * 3_600.0)]).ok()?;
            let (conversion, glass_c) = (state.conversion, state.glass_k - ZERO_C);
            at = Curing { hours: at.hours + piece, celsius, conversion, glass_c };
            path.push(at);
        }
    }
    Some(path)
}

/// Times, min, at which the cure of `isothermal-cure` reaches growing shares, up to the one asked for or the last that
/// is reached: (min, share). None: no rates.
pub fn isothermal(given: &Given) -> Option<Vec<(f64, f64)>> {
    let (rates, asked): (Isothermal, f64) = cure::rates(given).ok()?;
    let top = asked.min(rates.plateau.min(1.0) * 0.999);
    let shares = (1..=PIECES).map(|n| top * n as f64 / PIECES as f64);
    let reached = shares.filter_map(|share| match rates.time(share) {
        Reached::After { seconds, .. } => Some((seconds / 60.0, share)),
        _ => None,
    });
    Some(std::iter::once((0.0, 0.0)).chain(reached).collect())
}

/// What ratios around an asked one do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Amine hydrogens for each epoxide.
    pub ratio: f64,
    /// Epoxide reacted at the gel point; None: never gels.
    pub gel: Option<f64>,
    /// Highest conversion of the epoxide.
    pub limit: f64,
    /// Share of the mass that is not bound.
    pub sol: f64,
}

/// The network of `off-ratio` at these ratios, with its other inputs as given.
pub fn network(given: &Given, ratios: impl Iterator<Item = f64>) -> Option<Vec<Balance>> {
    let (mix, conversion): (Mix, Option<f64>) = cure::mix(given).ok()?;
    let at = |ratio: f64| {
        let mix = Mix { ratio, ..mix };
        Balance { ratio, gel: mix.gel(), limit: mix.limit(), sol: mix.sol(conversion.unwrap_or(1.0)) }
    };
    Some(ratios.map(at).collect())
}

/// The ratio asked of `off-ratio`, and the lowest and the highest at which such a mix sets at all.
pub fn sets(given: &Given) -> Option<(f64, f64, f64)> {
    let mix = cure::mix(given).ok()?.0;
    let branches = f64::from(mix.functionality) - 1.0;
    Some((mix.ratio, 1.0 / branches, branches))
}

/// Progress of `cure-finish` at these instants, h: cold side, expected, warm side. None: no law.
pub fn progress(given: &Given, hours: &[f64]) -> Option<Vec<[f64; 3]>> {
    finish::progress(given, hours).ok()
}

/// The lap asked of `lap-stress`, and its load by width.
pub fn lap(given: &Given) -> Option<(Lap, f64)> {
    super::joints::lap(given).ok()
}

/// The slope asked of `scarf`.
pub fn slope(given: &Given) -> Option<f64> {
    super::joints::slope(given).ok()
}
