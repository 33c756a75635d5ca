//! Edits by SQL: each is named by kind and entry.

use super::*;

/// What a change must be found as, among other things, at a depth.
fn names(sql: &str, depth: Depth, what: What, seq: u64) {
    let (_folder, path) = sound();
    let report = look(&damaged(&path, sql), depth, None).unwrap();
    assert!(!report.ok);
    assert!(found(&report).contains(&(what, seq)), "{sql}\n{:#?}", report.found);
}

#[test]
fn columns() {
    for (column, value) in [
        ("log", "'00000000-0000-4000-8000-000000000009'"),
        ("seq", "7000"),
        ("id", "'x'"),
        ("kind", "'alarm'"),
        ("act", "'x'"),
        ("entered_ms", "1"),
        ("happened_ms", "1"),
        ("order_ms", "1"),
    ] {
        names(&format!("UPDATE entry SET {column} = {value} WHERE seq = 40"), Depth::Bytes, What::Column, 40);
    }
    names("UPDATE entry SET leaf = zeroblob(32) WHERE seq = 40", Depth::Bytes, What::Leaf, 40);
    names("UPDATE entry SET leaf = x'00' WHERE seq = 299", Depth::Bytes, What::Leaf, 299);
}

#[test]
fn every_sampled_byte_of_entries() {
    let (_folder, path) = sound();
    let copy = damaged(&path, "");
    let connection = rusqlite::Connection::open(&copy).unwrap();
    for seq in [0u64, 4, 5, 6, 255, 256, 299] {
        let get = "SELECT bytes FROM entry WHERE seq = ?1";
        let bytes: Vec<u8> = connection.query_row(get, [seq as i64], |row| row.get(0)).unwrap();
        for at in (0..bytes.len()).step_by(41) {
            let mut changed = bytes.clone();
            changed[at] ^= 1 << (at % 8);
            let set = "UPDATE entry SET bytes = ?1 WHERE seq = ?2";
            connection.execute(set, rusqlite::params![changed, seq as i64]).unwrap();
            let report = look(&copy, Depth::Bytes, None).unwrap();
            assert!(!report.ok);
            assert_eq!(found(&report)[0], (What::Leaf, seq), "byte {at}: {:#?}", report.found);
            let beyond: Vec<_> = report.found.iter().filter(|found| found.what == What::Tile).collect();
            assert!(beyond.is_empty(), "the tree is not blamed for one entry: {beyond:?}");
            connection.execute(set, rusqlite::params![bytes, seq as i64]).unwrap();
        }
    }
}

#[test]
fn a_changed_entry_with_its_leaf_worked_out_anew_shows_in_the_tree() {
    for (seq, first) in [(40u64, 0u64), (280, 256), (299, 296)] {
        let (_folder, path) = sound();
        let copy = damaged(&path, "");
        let connection = rusqlite::Connection::open(&copy).unwrap();
        let bytes: Vec<u8> =
            connection.query_row("SELECT bytes FROM entry WHERE seq = ?1", [seq as i64], |row| row.get(0)).unwrap();
        let text = String::from_utf8(bytes).unwrap().replace("\"zone_min\":60", "\"zone_min\":61");
        let leaf = logbook::tree::leaf(text.as_bytes());
        connection
            .execute(
                "UPDATE entry SET bytes = ?1, leaf = ?2 WHERE seq = ?3",
                rusqlite::params![text.as_bytes(), leaf.as_slice(), seq as i64],
            )
            .unwrap();
        let report = look(&copy, Depth::Bytes, None).unwrap();
        assert_eq!(found(&report), [(What::Tile, first)], "{seq}: {:#?}", report.found);
    }
}

#[test]
fn rows_deleted_inserted_swapped_and_redated() {
    names("DELETE FROM entry WHERE seq = 40", Depth::Bytes, What::Gap, 40);
    names("DELETE FROM entry WHERE seq = 0", Depth::Bytes, What::Gap, 0);
    names("DELETE FROM entry WHERE seq BETWEEN 250 AND 260", Depth::Bytes, What::Gap, 250);
    names("DELETE FROM entry WHERE seq = 299", Depth::Bytes, What::Gap, 299);
    let swap = "UPDATE entry SET place = -1 WHERE seq = 40; UPDATE entry SET place = place - 1 WHERE seq = 41;
        UPDATE entry SET place = (SELECT place FROM entry WHERE seq = 41) + 1 WHERE seq = 40;";
    names(swap, Depth::Bytes, What::Order, 40);
    names(swap, Depth::Bytes, What::Order, 41);
    let insert =
        "INSERT INTO entry SELECT place + 1, log, 300, 'x', kind, act, entered_ms, happened_ms, order_ms, leaf, bytes
        FROM entry WHERE seq = 299";
    names(insert, Depth::Bytes, What::Order, 300);
    let shift = "DELETE FROM entry WHERE seq = 40; UPDATE entry SET seq = seq - 1, place = place - 1 WHERE seq > 40;
        UPDATE log SET size = size - 1;";
    names(shift, Depth::Bytes, What::Order, 40);
    let redated = "UPDATE entry SET bytes = CAST(replace(CAST(bytes AS TEXT), '\"happened_ms\":1', '\"happened_ms\":2') AS BLOB) WHERE seq = 40";
    names(redated, Depth::Bytes, What::Leaf, 40);
}

#[test]
fn tiles_edge_and_blocks() {
    names("UPDATE tile SET hash = zeroblob(32)", Depth::Bytes, What::Tile, 0);
    names("DELETE FROM tile", Depth::Bytes, What::Tile, 0);
    names("INSERT INTO tile VALUES (1, 1, 1, zeroblob(32))", Depth::Bytes, What::Tile, 256);
    names("UPDATE log SET edge = zeroblob(length(edge))", Depth::Bytes, What::Tile, 0);
    names("UPDATE log SET edge = x'00'", Depth::Bytes, What::Tile, 299);
    names("UPDATE block SET bytes = CAST(bytes || x'00' AS BLOB)", Depth::Bytes, What::Block, 5);
    names("DELETE FROM block", Depth::Bytes, What::Block, 5);
    names("DROP TABLE block", Depth::Bytes, What::Block, 5);
    names("DROP TABLE tile", Depth::Bytes, What::Tile, 0);
}

#[test]
fn every_byte_of_a_block() {
    let (_folder, path) = sound();
    let copy = damaged(&path, "");
    let connection = rusqlite::Connection::open(&copy).unwrap();
    let bytes: Vec<u8> = connection.query_row("SELECT bytes FROM block", [], |row| row.get(0)).unwrap();
    for at in 0..bytes.len() {
        let mut changed = bytes.clone();
        changed[at] ^= 1 << (at % 8);
        connection.execute("UPDATE block SET bytes = ?1", [changed]).unwrap();
        let report = look(&copy, Depth::Bytes, None).unwrap();
        assert_eq!(found(&report), [(What::Block, 5)]);
    }
}

#[test]
fn read_models() {
    let rebuild = |sql: &str, seq: u64| names(sql, Depth::Rebuild, What::ReadModel, seq);
    rebuild("UPDATE name SET name = 'R3-L' WHERE noun = 'part' AND name = 'R3-R'", 2);
    rebuild("DELETE FROM name WHERE name = 'bench'", 1);
    rebuild("DELETE FROM about WHERE seq = 4", 4);
    rebuild("UPDATE about SET n = 9 WHERE seq = 10", 10);
    rebuild("DELETE FROM refer WHERE (place & 1099511627775) = 9", 9);
    rebuild("DELETE FROM amend", 6);
    rebuild("DELETE FROM live WHERE what = 'bond'", 4);
    rebuild("INSERT INTO live SELECT place, 'bond' FROM entry WHERE seq = 20", 20);
    rebuild("UPDATE hand SET at_ms = 0", 9);
    rebuild("DELETE FROM hour", 5);
    rebuild("DELETE FROM turn", 0);
    rebuild("INSERT INTO turn SELECT place, 1 FROM entry WHERE seq = 20", 20);
    names("DROP TABLE hand; UPDATE name SET name = 'x' WHERE name = 'bench'", Depth::Rebuild, What::ReadModel, 1);
}

#[test]
fn resting_is_no_damage() {
    let (_folder, path) = sound();
    let mut book = Book::open(&path, logbook::store::Mode::Write).unwrap();
    let resting = logbook::store::Resting {
        id: id(5, 1),
        first_ms: 0,
        last_ms: 1,
        zone_min: Some(0),
        model: "made-up".to_owned(),
        kept: String::new(),
    };
    book.transact(|book| book.rest(&[resting])).unwrap();
    drop(book);
    assert!(look(&path, Depth::Rebuild, None).unwrap().ok);
}

#[test]
fn dropped_triggers_and_tables_are_said() {
    let (_folder, path) = sound();
    let report = look(&damaged(&path, ""), Depth::Bytes, None).unwrap();
    assert!(!report.ok);
    assert!(
        report.found.iter().any(|found| found.sentence == "the trigger entry_stays is missing"),
        "{:?}",
        report.found
    );
    for table in ["entry", "log"] {
        let copy = damaged(&path, &format!("DROP TABLE {table}"));
        assert!(matches!(look(&copy, Depth::Rebuild, None), Err(Error::Damaged(_))), "{table}");
        assert!(matches!(Book::open(&copy, logbook::store::Mode::Read), Err(Error::Damaged(_))), "{table}");
    }
    let strange = damaged(&path, "CREATE TRIGGER sly AFTER INSERT ON entry BEGIN SELECT 1; END");
    let report = look(&strange, Depth::Bytes, None).unwrap();
    assert!(report.found.iter().any(|found| found.sentence == "there is a trigger sly that no book has"));
}

#[test]
fn triggers_stand_in_the_way() {
    let (_folder, path) = sound();
    let connection = rusqlite::Connection::open(&path).unwrap();
    for sql in [
        "UPDATE entry SET act = 'x' WHERE seq = 1",
        "DELETE FROM entry WHERE seq = 299",
        "INSERT OR REPLACE INTO entry SELECT * FROM entry WHERE seq = 1",
        "INSERT OR REPLACE INTO entry SELECT place + 1000, log, seq, id, kind, act, entered_ms, happened_ms, order_ms, leaf, bytes FROM entry WHERE seq = 1",
        "UPDATE tile SET hash = zeroblob(32)",
        "DELETE FROM block",
        "DELETE FROM log",
    ] {
        let error = connection.execute_batch(sql).expect_err(sql).to_string();
        assert!(error.contains("never"), "{sql}: {error}");
    }
    drop(connection);
    assert!(look(&path, Depth::Rebuild, None).unwrap().ok);
}

#[test]
fn meaning_sees_what_hashes_cannot() {
    // A book forged as a whole, every hash right: only what the entries say gives it away.
    let forged = |n: u64, change: &dyn Fn(logbook::entry::Draft) -> logbook::entry::Draft| {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("forged.glue");
        let mut book = book(&path);
        let (spot, rib) = (id(2, 1), id(3, 1));
        act(&mut book, &stamp(1, T0), vec![draft(spot.clone(), place("bench"), &[], T0)], &[]).unwrap();
        act(&mut book, &stamp(2, T0), vec![draft(rib.clone(), part("R3-L"), &[rib], T0)], &[]).unwrap();
        let odd = change(draft(id(6, n), reading(&spot, 290_000), &[], T0));
        act(&mut book, &stamp(3, T0), vec![odd], &[]).unwrap();
        drop(book);
        assert!(look(&path, Depth::Bytes, None).unwrap().ok);
        found(&look(&path, Depth::Meaning, None).unwrap())
    };
    assert_eq!(forged(1, &|sound| sound), []);
    let nowhere = |mut draft: logbook::entry::Draft| {
        draft.body = reading(&id(2, 9), 290_000);
        draft
    };
    assert_eq!(forged(2, &nowhere), [(What::Reference, 3)]);
    let wrong_kind = |mut draft: logbook::entry::Draft| {
        draft.body = reading(&id(3, 1), 290_000);
        draft
    };
    assert_eq!(forged(3, &wrong_kind), [(What::Reference, 3)]);
    let correction_of_another_kind = |mut draft: logbook::entry::Draft| {
        draft.corrects = Some(id(3, 1));
        draft
    };
    assert_eq!(forged(4, &correction_of_another_kind), [(What::Reference, 3)]);
    let nobody = |mut draft: logbook::entry::Draft| {
        draft.person = Some(id(2, 1));
        draft
    };
    assert_eq!(forged(5, &nobody), [(What::Reference, 3)]);
    let unknown = |mut draft: logbook::entry::Draft| {
        draft.body = Body::Unknown("spell".into(), serde_json::json!({}));
        draft
    };
    assert_eq!(forged(6, &unknown), [(What::NotCanonical, 3)]);
    let issued = |mut draft: logbook::entry::Draft| {
        let counts = vec![logbook::entry::About { id: id(3, 1), n: 2 }];
        draft.body = Body::Issued(logbook::entry::book::Issued { subject: id(3, 1), counts });
        draft
    };
    assert_eq!(forged(7, &issued), [(What::Gap, 3)]);
    let claim = |mut draft: logbook::entry::Draft| {
        let checkpoint = logbook::entry::book::Continues { log: log(), size: 2, root: "AAAA".into() };
        draft.body = Body::CheckpointGiven(logbook::entry::book::CheckpointGiven { to: None, checkpoint });
        draft
    };
    assert_eq!(forged(8, &claim), [(What::Checkpoint, 3)]);
}
