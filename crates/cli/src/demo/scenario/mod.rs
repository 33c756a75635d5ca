//! What happened in the made-up shop, as data: one file per room of the story. Everybody and everything is invented.

pub mod book;
pub mod cards;
pub mod edges;
pub mod kinds;
pub mod live;
pub mod ribs;
pub mod skins;
pub mod spars;
pub mod upkeep;

use super::calendar::{Calendar, MINUTE};
use super::step::Step;

/// Every step of the fortnight in the order it is entered.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    let rooms = [
        book::steps(calendar),
        cards::steps(calendar),
        kinds::steps(calendar),
        ribs::steps(calendar),
        spars::steps(calendar),
        edges::steps(calendar),
        skins::steps(calendar),
        upkeep::steps(calendar),
        live::steps(calendar),
    ];
    let mut all: Vec<Step> = rooms.into_iter().flatten().collect();
    all.sort_by_key(|step| step.at_ms);
    all
}

/// Mornings on which the alarms are looked at, in days before T's own: the made-up shop forgets on the others.
pub const WATCHED: [i64; 6] = [12, 10, 7, 5, 3, 1];

/// When the alarms are looked at: on some mornings after the loggers were read, and shortly before T.
pub fn looks(calendar: Calendar) -> Vec<i64> {
    let mut looks: Vec<i64> = WATCHED.map(|back| calendar.at_ms(back, (8, 6))).to_vec();
    looks.push(calendar.until_ms - 20 * MINUTE);
    looks
}
