//! A card's own rates, from its pot life and the gel time of a film, else those of the class.

use super::card::CardInForce;
use super::cured::glass_of;
use glue::clock::Clock;
use glue::cure::glass::Glass;
use glue::cure::kinetics::{GENERIC, Kinetics};
use glue::pot::GLUE;
use glue::pot::calibrate::{Sheet, by_life, calibrate};
use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// Mass that a pot life holds for where the sheet states none, g.
const SHEET_MASS_G: f64 = 100.0;
/// Most sheets remembered; more than a shop has.
const REMEMBERED: usize = 64;

/// Where the rates come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rates {
    /// Pot life and film agree with them.
    PotAndFilm,
    /// Pot life alone.
    Pot,
    /// The sheet has both, but no rates give both: pot life alone.
    PotAgainstFilm,
    /// The class's: the sheet gives none.
    Class,
}

/// What the model takes of a card.
#[derive(Clone, Debug, PartialEq)]
pub struct OfCard {
    /// The card's name.
    pub name: String,
    /// Its glass.
    pub glass: Glass,
    /// The glass is the card's own, not the class's.
    pub own_glass: bool,
    /// Its rates.
    pub kinetics: Kinetics,
    /// Where they come from.
    pub rates: Rates,
}

impl OfCard {
    /// Of a card.
    pub fn of(card: &CardInForce) -> OfCard {
        let (glass, own_glass) = glass_of(card);
        let (kinetics, rates) = rates(card);
        OfCard { name: card.stored.name.clone(), glass, own_glass, kinetics, rates }
    }
}

/// Pot points nearest in mass to what is usual, then the first; the short end of a range, as everywhere that is safe.
fn rates(card: &CardInForce) -> (Kinetics, Rates) {
    let pots = card.glue.limits.iter().filter(|limit| limit.clock == Clock::Pot).flat_map(|limit| &limit.points);
    let off = |mass: Option<f64>| (mass.unwrap_or(SHEET_MASS_G) - SHEET_MASS_G).abs();
    let known = pots
        .filter_map(|point| Some((point.mass_g.unwrap_or(SHEET_MASS_G), point.at_k?, point.low_ms, off(point.mass_g))));
    let Some((mass_g, pot_k, low_ms, _)) = known.min_by(|a, b| a.3.total_cmp(&b.3)) else {
        return (GENERIC, Rates::Class);
    };
    let film = card.glue.film_gel.map(|film| (film.at_k, film.low_ms / 1000.0));
    remembered((mass_g / 1000.0, pot_k, low_ms / 1000.0), film)
}

type Key = [u64; 5];
static KNOWN: Mutex<BTreeMap<Key, (Kinetics, Rates)>> = Mutex::new(BTreeMap::new());

/// Finding rates runs a dozen pots, so that what was found for a sheet's numbers is remembered.
fn remembered(pot: (f64, f64, f64), film: Option<(f64, f64)>) -> (Kinetics, Rates) {
    let (film_k, film_s) = film.unwrap_or((0.0, 0.0));
    let key = [pot.0, pot.1, pot.2, film_k, film_s].map(f64::to_bits);
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(found) = known.get(&key) {
        return *found;
    }
    let found = find(pot, film);
    if known.len() >= REMEMBERED {
        known.clear();
    }
    known.insert(key, found);
    found
}

fn find((mass, pot_k, pot_life): (f64, f64, f64), film: Option<(f64, f64)>) -> (Kinetics, Rates) {
    let found = match film {
        Some((film_k, film_gel)) => calibrate(&GLUE, &Sheet { mass, pot_k, pot_life, film_k, film_gel }).map(|found| {
            let rates = if found.film_instead.is_none() { Rates::PotAndFilm } else { Rates::PotAgainstFilm };
            (found.glue.kinetics, rates)
        }),
        None => by_life(&GLUE, mass, pot_k, pot_life).map(|glue| (glue.kinetics, Rates::Pot)),
    };
    found.unwrap_or((GENERIC, Rates::Class))
}
