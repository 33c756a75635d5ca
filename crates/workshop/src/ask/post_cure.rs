//! A post-cure before it is done: how long the glue line takes to get warm in a tent, how long it has to soak from then
//! on, and what glass transition that gives. The soak is counted from the glue line, never from the tent's air.

use super::answer::{PostCureAnswer, PostCureStep};
use super::question::PostCure;
use super::{Asking, dried, strip};
use crate::act::typed;
use crate::judge::cured::{self, CureOn, Cured, HowCured};
use crate::judge::cured_said::{BY_MODEL, glass, percent_of};
use crate::judge::words::{instant, stretch};
use crate::wire::WireError;
use glue::cure::ode::Unsolved;
use logbook::store::{Error, Noun};

/// The glue line counts as warm within this of the tent, K.
const WITHIN_K: f64 = 2.0;
/// Soaks shown for comparison, h.
const SHOWN_H: [f64; 4] = [2.0, 4.0, 8.0, 16.0];
/// Longest soak planned, s.
const LONGEST_S: f64 = 7.0 * 86_400.0;
const MINUTE_MS: i64 = 60_000;
/// Air older than this says nothing about what the tent draws in, ms.
const OLD_MS: i64 = 24 * 3_600_000;

/// What is planned for: how cured it is now, the tent, the wood.
struct Plan<'a> {
    cured: &'a Cured,
    to_k: f64,
    /// Of the wood, one warm face counted as twice as thick, mm.
    thickness_mm: f64,
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
    let HowCured::Told(cured) = &told else {
        let HowCured::CannotTell(why) = &told else { return Err(not_told(asked, "it cannot be told")) };
        return Err(not_told(asked, why));
    };
    let to_k = to.mk as f64 / 1000.0;
    fits(asking, asked, &on, (to.mk, cured))?;
    let over_all = glue::wood::thickness_mm(on.wood.thickness_mm);
    let plan = Plan { cured, to_k, thickness_mm: if faces == 1 { over_all * 2.0 } else { over_all } };
    let warm_up_ms = plan.warm_up_ms();
    let service = named.map(|it| it.mk).or(on.service.as_ref().map(|it| it.0));
    let soak_ms = match service {
        Some(mk) => plan.soak_ms(mk as f64 / 1000.0).map_err(unsolved)?,
        None => None,
    };
    let reader = asking.judge.reader;
    let mut steps = Vec::new();
    for soak in SHOWN_H.map(|hours| (hours * 3.6e6) as i64).into_iter().chain(soak_ms.filter(|soak| *soak > 0)) {
        let (conversion, glass_k) = plan.after(soak).map_err(unsolved)?;
        steps.push(PostCureStep {
            soak: stretch(soak),
            soak_ms: soak,
            total: stretch(soak + warm_up_ms),
            conversion_pct: percent_of(conversion),
            glass: glass(glass_k, reader),
            enough: service
                .map(|mk| soak_ms.is_some_and(|needed| soak >= needed) && glass_k.0 * 1000.0 >= mk as f64 - 1.0),
        });
    }
    steps.sort_by_key(|step| step.soak_ms);
    steps.dedup_by_key(|step| step.soak_ms);
    let thickness = reader.length((over_all * 1000.0) as i64);
    let wood = format!(
        "{thickness} of wood{}, {}",
        if on.wood.thickness_mm.is_none() { " taken" } else { "" },
        faces_said(faces)
    );
    let mut said = vec![format!(
        "Now: about {} %, glass transition about {}.",
        percent_of(cured.conversion),
        glass(cured.glass_k, reader)
    )];
    said.push(format!(
        "Until the glue line is within {} of {}: {} ({wood}). The soak counts from there, not from when the tent is warm.",
        reader.difference(WITHIN_K),
        reader.temperature(to.mk),
        stretch(warm_up_ms)
    ));
    said.push(plan.answer(service, soak_ms, warm_up_ms, reader));
    Ok(PostCureAnswer {
        at: instant(asking.at_ms),
        bond: story.name.clone(),
        to: reader.temperature(to.mk),
        service: service.map(|mk| reader.temperature(mk)),
        maximum_cure: maximum(&on).map(|(mk, _)| reader.temperature(mk)),
        conversion_pct: percent_of(cured.conversion),
        glass: glass(cured.glass_k, reader),
        warm_up_ms,
        soak_ms,
        total_ms: soak_ms.map(|soak| soak + if soak > 0 { warm_up_ms } else { 0 }),
        steps,
        said,
        cautions: cautions(asking, &on, &plan, &story)?,
        rests_on: on.rests_on(&told),
    })
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
    let sentence = format!("How cured bond {} is cannot be told: {why}.", crate::wire::shown(&asked.bond));
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
        let sentence = format!("body.to is \"{}\"; it takes {range}.", crate::wire::shown(&asked.to));
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

    /// Soak until the transition told is at least this, K; None: not within a week.
    fn soak_ms(&self, wanted_k: f64) -> Result<Option<i64>, Unsolved> {
        let (of, from) = (&self.cured.of, self.cured.conversion);
        if self.cured.glass_k.0 >= wanted_k {
            return Ok(Some(0));
        }
        // What is told never lies more than ten kelvin over the warmest cure, whatever the model says.
        let reach = cured::span(&of.glass, 1.0, self.to_k.max(self.cured.highest_k)).0;
        if reach < wanted_k {
            return Ok(None);
        }
        let soak = of.glass.soak(&of.kinetics, from, wanted_k, self.to_k, LONGEST_S)?;
        Ok(soak.map(|seconds| minutes_up(seconds * 1000.0)))
    }

    /// Share and transition after a soak; nothing is counted of the way up.
    fn after(&self, soak_ms: i64) -> Result<(f64, (f64, f64)), Unsolved> {
        let of = &self.cured.of;
        let state = of.glass.on(&of.kinetics, self.cured.conversion, &[(self.to_k, soak_ms as f64 / 1000.0)])?;
        Ok((state.conversion, cured::span(&of.glass, state.conversion, self.to_k.max(self.cured.highest_k))))
    }

    fn answer(
        &self,
        service: Option<i64>,
        soak_ms: Option<i64>,
        warm_up_ms: i64,
        reader: crate::reader::Reader,
    ) -> String {
        let to = reader.kelvin(self.to_k);
        match (service, soak_ms) {
            (None, _) => {
                "The hottest in service is not recorded: choose the soak by the glass transition it gives.".to_owned()
            }
            (Some(mk), Some(0)) => format!("For {} in service it needs none.", reader.temperature(mk)),
            (Some(mk), Some(soak)) => format!(
                "For {} in service: {} of soak, {} in the tent in all.",
                reader.temperature(mk),
                stretch(soak),
                stretch(soak + warm_up_ms)
            ),
            (Some(mk), None) => {
                format!(
                    "At {to} its glass transition does not reach {} within a week: it needs more warmth, not more time.",
                    reader.temperature(mk)
                )
            }
        }
    }
}

fn minutes_up(ms: f64) -> i64 {
    libm::ceil(ms / MINUTE_MS as f64) as i64 * MINUTE_MS
}

fn cautions(asking: &Asking, on: &CureOn, plan: &Plan, story: &crate::judge::BondStory) -> Result<Vec<String>, Error> {
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
    all.push(format!("{}.", crate::judge::words::capital(BY_MODEL)));
    Ok(all)
}

/// What wood would settle at in the air of where the bond is now, or of where that place's air comes from, heated.
fn dry_air(asking: &Asking, story: &crate::judge::BondStory, plan: &Plan) -> Result<Option<String>, Error> {
    let Some((_, Some(place))) = asking.judge.places(story)?.pop() else { return Ok(None) };
    let source = dried::source_of(asking, &place)?.unwrap_or(place);
    let Some((at, mk, Some(ppm))) = strip::last_reading(asking, &source)? else { return Ok(None) };
    if asking.at_ms - at > OLD_MS || ppm <= 0 {
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
