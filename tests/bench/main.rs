//! Ratios in one run.

mod glue;
mod logbook;

fn main() {
    glue::run();
    logbook::run();
}
