//! The timer cases: sleep, clocks that were set, restarts, a desktop that does not answer, a full disk. Each runs the
//! alarms' public loop or a real process, and asserts what was recorded, shown and sounded, and that its lever (clock,
//! boot, bus, disk) really moved. The numbers are those of the list of timer cases; a real suspend cannot be run here.

#[path = "time/alarms.rs"]
mod alarms;
#[path = "time/jumps.rs"]
mod jumps;
#[path = "time/process.rs"]
mod process;
#[path = "time/restarts.rs"]
mod restarts;
#[path = "time/rig.rs"]
mod rig;
#[path = "time/sleep.rs"]
mod sleep;
#[path = "time/trouble.rs"]
mod trouble;
#[path = "time/voice.rs"]
mod voice;
