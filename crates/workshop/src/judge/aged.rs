//! What the heat of the pot and the age of the mix take from pot, open and closed time. What the models gave is kept for
//! as long as the program runs: hundreds of bonds are glued by a few cards.

use super::batch::BatchStory;
use super::card::CardInForce;
use super::path::{ALWAYS_MS, Path, stays};
use super::{BondStory, Judge};
use glue::card::{Card, Class};
use glue::clock::shorter::{self, PotModel, Spread, mass_g, met, pot_ppm, pot_start_k, spread_ppm};
use glue::clock::{Charge, Clock, Shorter};
use glue::pot::sheet::Unmodelled;
use logbook::store::Error;
use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// Answers kept at most before all are let go.
const KEPT: usize = 20_000;

/// Answers of the models, by the bits of the numbers asked.
struct Memo<T>(Mutex<BTreeMap<Vec<u64>, T>>);

impl<T: Clone> Memo<T> {
    const fn new() -> Memo<T> {
        Memo(Mutex::new(BTreeMap::new()))
    }

    fn of(&self, key: Vec<u64>, reckon: impl FnOnce() -> T) -> T {
        let known = self.0.lock().unwrap_or_else(PoisonError::into_inner).get(&key).cloned();
        known.unwrap_or_else(|| {
            let fresh = reckon();
            let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            if all.len() >= KEPT {
                all.clear();
            }
            all.insert(key, fresh.clone());
            fresh
        })
    }
}

static MODELS: Memo<Result<PotModel, Unmodelled>> = Memo::new();
static WORKING: Memo<Option<f64>> = Memo::new();
static REACTED: Memo<Option<f64>> = Memo::new();

/// What a model rests on: the card's pot lives and gel time, and the mass, g.
fn numbers(card: &Card, mass_g: f64) -> Vec<u64> {
    let pot = card.limits.iter().filter(|limit| limit.clock == Clock::Pot).flat_map(|limit| &limit.points);
    let mut all = vec![mass_g, f64::from(u8::from(card.class == Class::Epoxy)), f64::from(u8::from(card.water_borne))];
    all.extend(card.film_gel.iter().flat_map(|film| [film.at_k, film.low_ms]));
    for point in pot {
        all.extend([point.at_k.unwrap_or(0.0), point.low_ms, point.mass_g.unwrap_or(0.0)]);
    }
    all.into_iter().map(f64::to_bits).collect()
}

fn with(mut key: Vec<u64>, more: &[f64]) -> Vec<u64> {
    key.extend(more.iter().map(|number| number.to_bits()));
    key
}

/// The pot of a card for a mass, g; found once for a sheet's numbers.
pub(super) fn model(card: &Card, mass_g: f64) -> Result<PotModel, Unmodelled> {
    MODELS.of(numbers(card, mass_g), || PotModel::of_card(card, mass_g))
}

/// What the model leaves of a pot's safe limit; `air_k`: mean air where it stands at its start.
pub(super) fn of_pot(card: &Card, charge: &Charge, air_k: Option<f64>) -> Shorter {
    let grams = mass_g(charge);
    let model = match model(card, grams) {
        Ok(model) => model,
        Err(why) => return Shorter { unmodelled: matches!(why, Unmodelled::Unfit(_)), ..Shorter::default() },
    };
    let Some(start_k) = pot_start_k(card, charge, air_k) else { return Shorter::default() };
    let key = with(numbers(card, grams), &[start_k]);
    let working_s = WORKING.of(key, || model.working_s(grams, start_k));
    match working_s.and_then(|s| pot_ppm(card, &model, s, start_k)) {
        Some(ppm) => Shorter { ppm, ..Shorter::default() },
        None => Shorter { unmodelled: true, ..Shorter::default() },
    }
}

impl Judge<'_> {
    /// What the age of the mix leaves of a bond's open or closed limit; `oldest`: the batch of this card that was mixed
    /// first.
    pub(super) fn of_age(
        &self,
        story: &BondStory,
        clock: Clock,
        card: &CardInForce,
        oldest: &BatchStory,
        start_ms: i64,
    ) -> Result<Shorter, Error> {
        let nothing = Shorter::default();
        let (Some(mixed_ms), Some(spread_ms)) = (oldest.started_ms(), story.glue_on_ms()) else { return Ok(nothing) };
        if !matches!(clock, Clock::Open | Clock::Closed) || spread_ms <= mixed_ms {
            return Ok(nothing);
        }
        let charge = self.charge(oldest, card)?;
        let grams = mass_g(&charge);
        let Ok(model) = model(&card.glue, grams) else { return Ok(nothing) };
        let (place, _) = self.pot_place(oldest)?;
        let path: Path = self.path(&vec![(ALWAYS_MS, place)], mixed_ms.min(start_ms), spread_ms)?;
        let met = |from_ms: i64| met(&card.glue, &stays(&path), (from_ms, spread_ms), self.seen.at_ms);
        let highest_k = met(mixed_ms).highest_k.max(charge.components_k.unwrap_or(f64::NEG_INFINITY));
        let age_ms = spread_ms - mixed_ms;
        let key = with(numbers(&card.glue, grams), &[highest_k, age_ms as f64]);
        let Some(reacted) = REACTED.of(key, || model.reacted(grams, highest_k, age_ms)) else { return Ok(nothing) };
        let lowest_k = if start_ms < spread_ms { met(start_ms).lowest_k } else { None };
        let spread = Spread { start_ms, spread_ms, reacted, highest_k, lowest_k };
        let left = spread_ppm(&card.glue, clock, self.bent(story)?, &model.of.glue.kinetics, &spread);
        let ppm = left.unwrap_or(shorter::WHOLE);
        Ok(Shorter { ppm, age_ms: (ppm < shorter::WHOLE).then_some(age_ms), unmodelled: false })
    }
}
