//! What wood and air say before glue goes on: parts that have not met, wood colder than the dew point, heated air. None
//! of it closes the gate.

use crate::shop::{MIN, Shop};
use serde_json::{Value, json};

/// Ann's shop with its amber epoxy; a loft and a store.
fn notes(shop: &Shop) -> Vec<Value> {
    let asked = json!({"ask": "gate", "body": {"containers": ["r1", "h1"], "place": "loft"}});
    let gate = shop.door.ask(None, None, asked).unwrap();
    assert_eq!(gate["open"], true, "{gate:#}");
    gate["notes"].as_array().unwrap().clone()
}

fn read(shop: &mut Shop, place: &str, temperature: &str, humidity: &str, wood: Value) {
    let mut body = json!({"place": place, "temperature": temperature, "wood": wood});
    if !humidity.is_empty() {
        body["humidity"] = json!(humidity);
    }
    shop.ok("reading", body);
    shop.clock.advance(MIN);
}

fn only(shop: &Shop) -> (String, String, String) {
    let notes = notes(shop);
    assert_eq!(notes.len(), 1, "{notes:#?}");
    let text = |name: &str| notes[0][name].as_str().unwrap().to_owned();
    (text("what"), text("tone"), text("sentence"))
}

#[test]
fn parts_that_differ_by_two_points_are_told() {
    let mut shop = Shop::new();
    // Wood Handbook table 4-2: 12.0 % at 70 °F and 65 %.
    read(&mut shop, "loft", "70 F", "65 %", json!("11.0 %"));
    read(&mut shop, "loft", "70 F", "65 %", json!("12.9 %"));
    assert_eq!(notes(&shop), [] as [Value; 0], "1.9 points apart, 0.9 from what it settles at");
    read(&mut shop, "loft", "70 F", "65 %", json!("13.0 %"));
    let (what, tone, said) = only(&shop);
    assert_eq!((what.as_str(), tone.as_str()), ("wood", "doubt"));
    for part in ["differ by 2.0 points, 11.0 % to 13.0 %", "wood would settle at 11.9 % here", "meet first"] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn wood_of_another_place_and_the_air_itself() {
    let mut shop = Shop::new();
    read(&mut shop, "store", "20 C", "", json!("13.5 %"));
    // Wood Handbook table 4-2: 7.7 % at 70 °F and 40 %.
    read(&mut shop, "loft", "70 F", "40 %", json!("10.1 %"));
    let notes = notes(&shop);
    let said: Vec<&str> = notes.iter().map(|one| one["sentence"].as_str().unwrap()).collect();
    assert_eq!(said.len(), 2, "{said:#?}");
    assert!(said[0].contains("2.4 points damper than it would settle at here, 7.7 %"), "{said:#?}");
    assert!(said[1].contains("wood read in store, 13.5 %, and here, 10.1 %, differs by 3.4 points"), "{said:#?}");
    assert!(notes.iter().all(|one| one["source"].as_str().unwrap().contains("common practice, no source")));
    shop.clock.advance(24 * 60 * MIN);
    read(&mut shop, "loft", "70 F", "40 %", json!("8.0 %"));
    assert_eq!(self::notes(&shop), [] as [Value; 0], "a day old wood says nothing");
}

#[test]
fn wood_at_the_dew_point_is_told() {
    // 30 °C and 55 % have their dew point at 20 °C, a builder's table (docs/science/air-and-wood.md).
    for (wood, tone, part) in [
        ("18 C", "chill", "the wood, 18 °C, is colder than the dew point of the air here, 20 °C"),
        ("22 C", "doubt", "the wood, 22 °C, is only 2 K warmer than the dew point of the air here, 20 °C: 3 K"),
        ("23.1 C", "", ""),
    ] {
        let mut shop = Shop::new();
        read(&mut shop, "loft", "30 C", "55 %", json!(wood));
        if tone.is_empty() {
            assert_eq!(notes(&shop), [] as [Value; 0]);
            continue;
        }
        let (what, found, said) = only(&shop);
        assert_eq!((what.as_str(), found.as_str()), ("dew-point", tone));
        assert!(said.contains(part), "{said}");
    }
}

#[test]
fn cold_wood_brought_into_a_warm_shop() {
    let mut shop = Shop::new();
    read(&mut shop, "store", "6 C", "", Value::Null);
    read(&mut shop, "loft", "30 C", "55 %", Value::Null);
    let (what, tone, said) = only(&shop);
    assert_eq!((what.as_str(), tone.as_str()), ("dew-point", "chill"));
    assert!(said.contains("wood brought in from store (6 °C) is colder than the dew point"), "{said}");
}

#[test]
fn heated_air_nobody_measured() {
    let mut shop = Shop::new();
    shop.ok("place", json!({"name": "outside"}));
    let loft = json!({"name": "tent", "heated_from": "outside"});
    shop.ok("place", loft);
    // ANC-19 (1943) table 5-10: air at 50 °F and 75 % has 34.4 % at 72 °F, where wood goes to 6.7 %.
    read(&mut shop, "outside", "50 F", "75 %", Value::Null);
    read(&mut shop, "tent", "72 F", "", Value::Null);
    let asked = json!({"ask": "gate", "body": {"containers": ["r1", "h1"], "place": "tent"}});
    let gate = shop.door.ask(None, None, asked).unwrap();
    let said = gate["notes"][0]["sentence"].as_str().unwrap();
    assert!(said.contains("has 34 %: wood goes towards 6.") && said.contains("air of outside"), "{said}");
}
