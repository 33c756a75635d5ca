//! The last hours before T: a tip block taken to the cold shed too early, a skin in the clamps, a pot half used.
//! T may fall at any hour; somebody then works at that hour.

use super::book::{JORI, WIM};
use super::cards::EPOXY;
use super::upkeep::bench_room;
use crate::demo::calendar::{Calendar, MINUTE};
use crate::demo::job::Job;
use crate::demo::step::Step;
use serde_json::json;

/// The last session.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    let before = |minutes: i64| calendar.until_ms - minutes * MINUTE;
    let mut steps = vec![bench_room(calendar, before(169), JORI, 0)];
    let jobs = [
        block("tip-l", "TIP-L", before(165)).pot("40.0 g", "17.6 g", "12 g").pace(5, 11, 16).moved(58, "wood store"),
        Job::new("skin-r", before(118), WIM, EPOXY, json!({ "parts": ["SKIN-R"], "stage": "skin" }))
            .pot("110.0 g", "48.3 g", "9 g")
            .pace(7, 22, 36)
            .moisture("9.7 %"),
    ];
    steps.extend(jobs.iter().flat_map(|job| job.steps(calendar)));
    let pot = block("tip-r", "TIP-R", before(13)).pot("40.1 g", "17.7 g", "0 g");
    steps.extend(pot.steps(calendar).into_iter().filter(|step| step.at_ms <= calendar.until_ms));
    steps
}

fn block(name: &'static str, part: &str, start_ms: i64) -> Job {
    Job::new(name, start_ms, JORI, EPOXY, json!({ "parts": [part], "stage": "block" }))
}
