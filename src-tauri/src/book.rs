//! Where the books, the settings and the pages lie on this computer, and how the book in use stands.

use serde_json::json;
use std::io::Write;
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt};
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
        let said = format!("The book {named} is not there: it was moved, or its disk is not plugged in.");
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

/// Makes a folder for its owner's eyes, with those above it.
pub fn make_folder(folder: &Path) -> Result<(), WireError> {
    let made = std::fs::DirBuilder::new().recursive(true).mode(0o700).create(folder);
    made.map_err(|why| {
        let sentence = format!("The folder {} cannot be made: {why}.", folder.display());
        WireError::new("disk", sentence, "Name a place that can be written.")
    })
}

/// Makes an empty book where no file is, and its folder.
pub fn begin(path: &Path) -> Result<(), WireError> {
    if path.exists() {
        let sentence = format!("There is a file {} already.", path.display());
        return Err(WireError::new("duplicate", sentence, "Open it, or name another.").field("path"));
    }
    make_folder(path.parent().unwrap_or(Path::new("/")))?;
    workshop::begin(path)
}

/// Refuses a file that is no book. One that is damaged, newer or held by somebody is opened, and says so.
pub fn is_book(path: &Path) -> Result<(), WireError> {
    match crate::host::doors(path).ask(None, None, json!({ "ask": "head", "body": {} })) {
        Err(error) if error.code == "not-a-book" => Err(error.field("path")),
        _ => Ok(()),
    }
}

/// Whether the book in use says of itself that its data is invented.
pub fn made_up(host: &crate::host::Host) -> bool {
    let first = host.ask(json!({ "ask": "entry", "body": { "seq": 0 } }), None, None);
    first.is_ok_and(|first| first["entry"]["body"]["made_up"] == true)
}

/// Name of a page's file: the part's mark as far as every file system takes it, and the instant.
pub fn page_name(part: &str, now_ms: i64) -> String {
    let plain = |letter: char| if letter.is_alphanumeric() || "-_".contains(letter) { letter } else { '_' };
    let mark: String = part.chars().take(60).map(plain).collect();
    format!("{mark} {}.pdf", workshop::judge::words::instant(now_ms).replace(':', ""))
}

/// Writes a file that is not there yet.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), WireError> {
    let mut options = std::fs::OpenOptions::new();
    let file = options.write(true).create_new(true).mode(0o600).open(path);
    file.and_then(|mut file| file.write_all(bytes).and_then(|()| file.sync_all())).map_err(|why| {
        let sentence = format!("{} cannot be written: {why}.", path.display());
        WireError::new("disk", sentence, "Name a file that is not there yet, in a folder that can be written.")
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_name_of_a_page_stays_in_its_folder() {
        let name = super::page_name("../R3\u{202E}/L", 0);
        assert_eq!(name, "___R3__L 1970-01-01T000000.000Z.pdf");
    }
}
