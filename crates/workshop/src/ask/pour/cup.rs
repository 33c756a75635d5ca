//! A cup as the heat model sees it: its rates from the card, its start and its air from the book, and where it goes.

use super::asked::Asked;
use crate::ask::Asking;
use crate::ask::strip::last_reading;
use crate::judge::Reckoned;
use crate::wire::WireError;
use glue::card::Card;
use glue::clock::Clock;
use glue::cure::ode::Unsolved;
use glue::pot::lumped::{self, Course};
use glue::pot::sheet::{self, OfCard, Unmodelled};
use glue::pot::{Pot, Vessel, resolved};
use logbook::entry::Id;
use logbook::store::Error;

/// A reading older than this says nothing about now, ms (a working session).
const FRESH_MS: i64 = 4 * 3_600_000;
/// The hottest air to reckon with where nobody measured, K, unless the card names a hotter one.
const HOTTEST_K: f64 = 303.15;
/// What the heat model takes, g and K.
const MASSES_G: (f64, f64) = (1.0, 10_000.0);
const TEMPERATURES_K: (f64, f64) = (263.15, 333.15);
/// A tray to compare with, m.
pub const TRAY_M: f64 = 0.006;
/// A mix that starts warmer than the air by more than this is compared with one that does not, K.
const WARMED_K: f64 = 2.0;

/// Everything known of a cup.
pub struct Known {
    /// Mass in it, g; None: measured by volume, and the card has no densities.
    pub mass_g: Option<f64>,
    /// The clock that it would get.
    pub clock: Option<Reckoned>,
    /// Its air.
    pub air: Air,
    /// Start of the mix, K, and in words where it is from.
    pub start: Start,
    /// What the model says, or why there is none.
    pub model: Result<Model, NoModel>,
}

/// The air a cup stands in.
pub struct Air {
    /// Its place, by name.
    pub place: Option<String>,
    /// Mean, K.
    pub k: f64,
    /// Age of the reading, ms; None: nobody read it, and the hottest to reckon with is taken.
    pub age_ms: Option<i64>,
}

/// The start of a mix.
pub struct Start {
    /// K.
    pub k: f64,
    /// Whence.
    pub from: From,
}

/// Where the start's temperature is from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// Typed.
    Typed,
    /// The air where the cans stand.
    Storage,
    /// The air around the cup.
    Air,
}

/// Why no model is used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoModel {
    /// The card gives none.
    Card(Unmodelled),
    /// The mass is not known.
    Mass,
    /// It lies outside of what the model was held against.
    Outside,
    /// The solver did not converge.
    Unsolved(Unsolved),
}

/// What the model says.
pub struct Model {
    /// The glue.
    pub of: OfCard,
    /// As it stands.
    pub as_is: Outlook,
    /// In a tray 6 mm deep; None: it stands in one.
    pub tray: Option<Outlook>,
    /// In two cups; None: it stands in a tray.
    pub halves: Option<Outlook>,
    /// In a cup; None: it stands in one.
    pub cup: Option<Outlook>,
    /// As it stands, but mixed at the temperature of the air; None: it is, nearly.
    pub unwarmed: Option<Outlook>,
}

/// Where a pot goes.
#[derive(Clone, Copy, Debug)]
pub struct Outlook {
    /// With one temperature.
    pub course: Course,
    /// Use it up within, s; None: it never gets there.
    pub advised: Option<f64>,
}

/// Where a pot goes, by both models.
pub fn outlook(pot: &Pot) -> Result<Outlook, Unsolved> {
    let course = lumped::run(pot, &lumped::TOLERANCE)?;
    Ok(Outlook { course, advised: resolved::advised(pot, &course)? })
}

/// Reads what is known and runs the model.
pub fn known(asking: &Asking, asked: &Asked) -> Result<Known, WireError> {
    let stored = &asked.card.stored;
    let mass_mg = asked.story.mixed_mg(stored.resin_g_per_l, stored.hardener_g_per_l);
    let mass_g = mass_mg.map(|mg| mg as f64 / 1000.0);
    let place = asking.judge.pot_place(&asked.story)?.0;
    let air = air(asking, &asked.card.glue, place.as_ref())?;
    let clock = asking.judge.pot_of(&asked.story)?;
    let components = asking.judge.charge(&asked.story, &asked.card)?.components_k;
    let start = start(asked, components, &air);
    let model = model(asked, mass_g, (start.k, air.k));
    Ok(Known { mass_g, clock, air, start, model })
}

/// The air of a place as it is now: the clocks' mean, else the last reading of this session, else the hottest.
pub fn air(asking: &Asking, card: &Card, place: Option<&Id>) -> Result<Air, Error> {
    let hottest = Air { place: None, k: hottest_k(card), age_ms: None };
    let Some(place) = place else { return Ok(hottest) };
    let name = Some(asking.judge.name(place)?);
    let last = last_reading(asking, place)?.filter(|(at, ..)| asking.at_ms - at <= FRESH_MS);
    Ok(match last {
        Some((at, mk, _)) => {
            let mean = asking.judge.air(place, asking.at_ms, asking.at_ms)?.mean_k(asking.at_ms);
            Air { place: name, k: mean.unwrap_or(mk as f64 / 1000.0), age_ms: Some(asking.at_ms - at) }
        }
        None => Air { place: name, ..hottest },
    })
}

/// The hottest to reckon with: 30 °C, the card's highest pot point, its highest application temperature.
fn hottest_k(card: &Card) -> f64 {
    let points = card.limits.iter().filter(|limit| limit.clock == Clock::Pot).flat_map(|limit| &limit.points);
    let stated = points.filter_map(|point| point.at_k).chain(card.application_maximum_k);
    stated.filter(|k| k.is_finite()).fold(HOTTEST_K, f64::max)
}

fn start(asked: &Asked, components: Option<f64>, air: &Air) -> Start {
    match components {
        Some(k) if asked.typed_start => Start { k, from: From::Typed },
        Some(k) if asked.cans && (k - air.k).abs() > 1e-6 => Start { k, from: From::Storage },
        Some(k) => Start { k, from: From::Air },
        None => Start { k: air.k, from: From::Air },
    }
}

fn model(asked: &Asked, mass_g: Option<f64>, (start, air): (f64, f64)) -> Result<Model, NoModel> {
    let mass_g = mass_g.filter(|g| *g > 0.0).ok_or(NoModel::Mass)?;
    let of = sheet::of_card(&asked.card.glue, mass_g).map_err(NoModel::Card)?;
    let within = |value: f64, (low, high): (f64, f64)| value >= low && value <= high;
    if !within(mass_g, MASSES_G) || !within(start, TEMPERATURES_K) || !within(air, TEMPERATURES_K) {
        return Err(NoModel::Outside);
    }
    let pot = Pot::fresh(of.glue, mass_g / 1000.0, asked.vessel, air, start);
    compared(of, &pot).map_err(NoModel::Unsolved)
}

fn compared(of: OfCard, pot: &Pot) -> Result<Model, Unsolved> {
    let in_cup = pot.vessel == Vessel::Cup;
    let tray = Pot { vessel: Vessel::Tray(TRAY_M), ..pot.clone() };
    let half = Pot { mass: pot.mass / 2.0, ..pot.clone() };
    let cup = Pot { vessel: Vessel::Cup, ..pot.clone() };
    let warmed = pot.start > pot.air_at(0.0) + WARMED_K;
    let unwarmed = Pot { start: pot.air_at(0.0), ..pot.clone() };
    let run = |wanted: bool, pot: &Pot| wanted.then(|| outlook(pot)).transpose();
    Ok(Model {
        of,
        as_is: outlook(pot)?,
        tray: run(pot.vessel != tray.vessel, &tray)?,
        halves: run(in_cup, &half)?,
        cup: run(!in_cup, &cup)?,
        unwarmed: run(warmed, &unwarmed)?,
    })
}
