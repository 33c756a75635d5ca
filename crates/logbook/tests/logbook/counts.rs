//! Counts, not seconds: syncs and write-ahead frames per act, and no question that reads a table through.

use crate::common::*;
use logbook::entry::{Draft, Id};
use logbook::store::{Book, Mode};
use rusqlite::Connection;
use std::path::Path;

/// SQLite's own file system with its sync counted per thread.
#[expect(unsafe_code, reason = "SQLite's file methods are C; there is no other way to see a sync")]
mod vfs {
    use rusqlite::ffi;
    use std::cell::Cell;
    use std::ffi::{c_char, c_int};
    use std::sync::OnceLock;

    thread_local! {
        /// Syncs of write-ahead logs, and of all other files.
        pub static SYNCS: Cell<(u64, u64)> = const { Cell::new((0, 0)) };
    }

    struct Original {
        vfs: *mut ffi::sqlite3_vfs,
    }
    // SAFETY: the default file system is set up once and lives as long as the process.
    unsafe impl Send for Original {}
    // SAFETY: as above; nothing is ever written through it.
    unsafe impl Sync for Original {}

    static ORIGINAL: OnceLock<Original> = OnceLock::new();
    type SyncCall = unsafe extern "C" fn(*mut ffi::sqlite3_file, c_int) -> c_int;
    static SYNC: OnceLock<SyncCall> = OnceLock::new();

    /// Makes every book opened from now on in this process count its syncs.
    pub fn count() {
        ORIGINAL.get_or_init(|| {
            // SAFETY: plain C calls; the copied table is leaked, as SQLite keeps a pointer to it.
            unsafe {
                ffi::sqlite3_initialize();
                let vfs = ffi::sqlite3_vfs_find(std::ptr::null());
                let mut copy = *vfs;
                copy.zName = c"counting".as_ptr();
                copy.pNext = std::ptr::null_mut();
                copy.xOpen = Some(open);
                let copy = Box::leak(Box::new(copy));
                assert_eq!(ffi::sqlite3_vfs_register(copy, 1), ffi::SQLITE_OK);
                Original { vfs }
            }
        });
    }

    unsafe extern "C" fn open(
        _: *mut ffi::sqlite3_vfs,
        name: *const c_char,
        file: *mut ffi::sqlite3_file,
        flags: c_int,
        out: *mut c_int,
    ) -> c_int {
        // SAFETY: the arguments are SQLite's own; its method table is copied, never changed.
        unsafe {
            let Some(original) = ORIGINAL.get() else { return ffi::SQLITE_ERROR };
            let Some(real) = (*original.vfs).xOpen else { return ffi::SQLITE_ERROR };
            let code = real(original.vfs, name, file, flags, out);
            if code == ffi::SQLITE_OK && !(*file).pMethods.is_null() {
                let mut methods = *(*file).pMethods;
                if let Some(sync) = methods.xSync {
                    SYNC.get_or_init(|| sync);
                }
                methods.xSync = Some(if flags & ffi::SQLITE_OPEN_WAL != 0 { sync_log } else { sync_other });
                (*file).pMethods = Box::leak(Box::new(methods));
            }
            code
        }
    }

    unsafe extern "C" fn sync_log(file: *mut ffi::sqlite3_file, flags: c_int) -> c_int {
        SYNCS.with(|count| count.set((count.get().0 + 1, count.get().1)));
        // SAFETY: the file came from the original file system.
        SYNC.get().map_or(ffi::SQLITE_ERROR, |sync| unsafe { sync(file, flags) })
    }

    unsafe extern "C" fn sync_other(file: *mut ffi::sqlite3_file, flags: c_int) -> c_int {
        SYNCS.with(|count| count.set((count.get().0, count.get().1 + 1)));
        // SAFETY: the file came from the original file system.
        SYNC.get().map_or(ffi::SQLITE_ERROR, |sync| unsafe { sync(file, flags) })
    }
}

/// Empties the write-ahead log, so that its size tells the frames of what comes next.
fn checkpoint(path: &Path) {
    let connection = Connection::open(path).unwrap();
    let busy: i64 = connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0)).unwrap();
    assert_eq!(busy, 0);
}

fn log_bytes(path: &Path) -> u64 {
    let mut name = path.as_os_str().to_os_string();
    name.push("-wal");
    std::fs::metadata(name).unwrap().len()
}

/// Frames and syncs (of the log, of other files) of one act.
fn cost(book: &mut Book, path: &Path, n: u64, drafts: Vec<Draft>) -> (u64, (u64, u64)) {
    checkpoint(path);
    // The first write after a restart of the log also syncs its header: let something else do it.
    act(book, &stamp(n + 500_000, T0), vec![draft(id(12, n), part("warm"), &[], T0)], &[]).unwrap();
    let (before, synced) = (log_bytes(path), vfs::SYNCS.get());
    act(book, &stamp(n, T0), drafts, &[]).unwrap();
    let frames = (log_bytes(path) - before) / (4096 + 24);
    let after = vfs::SYNCS.get();
    (frames, (after.0 - synced.0, after.1 - synced.1))
}

/// A book with `parts` parts and `bonds` bonds of 28 joints, in big transactions.
fn filled(path: &Path, parts: u64, bonds: u64) -> Book {
    let mut book = book(path);
    let spot = id(2, 1);
    act(&mut book, &stamp(1, T0), vec![draft(spot, place("bench"), &[], T0)], &[]).unwrap();
    let make = |n: u64| draft(scattered(3, n), part(&format!("P{n}")), &[scattered(3, n)], T0);
    act(&mut book, &stamp(2, T0), (0..parts).map(make).collect(), &[]).unwrap();
    for n in 0..bonds {
        act(&mut book, &stamp(1000 + n, T0), spar(n, parts), &[]).unwrap();
    }
    book
}

/// Ids in random order, as real ones are.
fn scattered(sort: u8, n: u64) -> Id {
    let mixed = (n + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    format!("{:08x}-{sort:04x}-4000-8000-{n:012x}", mixed >> 32)
}

/// A batch and a bond of it with 28 parts, with its All tight.
fn spar(n: u64, parts: u64) -> Vec<Draft> {
    let (pot, joint) = (scattered(4, n), scattered(5, n));
    let members: Vec<Id> = (0..28).map(|m| scattered(3, (n * 28 + m) % parts)).collect();
    let mut about = vec![joint.clone(), pot.clone()];
    about.extend(members.iter().cloned());
    vec![
        draft(pot.clone(), batch(&format!("Tue {n}")), std::slice::from_ref(&pot), T0),
        draft(joint.clone(), bond(n, &pot, &members[0]), &about, T0),
        draft(scattered(6, n), press("all-tight", Some(&joint), None), &about, T0),
    ]
}

#[test]
fn one_sync_and_few_frames_an_act() {
    vfs::count();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.glue");
    let mut book = filled(&path, 3000, 60);
    let about = [scattered(5, 7), scattered(4, 7), scattered(3, 200)];
    let one = |n: u64, body, about: &[Id]| vec![draft(scattered(8, n), body, about, T0)];
    let acts = [
        ("press", one(1, press("squeeze-out", Some(&about[0]), None), &about)),
        ("reading", one(2, reading(&id(2, 1), 290_000), &[])),
        ("part", one(3, part("new"), &[scattered(8, 3)])),
        ("withdrawal", one(4, withdrawn(&scattered(8, 1)), &about)),
        ("bond of 28 parts", spar(61, 3000)),
    ];
    for (n, (name, drafts)) in acts.into_iter().enumerate() {
        let (frames, syncs) = cost(&mut book, &path, 100 + n as u64, drafts);
        println!("{name}: {frames} frames, {} sync of the log, {} of other files", syncs.0, syncs.1);
        assert_eq!(syncs, (1, 0), "{name}");
        assert!((1..=24).contains(&frames), "{name}: {frames} frames");
    }
}

#[test]
fn no_question_reads_a_table_through() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.glue");
    drop(filled(&path, 100, 3));
    let connection = Connection::open(&path).unwrap();
    // Few rows by nature: logs, turns of time, what is live, where the book is at home; and the list of one noun. What is
    // at rest is read whole instead of being judged; what names one thing is few.
    let small = ["SCAN log", "SCAN live", "SCAN turn", "SCAN home", "SCAN rest", "SCAN named"];
    let mut seen = 0;
    let sources = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/store");
    for file in std::fs::read_dir(sources).unwrap() {
        let file = file.unwrap().path();
        if file.extension().is_none_or(|ending| ending != "sql") {
            continue;
        }
        let sql = std::fs::read_to_string(&file).unwrap();
        let mut ask = connection.prepare(&format!("EXPLAIN QUERY PLAN {sql}")).unwrap();
        for at in 1..=ask.parameter_count() {
            ask.raw_bind_parameter(at, 1).unwrap();
        }
        let mut rows = ask.raw_query();
        while let Some(row) = rows.next().unwrap() {
            let step: String = row.get(3).unwrap();
            let scans = step.contains("SCAN") && !step.contains("CONSTANT ROW");
            let fine = !scans || small.iter().any(|table| step.starts_with(table));
            assert!(fine, "{}: {step}", file.display());
        }
        seen += 1;
    }
    assert!(seen > 30, "{seen} questions");
}

#[test]
fn a_past_receipt_is_found_without_reading_through() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.glue");
    drop(filled(&path, 700, 5));
    let book = Book::open(&path, Mode::Read).unwrap();
    let receipt = book.by_act(&stamp(1002, T0).act).unwrap().unwrap();
    assert_eq!(receipt.entries.len(), 3);
    assert_eq!(receipt.head.size, receipt.entries[2].0.seq + 1);
}
