//! The alarm thread: the next instant, a clock that was set, new entries.

pub mod sound;
pub mod voice;
