//! What leaves the shop, as values: page content in JSON so far. It never queries, reads a clock or opens a file; the
//! trace and the instant of issue are handed in.

mod cautions;
mod part_page;

pub use part_page::part_page;
