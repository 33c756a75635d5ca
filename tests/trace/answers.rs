//! Single questions: lists, entries, amounts, gate, bench, refusals; and that asking changes nothing.

use crate::cure::tight_at_ten;
use crate::shop::{Shop, find_clock, strings};
use serde_json::{Value, json};

fn keys_sorted(value: &Value) -> bool {
    match value {
        Value::Object(map) => {
            let keys: Vec<&String> = map.keys().collect();
            keys.windows(2).all(|two| two[0] < two[1]) && map.values().all(keys_sorted)
        }
        Value::Array(all) => all.iter().all(keys_sorted),
        _ => true,
    }
}

/// Every question twice: byte-equal, keys sorted, and the file's bytes stay.
#[test]
fn asking_changes_nothing() {
    let mut shop = Shop::new();
    tight_at_ten(&mut shop, "20.0", json!({}));
    let before = std::fs::read(&shop.path).unwrap();
    let questions = [
        ("clocks", json!({})),
        ("clocks", json!({ "part": "A" })),
        ("trace", json!({ "part": "A" })),
        ("where-used", json!({ "lot": "R-E-lot" })),
        ("verify", json!({ "depth": "rebuild" })),
        ("owed", json!({})),
        ("bonds", json!({})),
        ("list", json!({ "of": "lot" })),
        ("entry", json!({ "seq": 0 })),
        ("batch", json!({ "batch": "Tue 1" })),
        ("amounts", json!({ "card": "E", "total": "60 g" })),
        ("head", json!({})),
        ("checkpoint", json!({})),
        ("bench", json!({})),
        ("gate", json!({ "containers": ["R-E", "H-E"] })),
    ];
    for (ask, body) in questions {
        let first = shop.ask(ask, body.clone());
        let second = shop.ask(ask, body);
        assert_eq!(serde_json::to_string(&first).unwrap(), serde_json::to_string(&second).unwrap(), "{ask}");
        assert!(keys_sorted(&first), "{ask}");
    }
    assert_eq!(std::fs::read(&shop.path).unwrap(), before);
    assert_eq!(shop.ask("verify", json!({ "depth": "rebuild" }))["ok"], true);
}

/// Always true of every clock, asked each ten minutes through a day.
#[test]
fn what_always_holds() {
    let mut shop = Shop::new();
    let bond = tight_at_ten(&mut shop, "20.0", json!({}));
    for hour in ["14:00", "15:30", "17:00", "18:30", "20:00", "21:30", "23:00"] {
        shop.read(hour, "20.0");
    }
    let mut states = std::collections::BTreeSet::new();
    for minute in (9 * 60 + 55..24 * 60).step_by(10) {
        let time = format!("{:02}:{:02}", minute / 60, minute % 60);
        let answer = shop.ask_at(Some(&time), None, "clocks", json!({ "bond": bond })).unwrap();
        for one in answer["clocks"].as_array().unwrap() {
            let key = |name: &str| one[name].as_str().map_or("9".to_owned(), str::to_owned);
            assert!(key("earliest") <= key("expected") && key("expected") <= key("latest"), "{time} {one}");
            let (low, high) =
                (one["progress_ppm"]["low"].as_i64().unwrap(), one["progress_ppm"]["high"].as_i64().unwrap());
            match one["direction"].as_str().unwrap() {
                "must-reach" => assert_eq!(one["state"] == "reached", low >= 1_000_000, "{time} {one}"),
                _ => assert_eq!(one["state"] == "over", high >= 1_000_000, "{time} {one}"),
            }
            states.insert(one["state"].as_str().unwrap().to_owned());
        }
    }
    assert!(["ended", "never", "reached", "running"].iter().all(|it| states.contains(*it)), "{states:?}");
}

/// Amounts both ways, and where to stop. 60 g at 100:83: resin 60 × 100/183 = 32.787 g, hardener 27.213 g.
#[test]
fn amounts() {
    let shop = Shop::new();
    let total = shop.ask("amounts", json!({ "card": "E", "total": "60 g", "cup": "12.4 g" }));
    assert_eq!(total["exact"], json!({ "hardener": 27_213, "resin": 32_787, "total": 60_000 }));
    assert_eq!(
        (total["resin"].clone(), total["hardener"].clone(), total["by"].clone()),
        (json!("32.8 g"), json!("27.2 g"), json!("weight"))
    );
    assert_eq!(strings(&total["stop_at"]), ["12.4 g", "45.2 g", "72.4 g"]);
    // 40 g of resin need 33.2 g of hardener, and the other way round.
    assert_eq!(shop.ask("amounts", json!({ "card": "E", "resin": "40 g" }))["exact"]["hardener"], 33_200);
    assert_eq!(shop.ask("amounts", json!({ "card": "E", "hardener": "33.2 g" }))["exact"]["resin"], 40_000);
    for (body, code) in [
        (json!({ "card": "E" }), "missing"),
        (json!({ "card": "E", "total": "60 g", "resin": "3 g" }), "contradicts"),
        (json!({ "card": "E", "total": "0 g" }), "out-of-range"),
        (json!({ "card": "E", "total": "100 ml" }), "missing"),
        (json!({ "card": "nobody's", "total": "60 g" }), "not-found"),
    ] {
        assert_eq!(shop.ask_at(None, None, "amounts", body.clone()).unwrap_err().code, code, "{body}");
    }
}

/// The gate names what would hold a mix and what would open it.
#[test]
fn the_gate() {
    let mut shop = Shop::new();
    shop.card("G", json!({ "application_minimum": "15 C", "moisture_maximum": "12 %" }));
    shop.act("lot", json!({ "mark": "OLD", "card": "G", "role": "hardener", "expires": "2026-11-01" }));
    shop.at("09:00").act("reading", json!({ "place": "bench", "temperature": "12.0 C", "wood": "14 %" }));
    let gate = shop.ask("gate", json!({ "containers": ["R-G"], "lots": ["OLD"] }));
    assert_eq!(gate["open"], false);
    let what: Vec<&str> = gate["held_by"].as_array().unwrap().iter().map(|it| it["what"].as_str().unwrap()).collect();
    assert_eq!(what, ["lot", "moisture", "temperature"]);
    assert_eq!(gate["held_by"][2]["sentence"], "it is 12 °C here, the card asks for 15 °C or more");
    assert_eq!(gate["held_by"][2]["opens"], "warm the place to 15 °C");
    shop.at("09:30").act("reading", json!({ "place": "bench", "temperature": "20.0 C", "wood": "10 %" }));
    let gate = shop.ask("gate", json!({ "containers": ["R-G", "H-G"] }));
    assert_eq!((gate["open"].clone(), gate["unknown"].clone()), (json!(true), json!([])));
}

/// The bench: must-not-exceed rows above must-reach rows; the last reading and its age.
#[test]
fn the_bench() {
    let mut shop = Shop::new();
    tight_at_ten(&mut shop, "20.0", json!({}));
    shop.at("12:45").batch();
    let bench = shop.ask("bench", json!({}));
    let rows: Vec<(&str, &str)> = bench["clocks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one["of"].as_str().unwrap(), one["clock"].as_str().unwrap()))
        .collect();
    assert_eq!(rows, [("batch:Tue 2", "pot"), ("bond:1", "clamp")]);
    assert_eq!(
        (bench["readings"][0]["age_ms"].clone(), bench["readings"][0]["temperature_mk"].clone()),
        (json!(900_000), json!(293_150))
    );
}

/// A batch's balance: 73.2 g mixed, 13.2 g thrown away, 60 g on joints; and a can that gave more than it held.
#[test]
fn a_batch_balance() {
    let mut shop = Shop::new();
    shop.part("A");
    shop.act("container", json!({ "mark": "SMALL", "lot": "R-E-lot", "holds": "50 g" }));
    shop.at("10:00").press("hardener-in", "");
    shop.act("mix", json!({ "batch": "Tue 1", "card": "E", "containers": ["SMALL", "H-E"], "resin": "40.0 g", "hardener": "33.2 g" }));
    let asked = shop.ask("batch", json!({ "batch": "Tue 1" }));
    assert_eq!(asked["asked"], json!(["batch Tue 1: 73.2 g was mixed and no bond names it: where did it go?"]));
    shop.bond(&["Tue 1"], "A", json!({}));
    shop.act("throw-away", json!({ "batch": "Tue 1", "mass": "13.2 g" }));
    let batch = shop.ask("batch", json!({ "batch": "Tue 1" }));
    assert_eq!(
        (batch["balance"]["mixed_mg"].clone(), batch["balance"]["on_joints_mg"].clone()),
        (json!(73_200), json!(60_000))
    );
    assert_eq!((batch["verdict"].clone(), batch["asked"].clone()), (json!("within"), json!([])));
    shop.press("hardener-in", "");
    shop.act("mix", json!({ "batch": "Tue 2", "card": "E", "containers": ["SMALL", "H-E"], "resin": "40.0 g", "hardener": "33.2 g" }));
    let asked = strings(&shop.ask("batch", json!({ "batch": "Tue 1 2026-11-24" }))["asked"]);
    assert_eq!(asked, ["can SMALL has given 80 g but held 50 g: is it a new can?"]);
}

/// Refusals name the field.
#[test]
fn refusals() {
    let mut shop = Shop::new();
    shop.part("A");
    let asks = [
        (json!(["clocks"]), "bad-json", None),
        (json!({ "body": {} }), "missing", Some("ask")),
        (json!({ "ask": "weather" }), "not-found", Some("ask")),
        (json!({ "ask": "owed", "body": { "bond": "1" } }), "unknown-field", Some("body.bond")),
        (json!({ "ask": "owed", "at": "now" }), "unknown-field", Some("at")),
        (json!({ "ask": "clocks", "body": { "bnd": "1" } }), "unknown-field", Some("body.bnd")),
        (json!({ "ask": "clocks", "body": { "bond": 1 } }), "bad-json", Some("body")),
        (json!({ "ask": "clocks", "body": { "bond": "1", "part": "A" } }), "contradicts", Some("body")),
        (json!({ "ask": "clocks", "body": { "bond": "99" } }), "not-found", Some("body.bond")),
        (json!({ "ask": "trace" }), "missing", Some("body.part")),
        (json!({ "ask": "trace", "body": { "part": "R\u{202e}3" } }), "not-found", Some("body.part")),
        (json!({ "ask": "list", "body": { "of": "clouds" } }), "not-found", Some("body.of")),
        (json!({ "ask": "entry", "body": {} }), "missing", Some("body.id")),
        (json!({ "ask": "entry", "body": { "seq": 100_000 } }), "not-found", Some("body.seq")),
        (json!({ "ask": "verify", "body": { "depth": "deep" } }), "out-of-range", Some("body.depth")),
        (json!({ "ask": "verify", "body": { "checkpoint": "?" } }), "out-of-range", Some("body.checkpoint")),
    ];
    for (ask, code, field) in asks {
        let error = shop.door.ask(None, None, ask.clone()).unwrap_err();
        assert_eq!((error.code, error.field.as_deref()), (code, field), "{ask}");
        assert!(!error.sentence.is_empty(), "{ask}");
    }
    let nobody = Shop::bare();
    assert_eq!(nobody.door.ask(None, None, json!({ "ask": "owed" })).unwrap_err().code, "not-a-book");
    assert!(!nobody.path.exists());
}

/// Two batches of one name on two days: ambiguous, with the candidates; the day tells them apart.
#[test]
fn two_batches_of_one_name() {
    let mut shop = Shop::new();
    shop.read("09:55", "20.0");
    shop.at("10:00").batch();
    shop.at("+7 10:00").press("hardener-in", "");
    let error = shop.ask_at(None, None, "batch", json!({ "batch": "Tue 1" })).unwrap_err();
    assert_eq!(error.code, "ambiguous");
    assert!(error.advice.contains("Tue 1 2026-11-24") && error.advice.contains("Tue 1 2026-12-01"), "{}", error.advice);
    assert_eq!(shop.ask("batch", json!({ "batch": "Tue 1 2026-12-01" }))["day"], "2026-12-01");
}

/// The schema names every question and its answer, and the answers fit their schemas.
#[test]
fn schema() {
    let schema = workshop::ask::schema();
    let questions = schema["questions"].to_string();
    for word in schema["answers"].as_object().unwrap().keys() {
        assert!(questions.contains(&format!("\"{word}\"")), "{word}");
    }
    let every = schema["questions"]["oneOf"].as_array().unwrap().len();
    assert_eq!(schema["answers"].as_object().unwrap().len(), every, "a question without an answer's shape");
    let mut shop = Shop::new();
    tight_at_ten(&mut shop, "20.0", json!({}));
    let clock = find_clock(&shop.ask("clocks", json!({})), "bond:1", "clamp");
    let required = schema["answers"]["clocks"]["$defs"]["ClockAnswer"]["required"].as_array().unwrap();
    assert!(required.iter().all(|field| clock.get(field.as_str().unwrap()).is_some()));
}

/// All live clocks now are answered from what was read last; asked about the same instant afresh, they are the same.
#[test]
fn live_clocks_go_on_as_if_read_afresh() {
    let mut shop = Shop::new();
    shop.card(
        "F",
        json!({ "limits": [
        { "clock": "pot", "points": [{ "at": "25 C", "time": "45 min" }] },
        { "clock": "clamp", "points": [{ "at": "20 C", "time": "4 h" }, { "at": "30 C", "time": "2 h" }] },
        { "clock": "full-cure", "points": [{ "at": "20 C", "time": "12 h" }] },
    ] }),
    );
    shop.part("A");
    shop.read("08:10", "20.0");
    let mut told = std::collections::BTreeSet::new();
    for minute in (8 * 60 + 20..18 * 60).step_by(5) {
        shop.at(&format!("{:02}:{:02}", minute / 60, minute % 60));
        match minute - 8 * 60 {
            25 => drop(shop.batch_of("F")),
            35 => drop(shop.bond(&["Tue 1"], "A", json!({}))),
            40 => drop(shop.press("first-glue-on", "1")),
            80 => drop(shop.press("all-tight", "1")),
            at if at % 30 == 0 => {
                drop(shop.act("reading", json!({ "place": "bench", "temperature": format!("{}.5 C", 18 + at % 7) })))
            }
            _ => {}
        }
        for ahead in [0, 60_000] {
            shop.clock.advance(ahead);
            let kept = shop.ask("clocks", json!({}));
            let at_ms = crate::shop::at(&kept["at"]);
            let fresh = shop.door.ask(Some(at_ms), None, json!({ "ask": "clocks", "body": {} })).unwrap();
            assert_eq!(kept, fresh);
            told.extend(kept["clocks"].as_array().unwrap().iter().map(|one| one["state"].as_str().unwrap().to_owned()));
        }
    }
    assert!(["running", "over", "reached"].iter().all(|it| told.contains(*it)), "{told:?}");
}
