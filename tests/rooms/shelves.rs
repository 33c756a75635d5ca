//! Session, work, parts and stores.

use crate::shop::Shop;
use serde_json::{Value, json};

const ROOMS: [&str; 5] = ["session", "work", "parts", "stores", "entries"];

#[test]
fn a_book_with_nothing_in_it_gives_empty_lists() {
    let shop = Shop::bare();
    workshop::begin(&shop.path).unwrap();
    for room in ROOMS {
        let answer = shop.ask(room, json!({}));
        let fields = answer.as_object().unwrap();
        let lists = fields.values().filter_map(Value::as_array);
        assert!(lists.clone().count() > 0 && lists.into_iter().all(Vec::is_empty), "{room}: {answer}");
    }
}

#[test]
fn a_session_hands_on_what_an_act_then_inherits() {
    let mut shop = Shop::new();
    shop.part("P");
    shop.at("09:00").act("reading", json!({ "place": "bench", "temperature": "20.0 C", "wood": "9.8 %" }));
    let batch = shop.batch();
    shop.at("10:00");
    let session = shop.ask("session", json!({}));
    assert_eq!((&session["person"]["name"], &session["place"]["name"]), (&json!("ann"), &json!("bench")));
    assert_eq!(
        session["moisture"],
        json!({ "value": "9.8 %", "said": "measured 1 h ago on bench", "age_ms": 3_600_000 })
    );
    assert_eq!(session["card"]["name"], "E");
    let cans: Vec<_> =
        session["containers"].as_array().unwrap().iter().map(|can| (&can["mark"], &can["confirmed"])).collect();
    assert_eq!(cans, [(&json!("R-E"), &json!(true)), (&json!("H-E"), &json!(true))]);
    shop.act("bond", json!({ "batches": [batch], "parts": ["P"] }));
    let bond = shop.ask("entries", json!({ "kind": "bond" }))["entries"][0]["id"].clone();
    let body = shop.ask("entry", json!({ "id": bond }))["entry"]["body"].clone();
    assert_eq!(body["moisture"]["as"], session["moisture"]["value"]);
    assert_eq!(body["place"], session["place"]["id"]);
    shop.act("person", json!({ "name": "Bo van Dyk" }));
    let other = shop.ask("session", json!({ "person": "Bo van Dyk" }));
    assert_eq!(
        (&other["person"]["name"], &other["place"], &other["card"]),
        (&json!("Bo van Dyk"), &Value::Null, &Value::Null)
    );
    shop.at("14:30");
    let over = shop.ask("session", json!({ "person": "ann" }));
    assert_eq!((&over["place"], &over["moisture"], &over["card"]), (&Value::Null, &Value::Null, &Value::Null));
    assert_eq!(shop.ask("session", json!({}))["person"], Value::Null);
}

/// A kind of two stages and three parts of it.
fn ribs() -> Shop {
    let mut shop = Shop::new();
    let joint = |mark: &str| json!({ "mark": mark, "sort": "gusset", "area": "12 cm2", "thickness": "10 mm" });
    let stages = json!([{ "mark": "first face", "joints": [joint("a"), joint("b")] }, { "mark": "second face", "joints": [joint("c")] }]);
    shop.act("kind", json!({ "mark": "rib", "stages": stages }));
    shop.act("set", json!({ "kind": "rib", "marks": ["R1", "R2", "R3"], "assembly": "left wing" }));
    shop.part("loose one");
    shop
}

#[test]
fn what_can_be_glued_next() {
    let mut shop = ribs();
    shop.at("09:00");
    let batch = shop.batch();
    shop.act("bond", json!({ "batches": [batch], "parts": ["R1"], "stage": "first face", "place": "bench" }));
    shop.act("bond", json!({ "batches": [batch], "joints": ["R2/a"], "place": "bench" }));
    let work = shop.ask("work", json!({}));
    let first = &work["kinds"][0]["stages"][0];
    let told: Vec<_> = first["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| json!([part["mark"], part["state"], part["joints"], part["area"], part["bonds"]]))
        .collect();
    assert_eq!(
        told,
        [
            json!(["R1", "glued", 2, "24 cm²", ["1"]]),
            json!(["R2", "open", 1, "12 cm²", ["2"]]),
            json!(["R3", "open", 2, "24 cm²", []]),
        ]
    );
    assert_eq!((&first["open"], &first["said"]), (&json!(2), &json!("2 of 3 parts to glue, 2 joints each")));
    assert_eq!(work["kinds"][0]["stages"][1]["open"], 3);
    assert_eq!(work["loose"][0]["mark"], "loose one");
    assert_eq!(work["loose"][0]["joints"][0]["state"], "open");

    shop.act("decide", json!({ "bond": "1", "verdict": "redo", "why": "starved" }));
    let again = shop.ask("work", json!({}));
    assert_eq!(again["kinds"][0]["stages"][0]["open"], 3, "a bond to be done again leaves its joints open");
}

#[test]
fn parts_are_as_good_as_their_worst_bond() {
    let mut shop = ribs();
    shop.at("09:00");
    let batch = shop.batch();
    shop.act("bond", json!({ "batches": [batch], "parts": ["R1"], "stage": "first face", "place": "bench" }));
    let parts = shop.ask("parts", json!({}));
    let wing = &parts["assemblies"][0];
    assert_eq!((&wing["assembly"], &parts["assemblies"][1]["assembly"]), (&json!("left wing"), &Value::Null));
    assert_eq!(wing["parts"][0]["state"], "running");
    assert_eq!(wing["parts"][0]["said"], "1 of 2 stages glued; bond 1 running");
    assert_eq!((&wing["parts"][1]["state"], &wing["parts"][1]["bonds"]), (&json!("not glued"), &json!([])));
    assert_eq!(parts["said"], "4 parts: 1 running, 3 not glued");
    shop.at("09:05").press("first-glue-on", "1");
    shop.at("09:50").press("together", "1");
    assert_eq!(shop.ask("parts", json!({}))["assemblies"][0]["parts"][0]["state"], "held", "the pot was over");
}

#[test]
fn what_the_sheet_says_is_told_apart_from_what_is_taken() {
    let mut shop = Shop::new();
    shop.card("U", json!({ "class": "urea", "minimum_cure": null, "ratio": "100:44", "application_minimum": "21 C" }));
    let stores = shop.ask("stores", json!({}));
    let card = stores["cards"].as_array().unwrap().iter().find(|card| card["name"] == "U").unwrap();
    let fact = |label: &str| card["facts"].as_array().unwrap().iter().find(|fact| fact["label"] == label).unwrap();
    assert_eq!(card["ratio"], "100:44 by weight ±5 %");
    assert_eq!(fact("No cure below")["assumed"], true);
    assert!(fact("No cure below")["value"].as_str().unwrap().contains("20 °C"), "{card}");
    assert_eq!((&fact("Below that")["assumed"], &fact("Sets by drying")["assumed"]), (&json!(true), &json!(true)));
    assert_eq!(
        fact("Applied between"),
        &json!({ "label": "Applied between", "value": "at least 21 °C", "assumed": false })
    );
    assert_eq!(fact("Wood moisture")["value"], Value::Null);
    let clamp = card["limits"].as_array().unwrap().iter().find(|limit| limit["clock"] == "clamp").unwrap();
    assert_eq!((&clamp["stated"], &clamp["assumed"]), (&json!(["12 h at 20 °C"]), &json!(true)));
    assert_eq!(card["cautions"].as_array().unwrap().len(), 1, "urea is for old frames: {card}");

    shop.act(
        "card",
        json!({ "name": "U", "class": "urea", "ratio": "100:45", "revises": "U",
        "limits": [{ "clock": "clamp", "counted_from": "pressure", "points": [{ "at": "20 C", "time": "12 h" }] }] }),
    );
    let stores = shop.ask("stores", json!({}));
    let chain: Vec<_> = stores["cards"].as_array().unwrap().iter().filter(|card| card["name"] == "U").collect();
    assert_eq!((chain.len(), &chain[0]["revision"], &chain[1]["revision"]), (2, &json!(2), &json!(1)));
    assert_eq!((&chain[0]["revised_by"], &chain[1]["revised_by"]), (&Value::Null, &chain[0]["id"]));
}

#[test]
fn lots_with_what_they_gave_and_when_they_expire() {
    let mut shop = Shop::new();
    shop.act("lot", json!({ "mark": "old", "card": "E", "role": "resin", "expires": "2026-11-20" }));
    shop.act("lot", json!({ "mark": "soon", "card": "E", "role": "resin", "expires": "2026-12-06" }));
    shop.act("container", json!({ "mark": "tin", "lot": "soon", "holds": "1 kg" }));
    shop.act("lot", json!({ "mark": "flock", "card": "E", "role": "filler", "expires": "2028-01-01" }));
    shop.part("P");
    shop.at("09:00");
    let made = shop.press("hardener-in", "");
    let batch = made["made"]["batch"].as_str().unwrap();
    shop.act(
        "mix",
        json!({ "card": "E", "containers": ["tin", "H-E"], "resin": "40.0 g", "hardener": "33.2 g", "place": "bench" }),
    );
    shop.act("filler", json!({ "batch": batch, "lot": "flock", "mass": "3.0 g" }));
    shop.bond(&[batch], "P", json!({}));
    let stores = shop.ask("stores", json!({}));
    let lot = |mark: &str| stores["lots"].as_array().unwrap().iter().find(|lot| lot["mark"] == mark).unwrap().clone();
    assert_eq!((&lot("old")["state"], &lot("old")["tone"]), (&json!("expired"), &json!("heat")));
    let soon = lot("soon");
    assert_eq!((&soon["state"], &soon["tone"]), (&json!("expires in 12 days"), &json!("doubt")));
    assert_eq!((&soon["given"], &soon["left"], &soon["parts"]), (&json!("40 g"), &json!("960 g"), &json!(1)));
    assert_eq!((&soon["containers"][0]["holds"], &soon["expires"]), (&json!("1000 g"), &json!("2026-12-06")));
    assert_eq!(
        (&lot("flock")["given"], &lot("flock")["left"], &lot("flock")["parts"]),
        (&json!("3 g"), &Value::Null, &json!(1))
    );
    assert_eq!((&lot("R-E-lot")["given"], &lot("R-E-lot")["state"]), (&json!("nothing"), &json!("no expiry recorded")));
    assert_eq!(shop.ask_at(Some("08:00"), None, "stores", json!({})).unwrap()["lots"].as_array().unwrap().len(), 5);
}

/// tests/tables/smallest_batch.csv: 0.1 g, 2:1, 5 % needs 3.651 g of resin, so 5.477 g in all; three times as much is
/// 16.43 g. In one cup: u = d/sqrt(12), 2 sqrt(u² + (u + 2u)² + (2u)²) / 5 % of resin and half as much hardener, 6.4807 g.
#[test]
fn the_least_amount_a_scale_can_tell() {
    let mut shop = Shop::new();
    shop.card("2", json!({ "ratio": "2:1" }));
    let asked = |shop: &Shop, total: &str| shop.ask("amounts", json!({ "card": "2", "total": total }))["least"].clone();
    assert_eq!(asked(&shop, "60 g"), Value::Null, "no scale is known");
    shop.act("instrument", json!({ "name": "the scale", "step": "0.1 g" }));
    let told = json!({
        "total": "5.5 g", "total_mg": 5478, "comfortable": "16.5 g", "enough": true,
        "said": "below 5.5 g in all the scale cannot tell 5 %",
    });
    assert_eq!(asked(&shop, "60 g"), told);
    assert_eq!(asked(&shop, "5.4 g")["enough"], false);
    assert_eq!(shop.ask("amounts", json!({ "card": "2", "total": "60 g", "cup": "10 g" }))["least"]["total_mg"], 6481);
    shop.act("instrument", json!({ "name": "another scale", "step": "1 g" }));
    assert_eq!(asked(&shop, "60 g"), Value::Null, "which of the two is not said");
    let coarse = shop.ask("amounts", json!({ "card": "2", "total": "60 g", "instrument": "another scale" }));
    assert_eq!(coarse["least"]["total"], "54.8 g");
}

#[test]
fn a_kind_and_a_part_keep_the_temperature_of_their_service() {
    let mut shop = ribs();
    let skin = json!([{ "mark": "at once", "joints": [{ "mark": "s", "area": "400 cm2" }] }]);
    shop.act("kind", json!({ "mark": "skin", "stages": skin, "service": "80 C" }));
    shop.act("part", json!({ "mark": "S1", "kind": "skin", "service": "131 F" }));
    let stores = shop.ask("stores", json!({}));
    let hottest = |mark: &str| {
        let kind = stores["kinds"].as_array().unwrap().iter().find(|kind| kind["mark"] == mark).unwrap();
        let facts = kind["facts"].as_array().unwrap();
        facts.iter().find(|fact| fact["label"] == "Hottest in service").unwrap()["value"].clone()
    };
    assert_eq!((hottest("skin"), hottest("rib")), (json!("80 °C"), Value::Null));
    let entry = |kind: &str| {
        let row = shop.ask("entries", json!({ "kind": kind, "limit": 1 }))["entries"][0].clone();
        let one = shop.ask("entry", json!({ "id": row["id"] }));
        (row["said"].clone(), one["entry"]["body"]["service"]["mk"].clone(), one["act"]["body"]["service"].clone())
    };
    let wanted = json!(["Kind skin, 1 stage, 1 joint, up to 80 C in service", 353_150, "80 C"]);
    assert_eq!(json!(entry("kind")), wanted);
    assert_eq!(json!(entry("part")), json!(["Part S1, skin, up to 131 F in service", 328_150, "131 F"]));
    let refused = shop.try_act(json!({ "act": "part", "body": { "mark": "S2", "service": "700 C" } })).unwrap_err();
    assert_eq!((refused.code, refused.field.as_deref()), ("out-of-range", Some("body.service")));
}
