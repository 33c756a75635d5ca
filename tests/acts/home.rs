//! A copied book goes on in a log of its own; a stepped clock is written down by whoever writes next.

use crate::shop::{MIN, Shop, T, counted};
use logbook::store::{Book, Mode};
use serde_json::json;
use workshop::Workshop;

fn reading() -> serde_json::Value {
    json!({"act": "reading", "body": {"place": "loft", "temperature": "20 C"}})
}

#[test]
fn a_copy_begins_a_new_log_that_names_the_old() {
    let mut shop = Shop::new();
    let last = shop.done(reading());
    shop.reopen();
    let copy = shop.dir.path().join("copy");
    std::fs::copy(shop.path(), &copy).unwrap();
    let mut other = Workshop::new(&copy, Box::new(shop.clock.clone()), counted(7_000));
    let receipt = other.act(reading()).unwrap();
    let kinds: Vec<&str> = receipt.entries.iter().map(|made| made.kind.as_str()).collect();
    assert_eq!(kinds, ["log-start", "reading"]);
    assert_ne!(receipt.log, last.log);
    let book = Book::open(&copy, Mode::Read).unwrap();
    let start = book.entry_at(&receipt.log, 0).unwrap().unwrap().body.write().unwrap();
    assert_eq!(start["continues"], json!({"log": last.log, "size": last.size, "root": last.root}));
    assert_eq!(book.logs().unwrap().len(), 2);
    assert_eq!(other.act(reading()).unwrap().entries.len(), 1, "it is at home now");
    assert_eq!(shop.done(reading()).log, last.log, "the first book goes on as before");
}

#[test]
fn another_machine_begins_a_new_log() {
    let mut shop = Shop::new();
    let last = shop.done(reading());
    shop.clock.set(|now| now.machine = "machine-2".to_owned());
    assert_ne!(shop.done(reading()).log, last.log);
}

#[test]
fn a_clock_without_a_machine_leaves_no_home() {
    let mut shop = Shop::bare();
    shop.clock.set(|now| now.machine = String::new());
    shop.ok("place", json!({"name": "loft"}));
    let first = shop.done(reading());
    shop.clock.set(|now| now.machine = "machine-1".to_owned());
    assert_eq!(shop.done(reading()).log, first.log, "the first write on a real machine makes it at home");
    shop.clock.set(|now| now.machine = "machine-2".to_owned());
    assert_ne!(shop.done(reading()).log, first.log);
}

#[test]
fn a_made_up_book_says_so() {
    let dir = tempfile::tempdir().unwrap();
    let clock = workshop::clock::FixedClock::at(T);
    let mut door = Workshop::new(&dir.path().join("book"), Box::new(clock), counted(1)).made_up();
    let receipt = door.act(json!({"act": "place", "body": {"name": "loft"}})).unwrap();
    let book = Book::open(&dir.path().join("book"), Mode::Read).unwrap();
    let start = book.entry_at(&receipt.log, 0).unwrap().unwrap().body.write().unwrap();
    assert_eq!(start["made_up"], true);
}

#[test]
fn a_step_of_the_wall_clock_is_written_once_and_bends_nothing() {
    let mut shop = Shop::new();
    shop.clock.advance(MIN);
    shop.clock.step_wall(3_600_000);
    let receipt = shop.done(reading());
    let kinds: Vec<&str> = receipt.entries.iter().map(|made| made.kind.as_str()).collect();
    assert_eq!(kinds, ["clock-step", "reading"]);
    assert_eq!(shop.body(&receipt, "clock-step"), json!({"by_ms": 3_600_000}));
    let entry = shop.entry(&receipt, "reading");
    assert_eq!((entry.happened_ms, entry.entered_ms), (T + MIN, T + MIN + 3_600_000));
    shop.clock.advance(MIN);
    assert_eq!(shop.done(reading()).entries.len(), 1);
}

#[test]
fn a_refused_act_writes_no_step() {
    let mut shop = Shop::new();
    shop.clock.step_wall(3_600_000);
    shop.refused(json!({"act": "reading", "body": {"place": "attic", "temperature": "20 C"}}));
}

#[test]
fn two_doors_on_one_book_take_turns() {
    let mut shop = Shop::new();
    let mut other = Workshop::new(&shop.path(), Box::new(shop.clock.clone()), counted(7_000));
    let mut size = shop.head().unwrap().0;
    for turn in 0..6 {
        let receipt = if turn % 2 == 0 { shop.done(reading()) } else { other.act(reading()).unwrap() };
        size += 1;
        assert_eq!(receipt.size, size);
    }
    let named = json!({"act": "place", "key": "k", "body": {"name": "attic"}});
    let first = shop.done(named.clone());
    let second = other.act(named).unwrap();
    assert_eq!((second.repeat, second.entries), (true, first.entries), "the same key through the other door");
}

#[test]
fn a_book_marked_read_only_is_left_as_it_is() {
    let mut shop = Shop::new();
    let before = shop.head();
    let mark = |shop: &Shop, read_only: bool| {
        let mut marks = std::fs::metadata(shop.path()).unwrap().permissions();
        marks.set_readonly(read_only);
        std::fs::set_permissions(shop.path(), marks).unwrap();
    };
    mark(&shop, true);
    let error = shop.act(reading()).unwrap_err();
    assert_eq!((error.code, error.exit()), ("read-only", 4));
    mark(&shop, false);
    assert_eq!(shop.head(), before);
    shop.done(reading());
}

#[test]
fn a_book_taken_away_and_put_back_is_noticed() {
    let mut shop = Shop::new();
    let last = shop.done(reading());
    shop.reopen();
    let kept = shop.dir.path().join("kept");
    std::fs::copy(shop.path(), &kept).unwrap();
    let newer = shop.done(reading());
    shop.reopen();
    std::fs::remove_file(shop.path()).unwrap();
    std::fs::copy(&kept, shop.path()).unwrap();
    let restored = shop.done(reading());
    assert_ne!(restored.log, last.log, "a restored book never forks the old log");
    assert_eq!(newer.log, last.log);
}

#[test]
fn books_that_cannot_be_used() {
    let mut shop = Shop::new();
    let act = |path: &std::path::Path| {
        let clock = workshop::clock::FixedClock::at(T);
        Workshop::new(path, Box::new(clock), counted(3)).act(reading()).map_err(|error| (error.code, error.exit()))
    };
    let other = shop.dir.path().join("notes.txt");
    std::fs::write(&other, "shopping list").unwrap();
    assert_eq!(act(&other), Err(("not-a-book", 4)));
    assert_eq!(std::fs::read(&other).unwrap(), b"shopping list");
    shop.reopen();
    let newer = shop.dir.path().join("newer");
    std::fs::copy(shop.path(), &newer).unwrap();
    rusqlite::Connection::open(&newer).unwrap().pragma_update(None, "user_version", 999).unwrap();
    assert_eq!(act(&newer), Err(("newer", 4)));
    assert_eq!(act(shop.dir.path()), Err(("not-a-book", 4)));
    assert_eq!(act(&shop.dir.path().join("no/such/folder/book")).map_err(|(_, exit)| exit), Err(4));
}
