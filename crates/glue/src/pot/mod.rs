//! The pot: glue that heats itself. What a mass in a vessel does, lumped and resolved, and what is advised.
//!
//! Equations, sources and doubts: docs/science/pot.md. The generic set is nobody's product, its properties are usual
//! values from memory, and no forecast here lengthens what a sheet says.

pub mod advice;
pub mod calibrate;
pub mod lumped;
pub mod resolved;
pub mod sheet;

use crate::cure::kinetics::{GEL, GENERIC, Kinetics, WORK};

/// A glue as its pot sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glue {
    /// Rates.
    pub kinetics: Kinetics,
    /// Heat of the whole reaction, J/kg.
    pub heat: f64,
    /// Heat capacity, J/(kg K).
    pub capacity: f64,
    /// Density, kg/m³.
    pub density: f64,
    /// Conductivity, W/(m K).
    pub conductivity: f64,
    /// Conversion from which it cannot be spread.
    pub work: f64,
    /// Conversion at the gel point.
    pub gel: f64,
}

/// The generic glue: 400 J/g, 2 J/(g K), 1100 kg/m³, 0.2 W/(m K), from memory as usual for epoxies.
pub const GLUE: Glue = Glue {
    kinetics: GENERIC,
    heat: 400e3,
    capacity: 2_000.0,
    density: 1_100.0,
    conductivity: 0.2,
    work: WORK,
    gel: GEL,
};

/// Heat transfer at the outside, W/(m² K), still air with radiation (from memory).
pub const FILM: f64 = 8.0;
/// What the wall adds, m² K/W (from memory).
pub const WALL: f64 = 0.005;
/// Where a mix is too hot to work on with, K (50 °C).
pub const HOT_K: f64 = 323.15;
/// The lumped model is late at the hottest point by 7 to 9 % (25 to 500 g); its times are shortened by this.
pub const SAFETY: f64 = 0.90;
/// Longest forecast, s (60 days).
pub const HORIZON_S: f64 = 60.0 * 86_400.0;

/// What it stands in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Vessel {
    /// A cup as high as wide, losing heat on all faces.
    Cup,
    /// A layer of this depth, m, losing heat above and below.
    Tray(f64),
}

impl Vessel {
    /// Surface, m², and the resistance inside, m² K/W, of a mass, kg: 0.6 V/(A k) in a cup, (d/2)/(3k) in a layer.
    pub fn shape(&self, mass: f64, glue: &Glue) -> (f64, f64) {
        let volume = mass / glue.density;
        match self {
            Vessel::Cup => {
                let width = cup_width(volume);
                let area = 1.5 * core::f64::consts::PI * width * width;
                (area, 0.6 * volume / (area * glue.conductivity))
            }
            Vessel::Tray(depth) => (2.0 * volume / depth, depth / 6.0 / glue.conductivity),
        }
    }
}

/// Width, which is its height, of a cup of this volume, m.
pub fn cup_width(volume: f64) -> f64 {
    libm::cbrt(4.0 * volume / core::f64::consts::PI)
}

/// A pot to be forecast.
#[derive(Clone, Debug, PartialEq)]
pub struct Pot {
    /// The glue.
    pub glue: Glue,
    /// Mass, kg.
    pub mass: f64,
    /// What it stands in.
    pub vessel: Vessel,
    /// Air: (s, K), rising instants from 0 on, straight between, the last held; never empty.
    pub air: Vec<(f64, f64)>,
    /// Temperature of the mix at the start, K.
    pub start: f64,
    /// Conversion at the start: 0 for a fresh mix.
    pub reacted: f64,
}

impl Pot {
    /// A fresh mix in air of one temperature.
    pub fn fresh(glue: Glue, mass: f64, vessel: Vessel, air: f64, start: f64) -> Pot {
        Pot { glue, mass, vessel, air: vec![(0.0, air)], start, reacted: 0.0 }
    }

    /// Air at an instant, K.
    pub fn air_at(&self, s: f64) -> f64 {
        let mut before: Option<(f64, f64)> = None;
        for (at, kelvin) in &self.air {
            if *at > s {
                let Some((from, low)) = before else { return *kelvin };
                return low + (kelvin - low) * (s - from) / (at - from);
            }
            before = Some((*at, *kelvin));
        }
        before.map_or(f64::NAN, |knot| knot.1)
    }
}

#[cfg(test)]
mod tests;
