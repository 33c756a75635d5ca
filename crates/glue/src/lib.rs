//! Trade science of glue lines. No I/O, no clock, no SQL; never panics on any input.

pub mod card;
pub mod clock;
pub mod unit;
