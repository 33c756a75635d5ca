//! The alarms of the real window: the program itself on a screen, a session bus and in a home of its own, acted on
//! through the command line. What it does is read off the book, the bus and the screen; only what the page itself
//! shows needs a driver, and stands with the screens. The numbers are those of the list of timer cases.

#[path = "window/alarms.rs"]
mod alarms;
#[path = "window/awake.rs"]
mod awake;
#[path = "window/closing.rs"]
mod closing;
#[path = "window/owners.rs"]
mod owners;
