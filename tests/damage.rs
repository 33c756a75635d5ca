//! Books damaged on purpose: every harm is named with its kind and entry, or the book is refused; never a clean report.

#[path = "../crates/logbook/tests/logbook/common.rs"]
mod common;
#[path = "damage/edits.rs"]
mod edits;
#[path = "damage/files.rs"]
mod files;
#[path = "damage/outside.rs"]
mod outside;
#[path = "damage/ratio.rs"]
mod ratio;

use common::*;
use logbook::checkpoint::Checkpoint;
use logbook::entry::place::{BlockRef, Readings};
use logbook::entry::{Body, Id};
use logbook::store::{Block, Book, Error, Minute};
use logbook::verify::{Depth, Report, What, verify};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// Entries of the small book.
pub const SIZE: u64 = 300;

/// The log of the small book.
pub fn log() -> Id {
    id(0, 1)
}

/// A folder with a copy of the sound book, and its path.
pub fn sound() -> (tempfile::TempDir, PathBuf) {
    static BOOK: OnceLock<Vec<u8>> = OnceLock::new();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.glue");
    std::fs::write(&path, BOOK.get_or_init(make)).unwrap();
    (folder, path)
}

/// The bytes of a sound book of 300 entries: more than one tile, a bond, readings by hand and from a file, a
/// correction, a withdrawal.
fn make() -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.glue");
    let mut book = book(&path);
    let (spot, rib, pot, joint) = (id(2, 1), id(3, 1), id(4, 1), id(5, 1));
    let one = |book: &mut Book, n: u64, draft| act(book, &stamp(n, T0 + n as i64 * 1000), vec![draft], &[]).unwrap();
    one(&mut book, 1, draft(spot.clone(), place("bench"), &[], T0));
    one(&mut book, 2, draft(rib.clone(), part("R3-L"), std::slice::from_ref(&rib), T0));
    one(&mut book, 3, draft(pot.clone(), batch("Tue 1"), std::slice::from_ref(&pot), T0));
    one(&mut book, 4, draft(joint.clone(), bond(1, &pot, &rib), &[joint.clone(), rib.clone(), pot.clone()], T0));
    let block = Block {
        place: spot.clone(),
        source: "logger".into(),
        hour_ms: T0,
        minutes: vec![Minute {
            at_ms: T0,
            low_mk: 290_000,
            mean_mk: 290_100,
            high_mk: 290_200,
            humidity_ppm: Some(450_000),
        }],
    };
    let blocks = std::slice::from_ref(&block);
    act(&mut book, &stamp(5, T0 + 5000), vec![draft(id(10, 1), file(&block), &[], T0)], blocks).unwrap();
    one(&mut book, 6, correction(id(7, 1), &rib, part("R3-R"), std::slice::from_ref(&rib), T0));
    for n in 7..SIZE - 1 {
        let body = match n % 3 {
            0 => reading(&spot, 290_000 + n as i64),
            1 => press("re-tightened", Some(&joint), None),
            _ => part(&format!("P{n}")),
        };
        let about = match n % 3 {
            0 => vec![],
            1 => vec![joint.clone(), rib.clone()],
            _ => vec![id(6, n)],
        };
        one(&mut book, n, draft(id(6, n), body, &about, T0 + n as i64 * 1000));
    }
    one(&mut book, SIZE - 1, draft(id(8, 1), withdrawn(&id(6, 8)), &[id(6, 8)], T0));
    assert_eq!(book.own().unwrap().unwrap().size, SIZE);
    drop(book);
    std::fs::read(&path).unwrap()
}

fn file(block: &Block) -> Body {
    Body::Readings(Readings {
        place: block.place.clone(),
        source: block.source.clone(),
        from_ms: T0,
        to_ms: T0,
        count: 1,
        file_sha256: "00".repeat(32),
        file_name: "a.csv".into(),
        blocks: vec![BlockRef { hour_ms: block.hour_ms, sha256: block.sha256().unwrap() }],
        skipped: None,
        instrument: None,
    })
}

/// Looks at a book to the end.
pub fn look(path: &Path, depth: Depth, checkpoint: Option<&Checkpoint>) -> Result<Report, Error> {
    verify(path, depth, checkpoint, &mut |_| ControlFlow::Continue(()))
}

/// A copy of the book beside it, changed by SQL after every trigger was dropped.
pub fn damaged(sound: &Path, sql: &str) -> PathBuf {
    let copy = sound.with_extension("damaged");
    std::fs::copy(sound, &copy).unwrap();
    let connection = rusqlite::Connection::open(&copy).unwrap();
    drop_triggers(&connection);
    connection.execute_batch(sql).unwrap_or_else(|error| panic!("{sql}: {error}"));
    drop(connection);
    copy
}

pub fn drop_triggers(connection: &rusqlite::Connection) {
    let mut ask = connection.prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger'").unwrap();
    let names: Vec<String> = ask.query_map([], |row| row.get(0)).unwrap().collect::<Result<_, _>>().unwrap();
    for name in names {
        connection.execute_batch(&format!("DROP TRIGGER {name}")).unwrap();
    }
}

/// Kinds and entries found, without what concerns the file alone.
pub fn found(report: &Report) -> Vec<(What, u64)> {
    report.found.iter().filter_map(|found| found.seq.map(|seq| (found.what, seq))).collect()
}

#[test]
fn a_sound_book_is_clean_at_every_depth() {
    let (_folder, path) = sound();
    for depth in [Depth::Bytes, Depth::Meaning, Depth::Rebuild] {
        let report = look(&path, depth, None).unwrap();
        assert_eq!(report.found, [], "{depth:?}");
        assert!(report.ok);
        assert_eq!(report.logs[0].size, SIZE);
        assert!(report.cannot_show.contains(&"a cut tail without a checkpoint held outside".to_owned()));
    }
}

#[test]
fn a_look_can_be_stopped_and_says_so() {
    let (_folder, path) = sound();
    let copy = path.with_extension("long");
    std::fs::copy(&path, &copy).unwrap();
    let mut book = Book::open(&copy, logbook::store::Mode::Write).unwrap();
    let drafts = (0..1500).map(|n| draft(id(12, n), part(&format!("Q{n}")), &[], T0)).collect();
    act(&mut book, &stamp(9000, T0), drafts, &[]).unwrap();
    let mut calls = 0;
    let report = verify(&copy, Depth::Bytes, None, &mut |progress| {
        calls += 1;
        assert_eq!(progress.of, SIZE + 1500);
        ControlFlow::Break(())
    });
    let report = report.unwrap();
    assert_eq!(calls, 1);
    assert!(!report.ok && report.found.is_empty());
    assert_eq!(report.cannot_show[0], "this look was stopped before its end");
}
