//! What a row offers can be sent as it is: every press of every stage, and the ten seconds in which one is taken back.

use crate::life::{rows, shop};
use crate::shop::Shop;
use serde_json::{Value, json};

/// The presses of a bond, each with when it is made.
const LIFE: [(&str, &str); 6] = [
    ("10:05", "first-glue-on"),
    ("10:20", "together"),
    ("10:30", "all-tight"),
    ("10:31", "all-round"),
    ("10:40", "clamp-lost"),
    ("10:45", "re-tightened"),
];

/// A shop whose bond has come so many presses far, two seconds after the last.
fn come(far: usize, more: &Value) -> Shop {
    let mut shop = shop();
    shop.act("place", json!({ "name": "warm box" }));
    shop.act("lot", json!({ "mark": "FILL", "card": "F", "role": "filler" }));
    let batch = shop.at("10:00").batch_of("F");
    let bond = shop.bond(&[&batch], "A", more.clone());
    for (time, press) in LIFE.iter().take(far) {
        shop.at(time).press(press, &bond);
    }
    shop.clock.advance(2_000);
    shop
}

fn acts(press: &Value, into: &mut Vec<Value>) {
    if press["act"].is_object() {
        into.push(press["act"].clone());
    }
    for choice in press["choices"].as_array().into_iter().flatten() {
        acts(choice, into);
    }
}

fn offered(shop: &Shop) -> Vec<Value> {
    let mut all = Vec::new();
    for row in rows(shop) {
        acts(&row["press"], &mut all);
        for more in row["more"].as_array().unwrap() {
            acts(more, &mut all);
        }
    }
    all
}

fn send(shop: &mut Shop, act: &Value) -> Value {
    let whole = json!({ "act": act["act"], "body": act["body"], "person": "ann" });
    shop.try_act(whole).unwrap_or_else(|error| panic!("{act} was offered and refused: {error:?}"))
}

#[test]
fn every_offered_act_is_taken() {
    let mut sent = 0;
    for more in [json!({}), json!({ "presses": 2 })] {
        for far in 0..=LIFE.len() {
            let count = offered(&come(far, &more)).len();
            assert!(count >= 4, "{far} presses: {count} acts");
            for index in 0..count {
                let mut shop = come(far, &more);
                let act = offered(&shop)[index].clone();
                send(&mut shop, &act);
                sent += 1;
            }
        }
    }
    assert!(sent > 100, "{sent}");
}

/// Pressing what is next, again and again, leads through all six presses.
#[test]
fn the_next_press_leads_through_a_bond() {
    let mut shop = come(0, &json!({}));
    let mut words = Vec::new();
    for _ in 0..5 {
        let row = rows(&shop)[0].clone();
        words.push(row["press"]["word"].as_str().unwrap().to_owned());
        let mut all = Vec::new();
        acts(&row["press"], &mut all);
        send(&mut shop, &all[0]);
        shop.clock.advance(30_000);
    }
    assert_eq!(words, ["First glue on", "Together", "All tight", "Squeeze-out", "First clamp off"]);
}

/// Nailed or stapled: two presses, then squeeze-out; nothing comes off.
#[test]
fn two_presses_for_a_nailed_joint() {
    let mut shop = come(0, &json!({ "presses": 2 }));
    let mut words = Vec::new();
    for _ in 0..3 {
        let row = rows(&shop)[0].clone();
        words.push(row["press"]["word"].as_str().unwrap().to_owned());
        let more: Vec<&str> = row["more"].as_array().unwrap().iter().map(|one| one["word"].as_str().unwrap()).collect();
        assert!(!more.contains(&"Together") && !more.contains(&"First clamp off"), "{more:?}");
        let mut all = Vec::new();
        acts(&row["press"], &mut all);
        send(&mut shop, &all[0]);
    }
    assert_eq!(words, ["First glue on", "All tight", "Squeeze-out"]);
}

#[test]
fn taken_back_is_offered_for_ten_seconds() {
    let shop = come(1, &json!({}));
    let taken = |shop: &Shop| {
        let all = offered(shop);
        all.into_iter().find(|act| act["body"]["press"] == "taken-back")
    };
    shop.clock.advance(8_000);
    let act = taken(&shop).expect("ten seconds after");
    shop.clock.advance(1);
    assert_eq!(taken(&shop), None, "and not a millisecond longer");
    let mut shop = come(1, &json!({}));
    send(&mut shop, &act);
    assert_eq!(rows(&shop)[0]["press"]["word"], "First glue on", "it was taken back");
}
