//! Lives the scenario: moves a fixed clock from step to step and tells each through the workshop's own door. Acts
//! carry no key of their own, so keys come from the seeded ids too.

use super::calendar::{Calendar, MINUTE, ZONE_MIN, stamp, written};
use super::seed::Seed;
use super::step::{File, Step};
use super::watcher::Watcher;
use super::weather;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use workshop::Workshop;
use workshop::clock::{Clock, FixedClock};
use workshop::wire::{Receipt, WireError};

/// The made-up machine's boot: it ran, sleeping at night, for the whole fortnight.
const BOOT: &str = "00000000-0000-4000-8000-6d6164652d75";

/// The made-up computer goes to sleep when nobody has touched it for so long, ms.
const ASLEEP_MS: i64 = 30 * MINUTE;

/// A book being lived.
pub struct Driver {
    calendar: Calendar,
    clock: FixedClock,
    workshop: Workshop,
    kept: BTreeMap<String, String>,
    folder: PathBuf,
    book: PathBuf,
    watcher: Option<Watcher>,
}

impl Driver {
    /// A driver of a book that does not exist yet, in a folder of its own.
    pub fn new(folder: &Path, book: &Path, calendar: Calendar) -> Driver {
        let clock = FixedClock::at(calendar.begin_ms());
        clock.set(|now| {
            now.zone_min = ZONE_MIN;
            now.boot = BOOT.to_owned();
            now.synchronised = true;
            now.machine = String::new();
        });
        let mut ids = Seed::new(calendar.until_ms);
        let workshop = Workshop::new(book, Box::new(clock.clone()), Box::new(move || ids.id())).made_up();
        Driver {
            calendar,
            clock,
            workshop,
            kept: BTreeMap::new(),
            folder: folder.to_owned(),
            book: book.to_owned(),
            watcher: None,
        }
    }

    /// Lives every step in turn, and looks at the alarms at the given instants; the clock then stands at T.
    pub fn live(&mut self, steps: &[Step], looks: &[i64]) -> Result<Option<Receipt>, WireError> {
        let mut looks = looks.iter().copied().peekable();
        let mut last = None;
        for step in steps {
            while let Some(at_ms) = looks.next_if(|at_ms| *at_ms < step.at_ms) {
                self.look(at_ms)?;
            }
            last = Some(self.tell(step).map_err(|error| told(step, error))?);
        }
        self.pass_until(self.calendar.until_ms);
        Ok(last)
    }

    fn look(&mut self, at_ms: i64) -> Result<(), WireError> {
        self.pass_until(at_ms);
        let watcher = match self.watcher.take() {
            Some(watcher) => watcher,
            None => Watcher::new(&self.book, &self.clock)?,
        };
        self.watcher.insert(watcher).look()
    }

    fn tell(&mut self, step: &Step) -> Result<Receipt, WireError> {
        self.pass_until(step.at_ms);
        let mut body = self.filled(&step.body)?;
        if let (Some(file), Some(fields)) = (&step.file, body.as_object_mut()) {
            fields.insert("path".into(), self.write(file)?.into());
        }
        let mut act = json!({ "act": step.act, "body": body });
        put(&mut act, "person", step.person.map(str::to_owned));
        put(&mut act, "happened", step.happened_ms.map(written));
        put(&mut act, "why", step.why.map(str::to_owned));
        let receipt = self.workshop.act(act)?;
        self.keep(step, &receipt);
        Ok(receipt)
    }

    /// Time passes. Over longer pauses the computer sleeps.
    fn pass_until(&self, at_ms: i64) {
        let passed = (at_ms - self.clock.now().wall_ms).max(0);
        if passed < ASLEEP_MS { self.clock.advance(passed) } else { self.clock.sleep(passed) }
    }

    fn keep(&mut self, step: &Step, receipt: &Receipt) {
        let Some((name, kind)) = &step.keep else { return };
        if let Some(made) = receipt.entries.iter().find(|made| made.kind == *kind) {
            self.kept.insert(name.clone(), made.id.clone());
        }
    }

    /// The body with every `$name` replaced by the id kept under that name.
    fn filled(&self, body: &Value) -> Result<Value, WireError> {
        Ok(match body {
            Value::String(text) => match text.strip_prefix('$') {
                Some(name) => Value::String(self.id_of(name)?),
                None => body.clone(),
            },
            Value::Array(items) => Value::Array(items.iter().map(|item| self.filled(item)).collect::<Result<_, _>>()?),
            Value::Object(fields) => {
                let filled = fields.iter().map(|(field, value)| Ok((field.clone(), self.filled(value)?)));
                Value::Object(filled.collect::<Result<_, WireError>>()?)
            }
            other => other.clone(),
        })
    }

    fn id_of(&self, name: &str) -> Result<String, WireError> {
        let missing = || WireError::new("fault", format!("The made-up story names \"{name}\" before it exists."), "");
        self.kept.get(name).cloned().ok_or_else(missing)
    }

    /// Writes a logger's file beside the book being made. Only its name and its digest enter the record.
    fn write(&self, file: &File) -> Result<String, WireError> {
        let path = self.folder.join(format!("{} {}.csv", file.spot.name(), stamp(file.to_ms)));
        let text = weather::csv(self.calendar, file.spot, file.from_ms, file.to_ms);
        std::fs::write(&path, text).map_err(|why| super::disk(&path, &why))?;
        Ok(path.display().to_string())
    }
}

fn put(act: &mut Value, field: &str, value: Option<String>) {
    if let (Some(fields), Some(value)) = (act.as_object_mut(), value) {
        fields.insert(field.to_owned(), value.into());
    }
}

/// A refusal inside the made-up story is our own mistake; it says at which step.
fn told(step: &Step, error: WireError) -> WireError {
    let sentence =
        format!("The made-up story stops at {} ({} {}): {}", written(step.at_ms), step.act, step.body, error.sentence);
    WireError { code: if error.exit() == 2 { "fault" } else { error.code }, sentence, ..error }
}
