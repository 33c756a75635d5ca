//! What a person can ask. One file per room.
