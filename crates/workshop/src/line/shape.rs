//! The shape of a glue line: what a drawing needs and nothing it would have to work out.

use schemars::JsonSchema;
use serde::Serialize;

/// Clocks of one stage drawn as a band of glue that fills from the left. Every `x` is a whole number of millionths of
/// the drawn width, 0 to 1 000 000; the time axis is linear.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct GlueLine {
    /// `assembly`: hardener in to all tight. `cure`: all tight to the next gate or gates.
    pub stage: String,
    /// Instant at the left edge.
    pub from: String,
    /// Instant at the right edge.
    pub to: String,
    /// The band from left to right: sorted, without overlap, without gap.
    pub boxes: Vec<LineBox>,
    /// Walls, gates and presses, from left to right.
    pub marks: Vec<LineMark>,
    /// Now; null: outside the drawing.
    pub now: Option<i64>,
    /// Temperatures of the place over the same axis; null: not asked for, or none recorded.
    pub temperature: Option<LineTemperature>,
    /// The whole meaning in one or two sentences.
    pub words: String,
}

/// A stretch of the band.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LineBox {
    /// `glue-1`, `glue-2`, `glue-3` (deepening as it cures, the oldest deepest), `chill` (no credit), `hatch` (between
    /// the earliest and the latest estimate), `over` (beyond a wall), `rest` (not yet).
    pub fill: String,
    /// Left edge, millionths.
    pub from: i64,
    /// Right edge, millionths.
    pub to: i64,
}

/// Something that stands at an instant.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LineMark {
    /// `wall` (must not be passed), `gate` (must be reached), `press`.
    pub sort: String,
    /// Where, millionths.
    pub at: i64,
    /// What stands there: "tight by 14:47".
    pub word: String,
    /// Row of its label, 0 to 2: labels of one row do not meet at a width of 560 pixels and 7 pixels a character.
    pub lane: u8,
    /// `start`: the label begins at the mark; `middle`; `end`: it ends there.
    pub anchor: String,
    /// Now lies past it; a gate is passed only once its limit is reached.
    pub passed: bool,
    /// The clock it belongs to; null: a press.
    pub clock: Option<String>,
}

/// Temperatures over the axis of a glue line; y 0 is the top, 1 000 000 the bottom.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LineTemperature {
    /// At most 400 points, from left to right: `[x, y]`.
    pub points: Vec<[i64; 2]>,
    /// Height of the least cure temperature; null: the card states none, or it lies outside.
    pub low_line: Option<i64>,
    /// Height of the greatest cure temperature; null: the card states none, or it lies outside.
    pub high_line: Option<i64>,
    /// Stretches without readings: no line is drawn across `[x, x]`.
    pub breaks: Vec<[i64; 2]>,
    /// "15 °C least".
    pub least_word: Option<String>,
    /// Temperature at the top edge.
    pub top_word: String,
    /// Temperature at the bottom edge.
    pub bottom_word: String,
}
