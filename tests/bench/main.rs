//! Ratios in one run.

mod doors;
mod glue;
mod logbook;

fn main() {
    glue::run();
    logbook::run();
    doors::run();
}
