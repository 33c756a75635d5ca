//! The left nose skin: two cups, the second topped up and thickened, over a wetting coat.

use super::book::WIM;
use super::cards::EPOXY;
use crate::demo::calendar::{Calendar, MINUTE};
use crate::demo::job::Job;
use crate::demo::step::Step;
use serde_json::json;

/// The skin day.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    let start_ms = calendar.at_ms(2, (10, 2));
    let job = Job::new("skin-l", start_ms, WIM, EPOXY, json!({ "parts": ["SKIN-L"], "stage": "skin" }))
        .pot("100.0 g", "44.2 g", "6 g")
        .pot("90.0 g", "39.5 g", "31 g")
        .pace(8, 24, 38)
        .squeeze_out(Some("cannot-see"))
        .moisture("9.5 %")
        .off(1, (8, 46))
        .planed(1, (16, 21));
    let mut steps = job.steps(calendar);
    steps.extend(extras(start_ms));
    steps
}

fn extras(start_ms: i64) -> Vec<Step> {
    let top_up = json!({
        "batch": "$skin-l.pot2", "card": EPOXY.card, "containers": [EPOXY.resin_can, EPOXY.hardener_can],
        "resin": "30.0 g", "hardener": "13.1 g", "weighing": "retared", "instrument": "scale 1",
    });
    let filler = json!({ "batch": "$skin-l.pot2", "lot": "MADE-UP-F-1", "mass": "12 g" });
    let coat = json!({ "bond": "$skin-l", "batch": "$skin-l.pot1" });
    vec![
        Step::new(start_ms + 5 * MINUTE, WIM, "top-up", top_up),
        Step::new(start_ms + 6 * MINUTE, WIM, "filler", filler),
        Step::new(start_ms + 9 * MINUTE, WIM, "coat", coat),
    ]
}
