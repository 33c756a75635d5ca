//! What a row under pressure says of its cure: how far, by the model; what is stated of the air to come; what the service
//! will ask for. And what the strip says of a heated place.

use crate::life::{limits, row, shop};
use crate::shop::{Shop, strings};
use serde_json::{Value, json};

/// The card "F" without a pot life, so that the model's values are the class's.
fn without_pot() -> Value {
    let mut card = limits();
    card["limits"].as_array_mut().unwrap().retain(|limit| limit["clock"] != "pot");
    card
}

fn tight(service: Option<&str>) -> (Shop, String) {
    let mut shop = Shop::new();
    shop.card("F", without_pot());
    shop.act("part", json!({ "mark": "A", "service": service }));
    shop.act("joint", json!({ "part": "A", "mark": "J", "thickness": "12 mm" }));
    shop.read("09:50", "20.0");
    let batch = shop.at("10:00").batch_of("F");
    let bond = shop.bond(&[&batch], "A", json!({}));
    shop.at("10:05").press("first-glue-on", &bond);
    shop.at("10:20").press("together", &bond);
    shop.at("10:30").press("all-tight", &bond);
    (shop, bond)
}

fn how(row: &Value) -> Option<String> {
    strings(&row["basis"]).into_iter().find(|line| line.starts_with("how cured at "))
}

#[test]
fn a_row_under_pressure_tells_how_cured_for_every_ten_minutes_and_a_pot_does_not() {
    let mut open = shop();
    let batch = open.at("10:00").batch_of("F");
    let bond = open.bond(&[&batch], "A", json!({}));
    open.press("first-glue-on", &bond);
    assert_eq!(how(&row(&open)), None, "glue that is still open is not asked about");
    let (mut shop, _) = tight(None);
    shop.at("12:34");
    let told = how(&row(&shop)).unwrap();
    assert!(told.starts_with("how cured at 12:30: still curing: about "), "{told}");
    assert!(told.ends_with("; by model, not by test: the sample joint decides"), "{told}");
    shop.at("12:39");
    assert_eq!(how(&row(&shop)), Some(told.clone()), "the same until 12:40");
    shop.at("12:40");
    assert!(how(&row(&shop)).unwrap().starts_with("how cured at 12:40: "));
    // Asked on a later day about that instant, the answer is the same.
    let then = shop.ask_at(Some("12:34"), None, "bench", json!({})).unwrap();
    assert_eq!(how(&then["rows"][0]), Some(told));
}

#[test]
fn a_service_hotter_than_a_stalled_glass_is_said_after_that_and_holds_nothing() {
    let (mut shop, bond) = tight(Some("55 C"));
    let said =
        |shop: &Shop| strings(&row(shop)["later"]).into_iter().find(|line| line.contains("named for the service"));
    shop.at("11:30");
    assert_eq!(said(&shop), None, "it is still curing");
    shop.read("+1 09:00", "20.0");
    shop.at("+1 10:30");
    let mind = said(&shop).unwrap();
    assert!(
        mind.starts_with("The glass transition, about 25 °C, lies below the 55 °C named for the service of A"),
        "{mind}"
    );
    assert!(
        row(&shop)["held"].as_array().unwrap().iter().all(|held| !held.as_str().unwrap().contains("glass")),
        "{bond}"
    );
    let (mut plain, _) = tight(None);
    plain.read("+1 09:00", "20.0");
    plain.at("+1 10:30");
    assert_eq!(said(&plain), None, "nobody named a service");
}

#[test]
fn a_forecast_is_said_in_words_with_who_stated_it() {
    let (mut shop, _) = tight(None);
    let forecast = |row: &Value| strings(&row["basis"]).into_iter().find(|line| line.starts_with("forecast: "));
    assert_eq!(forecast(&row(&shop)), None);
    shop.act(
        "forecast",
        json!({ "place": "bench", "shape": "setback", "day": "20 C", "night": "12 C", "from": "22:00", "to": "06:00" }),
    );
    assert_eq!(
        forecast(&row(&shop)).unwrap(),
        "forecast: down to 12 °C from 22:00, heater back to 20 °C from 06:00 (stated by ann)"
    );
    shop.at("23:00");
    assert_eq!(forecast(&row(&shop)).unwrap(), "forecast: heater back to 20 °C from 06:00 (stated by ann)");
    shop.act("forecast", json!({ "place": "bench", "shape": "hold", "at": "18 C" }));
    assert_eq!(forecast(&row(&shop)).unwrap(), "forecast: held at 18 °C (stated by ann)");
}

#[test]
fn the_strip_says_how_dry_a_heated_place_is_by_the_air_it_draws() {
    let mut shop = Shop::new();
    shop.act("place", json!({ "name": "tent", "heated_from": "bench" }));
    shop.at("09:00").act("reading", json!({ "place": "bench", "temperature": "20 C", "humidity": "60 %" }));
    shop.act("reading", json!({ "place": "tent", "temperature": "60 C" }));
    let strip = shop.ask("bench", json!({}))["strip"].clone();
    let of = |place: &str| strip.as_array().unwrap().iter().find(|one| one["place"] == place).unwrap()["cells"].clone();
    let tent = of("tent");
    // 60 % at 20 °C are 7 % at 60 °C: 0.6 × 23.33 hPa of 198.8 hPa.
    assert_eq!((&tent[1]["label"], &tent[1]["value"]), (&json!("Humidity, by bench’s air"), &json!("7 %")));
    let settles: f64 = tent[2]["value"].as_str().unwrap().trim_end_matches(" %").parse().unwrap();
    assert!((0.8..1.6).contains(&settles), "{tent}");
    assert_eq!(of("bench")[1]["label"], "Humidity");
    shop.act("reading", json!({ "place": "tent", "temperature": "60 C", "humidity": "12 %" }));
    let strip = shop.ask("bench", json!({}))["strip"].clone();
    let tent = strip.as_array().unwrap().iter().find(|one| one["place"] == "tent").unwrap()["cells"].clone();
    assert_eq!(
        (&tent[1]["label"], &tent[1]["value"]),
        (&json!("Humidity"), &json!("12 %")),
        "read there, it goes before"
    );
}

#[test]
fn a_row_that_waits_for_warmth_says_what_warmth_would_bring_and_one_that_is_warm_does_not() {
    let (mut shop, _) = tight(None);
    shop.read("10:40", "20.0");
    shop.at("10:41");
    assert_eq!(row(&shop)["helps"], Value::Null, "at 20 °C nothing is to be gained by 18 or 20");
    shop.read("11:00", "5.0");
    shop.read("11:10", "5.0");
    shop.at("11:12");
    let cold = row(&shop);
    let said = cold["helps"].as_str().unwrap();
    assert!(said.starts_with("kept at 18 °C from now on: "), "{cold}");
    // The same instants as the clock's own.
    let clocks = shop.ask("bench", json!({}))["clocks"].clone();
    let clamp = clocks.as_array().unwrap().iter().find(|one| one["clock"] == "clamp").unwrap().clone();
    let own: Vec<String> =
        clamp["helps"].as_array().unwrap().iter().map(|help| help["said"].as_str().unwrap().to_owned()).collect();
    assert_eq!(said.replace(" from now on", ""), format!("kept {}", own[0]));
    assert!(strings(&cold["basis"]).contains(&format!("kept from now {}", own.join("; "))), "{cold}");
}
