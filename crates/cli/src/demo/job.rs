//! One glue job: pots mixed, a bond, its presses, the clamps. Written once as data and unrolled into steps.

use super::calendar::{Calendar, MINUTE};
use super::scenario::cards::Glue;
use super::step::Step;
use serde_json::{Value, json};

/// A cup of glue. Amounts as read from the scale.
#[derive(Clone, Debug)]
pub struct Pot {
    /// Resin, net.
    pub resin: &'static str,
    /// Hardener, net.
    pub hardener: &'static str,
    /// What was left and thrown away.
    pub left: &'static str,
    /// Stretch along the joint.
    pub along: Option<(&'static str, &'static str)>,
}

/// Minutes from *Hardener in* to each press; none: the press was not made.
#[derive(Clone, Debug)]
pub struct Pace {
    /// First glue on.
    pub first_glue: Option<i64>,
    /// Together.
    pub together: Option<i64>,
    /// All tight.
    pub tight: Option<i64>,
    /// Squeeze-out looked at, and what was seen.
    pub squeeze_out: Option<(i64, &'static str)>,
}

/// When the clamps came off: days before T's own, and the local time.
pub type Off = (i64, (i64, i64));

/// One glue job.
#[derive(Clone, Debug)]
pub struct Job {
    /// Name its bond's id is kept under; its pots are kept as `NAME.pot1`, `NAME.pot2` …
    pub name: &'static str,
    /// When the first hardener touches resin, ms UTC.
    pub start_ms: i64,
    /// Who does it.
    pub person: &'static str,
    /// Which glue, from which cans.
    pub glue: Glue,
    /// The cups.
    pub pots: Vec<Pot>,
    /// Parts or joints, and everything else of the bond's body.
    pub bond: Value,
    /// Where it is glued.
    pub place: &'static str,
    /// The presses.
    pub pace: Pace,
    /// Moved after so many minutes.
    pub moved: Option<(i64, &'static str)>,
    /// First clamp off.
    pub off: Option<Off>,
    /// Planed or sanded, the first use: days before T's own, and the local time.
    pub planed: Option<Off>,
    /// Entered only later, from paper: ms UTC and why.
    pub late: Option<(i64, &'static str)>,
}

/// Pots are mixed this far apart, minutes.
const BETWEEN_POTS: i64 = 2;

impl Job {
    /// A job of one cup at an unhurried pace in the bench room.
    pub fn new(name: &'static str, start_ms: i64, person: &'static str, glue: Glue, bond: Value) -> Job {
        let pace =
            Pace { first_glue: Some(6), together: Some(14), tight: Some(20), squeeze_out: Some((23, "all-round")) };
        Job {
            name,
            start_ms,
            person,
            glue,
            pots: Vec::new(),
            bond,
            place: "bench room",
            pace,
            moved: None,
            off: None,
            planed: None,
            late: None,
        }
    }

    /// One more cup.
    pub fn pot(mut self, resin: &'static str, hardener: &'static str, left: &'static str) -> Job {
        self.pots.push(Pot { resin, hardener, left, along: None });
        self
    }

    /// One more cup, for a stretch along the joint.
    pub fn pot_along(
        mut self,
        amounts: (&'static str, &'static str, &'static str),
        along: (&'static str, &'static str),
    ) -> Job {
        let (resin, hardener, left) = amounts;
        self.pots.push(Pot { resin, hardener, left, along: Some(along) });
        self
    }

    /// Minutes of the presses from *Hardener in*: first glue on, together, all tight.
    pub fn pace(mut self, first_glue: i64, together: i64, tight: i64) -> Job {
        let squeeze_out = Some((tight + 3, "all-round"));
        self.pace = Pace { first_glue: Some(first_glue), together: Some(together), tight: Some(tight), squeeze_out };
        self
    }

    /// A nailed job: First glue on and All tight only.
    pub fn nailed(mut self, first_glue: i64, tight: i64) -> Job {
        let squeeze_out = Some((tight + 2, "all-round"));
        self.pace = Pace { first_glue: Some(first_glue), together: None, tight: Some(tight), squeeze_out };
        self
    }

    /// What the squeeze-out looked like; none: nobody looked.
    pub fn squeeze_out(mut self, seen: Option<&'static str>) -> Job {
        let minute = self.pace.tight.unwrap_or(20) + 3;
        self.pace.squeeze_out = seen.map(|seen| (minute, seen));
        self
    }

    /// Wood moisture, where the person has not measured it in this session.
    pub fn moisture(mut self, share: &str) -> Job {
        if let Some(fields) = self.bond.as_object_mut() {
            fields.insert("moisture".into(), share.into());
        }
        self
    }

    /// Carried to another place after so many minutes.
    pub fn moved(mut self, minute: i64, place: &'static str) -> Job {
        self.moved = Some((minute, place));
        self
    }

    /// First clamp off.
    pub fn off(mut self, back: i64, time: (i64, i64)) -> Job {
        self.off = Some((back, time));
        self
    }

    /// Planed or sanded.
    pub fn planed(mut self, back: i64, time: (i64, i64)) -> Job {
        self.planed = Some((back, time));
        self
    }

    /// Entered later, from paper.
    pub fn late(mut self, entered_ms: i64, why: &'static str) -> Job {
        self.late = Some((entered_ms, why));
        self
    }

    /// The steps of the job, in the order they are entered.
    pub fn steps(&self, calendar: Calendar) -> Vec<Step> {
        let mut steps = self.mixing();
        steps.push(self.bonding());
        steps.extend(self.presses());
        steps.extend(self.leftovers());
        if let Some((minute, place)) = self.moved {
            let body = json!({ "bond": self.named(), "place": place });
            steps.push(Step::new(self.minute(minute), self.person, "moved", body));
        }
        if let Some((entered_ms, why)) = self.late {
            steps = from_paper(steps, entered_ms, why);
        }
        steps.extend(self.clamps_off(calendar));
        if let Some((back, time)) = self.planed {
            let used = json!({ "press": "used", "bond": self.named(), "seen": "planed" });
            steps.push(Step::new(calendar.at_ms(back, time) + 9_000, self.person, "press", used));
        }
        steps
    }

    /// First clamp off; what was moved for curing goes back to its place.
    fn clamps_off(&self, calendar: Calendar) -> Vec<Step> {
        let Some((back, time)) = self.off else { return Vec::new() };
        let off_ms = calendar.at_ms(back, time) + 17_000;
        let mut steps = vec![self.press(off_ms, "first-clamp-off")];
        if self.moved.is_some() {
            let body = json!({ "bond": self.named(), "place": self.place });
            steps.push(Step::new(off_ms + 2 * MINUTE, self.person, "moved", body));
        }
        steps
    }

    /// The reference to the job's bond in later bodies.
    pub fn named(&self) -> String {
        format!("${}", self.name)
    }

    fn minute(&self, minute: i64) -> i64 {
        self.start_ms + minute * MINUTE
    }

    fn pot_name(&self, pot: usize) -> String {
        format!("{}.pot{}", self.name, pot + 1)
    }

    fn mixing(&self) -> Vec<Step> {
        let pots = self.pots.iter().zip(0..);
        pots.flat_map(|(pot, index)| {
            let name = self.pot_name(index);
            let start_ms = self.minute(BETWEEN_POTS * index as i64);
            let body = json!({
                "batch": format!("${name}"), "card": self.glue.card, "containers": [self.glue.resin_can, self.glue.hardener_can],
                "resin": pot.resin, "hardener": pot.hardener, "weighing": "retared", "instrument": "scale 1",
                "place": self.place,
            });
            let hardener_in = Step::new(start_ms, self.person, "press", json!({ "press": "hardener-in" }));
            let mix = Step::new(start_ms + 70_000, self.person, "mix", body);
            [hardener_in.kept(name.clone(), "batch"), mix.kept(format!("{name}.mix"), "mix")]
        })
        .collect()
    }

    fn bonding(&self) -> Step {
        let mut body = self.bond.clone();
        let batches = self.pots.iter().zip(0..).map(|(pot, index)| self.batch_use(pot, index)).collect();
        if let Some(fields) = body.as_object_mut() {
            fields.insert("batches".into(), Value::Array(batches));
            fields.insert("place".into(), self.place.into());
        }
        let first_glue = self.pace.first_glue.unwrap_or(6);
        Step::new(self.minute(first_glue) - 20_000, self.person, "bond", body).kept(self.name, "bond")
    }

    fn batch_use(&self, pot: &Pot, index: usize) -> Value {
        let batch = format!("${}", self.pot_name(index));
        match pot.along {
            None => batch.into(),
            Some((from, to)) => json!({ "batch": batch, "from": from, "to": to }),
        }
    }

    fn presses(&self) -> Vec<Step> {
        let pace = &self.pace;
        let plain = [("first-glue-on", pace.first_glue), ("together", pace.together), ("all-tight", pace.tight)];
        let made = plain.into_iter().filter_map(|(press, minute)| Some(self.press(self.minute(minute?), press)));
        let mut steps: Vec<Step> = made.collect();
        if let Some((minute, seen)) = pace.squeeze_out {
            let body = json!({ "press": "squeeze-out", "bond": self.named(), "seen": seen });
            steps.push(Step::new(self.minute(minute), self.person, "press", body));
        }
        steps
    }

    fn press(&self, at_ms: i64, press: &str) -> Step {
        Step::new(at_ms, self.person, "press", json!({ "press": press, "bond": self.named() }))
            .kept(format!("{}.{press}", self.name), "press")
    }

    fn leftovers(&self) -> Vec<Step> {
        let done_ms = self.minute(self.pace.together.or(self.pace.tight).unwrap_or(20) + 1);
        let pots = self.pots.iter().zip(0..);
        pots.flat_map(|(pot, index)| {
            let batch = format!("${}", self.pot_name(index));
            let at_ms = done_ms + 12_000 * index as i64;
            let done = json!({ "press": "pot-done", "batch": batch });
            let thrown = json!({ "batch": batch, "mass": pot.left });
            [Step::new(at_ms, self.person, "press", done), Step::new(at_ms + 5_000, self.person, "throw-away", thrown)]
        })
        .collect()
    }
}

/// The same steps entered one after the other from a given instant on, each said to have happened when it did.
fn from_paper(steps: Vec<Step>, entered_ms: i64, why: &'static str) -> Vec<Step> {
    let numbered = steps.into_iter().zip(0i64..);
    numbered.map(|(step, index)| step.entered_late(entered_ms + index * 15_000, why)).collect()
}
