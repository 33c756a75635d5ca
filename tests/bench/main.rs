//! Ratios in one run. Arguments name the rooms to measure; none: all.

mod doors;
mod glue;
mod logbook;
mod rest;
mod science;
mod window;

fn main() {
    let asked: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    let rooms: [(&str, fn()); 7] = [
        ("glue", glue::run),
        ("append", logbook::by_hand),
        ("flat", logbook::flat),
        ("doors", doors::run),
        ("rest", rest::run),
        ("science", science::run),
        ("window", window::run),
    ];
    for (room, run) in rooms {
        if asked.is_empty() || asked.iter().any(|word| word == room) {
            run();
        }
    }
}
