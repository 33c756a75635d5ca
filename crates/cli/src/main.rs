//! gluewright.
fn main() {}
