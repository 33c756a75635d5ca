//! Books for the screens: states that a shop can be in, made through the same doors as everything else.

use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;
use tests::binary;

/// Path of the book in a home.
pub fn book(home: &Path) -> PathBuf {
    home.join("shop.book")
}

/// The command line on that book.
pub fn gluewright(home: &Path, words: &[&str]) -> Value {
    let mut command = Command::new(binary::gluewright());
    command.env_clear().env("PATH", std::env::var_os("PATH").unwrap_or_default()).env("HOME", home).env("TZ", "UTC");
    let output = command.arg("--book").arg(book(home)).args(words).stdin(Stdio::null()).output();
    let output = output.expect("gluewright starts");
    assert!(output.status.success(), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).expect("text");
    text.lines().last().and_then(|line| serde_json::from_str(line).ok()).unwrap_or(Value::Null)
}

/// Acts that must succeed.
pub fn act(home: &Path, acts: &Value) {
    gluewright(home, &["--json", "act", &acts.to_string()]);
}

/// Window arguments for a book that lies in this home.
pub fn with_book(home: &Path) -> Vec<String> {
    vec!["--book".to_owned(), book(home).to_string_lossy().into_owned()]
}

/// A made-up shop that is live now: pots, clamps, a cold bond, something held, an alarm. Written once in a run; every
/// window gets a copy.
pub fn busy(home: &Path) -> Vec<String> {
    static WRITTEN: OnceLock<tempfile::TempDir> = OnceLock::new();
    let written = WRITTEN.get_or_init(|| {
        let folder = tempfile::tempdir().expect("a folder for the made-up shop");
        gluewright(folder.path(), &["demo", &book(folder.path()).to_string_lossy()]);
        folder
    });
    let from = book(written.path());
    let side = |end: &str| PathBuf::from(format!("{}{end}", from.display()));
    assert!(!side("-wal").exists(), "the whole book lies in one file");
    std::fs::copy(&from, book(home)).expect("a copy of the made-up shop");
    with_book(home)
}

/// A book in which only a person and a place are named.
pub fn empty(home: &Path) -> Vec<String> {
    act(
        home,
        &json!([{ "act": "person", "body": { "name": "ann" } }, { "act": "place", "body": { "name": "bench" } }]),
    );
    with_book(home)
}
