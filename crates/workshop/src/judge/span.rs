//! When a bond's clocks start and end, by the presses and by the faces made fresh.

use super::Judge;
use super::story::BondStory;
use glue::clock::Clock;
use logbook::entry::Body;
use logbook::entry::part::JointRef;
use logbook::store::Error;
use std::collections::BTreeMap;

/// Start and end, ms; None: not yet.
pub type Span = (Option<i64>, Option<i64>);

impl Judge<'_> {
    /// Start and end of a clock by the presses (docs/science/clocks.md); None: it is left out.
    pub(super) fn span(
        &self,
        story: &BondStory,
        below: Option<&BondStory>,
        clock: Clock,
        hardener_in_ms: Option<i64>,
        notes: &mut Vec<String>,
    ) -> Result<Option<Span>, Error> {
        let must = |start: Option<i64>, end: Option<i64>| start.map(|start| (Some(start), end));
        Ok(match clock {
            Clock::Pot => None,
            Clock::Open => must(open_start_ms(story, hardener_in_ms, notes), story.joined_ms()),
            Clock::Closed if story.two_press() => None,
            Clock::Closed => must(story.first("together").map(|one| one.at_ms), closed_end_ms(story)),
            Clock::FreshSurface => must(self.fresh_ms(story)?, story.joined_ms()),
            Clock::GlueAgain => match below {
                Some(below) if !self.abraded(story, below)? => {
                    must(below.tight_ms(), story.glue_on_ms().or(story.joined_ms()))
                }
                _ => None,
            },
            Clock::Clamp => Some((story.tight_ms(), story.clamp_off().map(|one| one.at_ms))),
            Clock::Machining => Some((story.tight_ms(), story.used(false).map(|one| one.at_ms))),
            Clock::FullCure => Some((story.tight_ms(), story.used(true).map(|one| one.at_ms))),
        })
    }

    /// The earliest of the faces as they were last made fresh before the glue, ms.
    fn fresh_ms(&self, story: &BondStory) -> Result<Option<i64>, Error> {
        let until = story.glue_on_ms().or(story.joined_ms()).unwrap_or(i64::MAX);
        Ok(self.surfaced(story)?.into_iter().filter_map(|all| all.into_iter().filter(|at| *at <= until).max()).min())
    }

    /// Every face was made fresh again after the layer below was tight: gluing again without abrading is no question.
    fn abraded(&self, story: &BondStory, below: &BondStory) -> Result<bool, Error> {
        let Some(tight) = below.tight_ms() else {
            return Ok(false);
        };
        let until = story.glue_on_ms().or(story.joined_ms()).unwrap_or(i64::MAX);
        let joints = self.surfaced(story)?;
        Ok(!joints.is_empty() && joints.iter().all(|all| all.iter().any(|at| *at > tight && *at <= until)))
    }

    /// For each joint of a bond, the instants its faces were made fresh, ms.
    fn surfaced(&self, story: &BondStory) -> Result<Vec<Vec<i64>>, Error> {
        let mut by_part = BTreeMap::new();
        for part in story.parts() {
            let settled = self.subject(&part)?;
            by_part.insert(part, settled);
        }
        let times = |joint: &JointRef| {
            let all = by_part.get(&joint.part).into_iter().flatten();
            all.filter(|one| match &one.body {
                Body::Surface(surface) => surface.joints.contains(joint) || surface.parts.contains(&joint.part),
                _ => false,
            })
            .map(|one| one.happened_ms)
            .collect::<Vec<i64>>()
        };
        Ok(story.bond.joints.iter().map(times).collect())
    }
}

/// Open time counts from the first glue on wood; not recorded: from *Hardener in*, once a later press shows that glue
/// was on.
fn open_start_ms(story: &BondStory, hardener_in_ms: Option<i64>, notes: &mut Vec<String>) -> Option<i64> {
    if let Some(on) = story.glue_on_ms() {
        return Some(on);
    }
    story.joined_ms()?;
    notes.push("First glue on is not recorded: open time counts from Hardener in".to_owned());
    hardener_in_ms
}

/// Closed time ends with *All tight*; not recorded: with whatever press came later.
fn closed_end_ms(story: &BondStory) -> Option<i64> {
    let tight = story.first("all-tight").or_else(|| story.first("first-clamp-off")).or_else(|| story.first("used"));
    tight.map(|one| one.at_ms)
}
