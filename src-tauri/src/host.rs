//! What the window holds between two calls: the book in use with its doors, the settings, who is told.

use crate::ahead::Ahead;
use crate::book;
use crate::guard::Seen;
use crate::jobs::Jobs;
use crate::long::Long;
use crate::settings::{self, Kept, Settings};
use crate::tell::Tell;
use crate::voice::SoundTrouble;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};
use tauri::ipc::Channel;
use workshop::Workshop;
use workshop::alarm::voice::Desktop;
use workshop::clock::{Clock, SystemClock};
use workshop::reader::Reader;
use workshop::wire::WireError;

/// Doors for asking kept ready; each holds what it read last.
const ASKERS: usize = 2;

/// The host of the page.
pub struct Host {
    /// Where things lie on this computer.
    pub folders: book::Folders,
    /// Who is told.
    pub tell: Tell,
    /// What the alarms last showed.
    pub seen: Mutex<Seen>,
    /// What stands in the way of sound.
    pub sound: SoundTrouble,
    /// What became of keeping the screen awake, in a sentence; empty: it was not asked for.
    pub awake: Mutex<String>,
    /// A sound asked for to hear whether it works; kept, for it ends with this.
    pub tester: Mutex<Option<Desktop>>,
    /// What the next page will ask first.
    pub ahead: Ahead,
    /// Pages under way.
    pub jobs: Jobs,
    /// Long questions under way.
    pub long: Long,
    /// A loud alarm was given: the window comes to the front.
    pub raise: AtomicBool,
    /// A person is asked whether to close.
    pub asking: AtomicBool,
    kept: Mutex<Kept>,
    notices: Mutex<Vec<String>>,
    shop: Mutex<Shop>,
    askers: Mutex<Vec<(PathBuf, Workshop)>>,
    changed: Mutex<Vec<Value>>,
    broke: Mutex<Vec<i64>>,
    turn: AtomicU64,
    tray: AtomicBool,
    ending: AtomicBool,
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
            seen: Mutex::default(),
            sound: SoundTrouble::default(),
            awake: Mutex::default(),
            tester: Mutex::default(),
            ahead: Ahead::default(),
            jobs: Jobs::default(),
            long: Long::default(),
            raise: AtomicBool::default(),
            asking: AtomicBool::default(),
            kept: Mutex::new(kept),
            notices: Mutex::new(settings_trouble.into_iter().collect()),
            shop: Mutex::default(),
            askers: Mutex::default(),
            changed: Mutex::default(),
            broke: Mutex::default(),
            turn: AtomicU64::default(),
            tray: AtomicBool::default(),
            ending: AtomicBool::default(),
        }
    }

    /// Counts up whenever the alarms must begin anew: another book, other settings of theirs.
    pub fn turn(&self) -> u64 {
        self.turn.load(Ordering::Relaxed)
    }

    /// The process is about to end; the threads end first.
    pub fn ending(&self) -> bool {
        self.ending.load(Ordering::Relaxed)
    }

    /// Has every thread end.
    pub fn end(&self) {
        self.ending.store(true, Ordering::Relaxed);
        self.jobs.end();
    }

    /// A tray icon leads back to a closed window.
    pub fn tray(&self) -> bool {
        self.tray.load(Ordering::Relaxed)
    }

    /// Notes whether there is a tray icon.
    pub fn set_tray(&self, there: bool) {
        self.tray.store(there, Ordering::Relaxed);
    }

    /// Something that happened without anybody's doing, to be read once.
    pub fn notice(&self, sentence: String) {
        locked(&self.notices).push(sentence);
    }

    /// What is to be read, until the next act.
    pub fn noticed(&self) -> Vec<String> {
        locked(&self.notices).clone()
    }

    /// The page broke now; gives how often it did within the last `within_ms`.
    pub fn broke(&self, now_ms: i64, within_ms: i64) -> usize {
        let mut broke = locked(&self.broke);
        broke.retain(|at_ms| now_ms - at_ms < within_ms);
        broke.push(now_ms);
        broke.len()
    }

    /// What acts made here changed since this was asked last.
    pub fn changed(&self) -> Vec<Value> {
        std::mem::take(&mut locked(&self.changed))
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
        self.turn.fetch_add(1, Ordering::Relaxed);
        Ok(())
    }

    /// Changes settings; the alarms begin anew where theirs are among them.
    pub fn set(&self, change: &serde_json::Map<String, Value>) -> Result<(), WireError> {
        let before = self.settings();
        self.keep(|kept| {
            kept.settings = kept.settings.with(change)?;
            Ok(())
        })?;
        let now = self.settings();
        if now.night != before.night || now.reader() != before.reader() {
            self.turn.fetch_add(1, Ordering::Relaxed);
        }
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
        if !path.exists() {
            // The first act on a free path would make a book there, and this one is only lost.
            let sentence = format!("The book {} is not there: nothing was saved.", path.display());
            return Err(WireError::new("not-a-book", sentence, "Bring it back, or open another."));
        }
        let mut shop = locked(&self.shop);
        if shop.doors.as_ref().is_none_or(|(of, _)| *of != path) {
            shop.doors = Some((path.clone(), doors(&path)));
        }
        let Some((_, doors)) = &mut shop.doors else { return Err(no_book()) };
        doors.read_in(self.settings().reader());
        let done = doors.act(value);
        shop.trouble = done.as_ref().err().filter(|error| error.exit() == 4).cloned();
        let done = done?;
        locked(&self.notices).clear();
        locked(&self.changed).extend(done.changed.iter().map(|name| json!(name)));
        serde_json::to_value(done).map_err(|why| {
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
        self.ask_telling(question, at, known_at, None)
    }

    /// The same; `tell` is told how far a long one is.
    pub fn ask_telling(
        &self,
        question: Value,
        at: Option<&str>,
        known_at: Option<&str>,
        tell: Option<Channel<Value>>,
    ) -> Result<Value, WireError> {
        let path = self.book().ok_or_else(no_book)?;
        let reader = self.settings().reader();
        let (at_ms, known_ms) = (book::instant("at", at)?, book::instant("known_at", known_at)?);
        let asker = locked(&self.askers).pop().filter(|(of, _)| *of == path);
        let (_, mut doors) = asker.unwrap_or_else(|| (path.clone(), doors(&path)));
        doors.read_in(reader);
        let answer = if question["ask"] == "page" {
            page(&doors, &question, reader)
        } else if let Some(tell) = tell {
            let way = self.long.begin(tell);
            doors.ask_telling(at_ms, known_ms, question, &mut |done, said| way.come(done, said))
        } else {
            doors.ask(at_ms, known_ms, question)
        };
        let mut askers = locked(&self.askers);
        if askers.len() < ASKERS {
            askers.push((path, doors));
        }
        answer
    }
}

/// The doors of a book that need not exist.
pub fn doors(path: &Path) -> Workshop {
    Workshop::new(path, Box::new(SystemClock::new()), Box::new(|| uuid::Uuid::new_v4().to_string()))
}

fn no_book() -> WireError {
    WireError::new("not-found", "No book is open.", "Open one, begin one, or look around the made-up shop.")
}

/// The page of a part as it would be handed out today; nothing says that it was.
fn page(doors: &Workshop, question: &Value, reader: Reader) -> Result<Value, WireError> {
    let trace = doors.ask(None, None, json!({ "ask": "trace", "body": question["body"] }))?;
    let asked = report::questions(&trace).into_iter().map(|asked| doors.ask(None, None, asked));
    let zone_min = SystemClock::new().now().zone_min;
    let beside = report::Beside { answers: asked.collect::<Result<_, _>>()?, zone_min, reader };
    Ok(report::part_page(&trace, &Value::Null, &beside))
}
