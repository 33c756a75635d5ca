//! `--at` and `--known-at`.

use super::shape::refused;
use super::shop::{at, told, with_a_bond};
use serde_json::{Value, json};
use tests::binary::Shop;

fn clamp(shop: &Shop, words: &[&str]) -> Value {
    let all: Vec<&str> = ["--json", "clocks", "1"].iter().copied().chain(words.iter().copied()).collect();
    let done = shop.run(&all);
    assert_eq!(done.status, 0, "{done:?}");
    let clocks = done.object()["clocks"].clone();
    clocks.as_array().unwrap().iter().find(|clock| clock["clock"] == "clamp").cloned().unwrap_or(Value::Null)
}

#[test]
fn what_happened_later_does_not_exist() {
    let shop = with_a_bond();
    assert_eq!(clamp(&shop, &["--at", &at("09:21")])["started"], at("09:20"));
    assert_eq!(clamp(&shop, &["--at", &at("09:19")])["started"], Value::Null, "not tight yet");
    refused(&shop.run(&["--json", "clocks", "1", "--at", &at("09:04")]), 2, "not-found");
}

#[test]
fn what_was_entered_later_does_not_exist() {
    let shop = with_a_bond();
    let done = shop.run(&["--json", "clocks", "1", "--known-at", &at("18:00")]);
    refused(&done, 2, "not-found");
    let all = shop.run(&["--json", "clocks", "1", "--known-at", "2199-01-01T00:00:00Z", "--at", &at("18:00")]);
    assert_eq!(all.status, 0, "{all:?}");
}

#[test]
fn the_same_instant_in_another_zone_is_the_same_instant() {
    let shop = with_a_bond();
    let zones = ["2026-01-13T18:00:00Z", "2026-01-13T19:30:00+01:30", "2026-01-13T18:00:00.000+00:00"];
    let answers: Vec<Value> = zones.iter().map(|zone| clamp(&shop, &["--at", zone])).collect();
    assert!(answers[0] == answers[1] && answers[1] == answers[2] && !answers[0].is_null());
}

#[test]
fn an_instant_that_is_none_is_refused_and_named() {
    let shop = with_a_bond();
    for typed in ["yesterday", "2026-01-13", "2026-01-13T18:00:00", "2026-02-30T18:00:00Z", "2026-01-13T25:00:00Z", ""]
    {
        for flag in ["--at", "--known-at"] {
            let error = refused(&shop.run(&["--json", "clocks", flag, typed]), 2, "out-of-range");
            assert_eq!(error["field"], flag);
        }
    }
}

#[test]
fn act_takes_neither() {
    let shop = with_a_bond();
    let size = shop.ask("checkpoint", json!({}))["size"].clone();
    let act = told("10:00", "place", json!({ "name": "loft" })).to_string();
    for words in [["--at", &at("18:00"), "act", &act], ["act", &act, "--known-at", &at("18:00")]] {
        refused(&shop.run(&words), 2, "contradicts");
    }
    assert_eq!(shop.ask("checkpoint", json!({}))["size"], size);
}
