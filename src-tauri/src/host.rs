//! What the window holds between two calls: the book in use with its doors, the settings, who is told.

use crate::book;
use crate::settings::{self, Kept, Settings};
use crate::tell::Tell;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use workshop::Workshop;
use workshop::clock::{Clock, SystemClock};
use workshop::wire::WireError;

/// Doors for asking kept ready; each holds what it read last.
const ASKERS: usize = 4;

/// The host of the page.
pub struct Host {
    /// Where things lie on this computer.
    pub folders: book::Folders,
    /// Who is told.
    pub tell: Tell,
    kept: Mutex<Kept>,
    /// The settings could not be read: what to say of it.
    pub settings_trouble: Option<String>,
    shop: Mutex<Shop>,
    askers: Mutex<Vec<(PathBuf, Workshop)>>,
}

/// The door for acts: one at a time.
#[derive(Default)]
struct Shop {
    doors: Option<(PathBuf, Workshop)>,
    /// What the last act said of the book, if it could not be kept.
    trouble: Option<WireError>,
}

/// A lock that outlives a panic: what it guards is replaced whole.
pub fn locked<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Host {
    /// The book named on the command line, else the one used last, else `$GLUEWRIGHT_BOOK`, else none.
    pub fn new(asked: Option<PathBuf>) -> Host {
        let folders = book::Folders::of_this_person();
        let (mut kept, settings_trouble) = settings::read(&folders.settings());
        kept.book = asked.or(kept.book).or_else(book::of_the_environment);
        Host {
            folders,
            tell: Tell::default(),
            kept: Mutex::new(kept),
            settings_trouble,
            shop: Mutex::default(),
            askers: Mutex::default(),
        }
    }

    /// The book in use.
    pub fn book(&self) -> Option<PathBuf> {
        locked(&self.kept).book.clone()
    }

    /// The settings.
    pub fn settings(&self) -> Settings {
        locked(&self.kept).settings.clone()
    }

    /// Uses another book from now on and remembers it.
    pub fn use_book(&self, path: &Path) -> Result<(), WireError> {
        self.keep(|kept| {
            kept.book = Some(path.to_owned());
            Ok(())
        })?;
        *locked(&self.shop) = Shop::default();
        Ok(())
    }

    /// Changes what is kept on this computer, on disk first.
    pub fn keep(&self, change: impl FnOnce(&mut Kept) -> Result<(), WireError>) -> Result<(), WireError> {
        let mut now = locked(&self.kept);
        let mut next = now.clone();
        change(&mut next)?;
        settings::write(&self.folders.settings(), &next).map_err(|why| {
            let sentence = format!("The settings of this computer cannot be written: {why}.");
            WireError::new("disk", sentence, "They stay as they were.")
        })?;
        *now = next;
        Ok(())
    }

    /// One act on the book in use; acts wait for each other.
    pub fn act(&self, value: Value) -> Result<Value, WireError> {
        let path = self.book().ok_or_else(no_book)?;
        let mut shop = locked(&self.shop);
        if shop.doors.as_ref().is_none_or(|(of, _)| *of != path) {
            shop.doors = Some((path.clone(), doors(&path)));
        }
        let Some((_, doors)) = &mut shop.doors else { return Err(no_book()) };
        let done = doors.act(value);
        shop.trouble = done.as_ref().err().filter(|error| error.exit() == 4).cloned();
        serde_json::to_value(done?).map_err(|why| {
            // The act is done; only its receipt is lost, and the same key gives it again.
            WireError::new("fault", format!("The receipt cannot be written: {why}."), "Act again with the same key.")
        })
    }

    /// What the last act said, if the book could not take it.
    pub fn act_trouble(&self) -> Option<WireError> {
        locked(&self.shop).trouble.clone()
    }

    /// One question to the book in use; several may be asked at once.
    pub fn ask(&self, question: Value, at: Option<&str>, known_at: Option<&str>) -> Result<Value, WireError> {
        let path = self.book().ok_or_else(no_book)?;
        let (at_ms, known_ms) = (book::instant("at", at)?, book::instant("known_at", known_at)?);
        let asker = locked(&self.askers).pop().filter(|(of, _)| *of == path);
        let (_, doors) = asker.unwrap_or_else(|| (path.clone(), doors(&path)));
        let answer =
            if question["ask"] == "page" { page(&doors, &question) } else { doors.ask(at_ms, known_ms, question) };
        let mut askers = locked(&self.askers);
        if askers.len() < ASKERS {
            askers.push((path, doors));
        }
        answer
    }
}

fn doors(path: &Path) -> Workshop {
    Workshop::new(path, Box::new(SystemClock::new()), Box::new(|| uuid::Uuid::new_v4().to_string()))
}

fn no_book() -> WireError {
    WireError::new("not-found", "No book is open.", "Open one, begin one, or look around the made-up shop.")
}

/// The page of a part as it would be handed out today; nothing says that it was.
fn page(doors: &Workshop, question: &Value) -> Result<Value, WireError> {
    let trace = doors.ask(None, None, json!({ "ask": "trace", "body": question["body"] }))?;
    let asked = report::questions(&trace).into_iter().map(|asked| doors.ask(None, None, asked));
    let beside = report::Beside { answers: asked.collect::<Result<_, _>>()?, zone_min: SystemClock::new().now().zone_min };
    Ok(report::part_page(&trace, &Value::Null, &beside))
}
