//! One book read in metric units with °C and in customary US units with °F: the same sentences, other numbers.

use crate::life::limits;
use crate::shop::Shop;
use serde_json::{Value, json};
use workshop::reader::Reader;

/// A bond too cold to cure, one with nothing known, a pot over, a can overdrawn: what sentences with units there are.
fn lived() -> Shop {
    let mut shop = Shop::new();
    let mut card = limits();
    card["minimum_cure"] = json!("59 F");
    card["application_minimum"] = json!("15 C");
    shop.card("F", card);
    shop.act("container", json!({ "mark": "SMALL", "lot": "R-F-lot", "holds": "50 g" }));
    for part in ["A", "B"] {
        shop.part(part);
    }
    shop.act("part", json!({ "mark": "C" }));
    shop.act("joint", json!({ "part": "C", "mark": "J" }));
    for time in ["09:30", "09:45", "10:00"] {
        shop.read(time, "12.0");
    }
    let cans = json!(["SMALL", "H-F"]);
    let mix = json!({ "card": "F", "containers": cans, "resin": "80.0 g", "hardener": "66.4 g", "place": "bench" });
    let batch = shop.act("mix", mix)["made"]["batch"].as_str().unwrap().to_owned();
    shop.press("hardener-in", &batch);
    shop.act("throw-away", json!({ "batch": batch, "mass": "20.0 g" }));
    for (part, more) in [("A", json!({})), ("C", json!({ "wood_temperature": null }))] {
        let mut body = json!({ "batches": [batch], "joints": [{ "part": part, "mark": "J" }], "place": "bench" });
        if more.as_object().unwrap().is_empty() {
            body["wood_temperature"] = json!("12.0 C");
        }
        let bond = shop.act("bond", body)["made"]["bond"].as_str().unwrap().to_owned();
        for press in ["first-glue-on", "together", "all-tight"] {
            shop.press(press, &bond);
        }
    }
    for time in ["10:15", "10:30", "10:45"] {
        shop.read(time, "12.0");
    }
    shop.at("11:00").batch_of("F");
    shop.at("11:05");
    shop
}

/// Every question whose answer has sentences.
fn asked(shop: &Shop) -> Vec<(&'static str, Value)> {
    let questions = [
        ("bench", json!({})),
        ("clocks", json!({})),
        ("clocks", json!({ "bond": "2" })),
        ("trace", json!({ "part": "A" })),
        ("trace", json!({ "part": "C" })),
        ("batch", json!({ "batch": "Tue 1" })),
        ("gate", json!({ "containers": ["SMALL", "H-F"], "place": "bench" })),
        ("amounts", json!({ "card": "F", "total": "60 g", "cup": "12.5 g" })),
        ("owed", json!({})),
    ];
    questions.into_iter().map(|(ask, body)| (ask, shop.ask(ask, body))).collect()
}

/// Every text in an answer, in order, with where it stands.
fn texts(value: &Value, at: &str, into: &mut Vec<(String, String)>) {
    match value {
        Value::String(text) => into.push((at.to_owned(), text.clone())),
        Value::Array(all) => all.iter().for_each(|one| texts(one, at, into)),
        Value::Object(map) => map.iter().for_each(|(key, one)| texts(one, &format!("{at}.{key}"), into)),
        _ => {}
    }
}

/// Numbers with their unit become one sign each.
fn bare(text: &str) -> String {
    let units = ["°C", "°F", "K", "g", "oz", "mm", "in", "ml", "fl oz"];
    let words: Vec<&str> = text.split(' ').collect();
    let mut out: Vec<String> = Vec::new();
    let mut index = 0;
    while index < words.len() {
        let number = words[index].trim_start_matches(['±', '−']).parse::<f64>().is_ok();
        let next = words.get(index + 1).map(|word| word.trim_end_matches(['.', ',', ';', ':', ')', '?']));
        if number && next.is_some_and(|unit| units.contains(&unit)) {
            let end: String = words[index + 1].chars().filter(|c| ".,;:)?".contains(*c)).collect();
            out.push(format!("#{end}"));
            index += 2;
        } else {
            out.push(words[index].to_owned());
            index += 1;
        }
    }
    out.join(" ")
}

#[test]
fn the_same_book_in_both_units() {
    let mut shop = lived();
    let metric = asked(&shop);
    shop.door.read_in(Reader::US);
    let us = asked(&shop);
    let mut changed = 0;
    for ((ask, metric), (_, us)) in metric.iter().zip(&us) {
        let (mut one, mut other) = (Vec::new(), Vec::new());
        texts(metric, ask, &mut one);
        texts(us, ask, &mut other);
        assert_eq!(one.len(), other.len(), "{ask}");
        for ((at, metric), (_, us)) in one.iter().zip(&other) {
            assert_eq!(bare(metric), bare(us), "{at} differs in more than units:\n{metric}\n{us}");
            changed += usize::from(metric != us);
        }
    }
    assert!(changed > 40, "only {changed} texts have units");
}

/// In °F no text says °C or K, and in °C none says °F; what was typed stays as typed and stands in fields of its own.
#[test]
fn no_text_speaks_of_the_other_degrees() {
    let mut shop = lived();
    let strange = |shop: &Shop, signs: &[&str]| {
        let mut all = Vec::new();
        for (ask, answer) in asked(shop) {
            texts(&answer, ask, &mut all);
        }
        let typed = |at: &str| at.contains(".moisture") || at.contains(".mixes");
        let strange = all.into_iter().filter(|(at, text)| {
            !typed(at) && signs.iter().any(|sign| text.split([' ', ',', ';', ')']).any(|word| word == *sign))
        });
        strange.collect::<Vec<_>>()
    };
    assert!(!strange(&shop, &["°C"]).is_empty() && !strange(&shop, &["K"]).is_empty(), "there is something to turn");
    assert_eq!(strange(&shop, &["°F", "F", "C", "oz", "in²"]).iter().filter(|(_, text)| text.contains('°')).count(), 0);
    shop.door.read_in(Reader::US);
    assert_eq!(strange(&shop, &["°C", "K", "g", "mm", "ml"]), []);
    let bound = shop.ask("clocks", json!({ "bond": "1" }))["clocks"][0]["bound"].clone();
    assert!(bound.as_str().unwrap().ends_with("sensor ±1.8 °F"), "{bound}");
}

/// 20 °C is 68 °F, and the sheet's 59 °F is 15 °C, by the definition of the scales.
#[test]
fn the_sheets_numbers_in_the_readers_degrees() {
    let mut shop = lived();
    let clamp = |shop: &Shop| {
        let clocks = shop.ask("clocks", json!({ "bond": "1" }));
        crate::shop::find_clock(&clocks, "bond:1", "clamp")
    };
    assert_eq!(clamp(&shop)["limit"]["stated"], json!(["6 h at 20 °C"]));
    assert!(clamp(&shop)["said"].as_str().unwrap().contains("(needs 15 °C)"), "{}", clamp(&shop)["said"]);
    shop.door.read_in(Reader::US);
    assert_eq!(clamp(&shop)["limit"]["stated"], json!(["6 h at 68 °F"]));
    assert!(clamp(&shop)["said"].as_str().unwrap().contains("(needs 59 °F)"), "{}", clamp(&shop)["said"]);
    let gate = shop.ask("gate", json!({ "containers": ["SMALL", "H-F"], "place": "bench" }));
    let air = gate["held_by"].as_array().unwrap().iter().find(|bar| bar["what"] == "temperature").unwrap();
    assert_eq!(air["sentence"], "it is 53.6 °F here, the card asks for 59 °F or more");
    let amounts = shop.ask("amounts", json!({ "card": "F", "total": "1 lb" }));
    assert_eq!(amounts["total"], "16.00 oz", "a pound has sixteen ounces");
}
