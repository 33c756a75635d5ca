//! How far glue has cured: kinetics, the glass it turns into, what a wrong ratio leaves behind.
//!
//! Sources and doubts: docs/science/cured-state.md and off-ratio.md.

pub mod glass;
pub mod isothermal;
pub mod kinetics;
pub mod line;
pub mod network;
pub mod ode;
