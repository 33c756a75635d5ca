//! What the suite shares.

pub mod binary;
