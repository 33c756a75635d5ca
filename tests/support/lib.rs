//! What the suite shares.

pub mod binary;
pub mod bus;
pub mod tray;
pub mod watching;
pub mod window;
