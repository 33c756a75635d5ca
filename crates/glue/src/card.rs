//! What a maker's sheet says, in the units the formulas use.

use crate::clock::Clock;

/// Adhesive class: decides the activation energy where a sheet has one point only, and the presets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// Two-part epoxy.
    Epoxy,
    /// Resorcinol and phenol-resorcinol.
    Resorcinol,
    /// Urea-formaldehyde.
    Urea,
    /// Casein.
    Casein,
    /// Anything else: a single point gives no law.
    Other,
}

/// Where a card's numbers come from. Handbook and class cards get a 10 % spread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The maker's sheet.
    Sheet,
    /// A handbook.
    Handbook,
    /// A value for the class.
    Class,
}

/// What cure below the card's minimum means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BelowMinimum {
    /// Cure goes on when it is warm again.
    Resumes,
    /// One whole minute below holds the bond.
    Fault,
}

/// From what a limit is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountedFrom {
    /// Hardener in.
    Mixing,
    /// First glue on.
    Spreading,
    /// Together.
    Closing,
    /// All tight.
    Pressure,
}

/// One time of the sheet at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Temperature, K; None only for plain, unscaled times.
    pub at_k: Option<f64>,
    /// Short end, ms.
    pub low_ms: f64,
    /// Long end, ms.
    pub high_ms: f64,
    /// Mass in the pot for which it holds, g.
    pub mass_g: Option<f64>,
}

/// One limit of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// Its clock.
    pub clock: Clock,
    /// Its points, at least one.
    pub points: Vec<Point>,
    /// Counted from.
    pub counted_from: Option<CountedFrom>,
    /// For bent or sprung joints only.
    pub bent: bool,
}

/// Gel time of a thin film, which does not heat itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilmGel {
    /// Temperature, K.
    pub at_k: f64,
    /// Short end, ms.
    pub low_ms: f64,
}

/// Mass per reacting group.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Equivalents {
    /// Resin per epoxide, g.
    pub eew: f64,
    /// Hardener per amine hydrogen, g.
    pub ahew: f64,
    /// Hydrogens of one hardener molecule, 3 to 12; None: the sheet does not say.
    pub functionality: Option<u32>,
}

/// Glass transitions that a sheet states.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GlassStated {
    /// Of the fresh mix, K; None: the sheet does not say.
    pub fresh_k: Option<f64>,
    /// Of the fully cured glue, K.
    pub full_k: f64,
}

/// The card as the clocks need it.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Class.
    pub class: Class,
    /// Origin of the numbers.
    pub origin: Origin,
    /// Limits.
    pub limits: Vec<Limit>,
    /// Open and closed times are used up together.
    pub together: bool,
    /// Minimum cure temperature, K.
    pub minimum_cure_k: Option<f64>,
    /// What below means.
    pub below_minimum: BelowMinimum,
    /// Maximum cure temperature, K.
    pub maximum_cure_k: Option<f64>,
    /// Application range, K.
    pub application_minimum_k: Option<f64>,
    /// Application range, K.
    pub application_maximum_k: Option<f64>,
    /// Sets by drying: assembly times are not scaled.
    pub water_borne: bool,
    /// Gel time of a thin film.
    pub film_gel: Option<FilmGel>,
    /// Mass per reacting group.
    pub equivalents: Option<Equivalents>,
    /// Glass transitions.
    pub glass: Option<GlassStated>,
}
