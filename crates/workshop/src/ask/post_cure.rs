//! A post-cure before it is done: how long the glue line takes to get warm in a tent, how long it has to soak from then
//! on, and what glass transition that gives. The soak is counted from the glue line, never from the tent's air.

use super::answer::{PostCureAnswer, PostCureStep};
use super::question::PostCure;
use super::{Asking, dried, strip};
use crate::act::typed;
use crate::judge::BondStory;
use crate::judge::cured::{self, CureOn, Cured, HowCured};
use crate::judge::cured_said::{BY_MODEL, glass, percent_of};
use crate::judge::words::{capital, instant, stretch};
use crate::reader::Reader;
use crate::wire::{WireError, shown};
use glue::cure::ode::Unsolved;
use logbook::store::{Error, Noun};

/// The glue line counts as warm within this of the tent, K.
const WITHIN_K: f64 = 2.0;
/// Soaks shown for comparison, h.
const SHOWN_H: [i64; 4] = [2, 4, 8, 16];
/// Longest soak planned, s.
const LONGEST_S: f64 = 7.0 * 86_400.0;
const MINUTE_MS: i64 = 60_000;
/// Air older than this says nothing about what the tent draws in, ms.
const OLD_MS: i64 = 24 * 3_600_000;
/// Hotter than this nobody says what wood settles at, K (100 °C).
const SETTLES_K: f64 = 373.15;
/// Said with every plan.
const STILL_AIR: &str = "the wood warms in still air, 10 W/(m² K), from memory: a fan makes it quicker, a cover slower";

/// What is planned for: how cured it is now, the tent, the wood.
struct Plan<'a> {
    cured: &'a Cured,
    to_k: f64,
    /// Of the wood, one warm face counted as twice as thick, mm.
    thickness_mm: f64,
    /// Hottest in service, mk.
    service: Option<i64>,
    reader: Reader,
}

/// Answers `post-cure`.
pub fn post_cure(asking: &Asking, asked: &PostCure) -> Result<PostCureAnswer, WireError> {
    let id = asking.find(Noun::Bond, "body.bond", &asked.bond)?;
    let to = typed::cure("body.to", &asked.to)?;
    let named = asked.service.as_deref().map(|text| typed::cure("body.service", text)).transpose()?;
    let faces = faces(asked.faces)?;
    let story = asking.judge.bond(&id)?.ok_or_else(|| not_told(asked, "it is not in the book"))?;
    let on = asking.judge.cure_on(&story)?;
    let told = on.tell(asking.at_ms);
    let cured = match &told {
        HowCured::Told(cured) => cured,
        HowCured::CannotTell(why) => return Err(not_told(asked, why)),
    };
    fits(asking, asked, &on, (to.mk, cured))?;
    let over_all_mm = glue::wood::thickness_mm(on.wood.thickness_mm);
    let thickness_mm = if faces == 1 { over_all_mm * 2.0 } else { over_all_mm };
    let service = named.map(|it| it.mk).or(on.service.as_ref().map(|it| it.0));
    let plan = Plan { cured, to_k: to.mk as f64 / 1000.0, thickness_mm, service, reader: asking.judge.reader };
    let taken = if on.wood.thickness_mm.is_none() { " taken" } else { "" };
    let length = plan.reader.length((over_all_mm * 1000.0) as i64);
    let wood = format!("{length} of wood{taken}, {}", faces_said(faces));
    let told_of = Told { cautions: cautions(asking, &on, &plan, &story)?, rests_on: on.rests_on(&told), wood };
    plan.told(asking, (&story, &on), told_of).map_err(unsolved)
}

/// What a plan says beside its numbers.
struct Told {
    cautions: Vec<String>,
    rests_on: Vec<String>,
    /// "12 mm of wood, both faces in the warm air".
    wood: String,
}

fn faces(asked: Option<u64>) -> Result<u64, WireError> {
    match asked.unwrap_or(2) {
        faces @ 1..=2 => Ok(faces),
        other => {
            let sentence = format!("body.faces is {other}; it takes 1 or 2: faces of the wood in the warm air.");
            let error = WireError::new("out-of-range", sentence, "Say 1 where the other face lies against something.");
            Err(error.field("body.faces").value(&other.to_string()).range("1 or 2"))
        }
    }
}

fn faces_said(faces: u64) -> &'static str {
    if faces == 1 { "one face in the warm air" } else { "both faces in the warm air" }
}

fn not_told(asked: &PostCure, why: &str) -> WireError {
    let sentence = format!("How cured bond {} is cannot be told: {why}.", shown(&asked.bond));
    let error = WireError::new("contradicts", sentence, "Without it no soak can be counted: go by the maker's sheet.");
    error.field("body.bond").value(&asked.bond)
}

fn unsolved(why: Unsolved) -> WireError {
    WireError::new("fault", format!("The model does not come to a number: {why}."), "Go by the maker's sheet.")
}

/// The lowest of the cards' highest cure temperatures, mk, with the card's name.
fn maximum(on: &CureOn) -> Option<(i64, String)> {
    let stated =
        on.cards.iter().filter_map(|card| Some((card.stored.maximum_cure.as_ref()?.mk, card.stored.name.clone())));
    stated.min()
}

/// Not above what the card allows, and warmer than the glue line is anyway.
fn fits(asking: &Asking, asked: &PostCure, on: &CureOn, (mk, cured): (i64, &Cured)) -> Result<(), WireError> {
    let reader = asking.judge.reader;
    let refused = |range: String, advice: &str| {
        let sentence = format!("body.to is \"{}\"; it takes {range}.", shown(&asked.to));
        WireError::new("out-of-range", sentence, advice).field("body.to").value(&asked.to).range(range)
    };
    if let Some((most, card)) = maximum(on).filter(|(most, _)| mk > *most) {
        let range =
            format!("at most {}, the highest temperature for curing on the card {card}", reader.temperature(most));
        return Err(refused(range, "Plan it cooler and longer; the maker's sheet decides."));
    }
    if (mk as f64) < cured.line_k * 1000.0 + 1000.0 {
        let range = format!("more than the glue line has now, {}", reader.whole(cured.line_k));
        return Err(refused(range, "A post-cure is warmer than the room."));
    }
    Ok(())
}

impl Plan<'_> {
    /// Until the glue line is within two kelvin of the tent, whole minutes rounded up, ms.
    fn warm_up_ms(&self) -> i64 {
        let step = self.to_k - self.cured.line_k;
        if step <= WITHIN_K {
            return 0;
        }
        let share = (1.0 - WITHIN_K / step).clamp(0.02, 0.999);
        glue::wood::heat_up_ms(self.thickness_mm, glue::wood::H, share).map_or(0, minutes_up)
    }

    /// Soak until the transition told is at least the service's; None: no service, or not within a week.
    fn soak_ms(&self) -> Result<Option<i64>, Unsolved> {
        let Some(wanted_k) = self.service.map(|mk| mk as f64 / 1000.0) else { return Ok(None) };
        let (of, from) = (&self.cured.of, self.cured.conversion);
        if self.cured.glass_k.0 >= wanted_k {
            return Ok(Some(0));
        }
        // What is told never lies more than ten kelvin over the warmest cure, whatever the model says.
        if cured::span(&of.glass, 1.0, self.to_k.max(self.cured.highest_k)).0 < wanted_k {
            return Ok(None);
        }
        let soak = of.glass.soak(&of.kinetics, from, wanted_k, self.to_k, LONGEST_S)?;
        Ok(soak.map(|seconds| minutes_up(seconds * 1000.0)))
    }

    fn told(
        &self,
        asking: &Asking,
        (story, on): (&BondStory, &CureOn),
        beside: Told,
    ) -> Result<PostCureAnswer, Unsolved> {
        let (warm_up_ms, soak_ms) = (self.warm_up_ms(), self.soak_ms()?);
        let reader = self.reader;
        Ok(PostCureAnswer {
            at: instant(asking.at_ms),
            bond: story.name.clone(),
            to: reader.kelvin(self.to_k),
            service: self.service.map(|mk| reader.temperature(mk)),
            maximum_cure: maximum(on).map(|(mk, _)| reader.temperature(mk)),
            conversion_pct: percent_of(self.cured.conversion),
            glass: glass(self.cured.glass_k, reader),
            warm_up_ms,
            soak_ms,
            total_ms: soak_ms.map(|soak| soak + if soak > 0 { warm_up_ms } else { 0 }),
            steps: self.steps(soak_ms)?,
            said: self.said(&beside.wood, soak_ms),
            cautions: beside.cautions,
            rests_on: beside.rests_on.into_iter().chain([STILL_AIR.to_owned()]).collect(),
        })
    }

    /// A few soaks, with the one that is needed.
    fn steps(&self, soak_ms: Option<i64>) -> Result<Vec<PostCureStep>, Unsolved> {
        let needed = soak_ms.filter(|soak| *soak > 0);
        let mut soaks: Vec<i64> = SHOWN_H.map(|hours| hours * 3_600_000).into_iter().chain(needed).collect();
        soaks.sort_unstable();
        soaks.dedup();
        let step = |soak: i64| {
            let (conversion, glass_k) = self.after(soak)?;
            Ok(PostCureStep {
                soak: stretch(soak),
                soak_ms: soak,
                total: stretch(soak + self.warm_up_ms()),
                conversion_pct: percent_of(conversion),
                glass: glass(glass_k, self.reader),
                enough: self.service.map(|_| soak_ms.is_some_and(|needed| soak >= needed)),
            })
        };
        soaks.into_iter().map(step).collect()
    }

    fn said(&self, wood: &str, soak_ms: Option<i64>) -> Vec<String> {
        let now = glass(self.cured.glass_k, self.reader);
        vec![
            format!("Now: about {} %, glass transition about {now}.", percent_of(self.cured.conversion)),
            format!(
                "Until the glue line is within {} of {}: {} ({wood}). The soak counts from there, not from when the tent \
                 is warm.",
                self.reader.difference(WITHIN_K),
                self.reader.kelvin(self.to_k),
                stretch(self.warm_up_ms())
            ),
            self.answer(soak_ms),
        ]
    }

    /// Share and transition after a soak; nothing is counted of the way up.
    fn after(&self, soak_ms: i64) -> Result<(f64, (f64, f64)), Unsolved> {
        let of = &self.cured.of;
        let state = of.glass.on(&of.kinetics, self.cured.conversion, &[(self.to_k, soak_ms as f64 / 1000.0)])?;
        Ok((state.conversion, cured::span(&of.glass, state.conversion, self.to_k.max(self.cured.highest_k))))
    }

    fn answer(&self, soak_ms: Option<i64>) -> String {
        let Some(hot) = self.service.map(|mk| self.reader.temperature(mk)) else {
            return "The hottest in service is not recorded: choose the soak by the glass transition it gives."
                .to_owned();
        };
        match soak_ms {
            Some(0) => format!("For {hot} in service it needs none."),
            Some(soak) => {
                let total = stretch(soak + self.warm_up_ms());
                format!("For {hot} in service: {} of soak, {total} in the tent in all.", stretch(soak))
            }
            None => format!(
                "At {} its glass transition does not reach {hot} within a week: it needs more warmth, not more time.",
                self.reader.kelvin(self.to_k)
            ),
        }
    }
}

fn minutes_up(ms: f64) -> i64 {
    libm::ceil(ms / MINUTE_MS as f64) as i64 * MINUTE_MS
}

fn cautions(asking: &Asking, on: &CureOn, plan: &Plan, story: &BondStory) -> Result<Vec<String>, Error> {
    let reader = asking.judge.reader;
    let to = reader.kelvin(plan.to_k);
    let mut all = Vec::new();
    if maximum(on).is_none() {
        all.push(format!(
            "The card states no highest temperature for curing: the maker's sheet decides whether {to} is allowed."
        ));
    }
    if plan.to_k > plan.cured.glass_k.0 {
        all.push(format!(
            "{to} is above today's glass transition: the glue is soft until it has cured on. Warm it slowly, with the \
             clamps on or nothing pulling at the joint."
        ));
    }
    all.extend(dry_air(asking, story, plan)?);
    all.push(format!("{}.", capital(BY_MODEL)));
    Ok(all)
}

/// What wood would settle at in the air of where the bond is now, or of where that place's air comes from, heated.
fn dry_air(asking: &Asking, story: &BondStory, plan: &Plan) -> Result<Option<String>, Error> {
    let Some((_, Some(place))) = asking.judge.places(story)?.pop() else { return Ok(None) };
    let source = dried::source_of(asking, &place)?.unwrap_or(place);
    let Some((at, mk, Some(ppm))) = strip::last_reading(asking, &source)? else { return Ok(None) };
    if asking.at_ms - at > OLD_MS || ppm <= 0 || plan.to_k > SETTLES_K {
        return Ok(None);
    }
    let outside = (at, mk as f64 / 1000.0 - 273.15, ppm as f64 / 10_000.0);
    let (humidity, settles) = dried::warmed(outside, plan.to_k - 273.15);
    let name = asking.judge.name(&source)?;
    let to = asking.judge.reader.kelvin(plan.to_k);
    Ok(Some(format!(
        "The air of {name} heated to {to} has about {humidity:.0} % humidity, where wood would settle at {settles:.1} %: \
         cover the wood, or bring moisture into the tent."
    )))
}
