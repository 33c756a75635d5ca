//! The glue of a card: its rates from what the sheet says of the pot and of a thin film.
//!
//! Only for epoxies: other adhesives set by losing water or by another chemistry, and no heat model here is theirs.

use super::calibrate::{Sheet, Unfit, by_life, calibrate};
use super::{GLUE, Glue};
use crate::card::{Card, Class, Point};
use crate::clock::Clock;

/// Mass for which a pot life holds where the sheet names none, g (common practice, no source).
pub const UNSTATED_G: f64 = 100.0;

/// What the rates rest on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Basis {
    /// Pot life and gel time of a film, both met.
    Both,
    /// The pot life; the card has no gel time of a film.
    PotLife,
    /// Both are given and no rates meet both: the pot life is kept, with which a film gels after this, s.
    Disagree(f64),
}

/// A card's glue.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OfCard {
    /// With its rates.
    pub glue: Glue,
    /// What they rest on.
    pub basis: Basis,
    /// Mass of the pot life, g.
    pub mass_g: f64,
    /// Whether the sheet names that mass.
    pub mass_stated: bool,
    /// Temperature of the pot life, K.
    pub at_k: f64,
    /// The pot life, short end, s.
    pub life_s: f64,
}

/// Why a card has no model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unmodelled {
    /// No epoxy, or one that sets by drying.
    Class,
    /// No pot life with a temperature.
    NoPotLife,
    /// No rates meet the pot life.
    Unfit(Unfit),
}

/// The glue of a card, by its pot life nearest in mass (g; the first of those alike) and its gel time of a film.
///
/// Errors: why there is none.
pub fn of_card(card: &Card, mass_g: f64) -> Result<OfCard, Unmodelled> {
    if card.class != Class::Epoxy || card.water_borne {
        return Err(Unmodelled::Class);
    }
    let (point, at_k) = nearest(card, mass_g).ok_or(Unmodelled::NoPotLife)?;
    let own_g = point.mass_g.unwrap_or(UNSTATED_G);
    let (mass, pot_life) = (own_g / 1e3, point.low_ms / 1e3);
    let (glue, basis) = match card.film_gel {
        Some(film) => {
            let sheet = Sheet { mass, pot_k: at_k, pot_life, film_k: film.at_k, film_gel: film.low_ms / 1e3 };
            let found = calibrate(&GLUE, &sheet).map_err(Unmodelled::Unfit)?;
            (found.glue, found.film_instead.map_or(Basis::Both, Basis::Disagree))
        }
        None => (by_life(&GLUE, mass, at_k, pot_life).map_err(Unmodelled::Unfit)?, Basis::PotLife),
    };
    Ok(OfCard { glue, basis, mass_g: own_g, mass_stated: point.mass_g.is_some(), at_k, life_s: pot_life })
}

/// The pot life nearest in mass, and its temperature, K.
fn nearest(card: &Card, mass_g: f64) -> Option<(&Point, f64)> {
    let off = |point: &Point| (point.mass_g.unwrap_or(UNSTATED_G) - mass_g).abs();
    let points = card.limits.iter().filter(|limit| limit.clock == Clock::Pot).flat_map(|limit| &limit.points);
    let sound = points.filter_map(|point| Some((point, point.at_k.filter(|k| k.is_finite() && *k > 0.0)?)));
    sound.filter(|(point, _)| point.low_ms > 0.0).min_by(|a, b| off(a.0).total_cmp(&off(b.0)))
}
