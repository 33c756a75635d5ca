//! The store through its own door: appending, looking up, corrections, names, readings.

use crate::common::*;
use logbook::entry::place::{BlockRef, Readings};
use logbook::entry::{Body, Entry, Id};
use logbook::settled::{Seen, settle};
use logbook::store::{Block, Book, Error, Home, Minute, Mode, Noun};
use logbook::tree;

fn minute(at: i64) -> i64 {
    T0 + at * 60_000
}

/// Place, part, batch, bond; returns their ids.
fn furnish(book: &mut Book) -> [Id; 4] {
    let [place_, part_, batch_, bond_] = [id(2, 1), id(3, 1), id(4, 1), id(5, 1)];
    act(book, &stamp(1, minute(1)), vec![draft(place_.clone(), place("bench"), &[], minute(1))], &[]).unwrap();
    act(
        book,
        &stamp(2, minute(2)),
        vec![draft(part_.clone(), part("R3-L"), std::slice::from_ref(&part_), minute(2))],
        &[],
    )
    .unwrap();
    act(
        book,
        &stamp(3, minute(3)),
        vec![
            draft(batch_.clone(), batch("Tue 1"), std::slice::from_ref(&batch_), minute(3)),
            draft(
                bond_.clone(),
                bond(1, &batch_, &part_),
                &[bond_.clone(), part_.clone(), batch_.clone(), part_.clone()],
                minute(3),
            ),
        ],
        &[],
    )
    .unwrap();
    [place_, part_, batch_, bond_]
}

#[test]
fn an_act_comes_back_as_it_was_stored() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.glue");
    let mut book = book(&path);
    let [_, part_, batch_, bond_] = furnish(&mut book);
    let third = book.by_act(&stamp(3, 0).act).unwrap().unwrap();
    act(
        &mut book,
        &stamp(4, minute(4)),
        vec![draft(id(6, 1), press("all-tight", Some(&bond_), None), std::slice::from_ref(&bond_), minute(4))],
        &[],
    )
    .unwrap();
    drop(book);
    let book = Book::open(&path, Mode::Read).unwrap();
    assert_eq!(book.by_act(&stamp(3, 0).act).unwrap().unwrap(), third, "same receipt later");
    assert_eq!(third.head.size, 5);
    let made: Vec<&str> = third.entries.iter().map(|(entry, _)| entry.body.kind()).collect();
    assert_eq!(made, ["batch", "bond"]);
    let bond_entry = book.entry(&bond_).unwrap().unwrap();
    let about: Vec<(Id, u64)> = bond_entry.about.iter().map(|about| (about.id.clone(), about.n)).collect();
    assert_eq!(about, [(bond_.clone(), 1), (part_.clone(), 2), (batch_.clone(), 2)]);
    assert_eq!(book.count_about(&bond_).unwrap(), 2);
    assert_eq!(book.entry_at(&id(0, 1), 4).unwrap().unwrap(), bond_entry);
    for (entry, leaf) in &third.entries {
        assert_eq!(tree::leaf(&entry.to_bytes().unwrap()), *leaf);
    }
    let kinds = |of: &Id| -> Vec<String> { book.naming(of).unwrap().iter().map(|e| e.body.kind().into()).collect() };
    assert_eq!(kinds(&part_), ["part", "bond"]);
    assert_eq!(kinds(&batch_), ["batch", "bond"]);
    assert_eq!(kinds(&bond_), ["bond", "press"]);
    assert_eq!(book.tail(2).unwrap().len(), 2);
    assert_eq!(book.by_act("nobody's").unwrap(), None);
}

#[test]
fn refused_acts_leave_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    let before = book.own().unwrap().unwrap();
    let moved = book.transact(|book| book.append(7, &stamp(1, T0), vec![], &[]));
    assert!(matches!(moved, Err(Error::Moved { expected: 7, found: 1 })));
    let unknown = act(&mut book, &stamp(1, T0), vec![draft(id(3, 1), part("A"), &[id(3, 9)], T0)], &[]);
    assert!(matches!(unknown, Err(Error::Fault(_))));
    let twice = act(&mut book, &stamp(1, T0), vec![draft(id(1, 0), part("A"), &[], T0)], &[]);
    assert!(matches!(twice, Err(Error::Fault(_))));
    let half: Result<(), Error> = book.transact(|book| {
        book.append(1, &stamp(2, T0), vec![draft(id(3, 1), part("A"), &[], T0)], &[])?;
        Err(Error::Fault("on purpose".into()))
    });
    assert!(half.is_err());
    assert_eq!(book.own().unwrap().unwrap(), before);
    assert_eq!(book.entry(&id(3, 1)).unwrap(), None);
    assert!(matches!(book.append(1, &stamp(2, T0), vec![], &[]), Err(Error::Fault(_))), "outside a transaction");
}

#[test]
fn order_never_goes_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    let early = act(&mut book, &stamp(1, T0 - 5_000), vec![draft(id(3, 1), part("A"), &[], T0)], &[]).unwrap();
    assert_eq!(early.entries[0].0.order_ms, T0, "the wall clock went back; order did not");
    assert_eq!(early.entries[0].0.entered_ms, T0 - 5_000);
}

#[test]
fn names_follow_corrections_withdrawals_and_revisions() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    let [_, part_, ..] = furnish(&mut book);
    let other = id(3, 2);
    act(
        &mut book,
        &stamp(5, minute(5)),
        vec![draft(other.clone(), part("R4-L"), std::slice::from_ref(&other), minute(5))],
        &[],
    )
    .unwrap();
    let fix = correction(id(7, 1), &part_, part("R3-R"), std::slice::from_ref(&part_), minute(2));
    act(&mut book, &stamp(6, minute(6)), vec![fix], &[]).unwrap();
    assert_eq!(book.find(Noun::Part, "R3-L").unwrap(), Vec::<Id>::new());
    assert_eq!(book.find(Noun::Part, "R3-R").unwrap(), std::slice::from_ref(&part_));
    assert_eq!(book.find(Noun::Part, &part_).unwrap(), std::slice::from_ref(&part_));
    assert_eq!(book.find(Noun::Place, &part_).unwrap(), Vec::<Id>::new());
    // The correction is withdrawn: the old mark is back.
    act(
        &mut book,
        &stamp(7, minute(7)),
        vec![draft(id(8, 1), withdrawn(&id(7, 1)), std::slice::from_ref(&part_), minute(7))],
        &[],
    )
    .unwrap();
    assert_eq!(book.find(Noun::Part, "R3-L").unwrap(), std::slice::from_ref(&part_));
    // The part is withdrawn, then that withdrawal is.
    act(
        &mut book,
        &stamp(8, minute(8)),
        vec![draft(id(8, 2), withdrawn(&part_), std::slice::from_ref(&part_), minute(8))],
        &[],
    )
    .unwrap();
    assert_eq!(book.find(Noun::Part, "R3-L").unwrap(), Vec::<Id>::new());
    assert_eq!(book.find(Noun::Part, &part_).unwrap(), Vec::<Id>::new());
    assert_eq!(book.list(Noun::Part).unwrap(), [("R4-L".to_owned(), other)]);
    act(
        &mut book,
        &stamp(9, minute(9)),
        vec![draft(id(8, 3), withdrawn(&id(8, 2)), std::slice::from_ref(&part_), minute(9))],
        &[],
    )
    .unwrap();
    assert_eq!(book.find(Noun::Part, "R3-L").unwrap(), [part_]);
}

#[test]
fn settling_sees_only_what_was_known() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    let [_, _, _, bond_] = furnish(&mut book);
    let tight = id(6, 1);
    let about = [bond_.clone()];
    let body = press("all-tight", Some(&bond_), None);
    act(&mut book, &stamp(4, minute(10)), vec![draft(tight.clone(), body.clone(), &about, minute(10))], &[]).unwrap();
    let fix = correction(id(7, 1), &tight, body, &about, minute(8));
    act(&mut book, &stamp(5, minute(20)), vec![fix], &[]).unwrap();
    act(&mut book, &stamp(6, minute(30)), vec![draft(id(8, 1), withdrawn(&tight), &about, minute(30))], &[]).unwrap();
    let entries: Vec<Entry> = book.naming(&bond_).unwrap();
    let when = |at: i64, known: i64| {
        let settled = settle(&entries, Seen { at_ms: minute(at), known_ms: minute(known) });
        settled.iter().find(|one| one.entry.id == tight).map(|one| (one.happened_ms, one.corrected_by.is_some()))
    };
    assert_eq!(when(15, 15), Some((minute(10), false)));
    assert_eq!(when(15, 25), Some((minute(8), true)));
    assert_eq!(when(9, 25), Some((minute(8), true)), "the corrected instant lies before 9");
    assert_eq!(when(9, 15), None, "not yet happened as then known");
    assert_eq!(when(40, 40), None, "withdrawn");
    let reversed: Vec<Entry> = entries.iter().rev().cloned().collect();
    assert_eq!(settle(&entries, Seen::ALL), settle(&reversed, Seen::ALL), "any order gives the same");
}

#[test]
fn what_may_be_live() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    let [_, part_, batch_, bond_] = furnish(&mut book);
    let live = book.live().unwrap();
    assert_eq!((live.bonds, live.batches), (vec![bond_.clone()], vec![batch_.clone()]));
    let about = [bond_.clone(), part_];
    act(
        &mut book,
        &stamp(5, minute(5)),
        vec![draft(id(6, 1), press("used", Some(&bond_), None), &about, minute(5))],
        &[],
    )
    .unwrap();
    act(
        &mut book,
        &stamp(6, minute(6)),
        vec![draft(id(6, 2), press("pot-done", None, Some(&batch_)), std::slice::from_ref(&batch_), minute(6))],
        &[],
    )
    .unwrap();
    assert_eq!(book.live().unwrap(), Default::default());
    act(&mut book, &stamp(7, minute(7)), vec![draft(id(8, 1), withdrawn(&id(6, 1)), &about, minute(7))], &[]).unwrap();
    assert_eq!(book.live().unwrap().bonds, std::slice::from_ref(&bond_));
    book.transact(|book| book.rest(&[resting(&bond_)])).unwrap();
    assert_eq!(book.resting().unwrap(), [resting(&bond_)]);
    act(
        &mut book,
        &stamp(8, minute(8)),
        vec![draft(id(6, 3), press("re-tightened", Some(&bond_), None), &about, minute(8))],
        &[],
    )
    .unwrap();
    assert_eq!(book.live().unwrap().bonds, [bond_]);
    assert_eq!(book.resting().unwrap(), [], "a press wakes it");
}

/// A bond at rest.
fn resting(bond: &Id) -> logbook::store::Resting {
    let (id, model, kept) = (bond.clone(), "made-up".to_owned(), "{}".to_owned());
    logbook::store::Resting { id, first_ms: T0, last_ms: T0 + 60_000, zone_min: Some(60), model, kept }
}

#[test]
fn hand_readings_reach_one_beyond_each_end() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    let [place_, ..] = furnish(&mut book);
    for n in 0..6 {
        let at = minute(10 + 10 * n as i64);
        act(&mut book, &stamp(10 + n, at), vec![draft(id(9, n), reading(&place_, 290_000), &[], at)], &[]).unwrap();
    }
    let ids = |book: &Book| -> Vec<Id> {
        book.hand_readings(&place_, minute(25), minute(35)).unwrap().into_iter().map(|entry| entry.id).collect()
    };
    assert_eq!(ids(&book), [id(9, 1), id(9, 2), id(9, 3)]);
    // The one before is withdrawn: the one before it comes too, and the withdrawal.
    act(&mut book, &stamp(30, minute(80)), vec![draft(id(8, 1), withdrawn(&id(9, 1)), &[], minute(80))], &[]).unwrap();
    assert_eq!(ids(&book), [id(9, 0), id(9, 1), id(9, 2), id(9, 3), id(8, 1)]);
    // A far one is corrected into the stretch.
    let fix = correction(id(7, 1), &id(9, 5), reading(&place_, 291_000), &[], minute(31));
    act(&mut book, &stamp(31, minute(81)), vec![fix], &[]).unwrap();
    assert!(ids(&book).contains(&id(9, 5)) && ids(&book).contains(&id(7, 1)));
}

fn file(place: &Id, blocks: &[Block]) -> Body {
    Body::Readings(Readings {
        place: place.clone(),
        source: "logger".into(),
        from_ms: T0,
        to_ms: T0,
        count: 1,
        file_sha256: "00".repeat(32),
        file_name: "a.csv".into(),
        blocks: blocks.iter().map(|b| BlockRef { hour_ms: b.hour_ms, sha256: b.sha256().unwrap() }).collect(),
        skipped: None,
        instrument: None,
    })
}

#[test]
fn late_blocks_of_one_source_merge_to_the_outer_ends() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    let [place_, ..] = furnish(&mut book);
    let block = |low, mean, high, at| Block {
        place: place_.clone(),
        source: "logger".into(),
        hour_ms: T0,
        minutes: vec![Minute { at_ms: minute(at), low_mk: low, mean_mk: mean, high_mk: high, humidity_ppm: None }],
    };
    let (first, late, other) = (block(290, 291, 295, 5), block(289, 294, 294, 5), block(280, 280, 280, 6));
    for (n, b) in [&first, &late, &other].into_iter().enumerate() {
        let at = minute(60 + n as i64);
        let blocks = std::slice::from_ref(b);
        act(
            &mut book,
            &stamp(40 + n as u64, at),
            vec![draft(id(10, n as u64), file(&place_, blocks), &[], at)],
            blocks,
        )
        .unwrap();
    }
    let at_known = |known| book.minutes(&place_, T0, minute(59), known).unwrap();
    assert_eq!(at_known(minute(59)).len(), 0);
    assert_eq!(at_known(minute(60))[0].minutes, first.minutes);
    let all = at_known(minute(70)).remove(0);
    let merged = Minute { at_ms: minute(5), low_mk: 289, mean_mk: 292, high_mk: 295, humidity_ppm: None };
    assert_eq!(all.minutes, [merged, other.minutes[0]]);
    assert_eq!(all.blocks.len(), 3);
    act(&mut book, &stamp(50, minute(90)), vec![draft(id(8, 1), withdrawn(&id(10, 1)), &[], minute(90))], &[]).unwrap();
    assert_eq!(book.minutes(&place_, T0, minute(5), minute(95)).unwrap()[0].minutes, first.minutes);
    assert_eq!(book.minutes(&place_, T0, minute(5), minute(80)).unwrap()[0].minutes, [merged]);
}

#[test]
fn boots_home_and_a_second_log() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    furnish(&mut book);
    let turns = |book: &Book| -> Vec<(u64, bool)> {
        book.turns(&book.own().unwrap().unwrap().log)
            .unwrap()
            .into_iter()
            .map(|turn| (turn.entry.seq, turn.starts))
            .collect()
    };
    assert_eq!(turns(&book), [(0, true)]);
    let size = book.own().unwrap().unwrap().size;
    let sure = Body::TimeConfirmed(logbook::entry::book::TimeConfirmed { shown_ms: T0, by: "person".into() });
    act(&mut book, &stamp(5, minute(5)), vec![draft(id(11, 1), sure, &[], minute(5))], &[]).unwrap();
    assert_eq!(turns(&book), [(0, true), (size, false)]);
    let home = Home { machine: "m".into(), file: "f".into() };
    assert_eq!(book.home().unwrap(), None);
    book.transact(|book| book.set_home(&home)).unwrap();
    assert_eq!(book.home().unwrap(), Some(home));
    let old = book.own().unwrap().unwrap();
    let begun = book.transact(|book| {
        let mut start = start();
        start.id = id(1, 1);
        book.begin_log(&id(0, 2), &stamp(6, minute(6)), start)
    });
    assert_eq!(begun.unwrap().head.size, 1);
    assert_eq!(book.own().unwrap().unwrap().log, id(0, 2));
    assert_eq!(book.logs().unwrap()[0], old);
    assert!(book.by_act(&stamp(5, 0).act).unwrap().is_some(), "acts of the older own log are still known");
}

#[test]
fn an_older_book_is_brought_up_by_a_writer_and_left_alone_by_a_reader() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.glue");
    let mut book = book(&path);
    let [_, _, batch_, bond_] = furnish(&mut book);
    drop(book);
    // The tables as the first build made them.
    let old = "DROP TABLE rest; ALTER TABLE live ADD COLUMN rest INTEGER NOT NULL DEFAULT 0;
        CREATE INDEX live_awake ON live (place) WHERE rest = 0; PRAGMA user_version = 1;";
    rusqlite::Connection::open(&path).unwrap().execute_batch(old).unwrap();
    let before = std::fs::read(&path).unwrap();
    let read = Book::open(&path, Mode::Read).err();
    assert!(matches!(read, Some(Error::Older { found: 1, known: 2 })), "{read:?}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
    drop(Book::open(&path, Mode::Write).unwrap());
    let book = Book::open(&path, Mode::Read).unwrap();
    let live = book.live().unwrap();
    assert_eq!((live.bonds, live.batches), (vec![bond_], vec![batch_]));
}
