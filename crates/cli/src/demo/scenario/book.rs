//! Who works in the made-up shop, where, and with what.

use crate::demo::calendar::Calendar;
use crate::demo::step::Step;
use serde_json::json;

/// Glues spars and leads the shop.
pub const ADA: &str = "Ada Invented";
/// Glues ribs.
pub const JORI: &str = "Jori Invented";
/// Glues skins and edges.
pub const WIM: &str = "Wim Invented";

/// The first acts of the book.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    let bodies = [
        ("person", json!({ "name": ADA })),
        ("person", json!({ "name": JORI })),
        ("person", json!({ "name": WIM })),
        ("place", json!({ "name": "bench room" })),
        ("place", json!({ "name": "warm box" })),
        ("place", json!({ "name": "wood store" })),
        (
            "instrument",
            json!({ "name": "scale 1", "step": "0.1 g", "accuracy": "0.1 g" }),
        ),
        ("instrument", json!({ "name": "wood meter 1", "step": "0.1 %" })),
    ];
    let begin_ms = calendar.begin_ms();
    bodies
        .into_iter()
        .zip(0i64..)
        .map(|((act, body), index)| Step::nobody(begin_ms + index * 8_000, act, body))
        .collect()
}
