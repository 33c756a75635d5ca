//! How every room looks in every state: axe in each theme, no clipped text and no sideways scroll in each size, the
//! measures of what is pressed with gloves and read from two metres, and states that do not rest on colour. Long because
//! each view that can be opened stands in one table beside the way to it.
//!
//! Sizes: digits 25 mm in the first row and 11.6 mm in the others (text at 2 m after NUREG-0700 rev. 3, table of
//! character heights; the larger value is our own choice for the one number that matters), controls for gloved hands
//! 20 mm = 80 px and 13 mm = 48 px apart (MIL-STD-1472H, push buttons with heavy gloves). From memory of both tables.

use super::shop;
use super::window::{Hand, Window};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

const ROOMS: [&str; 8] = ["bench", "mix", "parts", "stores", "figures", "record", "owed", "machine"];
const THEMES: [&str; 3] = ["light", "dark", "contrast"];
const SIZES: [(u32, u32); 3] = [(1024, 768), (1920, 1080), (1280, 800)];

/// What is opened in a busy shop's rooms: room, what is pressed there one after the other, name of the state.
const VIEWS: [(&str, &[&str], &str); 32] = [
    ("bench", &["main [data-row] ~ [data-row] [data-more]"], "bench, more of a row"),
    ("bench", &["[data-press='new-reading']", "[data-press='reading']"], "a reading refused"),
    (
        "bench",
        &["[data-press='new-reading']", "dialog [data-side='file']", "[data-press='readings-file']"],
        "a logger's file refused",
    ),
    ("bench", &["[data-press='new-reading']", "dialog [data-side='vouch']", "[data-press='vouch']"], "a floor refused"),
    (
        "bench",
        &[
            "[data-press='new-reading']",
            "dialog [data-side='forecast']",
            "[data-field='shape'][value='setback']",
            "[data-press='forecast']",
        ],
        "a forecast refused",
    ),
    ("mix", &["[data-press='new-part']", "[data-press='part']"], "mix, a part refused"),
    (
        "mix",
        &["[aria-label='Batch'] [data-row]", "[data-press='more-throw-away']", "[data-press='throw-away']"],
        "mix, thrown away refused",
    ),
    ("mix", &["[aria-label='Batch'] [data-row]", "[data-press='more-top-up']"], "mix, topped up"),
    ("mix", &["[aria-label='Batch'] [data-row]", "[data-press='more-cup']"], "mix, a cup measured"),
    ("mix", &["[data-press='next-batch']", "[data-field='way'][value='one-cup']"], "mix, one cup"),
    ("parts", &["[data-row='ROOT-L']"], "the page of a held part"),
    ("parts", &["[data-row='R1-L']"], "the page of a part"),
    (
        "parts",
        &["[data-row='R1-L']", "details:has([data-press='sample']) summary", "[data-press='sample']"],
        "a sample joint refused",
    ),
    ("parts", &["[data-press='new-set']", "[data-press='set']"], "parts of a kind refused"),
    ("parts", &["[data-press='new-part']", "[data-press='part']"], "a part refused"),
    ("stores", &["[data-press='new-card']", "main summary", "[data-press='card']"], "a card refused"),
    ("stores", &["[data-press='revise']"], "a card revised"),
    ("stores", &["[data-section='lots']"], "lots"),
    ("stores", &["[data-section='lots']", "[data-press='new-lot']", "[data-press='lot']"], "a lot refused"),
    ("stores", &["[data-section='lots']", "[data-press='where-used']"], "where a lot went"),
    ("stores", &["[data-section='kinds']", "[data-press='make-parts']", "[data-press='set']"], "kinds"),
    ("stores", &["[data-section='kinds']", "[data-press='new-kind']", "[data-press='kind']"], "a kind refused"),
    ("stores", &["[data-section='shop']", "[data-press='instrument']"], "places, people, instruments"),
    ("record", &["main [data-row]"], "an entry"),
    ("record", &["main li ~ li [data-row]", "[data-press='open-correct']"], "a correction"),
    (
        "record",
        &["main li ~ li [data-row]", "[data-press='open-withdraw']", "[data-press='withdraw']"],
        "a withdrawal refused",
    ),
    ("record", &["[data-side='checks']", "[data-press='verify']"], "the record checked"),
    ("record", &["[data-side='forgotten']", "[data-press='late']"], "something forgotten refused"),
    ("figures", &["main [data-row='wet-bulb']", "[data-press='figure']"], "a figure refused"),
    ("owed", &["[data-press='settle-one']", "[data-press='settle']"], "a decision refused"),
    ("machine", &["[data-press='sound-test']"], "the sound tried"),
    ("machine", &["[data-press='person']"], "a name refused"),
];

/// What axe finds in the page as it stands: rule, and the first element that breaks it.
fn axe(window: &Window) -> Vec<String> {
    if window.js("return !!window.axe", vec![]) != json!(true) {
        let source = std::fs::read_to_string(
            Path::new(env!("CARGO_MANIFEST_DIR")).join("../ui/node_modules/axe-core/axe.min.js"),
        )
        .expect("axe-core is installed with the front end's packages");
        window.js(&format!("{source}; window.axe = axe; return true"), vec![]);
    }
    let script = "const done = arguments[arguments.length - 1]; \
        axe.run().then(found => done(found.violations.map(v => v.id + ': ' + v.nodes.length + ' × ' + v.nodes[0].html.slice(0, 200) + ' ' + v.nodes[0].failureSummary)), why => done(['axe: ' + why]))";
    let found = window.js_later(script, vec![]);
    found.as_array().expect("a list").iter().map(|one| one.as_str().unwrap_or_default().to_owned()).collect()
}

/// Texts that are cut off, stick out of their box or of the window, or lie on one another in a picture; and whatever
/// scrolls sideways.
const CLIPPED: &str = r"
    const wrong = [], say = (what, e) => wrong.push(what + ': ' + e.tagName.toLowerCase() + '.' + (e.className.baseVal ?? e.className) + ' “' + e.textContent.trim().slice(0, 60) + '”');
    for (const e of document.querySelectorAll('body *')) {
      if (e.closest('.only-spoken') || e instanceof SVGElement || e.clientWidth === 0) continue;
      const style = getComputedStyle(e);
      if (e.scrollWidth > e.clientWidth + 1 && style.overflowX !== 'visible' && !e.matches('input, textarea, select')) say('scrolls sideways ' + e.scrollWidth + ' > ' + e.clientWidth, e);
    }
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), range = document.createRange();
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const own = node.parentElement;
      if (!node.textContent.trim() || own.closest('.only-spoken, svg, option, script, style, dialog:not([open]), details:not([open]) > :not(summary)')) continue;
      range.selectNodeContents(node);
      const r = range.getBoundingClientRect();
      if (r.width === 0) continue;
      if (r.right > innerWidth + 1 || r.left < -1) say('beyond the window', own);
      let block = own;
      while (getComputedStyle(block).display.startsWith('inline') && block.parentElement) block = block.parentElement;
      const b = block.getBoundingClientRect();
      if (r.right > b.right + 1.5 || r.left < b.left - 1.5) say('sticks out of its box', own);
      const button = own.closest('button');
      if (button && parseFloat(getComputedStyle(button).borderBottomWidth) > 0 && r.bottom > button.getBoundingClientRect().bottom - 2) say('touches the edge of its button', own);
      const item = own.closest('li'), around = item && getComputedStyle(item);
      if (item && parseFloat(around.borderTopWidth) > 0 && parseFloat(around.paddingTop) > 0 && r.top < item.getBoundingClientRect().top + 2) say('touches the edge of its row', own);
      for (let e = own; e && e !== document.body; e = e.parentElement) {
        const s = getComputedStyle(e);
        if (s.overflowY === 'hidden' || s.overflowY === 'clip') {
          const c = e.getBoundingClientRect(), slack = r.height * 0.25;
          if (r.bottom > c.bottom + slack || r.top < c.top - slack) say('cut off above or below', own);
        }
        if (/auto|scroll/.test(s.overflowY)) break;
      }
    }
    for (const svg of document.querySelectorAll('figure svg')) {
      const s = svg.getBoundingClientRect();
      const words = [...svg.querySelectorAll('text')].map(e => [e, e.getBoundingClientRect()]).filter(([, r]) => r.width > 0);
      words.forEach(([e, r], i) => {
        if (r.left < s.left - 1.5 || r.right > s.right + 1.5 || r.top < s.top - 4) say('outside its picture', e);
        for (const [other, o] of words.slice(i + 1))
          if (r.left < o.right - 1 && o.left < r.right - 1 && r.top < o.bottom - 6 && o.top < r.bottom - 6) say('lies on “' + other.textContent + '”', e);
      });
    }
    return [...new Set(wrong)].slice(0, 6)";

/// Has rows laid out that the browser leaves alone until they are scrolled to.
fn whole(window: &Window) {
    window.js(
        "document.querySelectorAll('[data-row], li').forEach(e => (e.style.contentVisibility = 'visible'))",
        vec![],
    );
    window.drawn();
}

fn clipped(window: &Window) -> Vec<String> {
    whole(window);
    let found = window.js(CLIPPED, vec![]);
    found.as_array().expect("a list").iter().map(|one| one.as_str().unwrap_or_default().to_owned()).collect()
}

/// All that is amiss with what stands on the screen: axe in each theme, clipping in each size. Told at once too.
fn looked(window: &mut Window, state: &str) -> Vec<String> {
    let mut wrong = Vec::new();
    for theme in THEMES {
        window.set_theme(theme);
        wrong.extend(axe(window).into_iter().map(|found| format!("{state}, {theme}: {found}")));
    }
    window.set_theme("light");
    for size in SIZES {
        window.resize(size);
        wrong.extend(clipped(window).into_iter().map(|found| format!("{state}, {size:?}: {found}")));
    }
    wrong.iter().for_each(|one| eprintln!("{one}"));
    wrong
}

fn every_room(window: &mut Window, state: &str) -> Vec<String> {
    let mut wrong = Vec::new();
    for room in ROOMS {
        window.enter(room);
        wrong.extend(looked(window, &format!("{state}, {room}")));
    }
    wrong
}

fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_busy_shop_is_sound_in_every_room_theme_and_size() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), shop::busy);
    window.see("[data-press='answer-alarm']");
    window.see("main [data-row]");
    let mut wrong = looked(&mut window, "an alarm that nobody answered");
    window.press("[data-press='answer-alarm']");
    window.see_words("Alarm answered");
    wrong.extend(every_room(&mut window, "busy"));
    none(&wrong);
}

#[test]
fn what_is_opened_in_a_room_is_sound_in_every_theme_and_size() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), shop::busy);
    window.press("[data-press='answer-alarm']");
    // An entry that can be corrected lies below the newest one.
    shop::act(
        window.home.path(),
        &json!([{ "act": "joint", "body": { "part": "R1-L", "mark": "N joint" } },
        { "act": "joint", "body": { "part": "R1-L", "mark": "N joint 2" } }]),
    );
    let mut wrong = Vec::new();
    for (room, way, state) in VIEWS {
        window.enter(if room == "machine" { "owed" } else { "machine" });
        window.enter(room);
        for step in way {
            window.press(step);
            window.settle();
        }
        window.see("main h1");
        wrong.extend(looked(&mut window, state));
        window.js("document.querySelector('dialog[open]')?.close()", vec![]);
    }
    window.enter("figures");
    window.press("main [data-row='dew-point']");
    window.put("[data-figure='dew-point'] [data-field='temperature']", "20");
    window.put("[data-figure='dew-point'] [data-field='humidity']", "50");
    window.press("[data-press='figure']");
    window.see("[data-result]");
    wrong.extend(looked(&mut window, "a figure computed"));
    window.press("main [data-row='cure-law']");
    window.put("[data-figure='cure-law'] [data-field='points']", "20C:10h,25C:6h,30C:4h");
    window.put("[data-figure='cure-law'] [data-field='at']", "22,28");
    window.press("[data-press='figure']");
    window.see("[data-send='card']");
    wrong.extend(looked(&mut window, "a figure with a picture and sends"));
    none(&wrong);
}

#[test]
fn an_empty_book_is_sound_in_every_room_theme_and_size() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), shop::empty);
    none(&every_room(&mut window, "empty"));
}

#[test]
fn the_first_start_and_what_goes_wrong_are_sound_in_every_theme_and_size() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), |_| Vec::new());
    window.see("[data-press='start']");
    let mut wrong = looked(&mut window, "first start");
    window.press("[data-press='open']");
    window.put("[data-field='path']", "nonsense");
    window.press("[data-press='open-path']");
    window.see("[data-field='path'][aria-invalid='true']");
    wrong.extend(looked(&mut window, "a path refused"));
    window.press("[data-press='start']");
    let book = shop::book(window.home.path());
    window.put("[data-field='path']", &book.to_string_lossy());
    window.press("[data-press='start-path']");
    window.press("[data-press='first']");
    window.see("[data-field='person.name'][aria-invalid='true']");
    wrong.extend(looked(&mut window, "a new book, its first name refused"));
    std::fs::rename(&book, book.with_extension("away")).expect("moved");
    window.see_words("The book is not where it was.");
    wrong.extend(looked(&mut window, "the book is gone"));
    none(&wrong);
}

/// Millimetres per CSS pixel of an uncalibrated screen: 96 to the inch.
const MM: f64 = 25.4 / 96.0;

/// Heights of the digits as they are drawn, not of their lines, mm: measured on a canvas with each element's own font.
fn digits(window: &Window) -> Vec<f64> {
    let heights = window.js(
        "return [...document.querySelectorAll('[data-row] [role=timer]')].map(e => { \
           const s = getComputedStyle(e), c = document.createElement('canvas').getContext('2d'); \
           c.font = `${s.fontWeight} ${s.fontSize} ${s.fontFamily}`; \
           const m = c.measureText('0'); return m.actualBoundingBoxAscent + m.actualBoundingBoxDescent })",
        vec![],
    );
    heights.as_array().expect("a list").iter().filter_map(Value::as_f64).map(|px| px * MM).collect()
}

/// What is wrong with the measures of the bench as it stands. A title that leads to a part's page is text, not a control.
fn measures(window: &Window, state: &str) -> Vec<String> {
    whole(window);
    let mut wrong = Vec::new();
    let heights = digits(window);
    assert!(heights.len() > 1, "{state}: the busy shop has several countdowns: {heights:?}");
    if heights[0] < 25.0 || heights.iter().any(|mm| *mm < 11.6) {
        wrong.push(format!("{state}: digits of {heights:.1?} mm"));
    }
    let controls = window.js(
        "return [...document.querySelectorAll('main button:not([data-story-of]), main input, main summary, [data-press=answer-alarm], [data-press=read-notices]')].filter(e => e.getClientRects().length) \
           .map(e => { const r = e.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom, e.textContent.trim()] })",
        vec![],
    );
    let controls = controls.as_array().expect("a list");
    assert!(controls.len() > 3, "{state}: {controls:?}");
    let side = |one: &Value, at: usize| one[at].as_f64().expect("a length");
    for (at, one) in controls.iter().enumerate() {
        let (wide, high) = (side(one, 2) - side(one, 0), side(one, 3) - side(one, 1));
        if wide < 80.0 || high < 80.0 {
            wrong.push(format!("{state}: {} is {wide:.0} × {high:.0} px", one[4]));
        }
        for other in &controls[at + 1..] {
            let apart =
                |low: usize, high: usize| (side(one, low) - side(other, high)).max(side(other, low) - side(one, high));
            let gap = apart(0, 2).max(apart(1, 3));
            if gap < 47.9 {
                wrong.push(format!("{state}: {} and {} are {gap:.1} px apart", one[4], other[4]));
            }
        }
    }
    wrong
}

#[test]
fn the_bench_is_made_for_gloves_and_two_metres() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), shop::busy);
    window.see("[data-press='answer-alarm']");
    window.see("main [data-row]");
    let mut wrong = measures(&window, "an alarm sounds");
    window.press("[data-press='answer-alarm']");
    window.until("quiet", "return !document.querySelector('[data-alarms]')", vec![]);
    if window.js("return !!document.querySelector('[data-notices]')", vec![]) == json!(true) {
        window.press("[data-press='read-notices']");
    }
    window.until("nothing waits", "return !document.querySelector('[data-notices]')", vec![]);
    let topmost = window.js("return document.querySelector('main [data-row]').dataset.row", vec![]);
    let row = format!("main [data-row='{}']", topmost.as_str().unwrap_or_default());
    let mut in_each_size = |window: &mut Window, state: &str| {
        for size in SIZES {
            window.resize(size);
            wrong.extend(measures(window, &format!("{state}, {size:?}")));
        }
    };
    in_each_size(&mut window, "as it stands");
    window.press(&format!("{row} [data-more]"));
    in_each_size(&mut window, "more of the topmost row");
    window.press(&format!("{row} [data-more]"));
    window.press("main [data-row] ~ [data-row] [data-more]");
    in_each_size(&mut window, "more of the row below");
    window.press("main [data-row] ~ [data-row] [data-more]");
    for press in ["together", "all-tight"] {
        window.press(&format!("{row} [data-next][data-press='{press}']"));
    }
    window.until(
        "choices",
        "return document.querySelector(arguments[0])?.textContent.includes('Squeeze-out')",
        vec![json!(format!("{row} [data-next]"))],
    );
    window.until(
        "rest",
        "return document.querySelector(arguments[0])?.ariaDisabled !== 'true'",
        vec![json!(format!("{row} [data-next]"))],
    );
    window.press(&format!("{row} [data-next]"));
    window.see("[data-seen='all-round']");
    in_each_size(&mut window, "the choices of a row");
    none(&wrong);
}

#[test]
fn what_would_hold_a_mix_and_what_can_wait_keep_a_glove_s_distance() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), |home| {
        let words = shop::busy(home);
        shop::act(home, &json!([{ "act": "reading", "body": { "place": "bench room", "temperature": "-1.5 C" } }]));
        words
    });
    window.see("[data-press='answer-alarm']");
    window.see("[data-gate]");
    let words = window.text("[data-gate]");
    assert!(words.contains("\u{2212}1.5 °C"), "a real minus: {words}");
    let mut wrong = Vec::new();
    for size in SIZES {
        window.resize(size);
        wrong.extend(measures(&window, &format!("a mix would be held, {size:?}")));
    }
    window.press("[data-press='gate-read']");
    window.until("that it is read", "return !document.querySelector('[data-gate]')", vec![]);
    none(&wrong);
}

#[test]
fn states_are_told_by_word_and_shape_and_not_by_colour_alone() {
    let window = Window::open(Hand::Pointer, (1280, 800), shop::busy);
    window.see("main [data-row]");
    let rows = window.js(
        "return [...document.querySelectorAll('[data-row]')].map(e => [e.dataset.tone, e.querySelector('[data-shape]')?.textContent.trim() ?? '', e.querySelector('[data-caption]')?.textContent.trim() ?? ''])",
        vec![],
    );
    let mut shapes: BTreeMap<&str, &str> = BTreeMap::new();
    for row in rows.as_array().expect("a list") {
        let word = |at: usize| row[at].as_str().unwrap_or_default();
        assert!(!word(1).is_empty() && word(2).len() > word(1).len() + 3, "a shape and words: {row}");
        let shape = shapes.entry(word(0)).or_insert(word(1));
        assert_eq!(*shape, word(1), "one shape for a state: {rows}");
    }
    assert!(shapes.len() >= 3, "the busy shop shows several states: {shapes:?}");
    let all: BTreeSet<&str> = shapes.values().copied().collect();
    assert_eq!(all.len(), shapes.len(), "another shape for each state: {shapes:?}");

    // In grey too: no credit, a limit passed and what cannot be told are drawn as patterns, glue as it cures is not.
    let boxes = window.js(
        "return [...document.querySelectorAll('rect[data-fill]')].map(e => { const url = getComputedStyle(e).fill, id = /#(.*?)[\")]/.exec(url)?.[1]; \
           return [e.dataset.fill, url.startsWith('url'), id ? (document.getElementById(id)?.querySelectorAll('*').length ?? 0) : 0] })",
        vec![],
    );
    let mut seen = BTreeSet::new();
    for one in boxes.as_array().expect("a list") {
        let fill = one[0].as_str().unwrap_or_default();
        let patterned = ["chill", "over", "hatch"].contains(&fill);
        assert_eq!(one[1], json!(patterned), "{one}");
        assert!(!patterned || one[2].as_u64() > Some(0), "the pattern is there and has something in it: {one}");
        seen.insert(fill);
    }
    assert!(["chill", "hatch", "glue-1"].iter().all(|fill| seen.contains(fill)), "the busy shop shows them: {seen:?}");
}
