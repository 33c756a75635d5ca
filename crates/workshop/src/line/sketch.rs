//! What a glue line is drawn from: the clocks of one stage as they stand, the presses, the stretches without credit.

use crate::judge::words::{Round, Saying};
use crate::judge::{BondStory, Reckoned};
use glue::clock::{Clock, Direction, State};

/// Which half of a bond's life.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Hardener in to all tight.
    Assembly,
    /// All tight to the next gate or gates.
    Cure,
}

/// A clock as it is drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// Which.
    pub clock: Clock,
    /// Its state.
    pub state: State,
    /// Earliest estimate, ms.
    pub earliest_ms: Option<i64>,
    /// Expected, ms.
    pub expected_ms: Option<i64>,
    /// Latest, ms.
    pub latest_ms: Option<i64>,
    /// The press that ended it, ms.
    pub ended_ms: Option<i64>,
    /// Its label.
    pub word: String,
}

/// A stage ready to be drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sketch {
    /// Which half.
    pub stage: Stage,
    /// Where the band begins, ms.
    pub from_ms: i64,
    /// Now, ms.
    pub at_ms: i64,
    /// The press that ended the stage, ms.
    pub ended_ms: Option<i64>,
    /// Walls or gates, in the order of a bond's life.
    pub limits: Vec<Drawn>,
    /// Presses in time: instant, label.
    pub presses: Vec<(i64, String)>,
    /// Stretches without credit, ms.
    pub chill: Vec<(i64, i64)>,
    /// The whole meaning.
    pub words: String,
}

impl Sketch {
    /// How far the band is filled: now, or the press that ended it, ms.
    pub fn filled_ms(&self) -> i64 {
        self.ended_ms.map_or(self.at_ms, |end| end.min(self.at_ms)).max(self.from_ms)
    }
}

impl Drawn {
    /// From a clock as it stands.
    pub fn of(one: &Reckoned, saying: Saying) -> Drawn {
        let told = &one.told;
        let [earliest_ms, expected_ms, latest_ms] = [told.earliest_ms, told.expected_ms, told.latest_ms];
        let (clock, state, ended_ms) = (one.on.clock, told.state, one.on.ended_ms);
        let mut drawn = Drawn { clock, state, earliest_ms, expected_ms, latest_ms, ended_ms, word: String::new() };
        drawn.word = drawn.label(saying);
        drawn
    }

    /// Neither reached nor over nor ended: its estimates lie ahead.
    pub fn open(&self) -> bool {
        self.ended_ms.is_none() && self.state != State::Reached
    }

    fn label(&self, saying: Saying) -> String {
        let by = self.earliest_ms.map(|at| saying.short(at, Round::Down)).unwrap_or_default();
        let from = self.latest_ms.map(|at| saying.short(at, Round::Up));
        let gate = |what: &str| match &from {
            Some(from) => format!("{what} from {from}"),
            None => format!("{what}: no time yet"),
        };
        match self.clock {
            Clock::Pot => format!("pot until {by}"),
            Clock::Open => format!("together by {by}"),
            Clock::Closed => format!("tight by {by}"),
            Clock::FreshSurface => format!("fresh until {by}"),
            Clock::GlueAgain => format!("next layer by {by}"),
            Clock::Clamp => gate("clamps off"),
            Clock::Machining => gate("plane"),
            Clock::FullCure => gate("load"),
        }
    }
}

/// The assembly of a bond: its pots, and its own clocks that must not be exceeded. None: nothing has begun.
pub fn assembly(
    story: &BondStory,
    clocks: &[&Reckoned],
    hardener_in: &[i64],
    at_ms: i64,
    saying: Saying,
) -> Option<Sketch> {
    let pressed = story.presses.iter().filter(|one| one.press != "used").map(|one| one.at_ms);
    let coats = story.coats.iter().map(|one| one.at_ms);
    let from_ms = hardener_in.iter().copied().chain(pressed).chain(coats).min()?;
    let ended_ms = story.tightenings().min().or_else(|| story.first("first-clamp-off").map(|one| one.at_ms));
    let walls: Vec<&&Reckoned> =
        clocks.iter().filter(|one| one.on.clock.direction() == Direction::MustNotExceed).collect();
    let mut presses: Vec<(i64, String)> =
        hardener_in.iter().map(|at| (*at, labelled("hardener in", *at, saying))).collect();
    presses.extend(story.coats.iter().map(|one| (one.at_ms, labelled("coat", one.at_ms, saying))));
    presses.extend(pressed_until(story, ended_ms.unwrap_or(at_ms), saying));
    presses.sort();
    Some(Sketch {
        stage: Stage::Assembly,
        from_ms,
        at_ms,
        ended_ms,
        limits: walls.iter().map(|one| Drawn::of(one, saying)).collect(),
        presses,
        chill: Vec::new(),
        words: sentences(walls.iter().map(|one| one.said.as_str()), "Nothing has been pressed that starts a clock"),
    })
}

/// A pot by itself.
pub fn pot(pot: &Reckoned, at_ms: i64, saying: Saying) -> Option<Sketch> {
    let from_ms = pot.on.started_ms?;
    Some(Sketch {
        stage: Stage::Assembly,
        from_ms,
        at_ms,
        ended_ms: pot.on.ended_ms,
        limits: vec![Drawn::of(pot, saying)],
        presses: vec![(from_ms, labelled("hardener in", from_ms, saying))],
        chill: Vec::new(),
        words: sentences([pot.said.as_str()], ""),
    })
}

/// Nothing was pressed: an empty band from when it was made.
pub fn nothing(made_ms: i64, at_ms: i64) -> Sketch {
    Sketch {
        stage: Stage::Assembly,
        from_ms: made_ms,
        at_ms,
        ended_ms: Some(made_ms),
        limits: Vec::new(),
        presses: Vec::new(),
        chill: Vec::new(),
        words: "Nothing has been pressed yet.".to_owned(),
    }
}

/// The cure of a bond, with the gates given. None: nothing was ever tight.
pub fn cure(
    story: &BondStory,
    gates: &[&Reckoned],
    chill: Vec<(i64, i64)>,
    at_ms: i64,
    saying: Saying,
) -> Option<Sketch> {
    let from_ms = story.tightenings().max()?;
    let ended_ms = gates.last().and_then(|one| one.on.ended_ms);
    let after = story.presses.iter().filter(|one| one.at_ms >= from_ms);
    let mut presses: Vec<(i64, String)> =
        after.map(|one| (one.at_ms, labelled(&name(&one.press), one.at_ms, saying))).collect();
    presses.extend(
        story
            .moves
            .iter()
            .filter(|one| one.at_ms >= from_ms)
            .map(|one| (one.at_ms, labelled("moved", one.at_ms, saying))),
    );
    presses.sort();
    Some(Sketch {
        stage: Stage::Cure,
        from_ms,
        at_ms,
        ended_ms,
        limits: gates.iter().map(|one| Drawn::of(one, saying)).collect(),
        presses,
        chill,
        words: sentences(gates.iter().map(|one| one.said.as_str()), "The card states no time to be reached"),
    })
}

fn pressed_until(story: &BondStory, until_ms: i64, saying: Saying) -> Vec<(i64, String)> {
    let before = story.presses.iter().filter(|one| one.at_ms <= until_ms);
    before.map(|one| (one.at_ms, labelled(&name(&one.press), one.at_ms, saying))).collect()
}

fn name(press: &str) -> String {
    match press {
        "squeeze-out" | "re-tightened" => press.to_owned(),
        other => other.replace('-', " "),
    }
}

fn labelled(word: &str, at_ms: i64, saying: Saying) -> String {
    format!("{word} {}", saying.short(at_ms, Round::Down))
}

/// Whole sentences of what clocks say.
fn sentences<'a>(said: impl IntoIterator<Item = &'a str>, none: &str) -> String {
    let all: Vec<String> = said.into_iter().filter(|one| !one.is_empty()).map(|one| format!("{one}.")).collect();
    if all.is_empty() { format!("{none}.") } else { all.join(" ") }
}
