//! `cargo xtask screens`: every room in each theme and size, from the real window on a made-up shop that is live now,
//! into docs/screens/. A picture is for people to look at; no test compares one.

#![expect(clippy::disallowed_methods, reason = "whoever waits for a real window has a deadline of its own")]

#[path = "window.rs"]
#[expect(dead_code, reason = "the pictures need no keyboard and type nothing")]
mod window;

#[path = "shop.rs"]
#[expect(dead_code, reason = "the pictures show the busy shop alone")]
mod shop;

use std::path::Path;
use window::{Hand, Window};

const THEMES: [&str; 3] = ["light", "dark", "contrast"];
const SIZES: [(u32, u32); 3] = [(1280, 800), (1920, 1080), (1024, 768)];
/// Room, what to press in it first, name of the picture.
const VIEWS: [(&str, Option<&str>, &str); 10] = [
    ("bench", None, "bench"),
    ("mix", None, "mix"),
    ("parts", None, "parts"),
    ("parts", Some("main [data-row='ROOT-L']"), "part"),
    ("stores", None, "stores"),
    ("figures", Some("[data-row='cure-finish']"), "figures"),
    ("record", None, "record"),
    ("record", Some("main li [data-row]"), "entry"),
    ("owed", None, "owed"),
    ("machine", None, "machine"),
];

fn main() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/screens");
    std::fs::create_dir_all(&folder).expect("a folder for the pictures");
    let wanted: Vec<String> = std::env::args().skip(1).collect();
    let is_wanted = |name: &str| wanted.is_empty() || wanted.iter().any(|word| name.contains(word.as_str()));
    every_view(&folder, "", shop::busy, is_wanted);
    answered(&folder, is_wanted);
    start(&folder, is_wanted);
}

fn every_view(
    folder: &Path,
    prefix: &str,
    furnish: impl FnOnce(&Path) -> Vec<String>,
    is_wanted: impl Fn(&str) -> bool,
) {
    let mut window = Window::open(Hand::Pointer, SIZES[0], furnish);
    window.see("[data-alarms]");
    save(&window, &folder.join("bench-alarm-light-1280x800.png"));
    quiet(&mut window);
    for size in SIZES {
        window.resize(size);
        for theme in THEMES {
            window.set_theme(theme);
            for (room, first, name) in VIEWS {
                let name = format!("{prefix}{name}-{theme}-{}x{}.png", size.0, size.1);
                if !is_wanted(&name) {
                    continue;
                }
                window.enter(room);
                if let Some(control) = first {
                    window.press(control);
                    window.see("main article");
                    window.settle();
                }
                save(&window, &folder.join(name));
            }
        }
    }
}

/// Answers what sounds and reads what is told.
fn quiet(window: &mut Window) {
    window.press("[data-press='answer-alarm']");
    window.until("quiet", "return !document.querySelector('[data-alarms]')", vec![]);
    if window.js("return !!document.querySelector('[data-notices]')", vec![]) == serde_json::Value::Bool(true) {
        window.press("[data-press='read-notices']");
    }
    window.until("nothing waits", "return !document.querySelector('[data-notices]')", vec![]);
}

/// What is answered once something is typed: a cup before it is poured, a figure with its picture.
fn answered(folder: &Path, is_wanted: impl Fn(&str) -> bool) {
    let [cup, figure] = ["cup-light-1280x800.png", "figure-light-1280x800.png"];
    if !is_wanted(cup) && !is_wanted(figure) {
        return;
    }
    let mut window = Window::open(Hand::Pointer, SIZES[0], shop::busy);
    quiet(&mut window);
    window.enter("mix");
    window.put("[data-field='total']", "150 g");
    window.put("[data-field='start_temperature']", "35");
    window.see("[data-pour] summary");
    window.press("[data-pour] summary");
    window.settle();
    save(&window, &folder.join(cup));
    window.enter("figures");
    window.press("[data-row='pot']");
    window.put("[data-figure='pot'] [data-field='mass']", "150");
    window.put("[data-figure='pot'] [data-field='ambient']", "25");
    window.press("[data-press='figure']");
    window.see("main figure svg");
    window.js("document.querySelector('main figure').scrollIntoView({ block: 'center' }); return true", vec![]);
    save(&window, &folder.join(figure));
}

/// The first start, with no book.
fn start(folder: &Path, is_wanted: impl Fn(&str) -> bool) {
    let mut window = Window::open(Hand::Pointer, SIZES[0], |_| Vec::new());
    for size in SIZES {
        window.resize(size);
        for theme in THEMES {
            let name = format!("start-{theme}-{}x{}.png", size.0, size.1);
            if is_wanted(&name) {
                window.set_theme(theme);
                window.see_words("made-up shop");
                save(&window, &folder.join(name));
            }
        }
    }
}

fn save(window: &Window, file: &Path) {
    window.drawn();
    std::fs::write(file, window.screenshot()).expect("the picture is written");
    println!("{}", file.file_name().unwrap_or_default().to_string_lossy());
}
