//! Single lines of answers: a clock, an entry, a batch, an alarm, as they cross the wire.

use super::Asking;
use super::answer::{
    AlarmLine, BatchLine, ClockAnswer, EntryLine, FindingAnswer, HelpAnswer, LimitAnswer, LotLine, Progress, Tenths,
    Used,
};
use super::off_ratio::off_ratio;
use crate::judge::batch::BatchStory;
use crate::judge::clocks::{assumed, band_word, counted, law_word, state_word};
use crate::judge::findings::Finding;
use crate::judge::said;
use crate::judge::words::instant;
use crate::judge::{BondStory, Reckoned};
use glue::clock::{Direction, Help};
use logbook::entry::bond::BatchUse;
use logbook::entry::book::Alarm;
use logbook::entry::{Entry, Id};
use logbook::store::Error;

/// An act is late when it was entered more than this after it happened, ms.
pub const LATE_MS: i64 = 60_000;

impl Asking<'_> {
    /// Marks or names of things, sorted, without repeats.
    pub fn marks(&self, ids: Vec<Id>) -> Result<Vec<String>, Error> {
        let mut marks = ids.iter().map(|id| self.judge.name(id)).collect::<Result<Vec<_>, _>>()?;
        marks.sort();
        marks.dedup();
        Ok(marks)
    }

    /// A person's name; None: not recorded.
    pub fn person(&self, entry: &Entry) -> Result<Option<String>, Error> {
        entry.person.as_ref().map(|id| self.judge.name(id)).transpose()
    }

    /// One entry of a trace.
    pub fn entry_line(&self, entry: &Entry, withdrawn: bool) -> Result<EntryLine, Error> {
        Ok(EntryLine {
            log: entry.log.clone(),
            seq: entry.seq,
            kind: entry.body.kind().to_owned(),
            happened: instant(entry.happened_ms),
            entered: instant(entry.entered_ms),
            late: late(entry),
            corrects: entry.corrects.clone(),
            id: entry.id.clone(),
            person: self.person(entry)?,
            why: entry.why.clone(),
            withdrawn,
        })
    }

    /// Lots of a batch.
    pub fn lot_lines(&self, batch: &BatchStory) -> Result<Vec<LotLine>, Error> {
        let line = |lot: crate::judge::lots::LotUse| LotLine {
            mark: lot.mark,
            role: lot.role,
            expired: lot.expired,
            id: lot.id,
            expires: lot.expires_ms.map(instant),
            other_adhesive: lot.other_adhesive,
            containers: lot.cans,
        };
        Ok(self.judge.lots_of(batch)?.into_iter().map(line).collect())
    }

    /// A batch in a bond.
    pub fn batch_line(&self, used: &BatchUse) -> Result<Option<BatchLine>, Error> {
        let Some(batch) = self.judge.batch(&used.batch)? else { return Ok(None) };
        Ok(Some(BatchLine {
            id: batch.id.clone(),
            name: batch.name.clone(),
            day: batch.day.clone(),
            verdict: batch.verdict().to_owned(),
            off_ratio: off_ratio(&batch, self.judge.card_of(&batch)?.as_deref()),
            lots: self.lot_lines(&batch)?,
            from: used.from.as_ref().map(|it| it.typed.clone()),
            to: used.to.as_ref().map(|it| it.typed.clone()),
        }))
    }

    /// An alarm with who answered it.
    pub fn alarm_line(&self, entry: &Entry, alarm: &Alarm) -> Result<AlarmLine, Error> {
        let answered = self
            .judge
            .subject(&entry.id)?
            .into_iter()
            .find(|one| matches!(&one.body, logbook::entry::Body::AlarmAnswered(it) if it.alarm == entry.id));
        let of = match (&alarm.bond, &alarm.batch) {
            (Some(bond), _) => Some(format!("bond:{}", self.judge.name(bond)?)),
            (None, Some(batch)) => Some(format!("batch:{}", self.judge.name(batch)?)),
            (None, None) => None,
        };
        Ok(AlarmLine {
            alarm: alarm.alarm.clone(),
            loud: crate::alarm::due::Kind::loud_word(&alarm.alarm),
            clock: alarm.clock.clone(),
            due: instant(alarm.due_ms),
            said: alarm.said.clone(),
            answered_by: match answered {
                Some(one) => Some(self.person(&one.entry)?.unwrap_or_else(|| "somebody".to_owned())),
                None => None,
            },
            seq: entry.seq,
            id: entry.id.clone(),
            of,
        })
    }

    /// Joints of a bond: "R3-L/gusset 4", in the order named.
    pub fn joints(&self, story: &BondStory) -> Result<Vec<String>, Error> {
        let joint =
            |joint: &logbook::entry::part::JointRef| Ok(format!("{}/{}", self.judge.name(&joint.part)?, joint.mark));
        story.bond.joints.iter().map(joint).collect()
    }
}

/// A clock on the wire.
pub fn clock(one: &Reckoned) -> ClockAnswer {
    let (on, told) = (&one.on, &one.told);
    let [low, expected, high] = told.progress_ppm;
    let must_reach = on.clock.direction() == Direction::MustReach;
    ClockAnswer {
        of: on.of.clone(),
        clock: on.clock.word().to_owned(),
        direction: if must_reach { "must-reach" } else { "must-not-exceed" }.to_owned(),
        state: state_word(told.state).to_owned(),
        started: on.started_ms.map(instant),
        ended: on.ended_ms.map(instant),
        progress_ppm: Progress { low, expected, high },
        earliest: told.earliest_ms.map(instant),
        expected: told.expected_ms.map(instant),
        latest: told.latest_ms.map(instant),
        limit: limit(one),
        used: Used {
            readings: told.readings,
            no_credit_ms: told.no_credit_ms,
            gap_ms: told.gap_ms,
            assumed: assumed(one),
        },
        model: glue::clock::MODEL.to_owned(),
        said: one.said.clone(),
        bound: said::bound(one),
        nearly_over: one.nearly_ms.map(instant),
        batch: on.batch_name.clone(),
        parts: on.parts.clone(),
        helps: helps(one),
    }
}

fn helps(one: &Reckoned) -> Vec<HelpAnswer> {
    let line = |(help, said): (&Help, String)| HelpAnswer {
        at: one.on.reader.kelvin(help.at_k),
        finish: instant(help.finish_ms),
        said,
    };
    one.told.helps.iter().zip(said::helps(one)).map(line).collect()
}

/// Clocks on the wire, in the order given.
pub fn clocks(all: &[Reckoned]) -> Vec<ClockAnswer> {
    all.iter().map(clock).collect()
}

/// Entered more than a minute after it happened.
pub fn late(entry: &Entry) -> bool {
    entry.entered_ms - entry.happened_ms > LATE_MS
}

/// A finding on the wire.
pub fn finding(one: &Finding) -> FindingAnswer {
    FindingAnswer { key: one.key.clone(), sentence: one.sentence.clone(), settled: one.settled }
}

fn limit(one: &Reckoned) -> LimitAnswer {
    let card = one.on.card.as_deref();
    LimitAnswer {
        card: card.map(|it| it.id.clone()),
        law: law_word(one.told.law).to_owned(),
        counted_from: counted(&one.told).map(str::to_owned),
        name: card.map(|it| it.stored.name.clone()),
        stated: card.map(|it| it.stated(one.on.clock, one.on.reader)).unwrap_or_default(),
        origin: card.map(|it| it.stored.origin.clone()),
        energy_kj_mol: one.told.sure.energy.map(|all| all.map(Tenths::of_thousand)),
        points: one.told.sure.points as u64,
        band: band_word(one.told.law).map(str::to_owned),
    }
}
