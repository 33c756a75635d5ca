//! From a part to everything, and from a lot to every part.

use crate::cure::tight_at_ten;
use crate::shop::{Shop, at, ms, strings};
use serde_json::{Value, json};

fn spar() -> Shop {
    let mut shop = Shop::new();
    shop.part("SPAR");
    shop.part("RIB");
    for (mark, role) in [("R2", "resin"), ("FILL", "filler")] {
        shop.act("lot", json!({ "mark": mark, "card": "E", "role": role }));
    }
    shop.act("container", json!({ "mark": "R2-1", "lot": "R2" }));
    shop.read("09:55", "20.0");
    let one = shop.at("10:00").batch();
    let two = shop.at("10:05").batch();
    let three = shop.at("10:10").batch();
    shop.act(
        "top-up",
        json!({ "batch": two, "card": "E", "containers": ["R2-1", "H-E"], "resin": "20.0 g", "hardener": "16.6 g" }),
    );
    shop.act("filler", json!({ "batch": three, "lot": "FILL", "mass": "5.0 g" }));
    let stretches =
        json!([{ "batch": one, "from": "0 m", "to": "2 m" }, { "batch": two, "from": "2 m", "to": "4 m" }, three]);
    let spar = shop.act("bond", json!({ "batches": stretches, "joints": ["SPAR/J"], "place": "bench", "moisture": "9.8 %", "wood_temperature": "20.0 C" }));
    assert_eq!(spar["made"]["bond"], "1");
    shop.press("first-glue-on", "1");
    shop.at("10:20").press("together", "1");
    shop.at("10:25").press("all-tight", "1");
    let rib = shop.bond(&[&three], "RIB", json!({}));
    shop.press("first-glue-on", &rib);
    shop
}

/// Until it is clamped, the clock of a joint spread in stretches says where its oldest glue lies.
#[test]
fn the_oldest_stretch_is_clamped_first() {
    let mut shop = Shop::new();
    let minutes = |clock: &str, time: &str| json!({ "clock": clock, "points": [{ "at": "20 C", "time": time }] });
    shop.card(
        "F",
        json!({ "limits": [minutes("pot", "60 min"), minutes("closed", "40 min"), minutes("clamp", "12 h")] }),
    );
    shop.part("SPAR");
    shop.read("09:55", "20.0");
    let one = shop.at("10:00").batch_of("F");
    let two = shop.at("10:05").batch_of("F");
    let stretches = json!([{ "batch": one, "from": "0 m", "to": "2 m" }, { "batch": two, "from": "2 m", "to": "4 m" }]);
    shop.act("bond", json!({ "batches": stretches, "joints": ["SPAR/J"], "place": "bench" }));
    shop.press("first-glue-on", "1");
    shop.at("10:20").press("together", "1");
    shop.at("10:25").press("all-tight", "1");
    let said = |time: &str| shop.clock_at(time, "1", "closed")["used"]["assumed"].to_string();
    let wanted = "the oldest glue is that of Tue 1, from 0 m to 2 m: put together and clamp there first";
    assert!(said("10:24").contains(wanted), "{}", said("10:24"));
    assert!(!said("10:26").contains("oldest glue"), "{}", said("10:26"));
}

/// The trace is the union over all batches, top-ups and second pots.
#[test]
fn a_spar_from_three_pots() {
    let shop = spar();
    let trace = shop.ask("trace", json!({ "part": "SPAR" }));
    assert_eq!(trace["part"]["mark"], "SPAR");
    let bond = &trace["bonds"][0];
    assert_eq!(strings(&bond["joints"]), ["SPAR/J"]);
    let batches = bond["batches"].as_array().unwrap();
    let lots = |batch: &Value| {
        batch["lots"]
            .as_array()
            .unwrap()
            .iter()
            .map(|lot| format!("{} {}", lot["role"].as_str().unwrap(), lot["mark"].as_str().unwrap()))
            .collect::<Vec<_>>()
    };
    assert_eq!(batches.len(), 3);
    assert_eq!(lots(&batches[0]), ["resin R-E-lot", "hardener H-E-lot"]);
    assert_eq!(lots(&batches[1]), ["resin R-E-lot", "resin R2", "hardener H-E-lot"]);
    assert_eq!(lots(&batches[2]), ["resin R-E-lot", "hardener H-E-lot", "filler FILL"]);
    assert_eq!(
        (batches[0]["from"].clone(), batches[1]["to"].clone(), batches[2]["to"].clone()),
        (json!("0 m"), json!("4 m"), json!(null))
    );
    assert_eq!(strings(&bond["people"]), ["ann"]);
    assert_eq!(bond["moisture"]["ppm"], 98_000);
    let kinds: Vec<&str> = bond["entries"].as_array().unwrap().iter().map(|it| it["kind"].as_str().unwrap()).collect();
    for (kind, count) in
        [("mix", 3), ("top-up", 1), ("filler", 1), ("batch", 3), ("bond", 1), ("lot", 4), ("container", 3), ("card", 1)]
    {
        assert_eq!(kinds.iter().filter(|it| **it == kind).count(), count, "{kind} in {kinds:?}");
    }
    let presses = kinds.iter().filter(|it| **it == "press").count();
    assert_eq!(presses, 6, "three times hardener in and three presses of this bond, none of the rib's");
    let head = shop.ask("checkpoint", json!({}));
    assert_eq!(trace["checkpoint"], head);
}

/// From a lot to every part: first pots, top-ups, second pots, filler.
#[test]
fn where_a_lot_went() {
    let shop = spar();
    let used = |lot: &str| shop.ask("where-used", json!({ "lot": lot }));
    let parts = |answer: &Value| {
        answer["parts"].as_array().unwrap().iter().map(|it| it["mark"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(parts(&used("R-E-lot")), ["RIB", "SPAR"]);
    assert_eq!(parts(&used("R2")), ["SPAR"], "by a top-up only");
    assert_eq!(used("R2")["batches"][0]["by"], json!(["top-up"]));
    assert_eq!(parts(&used("FILL")), ["RIB", "SPAR"]);
    let spar = &used("R-E-lot")["parts"][1];
    assert_eq!(strings(&spar["bonds"]), ["1"]);
    assert_eq!(spar["where"], "joints J; batch Tue 1 (mix), batch Tue 2 (mix) and batch Tue 3 (mix)");
}

/// A can that is corrected to another lot moves with everything it went into.
#[test]
fn a_corrected_can_moves_what_it_went_into() {
    let mut shop = spar();
    let can = shop.ask("list", json!({ "of": "container" }))["list"]
        .as_array()
        .unwrap()
        .iter()
        .find(|it| it["name"] == "R-E")
        .unwrap()["id"]
        .clone();
    shop.act("correct", json!({ "entry": can, "body": { "mark": "R-E", "lot": "R2" }, "why": "read the label again" }));
    let parts = |lot: &str| shop.ask("where-used", json!({ "lot": lot }))["parts"].as_array().unwrap().len();
    assert_eq!((parts("R-E-lot"), parts("R2")), (0, 2));
}

/// What to look at first: limits exceeded, gaps, corrections, late entries; each names its entry.
#[test]
fn what_to_look_at_first() {
    let mut shop = Shop::new();
    let bond = tight_at_ten(&mut shop, "20.0", json!({}));
    let late = json!({ "act": "press", "person": "ann", "happened": "2026-11-24T12:35:00Z", "why": "both hands full",
        "body": { "press": "squeeze-out", "bond": bond, "seen": "all-round" } });
    let late = shop.at("13:35").try_act(late).unwrap()["entries"][0]["seq"].clone();
    shop.at("18:00").press("first-clamp-off", &bond);
    let trace = shop.ask("trace", json!({ "part": "A" }));
    let reading = trace["bonds"][0]["readings"]["by_hand"][0].clone();
    assert_eq!(
        trace["bonds"][0]["readings"]["gaps"],
        json!([{ "from": "2026-11-24T12:30:00.000Z", "to": "2026-11-24T18:00:00.000Z" }])
    );
    assert_eq!(trace["bonds"][0]["readings"]["lowest_mk"], 293_150);
    let _ = reading;
    let press =
        trace["bonds"][0]["presses"].as_array().unwrap().iter().find(|it| it["press"] == "together").unwrap()["seq"]
            .to_string();
    let correct = json!({ "act": "correct", "person": "ann", "happened": "2026-11-24T09:56:00Z",
        "body": { "entry": press, "body": { "press": "together", "bond": bond }, "why": "a minute later" } });
    let correct = shop.try_act(correct).unwrap()["entries"][0]["seq"].clone();
    let first = strings(&shop.ask("trace", json!({ "part": "A" }))["look_at_first"]);
    assert_eq!(first.len(), 4, "{first:?}");
    assert!(first[0].starts_with("bond 1: First clamp off at 18:00 too early"), "{first:?}");
    assert!(first[1].starts_with("bond 1: no reading from 12:30 to 18:00 (5 h 30 min)"), "{first:?}");
    assert!(first[2].contains(&format!("was corrected by ann: a minute later (entry {correct})")), "{first:?}");
    assert_eq!(first[3], format!("squeeze-out of 12:35 entered 1 h late: \"both hands full\" (entry {late})"));
    assert!(first.iter().all(|it| it.contains("(entry ")), "{first:?}");
}

/// What nobody entered is listed, and a withdrawn entry stays in sight.
#[test]
fn not_recorded_and_withdrawn() {
    let mut shop = Shop::new();
    shop.part("A");
    let batch = shop.at("10:00").batch();
    let bond =
        shop.act("bond", json!({ "batches": [batch], "joints": ["A/J"] }))["made"]["bond"].as_str().unwrap().to_owned();
    shop.press("together", &bond);
    let tight = shop.at("10:05").press("all-tight", &bond)["entries"][0]["id"].clone();
    shop.at("10:06").act("withdraw", json!({ "entry": tight, "why": "wrong bond" }));
    let trace = shop.ask("trace", json!({ "part": "A" }));
    let not = strings(&trace["not_recorded"]);
    for what in ["first glue on", "pressure", "wood moisture"] {
        assert!(not.contains(&format!("bond 1: {what}")), "{what} in {not:?}");
    }
    let entries = trace["bonds"][0]["entries"].as_array().unwrap();
    let gone = entries.iter().find(|it| it["id"] == tight).unwrap();
    assert_eq!(gone["withdrawn"], true);
    assert!(entries.iter().any(|it| it["kind"] == "withdrawn"));
    assert_eq!(shop.clock_at("10:10", &bond, "clamp")["started"], json!(null));
    let _ = (at(&gone["happened"]), ms("10:05"));
}

/// A reading taken just before the first press is one that counts; one of the day before is not, and neither makes a gap.
#[test]
fn the_reading_before_the_first_press_counts() {
    let mut shop = Shop::new();
    shop.part("A");
    shop.read("08:00", "-3.0");
    shop.read("12:10", "21.0");
    shop.at("12:11");
    let batch = shop.batch();
    let bond = shop.bond(&[&batch], "A", json!({}));
    shop.at("12:12").press("first-glue-on", &bond);
    let readings = shop.ask("trace", json!({ "part": "A" }))["bonds"][0]["readings"].clone();
    assert_eq!(
        (readings["by_hand"].as_array().unwrap().len(), &readings["lowest"]),
        (1, &json!("21 °C")),
        "{readings}"
    );
    assert_eq!(readings["gaps"], json!([]));
    // The one before counts too where the next comes within two hours of it: a straight line runs between them.
    shop.read("14:05", "19.5");
    let readings = shop.ask("trace", json!({ "part": "A" }))["bonds"][0]["readings"].clone();
    assert_eq!((readings["by_hand"].as_array().unwrap().len(), &readings["lowest"]), (2, &json!("19.5 °C")));
}
