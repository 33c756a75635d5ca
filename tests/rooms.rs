//! The questions of the rooms, through the doors: what a session hands on, what can be glued next, parts, stores, the
//! entries in sentences, and that every entry gives back an act which corrects it into itself.

#[path = "trace/shop.rs"]
#[expect(dead_code, reason = "the tests of judging use the rest")]
mod shop;

#[path = "rooms/entries.rs"]
mod entries;
#[path = "rooms/round.rs"]
mod round;
#[path = "rooms/shelves.rs"]
mod shelves;
