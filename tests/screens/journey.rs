//! The whole job in the real window, from no file at all to the page for an inspector: once with a pointer, once with
//! the keyboard alone. What was typed must then stand in the trace that the command line gives of the same file.

use super::shop;
use super::window::{Hand, Window};
use serde_json::{Value, json};
use std::path::PathBuf;

/// Clicks and presses of Enter or Space from the first start to the page.
const MOST: u32 = 40;

/// What is typed where the reader's units count, and what must come of it.
struct Typed {
    /// Settings of the computer.
    settings: Value,
    room: &'static str,
    sheet: &'static str,
    thickness: &'static str,
    total: &'static str,
    /// Resin to weigh as it is told, and both amounts as they are typed.
    weigh: &'static str,
    resin: &'static str,
    hardener: &'static str,
    /// As they stand in the record: the amounts with their unit, the room, millikelvin.
    recorded: [&'static str; 2],
    mk: u32,
}

fn metric() -> Typed {
    Typed {
        settings: json!({}),
        room: "21.5",
        sheet: "20",
        thickness: "18",
        total: "60",
        weigh: "41.7 g",
        resin: "41.7",
        hardener: "18.3",
        recorded: ["41.7 g", "18.3 g"],
        mk: 294_650,
    }
}

/// 70.7 °F is 21.5 °C.
fn customary() -> Typed {
    Typed {
        settings: json!({ "theme": "dark", "temperature": "F", "measure": "us", "paper": "letter", "night": false,
            "autostart": false, "awake": true, "mm_per_css_px": null }),
        room: "70.7",
        sheet: "68",
        thickness: "3/4",
        total: "2",
        weigh: "1.39 oz",
        resin: "1.39",
        hardener: "0.61",
        recorded: ["1.39 oz", "0.61 oz"],
        mk: 294_650,
    }
}

#[test]
fn from_nothing_to_a_page_by_pointer() {
    whole_job(Hand::Pointer, &metric());
}

#[test]
fn from_nothing_to_a_page_by_keyboard_alone() {
    whole_job(Hand::Keyboard, &metric());
}

#[test]
fn from_nothing_to_a_page_by_keyboard_in_the_dark_in_fahrenheit_and_ounces() {
    whole_job(Hand::Keyboard, &customary());
}

fn whole_job(hand: Hand, typed: &Typed) {
    let mut window = Window::open(hand, (1280, 800), |home| {
        if typed.settings != json!({}) {
            let folder = home.join(".config/gluewright");
            std::fs::create_dir_all(&folder).expect("a folder for the settings");
            let kept = json!({ "settings": typed.settings, "book": null });
            std::fs::write(folder.join("window.json"), kept.to_string()).expect("settings");
        }
        Vec::new()
    });
    first_start(&mut window, typed);
    card(&mut window, typed);
    lots(&mut window);
    mix(&mut window, typed);
    bench(&mut window);
    let file = page(&mut window);
    println!("{hand:?}: {} presses", window.presses);
    assert!(window.presses <= MOST, "{} presses", window.presses);
    let bytes = std::fs::read(&file).expect("the page is there");
    assert!(bytes.starts_with(b"%PDF-"), "a PDF");
    traced(&window, typed);
}

fn first_start(window: &mut Window, typed: &Typed) {
    window.press("[data-press='start']");
    window.fill("[data-field='path']", &shop::book(window.home.path()).to_string_lossy());
    window.send();
    window.fill("[data-field='person.name']", "ann");
    window.fill("[data-field='place.name']", "bench");
    window.fill("[data-field='reading.temperature']", typed.room);
    window.send();
    window.see("main[data-room='stores']");
}

fn card(window: &mut Window, typed: &Typed) {
    window.fill("[data-field='name']", "invented epoxy");
    window.press("[data-field='class'][value='epoxy']");
    window.fill("[data-field^='ratio']", "100:44");
    window.fill("[data-field='ratio.tolerance']", "5");
    for (row, time) in [("pot", "45"), ("open", "40"), ("closed", "60"), ("clamp", "10")] {
        let cell = |column: u32| format!("[data-row='{row}false'] td:nth-of-type({column}) input");
        window.fill(&cell(1), time);
        window.fill(&cell(2), typed.sheet);
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

fn mix(window: &mut Window, typed: &Typed) {
    window.press("[data-go='mix']");
    window.fill("[data-field='part.mark']", "R3-L");
    window.fill("[data-field='joint.mark']", "gusset 4");
    window.fill("[data-field='joint.thickness']", typed.thickness);
    window.send();
    window.fill("[data-field='total']", typed.total);
    window.see_words(typed.weigh);
    window.press("[data-press='confirm']");
    window.press("[data-press='hardener-in']");
    window.fill("[data-field='resin']", typed.resin);
    window.fill("[data-field='hardener']", typed.hardener);
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

fn traced(window: &Window, typed: &Typed) {
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
    let mixed = shop::gluewright(home, &["--json", "batch", bond["batches"][0]["id"].as_str().expect("an id")]);
    assert_eq!(
        (&mixed["mixes"][0]["resin"], &mixed["mixes"][0]["hardener"]),
        (&json!(typed.recorded[0]), &json!(typed.recorded[1]))
    );
    let one = |question: Value| shop::gluewright(home, &["--json", "ask", &question.to_string()])["answer"].clone();
    let readings = one(json!({ "ask": "entries", "body": { "kind": "reading" } }));
    let reading = one(json!({ "ask": "entry", "body": { "id": readings["entries"][0]["id"] } }));
    assert_eq!(reading["entry"]["body"]["temperature"]["mk"], json!(typed.mk), "{reading:#}");
    assert_eq!(mixed["card"]["name"], "invented epoxy");
    // Clamps came off at once: the record says so and holds the bond; nothing in the window talked it away.
    assert_eq!(bond["state"], "held", "{bond:#}");
    let checked = shop::gluewright(home, &["--json", "verify", "--depth", "rebuild"]);
    assert_eq!(checked["ok"], json!(true), "{checked:#}");
}
