//! Ratios in one run.
fn main() {}
