//! A batch's story: hardener in, mixes, top-ups, filler, what was thrown away. A pure fold.

use super::story::Fact;
use logbook::entry::mix::{Filler, Mix};
use logbook::entry::typed::{Amount, Temperature};
use logbook::entry::{Body, Entry, Id};
use logbook::settled::Settled;

/// One batch, folded from its entries.
#[derive(Clone, Debug, PartialEq)]
pub struct BatchStory {
    /// Its id.
    pub id: Id,
    /// Its name: "Tue 3".
    pub name: String,
    /// Local day: "2026-11-24".
    pub day: String,
    /// The entry that named it.
    pub made: Entry,
    /// *Hardener in*, the earliest press.
    pub hardener_in: Option<Fact<()>>,
    /// Mixes and top-ups, in time; true: a top-up.
    pub mixes: Vec<(bool, Fact<Mix>)>,
    /// Filler.
    pub fillers: Vec<Fact<Filler>>,
    /// Thrown away, mg.
    pub thrown: Vec<Fact<i64>>,
    /// The glue in its cup as measured, in time.
    pub cups: Vec<Fact<Temperature>>,
    /// *Pot done* presses.
    pub pot_done: Vec<Fact<()>>,
    /// Bonds that name or named it, by id, in fold order.
    pub bonds: Vec<Id>,
}

impl BatchStory {
    /// Folds a batch from the settled entries that name it; None: it does not exist in what is seen.
    pub fn fold(id: &str, settled: &[Settled]) -> Option<BatchStory> {
        let made = settled.iter().find(|one| one.entry.id == id)?;
        let Body::Batch(batch) = &made.body else { return None };
        let mut story = BatchStory {
            id: id.to_owned(),
            name: batch.name.clone(),
            day: batch.day.clone(),
            made: made.entry.clone(),
            hardener_in: None,
            mixes: Vec::new(),
            fillers: Vec::new(),
            thrown: Vec::new(),
            cups: Vec::new(),
            pot_done: Vec::new(),
            bonds: Vec::new(),
        };
        for one in settled {
            story.take(one);
        }
        story.cups.sort_by_key(|one| (one.at_ms, one.entry.order_ms, one.entry.seq));
        story.mixes.sort_by_key(|(top_up, one)| (*top_up, one.at_ms, one.entry.order_ms, one.entry.seq));
        Some(story)
    }

    fn take(&mut self, one: &Settled) {
        match &one.body {
            Body::Mix(mix) if mix.batch == self.id => self.mixes.push((false, told(one, mix.clone()))),
            Body::TopUp(mix) if mix.batch == self.id => self.mixes.push((true, told(one, mix.clone()))),
            Body::Filler(filler) if filler.batch == self.id => self.fillers.push(told(one, filler.clone())),
            Body::Cup(cup) if cup.batch == self.id => self.cups.push(told(one, cup.temperature.clone())),
            Body::ThrowAway(thrown) if thrown.batch == self.id => self.thrown.push(told(one, thrown.mass.mg)),
            Body::Bond(bond) if bond.batches.iter().any(|used| used.batch == self.id) => {
                self.bonds.push(one.entry.id.clone());
            }
            Body::Press(press) if press.batch.as_deref() == Some(self.id.as_str()) => self.pressed(&press.press, one),
            _ => {}
        }
    }

    fn pressed(&mut self, press: &str, one: &Settled) {
        match press {
            "hardener-in" if self.hardener_in.as_ref().is_none_or(|first| one.happened_ms < first.at_ms) => {
                self.hardener_in = Some(told(one, ()));
            }
            "pot-done" => self.pot_done.push(told(one, ())),
            _ => {}
        }
    }

    /// The mix itself; None: only *Hardener in* was pressed.
    pub fn mix(&self) -> Option<&Fact<Mix>> {
        self.mixes.iter().find(|(top_up, _)| !top_up).or(self.mixes.first()).map(|(_, one)| one)
    }

    /// Where the pot counts from: *Hardener in*; not recorded: the mix, ms.
    pub fn started_ms(&self) -> Option<i64> {
        self.hardener_in.as_ref().map(|one| one.at_ms).or_else(|| self.mixes.iter().map(|(_, one)| one.at_ms).min())
    }

    /// Mass mixed, mg, top-ups included; None: something was not weighed and has no density.
    pub fn mixed_mg(&self, resin_g_per_l: Option<i64>, hardener_g_per_l: Option<i64>) -> Option<i64> {
        let mut sum = 0;
        for (_, one) in &self.mixes {
            sum += mass_mg(one.what.resin.as_ref()?, resin_g_per_l)?;
            sum += mass_mg(one.what.hardener.as_ref()?, hardener_g_per_l)?;
        }
        if self.mixes.is_empty() { None } else { Some(sum) }
    }

    /// Worst ratio verdict over mix and top-ups: outside, cannot-tell, within, none.
    pub fn verdict(&self) -> &'static str {
        let has = |word: &str| self.mixes.iter().any(|(_, one)| verdict_of(&one.what) == word);
        ["outside", "cannot-tell", "within"].into_iter().find(|word| has(word)).unwrap_or("none")
    }

    /// Every lot's cans with the instant they were used: (container, instant), top-ups included.
    pub fn cans(&self) -> Vec<(Id, i64)> {
        let cans = |one: &Fact<Mix>| one.what.containers.iter().map(|can| (can.clone(), one.at_ms)).collect::<Vec<_>>();
        self.mixes.iter().flat_map(|(_, one)| cans(one)).collect()
    }
}

/// Verdict stored with a mix; none when nothing was judged.
pub fn verdict_of(mix: &Mix) -> &str {
    mix.judged.as_ref().map_or("none", |judged| judged.verdict.as_str())
}

/// Mass of an amount in mg; a volume needs the density in grams per litre.
pub fn mass_mg(amount: &Amount, g_per_l: Option<i64>) -> Option<i64> {
    match amount {
        Amount::Mass(mass) => Some(mass.mg),
        // 1 ul of 1000 g/l weighs 1 mg.
        Amount::Volume(volume) => g_per_l.map(|density| volume.ul * density / 1000),
    }
}

fn told<T>(one: &Settled, what: T) -> Fact<T> {
    Fact { at_ms: one.happened_ms, what, entry: one.entry.clone() }
}
