//! Which limit of the card a clock is judged by, and the course it runs.

use super::{Asked, Assumed, Clock, Direction};
use crate::air::ASSUMED_K;
use crate::card::{BelowMinimum, Card, Limit, Point};
use crate::law::{Law, of_limit, slopes_agree};
use crate::number::after;
use crate::progress::{AGREED, ALLOWANCE, Course, shape::Body};
use crate::wood;

/// Mass a sheet's pot life is taken to hold for where none is stated, g.
const SHEET_MASS_G: f64 = 100.0;

/// The limit of a clock: for a bent joint its own, else the plain one; a bent clamp clock falls back on the machining
/// and the full-cure time.
pub fn chosen(card: &Card, clock: Clock, bent: bool) -> Option<(&Limit, Clock)> {
    let find = |clock: Clock, bent: bool| card.limits.iter().find(|limit| limit.clock == clock && limit.bent == bent);
    if !bent {
        return find(clock, false).map(|limit| (limit, clock));
    }
    if clock != Clock::Clamp {
        return find(clock, true).or(find(clock, false)).map(|limit| (limit, clock));
    }
    let own = find(Clock::Clamp, true).map(|limit| (limit, Clock::Clamp));
    let longer = [Clock::Machining, Clock::FullCure].into_iter();
    own.or_else(|| {
        longer.into_iter().find_map(|clock| {
            let limit = find(clock, true).or(find(clock, false));
            limit.map(|limit| (limit, clock))
        })
    })
}

/// The law of a limit as the sheet has it.
pub fn sheet_law(card: &Card, limit: &Limit) -> Option<Law> {
    of_limit(card, limit, |_| 1.0)
}

/// The law of a limit with the pot's mass in it: time times min(1, (sheet mass / mass)^(1/3)); in the safe bound no
/// longer than what the model of the pot, or the age of the mix, leaves of the sheet's.
pub fn law(asked: &Asked, limit: &Limit) -> Option<Law> {
    let mut law =
        of_limit(asked.card, limit, |point| if asked.clock == Clock::Pot { mass_share(asked, point) } else { 1.0 })?;
    let share = asked.shorter.share();
    if share >= 1.0 || share <= 0.0 || law.points_k.is_none() {
        return Some(law);
    }
    let [safe, expected, other] = law.curves;
    let safe = match asked.clock {
        Clock::Pot => safe.faster_of(sheet_law(asked.card, limit)?.curves.into_iter().next()?.times(share)),
        _ => safe.times(share),
    };
    law.curves = [safe, expected, other];
    Some(law)
}

/// Shares used at the start. A mix that had nothing left when it was spread is over from the start.
fn carried(asked: &Asked, law: &Law) -> [f64; 3] {
    let mut carried = asked.carried.map(|share| if share.is_nan() { 1.0 } else { share.clamp(0.0, 1.0) });
    if asked.shorter.ppm <= 0 && law.points_k.is_some() {
        carried[0] = 1.0;
    }
    carried
}

fn mass_share(asked: &Asked, point: &Point) -> f64 {
    let mass = asked.charge.mass_g.filter(|g| *g > 0.0).unwrap_or(SHEET_MASS_G);
    let sheet = point.mass_g.filter(|g| *g > 0.0).unwrap_or(SHEET_MASS_G);
    libm::cbrt(sheet / mass).min(1.0)
}

/// The course of a clock from its start on.
pub fn course(asked: &Asked, law: Law, start_ms: i64) -> Course {
    let direction = asked.clock.direction();
    let must_reach = direction == Direction::MustReach;
    let body = match asked.clock {
        Clock::Pot => Body::Warmer(asked.charge.components_k.filter(|k| k.is_finite())),
        Clock::Open | Clock::Closed => Body::Warmer(asked.wood.start_k.filter(|k| k.is_finite())),
        Clock::FreshSurface | Clock::GlueAgain => Body::Warmer(None),
        _ => Body::Wood {
            tau: wood::tau_ms(wood::thickness_mm(asked.wood.thickness_mm)),
            known: asked.wood.start_k.is_some(),
        },
    };
    let allowance = match law.points_k {
        Some(_) if slopes_agree(asked.card) => AGREED,
        Some(_) => ALLOWANCE,
        None => 0.0,
    };
    Course {
        minimum: if must_reach { minimum(asked.card, &law) } else { None },
        fault: must_reach && asked.card.below_minimum == BelowMinimum::Fault,
        carried: carried(asked, &law),
        law,
        direction,
        body,
        pending: asked.pending.iter().map(|(from, to)| (after(start_ms, *from), after(start_ms, *to))).collect(),
        allowance,
    }
}

/// The stated minimum, else the lowest clamp point (the clock's own where the card has no clamp time).
pub(super) fn minimum(card: &Card, law: &Law) -> Option<(f64, bool)> {
    if let Some(k) = card.minimum_cure_k.filter(|k| k.is_finite()) {
        return Some((k, true));
    }
    let clamp = card.limits.iter().filter(|limit| limit.clock == Clock::Clamp);
    let lowest = clamp.flat_map(|limit| &limit.points).filter_map(|point| point.at_k).min_by(f64::total_cmp);
    lowest.or(law.points_k.map(|points| points.0)).map(|k| (k, false))
}

/// The hottest to reckon with where nobody measured: the law's highest point, the application maximum, 30 °C.
pub fn hottest_k(card: &Card, law: &Law) -> f64 {
    let point = law.points_k.map_or(ASSUMED_K, |points| points.1);
    let application = card.application_maximum_k.filter(|k| k.is_finite()).unwrap_or(ASSUMED_K);
    ASSUMED_K.max(point).max(application)
}

/// What is taken for granted before any reading is looked at.
pub fn assumed(asked: &Asked, limit: &Limit, judged_by: Clock, law: &Law) -> Vec<Assumed> {
    let mut all = vec![];
    let must_reach = asked.clock.direction() == Direction::MustReach;
    if judged_by != asked.clock {
        all.push(Assumed::BentFallback(judged_by));
    }
    if must_reach && asked.wood.thickness_mm != Some(wood::thickness_mm(asked.wood.thickness_mm)) {
        all.push(Assumed::Thickness);
    }
    if must_reach && asked.wood.start_k.is_none() {
        all.push(Assumed::WoodStart);
    }
    if must_reach && matches!(minimum(asked.card, law), Some((_, false))) {
        all.push(Assumed::NoMinimum);
    }
    if asked.clock == Clock::Pot {
        let unstated = limit.points.iter().any(|point| point.mass_g.is_none());
        all.extend(unstated.then_some(Assumed::SheetMass));
        all.extend(asked.charge.mass_g.is_none().then_some(Assumed::PotMass));
        all.extend(asked.charge.components_k.is_none().then_some(Assumed::Components));
        // Said where it is what counts, not the rule of the cube root.
        let by_mass = limit.points.iter().map(|point| mass_share(asked, point)).fold(1.0, f64::min);
        all.extend((asked.shorter.share() < by_mass).then_some(Assumed::PotModel(asked.shorter.ppm)));
    }
    all.extend(asked.shorter.age_ms.map(Assumed::MixAge));
    all.extend(asked.shorter.unmodelled.then_some(Assumed::NoPotModel));
    let counted = matches!(asked.clock, Clock::Open | Clock::Closed | Clock::GlueAgain);
    if counted && limit.counted_from.is_none() {
        all.push(Assumed::CountedFrom);
    }
    all
}
