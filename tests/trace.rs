//! Judging and asking, through the doors: clocks, held bonds, traces, where-used, hindsight. Every number was worked
//! out by hand from the rules of the clocks and stands beside its working.

#[path = "trace/shop.rs"]
mod shop;

#[path = "trace/ahead.rs"]
mod ahead;
#[path = "trace/answers.rs"]
mod answers;
#[path = "trace/assembly.rs"]
mod assembly;
#[path = "trace/cure.rs"]
mod cure;
#[path = "trace/cured.rs"]
mod cured;
#[path = "trace/held.rs"]
mod held;
#[path = "trace/parts.rs"]
mod parts;
