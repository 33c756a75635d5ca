//! From an entry back to the act that would make it: the body of a correction before anything in it is changed.
//! Quantities as typed; what was inherited is left out, and so stays as it was inherited. Long because there are many
//! kinds of entries: one function for each.

use super::Asking;
use crate::act::instant::{local_day, written};
use crate::act::{
    bond, card, card_cure, forecast as expected, mix, names, part, people, press, reading, settle, store,
};
use crate::judge::lots::typed;
use logbook::entry::typed::{Amount, Mass};
use logbook::entry::{self as stored, Body, Id};
use logbook::settled::Settled;
use logbook::store::{Error, Noun};
use serde::Serialize;
use serde_json::Value;

const DAY_MS: i64 = 86_400_000;

/// Word and body of the act that would say what is in force; None: no act corrects such an entry.
pub fn of(asking: &Asking, one: &Settled) -> Result<Option<(&'static str, Value)>, Error> {
    let body = match &one.body {
        Body::Person(it) => json(people::Person { name: it.name.clone() }),
        Body::Place(it) => {
            json(people::Place { name: it.name.clone(), feed: it.feed, heated_from: it.heated_from.clone() })
        }
        Body::Instrument(it) => json(instrument(it)),
        Body::Card(it) => json(card(it)),
        Body::Lot(it) => json(lot(asking, it)?),
        Body::Container(it) => json(container(asking, it)?),
        Body::Kind(it) => json(kind(it)),
        Body::Set(it) => json(part::Set {
            kind: asking.called(Noun::Kind, &it.kind)?,
            marks: asking.called_each(Noun::Part, &it.parts)?,
            assembly: it.assembly.clone(),
        }),
        Body::Part(it) => json(part::Part {
            mark: it.mark.clone(),
            assembly: it.assembly.clone(),
            kind: asking.called_if(Noun::Kind, it.kind.as_ref())?,
            service: it.service.as_ref().map(|it| it.typed.clone()),
        }),
        Body::Joint(it) => {
            let plan = joint(&it.joint);
            let part = asking.called(Noun::Part, &it.part)?;
            json(part::Joint { part, mark: plan.mark, sort: plan.sort, area: plan.area, thickness: plan.thickness })
        }
        Body::Reading(it) => json(reading(asking, it)?),
        Body::Vouch(it) => json(reading::Vouch {
            place: asking.called(Noun::Place, &it.place)?,
            floor: it.floor.typed.clone(),
            until: written(it.until_ms),
            from: Some(written(it.from_ms)),
        }),
        Body::Forecast(it) => json(forecast(asking, it)?),
        Body::Mix(it) => json(mix(asking, it)?),
        Body::TopUp(it) => json(top_up(mix(asking, it)?)),
        Body::Filler(it) => json(mix::Filler {
            batch: asking.called(Noun::Batch, &it.batch)?,
            lot: asking.called(Noun::Lot, &it.lot)?,
            mass: it.mass.as_ref().map(|mass| mass.typed.clone()),
        }),
        Body::Cup(it) => {
            json(mix::Cup { batch: asking.called(Noun::Batch, &it.batch)?, temperature: it.temperature.typed.clone() })
        }
        Body::ThrowAway(it) => {
            json(mix::ThrowAway { batch: asking.called(Noun::Batch, &it.batch)?, mass: it.mass.typed.clone() })
        }
        Body::Bond(it) => json(bond(asking, it)?),
        Body::Press(it) => json(press::Press {
            press: it.press.clone(),
            bond: asking.called_if(Noun::Bond, it.bond.as_ref())?,
            batch: asking.called_if(Noun::Batch, it.batch.as_ref())?,
            seen: it.seen.clone(),
            entry: None,
        }),
        Body::Moved(it) => json(bond::Moved {
            bond: asking.called(Noun::Bond, &it.bond)?,
            place: asking.called(Noun::Place, &it.place)?,
        }),
        Body::Coat(it) => json(bond::Coat {
            bond: asking.called(Noun::Bond, &it.bond)?,
            batch: asking.called_if(Noun::Batch, it.batch.as_ref())?,
        }),
        Body::Surface(it) => json(bond::Surface {
            joints: it.joints.iter().map(|one| joint_name(asking, one)).collect::<Result<_, _>>()?,
            parts: asking.called_each(Noun::Part, &it.parts)?,
            how: it.how.clone(),
        }),
        Body::Sample(it) => json(super::sample::act(asking, it)?),
        Body::Reason(it) => json(reason(asking, it)?),
        Body::Decide(it) => json(settle::Decide {
            bond: asking.called(Noun::Bond, &it.bond)?,
            verdict: it.verdict.clone(),
            why: it.why(Some(&why(asking, one)?)).unwrap_or_default().to_owned(),
        }),
        Body::CheckpointGiven(it) => json(crate::act::book::CheckpointGiven { to: it.to.clone() }),
        _ => return Ok(None),
    };
    let word = crate::act::WORDS.iter().find(|word| **word == one.body.kind());
    Ok(word.copied().zip(body))
}

fn json<T: Serialize>(body: T) -> Option<Value> {
    serde_json::to_value(body).ok()
}

fn instrument(it: &stored::place::Instrument) -> people::Instrument {
    let steps = [
        it.mass_step.as_ref().map(|step| step.typed.clone()),
        it.temperature_step.as_ref().map(|step| step.typed.clone()),
        it.share_step.as_ref().map(|step| step.typed.clone()),
    ];
    let errors = [
        it.mass_accuracy.as_ref().map(|error| error.typed.clone()),
        it.temperature_accuracy.as_ref().map(|error| error.typed.clone()),
        it.share_accuracy.as_ref().map(|error| error.typed.clone()),
    ];
    let texts = |all: [Option<String>; 3]| {
        let mut all: Vec<String> = all.into_iter().flatten().collect();
        if all.len() == 1 { people::Texts::One(all.remove(0)) } else { people::Texts::Many(all) }
    };
    let accuracy = errors.iter().any(Option::is_some).then(|| texts(errors));
    people::Instrument { name: it.name.clone(), step: texts(steps), accuracy }
}

// Long, because a sheet says many things: one line for each.
fn card(it: &stored::card::Card) -> card::Card {
    let heat = |it: &Option<stored::typed::Temperature>| it.as_ref().map(|it| it.typed.clone());
    let share = |it: &Option<stored::typed::Share>| it.as_ref().map(|it| it.typed.clone());
    let pressure = |it: &Option<stored::typed::Pressure>| it.as_ref().map(|it| it.typed.clone());
    let time = |it: &Option<stored::typed::Time>| it.as_ref().map(|it| it.typed.clone());
    let density = |it: Option<i64>| it.map(|g| format!("{g} g/l"));
    card::Card {
        name: it.name.clone(),
        class: it.class.clone(),
        ratio: ratio(&it.ratio),
        limits: it.limits.iter().map(limit).collect(),
        tolerance: share(&it.ratio.tolerance),
        origin: Some(it.origin.clone()),
        together: it.together,
        minimum_cure: heat(&it.minimum_cure),
        below_minimum: it.below_minimum.clone(),
        maximum_cure: heat(&it.maximum_cure),
        application_minimum: heat(&it.application_minimum),
        application_maximum: heat(&it.application_maximum),
        water_borne: it.water_borne,
        moisture_minimum: share(&it.moisture_minimum),
        moisture_maximum: share(&it.moisture_maximum),
        humidity_minimum: share(&it.humidity_minimum),
        humidity_maximum: share(&it.humidity_maximum),
        pressure_minimum: pressure(&it.pressure_minimum),
        pressure_maximum: pressure(&it.pressure_maximum),
        largest_batch: it.largest_batch.as_ref().map(|mass| mass.typed.clone()),
        resin_density: density(it.resin_g_per_l),
        hardener_density: density(it.hardener_g_per_l),
        stirring: time(&it.stirring),
        standing: time(&it.standing),
        spread: it.spread_mg_per_m2.map(|mg| format!("{}.{:03} g/m2", mg / 1000, mg % 1000)),
        film_gel: it.film_gel.as_ref().map(film_gel),
        equivalents: it.equivalents.as_ref().map(equivalents),
        glass: it.glass.as_ref().map(glass),
        // By id: the name may have passed to this very card.
        revises: it.revises.clone(),
        note: it.note.clone(),
    }
}

fn film_gel(it: &stored::card::FilmGel) -> card_cure::FilmGel {
    card_cure::FilmGel { at: it.at.typed.clone(), time: it.typed.clone() }
}

fn equivalents(it: &stored::card::Equivalents) -> card_cure::Equivalents {
    card_cure::Equivalents {
        resin: it.resin.typed.clone(),
        hardener: it.hardener.typed.clone(),
        functionality: it.functionality,
    }
}

fn glass(it: &stored::card::Glass) -> card_cure::Glass {
    card_cure::Glass { fresh: it.fresh.as_ref().map(|at| at.typed.clone()), full: it.full.typed.clone() }
}

fn ratio(it: &stored::card::Ratio) -> card::RatioWire {
    match (&it.weight, &it.volume) {
        (Some(weight), None) => card::RatioWire::Text(weight.typed.clone()),
        (None, Some(volume)) => card::RatioWire::Text(format!("{} by volume", volume.typed)),
        (weight, volume) => card::RatioWire::Full(card::RatioFull {
            weight: weight.as_ref().map(|parts| parts.typed.clone()),
            volume: volume.as_ref().map(|parts| parts.typed.clone()),
            by: None,
            nominal: None,
            tolerance: None,
        }),
    }
}

fn limit(it: &stored::card::Limit) -> card::Limit {
    let point = |it: &stored::card::Point| card::Point {
        at: it.at.as_ref().map(|at| at.typed.clone()),
        time: it.typed.clone(),
        mass: it.mass.as_ref().map(|mass| mass.typed.clone()),
    };
    card::Limit {
        clock: it.clock.clone(),
        points: it.points.iter().map(point).collect(),
        counted_from: it.counted_from.clone(),
        bent: it.bent,
        judged_by: it.judged_by.clone(),
    }
}

fn lot(asking: &Asking, it: &stored::card::Lot) -> Result<store::Lot, Error> {
    Ok(store::Lot {
        mark: it.mark.clone(),
        card: asking.called(Noun::Card, &it.card)?,
        role: it.role.clone(),
        received: it.received_ms.map(|ms| asking.first_of_day(ms)),
        expires: it.expires_ms.map(|ms| asking.last_of_day(ms)),
    })
}

fn container(asking: &Asking, it: &stored::card::Container) -> Result<store::Container, Error> {
    Ok(store::Container {
        mark: it.mark.clone(),
        lot: asking.called(Noun::Lot, &it.lot)?,
        holds: it.holds.as_ref().map(|holds| typed(holds).to_owned()),
        stored: asking.called_if(Noun::Place, it.stored.as_ref())?,
        opened: it.opened_ms.map(|ms| asking.first_of_day(ms)),
    })
}

fn kind(it: &stored::part::Kind) -> part::Kind {
    let stage =
        |it: &stored::part::Stage| part::Stage { mark: it.mark.clone(), joints: it.joints.iter().map(joint).collect() };
    part::Kind {
        mark: it.mark.clone(),
        stages: it.stages.iter().map(stage).collect(),
        presses: Some(it.presses),
        pressure: it.pressure.as_ref().map(|it| it.typed.clone()),
        clamping: it.clamping.as_ref().map(|it| it.typed.clone()),
        bent: it.bent,
        service: it.service.as_ref().map(|it| it.typed.clone()),
    }
}

fn joint(it: &stored::part::JointPlan) -> part::JointPlan {
    part::JointPlan {
        mark: it.mark.clone(),
        sort: it.sort.clone(),
        area: it.area.as_ref().map(|it| it.typed.clone()),
        thickness: it.thickness.as_ref().map(|it| it.typed.clone()),
    }
}

fn reading(asking: &Asking, it: &stored::place::Reading) -> Result<reading::Reading, Error> {
    let heat = it.wood_temperature.as_ref().map(|it| it.typed.clone());
    let damp = it.wood_moisture.as_ref().map(|it| it.typed.clone());
    let wood = match (heat, damp) {
        (None, None) => None,
        (Some(one), None) | (None, Some(one)) => Some(reading::Wood::Text(one)),
        (temperature, moisture) => Some(reading::Wood::Both(reading::WoodBoth { temperature, moisture })),
    };
    let lowest = it.lowest.as_ref().map(|lowest| match lowest.since_ms.map(written) {
        None => reading::LowestSince::Text(lowest.temperature.typed.clone()),
        Some(since) if lowest.temperature == it.temperature => reading::LowestSince::Text(since),
        Some(since) => {
            reading::LowestSince::Both(reading::LowestBoth { temperature: lowest.temperature.typed.clone(), since })
        }
    });
    Ok(reading::Reading {
        place: asking.called(Noun::Place, &it.place)?,
        temperature: it.temperature.typed.clone(),
        humidity: it.humidity.as_ref().map(|it| it.typed.clone()),
        wood,
        lowest_since: lowest,
        instrument: asking.called_if(Noun::Instrument, it.instrument.as_ref())?,
    })
}

fn mix(asking: &Asking, it: &stored::mix::Mix) -> Result<mix::Mix, Error> {
    let net = |amount: &Option<Amount>| match it.totals {
        Some(_) => None,
        None => amount.as_ref().map(|amount| typed(amount).to_owned()),
    };
    let containers = if it.containers_from.is_some() { &[][..] } else { &it.containers };
    Ok(mix::Mix {
        batch: Some(asking.called(Noun::Batch, &it.batch)?),
        card: asking.called(Noun::Card, &it.card)?,
        containers: asking.called_each(Noun::Container, containers)?,
        resin: net(&it.resin),
        hardener: net(&it.hardener),
        weighing: it.totals.as_ref().map(|read| totals(read)).or(it.weighing.clone()),
        instrument: asking.called_if(Noun::Instrument, it.instrument.as_ref())?,
        start_temperature: it.start_temperature.as_ref().map(|it| it.typed.clone()),
        place: asking.called_if(Noun::Place, it.place.as_ref().filter(|_| it.place_from.is_none()))?,
    })
}

/// `12.4/52.4/60.7 g`, as read.
fn totals(read: &[Mass]) -> String {
    let number = |mass: &Mass| -> String {
        let typed = mass.typed.trim();
        typed.chars().take_while(|letter| !letter.is_alphabetic()).collect::<String>().trim().to_owned()
    };
    let numbers: Vec<String> = read.iter().map(number).collect();
    let unit = read.last().and_then(|mass| mass.typed.split_whitespace().last()).unwrap_or("g");
    format!("{} {unit}", numbers.join("/"))
}

fn top_up(it: mix::Mix) -> mix::TopUp {
    mix::TopUp {
        batch: it.batch.unwrap_or_default(),
        card: it.card,
        containers: it.containers,
        resin: it.resin,
        hardener: it.hardener,
        weighing: it.weighing,
        instrument: it.instrument,
        start_temperature: it.start_temperature,
        place: it.place,
    }
}

fn bond(asking: &Asking, it: &stored::bond::Bond) -> Result<bond::Bond, Error> {
    let (parts, joints) = match stage_parts(asking, it)? {
        Some(parts) => (asking.called_each(Noun::Part, &parts)?, Vec::new()),
        None => (Vec::new(), it.joints.iter().map(|one| joint_name(asking, one)).collect::<Result<_, _>>()?),
    };
    let own = |taken: bool, text: Option<String>| text.filter(|_| !taken);
    Ok(bond::Bond {
        batches: it.batches.iter().map(|one| batch_use(asking, one)).collect::<Result<_, _>>()?,
        joints,
        parts,
        stage: it.stage.clone(),
        place: own(it.place_from.is_some(), asking.called_if(Noun::Place, it.place.as_ref())?),
        bent: it.bent,
        moisture: own(it.moisture_from.is_some(), it.moisture.as_ref().map(|it| it.typed.clone())),
        wood_temperature: it.wood_temperature.as_ref().map(|it| it.typed.clone()),
        stored: asking.called_if(Noun::Place, it.stored.as_ref())?,
        layer_below: asking.called_if(Noun::Bond, it.layer_below.as_ref())?,
        pressure: it.pressure.as_ref().map(|it| it.typed.clone()),
        pressure_as_planned: it.pressure_as_planned,
        clamping: it.clamping_ms.map(time),
        dry_run: it.dry_run,
        presses: Some(it.presses),
    })
}

/// The parts whose joints of the bond's stage are just the bond's joints, in its order; None: they are not.
fn stage_parts(asking: &Asking, it: &stored::bond::Bond) -> Result<Option<Vec<Id>>, Error> {
    let Some(stage) = &it.stage else { return Ok(None) };
    let (mut parts, mut marks): (Vec<Id>, Vec<(Id, String)>) = (Vec::new(), Vec::new());
    for joint in &it.joints {
        if parts.contains(&joint.part) {
            continue;
        }
        parts.push(joint.part.clone());
        let one = asking.judge.in_force(&joint.part)?;
        let Some(Body::Part(part)) = one.as_ref().map(|one| &one.body) else { return Ok(None) };
        let kind = asking.kind_of(part)?;
        let stages = kind.into_iter().flat_map(|kind| kind.stages).filter(|one| one.mark == *stage);
        marks.extend(stages.flat_map(|one| one.joints).map(|plan| (joint.part.clone(), plan.mark)));
    }
    let same = marks.len() == it.joints.len()
        && marks.iter().zip(&it.joints).all(|((part, mark), joint)| *part == joint.part && *mark == joint.mark);
    Ok(same.then_some(parts))
}

fn batch_use(asking: &Asking, it: &stored::bond::BatchUse) -> Result<bond::BatchUse, Error> {
    let batch = asking.called(Noun::Batch, &it.batch)?;
    if it.from.is_none() && it.to.is_none() {
        return Ok(bond::BatchUse::Name(batch));
    }
    Ok(bond::BatchUse::Stretch(bond::Stretch {
        batch,
        from: it.from.as_ref().map(|it| it.typed.clone()),
        to: it.to.as_ref().map(|it| it.typed.clone()),
    }))
}

/// `R3-L/J2`; as an object where a stroke in a mark would make it two.
fn joint_name(asking: &Asking, it: &stored::part::JointRef) -> Result<bond::JointName, Error> {
    let part = asking.called(Noun::Part, &it.part)?;
    if part.contains('/') || it.mark.contains('/') {
        return Ok(bond::JointName::Full(bond::JointFull { part, mark: it.mark.clone() }));
    }
    Ok(bond::JointName::Text(format!("{part}/{}", it.mark)))
}

/// A time as it may be typed, in the largest unit that keeps it whole.
fn time(ms: i64) -> String {
    match ms {
        ms if ms % 60_000 == 0 => format!("{} min", ms / 60_000),
        ms => format!("{}.{:03} s", ms / 1000, ms % 1000),
    }
}

fn reason(asking: &Asking, it: &stored::settle::Reason) -> Result<settle::Reason, Error> {
    let bond = asking.called(Noun::Bond, &it.bond)?;
    let of = match it.of.as_slice() {
        [one] => format!("{bond}: {one}"),
        _ => bond,
    };
    Ok(settle::Reason { of, text: it.text.clone() })
}

/// Why, of the version in force.
fn why(asking: &Asking, one: &Settled) -> Result<String, Error> {
    let correction = one.corrected_by.as_ref().map(|id| asking.book.entry(id)).transpose()?.flatten();
    Ok(correction.unwrap_or_else(|| one.entry.clone()).why.unwrap_or_default())
}

impl Asking<'_> {
    /// A name that leads back to this thing alone: its name, a batch's name with its day, else its id.
    fn called(&self, noun: Noun, id: &Id) -> Result<String, Error> {
        let leads = |name: &str| names::resolve(self.book, noun, "body", name).is_ok_and(|found| found == *id);
        let name = self.judge.name(id)?;
        if leads(&name) {
            return Ok(name);
        }
        let one = self.judge.in_force(id)?;
        if let Some(Body::Batch(batch)) = one.as_ref().map(|one| &one.body) {
            let dated = format!("{} {}", batch.name, batch.day);
            if leads(&dated) {
                return Ok(dated);
            }
        }
        Ok(id.clone())
    }

    pub(super) fn called_if(&self, noun: Noun, id: Option<&Id>) -> Result<Option<String>, Error> {
        id.map(|id| self.called(noun, id)).transpose()
    }

    fn called_each(&self, noun: Noun, ids: &[Id]) -> Result<Vec<String>, Error> {
        ids.iter().map(|id| self.called(noun, id)).collect()
    }

    /// A day where it is that day's first moment in this computer's zone, else the instant.
    fn first_of_day(&self, ms: i64) -> String {
        self.day_if(ms, (ms + i64::from(self.zone_min) * 60_000).rem_euclid(DAY_MS) == 0)
    }

    /// A day where it is that day's last moment in this computer's zone, else the instant.
    fn last_of_day(&self, ms: i64) -> String {
        self.day_if(ms, (ms + 1 + i64::from(self.zone_min) * 60_000).rem_euclid(DAY_MS) == 0)
    }

    fn day_if(&self, ms: i64, whole: bool) -> String {
        if whole { local_day(ms, self.zone_min).1 } else { written(ms) }
    }
}

fn forecast(asking: &Asking, it: &stored::forecast::Forecast) -> Result<expected::Forecast, Error> {
    use stored::forecast::Shape;
    let place = asking.called(Noun::Place, &it.place)?;
    let said = expected::Forecast { place, until: it.until_ms.map(written), ..expected::Forecast::default() };
    let clock = |minutes: i64| Some(expected::clock_text(minutes));
    Ok(match &it.shape {
        Shape::Hold(hold) => expected::Forecast { shape: "hold".into(), at: Some(hold.at.typed.clone()), ..said },
        Shape::Setback(it) => expected::Forecast {
            shape: "setback".into(),
            day: Some(it.day.typed.clone()),
            night: Some(it.night.typed.clone()),
            from: clock(it.from_min),
            to: clock(it.to_min),
            ramp: it.ramp.as_ref().map(|ramp| ramp.typed.clone()),
            ..said
        },
        Shape::Cooling(it) => expected::Forecast {
            shape: "cooling".into(),
            towards: Some(it.towards.typed.clone()),
            time_constant: it.time_constant.as_ref().map(|tau| tau.typed.clone()),
            ..said
        },
        Shape::Day(it) => expected::Forecast {
            shape: "day".into(),
            mean: Some(it.mean.typed.clone()),
            swing: Some(it.swing.typed.clone()),
            warmest: clock(it.warmest_min),
            ..said
        },
    })
}
