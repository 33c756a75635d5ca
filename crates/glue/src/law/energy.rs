//! Activation energies by class, for sheets that state one point only, and for outside the points of a sheet.
//!
//! Sources: epoxy 55 (45-65) from published kinetics of amine-cured systems between 44 and 71 kJ/mol; resorcinol 60
//! (45-85) from memory, no number seen; urea and casein from ANC-19 (1944). docs/science/clocks.md has the list.

use crate::card::Class;
use crate::clock::Clock;

/// An activation energy and its interval, J/mol.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Energy {
    /// Lower end.
    pub low: f64,
    /// Middle.
    pub middle: f64,
    /// Upper end.
    pub high: f64,
}

const fn kj(low: f64, middle: f64, high: f64) -> Option<Energy> {
    Some(Energy { low: low * 1e3, middle: middle * 1e3, high: high * 1e3 })
}

/// The energy of a class for one clock; None: one point gives no law.
///
/// Urea, pot only: 91.5 is ANC-19's "working life halves per +10 °F" at 70 °F; the interval reaches from its clamp
/// removal pair (240 min at 75 °F, 120 at 90: 62.7) to its fit of three setting times (138.1). Casein: 46.6 is "halves
/// per +20 °F" at 70 °F and the pressing rule 240 min at 70 °F, 120 at 90; its half-width is epoxy's 10 kJ/mol, no
/// source, and holds the 44.8 of ANC-19's five hot points.
pub fn of_class(class: Class, clock: Clock) -> Option<Energy> {
    match (class, clock) {
        (Class::Epoxy, _) => kj(45.0, 55.0, 65.0),
        (Class::Resorcinol, _) => kj(45.0, 60.0, 85.0),
        (Class::Urea, Clock::Pot) => kj(62.7, 91.5, 138.1),
        (Class::Casein, _) => kj(36.6, 46.6, 56.6),
        (Class::Urea | Class::Other, _) => None,
    }
}
