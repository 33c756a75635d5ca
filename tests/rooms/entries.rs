//! Entries in sentences, page by page; and one with its fields.

use crate::shop::Shop;
use serde_json::{Value, json};

/// Two bonds with a correction and a withdrawal.
fn worked() -> Shop {
    let mut shop = Shop::new();
    shop.part("P 1");
    shop.part("Ü/2");
    shop.at("09:00");
    let batch = shop.batch();
    let bond = shop.bond(&[&batch], "P 1", json!({}));
    shop.at("09:05").press("first-glue-on", &bond);
    shop.at("09:10").press("together", &bond);
    shop
}

fn entries(shop: &Shop, body: Value) -> Value {
    shop.ask("entries", body)
}

fn said(page: &Value) -> Vec<&str> {
    page["entries"].as_array().unwrap().iter().map(|row| row["said"].as_str().unwrap()).collect()
}

#[test]
fn sentences_newest_first() {
    let shop = worked();
    let page = entries(&shop, json!({ "limit": 6 }));
    assert_eq!(
        said(&page),
        [
            "Together, bond 1 (P 1)",
            "First glue on, bond 1 (P 1)",
            "Bond 1: P 1, 1 joint, batch Tue 1",
            "Mixed Tue 1, 40.0 g + 33.2 g, within the ratio",
            "Hardener in, batch Tue 1",
            "Batch Tue 1 of 2026-11-24",
        ]
    );
    let first = &page["entries"][0];
    assert_eq!((&first["happened"], &first["person"]), (&json!("Tue 24 Nov 09:10:00"), &json!("ann")));
    assert_eq!(
        (&first["late"], &first["can_correct"], &first["withdrawn"]),
        (&json!(false), &json!(true), &json!(false))
    );
    assert_eq!(page["entries"][5]["can_correct"], false, "a batch keeps its name");
}

#[test]
fn pages_follow_one_another_and_hold_every_entry_once() {
    let shop = worked();
    let total = entries(&shop, json!({}))["total"].as_u64().unwrap();
    for limit in [1, 3, 7, total, 500] {
        let (mut seqs, mut before): (Vec<u64>, Value) = (Vec::new(), Value::Null);
        loop {
            let body =
                if before.is_null() { json!({ "limit": limit }) } else { json!({ "limit": limit, "before": before }) };
            let page = entries(&shop, body);
            seqs.extend(page["entries"].as_array().unwrap().iter().map(|row| row["seq"].as_u64().unwrap()));
            before = page["next_before"].clone();
            if before.is_null() {
                break;
            }
        }
        assert_eq!(seqs, (0..total).rev().collect::<Vec<_>>(), "pages of {limit}");
    }
}

#[test]
fn of_a_thing_and_of_a_kind() {
    let shop = worked();
    let of_part = entries(&shop, json!({ "about": "P 1", "limit": 3 }));
    assert_eq!(of_part["entries"].as_array().unwrap().len(), 3);
    let rest = entries(&shop, json!({ "about": "P 1", "before": of_part["next_before"] }));
    assert_eq!(said(&rest), ["Joint J of part P 1", "Part P 1"]);
    assert_eq!(rest["next_before"], Value::Null);
    let place = entries(&shop, json!({ "about": "place:bench" }));
    assert_eq!(said(&place).len(), 3, "its making, the mix and the bond: {place}");
    let presses = entries(&shop, json!({ "kind": "press" }));
    assert_eq!(said(&presses).len(), 3);
    let both = entries(&shop, json!({ "kind": "press", "about": "bond:1" }));
    assert_eq!(said(&both).len(), 2);
    assert_eq!(said(&entries(&shop, json!({ "about": "Ü/2" }))), ["Joint J of part Ü/2", "Part Ü/2"]);
    let none = shop.ask_at(None, None, "entries", json!({ "about": "Z" })).unwrap_err();
    assert_eq!((none.code, none.field.as_deref()), ("not-found", Some("body.about")));
    for body in [json!({ "limit": 0 }), json!({ "limit": 501 }), json!({ "kind": "glue" }), json!({ "log": "x" })] {
        assert!(shop.ask_at(None, None, "entries", body.clone()).is_err(), "{body}");
    }
}

#[test]
fn what_was_changed_stands_beside() {
    let mut shop = worked();
    let mixed = entries(&shop, json!({ "kind": "mix" }))["entries"][0]["seq"].clone();
    let mut body = shop.ask("entry", json!({ "seq": mixed }))["act"]["body"].clone();
    assert_eq!(body["hardener"], "33.2 g");
    body["hardener"] = json!("43.2 g");
    shop.act("correct", json!({ "entry": mixed, "body": body, "why": "misread" }));
    let mixes = entries(&shop, json!({ "kind": "mix" }));
    let (correction, original) = (&mixes["entries"][0], &mixes["entries"][1]);
    assert_eq!(
        correction["said"],
        format!("Correction of entry {mixed}: Mixed Tue 1, 40.0 g + 43.2 g, outside the ratio")
    );
    assert_eq!((&correction["corrects"], &correction["why"]), (&mixed, &json!("misread")));
    assert_eq!(original["corrected_by"], json!([correction["seq"]]));
    assert_eq!(shop.ask("entry", json!({ "seq": mixed }))["act"]["body"]["hardener"], "43.2 g", "what is in force");
    let before = shop.ask_at(None, Some("08:30"), "entries", json!({})).unwrap();
    assert!(said(&before).iter().all(|said| !said.starts_with("Mixed")), "{before}");

    let press = entries(&shop, json!({ "kind": "press" }))["entries"][0]["seq"].clone();
    shop.act("withdraw", json!({ "entry": press, "why": "another bond" }));
    let page = entries(&shop, json!({ "limit": 1 }));
    assert_eq!(said(&page), [format!("Withdrawn entry {press}: Together, bond 1 (P 1)")]);
    let row = entries(&shop, json!({ "kind": "press" }))["entries"][0].clone();
    assert_eq!((&row["withdrawn"], &row["can_correct"]), (&json!(true), &json!(false)));
    assert_eq!(shop.ask("entry", json!({ "seq": press }))["act"], Value::Null);
}

#[test]
fn fields_of_an_entry_as_typed() {
    let shop = worked();
    let mixed = entries(&shop, json!({ "kind": "mix" }))["entries"][0]["seq"].clone();
    let entry = shop.ask("entry", json!({ "seq": mixed }));
    let fields = entry["fields"].as_array().unwrap();
    let of =
        |path: &str| fields.iter().find(|field| field["path"] == path).unwrap_or_else(|| panic!("{path}: {entry}"));
    assert_eq!(of("resin"), &json!({ "path": "resin", "label": "Resin", "value": "40.0 g" }));
    assert_eq!(of("containers[1]"), &json!({ "path": "containers[1]", "label": "Container 2", "value": "H-E" }));
    assert_eq!(entry["act"]["act"], "mix");
    let start = shop.ask("entry", json!({ "seq": 0 }));
    assert_eq!((&start["said"], &start["act"]), (&json!("The log begins"), &Value::Null));
}

#[test]
fn owed_says_what_settles_it() {
    let mut shop = worked();
    shop.at("09:20").press("all-tight", "1");
    shop.at("+1 09:30").press("first-clamp-off", "1");
    let owed = shop.ask("owed", json!({}));
    let findings = owed["bonds"][0]["findings"].as_array().unwrap();
    let of = |key: &str| findings.iter().find(|one| one["key"] == key).unwrap_or_else(|| panic!("{key}: {owed}"));
    assert_eq!(of("missing:squeeze-out")["settled_by"], "reason");
    let enter = &of("missing:squeeze-out")["enter"];
    assert_eq!([&enter["act"], &enter["press"], &enter["bond"]], ["press", "squeeze-out", "1"]);
    assert_eq!(of("early:clamp")["enter"], Value::Null, "a broken limit is no missing value");
    assert_eq!(of("early:clamp")["settled_by"], "decide");
    for finding in findings {
        let act = match finding["settled_by"].as_str().unwrap() {
            "decide" => {
                json!({ "act": "decide", "body": { "bond": finding["of"], "verdict": "accepted", "why": "w" } })
            }
            _ => json!({ "act": "reason", "body": { "of": finding["of"], "text": "not looked at" } }),
        };
        shop.try_act(act).unwrap();
    }
    assert_eq!(shop.ask("owed", json!({}))["owed"], json!([]));
}
