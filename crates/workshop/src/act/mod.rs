//! What a person can do. One file per room.
