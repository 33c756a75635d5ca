//! The store's own tests, one binary.
#![expect(clippy::unwrap_used, reason = "in a test, what cannot go on stops it and says where")]

mod canon;
mod common;
mod counts;
mod store;
mod tree;
