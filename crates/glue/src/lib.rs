//! Trade science of glue lines. No I/O, no clock, no SQL; never panics on any input.

pub mod air;
pub mod along;
pub mod card;
pub mod chance;
pub mod clamping;
pub mod clock;
pub mod cure;
pub mod faces;
pub mod figure;
pub mod joint;
pub mod lamination;
pub mod law;
pub mod mix;
pub mod moisture;
pub mod number;
pub mod pot;
pub mod progress;
pub mod sample;
pub mod timber;
pub mod unit;
pub mod vapour;
pub mod wood;
