//! Ratios in one run.

mod glue;

fn main() {
    glue::run();
}
