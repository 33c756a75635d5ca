//! The only place that reads clocks: wall time, zone, boot identity, boot time counting sleep, synchronised or not.
//!
//! The wall clock is read through std, so that a faked-clock library moves it; the two boot clocks are read by
//! system call, so that it does not. Linux only so far: elsewhere the boot clock that counts sleep has other names.

use chrono::{Local, Offset, TimeZone};
use rustix::time::{ClockId, clock_gettime};
use sha2::{Digest, Sha256};
use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

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

    /// Waits at most this long, ms, before the caller looks again. A fixed clock does not wait.
    fn wait(&self, ms: u64) {
        let _ = ms;
    }
}

/// Written by the system's time service at every synchronisation; its folder is emptied at each boot
/// (systemd-timesyncd, from memory). Other time services leave nothing here: a person then confirms the time.
const SYNCHRONISED: &str = "/run/systemd/timesync/synchronized";
/// A random identity per boot (Linux, Documentation/admin-guide/sysctl/kernel.rst, from memory).
const BOOT_ID: &str = "/proc/sys/kernel/random/boot_id";
/// A random identity per installation (machine-id(5), which asks that it be hashed before use; from memory).
const MACHINE_ID: &str = "/etc/machine-id";

/// The clocks of this computer.
#[derive(Clone, Debug)]
pub struct SystemClock {
    boot: String,
    machine: String,
}

impl SystemClock {
    /// Reads the identities once: neither changes while a process lives.
    pub fn new() -> SystemClock {
        SystemClock { boot: identity(BOOT_ID), machine: hashed(&identity(MACHINE_ID)) }
    }
}

impl Default for SystemClock {
    fn default() -> Self {
        SystemClock::new()
    }
}

impl Clock for SystemClock {
    fn now(&self) -> Now {
        let wall_ms = wall_ms();
        Now {
            wall_ms,
            zone_min: zone_min(wall_ms),
            boot: self.boot.clone(),
            boot_ms: since_boot_ms(ClockId::Boottime),
            awake_ms: since_boot_ms(ClockId::Monotonic),
            synchronised: Path::new(SYNCHRONISED).exists(),
            machine: self.machine.clone(),
        }
    }

    fn wait(&self, ms: u64) {
        std::thread::sleep(Duration::from_millis(ms));
    }
}

#[expect(clippy::disallowed_methods, reason = "the one place that reads the wall clock")]
fn wall_ms() -> i64 {
    let now = SystemTime::now();
    match now.duration_since(UNIX_EPOCH) {
        Ok(after) => i64::try_from(after.as_millis()).unwrap_or(i64::MAX),
        Err(before) => i64::try_from(before.duration().as_millis()).map_or(i64::MIN, |ms| -ms),
    }
}

#[expect(clippy::disallowed_methods, reason = "the one place that reads the boot clocks")]
fn since_boot_ms(clock: ClockId) -> i64 {
    let time = clock_gettime(clock);
    time.tv_sec.saturating_mul(1000).saturating_add(time.tv_nsec / 1_000_000)
}

/// The zone's offset at that instant, not at another one.
fn zone_min(wall_ms: i64) -> i32 {
    Local.timestamp_millis_opt(wall_ms).single().map_or(0, |time| time.offset().fix().local_minus_utc() / 60)
}

fn identity(path: &str) -> String {
    std::fs::read_to_string(path).map_or_else(|_| String::new(), |text| text.trim().to_owned())
}

fn hashed(machine_id: &str) -> String {
    if machine_id.is_empty() {
        return "unknown".to_owned();
    }
    let digest = Sha256::digest(format!("gluewright machine {machine_id}"));
    hex::encode(digest.get(..16).unwrap_or_default())
}

/// Clocks that move only when told to. Handles share one time: keep one, hand the others out.
#[derive(Clone, Debug)]
pub struct FixedClock {
    now: Arc<Mutex<Now>>,
}

impl FixedClock {
    /// All clocks at a wall time: the machine booted an hour before, zone UTC, not synchronised.
    pub fn at(wall_ms: i64) -> FixedClock {
        let now = Now {
            wall_ms,
            zone_min: 0,
            boot: "boot-1".to_owned(),
            boot_ms: 3_600_000,
            awake_ms: 3_600_000,
            synchronised: false,
            machine: "machine-1".to_owned(),
        };
        FixedClock { now: Arc::new(Mutex::new(now)) }
    }

    fn held(&self) -> MutexGuard<'_, Now> {
        self.now.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Changes anything by hand.
    pub fn set(&self, change: impl FnOnce(&mut Now)) {
        change(&mut self.held());
    }

    /// Time passes, awake.
    pub fn advance(&self, ms: i64) {
        self.set(|now| {
            now.wall_ms += ms;
            now.boot_ms += ms;
            now.awake_ms += ms;
        });
    }

    /// Time passes, asleep: the clock that skips sleep stands still.
    pub fn sleep(&self, ms: i64) {
        self.set(|now| {
            now.wall_ms += ms;
            now.boot_ms += ms;
        });
    }

    /// Somebody sets the wall clock; no time passes.
    pub fn step_wall(&self, by_ms: i64) {
        self.set(|now| now.wall_ms += by_ms);
    }

    /// The machine was off for a while and shows `wall_ms` on its wall clock ten seconds after starting again.
    pub fn reboot(&self, boot: &str, wall_ms: i64) {
        self.set(|now| {
            now.boot = boot.to_owned();
            now.boot_ms = 10_000;
            now.awake_ms = 10_000;
            now.wall_ms = wall_ms;
            now.synchronised = false;
        });
    }
}

impl Clock for FixedClock {
    fn now(&self) -> Now {
        self.held().clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_system_clock_goes_on() {
        let clock = SystemClock::new();
        let before = clock.now();
        clock.wait(20);
        let after = clock.now();
        assert!(after.boot_ms >= before.boot_ms + 20 && after.wall_ms > before.wall_ms);
        assert!(after.boot_ms >= after.awake_ms, "boot time counts sleep, awake time does not");
        assert_eq!(after.boot.len(), 36, "a boot identity is a UUID");
        assert!(after.wall_ms > 1_700_000_000_000);
    }

    #[test]
    fn sleep_shows_as_a_difference() {
        let clock = FixedClock::at(1_000_000_000_000);
        let handed_out = clock.clone();
        clock.sleep(5_000);
        let now = handed_out.now();
        assert_eq!(now.boot_ms - now.awake_ms, 5_000);
        assert_eq!(now.wall_ms, 1_000_000_005_000);
    }
}
