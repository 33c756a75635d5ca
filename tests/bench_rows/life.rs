//! A bond from the first glue to full cure, and pots beside it, as rows.

use crate::shop::{Shop, ms, strings};
use serde_json::{Value, json};

/// Times for every clock at 20 °C.
pub fn limits() -> Value {
    json!({ "limits": [
        { "clock": "pot", "points": [{ "at": "20 C", "time": "45 min", "mass": "100 g" }], "counted_from": "mixing" },
        { "clock": "open", "points": [{ "at": "20 C", "time": "30 min" }], "counted_from": "spreading" },
        { "clock": "closed", "points": [{ "at": "20 C", "time": "60 min" }], "counted_from": "closing" },
        { "clock": "clamp", "points": [{ "at": "20 C", "time": "6 h" }] },
        { "clock": "machining", "points": [{ "at": "20 C", "time": "12 h" }] },
        { "clock": "full-cure", "points": [{ "at": "20 C", "time": "24 h" }] },
    ] })
}

/// A shop with card "F", a part "A" and a reading at 09:50.
pub fn shop() -> Shop {
    let mut shop = Shop::new();
    shop.card("F", limits());
    shop.part("A");
    shop.read("09:50", "20.0");
    shop
}

/// The bench's rows.
pub fn rows(shop: &Shop) -> Vec<Value> {
    shop.ask("bench", json!({}))["rows"].as_array().unwrap().clone()
}

/// The only row.
pub fn row(shop: &Shop) -> Value {
    let mut all = rows(shop);
    assert_eq!(all.len(), 1, "{all:?}");
    all.pop().unwrap()
}

fn words(row: &Value) -> [String; 4] {
    ["tone", "clock", "headline", "caption"].map(|name| row[name].as_str().unwrap_or("-").to_owned())
}

fn press(row: &Value) -> &str {
    row["press"]["word"].as_str().unwrap_or("-")
}

fn fills(row: &Value) -> Vec<String> {
    row["line"]["boxes"].as_array().unwrap().iter().map(|one| one["fill"].as_str().unwrap().to_owned()).collect()
}

/// Reads the thermometer each half hour.
fn warm(shop: &mut Shop, from: &str, to: &str) {
    for at_ms in (ms(from)..=ms(to)).step_by(1_800_000) {
        let minutes = (at_ms - crate::shop::DAY) / 60_000;
        let time = format!("+{} {:02}:{:02}", minutes / 1440, minutes / 60 % 24, minutes % 60);
        shop.read(&time, "20.0");
    }
}

#[test]
fn a_bond_from_the_first_glue_to_full_cure() {
    let mut shop = shop();
    let batch = shop.at("10:00").batch_of("F");
    let bond = shop.bond(&[&batch], "A", json!({}));
    assert_eq!(press(&row(&shop)), "First glue on", "a pot of its own bond has no second row");
    shop.at("10:05").press("first-glue-on", &bond);
    let open = row(&shop);
    // Open 30 min from 10:05 at 20 °C ± 1 K, the worse of 45 to 65 kJ/mol: 27.50 min, 10:32. The pot ends later.
    assert_eq!(words(&open), ["exceed", "open", "-", "to together, at most"]);
    assert_eq!(&open["until"].as_str().unwrap()[..16], "2026-11-24T10:32");
    assert_eq!((press(&open), &open["title"], &open["line"]["stage"]), ("Together", &json!("A"), &json!("assembly")));
    assert_eq!(open["about"], "1 joint · batch Tue 1 · first glue on 10:05");
    assert!(open["later"][0].as_str().unwrap().starts_with("Pot Tue 1 is good until 10:"), "{}", open["later"]);
    let next = shop.ask("bench", json!({}))["next"].clone();
    assert_eq!(next["headline"], "10:32: A must be together");
    assert!(next["then"].as_str().unwrap().ends_with(": batch Tue 1 is past its pot life"), "{next}");

    shop.at("10:20").press("together", &bond);
    let closed = row(&shop);
    assert_eq!(words(&closed), ["exceed", "closed", "-", "to all tight, at most"]);
    assert_eq!(press(&closed), "All tight");
    assert_eq!(closed["line"]["words"], format!("{}.", closed["said"].as_str().unwrap().trim_end_matches('.')));

    shop.at("10:30").press("all-tight", &bond);
    let clamped = row(&shop);
    assert_eq!(words(&clamped)[..2], ["reach", "clamp"].map(str::to_owned));
    assert_eq!((press(&clamped), clamped["press"]["choices"].as_array().unwrap().len()), ("Squeeze-out", 3));
    assert!(clamped["press"]["act"].is_null(), "one of the three is sent");
    assert_eq!(clamped["line"]["stage"], "cure");
    shop.press("all-round", &bond);
    assert_eq!(press(&row(&shop)), "First clamp off");

    warm(&mut shop, "+0 11:00", "+0 17:30");
    let free = row(&shop);
    assert_eq!(words(&free)[..3], ["passed", "clamp", "off"].map(str::to_owned));
    assert!(free["caption"].as_str().unwrap().starts_with("clamps may come off since 17:"), "{}", free["caption"]);
    assert!(free["later"][0].as_str().unwrap().starts_with("no planing or turning until "), "{}", free["later"]);
    let gate = free["line"]["marks"].as_array().unwrap().iter().find(|mark| mark["clock"] == "clamp").unwrap();
    assert_eq!(gate["passed"], true);

    shop.press("first-clamp-off", &bond);
    let machining = row(&shop);
    assert_eq!(words(&machining)[..2], ["reach", "machining"].map(str::to_owned));
    assert_eq!(press(&machining), "Used");
    warm(&mut shop, "+0 18:00", "+1 02:00");
    assert_eq!(words(&row(&shop))[..2], ["reach", "full-cure"].map(str::to_owned));
    warm(&mut shop, "+1 02:30", "+1 14:00");
    assert!(rows(&shop).is_empty(), "nothing waits any more: {:?}", rows(&shop));
    assert!(shop.ask("bench", json!({}))["next"].is_null());
}

#[test]
fn past_a_limit_the_row_is_over_and_stands_first() {
    let mut shop = shop();
    shop.part("B");
    let batch = shop.at("10:00").batch_of("F");
    let late = shop.bond(&[&batch], "A", json!({}));
    shop.press("first-glue-on", &late);
    for time in ["10:00", "10:15", "10:30"] {
        shop.read(time, "20.0");
    }
    let batch = shop.at("10:30").batch_of("F");
    let other = shop.bond(&[&batch], "B", json!({}));
    shop.press("first-glue-on", &other);
    shop.read("10:45", "20.0");
    shop.at("10:50");
    let all = rows(&shop);
    assert_eq!((all[0]["id"].clone(), all[1]["id"].clone()), (json!("bond:1"), json!("bond:2")));
    assert_eq!(words(&all[0])[..3], ["over", "open", "over"].map(str::to_owned));
    assert_eq!(all[0]["caption"], "open time over since 10:27");
    assert!(all[0]["until"].is_null() && fills(&all[0]).contains(&"over".to_owned()));
    assert!(!fills(&all[1]).contains(&"over".to_owned()));
    let held = strings(&all[0]["held"]);
    // The pot's 45 min end at 10:41, and its glue is still open.
    assert_eq!(held[1], "open time over: it still runs, limit 10:27", "{held:?}");
    assert!(held[0].starts_with("pot Tue 1 over: its glue is not joined yet"), "{held:?}");
    assert!(strings(&all[1]["held"]).is_empty());
    let headline = shop.ask("bench", json!({}))["next"]["headline"].clone();
    assert_eq!(headline, "Since 10:27: A must be together: the time is over");
}

#[test]
fn cold_says_since_when_and_draws_it() {
    let mut shop = shop();
    let batch = shop.at("10:00").batch_of("F");
    let bond = shop.bond(&[&batch], "A", json!({}));
    for (at, press) in [("10:05", "first-glue-on"), ("10:10", "together"), ("10:20", "all-tight")] {
        shop.at(at).press(press, &bond);
    }
    shop.read("10:30", "20.0");
    for time in ["11:00", "11:15", "11:30", "11:45", "12:00", "12:10"] {
        shop.read(time, "8.0");
    }
    shop.at("12:15");
    let cold = row(&shop);
    assert_eq!(words(&cold)[..3], ["waiting", "clamp", "waiting"].map(str::to_owned));
    let caption = cold["caption"].as_str().unwrap();
    // Between 20 °C at 10:30 and 8 °C at 11:00 the lower end counts: no credit from 10:30 on (least 10 °C).
    assert!(caption.starts_with("too cold to cure since 10:"), "{caption}");
    assert!(fills(&cold).contains(&"chill".to_owned()), "{:?}", fills(&cold));
    let gate = cold["line"]["marks"].as_array().unwrap().iter().find(|mark| mark["sort"] == "gate").unwrap().clone();
    assert_eq!((gate["at"].clone(), gate["word"].clone()), (json!(1_000_000), json!("clamps off: no time yet")));
    let strip = shop.ask("bench", json!({}))["strip"][0]["cells"].clone();
    assert_eq!((strip[0]["value"].clone(), strip[0]["tone"].clone()), (json!("8 °C"), json!("chill")));
    assert_eq!((strip[1]["value"].clone(), strip[1]["tone"].clone()), (json!("not recorded"), json!("doubt")));
}

#[test]
fn a_pot_nobody_closes_has_a_row_of_its_own() {
    let mut shop = shop();
    let batch = shop.at("10:00").batch_of("F");
    let pot = row(&shop);
    assert_eq!(
        (pot["id"].clone(), words(&pot)[..2].to_vec()),
        (json!("batch:Tue 1"), vec!["exceed".to_owned(), "pot".to_owned()])
    );
    assert_eq!(
        (press(&pot), pot["about"].clone()),
        ("Say what it is for", json!("F · 73.2 g · no bond of it is being closed"))
    );
    assert!(pot["more"].as_array().unwrap().iter().any(|more| more["word"] == "Pot Tue 1 done"), "{}", pot["more"]);
    shop.at("11:00");
    assert_eq!(words(&row(&shop))[..3], ["over", "pot", "over"].map(str::to_owned));
    shop.press("pot-done", &batch);
    assert!(rows(&shop).is_empty());
}

/// Air of 20 °C and 65 %: wood settles at 12.0 % (Wood Handbook table 4-2 at 70 °F, 65 %: 12.0), dew point 13.22 °C
/// (tests/tables beside the figures), so 6.8 K above it.
#[test]
fn the_strip_says_what_the_air_is_like() {
    let mut shop = shop();
    shop.at("10:00").act("reading", json!({ "place": "bench", "temperature": "20.0 C", "humidity": "65 %" }));
    shop.act("place", json!({ "name": "attic" }));
    shop.at("10:02");
    let strip = shop.ask("bench", json!({}))["strip"].clone();
    let values = |at: usize| -> Vec<String> {
        strip[at]["cells"].as_array().unwrap().iter().map(|cell| cell["value"].as_str().unwrap().to_owned()).collect()
    };
    let bench = usize::from(strip[0]["place"] != "bench");
    assert_eq!(values(bench), ["20 °C", "65 %", "12.0 %", "6.8 K", "2 min old"]);
    assert!(values(1 - bench).iter().all(|value| value == "not recorded"));
}

/// What the kept bench says is what the book says when it is read anew.
#[test]
fn the_kept_bench_is_the_one_read_anew() {
    let mut shop = shop();
    let same = |shop: &Shop, time: &str| {
        let kept = shop.ask("bench", json!({}));
        let anew = shop.ask_at(Some(time), None, "bench", json!({})).unwrap();
        assert_eq!(kept, anew, "{time}");
    };
    let batch = shop.at("10:00").batch_of("F");
    let bond = shop.bond(&[&batch], "A", json!({}));
    shop.press("first-glue-on", &bond);
    for time in ["10:01", "10:02", "10:20", "10:31", "10:32", "10:40", "11:00"] {
        shop.at(time);
        same(&shop, time);
    }
    shop.press("together", &bond);
    same(&shop, "11:00");
    shop.at("11:30").press("all-tight", &bond);
    same(&shop, "11:30");
    shop.read("11:40", "21.0");
    for time in ["11:45", "15:00", "+1 09:00"] {
        shop.at(time);
        same(&shop, time);
    }
}
