//! Where the books, the settings and the pages lie on this computer, and how the book in use stands.

use serde_json::json;
use std::path::{Path, PathBuf};
use workshop::wire::WireError;

/// The folders of this person, by the base-directory convention; a relative value counts as none.
#[derive(Clone, Debug)]
pub struct Folders {
    config: PathBuf,
    data: PathBuf,
    documents: PathBuf,
}

fn variable(name: &str) -> Option<PathBuf> {
    std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute())
}

impl Folders {
    /// As the environment says.
    pub fn of_this_person() -> Folders {
        let home = variable("HOME").unwrap_or_else(std::env::temp_dir);
        let config = variable("XDG_CONFIG_HOME").unwrap_or_else(|| home.join(".config"));
        let data = variable("XDG_DATA_HOME").unwrap_or_else(|| home.join(".local/share"));
        let documents = documents(&config, &home).unwrap_or_else(|| home.join("Documents"));
        Folders { config, data, documents }
    }

    /// Folder of everything that is set on this computer.
    pub fn own(&self) -> PathBuf {
        self.config.join("gluewright")
    }

    /// File of the settings.
    pub fn settings(&self) -> PathBuf {
        self.own().join("window.json")
    }

    /// Folder of programs that start with the session.
    pub fn autostart(&self) -> PathBuf {
        self.config.join("autostart")
    }

    /// The usual book.
    pub fn suggested(&self) -> PathBuf {
        self.data.join("gluewright/shop.book")
    }

    /// Folder of made-up shops.
    pub fn made_up(&self) -> PathBuf {
        self.data.join("gluewright/made-up")
    }

    /// Folder of pages.
    pub fn pages(&self) -> PathBuf {
        self.documents.join("Gluewright")
    }
}

/// The documents folder as `user-dirs.dirs` names it: `XDG_DOCUMENTS_DIR="$HOME/Papers"`.
fn documents(config: &Path, home: &Path) -> Option<PathBuf> {
    let named = std::env::var("XDG_DOCUMENTS_DIR").ok().or_else(|| {
        let text = std::fs::read_to_string(config.join("user-dirs.dirs")).ok()?;
        let line = text.lines().find_map(|line| line.trim().strip_prefix("XDG_DOCUMENTS_DIR="))?;
        Some(line.trim_matches('"').to_owned())
    })?;
    let path = match named.strip_prefix("$HOME") {
        Some(rest) => home.join(rest.trim_start_matches('/')),
        None => PathBuf::from(named),
    };
    path.is_absolute().then_some(path)
}

/// `$GLUEWRIGHT_BOOK`.
pub fn of_the_environment() -> Option<PathBuf> {
    let value = std::env::var_os("GLUEWRIGHT_BOOK").filter(|value| !value.is_empty())?;
    std::path::absolute(value).ok()
}

/// Strict RFC 3339 to milliseconds since 1970.
pub fn instant(field: &str, text: Option<&str>) -> Result<Option<i64>, WireError> {
    let Some(text) = text else { return Ok(None) };
    match chrono::DateTime::parse_from_rfc3339(text) {
        Ok(instant) => Ok(Some(instant.timestamp_millis())),
        Err(why) => {
            let error = WireError::new("out-of-range", format!("{field} is not an instant: {why}."), "");
            Err(error.field(field).value(text).range("RFC 3339, such as 2026-11-25T09:10:00Z"))
        }
    }
}

/// How a book stands: a word and, where it is not simply open, a sentence.
pub fn standing(host: &crate::host::Host, path: Option<&Path>) -> (&'static str, Option<String>) {
    let Some(path) = path else { return ("none", None) };
    let named = path.display();
    if !path.exists() {
        let said = format!("The book {named} is not there. Was it moved, or is its disk not plugged in?");
        return ("missing", Some(said));
    }
    match host.ask(json!({ "ask": "head", "body": {} }), None, None) {
        Err(error) => {
            let word = match error.code {
                "newer" => "newer",
                "locked" => "locked",
                _ => "damaged",
            };
            (word, Some(format!("{} {}", error.sentence, error.advice)))
        }
        Ok(_) if !writable(path) => {
            let said =
                format!("The book {named} or its folder is read-only: it can be looked at, and nothing is saved.");
            ("read-only", Some(said))
        }
        Ok(_) => ("open", host.act_trouble().map(|error| format!("{} {}", error.sentence, error.advice))),
    }
}

/// Whether this person may write the book and its folder.
fn writable(path: &Path) -> bool {
    let folder = path.parent().unwrap_or(Path::new("/"));
    let marked = |at: &Path| std::fs::metadata(at).is_ok_and(|about| about.permissions().readonly());
    let may = |at: &Path| rustix::fs::access(at, rustix::fs::Access::WRITE_OK).is_ok();
    [path, folder].into_iter().all(|at| may(at) && !marked(at))
}
