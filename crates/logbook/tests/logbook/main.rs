//! The store's own tests, one binary.

mod common;
mod store;
