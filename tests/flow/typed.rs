//! The lived week once more, typed in months later through the real program, every act with the instant it happened.

use super::bench::{Bench, H, MIN, instant};
use super::week::MONDAY;
use serde_json::{Value, json};
use tests::binary::Shop;

/// Instants at which both books are asked; each bond costs a process.
const INSTANTS: [i64; 7] = [160 * MIN, 9 * H, 24 * H + 31 * MIN, 29 * H + 33 * MIN, 51 * H + 14 * MIN, 99 * H, 140 * H];

/// Types in every act of a lived book, then asks both books the same.
pub fn judges_as(lived: &Bench) {
    let shop = Shop::new();
    let receipts = shop.act(&acts(lived));
    assert_eq!(receipts.len(), lived.events.len());
    let mut clocks = 0;
    for at in INSTANTS.map(|after| MONDAY + after) {
        for bond in 1..=7 {
            let question = json!({"ask": "clocks", "body": {"bond": bond.to_string()}});
            let done = shop.run_with(&["--at", &instant(at), "ask"], question.to_string().as_bytes());
            let lived = lived.question(at, None, &question);
            if lived["at"].is_null() {
                assert_eq!(done.object()["error"]["code"], "not-found", "bond {bond} at {}", instant(at));
                continue;
            }
            let typed = done.object()["answer"].clone();
            assert_eq!(plain(&typed), plain(&lived), "bond {bond} at {}", instant(at));
            clocks += lived["clocks"].as_array().unwrap().len();
        }
    }
    assert!(clocks > 100, "only {clocks} clocks compared");
}

/// Every act with the instant it happened; the loggers' files lie where they lay.
fn acts(lived: &Bench) -> Value {
    let typed = |event: &Value| {
        let mut act = event["act"].clone();
        act["happened"] = json!(instant(event["t"].as_i64().unwrap()));
        act["why"] = json!("from paper");
        act["body"].as_object_mut().unwrap().remove("rows");
        act
    };
    lived.events.iter().map(typed).collect()
}

/// Clocks without what may differ: ids of the card's entry, and words that name this computer's zone.
fn plain(answer: &Value) -> Value {
    let mut clocks = answer["clocks"].clone();
    for clock in clocks.as_array_mut().unwrap() {
        clock["limit"]["card"].take();
        clock["said"].take();
    }
    clocks
}
