//! A working session: said once, kept four hours, for the same person, stored with source and age.

use crate::shop::{MIN, Shop};
use serde_json::{Value, json};

/// A bond on a batch of nobody's, so that only the session can tell its place.
fn bond(shop: &mut Shop, person: &str, joint: &str) -> Value {
    let press = shop.done(json!({"act": "press", "body": {"press": "hardener-in"}}));
    let batch = press.changed.iter().find_map(|it| it.strip_prefix("batch:")).unwrap().to_owned();
    let receipt = shop.done(json!({"act": "bond", "person": person, "body": {"batches": [batch], "joints": [joint]}}));
    shop.body(&receipt, "bond")
}

#[test]
fn place_moisture_and_cans_are_inherited_with_source_and_age() {
    let mut shop = Shop::new();
    let reading = shop.ann("reading", json!({"place": "store", "temperature": "19 C", "wood": "9.8 %"}));
    let source = shop.entry(&reading, "reading").id;
    shop.clock.advance(30 * MIN);
    let first = shop.ann(
        "mix",
        json!({"card": "amber", "containers": ["r1", "h1"], "resin": "40.0 g", "hardener": "33.2 g", "place": "loft"}),
    );
    shop.clock.advance(30 * MIN);
    let body = bond(&mut shop, "ann", "R1-L/J1");
    assert_eq!(body["moisture"]["ppm"], 98_000);
    assert_eq!(body["moisture_from"], json!({"entry": source, "age_ms": 60 * MIN}));
    let mixed = shop.entry(&first, "mix");
    assert_eq!(
        body["place_from"],
        json!({"entry": mixed.id, "age_ms": 30 * MIN}),
        "where she mixed, not where the wood lay"
    );
    let second = shop.ann("mix", json!({"card": "amber", "resin": "10.0 g", "hardener": "8.3 g"}));
    let second = shop.body(&second, "mix");
    assert_eq!(second["containers"], mixed.body.write().unwrap()["containers"]);
    assert_eq!(second["containers_from"], json!({"entry": mixed.id, "age_ms": 30 * MIN}));
    assert_eq!(second["place_from"]["entry"], json!(mixed.id));
}

#[test]
fn another_person_inherits_nothing() {
    let mut shop = Shop::new();
    shop.ann("reading", json!({"place": "store", "temperature": "19 C", "wood": "9.8 %"}));
    let body = bond(&mut shop, "ben", "R1-L/J1");
    assert!(body["moisture"].is_null() && body["place"].is_null(), "{body}");
}

#[test]
fn a_session_ends_after_four_hours() {
    let mut shop = Shop::new();
    shop.ann("reading", json!({"place": "store", "temperature": "19 C", "wood": "9.8 %"}));
    shop.clock.advance(4 * 60 * MIN - 1);
    assert_eq!(bond(&mut shop, "ann", "R1-L/J1")["moisture"]["ppm"], 98_000);
    shop.clock.advance(1);
    let body = bond(&mut shop, "ann", "R1-L/J2");
    assert!(body["moisture"].is_null() && body["place"].is_null(), "what was inherited is not passed on: {body}");
}

#[test]
fn a_past_week_typed_in_late_inherits_as_one_lived() {
    let mut shop = Shop::new();
    let at = |hour: &str| format!("2026-11-17T{hour}:00Z");
    shop.done(json!({"act": "reading", "person": "ann", "happened": at("08:00"), "body": {"place": "loft", "temperature": "19 C", "wood": "11 %"}}));
    shop.done(json!({"act": "mix", "person": "ann", "happened": at("09:00"), "body": {"card": "amber", "containers": ["r1", "h1"],
        "resin": "40.0 g", "hardener": "33.2 g"}}));
    let receipt = shop.done(json!({"act": "bond", "person": "ann", "happened": at("09:30"), "body": {"batches": ["Tue 1"], "joints": ["R1-L/J1"]}}));
    let body = shop.body(&receipt, "bond");
    assert_eq!((&body["moisture_from"]["age_ms"], &body["place_from"]["age_ms"]), (&json!(90 * MIN), &json!(90 * MIN)));
}

#[test]
fn what_was_taken_back_or_corrected_counts_as_it_stands() {
    let mut shop = Shop::new();
    let reading = shop.ann("reading", json!({"place": "loft", "temperature": "19 C", "wood": "9.8 %"}));
    let id = shop.entry(&reading, "reading").id;
    shop.ann(
        "correct",
        json!({"entry": id, "why": "misread", "body": {"place": "loft", "temperature": "19 C", "wood": "12 %"}}),
    );
    assert_eq!(bond(&mut shop, "ann", "R1-L/J1")["moisture"]["ppm"], 120_000);
    shop.ann("withdraw", json!({"entry": id, "why": "other pile"}));
    assert!(bond(&mut shop, "ann", "R1-L/J2")["moisture"].is_null());
}
