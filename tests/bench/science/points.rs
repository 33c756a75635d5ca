//! Work by the number of readings: linear, and none for what a clock has already gone through. Counted, not timed.

use crate::glue::{MINUTE, START, air, asked, card};
use glue::clock::{Runner, Stay};

pub fn run() {
    // A limit so long that none of the bounds ends.
    let card = card(400_000.0);
    println!("exponentials of one clock by days of minute readings, and for one hour more:");
    for days in [30, 60, 120, 240] {
        let mut runner = Runner::default();
        let mut count = |minutes: i64| {
            let air = air(minutes);
            let path = [Stay { from_ms: START, air: Some(&air) }];
            let _ = runner.tell(&asked(&card, &path, START + minutes * MINUTE));
            runner.evaluations()
        };
        let first = count(days * 1_440);
        let more = count(days * 1_440 + 60) - first;
        let each = first as f64 / (days * 1_440) as f64;
        println!("  {days:>4} d: {first:>8}, {each:.2} a reading; one hour more: {more}");
    }
}
