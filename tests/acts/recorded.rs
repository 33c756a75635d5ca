//! What may really have happened is recorded, whatever it was: the receipt says what is owed.

use crate::shop::{MIN, Shop};
use serde_json::json;

fn owes(receipt: &workshop::wire::Receipt, word: &str) {
    assert!(receipt.owed.iter().any(|owed| owed.contains(word)), "\"{word}\" is not owed: {:?}", receipt.owed);
}

#[test]
fn swapped_and_out_of_ratio() {
    let mut shop = Shop::new();
    let swapped =
        shop.ann("mix", json!({"card": "amber", "containers": ["r1", "h1"], "resin": "33.2 g", "hardener": "40.0 g"}));
    let judged = shop.body(&swapped, "mix")["judged"].clone();
    assert_eq!((&judged["verdict"], &judged["swapped"]), (&json!("outside"), &json!(true)), "{judged}");
    owes(&swapped, "swapped");
    let bond = shop.ann("bond", json!({"batches": ["Tue 1"], "joints": ["R1-L/J1"], "place": "loft"}));
    owes(&bond, "bond 1: ");
    let outside =
        shop.ann("mix", json!({"card": "amber", "containers": ["r1", "h1"], "resin": "40.0 g", "hardener": "38.0 g"}));
    owes(&outside, "out of ratio");
    let within =
        shop.ann("mix", json!({"card": "amber", "containers": ["r1", "h1"], "resin": "40.0 g", "hardener": "33.2 g"}));
    assert_eq!(shop.body(&within, "mix")["judged"]["verdict"], "within");
    assert!(within.owed.is_empty(), "{:?}", within.owed);
    let coarse =
        shop.ann("mix", json!({"card": "amber", "containers": ["r1", "h1"], "resin": "4 g", "hardener": "3 g"}));
    assert_eq!(shop.body(&coarse, "mix")["judged"]["verdict"], "cannot-tell");
    owes(&coarse, "cannot tell");
}

#[test]
fn one_cup_totals_give_the_nets() {
    let mut shop = Shop::new();
    let mix = shop.ann(
        "mix",
        json!({"card": "amber", "containers": ["r1", "h1"], "weighing": "12.4/52.4/85.6 g", "instrument": "scale"}),
    );
    let body = shop.body(&mix, "mix");
    assert_eq!((&body["resin"]["mg"], &body["hardener"]["mg"]), (&json!(40_000), &json!(33_200)));
    assert_eq!((&body["weighing"], body["totals"].as_array().unwrap().len()), (&json!("one-cup"), 3));
    let read: Vec<&str> = body["totals"].as_array().unwrap().iter().filter_map(|it| it["as"].as_str()).collect();
    assert_eq!(read, ["12.4 g", "52.4 g", "85.6 g"], "a reading names its unit once");
    assert_eq!(body["judged"]["verdict"], "within");
    for bad in ["52.4/12.4/85.6 g", "12.4/52.4 g", "a/b/c g", "12.4/52.4/85.6"] {
        let act = json!({"act": "mix", "body": {"card": "amber", "weighing": bad}});
        assert_eq!(shop.refused(act).field.as_deref(), Some("body.weighing"), "{bad}");
    }
}

#[test]
fn an_expired_lot_and_another_adhesive() {
    let mut shop = Shop::new();
    shop.ok("card", crate::shop::card("other"));
    shop.ok("lot", json!({"mark": "H-9", "card": "other", "role": "hardener"}));
    shop.ok("lot", json!({"mark": "R-9", "card": "amber", "role": "resin", "expires": "2026-11-23"}));
    shop.ok("container", json!({"mark": "h9", "lot": "H-9"}));
    shop.ok("container", json!({"mark": "r9", "lot": "R-9"}));
    let mix =
        shop.ann("mix", json!({"card": "amber", "containers": ["r9", "h9"], "resin": "40.0 g", "hardener": "33.2 g"}));
    owes(&mix, "another adhesive");
    owes(&mix, "expired");
    let bond = shop.ann("bond", json!({"batches": ["Tue 1"], "joints": ["R1-L/J1"], "place": "loft"}));
    owes(&bond, "another adhesive");
    owes(&bond, "expired");
    let roles =
        shop.ann("mix", json!({"card": "amber", "containers": ["r1"], "resin": "40.0 g", "hardener": "33.2 g"}));
    owes(&roles, "no hardener lot");
}

#[test]
fn presses_out_of_order_are_facts() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    for press in ["first-clamp-off", "all-tight", "together", "first-glue-on"] {
        shop.clock.advance(MIN);
        shop.ann("press", json!({"press": press, "bond": bond}));
    }
}

#[test]
fn a_late_act_needs_no_reason_and_keeps_both_instants() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    let late = shop.done(json!({"act": "press", "person": "ben", "happened": "2026-11-24T08:12:00+01:00", "body": {"press": "together", "bond": bond}}));
    let entry = shop.entry(&late, "press");
    assert_eq!(entry.happened_ms, crate::shop::T - 108 * MIN);
    assert_eq!(entry.entered_ms, crate::shop::T);
    assert_eq!(entry.why, None);
}
