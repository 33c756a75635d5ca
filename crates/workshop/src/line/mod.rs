//! The glue line: clocks and presses of one stage as boxes, marks, labels and words. Pure functions of what the judge
//! found; nothing is read here.

pub mod chill;
pub mod draw;
pub mod label;
pub mod shape;
pub mod sketch;
pub mod temperature;

#[cfg(test)]
mod tests;

pub use draw::draw;
pub use shape::{GlueLine, LineBox, LineMark, LineTemperature};
pub use sketch::{Drawn, Sketch, Stage};
