//! Files that are no books, newer books, read-only and full disks, torn pages, a killed writer.

use super::*;
use logbook::store::Mode;
use std::io::{Read, Seek, SeekFrom, Write};
use std::process::{Command, Stdio};

#[test]
fn what_is_no_book_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    std::fs::write(at("empty"), b"").unwrap();
    std::fs::write(at("text"), "not a book, though quite long enough to hold a header\n".repeat(9)).unwrap();
    rusqlite::Connection::open(at("other")).unwrap().execute_batch("CREATE TABLE entry (x)").unwrap();
    std::fs::create_dir(at("folder")).unwrap();
    for mode in [Mode::Read, Mode::Write] {
        assert!(matches!(Book::open(&at("none"), mode), Err(Error::Missing)));
        for name in ["empty", "text", "other", "folder"] {
            let opened = Book::open(&at(name), mode).err();
            assert!(matches!(opened, Some(Error::NotABook)), "{name}: {opened:?}");
            assert!(matches!(look(&at(name), Depth::Bytes, None), Err(Error::NotABook)), "{name}");
        }
    }
    assert!(Book::create(&at("text")).is_err(), "a file that is there is left alone");
    assert_eq!(std::fs::metadata(at("empty")).unwrap().len(), 0);
}

#[test]
fn a_newer_book_is_refused() {
    let (_folder, path) = sound();
    let newer = damaged(&path, "PRAGMA user_version = 3");
    let opened = Book::open(&newer, Mode::Read).err();
    assert!(matches!(opened, Some(Error::Newer { found: 3, known: 2 })), "{opened:?}");
    let bytes = "UPDATE entry SET bytes = CAST(replace(CAST(bytes AS TEXT), '\"version\":0', '\"version\":1') AS BLOB)";
    let newer = damaged(&path, bytes);
    let connection = rusqlite::Connection::open(&newer).unwrap();
    let mut ask = connection.prepare("SELECT seq, bytes FROM entry WHERE seq >= 256").unwrap();
    let rows = ask.query_map([], |row| Ok((row.get(0)?, row.get(1)?))).unwrap();
    let rows: Vec<(i64, Vec<u8>)> = rows.collect::<Result<_, _>>().unwrap();
    for (seq, bytes) in rows {
        let leaf = logbook::tree::leaf(&bytes);
        connection
            .execute("UPDATE entry SET leaf = ?1 WHERE seq = ?2", rusqlite::params![leaf.as_slice(), seq])
            .unwrap();
    }
    drop(ask);
    drop(connection);
    let opened = Book::open(&newer, Mode::Write).err();
    assert!(matches!(opened, Some(Error::Newer { found: 1, known: 0 })), "{opened:?}");
}

#[test]
fn opening_looks_at_the_last_tile_and_the_edge() {
    let (_folder, path) = sound();
    for sql in [
        "UPDATE entry SET bytes = CAST(bytes || x'20' AS BLOB) WHERE seq = 280",
        "UPDATE entry SET leaf = zeroblob(32) WHERE seq = 299",
        "DELETE FROM entry WHERE seq = 270",
        "DELETE FROM entry WHERE seq = 299",
        "UPDATE log SET edge = zeroblob(length(edge))",
        "UPDATE log SET size = 299",
    ] {
        let opened = Book::open(&damaged(&path, sql), Mode::Write).err();
        assert!(matches!(opened, Some(Error::Damaged(_))), "{sql}: {opened:?}");
    }
    Book::open(&damaged(&path, "UPDATE entry SET bytes = x'20' WHERE seq = 5"), Mode::Read).unwrap();
}

#[test]
fn torn_pages_are_said_in_words() {
    let (_folder, path) = sound();
    let length = std::fs::metadata(&path).unwrap().len();
    let mut refused = 0;
    let mut named = 0;
    let mut entries = 0;
    for page in 0..length / 4096 {
        let copy = path.with_extension("torn");
        std::fs::copy(&path, &copy).unwrap();
        let mut file = std::fs::OpenOptions::new().read(true).write(true).open(&copy).unwrap();
        file.seek(SeekFrom::Start(page * 4096 + 7)).unwrap();
        file.write_all(&[0xa5; 900]).unwrap();
        drop(file);
        let _ = Book::open(&copy, Mode::Read);
        match look(&copy, Depth::Rebuild, None) {
            Err(_) => refused += 1,
            Ok(report) => {
                assert!(!report.ok, "page {page} torn and nothing found");
                named += 1;
                entries += usize::from(!found(&report).is_empty());
            }
        }
    }
    assert!(refused > 0 && named > 10 && entries > 10, "{refused} refused, {named} named, {entries} with an entry");
}

#[test]
fn any_flipped_byte_of_the_file_is_found_or_harmless() {
    // Free space inside pages and unused header fields hold nothing; a flip there must leave every entry as it was.
    let (_folder, path) = sound();
    let whole = std::fs::read(&path).unwrap();
    let copy = path.with_extension("flipped");
    let good = entries(&path).unwrap();
    let (mut seen, mut harmless) = (0, 0);
    for at in (0..whole.len()).step_by(4999) {
        let mut changed = whole.clone();
        changed[at] ^= 1 << (at % 8);
        std::fs::write(&copy, changed).unwrap();
        match look(&copy, Depth::Rebuild, None) {
            Ok(report) if report.ok => {
                assert_eq!(entries(&copy), Some(good.clone()), "byte {at}: clean, though an entry changed");
                harmless += 1;
            }
            _ => seen += 1,
        }
    }
    assert!(seen > harmless, "{seen} found, {harmless} harmless");
}

fn entries(path: &Path) -> Option<Vec<(i64, Vec<u8>)>> {
    let connection = rusqlite::Connection::open(path).ok()?;
    let mut ask = connection.prepare("SELECT place, bytes FROM entry ORDER BY place").ok()?;
    let rows = ask.query_map([], |row| Ok((row.get(0)?, row.get(1)?))).ok()?;
    rows.collect::<Result<_, _>>().ok()
}

#[test]
fn a_held_book_is_locked() {
    let (_folder, path) = sound();
    let mut book = Book::open(&path, Mode::Write).unwrap();
    let other = rusqlite::Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let acted = act(&mut book, &stamp(9001, T0), vec![draft(id(12, 1), part("X"), &[], T0)], &[]);
    assert!(matches!(acted, Err(Error::Locked)), "{acted:?}");
    assert_eq!(Book::open(&path, Mode::Read).unwrap().own().unwrap().unwrap().size, SIZE, "reading goes on");
    other.execute_batch("ROLLBACK").unwrap();
    act(&mut book, &stamp(9001, T0), vec![draft(id(12, 1), part("X"), &[], T0)], &[]).unwrap();
}

#[test]
fn reading_changes_no_byte_and_needs_no_writing() {
    let (folder, path) = sound();
    let before = std::fs::read(&path).unwrap();
    let book = Book::open(&path, Mode::Read).unwrap();
    assert_eq!(book.tail(3).unwrap().len(), 3);
    look(&path, Depth::Rebuild, None).unwrap();
    drop(book);
    assert_eq!(std::fs::read(&path).unwrap(), before);
    let mut book = Book::open(&path, Mode::Read).unwrap();
    assert!(matches!(book.transact(|_| Ok::<(), Error>(())), Err(Error::ReadOnly)));
    drop(book);
    for name in ["shop.glue-wal", "shop.glue-shm"] {
        let _ = std::fs::remove_file(folder.path().join(name));
    }
    let mut marked = std::fs::metadata(&path).unwrap().permissions();
    marked.set_readonly(true);
    std::fs::set_permissions(&path, marked).unwrap();
    assert!(matches!(Book::open(&path, Mode::Write), Err(Error::ReadOnly)));
    assert_eq!(Book::open(&path, Mode::Read).unwrap().own().unwrap().unwrap().size, SIZE);
}

/// A file system of this test's own, where mounting is allowed.
struct Mount(PathBuf);

impl Mount {
    fn new(folder: &Path, size: &str) -> Option<Mount> {
        let at = folder.join("mounted");
        std::fs::create_dir(&at).unwrap();
        let done =
            Command::new("mount").args(["-t", "tmpfs", "-o", size, "tmpfs"]).arg(&at).stderr(Stdio::null()).status();
        done.is_ok_and(|status| status.success()).then_some(Mount(at))
    }

    fn again(&self, options: &str) {
        let status = Command::new("mount").args(["-o", options]).arg(&self.0).status().unwrap();
        assert!(status.success());
    }
}

impl Drop for Mount {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.0).status();
    }
}

#[test]
fn a_read_only_file_system_still_lets_one_read() {
    let (folder, path) = sound();
    let Some(mount) = Mount::new(folder.path(), "size=8m") else {
        return println!("SKIPPED: mounting is not allowed here, so a read-only file system was not tried");
    };
    let copy = mount.0.join("shop.glue");
    std::fs::copy(&path, &copy).unwrap();
    mount.again("remount,ro");
    let opened = Book::open(&copy, Mode::Write).err();
    assert!(matches!(opened, Some(Error::ReadOnly)), "{opened:?}");
    assert_eq!(Book::open(&copy, Mode::Read).unwrap().own().unwrap().unwrap().size, SIZE);
    assert_eq!(look(&copy, Depth::Rebuild, None).unwrap().found, []);
    let created = Book::create(&mount.0.join("new.glue")).err();
    assert!(matches!(created, Some(Error::ReadOnly)), "{created:?}");
}

#[test]
fn a_full_disk_refuses_and_keeps_what_was_kept() {
    let (folder, _) = sound();
    let Some(mount) = Mount::new(folder.path(), "size=512k") else {
        return println!("SKIPPED: mounting is not allowed here, so a full disk was not tried");
    };
    let path = mount.0.join("shop.glue");
    let mut book = book(&path);
    let mut kept = book.own().unwrap().unwrap();
    let refused = (1..5000).find_map(|n| {
        match act(&mut book, &stamp(n, T0), vec![draft(id(6, n), part(&format!("P{n}")), &[], T0)], &[]) {
            Ok(done) => {
                kept = done.head;
                None
            }
            Err(error) => Some(error),
        }
    });
    assert!(matches!(refused, Some(Error::Disk(_))), "{refused:?}");
    drop(book);
    mount.again("remount,size=8m");
    let mut book = Book::open(&path, Mode::Write).unwrap();
    assert_eq!(book.own().unwrap().unwrap(), kept, "all that was acknowledged, and nothing else");
    act(&mut book, &stamp(9000, T0), vec![draft(id(7, 1), part("after"), &[], T0)], &[]).unwrap();
    drop(book);
    assert!(look(&path, Depth::Rebuild, None).unwrap().ok);
}

const CHILD: &str = "GLUEWRIGHT_TEST_WRITER";

/// Not a test by itself: the writer that the next test starts and kills. It prints each size once it is kept.
#[test]
fn a_writer_to_be_killed() {
    let Some(path) = std::env::var_os(CHILD) else { return };
    let mut book = Book::open(Path::new(&path), Mode::Write).unwrap();
    let first = book.own().unwrap().unwrap().size;
    for n in first..first + 100_000 {
        let drafts = vec![
            draft(id(6, 2 * n), part(&format!("P{n}")), &[], T0),
            draft(id(6, 2 * n + 1), part(&format!("Q{n}")), &[], T0),
        ];
        let done = act(&mut book, &stamp(n, T0), drafts, &[]).unwrap();
        println!("kept {}", done.head.size);
    }
}

#[test]
fn a_killed_writer_loses_nothing_acknowledged() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.glue");
    drop(book(&path));
    for round in 0..8u64 {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "files::a_writer_to_be_killed", "--nocapture"])
            .env(CHILD, &path)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut out = child.stdout.take().unwrap();
        let mut said = Vec::new();
        let mut chunk = [0u8; 64];
        while said.len() < 40 + 90 * round as usize {
            let read = out.read(&mut chunk).unwrap();
            assert!(read > 0, "the writer ended: {}", String::from_utf8_lossy(&said));
            said.extend_from_slice(&chunk[..read]);
        }
        child.kill().unwrap();
        child.wait().unwrap();
        out.read_to_end(&mut said).unwrap();
        let said = String::from_utf8_lossy(&said).into_owned();
        let whole = said.rfind('\n').map_or("", |end| &said[..end]);
        let kept: u64 = whole.lines().filter_map(|line| line.strip_prefix("kept ")?.parse().ok()).next_back().unwrap();
        let size = Book::open(&path, Mode::Write).unwrap().own().unwrap().unwrap().size;
        assert!(size >= kept, "{kept} were acknowledged, {size} are there");
        assert_eq!(size % 2, 1, "an act of two entries is whole or not there");
        assert!(look(&path, Depth::Rebuild, None).unwrap().ok, "round {round}");
    }
}
