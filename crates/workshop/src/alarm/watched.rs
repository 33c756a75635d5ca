//! What the alarms look at: live clocks, glue lines under pressure, lots, what is owed.

use crate::time::Axis;
use glue::clock::{Clock, State};
use logbook::entry::Id;
use logbook::store::{Book, Error};

/// One live clock.
#[derive(Clone, Debug, PartialEq)]
pub struct Watched {
    /// Which clock.
    pub clock: Clock,
    /// Bond; None for a pot.
    pub bond: Option<Id>,
    /// Batch, for a pot.
    pub batch: Option<Id>,
    /// Card entry in force.
    pub card: Option<Id>,
    /// As people call it: `bond 47`, `batch Tue 3`.
    pub name: String,
    /// State now.
    pub state: State,
    /// Progress in ppm: low, expected, high.
    pub progress_ppm: [i64; 3],
    /// Start, ms UTC on the axis.
    pub started_ms: Option<i64>,
    /// End, ms.
    pub ended_ms: Option<i64>,
    /// Earliest finish, ms: the limit of a must-not-exceed clock.
    pub earliest_ms: Option<i64>,
    /// Latest finish, ms: the gate of a must-reach clock.
    pub latest_ms: Option<i64>,
    /// How long setting the clamps takes, ms; 0 when not stated.
    pub clamping_ms: i64,
    /// What the clock says.
    pub said: String,
}

/// A glue line under pressure and the air it stands in.
#[derive(Clone, Debug, PartialEq)]
pub struct UnderPressure {
    /// Bond.
    pub bond: Id,
    /// As people call it.
    pub name: String,
    /// Card entry in force.
    pub card: Option<Id>,
    /// Since when under pressure, ms.
    pub since_ms: i64,
    /// Place, as people call it; None: not known.
    pub place: Option<String>,
    /// A feed of readings was promised there.
    pub feed: bool,
    /// Last reading there, or None: none since the bond's place is known.
    pub last: Option<LastReading>,
    /// Least cure temperature of the card, K.
    pub minimum_k: Option<f64>,
    /// Greatest cure temperature of the card, K.
    pub maximum_k: Option<f64>,
}

/// The newest reading of a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LastReading {
    /// When, ms.
    pub at_ms: i64,
    /// Lowest, K, sensor error taken off.
    pub low_k: f64,
    /// Highest, K, sensor error added.
    pub high_k: f64,
    /// Change of the mean over the last two readings, K per hour; None: one reading only.
    pub slope_k_per_h: Option<f64>,
}

/// A lot whose shelf life ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotEnds {
    /// Lot.
    pub lot: Id,
    /// Its mark.
    pub mark: String,
    /// Good until, ms.
    pub expires_ms: i64,
}

/// Everything the alarms look at, at one moment.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Look {
    /// Live clocks.
    pub clocks: Vec<Watched>,
    /// Glue lines under pressure.
    pub pressed: Vec<UnderPressure>,
    /// Lots not used up.
    pub lots: Vec<LotEnds>,
    /// What is owed, in sentences.
    pub owed: Vec<String>,
}

/// Where looks come from: the judge, or something simpler in a test.
pub trait Clocks: Send {
    /// What stands in the book at `axis.now_ms`; `changed`: something was written since the last look.
    fn look(&mut self, book: &Book, axis: &Axis, zone_min: i32, changed: bool) -> Result<Look, Error>;
}
