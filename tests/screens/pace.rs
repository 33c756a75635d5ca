//! How long the page keeps its own thread busy with fifty clocks on the bench, printed: `cargo run -p tests --example
//! pace`. The page's thread is asked for its next turn over and over; the time between two turns is what drew, counted
//! or answered in between, and what the machine gave to others meanwhile. It is a measure and no test.

#![expect(clippy::disallowed_methods, reason = "whoever waits for a real window has a deadline of its own")]

#[path = "window.rs"]
#[expect(dead_code, reason = "nothing is typed and no picture taken")]
mod window;

#[path = "shop.rs"]
#[expect(dead_code, reason = "the busy shop is enough")]
mod shop;

use serde_json::{Value, json};
use std::time::Duration;
use window::{Hand, Window};

const ROWS: usize = 50;
const WATCHED: Duration = Duration::from_secs(30);

/// Notes every stretch above 1 ms between two turns of the page's thread, which asks for the next one at once.
const WATCH: &str = "window.turns = []; const door = new MessageChannel(); let last = performance.now(); \
    door.port1.onmessage = () => { const now = performance.now(); if (now - last > 1) window.turns.push(now - last); last = now; door.port2.postMessage(0); }; \
    door.port2.postMessage(0); return true";

fn main() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), shop::busy);
    window.press("[data-press='answer-alarm']");
    let acts: Vec<Value> = (0..ROWS).map(|_| json!({ "act": "press", "body": { "press": "hardener-in" } })).collect();
    shop::act(window.home.path(), &json!(acts));
    window.until(
        "fifty rows",
        "return document.querySelectorAll('main [data-row]').length >= arguments[0]",
        vec![json!(ROWS)],
    );
    // The rows were just made; what is measured is a bench that stands.
    std::thread::sleep(Duration::from_secs(6));
    window.js(WATCH, vec![]);
    std::thread::sleep(WATCHED);
    let found = window.js("return window.turns", vec![]);
    let mut lengths: Vec<f64> = found.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
    lengths.sort_by(f64::total_cmp);
    let at = |share: f64| lengths.get(((lengths.len().max(1) - 1) as f64 * share) as usize).copied().unwrap_or(0.0);
    let over: Vec<String> = lengths.iter().filter(|ms| **ms > 16.0).map(|ms| format!("{ms:.1}")).collect();
    println!(
        "{ROWS} clocks, {} s: {} turns above 1 ms; median {:.1} ms, 99 % {:.1} ms, longest {:.1} ms; above 16 ms: {} ({})",
        WATCHED.as_secs(),
        lengths.len(),
        at(0.5),
        at(0.99),
        at(1.0),
        over.len(),
        over.join(", ")
    );
}
