//! One key, one act: pressed twice, retried, or used for two things.

use crate::shop::{MIN, Shop};
use serde_json::json;

#[test]
fn the_same_key_repeats_the_receipt() {
    let mut shop = Shop::new();
    let act = json!({"act": "mix", "key": "7f2c", "person": "ann", "body": {"card": "amber", "containers": ["r1", "h1"],
        "resin": "33.2 g", "hardener": "40.0 g", "place": "loft"}});
    let first = shop.done(act.clone());
    let head = shop.head();
    shop.clock.advance(MIN);
    shop.ann("reading", json!({"place": "loft", "temperature": "20 C"}));
    let second = shop.done(act.clone());
    assert!(second.repeat && !first.repeat);
    assert_eq!((&second.log, second.size, &second.root), (&first.log, first.size, &first.root));
    assert_eq!((&second.entries, &second.made, &second.changed), (&first.entries, &first.made, &first.changed));
    assert_eq!(second.owed, first.owed);
    assert_eq!(Some(first.size), head.map(|(size, _)| size), "and the repeat appended nothing");
    assert_eq!(shop.head().unwrap().0, first.size + 1);
}

#[test]
fn the_first_act_of_a_book_repeats_too() {
    let mut shop = Shop::bare();
    let act = json!({"act": "person", "key": "one", "body": {"name": "ann"}});
    let (first, second) = (shop.done(act.clone()), shop.done(act));
    assert_eq!(second.entries, first.entries);
    assert_eq!((second.size, second.repeat), (2, true));
}

#[test]
fn a_key_used_for_another_act_is_a_conflict() {
    let mut shop = Shop::new();
    let reading = |temperature: &str| json!({"act": "reading", "key": "k", "body": {"place": "loft", "temperature": temperature}});
    shop.done(reading("20 C"));
    let error = shop.refused(reading("21 C"));
    assert_eq!((error.code, error.field.as_deref(), error.value.as_deref()), ("conflict", Some("key"), Some("k")));
    assert_eq!(shop.refused(json!({"act": "place", "key": "k", "body": {"name": "attic"}})).code, "conflict");
    let mut late = reading("20 C");
    late["happened"] = json!("2026-11-24T08:00:00Z");
    assert_eq!(shop.refused(late).code, "conflict");
    assert!(shop.done(reading("20 C")).repeat);
}

#[test]
fn a_refused_key_is_free_again() {
    let mut shop = Shop::new();
    let act = |place: &str| json!({"act": "reading", "key": "k", "body": {"place": place, "temperature": "20 C"}});
    assert_eq!(shop.refused(act("attic")).code, "not-found");
    assert!(!shop.done(act("loft")).repeat);
}

#[test]
fn a_key_outlives_the_process() {
    let mut shop = Shop::new();
    let act = json!({"act": "place", "key": "k", "body": {"name": "attic"}});
    let first = shop.done(act.clone());
    let mut later = workshop::Workshop::new(&shop.path(), Box::new(shop.clock.clone()), crate::shop::counted(9_000));
    let again = later.act(act).unwrap();
    assert_eq!((again.repeat, again.entries), (true, first.entries));
}
