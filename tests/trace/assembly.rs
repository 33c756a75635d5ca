//! Pot and assembly clocks: where they start and end.

use crate::shop::{Shop, about, at, find_clock, ms, strings};
use serde_json::json;

/// docs/science/clocks.md: A together 10:20, limit 10:45, B's glue 10:50: over, B held.
#[test]
fn later_glue_reopens_a_pot() {
    let mut shop = Shop::new();
    shop.part("A");
    shop.part("B");
    shop.read("09:55", "20.0");
    let batch = shop.at("10:00").batch();
    let a = shop.bond(&[&batch], "A", json!({}));
    shop.at("10:10").press("first-glue-on", &a);
    shop.at("10:20").press("together", &a);
    shop.at("10:50").noted("10:00", "10:45", "20.0");

    // Pot 45 min at 25 °C, in 20 °C: never longer than at the sheet's lowest point, so 45 min (40 g and 33.2 g weigh
    // less than the sheet's 100 g).
    let pot = shop.clock_at("10:30", &a, "pot");
    assert_eq!(pot["state"], "ended");
    assert_eq!(at(&pot["started"]), ms("10:00"));
    assert_eq!(at(&pot["ended"]), ms("10:20"));
    assert_eq!(pot["direction"], "must-not-exceed");

    let b = shop.at("10:50").bond(&[&batch], "B", json!({}));
    shop.press("first-glue-on", &b);
    let pot = shop.clock_at("10:51", &b, "pot");
    assert_eq!(pot["state"], "over");
    about(&pot["earliest"], ms("10:45"));
    shop.at("10:55").press("together", &b);
    let pot = shop.clock_at("11:00", &b, "pot");
    assert_eq!((pot["state"].clone(), at(&pot["ended"])), (json!("over"), ms("10:55")));

    let (state, owed) = shop.state(&b);
    assert_eq!(state, "held");
    assert!(owed.iter().any(|it| it.contains("pot Tue 1 over") && it.contains("limit 10:45")), "{owed:?}");
    assert_eq!(shop.state(&a), ("running".to_owned(), vec![]), "A's glue left the pot in time");
}

/// A batch that no bond names has its pot alone, under its own name.
#[test]
fn a_pot_without_a_bond() {
    let mut shop = Shop::new();
    shop.read("09:55", "20.0");
    let batch = shop.at("10:00").batch();
    let pot = find_clock(&shop.ask("clocks", json!({ "batch": batch })), "batch:Tue 1", "pot");
    assert_eq!(pot["state"], "running");
    about(&pot["earliest"], ms("10:45"));
    assert!(pot["said"].as_str().unwrap().starts_with("Pot Tue 1 is good until 10:45"), "{}", pot["said"]);
    assert_eq!(find_clock(&shop.ask("clocks", json!({})), "batch:Tue 1", "pot"), pot);
    shop.at("10:40").press("pot-done", &batch);
    shop.noted("10:10", "10:40", "20.0");
    let pot = find_clock(
        &shop.ask_at(Some("11:30"), None, "clocks", json!({ "batch": batch })).unwrap(),
        "batch:Tue 1",
        "pot",
    );
    assert_eq!(pot["state"], "ended", "{pot:#}");
}

fn assembly_card(shop: &mut Shop, together: bool, from: &str) {
    shop.card(
        "S",
        json!({ "together": together, "limits": [
        { "clock": "pot", "points": [{ "at": "25 C", "time": "2 h" }] },
        { "clock": "open", "points": [{ "at": "25 C", "time": "10 min" }], "counted_from": "spreading" },
        { "clock": "closed", "points": [{ "at": "25 C", "time": "20 min" }], "counted_from": from },
        { "clock": "clamp", "points": [{ "at": "20 C", "time": "12 h" }] },
        { "clock": "machining", "points": [{ "at": "20 C", "time": "24 h" }] },
    ] }),
    );
}

/// 8 of 10 min open leaves 4 of 20 closed: together 10:08, so all tight by 10:12.
#[test]
fn closed_carries_what_open_used_up() {
    for (together, limit) in [(true, "10:12"), (false, "10:28")] {
        let mut shop = Shop::new();
        shop.part("A");
        assembly_card(&mut shop, together, "closing");
        shop.read("09:55", "20.0");
        let batch = shop.at("09:58").batch_of("S");
        let bond = shop.bond(&[&batch], "A", json!({}));
        shop.at("10:00").press("first-glue-on", &bond);
        let open = shop.clock_at("10:05", &bond, "open");
        about(&open["earliest"], ms("10:10"));
        assert!(open["said"].as_str().unwrap().starts_with("Together by 10:10"), "{}", open["said"]);
        shop.at("10:08").press("together", &bond);
        let closed = shop.clock_at("10:09", &bond, "closed");
        assert_eq!(at(&closed["started"]), ms("10:08"));
        about(&closed["earliest"], ms(limit));
    }
}

/// "60 min from mixing" with hardener 10:00 and first glue 10:20: over at 11:00. Unknown counts from mixing too.
#[test]
fn counted_from_mixing() {
    for from in [json!("mixing"), json!(null)] {
        let mut shop = Shop::new();
        shop.part("A");
        let mut open = json!({ "clock": "open", "points": [{ "at": "25 C", "time": "60 min" }], "counted_from": from });
        open.as_object_mut().unwrap().retain(|_, value| !value.is_null());
        shop.card("S", json!({ "limits": [open, { "clock": "clamp", "points": [{ "at": "20 C", "time": "12 h" }] }] }));
        shop.read("09:55", "20.0");
        let batch = shop.at("10:00").batch_of("S");
        let bond = shop.bond(&[&batch], "A", json!({}));
        shop.at("10:20").press("first-glue-on", &bond);
        shop.at("10:30").noted("10:10", "10:25", "20.0");
        let open = shop.clock_at("10:30", &bond, "open");
        assert_eq!(at(&open["started"]), ms("10:00"));
        about(&open["earliest"], ms("11:00"));
    }
}

/// Two presses: open runs from first glue on to all tight, there is no closed clock, *Together* is not owed.
#[test]
fn two_press_joints() {
    let mut shop = Shop::new();
    shop.part("A");
    assembly_card(&mut shop, false, "closing");
    shop.read("09:55", "20.0");
    let batch = shop.at("09:58").batch_of("S");
    let bond = shop.bond(&[&batch], "A", json!({ "presses": 2 }));
    shop.at("10:00").press("first-glue-on", &bond);
    shop.at("10:07").press("all-tight", &bond);
    shop.press("all-round", &bond);
    let open = shop.clock_at("10:30", &bond, "open");
    assert_eq!((open["state"].clone(), at(&open["ended"])), (json!("ended"), ms("10:07")));
    assert!(shop.clock_at("10:30", &bond, "closed").is_null());
    assert_eq!(at(&shop.clock_at("10:30", &bond, "pot")["ended"]), ms("10:07"));
    assert_eq!(shop.state(&bond), ("running".to_owned(), vec![]));
}

/// A missing press takes its unsafe reading: no *Together* means open until *All tight* and no closed clock.
#[test]
fn missing_presses() {
    let mut shop = Shop::new();
    shop.part("A");
    assembly_card(&mut shop, false, "closing");
    shop.read("09:55", "20.0");
    let batch = shop.at("10:00").batch_of("S");
    let bond = shop.bond(&[&batch], "A", json!({}));
    shop.at("10:12").press("all-tight", &bond);
    let open = shop.clock_at("10:30", &bond, "open");
    assert_eq!(at(&open["started"]), ms("10:00"), "first glue on is missing: from hardener in");
    assert_eq!((open["state"].clone(), at(&open["ended"])), (json!("over"), ms("10:12")));
    assert!(shop.clock_at("10:30", &bond, "closed").is_null());
    let (state, owed) = shop.state(&bond);
    assert_eq!(state, "held");
    for owes in ["bond 1: First glue on not recorded", "bond 1: Together not recorded"] {
        assert!(owed.iter().any(|it| it == owes), "{owes} in {owed:?}");
    }
    assert!(owed.iter().any(|it| it.contains("open time over")), "{owed:?}");
}

/// Before *All tight* the must-reach clocks say never and have no start; must-not-exceed clocks are left out.
#[test]
fn clocks_that_have_not_started() {
    let mut shop = Shop::new();
    shop.part("A");
    assembly_card(&mut shop, false, "closing");
    let batch = shop.at("10:00").batch_of("S");
    let bond = shop.bond(&[&batch], "A", json!({}));
    for clock in ["clamp", "machining"] {
        let one = shop.clock_at("10:00", &bond, clock);
        assert_eq!((one["state"].clone(), one["started"].clone()), (json!("never"), json!(null)));
    }
    for clock in ["open", "closed", "fresh-surface", "glue-again", "full-cure"] {
        assert!(shop.clock_at("10:00", &bond, clock).is_null(), "{clock}");
    }
}

/// Fresh surfaces: plain time from the earliest face as last made fresh, until *Together*. Planed 08:30, limit 2 h,
/// together 10:31: over by a minute.
#[test]
fn fresh_surfaces() {
    let mut shop = Shop::new();
    shop.part("A");
    shop.card(
        "S",
        json!({ "limits": [
        { "clock": "fresh-surface", "points": [{ "time": "2 h" }] },
        { "clock": "clamp", "points": [{ "at": "20 C", "time": "12 h" }] },
    ] }),
    );
    shop.at("08:10").act("surface", json!({ "joints": ["A/J"], "how": "planed" }));
    shop.at("08:30").act("surface", json!({ "parts": ["A"], "how": "scraped" }));
    let batch = shop.at("10:00").batch_of("S");
    let bond = shop.bond(&[&batch], "A", json!({}));
    shop.at("10:20").press("first-glue-on", &bond);
    let fresh = shop.clock_at("10:20", &bond, "fresh-surface");
    assert_eq!((at(&fresh["started"]), at(&fresh["earliest"])), (ms("08:30"), ms("10:30")));
    assert_eq!((fresh["state"].clone(), fresh["limit"]["law"].clone()), (json!("running"), json!("unscaled")));
    shop.at("10:31").press("together", &bond);
    assert_eq!(shop.clock_at("10:31", &bond, "fresh-surface")["state"], "over");
    let (state, owed) = shop.state(&bond);
    assert_eq!(state, "held");
    assert!(owed.iter().any(|it| it.contains("fresh-surface time over") && it.contains("limit 10:30")), "{owed:?}");
}

/// Gluing again on a layer without abrading: from the layer's *All tight* to first glue on.
#[test]
fn gluing_on_the_layer_below() {
    let mut shop = Shop::new();
    shop.part("A");
    shop.part("B");
    shop.card(
        "S",
        json!({ "limits": [
        { "clock": "glue-again", "points": [{ "at": "25 C", "time": "4 h" }] },
        { "clock": "clamp", "points": [{ "at": "20 C", "time": "12 h" }] },
    ] }),
    );
    shop.read("08:30", "20.0");
    let first = shop.at("09:00").batch_of("S");
    let below = shop.bond(&[&first], "A", json!({}));
    for press in ["first-glue-on", "together", "all-tight"] {
        shop.press(press, &below);
    }
    for hour in ["10:00", "11:00", "12:00", "13:00"] {
        shop.read(hour, "20.0");
    }
    let second = shop.at("13:30").batch_of("S");
    let above = shop.bond(&[&second], "B", json!({ "layer_below": below }));
    shop.press("first-glue-on", &above);
    let again = shop.clock_at("13:30", &above, "glue-again");
    assert_eq!((at(&again["started"]), again["state"].clone()), (ms("09:00"), json!("over")));
    about(&again["earliest"], ms("13:00"));
}

/// A spar of three pots: the worst pot stands under the bond, the others under their batches; each once among all.
#[test]
fn three_pots() {
    let mut shop = Shop::new();
    shop.part("SPAR");
    let one = shop.at("10:00").batch();
    let two = shop.at("10:10").batch();
    let three = shop.at("10:20").batch();
    shop.noted("09:55", "10:20", "20.0");
    let bond = shop.bond(&[&one, &two, &three], "SPAR", json!({}));
    shop.press("first-glue-on", &bond);
    let clocks = shop.ask("clocks", json!({ "bond": bond }));
    let pots: Vec<_> = clocks["clocks"].as_array().unwrap().iter().filter(|one| one["clock"] == "pot").collect();
    let told: Vec<_> = pots
        .iter()
        .map(|pot| (pot["of"].as_str().unwrap(), pot["batch"].as_str().unwrap(), at(&pot["earliest"])))
        .collect();
    assert_eq!(
        told,
        vec![
            ("bond:1", "Tue 1", ms("10:45")),
            ("batch:Tue 2", "Tue 2", ms("10:55")),
            ("batch:Tue 3", "Tue 3", ms("11:05"))
        ]
    );
    let all = shop.ask("clocks", json!({}));
    assert_eq!(all["clocks"].as_array().unwrap().iter().filter(|one| one["clock"] == "pot").count(), 3);
    assert_eq!(strings(&shop.ask("bonds", json!({}))["bonds"][0]["batches"]), ["Tue 1", "Tue 2", "Tue 3"]);
}

/// A coat before the filled glue is glue on wood: open time counts from it.
#[test]
fn a_wetting_coat_is_first_glue() {
    let mut shop = Shop::new();
    shop.part("A");
    assembly_card(&mut shop, false, "closing");
    shop.read("09:55", "20.0");
    let batch = shop.at("10:00").batch_of("S");
    let bond = shop.bond(&[&batch], "A", json!({}));
    shop.at("10:02").act("coat", json!({ "bond": bond, "batch": batch }));
    shop.at("10:06").press("first-glue-on", &bond);
    assert_eq!(at(&shop.clock_at("10:07", &bond, "open")["started"]), ms("10:02"));
}
