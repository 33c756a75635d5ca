//! What the suite shares.

pub mod binary;
pub mod bus;
pub mod watching;
