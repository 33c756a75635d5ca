//! The glue line: clocks and presses of one stage as boxes, marks and words. Pure functions; nothing is read here.

pub mod shape;

pub use shape::{GlueLine, LineBox, LineMark, LineTemperature};
