//! A poured cup's forecast in words: what is left of it by its own temperature, by the model and by its clock.

use super::asked::Asked;
use super::cup::{Known, Outlook};
use super::said::{calibration, clock_minutes, heat, peak, rests_on, span, what};
use super::standing::{ByCup, left_s};
use crate::ask::Asking;
use crate::ask::answer::{Named, PourAnswer, PourPeak};
use crate::judge::words::{Round, Saying, instant, list};
use crate::reader::Reader;
use glue::clock::Clock;

/// What is left, whole minutes.
struct Left {
    cup: Option<i64>,
    model: Option<i64>,
    clock: Option<i64>,
}

impl Left {
    fn shortest(&self) -> Option<i64> {
        [self.cup, self.model, self.clock].into_iter().flatten().min()
    }

    /// The cup's own temperature says less than anything else does.
    fn cup_counts(&self) -> bool {
        let others = [self.model, self.clock].into_iter().flatten().min();
        self.cup.is_some_and(|cup| others.is_none_or(|other| cup < other))
    }
}

/// The answer about a batch that stands since `started_ms`.
pub fn answer(asking: &Asking, asked: &Asked, known: &Known, by_cup: Option<&ByCup>, started_ms: i64) -> PourAnswer {
    let reader = asking.judge.reader;
    let whole = |ms: i64| ms.max(0).div_euclid(60_000);
    let left = Left {
        cup: by_cup.and_then(|cup| cup.until_ms).map(|until| whole(until - asking.at_ms)),
        model: left_s(known, started_ms, asking.at_ms).map(|s| libm::floor(s / 60.0) as i64),
        clock: clock_minutes(asking, known),
    };
    let outlook = by_cup.map(|cup| &cup.outlook).or(known.model.as_ref().ok().map(|model| &model.as_is));
    PourAnswer {
        at: instant(asking.at_ms),
        card: Named { name: asked.card.stored.name.clone(), id: asked.card.id.clone() },
        what: format!("batch {}, {}", asked.story.name, what(asked, known, reader)),
        said: headline(asking, asked, &left, by_cup),
        minutes: left.shortest(),
        model_minutes: left.model,
        clock_minutes: left.clock,
        because: because(asked, &left, reader),
        warnings: outlook.and_then(|outlook| heat(outlook, reader)).into_iter().collect(),
        peak: outlook.map(|outlook| peak_of(outlook, by_cup, reader)),
        ways: Vec::new(),
        ways_said: None,
        calibration: calibration(asked, known, reader),
        rests_on: rests_on(known, reader),
    }
}

fn headline(asking: &Asking, asked: &Asked, left: &Left, by_cup: Option<&ByCup>) -> String {
    if known_ended(asked, asking) {
        return format!("Batch {} is out of the pot", asked.story.name);
    }
    let Some(within) = left.shortest() else { return "Nothing says how long it can be worked".to_owned() };
    let rest = match within {
        0 => "it is past its time".to_owned(),
        within => format!("about {} are left", span(within)),
    };
    let Some(cup) = by_cup else { return capital_about(&rest) };
    let after = span((cup.last.at_ms - cup.started_ms).max(0) / 60_000);
    let measured = format!("Measured {} after {after}", asking.judge.reader.kelvin(cup.last.k));
    let sheet = left.clock.map(|clock| format!("; by its clock {}", span(clock))).unwrap_or_default();
    if left.cup_counts() {
        format!("{measured}: {rest}{sheet}")
    } else {
        format!("{measured}: that shortens nothing, {rest}")
    }
}

fn capital_about(rest: &str) -> String {
    crate::judge::words::capital(rest)
}

fn known_ended(asked: &Asked, asking: &Asking) -> bool {
    asked.story.pot_done.iter().any(|one| one.at_ms <= asking.at_ms)
}

fn because(asked: &Asked, left: &Left, reader: Reader) -> Vec<String> {
    let stated = list(&asked.card.stated(Clock::Pot, reader));
    let line = |minutes: Option<i64>, by: &str| minutes.map(|minutes| format!("{} {by}", span(minutes)));
    let cup = line(left.cup, "by the cup's own temperature");
    let model = line(left.model, if left.cup.is_some() { "by the heat model without it" } else { "by the heat model" });
    let clock = line(left.clock, &format!("by its clock, from the sheet's {stated}"));
    let mut said: Vec<String> = [cup, model, clock].into_iter().flatten().collect();
    if said.len() > 1 {
        said.push("The shortest counts".to_owned());
    }
    said
}

/// Counted from the hardener.
fn peak_of(outlook: &Outlook, by_cup: Option<&ByCup>, reader: Reader) -> PourPeak {
    let before_s = by_cup.map_or(0.0, |cup| (cup.last.at_ms - cup.started_ms) as f64 / 1000.0);
    let mut later = *outlook;
    later.course.peak += before_s;
    peak(&later, reader)
}

/// "by the cup's own temperature: 10:41"; None: nobody measured, or the clock is shorter.
pub fn beside_clock(until_ms: i64, clock_ms: Option<i64>, saying: Saying) -> Option<String> {
    let shorter = clock_ms.is_none_or(|clock| until_ms < clock);
    shorter.then(|| format!("by the cup's own temperature: {}", saying.time(until_ms, Round::Down)))
}
