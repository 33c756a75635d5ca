//! Scan steps: no statement of an append, a receipt or a question about a subject steps through a table.

#[path = "../../tests/logbook/common.rs"]
#[expect(dead_code, reason = "the other tests use the rest")]
mod common;

use super::{Book, Wanted};
use crate::settled::Seen;
use common::*;
use rusqlite::StatementStatus;

/// Every statement of the hot paths, with its file's name.
const HOT: &[(&str, &str)] = &[
    ("own_log", include_str!("own_log.sql")),
    ("thing_by_id", include_str!("thing_by_id.sql")),
    ("subject", include_str!("subject.sql")),
    ("last_about", include_str!("last_about.sql")),
    ("insert_about", include_str!("insert_about.sql")),
    ("insert_refer", include_str!("insert_refer.sql")),
    ("insert_entry", include_str!("insert_entry.sql")),
    ("move_log", include_str!("move_log.sql")),
    ("set_name", include_str!("set_name.sql")),
    ("set_live", include_str!("set_live.sql")),
    ("any_rest", include_str!("any_rest.sql")),
    ("woken_by", include_str!("woken_by.sql")),
    ("wake", include_str!("wake.sql")),
    ("wake_named", include_str!("wake_named.sql")),
    ("bonds_naming", include_str!("bonds_naming.sql")),
    ("ahead", include_str!("ahead.sql")),
    ("amendments", include_str!("amendments.sql")),
    ("naming", include_str!("naming.sql")),
    ("find", include_str!("find.sql")),
    ("by_act", include_str!("by_act.sql")),
    ("entry_by_id", include_str!("entry_by_id.sql")),
    ("entry_by_place", include_str!("entry_by_place.sql")),
    ("hand_within", include_str!("hand_within.sql")),
    ("hand_before", include_str!("hand_before.sql")),
    ("cover", include_str!("cover.sql")),
    ("page", include_str!("page.sql")),
    ("page_about", include_str!("page_about.sql")),
    ("page_naming", include_str!("page_naming.sql")),
    ("joints_of", include_str!("joints_of.sql")),
];

fn runs(book: &Book, sql: &str) -> (i32, i32) {
    let statement = book.sql(sql).unwrap();
    (statement.get_status(StatementStatus::Run), statement.get_status(StatementStatus::FullscanStep))
}

/// Pages of all entries, of a place that is only named, and of a part that entries are about.
fn pages(book: &Book, spot: &str, part: &str) {
    let log = book.own().unwrap().unwrap().log;
    let wanted = Wanted { about: None, kind: None, seen: Seen::ALL, before: u64::MAX, most: 10 };
    for (about, kind, count) in
        [(None, None, 10), (None, Some("place"), 1), (Some(spot), Some("reading"), 10), (Some(part), Some("bond"), 1)]
    {
        let page = book.page(&log, Wanted { about, kind, ..wanted }).unwrap();
        assert_eq!(page.entries.len(), count, "{about:?} {kind:?}");
    }
    assert!(book.joints_of(part).unwrap().is_empty());
}

#[test]
fn hot_statements_take_no_scan_step() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    let (spot, pot, joint) = (id(2, 1), id(4, 1), id(5, 1));
    act(&mut book, &stamp(1, T0), vec![draft(spot.clone(), place("bench"), &[], T0)], &[]).unwrap();
    let parts = (0..500).map(|n| draft(id(3, n), part(&format!("P{n}")), &[id(3, n)], T0)).collect();
    act(&mut book, &stamp(2, T0), parts, &[]).unwrap();
    let about = [joint.clone(), id(3, 7), pot.clone()];
    let glued = vec![
        draft(pot.clone(), batch("Tue 1"), std::slice::from_ref(&pot), T0),
        draft(joint.clone(), bond(1, &pot, &id(3, 7)), &about, T0),
    ];
    act(&mut book, &stamp(3, T0), glued, &[]).unwrap();
    let kept = (T0, T0 + 60_000, "made-up".to_owned(), String::new());
    let (first_ms, last_ms, model, kept) = kept;
    let resting = super::Resting { id: joint.clone(), first_ms, last_ms, zone_min: Some(60), model, kept };
    book.transact(|book| book.rest(&[resting])).unwrap();
    assert!(!book.ahead_of(T0).unwrap());
    for n in 0..50 {
        let tight = draft(id(6, n), press("re-tightened", Some(&joint), None), &about, T0);
        act(
            &mut book,
            &stamp(10 + n, T0),
            vec![tight, draft(id(9, n), reading(&spot, 290_000), &[], T0 + n as i64)],
            &[],
        )
        .unwrap();
    }
    assert_eq!(book.naming(&id(3, 7)).unwrap().len(), 52);
    assert_eq!(book.by_act(&stamp(20, T0).act).unwrap().unwrap().entries.len(), 2);
    assert_eq!(book.find(super::Noun::Part, "P7").unwrap(), [id(3, 7)]);
    assert_eq!(book.hand_readings(&spot, T0 + 10, T0 + 20).unwrap().len(), 13);
    assert!(book.entry(&joint).unwrap().is_some());
    pages(&book, &spot, &id(3, 7));
    for (name, sql) in HOT {
        let (run, steps) = runs(&book, sql);
        assert!(run > 0, "{name} did not run");
        let again = book.sql(sql).unwrap().get_status(StatementStatus::RePrepare);
        assert_eq!(again, 0, "{name} was planned anew");
        assert_eq!(steps, 0, "{name} stepped through a table");
    }
}
