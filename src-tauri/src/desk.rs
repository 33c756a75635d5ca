//! What the page asks of this computer, and has done on it: everything that says `"desk"`.

use crate::host::{Host, locked};
use crate::jobs::Jobs;
use crate::settings::Paper;
use crate::{autostart, book, leave};
use serde::Deserialize;
use serde_json::{Map, Value, json};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;
use tauri::AppHandle;
use tauri::ipc::Channel;
use workshop::alarm::voice::{Desktop, Pattern, Voice};
use workshop::clock::{Clock, SystemClock};
use workshop::wire::WireError;

/// What can be asked.
#[derive(Debug, Deserialize)]
#[serde(tag = "desk", rename_all = "kebab-case", deny_unknown_fields)]
enum Question {
    State {},
    Follow {},
}

/// What can be done.
#[derive(Debug, Deserialize)]
#[serde(tag = "desk", rename_all = "kebab-case", deny_unknown_fields)]
enum Act {
    Open { path: PathBuf },
    Start { path: PathBuf },
    LookAround {},
    Settings { settings: Map<String, Value> },
    SoundTest {},
    Page { part: String, paper: Option<Paper> },
    Cancel { job: String },
    Show { file: PathBuf },
    CheckpointFile { path: PathBuf },
    Quit {},
}

fn read<T: for<'a> Deserialize<'a>>(value: Value) -> Result<T, WireError> {
    serde_json::from_value(value).map_err(|why| {
        let sentence = format!("The desk does not understand this: {why}.");
        WireError::new("unknown-field", sentence, "Nothing was done.").field("desk")
    })
}

/// Answers.
pub fn ask(host: &Host, question: Value, tell: Option<Channel<Value>>) -> Result<Value, WireError> {
    match (read(question)?, tell) {
        (Question::State {}, _) => Ok(state(host)),
        (Question::Follow {}, Some(tell)) => {
            host.tell.follow(tell);
            Ok(Value::Null)
        }
        (Question::Follow {}, None) => {
            Err(WireError::new("missing", "To follow, a channel is needed.", "").field("tell"))
        }
    }
}

/// Does it.
pub fn act(app: &AppHandle, host: &Arc<Host>, value: Value) -> Result<Value, WireError> {
    match read(value)? {
        Act::Open { path } => open(host, &path),
        Act::Start { path } => start(host, &path),
        Act::LookAround {} => look_around(host),
        Act::Settings { settings } => set(host, &settings),
        Act::SoundTest {} => Ok(sound_test(host)),
        Act::Page { part, paper } => page(host, &part, paper),
        Act::Cancel { job } if host.long.stop(&job) => Ok(Value::Null),
        Act::Cancel { job } => host.jobs.cancel(&job),
        Act::Show { file } => show(host, &file),
        Act::CheckpointFile { path } => checkpoint_file(host, &path),
        Act::Quit {} => {
            leave::quit(app);
            Ok(Value::Null)
        }
    }
}

fn told_state(host: &Host) -> Result<Value, WireError> {
    host.tell.tell(json!({ "tell": "state" }));
    Ok(Value::Null)
}

/// A path as the page may name one: whole, and not of a sort that hides where it leads.
fn plain(path: &Path) -> Result<&Path, WireError> {
    let whole = path.is_absolute() && !path.components().any(|part| part == std::path::Component::ParentDir);
    if whole && !path.to_string_lossy().contains(|letter: char| letter.is_control()) {
        return Ok(path);
    }
    let error = WireError::new("out-of-range", "The path is not a whole path from the root.", "Write all of it.");
    Err(error.field("path").value(&path.to_string_lossy()).range("/…/name.book"))
}

fn open(host: &Host, path: &Path) -> Result<Value, WireError> {
    if !plain(path)?.is_file() {
        let error = WireError::new("not-found", format!("There is no file {}.", path.display()), "Check the path.");
        return Err(error.field("path"));
    }
    book::is_book(path)?;
    host.use_book(path)?;
    told_state(host)
}

/// A new, empty book, where no file is.
fn start(host: &Host, path: &Path) -> Result<Value, WireError> {
    book::begin(plain(path)?)?;
    host.use_book(path)?;
    told_state(host)
}

fn look_around(host: &Arc<Host>) -> Result<Value, WireError> {
    let folder = host.folders.made_up();
    book::make_folder(&folder)?;
    let file = folder.join(format!("shop-{}.book", SystemClock::new().now().wall_ms));
    let words = ["--json", "demo", &file.to_string_lossy()].map(str::to_owned);
    Jobs::start(host, &words, file, |host, file| {
        if let Err(error) = host.use_book(file) {
            host.notice(error.sentence);
        }
        host.tell.tell(json!({ "tell": "state" }));
    })
}

fn set(host: &Host, settings: &Map<String, Value>) -> Result<Value, WireError> {
    let wanted = host.settings().with(settings)?;
    if wanted.autostart != host.settings().autostart {
        autostart::set(&host.folders, wanted.autostart).map_err(|why| {
            WireError::new("disk", format!("Starting with the session cannot be set: {why}."), "It stays as it was.")
        })?;
    }
    host.set(settings)?;
    told_state(host)
}

fn sound_test(host: &Host) -> Value {
    let mut voice = Desktop::new(true);
    let done = voice.sound(Pattern::Low);
    *locked(&host.tester) = Some(voice);
    locked(&host.sound).clone_from(&done.as_ref().err().cloned());
    host.tell.tell(json!({ "tell": "state" }));
    sound(done.err())
}

fn sound(trouble: Option<String>) -> Value {
    match trouble {
        None => {
            json!({ "works": true, "said": "The sound device takes what it is given. Whether you hear it, only you know." })
        }
        Some(why) => json!({ "works": false, "said": format!("Alarms make no sound: {why}.") }),
    }
}

fn page(host: &Arc<Host>, part: &str, paper: Option<Paper>) -> Result<Value, WireError> {
    let Some(book) = host.book() else { return Err(WireError::new("not-found", "No book is open.", "Open one.")) };
    let folder = host.folders.pages();
    book::make_folder(&folder)?;
    let paper = json!(paper.unwrap_or(host.settings().paper));
    let file = folder.join(book::page_name(part, SystemClock::new().now().wall_ms));
    let (book, out) = (book.to_string_lossy(), file.to_string_lossy());
    let paper = paper.as_str().unwrap_or("a4");
    let words = ["--json", "--book", &book, "record", "--out", &out, "--paper", paper, "--progress", "--", part];
    Jobs::start(host, &words.map(str::to_owned), file, |_, _| {})
}

/// Opens a page with the system's viewer: only what lies in the folder of pages.
fn show(host: &Host, file: &Path) -> Result<Value, WireError> {
    let inside = std::fs::canonicalize(host.folders.pages()).ok();
    let file = std::fs::canonicalize(file).ok().filter(|file| inside.is_some_and(|inside| file.starts_with(inside)));
    let Some(file) = file else {
        return Err(WireError::new("not-found", "There is no such page in the folder of pages.", "").field("file"));
    };
    let viewer =
        Command::new("xdg-open").arg(&file).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
    let mut viewer = viewer.map_err(|why| {
        let sentence = format!("No viewer can be started here ({why}).");
        WireError::new("fault", sentence, format!("The page lies at {}.", file.display()))
    })?;
    std::thread::spawn(move || viewer.wait());
    Ok(Value::Null)
}

/// Writes the checkpoint's three lines into a new file.
fn checkpoint_file(host: &Host, path: &Path) -> Result<Value, WireError> {
    let answer = host.ask(json!({ "ask": "checkpoint", "body": {} }), None, None)?;
    let line = |field: &str| answer[field].as_str().map_or_else(|| answer[field].to_string(), str::to_owned);
    let text = format!("{}\n{}\n{}\n", line("log"), line("size"), line("root"));
    book::write_new(plain(path)?, text.as_bytes())?;
    Ok(json!({ "file": path }))
}

pub fn state(host: &Host) -> Value {
    let path = host.book();
    let (standing, sentence) = book::standing(host, path.as_deref());
    let seen = locked(&host.seen).clone();
    let notices = host.noticed();
    json!({
        "book": path,
        "standing": standing,
        "sentence": sentence.or_else(|| (!notices.is_empty()).then(|| notices.join(" "))),
        "made_up": book::made_up(host),
        "settings": host.settings(),
        "sound": sound(locked(&host.sound).clone()),
        "alarms": { "here": seen.here, "said": seen.said, "running": seen.running },
        "awake": *locked(&host.awake),
        "unsaved": seen.unsaved.len(),
        "tray": host.tray(),
        "suggested": host.folders.suggested(),
        "version": env!("CARGO_PKG_VERSION"),
        "pages": host.folders.pages(),
    })
}
