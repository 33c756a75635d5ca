//! The glue lines of a bond on its page: its assembly and its time under clamps, each with the temperature underneath.
//! A clock that ended shows both: the press that ended it, and where its limit would have stood.

use super::Asking;
use super::answer::GlueLine;
use crate::judge::findings::Judged;
use crate::judge::prepared::{Kept, Prepared};
use crate::judge::words::Saying;
use crate::judge::{BondStory, Reckoned};
use crate::line::draw::axis;
use crate::line::temperature::{Read, temperature};
use crate::line::{self, Drawn, Sketch, chill, sketch};
use glue::clock::{Clock, Direction, State};
use logbook::store::Error;

/// Both lines of a bond; what never began has none.
pub fn lines(asking: &Asking, judged: &Judged) -> Result<Vec<GlueLine>, Error> {
    let story = &judged.story;
    let saying = Saying { zone_min: asking.judge.zone(&story.made), at_ms: story.at_ms };
    let sketches = [assembly(asking, judged, saying)?, cure(asking, judged, saying)];
    let mut lines = Vec::new();
    for sketch in sketches.into_iter().flatten() {
        lines.push(with_temperature(asking, story, &judged.clocks, &sketch)?);
    }
    Ok(lines)
}

fn assembly(asking: &Asking, judged: &Judged, saying: Saying) -> Result<Option<Sketch>, Error> {
    let batches = asking.judge.batches_of(&judged.story)?;
    let hardener_in: Vec<i64> = batches.iter().filter_map(|batch| batch.started_ms()).collect();
    let started: Vec<&Reckoned> = judged.clocks.iter().filter(|one| one.on.started_ms.is_some()).collect();
    let sketch = sketch::assembly(&judged.story, &started, &hardener_in, asking.at_ms, saying);
    Ok(sketch.map(|sketch| with_limits(sketch, &started, Direction::MustNotExceed, asking, saying)))
}

/// Under clamps: the gate is the clamp's own, whatever else is still running.
fn cure(asking: &Asking, judged: &Judged, saying: Saying) -> Option<Sketch> {
    let clamp = judged.clocks.iter().find(|one| one.on.clock == Clock::Clamp)?;
    let pauses = chill::stretches(clamp, asking.at_ms, asking.judge.axis);
    let sketch = sketch::cure(&judged.story, &[clamp], pauses, asking.at_ms, saying)?;
    Some(with_limits(sketch, &[clamp], Direction::MustReach, asking, saying))
}

/// Clocks that ended before their limit get the limit as it was forecast when they ended.
fn with_limits(
    mut sketch: Sketch,
    clocks: &[&Reckoned],
    direction: Direction,
    asking: &Asking,
    saying: Saying,
) -> Sketch {
    let of = clocks.iter().filter(|one| one.on.clock.direction() == direction);
    sketch.limits = of.map(|one| limit(one, asking, saying)).collect();
    sketch
}

fn limit(one: &Reckoned, asking: &Asking, saying: Saying) -> Drawn {
    let (State::Ended, Some(ended_ms)) = (one.told.state, one.on.ended_ms) else {
        return Drawn::of(one, saying);
    };
    let on = Prepared { ended_ms: None, kept: Kept::default(), ..(*one.on).clone() };
    let then = on.tell(ended_ms, asking.judge.axis);
    let mut told = one.told.clone();
    (told.earliest_ms, told.expected_ms, told.latest_ms) = (then.earliest_ms, then.expected_ms, then.latest_ms);
    Drawn::of(&Reckoned { told, ..one.clone() }, saying)
}

fn with_temperature(
    asking: &Asking,
    story: &BondStory,
    clocks: &[Reckoned],
    sketch: &Sketch,
) -> Result<GlueLine, Error> {
    let axis = axis(sketch);
    let mut drawn = line::draw(sketch);
    let mut reads: Vec<Read> = Vec::new();
    let places = asking.judge.places(story)?;
    for (index, (since, place)) in places.iter().enumerate() {
        let until = places.get(index + 1).map_or(i64::MAX, |next| next.0).min(axis.to_ms).min(asking.at_ms);
        let from = (*since).max(axis.from_ms);
        let Some(place) = place.as_ref().filter(|_| from <= until) else { continue };
        let air = asking.judge.air(place, from, until)?;
        let knots = air.air.sources.iter().flat_map(|source| &source.knots);
        let here = knots.filter(|knot| (from..=until).contains(&knot.at_ms));
        reads.extend(here.map(|knot| Read { at_ms: knot.at_ms, low_k: knot.low_k, high_k: knot.high_k }));
    }
    reads.sort_by_key(|one| one.at_ms);
    let card = clocks.iter().find_map(|one| one.on.card.as_ref());
    let bounds = card.map_or((None, None), |card| match sketch.stage {
        line::Stage::Cure => (card.glue.minimum_cure_k, card.glue.maximum_cure_k),
        line::Stage::Assembly => (card.glue.application_minimum_k, card.glue.application_maximum_k),
    });
    drawn.temperature = temperature(&reads, axis, bounds.0, bounds.1, asking.judge.reader);
    Ok(drawn)
}
