//! A card's entry as the clocks need it.

use crate::reader::Reader;
use glue::card::{BelowMinimum, Card, Class, CountedFrom, Equivalents, FilmGel, GlassStated, Limit, Origin, Point};
use glue::clock::Clock;
use logbook::entry::card as stored;
use logbook::entry::{Body, Id};
use logbook::settled::Settled;

/// A card with its entry: what was written, and what the clocks read from it.
#[derive(Clone, Debug)]
pub struct CardInForce {
    /// The card's entry.
    pub id: Id,
    /// As stored, corrections applied.
    pub stored: stored::Card,
    /// As the clocks need it.
    pub glue: Card,
}

impl CardInForce {
    /// From a settled entry; None: it is no card.
    pub fn of(one: &Settled) -> Option<CardInForce> {
        let Body::Card(stored) = &one.body else { return None };
        Some(CardInForce { id: one.entry.id.clone(), stored: stored.clone(), glue: glue_card(stored) })
    }

    /// Whether the sheet states any time for a clock.
    pub fn states(&self, clock: Clock) -> bool {
        self.glue.limits.iter().any(|limit| limit.clock == clock && !limit.points.is_empty())
    }

    /// What the limit is counted from.
    pub fn counted_from(&self, clock: Clock, bent: bool) -> Option<CountedFrom> {
        let of_clock = |limit: &&Limit| limit.clock == clock;
        let fits = self.glue.limits.iter().filter(of_clock).find(|limit| limit.bent == bent);
        fits.or_else(|| self.glue.limits.iter().find(of_clock)).and_then(|limit| limit.counted_from)
    }

    /// The sheet's numbers for a clock, in the reader's units: "12 h at 20 °C".
    pub fn stated(&self, clock: Clock, reader: Reader) -> Vec<String> {
        let of_clock = |limit: &&stored::Limit| limit.clock == clock.word();
        self.stored
            .limits
            .iter()
            .filter(of_clock)
            .flat_map(|limit| limit.points.iter().map(|one| point_text(limit, one, reader)))
            .collect()
    }

    /// The lowest temperature the sheet states a clamp time for, mk.
    pub fn lowest_clamp_mk(&self) -> Option<i64> {
        let clamp = |limit: &&stored::Limit| limit.clock == Clock::Clamp.word();
        self.stored
            .limits
            .iter()
            .filter(clamp)
            .flat_map(|limit| &limit.points)
            .filter_map(|one| Some(one.at.as_ref()?.mk))
            .min()
    }
}

fn point_text(limit: &stored::Limit, point: &stored::Point, reader: Reader) -> String {
    let at = point.at.as_ref().map(|at| format!(" at {}", reader.temperature(at.mk))).unwrap_or_default();
    let mass = point.mass.as_ref().map(|mass| format!(" for {}", reader.mass(mass.mg))).unwrap_or_default();
    let bent = if limit.bent == Some(true) { " (bent joints)" } else { "" };
    format!("{}{at}{mass}{bent}", point.typed)
}

fn glue_card(card: &stored::Card) -> Card {
    let class = class_of(&card.class);
    let kelvin = |at: &Option<logbook::entry::typed::Temperature>| at.as_ref().map(|at| at.mk as f64 / 1000.0);
    Card {
        class,
        origin: origin_of(&card.origin),
        limits: card.limits.iter().filter_map(limit_of).collect(),
        together: card.together.unwrap_or(false),
        minimum_cure_k: kelvin(&card.minimum_cure),
        below_minimum: below_of(card.below_minimum.as_deref(), class),
        maximum_cure_k: kelvin(&card.maximum_cure),
        application_minimum_k: kelvin(&card.application_minimum),
        application_maximum_k: kelvin(&card.application_maximum),
        water_borne: card.water_borne.unwrap_or(water_borne(&card.class)),
        film_gel: card.film_gel.as_ref().map(film_of),
        equivalents: card.equivalents.as_ref().map(equivalents_of),
        glass: card.glass.as_ref().map(glass_of),
    }
}

fn film_of(film: &stored::FilmGel) -> FilmGel {
    FilmGel { at_k: film.at.mk as f64 / 1000.0, low_ms: film.low_ms as f64 }
}

fn equivalents_of(it: &stored::Equivalents) -> Equivalents {
    let functionality = it.functionality.and_then(|hydrogens| u32::try_from(hydrogens).ok());
    Equivalents { eew: it.resin.mg as f64 / 1000.0, ahew: it.hardener.mg as f64 / 1000.0, functionality }
}

fn glass_of(it: &stored::Glass) -> GlassStated {
    let kelvin = |mk: i64| mk as f64 / 1000.0;
    GlassStated { fresh_k: it.fresh.as_ref().map(|fresh| kelvin(fresh.mk)), full_k: kelvin(it.full.mk) }
}

fn class_of(word: &str) -> Class {
    match word {
        "epoxy" => Class::Epoxy,
        "resorcinol" => Class::Resorcinol,
        "urea" => Class::Urea,
        "casein" => Class::Casein,
        _ => Class::Other,
    }
}

/// Adhesives that set by losing water (docs/science/clocks.md): preset by class.
fn water_borne(word: &str) -> bool {
    matches!(word, "urea" | "casein" | "resorcinol" | "pva")
}

fn origin_of(word: &str) -> Origin {
    match word {
        "handbook" => Origin::Handbook,
        "class" => Origin::Class,
        _ => Origin::Sheet,
    }
}

fn below_of(word: Option<&str>, class: Class) -> BelowMinimum {
    match (word, class) {
        (Some("fault"), _) | (None, Class::Resorcinol | Class::Urea) => BelowMinimum::Fault,
        _ => BelowMinimum::Resumes,
    }
}

fn limit_of(limit: &stored::Limit) -> Option<Limit> {
    let points = limit.points.iter().map(|one| Point {
        at_k: one.at.as_ref().map(|at| at.mk as f64 / 1000.0),
        low_ms: one.low_ms as f64,
        high_ms: one.high_ms as f64,
        mass_g: one.mass.as_ref().map(|mass| mass.mg as f64 / 1000.0),
    });
    Some(Limit {
        clock: Clock::from_word(&limit.clock)?,
        points: points.collect(),
        counted_from: limit.counted_from.as_deref().and_then(counted_from),
        bent: limit.bent.unwrap_or(false),
    })
}

fn counted_from(word: &str) -> Option<CountedFrom> {
    match word {
        "mixing" => Some(CountedFrom::Mixing),
        "spreading" => Some(CountedFrom::Spreading),
        "closing" => Some(CountedFrom::Closing),
        "pressure" => Some(CountedFrom::Pressure),
        _ => None,
    }
}

/// The word of "counted from".
pub fn counted_word(from: CountedFrom) -> &'static str {
    match from {
        CountedFrom::Mixing => "mixing",
        CountedFrom::Spreading => "spreading",
        CountedFrom::Closing => "closing",
        CountedFrom::Pressure => "pressure",
    }
}
