//! The store's own tests, one binary.

mod canon;
mod common;
mod counts;
mod store;
mod tree;
