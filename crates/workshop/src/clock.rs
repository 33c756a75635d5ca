//! The only place that reads clocks: wall time, zone, boot identity, boot time counting sleep, synchronised or not.

/// What all clocks show at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Now {
    /// Wall clock, ms since 1970 UTC.
    pub wall_ms: i64,
    /// Minutes east of Greenwich.
    pub zone_min: i32,
    /// Boot identity.
    pub boot: String,
    /// Time since boot counting sleep, ms.
    pub boot_ms: i64,
    /// Time since boot without sleep, ms: the difference tells how long it slept.
    pub awake_ms: i64,
    /// The system says its clock is synchronised.
    pub synchronised: bool,
    /// Identity of this machine, hashed.
    pub machine: String,
}

/// A source of time. The system's own, or a fixed one for tests and the demo.
pub trait Clock: Send {
    /// What all clocks show now.
    fn now(&self) -> Now;
}
