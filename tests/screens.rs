//! The real window, driven from outside: WebKit's own driver under a virtual display, on a session bus and in a home of
//! its own. Serial by nature; every call has a deadline. It asserts words and geometry, never pixels.

#![expect(clippy::disallowed_methods, reason = "a test that waits for a real window has a deadline of its own")]

#[path = "screens/window.rs"]
#[expect(dead_code, reason = "only the program of the pictures takes one")]
mod window;

#[path = "screens/shop.rs"]
mod shop;

#[path = "screens/journey.rs"]
mod journey;

#[path = "screens/look.rs"]
mod look;

#[path = "screens/bad_input.rs"]
mod bad_input;

#[path = "screens/bad_book.rs"]
mod bad_book;

#[path = "screens/tokens.rs"]
mod tokens;

#[path = "screens/shut.rs"]
mod shut;

#[path = "screens/readings.rs"]
mod readings;

#[path = "screens/host.rs"]
mod host;
