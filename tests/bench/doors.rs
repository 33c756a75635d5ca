//! Through the doors: a part's trace with the start of the process, and an act, on a book of a hundred bonds and on
//! one of a hundred thousand; both hold the same lived bond besides.

use super::logbook::{filled, median, ratio, timed};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;
use workshop::Workshop;
use workshop::clock::SystemClock;

/// Prints each ratio with its limit.
pub fn run() {
    let Some(program) = program() else {
        println!("SKIPPED: no release build of gluewright beside this benchmark (cargo xtask bench builds it)");
        return;
    };
    let folder = tempfile::tempdir().unwrap();
    let (small, large) = (folder.path().join("small"), folder.path().join("large"));
    drop(filled(&small, 112, 0..112));
    drop(filled(&large, 1_000, 0..111_200));
    let mut few = shop(&small);
    let mut many = shop(&large);
    let (mut traces, mut acts) = ([vec![], vec![]], [vec![], vec![]]);
    for _ in 0..60 {
        // In turn, so that the machine's mood is shared.
        for (at, (path, shop)) in [(&small, &mut few), (&large, &mut many)].into_iter().enumerate() {
            traces[at].push(timed(|| trace(&program, path)));
            acts[at].push(timed(|| press(shop, "re-tightened")));
        }
    }
    let [few, many] = traces.map(median);
    ratio("trace with process start at 111 200 bonds against 112", many, few, 1.3);
    let verdict = if many < Duration::from_millis(60) { "within" } else { "OVER" };
    println!("trace with process start at 111 200 bonds: {many:.1?}, aim 60 ms: {verdict}");
    let [few, many] = acts.map(median);
    ratio("a press through the door at a million entries against a thousand", many, few, 1.3);
}

pub fn program() -> Option<PathBuf> {
    let here = std::env::current_exe().ok()?;
    let program = here.parent()?.parent()?.join("gluewright");
    program.is_file().then_some(program)
}

fn trace(program: &Path, book: &Path) {
    let out = Command::new(program).arg("--book").arg(book).args(["--json", "trace", "LIVED"]).output().unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stdout));
}

fn act(shop: &mut Workshop, act: &str, body: Value) {
    shop.act(json!({ "act": act, "body": body })).unwrap();
}

fn press((shop, bond): &mut (Workshop, String), press: &str) {
    act(shop, "press", json!({ "press": press, "bond": bond }));
}

/// One bond lived through the doors, on top of what is there.
fn shop(book: &Path) -> (Workshop, String) {
    let mut shop = Workshop::new(book, Box::new(SystemClock::new()), Box::new(|| uuid::Uuid::new_v4().to_string()));
    let limits = json!([
        { "clock": "pot", "points": [{ "at": "25 C", "time": "45 min", "mass": "100 g" }] },
        { "clock": "clamp", "points": [{ "at": "20 C", "time": "12 h" }] }
    ]);
    let card = json!({ "name": "made-up", "class": "epoxy", "ratio": "100:83", "limits": limits });
    act(&mut shop, "place", json!({ "name": "bench" }));
    act(&mut shop, "card", card);
    for (mark, role) in [("R", "resin"), ("H", "hardener")] {
        act(&mut shop, "lot", json!({ "mark": mark, "card": "made-up", "role": role }));
        act(&mut shop, "container", json!({ "mark": mark, "lot": mark }));
    }
    act(&mut shop, "reading", json!({ "place": "bench", "temperature": "20.0 C" }));
    act(&mut shop, "part", json!({ "mark": "LIVED" }));
    act(&mut shop, "joint", json!({ "part": "LIVED", "mark": "lap", "thickness": "12 mm" }));
    let mix = json!({ "card": "made-up", "containers": ["R", "H"], "resin": "40.0 g", "hardener": "33.2 g" });
    let receipt = shop.act(json!({ "act": "mix", "body": mix })).unwrap();
    let batch = receipt.made["batch"].clone();
    act(&mut shop, "press", json!({ "press": "hardener-in", "batch": batch }));
    let bond = json!({ "batches": [batch], "joints": ["LIVED/lap"], "place": "bench" });
    let receipt = shop.act(json!({ "act": "bond", "body": bond })).unwrap();
    let mut lived = (shop, receipt.made["bond"].clone());
    for word in ["first-glue-on", "together", "all-tight"] {
        press(&mut lived, word);
    }
    lived
}
