//! A picture under way: two sides, and the lines and marks that are put between them.

use super::side::Side;
use super::{FigurePicture, PictureAxis, PictureLine, PictureMark};

/// A picture under way.
pub(super) struct Plot {
    /// Left to right.
    pub across: Side,
    /// Bottom to top.
    pub up: Side,
    lines: Vec<PictureLine>,
    marks: Vec<PictureMark>,
}

impl Plot {
    pub fn new(across: Side, up: Side) -> Plot {
        Plot { across, up, lines: vec![], marks: vec![] }
    }

    /// Where two numbers meet.
    pub fn spot(&self, (x, y): (f64, f64)) -> [i64; 2] {
        [self.across.along(x), 1_000_000 - self.up.along(y)]
    }

    /// A line through points; those that are no numbers are left out, and a line without points too.
    pub fn line(&mut self, look: &str, word: &str, points: impl Iterator<Item = (f64, f64)>) {
        let points = points.filter(|(x, y)| x.is_finite() && y.is_finite()).map(|at| self.spot(at)).collect::<Vec<_>>();
        if !points.is_empty() {
            self.lines.push(PictureLine { look: look.to_owned(), points, word: word.to_owned(), word_at: None });
        }
    }

    /// The same with its word at a place of its own.
    pub fn named(&mut self, look: &str, word: &str, word_at: (f64, f64), points: impl Iterator<Item = (f64, f64)>) {
        let word_at = Some(self.spot(word_at));
        let before = self.lines.len();
        self.line(look, word, points);
        self.lines.iter_mut().skip(before).for_each(|line| line.word_at = word_at);
    }

    /// A level across, where it lies inside.
    pub fn level(&mut self, look: &str, word: &str, y: f64) {
        if self.up.holds(y) {
            self.line(look, word, [(self.across.low, y), (self.across.high, y)].into_iter());
        }
    }

    /// An upright, where it lies inside.
    pub fn gate(&mut self, word: &str, x: f64) {
        if self.across.holds(x) {
            self.line("gate", word, [(x, self.up.high), (x, self.up.low)].into_iter());
        }
    }

    /// A mark that is told when it is pointed at.
    pub fn mark(&mut self, look: &str, word: &str, at: (f64, f64)) {
        self.put(look, word, at, false);
    }

    /// A mark with its word beside it.
    pub fn told(&mut self, look: &str, word: &str, at: (f64, f64)) {
        self.put(look, word, at, true);
    }

    fn put(&mut self, look: &str, word: &str, at: (f64, f64), shown: bool) {
        if at.0.is_finite() && at.1.is_finite() {
            self.marks.push(PictureMark { look: look.to_owned(), at: self.spot(at), word: word.to_owned(), shown });
        }
    }

    /// The picture with its axes and its meaning.
    pub fn done(self, across: PictureAxis, up: PictureAxis, words: String) -> Option<FigurePicture> {
        let drawn = !self.lines.is_empty() && !across.ticks.is_empty() && !up.ticks.is_empty();
        drawn.then_some(FigurePicture { across, up, lines: self.lines, marks: self.marks, words })
    }
}
