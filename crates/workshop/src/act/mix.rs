//! Batches: what went in, what was added, what was left.

use super::desk::Desk;
use super::{Enact, batch, ratio, session, typed};
use crate::wire::{WireError, shown};
use logbook::entry::typed::{Amount, Mass as Weight};
use logbook::entry::{Body, Id, mix};
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What went into a batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Mix {
    /// Batch; absent: the one whose hardener went in within four hours and that has no mix, else a new one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
    /// Card in force.
    pub card: String,
    /// Cans; absent: those of this person's last mix of this card within four hours.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub containers: Vec<String>,
    /// Resin, net: `40.0 g` (0.05 g to 50 kg) or `50 ml` (0.05 ml to 50 l).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resin: Option<String>,
    /// Hardener, net.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hardener: Option<String>,
    /// `retared` (preset), `one-cup`, or the running totals read: `12.4/52.4/60.7 g` (cup, cup and resin, all).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weighing: Option<String>,
    /// Scale.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// Temperature of the components, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start_temperature: Option<String>,
    /// Where the pot stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
}

/// More of the components into a running batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TopUp {
    /// Batch.
    pub batch: String,
    /// Card in force.
    pub card: String,
    /// Cans; absent: those of this person's last mix of this card within four hours.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub containers: Vec<String>,
    /// Resin, net: `40.0 g` (0.05 g to 50 kg) or `50 ml` (0.05 ml to 50 l).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resin: Option<String>,
    /// Hardener, net.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hardener: Option<String>,
    /// `retared` (preset), `one-cup`, or the running totals read: `12.4/52.4/60.7 g` (cup, cup and resin, all).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weighing: Option<String>,
    /// Scale.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// Temperature of the components, -40 to 60 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start_temperature: Option<String>,
    /// Where the pot stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
}

/// Filler added to a batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Filler {
    /// Batch.
    pub batch: String,
    /// Lot of the filler.
    pub lot: String,
    /// How much, 0.05 g to 50 kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass: Option<String>,
}

/// How warm the glue in a batch's cup is, measured in it: the forecast of its pot goes on from there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cup {
    /// Batch.
    pub batch: String,
    /// In the glue, -40 to 260 °C.
    pub temperature: String,
}

/// What was left of a batch and thrown away.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ThrowAway {
    /// Batch.
    pub batch: String,
    /// How much, 0.05 g to 50 kg.
    pub mass: String,
}

impl Enact for Mix {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let named = desk.find_if(Noun::Batch, "body.batch", self.batch.as_deref())?;
        if let Some(batch) = &named {
            unmixed(desk, batch, self.batch.as_deref().unwrap_or_default())?;
        }
        let poured = Poured::of(&self)?;
        let batch = batch::for_mix(desk, named)?;
        let body = self.body(desk, batch, poured)?;
        let about = about(desk, &body)?;
        desk.put(Body::Mix(body), about);
        Ok(())
    }
}

impl Enact for TopUp {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let batch = desk.find(Noun::Batch, "body.batch", &self.batch)?;
        let mix = Mix::from(self);
        let poured = Poured::of(&mix)?;
        let body = mix.body(desk, batch, poured)?;
        let about = about(desk, &body)?;
        desk.put(Body::TopUp(body), about);
        Ok(())
    }
}

impl From<TopUp> for Mix {
    fn from(it: TopUp) -> Mix {
        Mix {
            batch: Some(it.batch),
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
}

impl Mix {
    fn body(&self, desk: &mut Desk, batch: Id, poured: Poured) -> Result<mix::Mix, WireError> {
        let card = desk.find(Noun::Card, "body.card", &self.card)?;
        let (containers, containers_from) = self.cans(desk, &card)?;
        let instrument = desk.find_if(Noun::Instrument, "body.instrument", self.instrument.as_deref())?;
        let (place, place_from) = match desk.find_if(Noun::Place, "body.place", self.place.as_deref())? {
            Some(place) => (Some(place), None),
            None => session::place(desk)?.unzip(),
        };
        let mut body = mix::Mix {
            batch,
            card,
            containers,
            containers_from,
            resin: poured.resin,
            hardener: poured.hardener,
            weighing: poured.weighing.map(str::to_owned),
            totals: poured.totals,
            start_temperature: typed::maybe("body.start_temperature", self.start_temperature.as_deref(), typed::air)?,
            instrument,
            place,
            place_from,
            judged: None,
        };
        name_scale(&mut body);
        body.judged = ratio::judged(desk, &body)?;
        Ok(body)
    }

    /// The cans named, else those of the session.
    fn cans(&self, desk: &mut Desk, card: &str) -> Result<(Vec<Id>, Option<logbook::entry::typed::Taken>), WireError> {
        let mut cans = Vec::new();
        for (at, mark) in self.containers.iter().enumerate() {
            let field = format!("body.containers[{at}]");
            let can = desk.find(Noun::Container, &field, mark)?;
            if cans.contains(&can) {
                return Err(super::desk::twice(&field, mark));
            }
            cans.push(can);
        }
        if cans.is_empty()
            && let Some((cans, from)) = session::containers(desk, card)?
        {
            return Ok((cans, Some(from)));
        }
        Ok((cans, None))
    }
}

/// What went into the cup, as weighed.
struct Poured {
    resin: Option<Amount>,
    hardener: Option<Amount>,
    weighing: Option<&'static str>,
    totals: Option<Vec<Weight>>,
}

impl Poured {
    fn of(mix: &Mix) -> Result<Poured, WireError> {
        let weighing = mix.weighing.as_deref().map(str::trim);
        let (weighing, totals) = match weighing {
            None => (None, None),
            Some("retared") => (Some("retared"), None),
            Some("one-cup") => (Some("one-cup"), None),
            Some(read) => (Some("one-cup"), Some(totals(read)?)),
        };
        let resin = typed::maybe("body.resin", mix.resin.as_deref(), typed::amount)?;
        let hardener = typed::maybe("body.hardener", mix.hardener.as_deref(), typed::amount)?;
        let Some(totals) = totals else {
            return Ok(Poured { resin, hardener, weighing, totals: None });
        };
        if resin.is_some() || hardener.is_some() {
            let sentence = "body.weighing gives running totals, and body.resin or body.hardener is given too.";
            let error = WireError::new("contradicts", sentence, "Give the totals or the net amounts, not both.");
            return Err(error.field("body.weighing").range("totals or net amounts"));
        }
        let (resin, hardener) = nets(&totals)?;
        Ok(Poured { resin: Some(resin), hardener: Some(hardener), weighing, totals: Some(totals) })
    }
}

/// `12.4/52.4/60.7 g`: cup, cup and resin, all.
fn totals(read: &str) -> Result<Vec<Weight>, WireError> {
    let field = "body.weighing";
    let range = "retared, one-cup, or three rising totals like 12.4/52.4/60.7 g";
    let wrong = || {
        let sentence = format!("{field} is \"{}\"; it takes {range}.", shown(read));
        WireError::new("out-of-range", sentence, "Read the scale as cup, cup and resin, all.")
            .field(field)
            .value(read)
            .range(range)
    };
    let parts: Vec<&str> = read.split('/').map(str::trim).collect();
    let [cup, first, all] = parts.as_slice() else {
        return Err(wrong());
    };
    let unit: String = all.chars().skip_while(|letter| !letter.is_alphabetic()).collect();
    let mut totals = vec![cup_mass(field, cup, &unit)?];
    totals.push(typed::mass_in(field, first, &unit)?);
    totals.push(typed::mass_in(field, all, &unit)?);
    if totals.windows(2).any(|pair| matches!(pair, [a, b] if a.mg >= b.mg)) {
        return Err(wrong());
    }
    Ok(totals)
}

/// The cup may have been tared away: 0 is read too.
fn cup_mass(field: &str, text: &str, unit: &str) -> Result<Weight, WireError> {
    if !text.is_empty() && text.chars().all(|letter| matches!(letter, '0' | '.' | ',')) {
        let steps = text.split(['.', ',']).nth(1).map_or(0, str::len);
        let one = typed::mass_in(field, &format!("1.{}", "0".repeat(steps.max(1))), unit)?;
        return Ok(Weight { mg: 0, typed: format!("{text} {unit}"), step_mg: one.step_mg, by: None });
    }
    typed::mass_in(field, text, unit)
}

/// Net amounts from running totals.
fn nets(totals: &[Weight]) -> Result<(Amount, Amount), WireError> {
    let [cup, first, all] = totals else {
        return Err(WireError::new("fault", "A weighing without three totals.", ""));
    };
    let net = |more: &Weight, less: &Weight| {
        let typed = format!("{} - {}", more.typed, less.typed);
        Amount::Mass(Weight { mg: more.mg - less.mg, typed, step_mg: more.step_mg.max(less.step_mg), by: None })
    };
    Ok((net(first, cup), net(all, first)))
}

/// Weights read on a named scale name it.
fn name_scale(body: &mut mix::Mix) {
    let Some(scale) = &body.instrument else { return };
    for amount in [&mut body.resin, &mut body.hardener].into_iter().flatten() {
        if let Amount::Mass(mass) = amount {
            mass.by = Some(scale.clone());
        }
    }
    for total in body.totals.iter_mut().flatten() {
        total.by = Some(scale.clone());
    }
}

/// A batch is mixed once; more of it is a top-up.
fn unmixed(desk: &Desk, batch: &str, typed: &str) -> Result<(), WireError> {
    let own = desk.own_id();
    let story = desk.judge.batch(batch)?;
    let mixed = |story: &crate::judge::BatchStory| {
        story.mixes.iter().any(|(top_up, one)| !top_up && Some(&one.entry.id) != own.as_ref())
    };
    if story.is_some_and(|story| mixed(&story)) {
        let sentence = format!("body.batch is \"{}\", which has its mix already.", shown(typed));
        let error = WireError::new("duplicate", sentence, "Use top-up for more of it, or correct the mix.");
        return Err(error.field("body.batch").value(typed).range("a batch without a mix"));
    }
    Ok(())
}

/// A mix is about its batch and the lots of its cans.
fn about(desk: &Desk, body: &mix::Mix) -> Result<Vec<Id>, WireError> {
    let mut about = vec![body.batch.clone()];
    about.extend(lots_of_cans(desk, &body.containers)?);
    Ok(about)
}

fn lots_of_cans(desk: &Desk, cans: &[Id]) -> Result<Vec<Id>, WireError> {
    let mut lots = Vec::new();
    for can in cans {
        if let Some(one) = desk.in_force(can)?
            && let Body::Container(can) = &one.body
        {
            lots.push(can.lot.clone());
        }
    }
    Ok(lots)
}

/// Every lot in a batch: mix, top-ups and filler.
pub(super) fn lots_of_batch(desk: &Desk, batch: &str) -> Result<Vec<Id>, WireError> {
    let Some(story) = desk.judge.batch(batch)? else {
        return Ok(Vec::new());
    };
    let lots = desk.judge.lots_of(&story)?;
    Ok(lots.into_iter().map(|lot| lot.id).collect())
}

impl Enact for Filler {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let batch = desk.find(Noun::Batch, "body.batch", &self.batch)?;
        let lot = desk.find(Noun::Lot, "body.lot", &self.lot)?;
        let mass = typed::maybe("body.mass", self.mass.as_deref(), typed::mass)?;
        let about = vec![batch.clone(), lot.clone()];
        desk.put(Body::Filler(mix::Filler { batch, lot, mass }), about);
        Ok(())
    }
}

impl Enact for Cup {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let batch = desk.find(Noun::Batch, "body.batch", &self.batch)?;
        let temperature = typed::cure("body.temperature", &self.temperature)?;
        let about = vec![batch.clone()];
        desk.put(Body::Cup(mix::Cup { batch, temperature }), about);
        Ok(())
    }
}

impl Enact for ThrowAway {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let batch = desk.find(Noun::Batch, "body.batch", &self.batch)?;
        let mass = typed::mass("body.mass", &self.mass)?;
        let about = vec![batch.clone()];
        desk.put(Body::ThrowAway(mix::ThrowAway { batch, mass }), about);
        Ok(())
    }
}
