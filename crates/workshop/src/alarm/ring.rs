//! Ringing: which of what is due is told now, by sound and by notification, and until when it sounds.

use super::due::{Due, Kind, Moment};
use super::record::{self, Record};
use super::voice::{self, NOTE_DEADLINE_MS, Note, Pattern, Voice};
use super::{Options, Rung, Step, command, say};
use crate::clock::Now;
use crate::time::Axis;
use logbook::entry::{Body, Id};
use logbook::store::{Book, Error};
use std::collections::{BTreeMap, BTreeSet};

/// Quiet notices are held back from this local hour …
const NIGHT_FROM: i64 = 22;
/// … to this one.
const NIGHT_TO: i64 = 6;
/// Conditions regained for shorter than this are not lost anew, ms.
const CALM_MS: i64 = 30 * 60_000;
/// While an alarm sounds, the device is asked about this often, ms.
const ASK_DEVICE_MS: i64 = 2_000;

/// A note handed to the desktop and the alarms it tells of.
struct Handed {
    taken: voice::Taken,
    since_boot_ms: i64,
    records: Vec<Record>,
}

/// The moment of a ring, and the log it is recorded in.
pub struct At<'a> {
    pub now: &'a Now,
    pub axis: &'a Axis,
    pub log: &'a str,
}

/// The voice and what it has said.
pub struct Ring {
    voice: Box<dyn Voice>,
    options: Options,
    /// Told, by name: not asked of the book again.
    told: BTreeMap<String, Option<i64>>,
    /// Quiet notices that wait for the morning, by name.
    held_back: BTreeSet<String>,
    /// Loud and not answered.
    ringing: BTreeMap<Id, Kind>,
    /// Conditions lost, by bond: last seen lost, ms.
    lost: BTreeMap<Id, i64>,
    handed: Vec<Handed>,
    greeting: Option<Handed>,
    greeted: bool,
    sound_trouble: Option<String>,
    note_trouble: bool,
    not_saved: bool,
    asked_device_ms: i64,
}

impl Ring {
    pub fn new(voice: Box<dyn Voice>, options: Options) -> Ring {
        Ring {
            voice,
            options,
            told: BTreeMap::new(),
            held_back: BTreeSet::new(),
            ringing: BTreeMap::new(),
            lost: BTreeMap::new(),
            handed: Vec::new(),
            greeting: None,
            greeted: false,
            sound_trouble: None,
            note_trouble: false,
            not_saved: false,
            asked_device_ms: i64::MIN,
        }
    }

    pub fn sounding(&self) -> bool {
        !self.ringing.is_empty()
    }

    pub fn busy(&self) -> bool {
        !self.handed.is_empty() || self.greeting.is_some()
    }

    /// Leaves out what was told, quiet notices at night, and conditions that are still the same loss.
    pub fn wanted(&mut self, dues: Vec<Due>, at: Moment, first: bool) -> Vec<Due> {
        let night = !(NIGHT_TO..NIGHT_FROM).contains(&at.hour()) && !self.options.night;
        let mut wanted = Vec::new();
        for mut due in dues {
            if due.kind == Kind::ConditionsLost {
                let bond = due.bond.clone().unwrap_or_default();
                let seen_ms = self.lost.insert(bond, at.now_ms);
                if seen_ms.is_some_and(|seen_ms| at.now_ms - seen_ms < CALM_MS) {
                    continue;
                }
                due.began_ms = (!first).then_some(due.due_ms);
            } else if self.told.get(&due.name()) == Some(&due.began_ms) {
                continue;
            }
            if due.kind.loud() || !night {
                wanted.push(due);
            } else {
                self.held_back.insert(due.name());
            }
        }
        wanted
    }

    /// It waited for the morning, and is told now.
    pub fn held_back(&mut self, due: &Due) -> bool {
        self.held_back.remove(&due.name())
    }

    /// The book has it, or it is about to be rung: not asked again.
    pub fn told(&mut self, due: &Due) {
        self.told.insert(due.name(), due.began_ms);
    }

    /// A corrected time put some of what was told into the future: the book is asked again.
    pub fn forget(&mut self) {
        self.told.clear();
    }

    /// Rings several alarms as one: the most serious first, one sound, one notification, a record each.
    pub fn ring(&mut self, mut records: Vec<Record>, at: &At, step: &mut Step) {
        let Some(pattern) = records.iter().map(|record| record.due.kind.pattern()).max() else {
            return;
        };
        let sounded = self.voice.sound(pattern);
        if let Err(trouble) = &sounded {
            records.extend(self.cannot_sound(trouble, at, step));
        }
        for record in &mut records {
            record.sounded = sounded.is_ok();
            record.trouble = sounded.clone().err();
            if record.due.kind.loud() {
                self.ringing.insert(record.id.clone(), record.due.kind);
            }
        }
        let dues: Vec<Due> = records.iter().map(|record| record.due.clone()).collect();
        let lines = records.iter().map(line).collect();
        let ids = records.iter().map(|record| record.id.clone()).collect();
        let rung = Rung { title: say::title(&dues), lines, loud: pattern > Pattern::Low, ids };
        self.hand_over(&rung, records, at.now.boot_ms);
        self.run_command(&rung, step);
        step.rung.push(rung);
    }

    fn hand_over(&mut self, rung: &Rung, records: Vec<Record>, since_boot_ms: i64) {
        let note = Note { title: rung.title.clone(), body: rung.lines.join("\n"), loud: rung.loud };
        let taken = self.voice.notify(note);
        self.handed.push(Handed { taken, since_boot_ms, records });
    }

    fn run_command(&mut self, rung: &Rung, step: &mut Step) {
        let Some(read) = self.options.command.as_deref().and_then(command::read) else {
            return;
        };
        let run = read.and_then(|words| command::run(&words, &rung.title, &rung.lines.join("\n")));
        if let Err(trouble) = run {
            step.trouble.push(trouble);
        }
    }

    /// The fifth alarm: rung and recorded once a boot; after that only said when what stands in the way changes.
    fn cannot_sound(&mut self, trouble: &str, at: &At, step: &mut Step) -> Option<Record> {
        let said = format!("Alarms make no sound: {trouble}. Stay where you see this screen, or mend it.");
        let news = self.sound_trouble.replace(trouble.to_owned()).as_deref() != Some(trouble);
        let due = Due::plain(Kind::CannotSound, at.now.boot.clone(), at.axis.now_ms, said);
        if self.told.contains_key(&due.name()) {
            if news {
                step.trouble.push(due.said);
            }
            return None;
        }
        self.told(&due);
        Some(record(due, at))
    }

    /// What became of the notes: records whose note was taken, refused or given up, ready to be saved.
    pub fn outcomes(&mut self, boot_ms: i64, step: &mut Step) -> Vec<Record> {
        let mut ready = Vec::new();
        for mut handed in std::mem::take(&mut self.handed) {
            match outcome(&handed, boot_ms) {
                None => self.handed.push(handed),
                Some(result) => {
                    self.heard(&result, step);
                    for record in &mut handed.records {
                        record.notified = result.is_ok();
                        record.trouble = both(record.trouble.take(), result.clone().err());
                    }
                    ready.extend(handed.records);
                }
            }
        }
        ready
    }

    /// Says once that notifications do not arrive, and once that they arrive again.
    fn heard(&mut self, result: &Result<(), String>, step: &mut Step) {
        match result {
            Err(trouble) if !self.note_trouble => {
                step.trouble.push(format!("Alarms are not shown by the desktop: {trouble}. They are shown here."));
            }
            Ok(()) if self.note_trouble => step.trouble.push("The desktop shows alarms again.".to_owned()),
            _ => {}
        }
        self.note_trouble = result.is_err();
    }

    /// Asks, at the first step, whether the next alarm could be heard and shown; while one sounds, whether it does.
    pub fn watch_voice(&mut self, at: &At, step: &mut Step) {
        if !self.greeted {
            self.greeted = true;
            let taken = self.voice.note_trouble();
            self.greeting = Some(Handed { taken, since_boot_ms: at.now.boot_ms, records: Vec::new() });
            self.ask_device(at, step);
        }
        if let Some(result) = self.greeting.as_ref().and_then(|greeting| outcome(greeting, at.now.boot_ms)) {
            self.greeting = None;
            self.heard(&result, step);
        }
        if self.sounding() && at.now.boot_ms - self.asked_device_ms >= ASK_DEVICE_MS {
            self.ask_device(at, step);
        }
    }

    fn ask_device(&mut self, at: &At, step: &mut Step) {
        self.asked_device_ms = at.now.boot_ms;
        match self.voice.sound_trouble() {
            Some(trouble) => {
                if let Some(record) = self.cannot_sound(&trouble, at, step) {
                    let (lines, ids) = (vec![record.due.said.clone()], vec![record.id.clone()]);
                    let title = say::title(std::slice::from_ref(&record.due));
                    let rung = Rung { title, lines, loud: true, ids };
                    self.ringing.insert(record.id.clone(), Kind::CannotSound);
                    self.hand_over(&rung, vec![Record { trouble: Some(trouble), ..record }], at.now.boot_ms);
                    step.rung.push(rung);
                }
            }
            None if self.sound_trouble.take().is_some() => step.trouble.push("Alarms sound again.".to_owned()),
            None => {}
        }
    }

    /// Takes out what was answered and stops the sound when nothing is left.
    pub fn answered(&mut self, unanswered: &[Id], unsaved: &[Record]) -> Vec<Id> {
        let on_its_way = |id: &Id| {
            let of = |record: &Record| record.id == *id;
            unsaved.iter().any(of) || self.handed.iter().any(|handed| handed.records.iter().any(of))
        };
        let loudest = self.ringing.values().map(|kind| kind.pattern()).max();
        let answered: Vec<Id> =
            self.ringing.keys().filter(|id| !unanswered.contains(id) && !on_its_way(id)).cloned().collect();
        self.ringing.retain(|id, _| !answered.contains(id));
        let left = self.ringing.values().map(|kind| kind.pattern()).max();
        if left != loudest {
            self.voice.silence();
            if let Some(pattern) = left {
                let _ = self.voice.sound(pattern);
            }
        }
        answered
    }

    /// At the start: loud alarms on record that nobody answered sound again, without a new record.
    pub fn again(&mut self, book: &Book, unanswered: &[Id], at: &At, step: &mut Step) -> Result<(), Error> {
        let mut lines = Vec::new();
        let mut ids = Vec::new();
        for id in unanswered {
            let Some(entry) = book.entry(id)? else { continue };
            let Body::Alarm(alarm) = &entry.body else { continue };
            let kind = [Kind::Over, Kind::NearlyOver, Kind::ConditionsLost].into_iter();
            let Some(kind) = kind.into_iter().find(|kind| kind.word() == alarm.alarm) else {
                continue;
            };
            self.ringing.insert(id.clone(), kind);
            lines.push(alarm.said.clone());
            ids.push(id.clone());
        }
        let Some(pattern) = self.ringing.values().map(|kind| kind.pattern()).max() else {
            return Ok(());
        };
        // What stands in the way of the sound is asked and said in this same step.
        let _ = self.voice.sound(pattern);
        let rung = Rung { title: "Not answered yet".to_owned(), lines, loud: true, ids };
        self.hand_over(&rung, Vec::new(), at.now.boot_ms);
        step.rung.push(rung);
        Ok(())
    }

    /// The fourth alarm, once per time that saving fails: it is recorded itself as soon as saving works again.
    pub fn not_saved(&mut self, error: &str, unsaved: &[Record], at: &At, step: &mut Step) {
        if std::mem::replace(&mut self.not_saved, true) {
            return;
        }
        let first_ms = unsaved.iter().map(|record| record.noticed_ms).min().unwrap_or(at.axis.now_ms);
        let said = format!(
            "Not saved: {} given, and {error}. Make room or mend the disk; it is saved as soon as that works.",
            if unsaved.len() == 1 { "an alarm was".to_owned() } else { format!("{} alarms were", unsaved.len()) }
        );
        let due = Due::plain(Kind::NotSaved, format!("at {first_ms}"), at.axis.now_ms, said);
        self.ring(vec![record(due, at)], at, step);
    }

    /// Saving worked.
    pub fn saved(&mut self) {
        self.not_saved = false;
    }
}

fn record(due: Due, at: &At) -> Record {
    let id = record::id(at.log, &due.name());
    let noticed_ms = at.axis.now_ms;
    Record { id, due, noticed_ms, late: None, notified: false, sounded: false, trouble: None }
}

fn line(record: &Record) -> String {
    match &record.late {
        Some(why) => format!("{} {}", record.due.said, say::late(record.due.due_ms, record.noticed_ms, why)),
        None => record.due.said.clone(),
    }
}

fn outcome(handed: &Handed, boot_ms: i64) -> Option<Result<(), String>> {
    voice::known(&handed.taken).or_else(|| {
        (boot_ms - handed.since_boot_ms > NOTE_DEADLINE_MS)
            .then(|| Err("the notification service does not answer".to_owned()))
    })
}

fn both(one: Option<String>, other: Option<String>) -> Option<String> {
    match (one, other) {
        (Some(one), Some(other)) => Some(format!("{one}; {other}")),
        (one, other) => one.or(other),
    }
}
