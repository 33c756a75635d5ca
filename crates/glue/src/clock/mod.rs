//! The eight clocks: which limit, which temperature, how far, when. A pure function of what is handed in.

mod help;
mod limit;
mod runner;
pub mod shorter;
mod told;

pub use crate::air::forecast::{Forecast, LOOK_BACK_MS, RAMP_MS, Shape, TAU_MS};
pub use help::Help;
pub use runner::Runner;
pub use shorter::Shorter;
pub use told::{carried_open_to_closed, nearly_over_ms};

pub use crate::law::Sure;

use crate::card::{Card, CountedFrom};

/// The eight clocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Clock {
    /// Pot life.
    Pot,
    /// Open assembly time.
    Open,
    /// Closed assembly time.
    Closed,
    /// Time since the face was made fresh.
    FreshSurface,
    /// Gluing on the layer below without abrading.
    GlueAgain,
    /// Clamps may come off.
    Clamp,
    /// Planing, loading lightly.
    Machining,
    /// The sheet's full-cure time.
    FullCure,
}

/// Which side is unsafe.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// In doubt it runs faster.
    MustNotExceed,
    /// In doubt it runs slower.
    MustReach,
}

/// One instant of a source of temperatures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knot {
    /// Instant, ms since 1970 UTC.
    pub at_ms: i64,
    /// Lowest, K.
    pub low_k: f64,
    /// Mean, K.
    pub mean_k: f64,
    /// Highest, K.
    pub high_k: f64,
}

/// One source of temperatures at a place, knots in time order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Source {
    /// Half-width of the sensor's error, K (1 unless calibrated).
    pub error_k: f64,
    /// Knots, strictly rising in time.
    pub knots: Vec<Knot>,
    /// Min-max thermometer: never below `k` between the two instants, by the same sensor.
    pub lowest: Vec<Floor>,
}

/// Never below a temperature between two instants.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Floor {
    /// From, ms.
    pub from_ms: i64,
    /// Until, ms.
    pub until_ms: i64,
    /// Floor, K.
    pub k: f64,
}

/// The air of one place: its sources, and the floors a person vouched for (no sensor error).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Air {
    /// Sources.
    pub sources: Vec<Source>,
    /// Vouched floors.
    pub vouched: Vec<Floor>,
    /// Forecasts, in the order they were stated.
    pub forecasts: Vec<Forecast>,
}

/// From when on the thing was in which air.
#[derive(Clone, Copy, Debug)]
pub struct Stay<'a> {
    /// From, ms.
    pub from_ms: i64,
    /// The place's air; None: no place known.
    pub air: Option<&'a Air>,
}

/// The wood around a glue line.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Wood {
    /// Total thickness, mm; None: 60 is taken.
    pub thickness_mm: Option<f64>,
    /// Temperature at `since_ms`, K; None: 5 °C is taken.
    pub start_k: Option<f64>,
    /// Instant of the start temperature, ms (the first All tight).
    pub since_ms: i64,
}

/// The pot.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Charge {
    /// Mass mixed, g; None: 100 is taken when the sheet states a mass.
    pub mass_g: Option<f64>,
    /// Temperature of the components at the start, K.
    pub components_k: Option<f64>,
}

/// Everything one clock depends on.
#[derive(Clone, Debug)]
pub struct Asked<'a> {
    /// Which clock.
    pub clock: Clock,
    /// Card in force.
    pub card: &'a Card,
    /// The joint is bent or sprung.
    pub bent: bool,
    /// Start, ms, after "counted from" was applied by [`start_ms`]; None: it never started.
    pub started_ms: Option<i64>,
    /// End, ms.
    pub ended_ms: Option<i64>,
    /// Instant judged, ms. Nothing later exists.
    pub at_ms: i64,
    /// Where it was, in time order.
    pub path: &'a [Stay<'a>],
    /// The wood.
    pub wood: Wood,
    /// The pot.
    pub charge: Charge,
    /// Shares already used at the start: safe, expected, other.
    pub carried: [f64; 3],
    /// What the pot's heat or the age of the mix leaves of the safe limit.
    pub shorter: Shorter,
    /// Stretches whose length is not proven (off-time across a restart): no must-reach credit.
    pub pending: &'a [(i64, i64)],
    /// Time itself was lost at this instant (a clock that went back across a restart): must-not-exceed counts as over.
    pub time_lost_ms: Option<i64>,
}

/// State of a clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// Goes on.
    Running,
    /// A must-not-exceed limit is passed.
    Over,
    /// A must-reach limit is reached.
    Reached,
    /// Ended in time (must-not-exceed) or too early (must-reach).
    Ended,
    /// Cannot finish within the horizon, or never started.
    Never,
    /// No law: it cannot be judged.
    Held,
}

/// Which law gave the limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LawKind {
    /// One point and the class's activation energy.
    OnePoint,
    /// Two points.
    TwoPoint,
    /// Three or more.
    Fitted,
    /// Plain time.
    Unscaled,
    /// None.
    None,
}

/// Something taken for granted, for the person to see.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Assumed {
    /// Wood thickness unknown: 60 mm.
    Thickness,
    /// Wood's starting temperature unknown: 5 °C.
    WoodStart,
    /// No temperature recorded.
    NoReadings,
    /// Mass not stated on the sheet: 100 g.
    SheetMass,
    /// Mass mixed not recorded.
    PotMass,
    /// Component temperature not recorded.
    Components,
    /// The sheet states no minimum cure temperature.
    NoMinimum,
    /// A bent joint judged by a longer clock's time.
    BentFallback(Clock),
    /// The pot's own heat leaves this share of the sheet's pot life, ppm.
    PotModel(i64),
    /// The card should give a model of its pot, and none fits.
    NoPotModel,
    /// How old the mix was when it was spread, ms.
    MixAge(i64),
    /// Counted from an unknown instant.
    CountedFrom,
    /// Off-time across a restart not confirmed.
    TimePending,
    /// The clock went back across a restart.
    TimeLost,
    /// A vouched floor gave credit.
    Vouched,
    /// Estimates go by the forecast stated for the place.
    Forecast,
    /// The forecast's time constant is not known: 4 h.
    CoolingTime,
    /// Outside the sheet's range for a drying adhesive.
    OutsideRange,
}

/// What a clock says. Triples are low, expected, high for progress; instants are ordered earliest to latest.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// State.
    pub state: State,
    /// Progress in ppm of the limit: low (rounded down), expected, high (rounded up).
    pub progress_ppm: [i64; 3],
    /// Earliest finish, ms.
    pub earliest_ms: Option<i64>,
    /// Expected finish, ms.
    pub expected_ms: Option<i64>,
    /// Latest finish, ms.
    pub latest_ms: Option<i64>,
    /// Law.
    pub law: LawKind,
    /// What the law rests on.
    pub sure: Sure,
    /// Counted from.
    pub counted_from: Option<CountedFrom>,
    /// Readings used.
    pub readings: u64,
    /// Stretch since the start without credit at the safe bound, ms.
    pub no_credit_ms: i64,
    /// Stretch since the start inside gaps longer than two hours, ms.
    pub gap_ms: i64,
    /// Whole stretch below the card's minimum on a fault card: the first instant after one whole minute.
    pub fault_ms: Option<i64>,
    /// Lowest and highest temperature met, K.
    pub range_k: Option<(f64, f64)>,
    /// Taken for granted.
    pub assumed: Vec<Assumed>,
    /// Mean air now, by readings at most two hours old, K.
    pub now_k: Option<f64>,
    /// What would help a must-reach clock that waits, coldest first; at most two.
    pub helps: Vec<Help>,
}

impl Clock {
    /// All eight, in the order of a bond's life.
    pub const ALL: [Clock; 8] = [
        Clock::Pot,
        Clock::Open,
        Clock::Closed,
        Clock::FreshSurface,
        Clock::GlueAgain,
        Clock::Clamp,
        Clock::Machining,
        Clock::FullCure,
    ];

    /// Which side is unsafe.
    pub fn direction(self) -> Direction {
        match self {
            Clock::Clamp | Clock::Machining | Clock::FullCure => Direction::MustReach,
            _ => Direction::MustNotExceed,
        }
    }

    /// Its word on the wire and in cards.
    pub fn word(self) -> &'static str {
        match self {
            Clock::Pot => "pot",
            Clock::Open => "open",
            Clock::Closed => "closed",
            Clock::FreshSurface => "fresh-surface",
            Clock::GlueAgain => "glue-again",
            Clock::Clamp => "clamp",
            Clock::Machining => "machining",
            Clock::FullCure => "full-cure",
        }
    }

    /// The clock of a word.
    pub fn from_word(word: &str) -> Option<Clock> {
        Clock::ALL.into_iter().find(|clock| clock.word() == word)
    }
}

/// Model name and version stored with every value these clocks give.
pub const MODEL: &str = "cure@2";

/// What one clock says at `asked.at_ms`. Reads every knot since the start; a caller that asks again and again keeps a
/// [`Runner`].
pub fn tell(asked: &Asked) -> Told {
    Runner::default().tell(asked)
}

/// The start of a clock under the card's "counted from": may move a must-not-exceed start earlier, never a
/// must-reach start. `natural_ms` is the clock's own start; the rest are the presses known. An unknown "counted
/// from" counts a must-not-exceed clock from mixing.
pub fn start_ms(
    clock: Clock,
    counted_from: Option<CountedFrom>,
    natural_ms: i64,
    hardener_in_ms: Option<i64>,
    first_glue_on_ms: Option<i64>,
    together_ms: Option<i64>,
) -> i64 {
    if clock.direction() == Direction::MustReach {
        return natural_ms;
    }
    let press_ms = match counted_from.unwrap_or(CountedFrom::Mixing) {
        CountedFrom::Mixing => hardener_in_ms,
        CountedFrom::Spreading => first_glue_on_ms,
        CountedFrom::Closing => together_ms,
        CountedFrom::Pressure => None,
    };
    press_ms.map_or(natural_ms, |ms| ms.min(natural_ms))
}

#[cfg(test)]
mod tests;
