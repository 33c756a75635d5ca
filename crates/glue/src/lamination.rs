//! Bent laminations: how many strips of which thickness, the form to cut, what springs back.
//!
//! Radii are those of the concave face, which lies on the form; the stack bends about its middle, half its thickness
//! further out. Highly stressed strips and strips that merely must not break have limits of their own; neither stands
//! in for the other.

use crate::clamping::{BREAKING, PLYWOOD_MM, Plywood, STRESSED, plywood_radius, spring_back};

/// Most strips looked at.
pub const MOST: u64 = 1_000;
/// A form for wood bent wet, by the radius wanted: some shops cut it a fifth smaller, for plywood. ANC-19 5.6835.
pub const WET_FORM: f64 = 0.8;
/// Strips up to this thickness, mm (1/8 in), are glued at 5 to 8 % moisture with glues that hold water, thicker ones
/// at 8 to 12 %. ANC-19 (1944) 5.400.
pub const THIN_MM: f64 = 3.175;

/// How the strips come to their curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bend {
    /// Bent dry while they are glued: elastic, and springing back by 1/n².
    Dry,
    /// Bent soaked over a form of their own and dried there, glued afterwards.
    Wet,
}

/// What is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Radius of the concave face of the finished piece, mm.
    pub radius: f64,
    /// Thickness of the whole, mm.
    pub thickness: f64,
    /// How it is bent.
    pub bend: Bend,
    /// It carries: the limit of highly stressed laminations holds as well.
    pub stressed: bool,
    /// How many times the breaking radius the form's radius must be, for strips bent dry.
    pub margin: f64,
}

/// The limits for strips of one thickness, mm. Kept apart: each is held against a radius of its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Least finished radius of a highly stressed lamination: 500 t.
    pub stressed: f64,
    /// Radius at which dry strips break: 80 t, without any safety. None for strips bent wet.
    pub breaking: Option<f64>,
    /// Least radius of soaked plywood as thick as a strip, face grain across the bend. None for strips bent dry, and
    /// where the table of plywood does not reach so thick.
    pub soaked: Option<f64>,
}

/// What is to be cut and glued, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Schedule {
    /// Strips.
    pub laminae: u64,
    /// Thickness of one.
    pub lamina: f64,
    /// Radius of the form on which it is glued.
    pub form: f64,
    /// Radius of the form on which soaked strips are bent and dried.
    pub bending_form: Option<f64>,
    /// Share of the curvature that is given back.
    pub given_back: f64,
    /// What limits it.
    pub limits: Limits,
}

/// Radius of an arc from its rise over a chord: (c²/4 + h²)/(2 h).
pub fn arc_radius(rise: f64, chord: f64) -> f64 {
    (chord * chord / 4.0 + rise * rise) / (2.0 * rise)
}

/// The limits of strips this thick, mm.
pub fn limits(lamina: f64, bend: Bend) -> Limits {
    let dry = bend == Bend::Dry;
    // Thinner stock bends further than the thinnest of the table: its radius is on the safe side.
    let soaked = plywood_radius(lamina.max(PLYWOOD_MM.0), Plywood::SoakedAcross);
    Limits { stressed: STRESSED * lamina, breaking: dry.then_some(BREAKING * lamina), soaked: soaked.filter(|_| !dry) }
}

/// The schedule with this many strips, whether its limits are kept or not. None below two strips, or where so few
/// spring back so far that no form is left to cut.
pub fn schedule(wanted: &Wanted, laminae: u64) -> Option<Schedule> {
    if laminae < 2 {
        return None;
    }
    let (n, half) = (laminae as f64, wanted.thickness / 2.0);
    let given_back = if wanted.bend == Bend::Dry { spring_back(n) } else { 0.0 };
    let form = (wanted.radius + half) * (1.0 - given_back) - half;
    let bending_form = (wanted.bend == Bend::Wet).then_some(WET_FORM * wanted.radius);
    let lamina = wanted.thickness / n;
    let limits = limits(lamina, wanted.bend);
    (form > 0.0).then_some(Schedule { laminae, lamina, form, bending_form, given_back, limits })
}

/// True where the schedule keeps every limit that holds for what is wanted.
pub fn keeps(wanted: &Wanted, schedule: &Schedule) -> bool {
    // Typed in inches, a radius may miss its limit by the last bit.
    let at_least = |radius: f64, limit: f64| radius >= limit * (1.0 - 1e-12);
    let stressed = !wanted.stressed || at_least(wanted.radius, schedule.limits.stressed);
    let bent = match (schedule.bending_form, schedule.limits) {
        (Some(form), Limits { soaked, .. }) => soaked.is_some_and(|limit| at_least(form, limit)),
        (None, Limits { breaking, .. }) => breaking.is_some_and(|limit| at_least(schedule.form, wanted.margin * limit)),
    };
    stressed && bent
}

/// The fewest strips that keep the limits; None where [`MOST`] do not.
pub fn fewest(wanted: &Wanted) -> Option<Schedule> {
    (2..=MOST).filter_map(|laminae| schedule(wanted, laminae)).find(|one| keeps(wanted, one))
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOW: Wanted = Wanted { radius: 1_500.0, thickness: 24.0, bend: Bend::Dry, stressed: true, margin: 3.0 };

    #[test]
    fn the_two_limits_are_not_merged() {
        let spar = fewest(&BOW);
        let former = fewest(&Wanted { stressed: false, ..BOW });
        assert_eq!((spar.map(|it| it.laminae), former.map(|it| it.laminae)), (Some(8), Some(5)));
        for one in [spar, former].into_iter().flatten() {
            assert!((one.limits.stressed / one.limits.breaking.unwrap_or(0.0) - 6.25).abs() < 1e-12, "{one:?}");
        }
    }

    #[test]
    fn one_strip_fewer_breaks_a_limit() {
        for stressed in [true, false] {
            for bend in [Bend::Dry, Bend::Wet] {
                let wanted = Wanted { stressed, bend, ..BOW };
                let Some(found) = fewest(&wanted) else { panic!("{wanted:?} has a schedule") };
                assert!(keeps(&wanted, &found));
                assert!(schedule(&wanted, found.laminae - 1).is_none_or(|one| !keeps(&wanted, &one)), "{found:?}");
            }
        }
    }

    #[test]
    fn wood_bent_wet_is_glued_on_a_form_of_the_finished_radius() {
        let Some(wet) = schedule(&Wanted { bend: Bend::Wet, ..BOW }, 8) else { panic!("a schedule") };
        assert_eq!((wet.form, wet.bending_form, wet.given_back), (1_500.0, Some(1_200.0), 0.0));
        assert!(wet.limits.breaking.is_none() && wet.limits.soaked.is_some());
    }

    #[test]
    fn an_arc_from_its_rise() {
        assert!((arc_radius(100.0, 1_000.0) - 1_300.0).abs() < 1e-9);
        assert!((arc_radius(500.0, 1_000.0) - 500.0).abs() < 1e-9, "half a circle");
    }
}
