//! What a person can ask. One file per room.

pub mod answer;
pub mod question;
