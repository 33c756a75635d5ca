//! The window against an empty one of the same framework: from start to drawn, and memory with everything it starts.
//! Then the window closed to the tray with clocks running: memory, and the processor it takes.
//!
//! *Drawn* is read off the picture of a virtual screen: ink where the page's own text stands. Memory is the
//! proportional set size (`Pss` of /proc/PID/smaps_rollup) summed over the process and all it started.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;
use tests::bus::Bus;
use tests::tray::Tray;
use tests::watching::{RealShop, Sink, boot_ms};
use tests::window::{Screen, descendants, ticks, until};

const RUNS: usize = 20;
/// The window may take so much longer to be drawn, ms, …
const LATER_MS: i64 = 150;
/// … so much more memory, kB, …
const MORE_KB: i64 = 60_000;
/// … and with the window closed so much in all, kB, …
const CLOSED_KB: i64 = 170_000;
/// … and so much of a core.
const CLOSED_CORE: f64 = 0.01;

/// Prints each measure with its limit.
pub fn run() {
    let (Some(window), Some(empty)) = (program("gluewright-window"), program("examples/empty")) else {
        println!("SKIPPED: no release build of the window beside this benchmark (cargo xtask bench window builds it)");
        return;
    };
    // A busy book: a fortnight lived, clocks running.
    let folder = tempfile::tempdir().unwrap();
    let book = folder.path().join("shop.book");
    let demo = Command::new(window.with_file_name("gluewright")).arg("demo").arg(&book).output().unwrap();
    assert!(demo.status.success(), "{demo:?}");
    let words = ["--book".to_owned(), book.display().to_string()];
    let mut all: [Vec<(i64, i64)>; 2] = Default::default();
    for _ in 0..RUNS {
        // In turn, so that the machine's mood is shared.
        all[0].push(opened(&window, &words, folder.path(), rows));
        all[1].push(opened(&empty, &[], folder.path(), anything));
    }
    let middle = |of: &[(i64, i64)], what: fn(&(i64, i64)) -> i64| {
        let mut of: Vec<i64> = of.iter().map(what).collect();
        of.sort_unstable();
        of[of.len() / 2]
    };
    let [ms, empty_ms] = [middle(&all[0], |one| one.0), middle(&all[1], |one| one.0)];
    let [kb, empty_kb] = [middle(&all[0], |one| one.1), middle(&all[1], |one| one.1)];
    println!(
        "start to drawn with its clocks: {ms} ms; empty window {empty_ms} ms; {} (median of {RUNS}, at most +{LATER_MS} ms)",
        verdict(ms - empty_ms, LATER_MS, "ms")
    );
    println!(
        "memory: {kb} kB; empty window {empty_kb} kB; {} (at most +{MORE_KB} kB)",
        verdict(kb - empty_kb, MORE_KB, "kB")
    );
    closed(&window);
}

fn verdict(more: i64, limit: i64, unit: &str) -> String {
    format!("{more:+} {unit}: {}", if more <= limit { "within" } else { "OVER" })
}

fn program(name: &str) -> Option<PathBuf> {
    let here = std::env::current_exe().ok()?;
    let program = here.parent()?.parent()?.join(name);
    program.is_file().then_some(program)
}

/// Opens it once on a screen of its own: milliseconds until it is drawn, and kB of memory two seconds later.
fn opened(program: &Path, words: &[String], home: &Path, drawn: fn(&[u8]) -> bool) -> (i64, i64) {
    let (screen, bus) = (Screen::new(), Bus::new());
    let mut command = Command::new(program);
    command.args(words).env("DISPLAY", screen.name()).env("DBUS_SESSION_BUS_ADDRESS", &bus.address).env("HOME", home);
    command.env("NO_AT_BRIDGE", "1").stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    let start = boot_ms();
    let mut child = command.spawn().unwrap();
    let done = until("something drawn", || drawn(&screen.picture())) - start;
    std::thread::sleep(Duration::from_secs(2));
    let kb = memory_kb(child.id());
    child.kill().unwrap();
    child.wait().unwrap();
    (done, kb)
}

/// Dark pixels in a rectangle of the picture (X window dump, 32 bits a pixel; its header is big-endian).
fn ink(picture: &[u8], [left, top, right, bottom]: [usize; 4]) -> usize {
    let field = |at: usize| {
        picture.get(at * 4..at * 4 + 4).map_or(0, |b| u32::from_be_bytes([b[0], b[1], b[2], b[3]]) as usize)
    };
    let (header, width, height, line, colours) = (field(0), field(4), field(5), field(12), field(19));
    let pixels = header + colours * 12;
    let dark = |x: usize, y: usize| {
        let at = pixels + y * line + x * 4;
        picture.get(at..at + 3).is_some_and(|rgb| rgb.iter().all(|part| *part < 110))
    };
    let inside = (top..bottom.min(height)).flat_map(|y| (left..right.min(width)).map(move |x| (x, y)));
    inside.filter(|(x, y)| dark(*x, *y)).count()
}

/// The window's own white or wood is there, and ink on it: a black screen has neither.
fn page(picture: &[u8], at: [usize; 4]) -> bool {
    let area = (at[2] - at[0]) * (at[3] - at[1]);
    (100..area / 2).contains(&ink(picture, at))
}

/// The empty page's only line, within the window's own frame: its title is ink too, and there before the page.
fn anything(picture: &[u8]) -> bool {
    page(picture, [70, 60, 900, 300])
}

/// Rows of the bench, which come only with the book's answer: right of the rooms, below the strip.
fn rows(picture: &[u8]) -> bool {
    page(picture, [200, 300, 1200, 800])
}

fn memory_kb(of: u32) -> i64 {
    let own = [vec![of], descendants(of)].concat();
    let pss = |pid: u32| {
        let text = std::fs::read_to_string(format!("/proc/{pid}/smaps_rollup")).unwrap_or_default();
        let line = text.lines().find_map(|line| line.strip_prefix("Pss:"))?;
        line.trim().trim_end_matches("kB").trim().parse::<i64>().ok()
    };
    own.into_iter().filter_map(pss).sum()
}

/// Opened, closed to the tray, clocks running.
fn closed(program: &Path) {
    let (screen, bus) = (Screen::new(), Bus::new());
    let (_service, tray) = (bus.service(), Tray::new(&bus));
    let real = RealShop::new(3_600, &bus.address, Sink::Null);
    real.pot();
    let mut command = real.command(program.to_str().unwrap());
    command.env("DISPLAY", screen.name()).env("NO_AT_BRIDGE", "1").stdin(Stdio::null()).stderr(Stdio::null());
    let mut child = command.spawn().unwrap();
    tray.wait_for_item();
    let window = screen.wait_for_windows(1).remove(0);
    until("the page", || page(&screen.picture(), [200, 100, 1200, 800]));
    screen.close(&window);
    screen.wait_for_windows(0);
    std::thread::sleep(Duration::from_secs(5));
    let (before, since) = (ticks(child.id()), boot_ms());
    std::thread::sleep(Duration::from_secs(20));
    let core = (ticks(child.id()) - before) as f64 * 10.0 / (boot_ms() - since) as f64;
    let kb = memory_kb(child.id());
    let within = |fine: bool| if fine { "within" } else { "OVER" };
    println!("closed, a clock running: {kb} kB: {} (at most {CLOSED_KB} kB)", within(kb <= CLOSED_KB));
    println!("closed, a clock running: {:.2} % of a core: {} (at most 1 %)", core * 100.0, within(core <= CLOSED_CORE));
    child.kill().unwrap();
    child.wait().unwrap();
}
