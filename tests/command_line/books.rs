//! Books that cannot be used: every one gets a sentence, exit status 4, and is left as it is.

use super::shape::refused;
use super::shop::{stores, with_a_bond};
use rusqlite::Connection;
use serde_json::json;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::Stdio;
use tests::binary::{Done, Shop, gluewright};

const ACT: &str = r#"{"act":"place","body":{"name":"loft"}}"#;

fn mode(path: &Path) -> u32 {
    std::fs::metadata(path).unwrap().permissions().mode() & 0o777
}

#[test]
fn a_missing_book_is_not_made_by_a_question() {
    let shop = Shop::new();
    for words in [
        vec!["--json", "clocks"],
        vec!["ask", r#"{"ask":"owed"}"#],
        vec!["--json", "verify"],
        vec!["--json", "record", "x"],
    ] {
        let error = refused(&shop.run(&words), 4, "not-a-book");
        assert!(error["sentence"].as_str().unwrap().contains("no book"), "{error}");
    }
    assert_eq!(std::fs::read_dir(shop.folder.path()).unwrap().count(), 0, "nothing was made");
}

#[test]
fn what_is_not_a_book_is_left_as_it_is() {
    let shop = Shop::new();
    let foreign = shop.folder.path().join("foreign.db");
    Connection::open(&foreign).unwrap().execute_batch("CREATE TABLE a (b)").unwrap();
    for bytes in [b"Dear Ann, the spar is done.".repeat(200), std::fs::read(&foreign).unwrap()] {
        std::fs::write(shop.book(), &bytes).unwrap();
        refused(&shop.run(&["--json", "clocks"]), 4, "not-a-book");
        refused(&shop.run(&["act", ACT]), 4, "not-a-book");
        assert_eq!(std::fs::read(shop.book()).unwrap(), bytes);
    }
    std::fs::remove_file(shop.book()).unwrap();
    std::fs::create_dir(shop.book()).unwrap();
    for words in [["--json", "clocks"], ["act", ACT]] {
        let done = shop.run(&words);
        assert_eq!(done.status, 4, "a folder is no book: {done:?}");
    }
}

#[test]
fn a_newer_book_is_left_to_the_newer_program() {
    let shop = with_a_bond();
    let connection = Connection::open(shop.book()).unwrap();
    let known: i64 = connection.query_row("PRAGMA user_version", [], |row| row.get(0)).unwrap();
    connection.pragma_update(None, "user_version", known + 1).unwrap();
    drop(connection);
    refused(&shop.run(&["--json", "clocks"]), 4, "newer");
    refused(&shop.run(&["act", ACT]), 4, "newer");
}

#[test]
fn a_locked_book_is_said_to_be_locked_and_still_answers() {
    let shop = with_a_bond();
    let connection = Connection::open(shop.book()).unwrap();
    connection.execute_batch("BEGIN IMMEDIATE").unwrap();
    refused(&shop.run(&["act", ACT]), 4, "locked");
    assert_eq!(shop.run(&["owed"]).status, 0, "a question does not wait for a writer");
    connection.execute_batch("ROLLBACK").unwrap();
    assert_eq!(shop.run(&["act", ACT]).status, 0);
}

/// Runs without the right of root to write what is read-only.
fn run_plain(shop: &Shop, words: &[&str]) -> Done {
    let bare = permission_bits_stop_nobody();
    let mut command = if bare {
        let mut setpriv = shop.command(Path::new("setpriv"));
        setpriv.args(["--bounding-set", "-dac_override,-dac_read_search"]).arg(gluewright());
        setpriv
    } else {
        shop.command(gluewright())
    };
    Done::new(command.args(words).stdin(Stdio::null()).output().unwrap())
}

/// True where permission bits stop nobody.
fn permission_bits_stop_nobody() -> bool {
    let probe = tempfile::tempdir().unwrap();
    let file = probe.path().join("x");
    std::fs::write(&file, "x").unwrap();
    std::fs::set_permissions(&file, std::fs::Permissions::from_mode(0o400)).unwrap();
    std::fs::OpenOptions::new().append(true).open(&file).is_ok()
}

#[test]
fn a_read_only_book_refuses_acts_and_answers_questions() {
    let shop = with_a_bond();
    for (folder_mode, book_mode) in [(0o500, 0o400), (0o700, 0o400)] {
        std::fs::set_permissions(shop.book(), std::fs::Permissions::from_mode(book_mode)).unwrap();
        std::fs::set_permissions(shop.folder.path(), std::fs::Permissions::from_mode(folder_mode)).unwrap();
        let (acted, asked) = (run_plain(&shop, &["act", ACT]), run_plain(&shop, &["owed"]));
        std::fs::set_permissions(shop.folder.path(), std::fs::Permissions::from_mode(0o700)).unwrap();
        refused(&acted, 4, "read-only");
        assert_eq!(asked.status, 0, "{asked:?}");
    }
}

#[test]
fn a_folder_that_is_read_only_gets_no_book() {
    let shop = Shop::new();
    std::fs::set_permissions(shop.folder.path(), std::fs::Permissions::from_mode(0o500)).unwrap();
    let done = run_plain(&shop, &["act", ACT]);
    std::fs::set_permissions(shop.folder.path(), std::fs::Permissions::from_mode(0o700)).unwrap();
    refused(&done, 4, "read-only");
}

#[test]
fn a_damaged_book_is_said_to_be_damaged() {
    let shop = with_a_bond();
    Connection::open(shop.book()).unwrap().execute_batch("PRAGMA wal_checkpoint(TRUNCATE)").unwrap();
    let sound = std::fs::read(shop.book()).unwrap();
    let mut torn = sound.clone();
    torn.truncate(sound.len() / 2 / 4096 * 4096);
    let mut scribbled = sound.clone();
    scribbled[100..4096].fill(0x5a);
    for bytes in [torn, scribbled] {
        let _ = std::fs::remove_file(shop.folder.path().join("shop.book-wal"));
        let _ = std::fs::remove_file(shop.folder.path().join("shop.book-shm"));
        std::fs::write(shop.book(), &bytes).unwrap();
        let (asked, acted) = (shop.run(&["--json", "trace", "R3-L"]), shop.run(&["act", ACT]));
        refused(&asked, 4, "damaged");
        refused(&acted, 4, "damaged");
        assert!(std::fs::read(shop.book()).unwrap() == bytes, "it is left as it is");
    }
}

#[test]
fn verify_that_finds_something_ends_with_3_and_names_the_entry() {
    let shop = with_a_bond();
    let connection = Connection::open(shop.book()).unwrap();
    let triggers: Vec<String> = {
        let mut listing = connection.prepare("SELECT name FROM sqlite_master WHERE type = 'trigger'").unwrap();
        listing.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect()
    };
    assert!(!triggers.is_empty(), "entries are guarded");
    for trigger in triggers {
        connection.execute_batch(&format!("DROP TRIGGER \"{trigger}\"")).unwrap();
    }
    let changed = connection.execute(
        "UPDATE entry SET bytes = CAST(replace(CAST(bytes AS TEXT), 'R3-L', 'R9-L') AS BLOB) WHERE seq = 9",
        [],
    );
    assert_eq!(changed.unwrap(), 1);
    drop(connection);
    let done = shop.run(&["--json", "verify"]);
    assert_eq!(done.status, 3, "{done:?}");
    let answer = done.object();
    assert_eq!(answer["ok"], false);
    assert!(answer["found"].as_array().unwrap().iter().any(|found| found["seq"] == 9), "{answer}");
    let text = shop.run(&["verify"]);
    assert_eq!(text.status, 3);
    assert!(text.out.contains("Found") && !text.out.contains("Nothing was found"), "{text:?}");
}

#[test]
fn a_book_is_for_its_owner_only() {
    let shop = Shop::new();
    assert_eq!(shop.run(&["act", ACT]).status, 0);
    assert_eq!(mode(&shop.book()), 0o600);
    let mut command = shop.command(gluewright());
    command.env_remove("GLUEWRIGHT_BOOK").args(["act", &stores().to_string()]).stdin(Stdio::null());
    let done = Done::new(command.output().unwrap());
    assert_eq!(done.status, 0, "{done:?}");
    let folder = shop.folder.path().join(".local/share/gluewright");
    assert_eq!((mode(&folder), mode(&folder.join("shop.book"))), (0o700, 0o600));
}

#[test]
fn the_named_book_goes_before_the_one_of_the_environment() {
    let shop = Shop::new();
    let other = shop.folder.path().join("other.book");
    assert_eq!(shop.run(&["--book", other.to_str().unwrap(), "act", ACT]).status, 0);
    assert!(other.exists() && !shop.book().exists());
    assert_eq!(shop.run(&["list", "place", "--book", other.to_str().unwrap()]).status, 0, "also after the command");
    let nowhere = shop.run(&["--book", "no/such/folder/x.book", "act", ACT]);
    assert_eq!(nowhere.status, 4, "{nowhere:?}");
    assert_eq!(shop.ask_at(&other), json!(2));
}

trait AskAt {
    fn ask_at(&self, book: &Path) -> serde_json::Value;
}

impl AskAt for Shop {
    /// Size of the log of another book.
    fn ask_at(&self, book: &Path) -> serde_json::Value {
        self.run(&["--book", book.to_str().unwrap(), "checkpoint", "--json"]).object()["size"].clone()
    }
}
