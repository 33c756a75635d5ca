//! Checkpoints held outside, and the short script that checks a book without this program.

use super::*;
use logbook::checkpoint::{Checkpoint, write};
use logbook::store::Mode;
use logbook::tree::Edge;
use std::process::Command;

/// The book's head as somebody might have noted it.
fn noted(path: &Path) -> Checkpoint {
    let head = Book::open(path, Mode::Read).unwrap().own().unwrap().unwrap();
    Checkpoint { log: head.log, size: head.size, root: head.root }
}

/// Cuts the tail to `size` entries and works every hash and table out as if it had never been.
fn cut(sound: &Path, size: u64) -> PathBuf {
    let copy = damaged(sound, &format!("DELETE FROM entry WHERE seq >= {size}"));
    let connection = rusqlite::Connection::open(&copy).unwrap();
    let mut edge = Edge::default();
    let mut ask = connection.prepare("SELECT leaf FROM entry ORDER BY seq").unwrap();
    let leaves: Vec<[u8; 32]> = ask.query_map([], |row| row.get(0)).unwrap().collect::<Result<_, _>>().unwrap();
    leaves.into_iter().for_each(|leaf| edge.push(leaf, &mut Vec::new()));
    drop(ask);
    let order = "SELECT max(order_ms) FROM entry";
    connection
        .execute(
            &format!("UPDATE log SET size = ?1, edge = ?2, order_ms = ({order})"),
            rusqlite::params![size as i64, edge.write()],
        )
        .unwrap();
    let seq = "(place & 1099511627775)";
    for table in ["refer", "amend", "name", "hand", "cover", "hour", "live"] {
        connection.execute_batch(&format!("DELETE FROM {table} WHERE {seq} >= {size}")).unwrap();
    }
    connection.execute_batch(&format!("DELETE FROM about WHERE seq >= {size}")).unwrap();
    // Part P8 is withdrawn by the last entry; without that entry it has its name again.
    connection.execute_batch("INSERT OR IGNORE INTO name SELECT 'part', place, 'P8' FROM entry WHERE seq = 8").unwrap();
    connection.execute_batch(&triggers(sound)).unwrap();
    copy
}

/// The statements that make a sound book's triggers.
fn triggers(sound: &Path) -> String {
    let connection = rusqlite::Connection::open(sound).unwrap();
    let mut ask = connection.prepare("SELECT sql FROM sqlite_schema WHERE type = 'trigger'").unwrap();
    let all: Vec<String> = ask.query_map([], |row| row.get(0)).unwrap().collect::<Result<_, _>>().unwrap();
    all.join(";\n") + ";"
}

#[test]
fn a_cut_tail_shows_only_against_a_checkpoint_held_outside() {
    let (_folder, path) = sound();
    let checkpoint = noted(&path);
    assert!(look(&path, Depth::Rebuild, Some(&checkpoint)).unwrap().ok);
    let shorter = cut(&path, 290);
    let alone = look(&shorter, Depth::Rebuild, None).unwrap();
    assert_eq!(alone.found, [], "without a checkpoint a carefully cut tail cannot show");
    assert!(alone.cannot_show.contains(&"a cut tail without a checkpoint held outside".to_owned()), "and it says so");
    let against = look(&shorter, Depth::Bytes, Some(&checkpoint)).unwrap();
    assert_eq!(found(&against), [(What::Checkpoint, 290)]);
    assert!(!against.cannot_show.iter().any(|limit| limit.starts_with("a cut tail without")));
}

#[test]
fn a_rewritten_record_shows_against_a_checkpoint() {
    let (_folder, path) = sound();
    let checkpoint = noted(&path);
    let (_other_folder, other) = sound();
    let mut book = Book::open(&other, Mode::Write).unwrap();
    act(&mut book, &stamp(9000, T0), vec![draft(id(12, 1), part("X"), &[], T0)], &[]).unwrap();
    drop(book);
    assert!(look(&other, Depth::Bytes, Some(&checkpoint)).unwrap().ok, "a longer log with the same beginning");
    let mut wrong = checkpoint.clone();
    wrong.root[31] ^= 1;
    assert_eq!(found(&look(&other, Depth::Bytes, Some(&wrong)).unwrap()), [(What::Checkpoint, SIZE - 1)]);
    wrong = Checkpoint { log: id(0, 9), ..checkpoint };
    assert_eq!(found(&look(&other, Depth::Bytes, Some(&wrong)).unwrap()), [(What::Checkpoint, 0)]);
}

fn script(path: &Path, checkpoint: Option<&Path>) -> (bool, String) {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/check.py");
    let mut command = Command::new("python3");
    command.arg(script).arg(path).args(checkpoint);
    let output = command.output().unwrap();
    (
        output.status.success(),
        String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr),
    )
}

#[test]
fn the_short_script_agrees() {
    if Command::new("python3").arg("--version").output().is_err() {
        return println!("SKIPPED: there is no python3 here, so docs/check.py was not tried");
    }
    let (folder, path) = sound();
    let checkpoint = folder.path().join("noted.txt");
    std::fs::write(&checkpoint, write(&noted(&path))).unwrap();
    let (fine, said) = script(&path, Some(&checkpoint));
    assert!(fine, "{said}");
    assert!(said.contains(&write(&noted(&path))), "it works the same root out: {said}");
    for (sql, words) in [
        ("UPDATE entry SET bytes = CAST(bytes || x'20' AS BLOB) WHERE seq = 40", "entry 40"),
        ("UPDATE entry SET leaf = zeroblob(32) WHERE seq = 299", "entry 299"),
        ("UPDATE entry SET kind = 'alarm' WHERE seq = 7", "entry 7"),
        ("DELETE FROM entry WHERE seq = 12", "entry 12"),
        ("UPDATE tile SET hash = zeroblob(32)", "entries 0 to 255"),
        ("UPDATE log SET edge = zeroblob(length(edge))", "edge"),
        ("UPDATE block SET bytes = x'00'", "block"),
        ("UPDATE about SET n = 9 WHERE seq = 10", "about"),
    ] {
        let (fine, said) = script(&damaged(&path, sql), None);
        assert!(!fine && said.contains(words), "{sql}: {said}");
    }
    let (fine, said) = script(&cut(&path, 290), None);
    assert!(fine, "{said}");
    let (fine, said) = script(&cut(&path, 290), Some(&checkpoint));
    assert!(!fine && said.contains("checkpoint"), "{said}");
}

#[test]
fn the_lines_on_the_page_read_a_block() {
    if Command::new("python3").arg("--version").output().is_err() {
        return println!("SKIPPED: there is no python3 here, so the lines of docs/format.md were not tried");
    }
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/format.md");
    let page = std::fs::read_to_string(page).unwrap();
    let lines = page.split("```python\n").nth(1).unwrap().split("```").next().unwrap();
    let (_folder, path) = sound();
    let connection = rusqlite::Connection::open(&path).unwrap();
    let bytes: String = connection.query_row("SELECT hex(bytes) FROM block", [], |row| row.get(0)).unwrap();
    let program = format!("{lines}\nprint(read(bytes.fromhex('{bytes}')))");
    let output = Command::new("python3").args(["-c", &program]).output().unwrap();
    let due = format!("('{}', 'logger', [({}, 290000, 290100, 290200, 450000)])\n", id(2, 1), T0 / 1000);
    assert_eq!(String::from_utf8_lossy(&output.stdout), due, "{}", String::from_utf8_lossy(&output.stderr));
}
