//! A card's own rates, from its pot life and the gel time of a film, else those of the class.

use super::aged::model;
use super::card::CardInForce;
use super::cured::glass_of;
use glue::cure::glass::Glass;
use glue::cure::kinetics::{GENERIC, Kinetics};
use glue::pot::sheet::{Basis, UNSTATED_G};

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
    /// Of a card: by the pot life nearest to what is usually mixed.
    pub fn of(card: &CardInForce) -> OfCard {
        let (glass, own_glass) = glass_of(card);
        let (kinetics, rates) = match model(&card.glue, UNSTATED_G) {
            Ok(pot) => (pot.of.glue.kinetics, by(pot.of.basis)),
            Err(_) => (GENERIC, Rates::Class),
        };
        OfCard { name: card.stored.name.clone(), glass, own_glass, kinetics, rates }
    }
}

fn by(basis: Basis) -> Rates {
    match basis {
        Basis::Both => Rates::PotAndFilm,
        Basis::PotLife => Rates::Pot,
        Basis::Disagree(_) => Rates::PotAgainstFilm,
    }
}
