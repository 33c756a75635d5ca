//! Tip bows, trailing edges and root blocks. Among them: bent laminations through the cold night, nailed gussets,
//! a batch out of ratio, and the second bond from the old can of hardener.

use super::book::WIM;
use super::cards::{EPOXY, EPOXY_OLD, Glue};
use crate::demo::calendar::Calendar;
use crate::demo::job::Job;
use crate::demo::step::Step;
use serde_json::json;

/// All edge days.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    jobs(calendar).iter().flat_map(|job| job.steps(calendar)).collect()
}

fn jobs(calendar: Calendar) -> Vec<Job> {
    let job = |name, back, time, glue: Glue, part: &str, stage: &str| {
        Job::new(name, calendar.at_ms(back, time), WIM, glue, json!({ "parts": [part], "stage": stage }))
            .moisture("9.6 %")
    };
    vec![
        job("bow-l", 8, (10, 3), EPOXY, "BOW-L", "lamination")
            .pot("80.0 g", "35.3 g", "15 g")
            .pace(6, 18, 28)
            .off(6, (8, 34))
            .planed(3, (14, 12)),
        job("root-l", 6, (13, 16), EPOXY, "ROOT-L", "block").pot("60.0 g", "21.4 g", "24 g").off(5, (8, 44)),
        job("te-l", 5, (11, 9), EPOXY, "TE-L", "gussets")
            .pot("30.0 g", "13.2 g", "9 g")
            .nailed(5, 24)
            .off(4, (8, 49))
            .planed(3, (10, 11)),
        job("bow-r", 4, (10, 8), EPOXY, "BOW-R", "lamination")
            .pot("80.2 g", "35.2 g", "14 g")
            .pace(6, 17, 27)
            .off(2, (8, 37))
            .planed(2, (14, 8)),
        job("root-r", 4, (13, 18), EPOXY, "ROOT-R", "block")
            .pot("60.1 g", "26.4 g", "25 g")
            .off(3, (8, 42))
            .planed(2, (9, 33)),
        job("te-r", 3, (11, 4), EPOXY_OLD, "TE-R", "gussets")
            .pot("30.1 g", "13.2 g", "8 g")
            .nailed(5, 25)
            .off(2, (8, 48)),
    ]
}
