//! The pictures of calculations: a law's time over temperature, a cure, a pot, a map of wood moisture, a chart. Every
//! position is laid out here, in millionths of the drawn width and height; whoever draws computes nothing.

mod again;
mod air;
mod along;
mod bend;
mod cure;
mod finish;
mod joints;
mod law;
mod network;
mod plot;
mod pot;
mod samples;
mod schedule;
mod side;

use glue::figure::{Answer, Given};
use schemars::JsonSchema;
use serde::Serialize;

/// A picture: 0 is the left and the top edge, 1 000 000 the right and the bottom one.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FigurePicture {
    /// Left to right.
    pub across: PictureAxis,
    /// Top to bottom.
    pub up: PictureAxis,
    /// Lines, the lower ones first.
    pub lines: Vec<PictureLine>,
    /// Points that stand out.
    pub marks: Vec<PictureMark>,
    /// The whole meaning in words.
    pub words: String,
}

/// An axis with its ticks.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PictureAxis {
    /// What it measures, with its unit.
    pub label: String,
    /// Ticks in order.
    pub ticks: Vec<PictureTick>,
}

/// A tick of an axis.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PictureTick {
    /// Where.
    pub at: i64,
    /// Its number.
    pub word: String,
}

/// A line through points.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PictureLine {
    /// `main`, `second`, `third`, `beyond` (not spoken for), `edge` (of a band), `level` (across), `limit` (across, not to
    /// be passed), `gate` (upright), `outline` (of a thing).
    pub look: String,
    /// Its points.
    pub points: Vec<[i64; 2]>,
    /// What it is; empty: nothing stands beside it.
    pub word: String,
    /// Where the word stands; absent: at the line's last point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub word_at: Option<[i64; 2]>,
}

/// A point that stands out.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PictureMark {
    /// `point` (given), `asked` (answered), `out` (does not belong).
    pub look: String,
    /// Where.
    pub at: [i64; 2],
    /// What it is.
    pub word: String,
    /// The word stands beside it; else it is told when pointed at.
    pub shown: bool,
}

/// The pictures of an answer; none where numbers say it all.
pub(super) fn pictures(answer: &Answer, given: &Given) -> Vec<FigurePicture> {
    let drawn = match answer.figure {
        "wood-moisture" | "heated-air" => vec![air::map(answer, given)],
        "dew-point" => vec![air::dew(answer, given)],
        "off-ratio" => vec![network::network(answer, given)],
        "cure-law" => vec![law::law(answer, given)],
        "cure-finish" => vec![finish::temperature(answer, given), finish::progress(answer, given)],
        "isothermal-cure" => vec![cure::isothermal(answer, given)],
        "pot" => vec![pot::temperature(answer, given), pot::conversion(answer, given)],
        "cured-state" => vec![cure::conversion(answer, given), cure::glass(answer, given)],
        "glue-line-warmup" => vec![cure::warm_up(answer, given)],
        "spring-back" => vec![bend::spring_back(answer, given)],
        "bend-radius" => vec![bend::radius(answer, given)],
        "lamination" => vec![schedule::lamination(answer, given)],
        "joint-age" => vec![along::age(answer, given)],
        "scarf" => vec![joints::scarf(answer, given), joints::slopes(answer, given)],
        "lap-stress" => vec![joints::lap(answer, given)],
        "basis-value" => vec![samples::basis(answer, given)],
        "individuals-chart" => vec![samples::chart(answer, given)],
        _ => vec![],
    };
    drawn.into_iter().flatten().collect()
}

#[cfg(test)]
mod tests;
