//! Through the doors: what is forecast, wood from its store, the age of a mix, what a law rests on.

use crate::cure::tight_at_ten;
use crate::shop::{Shop, about, at, ms, strings};
use serde_json::{Value, json};

const TAKEN: &str = "until when goes by the forecast stated for the place";

fn assumed(clock: &Value) -> Vec<String> {
    strings(&clock["used"]["assumed"])
}

/// 2 h 40 min at 20 °C of 12 h; from 12:40 on 25 °C instead: 65 kJ/mol would be faster, but the safe bound is capped at
/// the sheet's 20 °C.
#[test]
fn a_forecast_moves_estimates_and_frees_nothing() {
    let mut shop = Shop::new();
    let bond = tight_at_ten(&mut shop, "20.0", json!({}));
    let before = shop.clock_at("12:40", &bond, "clamp");
    let forecast = shop.at("12:35").act("forecast", json!({"place": "bench", "shape": "hold", "at": "25 C"}));
    let warm = shop.clock_at("12:40", &bond, "clamp");
    for same in ["state", "progress_ppm"] {
        assert_eq!(warm[same], before[same]);
    }
    assert!(at(&warm["latest"]) < at(&before["latest"]) && at(&warm["expected"]) < at(&before["expected"]));
    assert!(assumed(&warm).contains(&TAKEN.to_owned()) && !assumed(&before).contains(&TAKEN.to_owned()));
    // A day later, never read again: nothing is reached, whatever was forecast.
    let later = shop.clock_at("+1 12:00", &bond, "clamp");
    assert_ne!(later["state"], "reached", "{later}");
    // The newest holds, and one withdrawn is none.
    shop.at("12:38").act("forecast", json!({"place": "bench", "shape": "hold", "at": "5 C"}));
    assert_eq!(shop.clock_at("12:40", &bond, "clamp")["state"], "never");
    let seq = &forecast["entries"][0]["seq"];
    let cold = json!(seq.as_u64().unwrap() + 1);
    shop.at("12:39").act("withdraw", json!({"entry": cold, "why": "the heating works again"}));
    assert_eq!(shop.clock_at("12:40", &bond, "clamp"), warm);
    // Before it was stated it was not known.
    let then = shop.ask_at(Some("12:40"), Some("12:34"), "clocks", json!({ "bond": bond })).unwrap();
    assert_eq!(crate::shop::find_clock(&then, &format!("bond:{bond}"), "clamp")["latest"], before["latest"]);
}

#[test]
fn a_forecast_is_told_like_any_entry() {
    let mut shop = Shop::new();
    let night =
        json!({"place": "bench", "shape": "setback", "day": "20 C", "night": "12 C", "from": "22:00", "to": "06:00"});
    let made = shop.act("forecast", night.clone());
    let entry = shop.ask("entry", json!({ "id": made["entries"][0]["id"] }));
    assert_eq!(entry["said"], "Forecast for bench: 20 °C by day, 12 °C by night, 22:00 to 06:00");
    assert_eq!((&entry["act"]["act"], &entry["act"]["body"]), (&json!("forecast"), &night), "{entry}");
}

/// The store goes from 6 to 20 °C between 09:15 and 09:30. 60 mm of wood have a time constant of 82.5 min: at 10:00 its
/// middle is at 20 - (14 - 14 (1 - 5.5 (1 - exp(-15/82.5)))) exp(-30/82.5) = 11.101 °C.
#[test]
fn wood_from_its_store_is_behind() {
    let latest = |more: Value| {
        let mut shop = Shop::new();
        shop.act("place", json!({ "name": "store" }));
        for time in ["08:00", "08:30", "08:45", "09:00", "09:15", "09:30", "09:45", "10:00"] {
            let celsius = if time < "09:30" { "6.0 C" } else { "20.0 C" };
            shop.at(time).act("reading", json!({ "place": "store", "temperature": celsius }));
        }
        shop.read("10:00", "20.0");
        let batch = shop.batch();
        shop.act("part", json!({ "mark": "A" }));
        shop.act("joint", json!({ "part": "A", "mark": "J", "thickness": "60 mm" }));
        let mut body = json!({ "batches": [batch], "joints": ["A/J"], "place": "bench" });
        body.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        let bond = shop.act("bond", body)["made"]["bond"].as_str().unwrap().to_owned();
        shop.press("all-tight", &bond);
        shop.read("10:10", "20.0");
        at(&shop.clock_at("10:10", &bond, "clamp")["latest"])
    };
    let stored = latest(json!({ "stored": "store" }));
    let measured = latest(json!({ "wood_temperature": "11.101 C" }));
    assert!((stored - measured).abs() < 2_000, "{stored} {measured}");
    assert!(
        stored - latest(json!({ "wood_temperature": "20.0 C" })) > 600_000,
        "not as warm as the air has just become"
    );
}

/// Pot life 45 min of 100 g at 25 °C: after 40 min in the cup little of a long open time is left, and that is said.
#[test]
fn an_old_mix_shortens_open_time() {
    let left = |minutes: u32| {
        let mut shop = Shop::bare();
        shop.act("person", json!({ "name": "ann" }));
        shop.act("place", json!({ "name": "bench" }));
        let limits = json!([
            { "clock": "pot", "points": [{ "at": "25 C", "time": "45 min", "mass": "100 g" }] },
            { "clock": "open", "points": [{ "at": "25 C", "time": "90 min" }], "counted_from": "spreading" },
            { "clock": "clamp", "points": [{ "at": "20 C", "time": "12 h" }] },
        ]);
        shop.card("E", json!({ "limits": limits }));
        shop.read("09:50", "25.0");
        let batch = shop.at("10:00").batch();
        shop.part("A");
        let bond = shop.bond(&[&batch], "A", json!({}));
        shop.read("10:05", "25.0");
        shop.at(&format!("10:{minutes}")).press("first-glue-on", &bond);
        shop.read("10:45", "25.0");
        shop.clock_at("10:45", &bond, "open")
    };
    let (fresh, old) = (left(10), left(40));
    let open = |clock: &Value| at(&clock["earliest"]) - at(&clock["started"]);
    assert!(open(&old) < open(&fresh) / 2, "{old} {fresh}");
    assert!(assumed(&old).contains(&"the mix was 40 min old when spread".to_owned()), "{old}");
    about(&old["expected"], ms("12:10"));
}

#[test]
fn a_clock_says_which_law_and_how_sure() {
    let mut shop = Shop::new();
    let bond = tight_at_ten(&mut shop, "20.0", json!({}));
    let limit = shop.clock_at("12:40", &bond, "clamp")["limit"].clone();
    assert_eq!(
        (&limit["energy_kj_mol"], &limit["points"], &limit["band"]),
        (&json!([45.0, 55.0, 65.0]), &json!(1), &json!("class interval"))
    );
}
