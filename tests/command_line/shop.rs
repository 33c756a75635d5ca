//! A small shop with one bond in the clamps, told late so that its clocks are known.

use serde_json::{Value, json};
use tests::binary::Shop;

/// An instant in the recent past of a fixed day: everything in these tests is told late, at this hour and minute.
pub fn at(clock: &str) -> String {
    format!("2026-01-13T{clock}:00.000Z")
}

/// Card, lots, cans, a part with two joints.
pub fn stores() -> Value {
    let told = |act: &str, body: Value| json!({ "act": act, "person": "ann", "happened": at("08:00"), "why": "from paper", "body": body });
    json!([
        { "act": "person", "body": { "name": "ann" }, "happened": at("07:59") },
        told("place", json!({ "name": "bench" })),
        told("instrument", json!({ "name": "scale", "step": "0.1 g" })),
        told("card", card()),
        told("lot", json!({ "mark": "R-118", "card": "invented epoxy", "role": "resin", "expires": "2199-12-31" })),
        told("lot", json!({ "mark": "H-77", "card": "invented epoxy", "role": "hardener", "expires": "2199-12-31" })),
        told("container", json!({ "mark": "can R", "lot": "R-118" })),
        told("container", json!({ "mark": "can H", "lot": "H-77" })),
        told("part", json!({ "mark": "R3-L" })),
        told("joint", json!({ "part": "R3-L", "mark": "gusset 4", "thickness": "18 mm" })),
        told("joint", json!({ "part": "R3-L", "mark": "gusset 5", "thickness": "18 mm" })),
    ])
}

/// A card with invented numbers.
pub fn card() -> Value {
    json!({
        "name": "invented epoxy", "class": "epoxy", "ratio": "100:44", "tolerance": "5 %", "minimum_cure": "15 C",
        "limits": [
            { "clock": "pot", "points": [{ "at": "20 C", "time": "45 min", "mass": "150 g" }], "counted_from": "mixing" },
            { "clock": "open", "points": [{ "at": "20 C", "time": "40 min" }], "counted_from": "spreading" },
            { "clock": "closed", "points": [{ "at": "20 C", "time": "60 min" }], "counted_from": "closing" },
            { "clock": "clamp", "points": [{ "at": "20 C", "time": "10 h" }, { "at": "30 C", "time": "5 h" }] },
            { "clock": "full-cure", "points": [{ "at": "20 C", "time": "120 h" }, { "at": "30 C", "time": "60 h" }] },
        ],
    })
}

/// One act of 13 January, told late.
pub fn told(clock: &str, act: &str, body: Value) -> Value {
    json!({ "act": act, "person": "ann", "happened": at(clock), "why": "from paper", "body": body })
}

/// The stores, a batch, and bond 1 tight since 09:20.
pub fn with_a_bond() -> Shop {
    let shop = Shop::new();
    shop.act(&stores());
    let receipts = shop.act(&json!([
        told("08:50", "reading", json!({ "place": "bench", "temperature": "21.0 C", "wood": "9.8 %" })),
        told("09:00", "press", json!({ "press": "hardener-in" })),
        told(
            "09:01",
            "mix",
            json!({
                "card": "invented epoxy", "containers": ["can R", "can H"], "resin": "41.7 g", "hardener": "18.3 g",
                "instrument": "scale", "place": "bench",
            })
        ),
    ]));
    let batch = receipts[1]["made"]["batch"].as_str().expect("hardener-in makes the batch").to_owned();
    shop.act(&json!([
        told("09:05", "bond", json!({ "batches": [batch], "joints": ["R3-L/gusset 4"], "place": "bench" })),
        told("09:06", "press", json!({ "press": "first-glue-on", "bond": "1" })),
        told("09:15", "press", json!({ "press": "together", "bond": "1" })),
        told("09:20", "press", json!({ "press": "all-tight", "bond": "1" })),
    ]));
    shop
}
