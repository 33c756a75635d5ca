//! What is found in a bond's presses: releases judged with what the book now holds, what was said then, presses
//! that are missing.

use super::Judge;
use super::found::List;
use super::prepared::{Prepared, Reckoned, state_word};
use super::story::Pressed;
use super::words::percent;
use glue::clock::{Clock, Direction, State};

impl Judge<'_> {
    /// Releases and uses, and what was said about them then.
    pub(super) fn find_releases(&self, list: &mut List, clocks: &[Reckoned]) {
        for clock in clocks.iter().filter(|one| one.on.clock.direction() == Direction::MustReach) {
            let story = list.story;
            let press = match clock.on.clock {
                Clock::Clamp => story.clamp_off(),
                Clock::Machining => story.used(false),
                _ => story.used(true),
            };
            if let Some(press) = press {
                find_release(list, clock, press);
            }
            if clock.on.clock == Clock::Clamp {
                find_said_free(list, clock, self);
                self.find_first_release(list, clock);
            }
        }
    }

    /// A clamp that came off before the last re-tightening: judged on the stretch that it ended.
    fn find_first_release(&self, list: &mut List, clock: &Reckoned) {
        let story = list.story;
        let Some(last) = story.tightenings().max() else { return };
        for press in story.all("first-clamp-off").filter(|press| press.at_ms < last) {
            let started_ms = story.tightenings().filter(|at| *at <= press.at_ms).max();
            let on = Prepared { started_ms, ended_ms: Some(press.at_ms), ..(*clock.on).clone() };
            let told = on.tell(self.seen.at_ms, self.axis);
            if told.state != State::Reached {
                let low = percent(told.progress_ppm[0].min(999_999));
                let sentence = format!(
                    "First clamp off at {} too early: {low} of the clamp time; tightened again later",
                    list.time(press.at_ms)
                );
                list.add("early:clamp".to_owned(), sentence, Some(press.entry.seq));
            }
        }
    }
}

/// A release judged with what the book now holds; what was said then stands beside it.
fn find_release(list: &mut List, clock: &Reckoned, press: &Pressed) {
    let word = clock.on.clock.word();
    let early = clock.told.state != State::Reached;
    let low = percent(clock.told.progress_ppm[0].clamp(0, if early { 999_999 } else { i64::MAX }));
    let then = press.said.iter().find(|said| said.clock == word);
    let differs = then.filter(|said| (said.state == "reached") == early);
    let said = differs
        .map(|said| format!("; then it was said: {}, {}", said.state, percent(said.low_ppm)))
        .unwrap_or_default();
    let what = if clock.on.clock == Clock::Clamp { "First clamp off" } else { "used" };
    if early {
        let sentence = format!("{what} at {} too early: {low} of the {word} time{said}", list.time(press.at_ms));
        list.add(format!("early:{word}"), sentence, Some(press.entry.seq));
    } else if differs.is_some() {
        let sentence = format!(
            "{what} at {}: with what the book now holds the {word} time was reached{said}",
            list.time(press.at_ms)
        );
        list.note(&format!("hindsight:{word}"), sentence, Some(press.entry.seq));
    }
}

/// Alarms that said clamps may come off, judged again with what the book now holds.
fn find_said_free(list: &mut List, clock: &Reckoned, judge: &Judge) {
    let story = list.story;
    for alarm in &story.alarms {
        let Some(then) = &alarm.what.progress else { continue };
        if then.clock != clock.on.clock.word() || alarm.what.alarm != "clamps-may-come-off" {
            continue;
        }
        let on = Prepared { ended_ms: Some(alarm.what.noticed_ms), ..(*clock.on).clone() };
        if on.started_ms.is_none_or(|start| start > alarm.what.noticed_ms) {
            continue;
        }
        let now = on.tell(judge.seen.at_ms, judge.axis);
        if now.state != State::Reached {
            let at = list.time(alarm.what.noticed_ms);
            let low = percent(now.progress_ppm[0].clamp(0, 999_999));
            let sentence = format!(
                "at {at} it was said that clamps may come off ({}); with what the book now holds it was {low} ({})",
                percent(then.low_ppm),
                state_word(now.state)
            );
            list.note("hindsight:said-free", sentence, Some(alarm.entry.seq));
        }
    }
}

/// Presses in the order of a bond's life: (word, rank, name). What is looked at while wet may come before *All tight*.
const ORDER: [(&str, u8, &str); 8] = [
    ("first-glue-on", 1, "First glue on"),
    ("together", 2, "Together"),
    ("all-tight", 3, "All tight"),
    ("squeeze-out", 3, "Squeeze-out"),
    ("clamp-lost", 4, "Clamp lost"),
    ("re-tightened", 4, "Re-tightened"),
    ("first-clamp-off", 5, "First clamp off"),
    ("used", 6, "Used"),
];

/// A press that is missing although a later one exists.
pub(super) fn find_missing(list: &mut List) {
    let story = list.story;
    let rank = |press: &str| ORDER.iter().find(|one| one.0 == press).map_or(0, |one| one.1);
    let latest = story.presses.iter().map(|one| rank(&one.press)).max().unwrap_or(0);
    let two: &[&str] = &["first-glue-on", "all-tight"];
    let six: &[&str] = &["first-glue-on", "together", "all-tight", "first-clamp-off"];
    for press in if story.two_press() { two } else { six } {
        let there = story.first(press).is_some() || (*press == "first-glue-on" && story.glue_on_ms().is_some());
        if !there && rank(press) < latest {
            let name = ORDER.iter().find(|one| one.0 == *press).map_or("", |one| one.2);
            list.add(
                format!("missing:{press}"),
                format!("{name} not recorded"),
                story.presses.last().map(|one| one.entry.seq),
            );
        }
    }
    find_squeeze_out(list, latest >= 5);
}

fn find_squeeze_out(list: &mut List, released: bool) {
    let story = list.story;
    match story.last("squeeze-out") {
        Some(press) if press.seen.as_deref() == Some("not-all-round") => {
            list.add(
                "squeeze-out:not-all-round".to_owned(),
                "squeeze-out not all round".to_owned(),
                Some(press.entry.seq),
            );
        }
        Some(_) => {}
        None if released => {
            list.add(
                "missing:squeeze-out".to_owned(),
                "squeeze-out not recorded".to_owned(),
                story.presses.last().map(|one| one.entry.seq),
            );
        }
        None => {}
    }
}
