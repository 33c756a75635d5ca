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

/// The first acts of the book, and what was handed out later.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    let mut steps = beginning(calendar);
    steps.extend(handed_out(calendar));
    steps
}

/// A page and a checkpoint went to somebody outside.
fn handed_out(calendar: Calendar) -> Vec<Step> {
    let to = json!({ "to": "Ines Invented, inspector of the made-up club" });
    vec![
        Step::new(calendar.at_ms(3, (16, 2)), ADA, "issue", json!({ "subject": "SPAR-L" })),
        Step::new(calendar.at_ms(3, (16, 4)), ADA, "checkpoint-given", to),
    ]
}

fn beginning(calendar: Calendar) -> Vec<Step> {
    let bodies = [
        ("person", json!({ "name": ADA })),
        ("person", json!({ "name": JORI })),
        ("person", json!({ "name": WIM })),
        ("place", json!({ "name": "bench room" })),
        ("place", json!({ "name": "warm box" })),
        ("place", json!({ "name": "wood store" })),
        ("instrument", json!({ "name": "scale 1", "step": "0.1 g", "accuracy": "0.1 g" })),
        ("instrument", json!({ "name": "wood meter 1", "step": "0.1 %" })),
    ];
    let begin_ms = calendar.begin_ms();
    bodies
        .into_iter()
        .zip(0i64..)
        .map(|((act, body), index)| Step::nobody(begin_ms + index * 8_000, act, body))
        .collect()
}
