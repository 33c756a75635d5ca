//! The whole job in the real window, from no file at all to the page for an inspector: once with a pointer, once with
//! the keyboard alone. What was typed must then stand in the trace that the command line gives of the same file.

use super::shop;
use super::window::{Hand, Window};
use serde_json::{Value, json};
use std::path::PathBuf;

/// Clicks and presses of Enter or Space from the first start to the page.
const MOST: u32 = 40;

#[test]
fn from_nothing_to_a_page_by_pointer() {
    whole_job(Hand::Pointer);
}

#[test]
fn from_nothing_to_a_page_by_keyboard_alone() {
    whole_job(Hand::Keyboard);
}

fn whole_job(hand: Hand) {
    let mut window = Window::open(hand, (1280, 800), |_| Vec::new());
    first_start(&mut window);
    card(&mut window);
    lots(&mut window);
    mix(&mut window);
    bench(&mut window);
    let file = page(&mut window);
    println!("{hand:?}: {} presses", window.presses);
    assert!(window.presses <= MOST, "{} presses", window.presses);
    let bytes = std::fs::read(&file).expect("the page is there");
    assert!(bytes.starts_with(b"%PDF-"), "a PDF");
    traced(&window);
}

fn first_start(window: &mut Window) {
    window.press("[data-press='start']");
    window.fill("[data-field='path']", &shop::book(window.home.path()).to_string_lossy());
    window.send();
    window.fill("[data-field='person.name']", "ann");
    window.fill("[data-field='place.name']", "bench");
    window.fill("[data-field='reading.temperature']", "21.5");
    window.send();
    window.see("main[data-room='stores']");
}

fn card(window: &mut Window) {
    window.fill("[data-field='name']", "invented epoxy");
    window.press("[data-field='class'][value='epoxy']");
    window.fill("[data-field^='ratio']", "100:44");
    window.fill("[data-field='ratio.tolerance']", "5");
    for (row, time, at) in [("pot", "45", "20"), ("open", "40", "20"), ("closed", "60", "20"), ("clamp", "10", "20")] {
        let cell = |column: u32| format!("[data-row='{row}false'] td:nth-of-type({column}) input");
        window.fill(&cell(1), time);
        window.fill(&cell(2), at);
    }
    window.send();
}

fn lots(window: &mut Window) {
    for (mark, role, can, holds) in [("R-118", "resin", "can R", "1 kg"), ("H-77", "hardener", "can H", "500 g")] {
        window.see("[data-press='lot']");
        window.until("an empty form", "return document.querySelector(\"[data-field='mark']\").value === ''", vec![]);
        window.fill("[data-field='mark']", mark);
        let chosen = format!("[data-field='role'][value='{role}']");
        if window.js("return document.querySelector(arguments[0]).checked", vec![json!(chosen)]) != json!(true) {
            window.press(&chosen);
        }
        window.fill("[data-field='expires']", "2199-12-31");
        window.fill("[data-field='can.mark']", can);
        window.fill("[data-field='can.holds']", holds);
        window.send();
        window.see_words(can);
    }
}

fn mix(window: &mut Window) {
    window.press("[data-go='mix']");
    window.fill("[data-field='part.mark']", "R3-L");
    window.fill("[data-field='joint.mark']", "gusset 4");
    window.fill("[data-field='joint.thickness']", "18");
    window.send();
    window.fill("[data-field='total']", "60");
    window.see_words("41.7 g");
    window.press("[data-press='confirm']");
    window.press("[data-press='hardener-in']");
    window.fill("[data-field='resin']", "41.7");
    window.fill("[data-field='hardener']", "18.3");
    window.send();
    window.see("[data-verdict='within']");
    window.press("[data-press='bond']");
    window.see("main[data-room='bench'] [data-row='bond:1']");
}

fn bench(window: &mut Window) {
    for press in ["first-glue-on", "together", "all-tight"] {
        window.press(&format!("[data-row='bond:1'] [data-press='{press}']"));
    }
    window.press("[data-row='bond:1'] [data-next]");
    window.press("[data-row='bond:1'] [data-seen='all-round']");
    window.press("[data-row='bond:1'] [data-press='first-clamp-off']");
    window.see_words("clamp");
}

/// Makes the page from the part; gives its file.
fn page(window: &mut Window) -> PathBuf {
    window.press("[data-go='parts']");
    window.press("[data-row='R3-L']");
    window.see("article[data-part='R3-L']");
    window.press("[data-press='make-page']");
    window.see("[data-press='show-page']");
    let mut folders = vec![window.home.path().to_owned()];
    while let Some(folder) = folders.pop() {
        for item in std::fs::read_dir(folder).into_iter().flatten().flatten() {
            if item.path().is_dir() {
                folders.push(item.path());
            } else if item.path().extension().is_some_and(|end| end == "pdf") {
                return item.path();
            }
        }
    }
    panic!("no page below the home of this window");
}

fn traced(window: &Window) {
    let home = window.home.path();
    let trace = shop::gluewright(home, &["--json", "trace", "R3-L"]);
    assert_eq!(trace["part"]["mark"], "R3-L");
    let bonds = trace["bonds"].as_array().expect("bonds");
    assert_eq!(bonds.len(), 1);
    let bond = &bonds[0];
    assert_eq!(bond["joints"], json!(["R3-L/gusset 4"]));
    assert_eq!(bond["people"], json!(["ann"]));
    assert_eq!(bond["squeeze_out"], "all-round");
    assert_eq!(bond["batches"][0]["verdict"], "within");
    let lots: Vec<&Value> =
        bond["batches"][0]["lots"].as_array().expect("lots").iter().map(|lot| &lot["mark"]).collect();
    assert_eq!(lots, [&json!("R-118"), &json!("H-77")]);
    let presses: Vec<&str> =
        bond["presses"].as_array().expect("presses").iter().filter_map(|one| one["press"].as_str()).collect();
    for press in ["hardener-in", "first-glue-on", "together", "all-tight", "squeeze-out", "first-clamp-off"] {
        assert!(presses.contains(&press), "{press} in {presses:?}");
    }
    let mixed =
        shop::gluewright(home, &["--json", "batch", &bond["batches"][0]["id"].as_str().expect("an id").to_owned()]);
    assert_eq!((&mixed["mixes"][0]["resin"], &mixed["mixes"][0]["hardener"]), (&json!("41.7 g"), &json!("18.3 g")));
    assert_eq!(mixed["card"]["name"], "invented epoxy");
    // Clamps came off at once: the record says so and holds the bond; nothing in the window talked it away.
    assert_eq!(bond["state"], "held", "{bond:#}");
    let checked = shop::gluewright(home, &["--json", "verify", "--depth", "rebuild"]);
    assert_eq!(checked["ok"], json!(true), "{checked:#}");
}
