//! Ratios of the book: an append against the same rows inserted by hand, and appends and a part's index from a
//! thousand to a million entries.

use common::*;
use logbook::entry::{Draft, Id};
use logbook::store::{Book, Mode};
use rusqlite::{Connection, params_from_iter, types::Value};
use std::path::Path;
use std::time::{Duration, Instant};

#[path = "../../crates/logbook/tests/logbook/common.rs"]
#[expect(dead_code, reason = "the store's own tests use the rest")]
mod common;

pub fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

#[expect(clippy::disallowed_methods, reason = "a benchmark measures time")]
pub fn timed<T>(run: impl FnOnce() -> T) -> Duration {
    let began = Instant::now();
    std::hint::black_box(run());
    began.elapsed()
}

pub fn ratio(what: &str, this: Duration, other: Duration, limit: f64) {
    let ratio = this.as_secs_f64() / other.as_secs_f64();
    let verdict = if ratio <= limit { "within" } else { "OVER" };
    println!("{what}: {ratio:.3} ({this:.1?} / {other:.1?}), aim {limit}: {verdict}");
}

/// Ids in random order, as real ones are.
fn scattered(sort: u8, n: u64) -> Id {
    let mixed = (n + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    format!("{:08x}-{sort:04x}-4000-8000-{n:012x}", mixed >> 32)
}

fn key(n: u64, at_ms: i64) -> logbook::entry::Stamp {
    logbook::entry::Stamp { act: scattered(0xac, n), ..stamp(n, at_ms) }
}

/// A batch, a bond of it with one part, and seven presses; the last takes the bond out of what is live.
fn glued(n: u64, part: &Id) -> Vec<Draft> {
    let (pot, joint) = (scattered(4, n), scattered(5, n));
    let about = [joint.clone(), part.clone(), pot.clone()];
    let mut drafts = vec![
        draft(pot.clone(), batch(&format!("Tue {n}")), std::slice::from_ref(&pot), T0),
        draft(joint.clone(), bond(n, &pot, part), &about, T0),
    ];
    let words = ["first-glue-on", "together", "all-tight", "squeeze-out", "first-clamp-off", "used"];
    drafts.extend(
        words
            .iter()
            .zip(0..)
            .map(|(word, at)| draft(scattered(6, n * 10 + at), press(word, Some(&joint), None), &about, T0)),
    );
    drafts.push(draft(scattered(7, n), press("pot-done", None, Some(&pot)), std::slice::from_ref(&pot), T0));
    drafts
}

/// One press about a bond, its part and its batch.
fn tight(n: u64, of: u64, part: &Id) -> Vec<Draft> {
    let (pot, joint) = (scattered(4, of), scattered(5, of));
    let body = press("re-tightened", Some(&joint), None);
    vec![draft(scattered(8, n), body, &[joint, part.clone(), pot], T0)]
}

/// A book with `bonds` bonds, nine entries each, over `parts` parts.
pub fn filled(path: &Path, parts: u64, bonds: std::ops::Range<u64>) -> Book {
    let mut book = if bonds.start == 0 { book(path) } else { Book::open(path, Mode::Write).unwrap() };
    if bonds.start == 0 {
        let make = |n: u64| draft(scattered(3, n), part(&format!("P{n}")), &[scattered(3, n)], T0);
        act(&mut book, &key(1, T0), (0..parts).map(make).collect(), &[]).unwrap();
    }
    let mut next = bonds.start;
    while next < bonds.end {
        let end = (next + 500).min(bonds.end);
        book.transact(|book| {
            for n in next..end {
                let size = book.own()?.map_or(0, |head| head.size);
                book.append(size, &key(1000 + n, T0), glued(n, &scattered(3, n % parts)), &[])?;
            }
            Ok::<(), logbook::store::Error>(())
        })
        .unwrap();
        next = end;
    }
    book
}

/// The rows that one entry adds, table by table.
struct Rows {
    entry: Vec<Value>,
    about: Vec<Vec<Value>>,
    log: Vec<Value>,
}

fn rows(connection: &Connection, sql: &str, seq: u64) -> Vec<Vec<Value>> {
    let mut ask = connection.prepare_cached(sql).unwrap();
    let count = ask.column_count();
    let read = |row: &rusqlite::Row| (0..count).map(|at| row.get(at)).collect::<Result<Vec<Value>, _>>();
    ask.query_map([seq as i64], read).unwrap().collect::<Result<_, _>>().unwrap()
}

const LOG: &str = "SELECT size, order_ms, edge, num, size - 1 FROM log WHERE ?1 >= 0";

fn insert(connection: &Connection, rows: &Rows) {
    connection.prepare_cached("BEGIN IMMEDIATE").unwrap().execute([]).unwrap();
    let entry = "INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";
    connection.prepare_cached(entry).unwrap().execute(params_from_iter(&rows.entry)).unwrap();
    for about in &rows.about {
        let sql = "INSERT INTO about VALUES (?, ?, ?, ?)";
        connection.prepare_cached(sql).unwrap().execute(params_from_iter(about)).unwrap();
    }
    let log = "UPDATE log SET size = ?, order_ms = ?, edge = ? WHERE num = ? AND size = ?";
    connection.prepare_cached(log).unwrap().execute(params_from_iter(&rows.log)).unwrap();
    connection.prepare_cached("COMMIT").unwrap().execute([]).unwrap();
}

/// One press after another: through the store, and the same rows by plain SQL into a copy of the same book.
pub fn by_hand() {
    const ACTS: u64 = 600;
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    drop(filled(&at("base"), 1000, 0..2000));
    for name in ["model", "store", "hand"] {
        std::fs::copy(at("base"), at(name)).unwrap();
    }
    let mut model = Book::open(&at("model"), Mode::Write).unwrap();
    let look = Connection::open(at("model")).unwrap();
    let mut captured = Vec::new();
    for n in 0..ACTS {
        let head = act(&mut model, &key(100_000 + n, T0), tight(n, n, &scattered(3, n)), &[]).unwrap().head;
        let seq = head.size - 1;
        captured.push(Rows {
            entry: rows(&look, "SELECT * FROM entry WHERE place = (1 << 40) | ?1", seq).remove(0),
            about: rows(&look, "SELECT * FROM about WHERE seq = ?1", seq),
            log: rows(&look, LOG, seq).remove(0),
        });
        assert_eq!(captured[n as usize].about.len(), 3);
    }
    let mut store = Book::open(&at("store"), Mode::Write).unwrap();
    let mut size = store.own().unwrap().unwrap().size;
    let hand = Connection::open(at("hand")).unwrap();
    hand.execute_batch("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA cache_size=-16384").unwrap();
    hand.set_prepared_statement_cache_capacity(96);
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for (n, rows) in (0..).zip(&captured) {
        // In turn, and each first as often as the other, so that the disk's mood is shared. What is appended is made
        // beforehand on both sides, and both know the size they expect.
        let (stamp, mut drafts) = (key(100_000 + n, T0), Some(tight(n, n, &scattered(3, n))));
        let mut through_store = || {
            let drafts = drafts.take().unwrap();
            ours.push(timed(|| {
                size = store.transact(|book| book.append(size, &stamp, drafts, &[])).unwrap().head.size;
            }))
        };
        if n % 2 == 0 {
            through_store();
        }
        theirs.push(timed(|| insert(&hand, rows)));
        if n % 2 == 1 {
            through_store();
        }
    }
    let count = |path: &Path| -> i64 {
        Connection::open(path).unwrap().query_row("SELECT count(*) FROM about", [], |row| row.get(0)).unwrap()
    };
    assert_eq!(count(&at("store")), count(&at("hand")), "both hold the same rows");
    ratio("append, against the same rows by hand", median(ours), median(theirs), 1.2);
}

/// Median of single presses, and of one part's index, in a book of some size.
fn measured(book: &mut Book, first: u64, parts: u64) -> (Duration, Duration) {
    let mut appends = Vec::new();
    let mut traces = Vec::new();
    for n in first..first + 400 {
        let of = (n * 7919) % 100;
        let part = scattered(3, of % parts);
        appends.push(timed(|| act(book, &key(10_000_000 + n, T0), tight(10_000_000 + n, of, &part), &[]).unwrap()));
        let quiet = scattered(3, parts - 1 - n % 50);
        traces.push(timed(|| book.naming(&quiet).unwrap()));
    }
    (median(appends), median(traces))
}

/// Each part is in the same number of bonds whatever the size, so that only the size can cost.
pub fn flat() {
    const SMALL: u64 = 112;
    const LARGE: u64 = 111_200;
    let folder = tempfile::tempdir().unwrap();
    let (small, large) = (folder.path().join("small"), folder.path().join("large"));
    let mut few = filled(&small, 112, 0..SMALL);
    let mut many = filled(&large, LARGE, 0..LARGE);
    let sizes = [&few, &many].map(|book| book.own().unwrap().unwrap().size);
    println!("entries: {} and {}; bonds: {SMALL} and {LARGE}", sizes[0], sizes[1]);
    // The same presses on both, in turn, so that the disk's mood is shared.
    measured(&mut few, 0, 112);
    measured(&mut many, 0, LARGE);
    let one = measured(&mut few, 1000, 112);
    let other = measured(&mut many, 1000, LARGE);
    ratio("append at a million entries against a thousand", other.0, one.0, 1.3);
    ratio("one part's index at a hundred thousand bonds against a hundred", other.1, one.1, 1.3);
}
