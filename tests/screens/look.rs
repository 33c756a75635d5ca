//! How every room looks in every state: axe in each theme, no clipped text and no sideways scroll in each size, the
//! measures of what is pressed with gloves and read from two metres, and states that do not rest on colour.
//!
//! Sizes: digits 25 mm in the first row and 11.6 mm in the others (text at 2 m after NUREG-0700 rev. 3, table of
//! character heights; the larger value is our own choice for the one number that matters), controls for gloved hands
//! 20 mm = 80 px and 13 mm = 48 px apart (MIL-STD-1472H, push buttons with heavy gloves). From memory of both tables.

use super::shop;
use super::window::{Hand, Window};
use serde_json::{Value, json};
use std::path::Path;

const ROOMS: [&str; 7] = ["bench", "mix", "parts", "stores", "record", "owed", "machine"];
const THEMES: [&str; 3] = ["light", "dark", "contrast"];
const SIZES: [(u32, u32); 3] = [(1280, 800), (1920, 1080), (1024, 768)];

/// What axe finds in the page as it stands: rule, and the first element that breaks it.
fn axe(window: &Window) -> Vec<String> {
    let source =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("../ui/node_modules/axe-core/axe.min.js"))
            .expect("axe-core is installed with the front end's packages");
    window.js(&format!("{source}; window.axe = axe; return true"), vec![]);
    let script = "const done = arguments[arguments.length - 1]; \
        axe.run().then(found => done(found.violations.map(v => v.id + ': ' + v.nodes[0].html.slice(0, 200) + ' ' + v.nodes[0].failureSummary)), why => done(['axe: ' + why]))";
    let found = window.js_later(script, vec![]);
    found.as_array().expect("a list").iter().map(|one| one.as_str().unwrap_or_default().to_owned()).collect()
}

/// Elements whose text is cut off or that scroll sideways.
fn clipped(window: &Window) -> Value {
    window.js(
        "return [...document.querySelectorAll('body *')].filter(e => !e.closest('.only-spoken') && e.clientWidth > 0 && !(e instanceof SVGElement)) \
           .filter(e => (e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflowX !== 'visible' && !e.matches('input, textarea')) \
             || e.getBoundingClientRect().right > innerWidth + 1) \
           .map(e => e.tagName + '.' + e.className + ' ' + e.scrollWidth + ' > ' + e.clientWidth + ': ' + e.textContent.trim().slice(0, 60)).slice(0, 5)",
        vec![],
    )
}

/// Every room of one state: axe in each theme, clipping in each size.
fn every_room(state: &str, furnish: impl FnOnce(&Path) -> Vec<String>) {
    let mut window = Window::open(Hand::Pointer, (1280, 800), furnish);
    let mut wrong: Vec<String> = Vec::new();
    for theme in THEMES {
        window.set_theme(theme);
        for room in ROOMS {
            window.enter(room);
            wrong.extend(axe(&window).into_iter().map(|found| format!("{state}, {room}, {theme}: {found}")));
        }
    }
    window.set_theme("light");
    for size in SIZES {
        window.resize(size);
        for room in ROOMS {
            window.enter(room);
            let found = clipped(&window);
            if found != json!([]) {
                wrong.push(format!("{state}, {room}, {size:?}: {found:#}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_busy_shop_is_sound_in_every_room_theme_and_size() {
    every_room("busy", shop::busy);
}

#[test]
fn an_empty_book_is_sound_in_every_room_theme_and_size() {
    every_room("empty", shop::empty);
}

/// Millimetres per CSS pixel of an uncalibrated screen: 96 to the inch.
const MM: f64 = 25.4 / 96.0;

#[test]
fn the_bench_is_made_for_gloves_and_two_metres() {
    let window = Window::open(Hand::Pointer, (1280, 800), shop::busy);
    window.see("[data-row]");
    // Height of a digit as it is drawn, not of its line: measured on a canvas with the element's own font.
    let heights = window.js(
        "return [...document.querySelectorAll('[data-row] [role=timer]')].map(e => { \
           const s = getComputedStyle(e), c = document.createElement('canvas').getContext('2d'); \
           c.font = `${s.fontWeight} ${s.fontSize} ${s.fontFamily}`; \
           const m = c.measureText('0'); return m.actualBoundingBoxAscent + m.actualBoundingBoxDescent })",
        vec![],
    );
    let heights: Vec<f64> =
        heights.as_array().expect("a list").iter().filter_map(Value::as_f64).map(|px| px * MM).collect();
    assert!(heights.len() > 1, "the busy shop has several countdowns: {heights:?}");
    assert!(heights[0] >= 25.0, "first row: {:.1} mm", heights[0]);
    assert!(heights.iter().all(|mm| *mm >= 11.6), "{heights:?} mm");
    let controls = window.js(
        "return [...document.querySelectorAll('main [data-press], main [data-bench]')].filter(e => e.getClientRects().length) \
           .map(e => { const r = e.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom, e.innerText] })",
        vec![],
    );
    let controls = controls.as_array().expect("a list");
    assert!(controls.len() > 3, "{controls:?}");
    let side = |one: &Value, at: usize| one[at].as_f64().expect("a length");
    for one in controls {
        let (wide, high) = (side(one, 2) - side(one, 0), side(one, 3) - side(one, 1));
        assert!(wide >= 80.0 && high >= 80.0, "{} is {wide} × {high} px", one[4]);
    }
    for (at, one) in controls.iter().enumerate() {
        for other in &controls[at + 1..] {
            let apart =
                |low: usize, high: usize| (side(one, low) - side(other, high)).max(side(other, low) - side(one, high));
            let gap = apart(0, 2).max(apart(1, 3));
            assert!(gap >= 48.0, "{} and {} are {gap} px apart", one[4], other[4]);
        }
    }
}

#[test]
fn states_are_told_by_word_and_shape_and_not_by_colour_alone() {
    let window = Window::open(Hand::Pointer, (1280, 800), shop::busy);
    window.see("[data-row]");
    let rows = window.js(
        "return [...document.querySelectorAll('[data-row]')].map(e => [e.dataset.tone, e.querySelector('[data-shape]')?.textContent.trim() ?? '', e.querySelector('[data-caption]')?.innerText ?? ''])",
        vec![],
    );
    let rows = rows.as_array().expect("a list").clone();
    let tones: std::collections::BTreeSet<&str> = rows.iter().filter_map(|row| row[0].as_str()).collect();
    assert!(tones.len() >= 3, "the busy shop shows several states: {tones:?}");
    for one in &rows {
        assert!(one[1] != "" && one[2] != "", "shape and words: {one}");
        for other in &rows {
            assert_eq!(one[0] == other[0], one[1] == other[1], "one shape per state: {one} and {other}");
        }
    }
}
