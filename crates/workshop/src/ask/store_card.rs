//! An adhesive card in words: what the sheet says, and, told apart from it, what is taken where it says nothing.

use super::Asking;
use super::answer::{StoreCard, StoreFact, StoreLimit};
use crate::judge::card::CardInForce;
use crate::reader::Reader;
use glue::card::{BelowMinimum, Class};
use glue::clock::Clock;
use logbook::entry::Id;
use logbook::entry::card::{Card, Equivalents, Limit, Parts, Ratio};
use logbook::entry::typed::{Pressure, Share, Temperature};
use logbook::store::{Error, Noun};
use std::collections::BTreeMap;

/// Every card; a revised one stands after the one that revises it.
pub(super) fn cards(asking: &Asking) -> Result<Vec<StoreCard>, Error> {
    let mut cards = Vec::new();
    for (_, newest) in asking.book.list(Noun::Card)? {
        let mut chain = Vec::new();
        let mut next = Some(newest);
        // A card names an older one, so that no circle can be entered.
        while let Some(id) = next {
            let Some(card) = asking.judge.card(&id)? else { break };
            next = card.stored.revises.clone();
            chain.push((id, card));
        }
        let length = chain.len() as u64;
        let mut revised_by: Option<Id> = None;
        for (at, (id, one)) in (0_u64..).zip(&chain) {
            let seq = asking.book.seq(id)?.unwrap_or_default();
            let reader = asking.judge.reader;
            cards.push(StoreCard { seq, revision: length - at, revised_by, ..card(one, reader) });
            revised_by = Some(id.clone());
        }
    }
    Ok(cards)
}

fn card(one: &CardInForce, reader: Reader) -> StoreCard {
    let stored = &one.stored;
    StoreCard {
        id: one.id.clone(),
        seq: 0,
        name: stored.name.clone(),
        class: stored.class.clone(),
        revision: 0,
        revised_by: None,
        origin: stored.origin.clone(),
        ratio: ratio(&stored.ratio),
        facts: facts(one, reader),
        limits: limits(one, reader),
        cautions: cautions(one),
    }
}

/// "100:44 by weight, 2:1 by volume ±5 %".
pub(super) fn ratio(ratio: &Ratio) -> String {
    let weight = ratio.weight.as_ref().map(|parts| format!("{} by weight", parts.typed));
    let volume = ratio.volume.as_ref().map(|parts| format!("{} by volume", parts.typed));
    let sides: Vec<String> = [weight, volume].into_iter().flatten().collect();
    let tolerance = ratio.tolerance.as_ref().map(|share| format!(" ±{}", share.typed)).unwrap_or_default();
    format!("{}{tolerance}", sides.join(", "))
}

/// Facts of a card as they are gathered.
struct Facts(Vec<StoreFact>);

impl Facts {
    /// What the sheet says; not recorded where it says nothing.
    fn says(&mut self, label: &str, value: Option<String>) {
        self.0.push(StoreFact { label: label.to_owned(), value, assumed: false });
    }

    /// What the sheet says, else what is taken instead.
    fn or(&mut self, label: &str, value: Option<String>, taken: &str) {
        let assumed = value.is_none();
        let value = value.unwrap_or_else(|| taken.to_owned());
        self.0.push(StoreFact { label: label.to_owned(), value: Some(value), assumed });
    }
}

fn facts(one: &CardInForce, reader: Reader) -> Vec<StoreFact> {
    let (card, mut facts) = (&one.stored, Facts(Vec::new()));
    if card.ratio.tolerance.is_none() {
        facts.or("Tolerance of the ratio", None, "none on the sheet: no verdict is spoken");
    }
    cure(one, reader, &mut facts);
    facts.says(
        "Applied between",
        range(&card.application_minimum, &card.application_maximum, |it| reader.temperature(it.mk)),
    );
    let share = |it: &Share| it.typed.clone();
    facts.says("Wood moisture", range(&card.moisture_minimum, &card.moisture_maximum, share));
    facts.says("Humidity of the air", range(&card.humidity_minimum, &card.humidity_maximum, share));
    let pressure = |it: &Pressure| reader.pressure(it.pa);
    facts.says("Clamping pressure", range(&card.pressure_minimum, &card.pressure_maximum, pressure));
    facts.says("Largest batch", card.largest_batch.as_ref().map(|mass| reader.mass(mass.mg)));
    facts.says("Spread", card.spread_mg_per_m2.map(|mg| format!("{} g/m²", mg as f64 / 1000.0)));
    mixing(card, &mut facts);
    reacting(one, reader, &mut facts);
    if let Some(note) = &card.note {
        facts.says("Note", Some(note.clone()));
    }
    facts.0
}

fn cure(one: &CardInForce, reader: Reader, facts: &mut Facts) {
    let card = &one.stored;
    let degrees = |it: &Option<Temperature>| it.as_ref().map(|it| reader.temperature(it.mk));
    let lowest = one.lowest_clamp_mk().map(|mk| reader.temperature(mk));
    let taken = lowest.map_or("none stated, and no clamp time to take it from".to_owned(), |mk| {
        format!("none stated: credit only from the lowest clamp point, {mk}, up")
    });
    facts.or("No cure below", degrees(&card.minimum_cure), &taken);
    let below = match one.glue.below_minimum {
        BelowMinimum::Fault => "a fault: the bond is held",
        BelowMinimum::Resumes => "cure goes on when it is warm again",
    };
    facts.or(
        "Below that",
        card.below_minimum.as_ref().map(|_| below.to_owned()),
        &format!("{below} (preset of the class)"),
    );
    facts.says("Highest for cure", degrees(&card.maximum_cure));
    let drying = |yes: bool| if yes { "yes: assembly times are not scaled with temperature" } else { "no" };
    let sets = drying(one.glue.water_borne);
    facts.or(
        "Sets by drying",
        card.water_borne.map(|it| drying(it).to_owned()),
        &format!("{sets} (preset of the class)"),
    );
    let used_up = |yes: bool| if yes { "used up together" } else { "counted each by itself" };
    let said = card.together.map(|it| used_up(it).to_owned());
    facts.or("Open and closed time", said, &format!("{} (preset)", used_up(false)));
}

fn mixing(card: &Card, facts: &mut Facts) {
    let density = |g: i64| format!("{} kg/l", g as f64 / 1000.0);
    facts.says("Density of the resin", card.resin_g_per_l.map(density));
    facts.says("Density of the hardener", card.hardener_g_per_l.map(density));
    facts.says("Stir for", card.stirring.as_ref().map(|time| time.typed.clone()));
    facts.says("Stand for", card.standing.as_ref().map(|time| time.typed.clone()));
}

/// What tells how the glue reacts; what a sheet does not say is named, because forecasts rest on it.
fn reacting(one: &CardInForce, reader: Reader, facts: &mut Facts) {
    let card = &one.stored;
    let film = card.film_gel.as_ref().map(|it| format!("{} at {}", it.typed, reader.temperature(it.at.mk)));
    facts.says("Gel time of a film", film);
    facts.says("Equivalents", card.equivalents.as_ref().map(|it| equivalents(it, &card.ratio)));
    let glass = card.glass.as_ref().map(|it| {
        let fresh = it.fresh.as_ref().map(|at| format!(", fresh {}", reader.temperature(at.mk))).unwrap_or_default();
        format!("fully cured {}{fresh}", reader.temperature(it.full.mk))
    });
    facts.says("Glass transition", glass);
}

/// "187 g of resin, 60 g of hardener: 100:32 is 1.00 hydrogens for each epoxide".
fn equivalents(it: &Equivalents, ratio: &Ratio) -> String {
    let hydrogens = it.functionality.map(|count| format!(", {count} hydrogens a molecule")).unwrap_or_default();
    let said = format!("resin {}, hardener {}{hydrogens}", it.resin.typed, it.hardener.typed);
    let Some(parts) = &ratio.weight else { return said };
    let balance =
        |parts: &Parts| parts.hardener_ppm as f64 / parts.resin_ppm as f64 * it.resin.mg as f64 / it.hardener.mg as f64;
    format!("{said}: {} is {:.2} hydrogens for each epoxide", parts.typed, balance(parts))
}

/// "8 % to 12 %", "at least 8 %", "at most 12 %"; None: neither end is recorded.
fn range<T>(low: &Option<T>, high: &Option<T>, say: impl Fn(&T) -> String) -> Option<String> {
    match (low, high) {
        (Some(low), Some(high)) => Some(format!("{} to {}", say(low), say(high))),
        (Some(low), None) => Some(format!("at least {}", say(low))),
        (None, Some(high)) => Some(format!("at most {}", say(high))),
        (None, None) => None,
    }
}

fn limits(one: &CardInForce, reader: Reader) -> Vec<StoreLimit> {
    // The order in which the clocks run, plain joints before bent ones.
    let mut limits: BTreeMap<(usize, bool), StoreLimit> = BTreeMap::new();
    for limit in &one.stored.limits {
        let at = Clock::ALL.iter().position(|clock| clock.word() == limit.clock).unwrap_or(usize::MAX);
        limits.insert((at, limit.bent == Some(true)), self::limit(limit, reader));
    }
    limits.into_values().collect()
}

fn limit(limit: &Limit, reader: Reader) -> StoreLimit {
    let stated = limit.points.iter().map(|point| {
        let at = point.at.as_ref().map(|at| format!(" at {}", reader.temperature(at.mk))).unwrap_or_default();
        let mass = point.mass.as_ref().map(|mass| format!(" for {}", reader.mass(mass.mg))).unwrap_or_default();
        format!("{}{at}{mass}", point.typed)
    });
    StoreLimit {
        clock: limit.clock.clone(),
        word: word(&limit.clock).to_owned(),
        bent: limit.bent == Some(true),
        stated: stated.collect(),
        counted_from: counted(limit).to_owned(),
        assumed: limit.counted_from.is_none(),
        judged_by: limit.judged_by.clone(),
    }
}

fn word(clock: &str) -> &str {
    match clock {
        "pot" => "Pot life",
        "open" => "Open time",
        "closed" => "Closed time",
        "fresh-surface" => "Faces stay fresh",
        "glue-again" => "Glue again without abrading",
        "clamp" => "Clamps",
        "machining" => "Machining",
        "full-cure" => "Full cure",
        other => other,
    }
}

/// What the times are counted from; where the sheet does not say, the reading that does no harm.
fn counted(limit: &Limit) -> &str {
    let reach = matches!(limit.clock.as_str(), "clamp" | "machining" | "full-cure");
    match limit.counted_from.as_deref() {
        Some("mixing") => "counted from mixing",
        Some("spreading") => "counted from spreading",
        Some("closing") => "counted from closing",
        Some("pressure") => "counted from full pressure",
        _ if reach => "the sheet does not say: counted from All tight",
        _ if matches!(limit.clock.as_str(), "fresh-surface" | "glue-again") => "counted from the earliest instant",
        _ => "the sheet does not say: counted from mixing",
    }
}

fn cautions(one: &CardInForce) -> Vec<String> {
    let mut cautions = Vec::new();
    let mut say = |sentence: &str| cautions.push(sentence.to_owned());
    match one.glue.class {
        Class::Casein => {
            say("For old frames only: casein is called inferior, and its residue must be scraped off before any other \
             adhesive is used (FAA AC 43.13-1B, paragraph 1-4).")
        }
        Class::Urea => say(
            "For old frames only: urea is to be treated as obsolete for all repairs (FAA AC 43.13-1B, paragraph 1-4).",
        ),
        Class::Other => {
            say("No law is known for this class: a limit with one temperature holds at that temperature only.")
        }
        Class::Epoxy | Class::Resorcinol => {}
    }
    if one.stored.origin != "sheet" {
        say(
            "The numbers are not the maker's: 10 % more is asked of every time that must be reached, and 10 % less allowed.",
        );
    }
    if !one.states(Clock::Clamp) {
        say("The card states no clamp time: nothing says when clamps may come off.");
    }
    cautions
}
