//! A joint spread in stretches, a batch to each: where its oldest glue lies.

use super::Judge;
use super::story::BondStory;
use glue::clock::Clock;
use logbook::entry::bond::BatchUse;
use logbook::store::Error;

impl Judge<'_> {
    /// What a clock of assembly that still runs says of a joint in stretches; None: another clock, one batch, or
    /// stretches nobody recorded. Batches stand in the order they were spread, so that the first one's glue is oldest.
    pub(super) fn oldest_stretch(
        &self,
        story: &BondStory,
        clock: Clock,
        ended_ms: Option<i64>,
    ) -> Result<Option<String>, Error> {
        let of_assembly = matches!(clock, Clock::Open | Clock::Closed) && ended_ms.is_none();
        let (true, [BatchUse { batch, from: Some(from), to: Some(to) }, _, ..]) =
            (of_assembly, story.bond.batches.as_slice())
        else {
            return Ok(None);
        };
        let (batch, from, to) = (self.name(batch)?, &from.typed, &to.typed);
        Ok(Some(format!("the oldest glue is that of {batch}, from {from} to {to}: put together and clamp there first")))
    }
}
