//! What is known of the air besides a reading by hand, and to whom the record was vouched: a logger's file, a floor, a
//! forecast, a checkpoint given; entered in the window, found again in the record as typed.

use super::shop;
use super::window::{Hand, Window};
use serde_json::{Value, json};

/// The newest entry of a kind as the record has it.
fn newest(window: &Window, kind: &str) -> Value {
    let words = ["--json", "ask", &json!({"ask": "entries", "body": {"kind": kind, "limit": 1}}).to_string()]
        .map(str::to_owned);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    shop::gluewright(window.home.path(), &words)["answer"]["entries"][0].clone()
}

#[test]
fn a_file_a_floor_a_forecast_and_a_checkpoint_given() {
    let mut window = Window::open(Hand::Keyboard, (1280, 800), |home| {
        std::fs::write(
            home.join("loft log.csv"),
            "Time;Temperature;RH\n2026-03-02 10:00;20.0;50\n2026-03-02 10:10;21.0;51\n",
        )
        .expect("a logger's file");
        shop::empty(home)
    });
    // A path as a list of files gives it: in quotes.
    let file = format!("'{}'", window.home.path().join("loft log.csv").display());
    window.press("[data-press='new-reading']");
    window.press("dialog [data-side='file']");
    window.fill("dialog [data-field='path']", &file);
    window.send();
    window.see_words("2 readings from loft log.csv at bench");
    assert_eq!(newest(&window, "readings")["person"], json!(null), "nobody is named as at work");

    window.press("[data-press='new-reading']");
    window.press("dialog [data-side='vouch']");
    window.fill("dialog [data-field='floor']", "16");
    window.fill("dialog [data-field='until']", "06:00");
    window.send();
    window.see_words("Vouched for: bench, never below 16 C");
    let said = newest(&window, "vouch")["said"].as_str().unwrap_or_default().to_owned();
    assert!(said.contains("bench never below 16 °C") && said.contains("06:00"), "{said}");

    window.press("[data-press='new-reading']");
    window.press("dialog [data-side='forecast']");
    window.fill("dialog [data-field='at']", "21");
    window.send();
    window.see_words("Expected of bench: saved");
    assert_eq!(newest(&window, "forecast")["kind"], "forecast");

    window.enter("record");
    window.press("[data-side='checks']");
    window.fill("[data-field='given.to']", "the inspector");
    window.send();
    window.see_words("the checkpoint was given to the inspector");
    let said = newest(&window, "checkpoint-given")["said"].as_str().unwrap_or_default().to_owned();
    assert!(said.contains("the inspector"), "{said}");

    // The check tells its way through a channel of its own; the first thing told is what stops it.
    let way = "const done = arguments[arguments.length - 1]; let first = null; \
        const id = window.__TAURI_INTERNALS__.transformCallback(told => (first ??= told.message ?? told)); \
        window.__TAURI_INTERNALS__.invoke('ask', { question: { ask: 'verify', body: {} }, tell: '__CHANNEL__:' + id }) \
          .then(answer => setTimeout(() => done([answer.ok, first?.tell, typeof first?.job]), 200), why => done(JSON.stringify(why)))";
    assert_eq!(window.js_later(way, vec![]), json!([true, "way", "string"]));
    window.press("[data-press='verify']");
    window.see("[data-verified='true']");
}

/// What is owed leads to the very form that takes it, with the bond named in it; back from there it is owed no more.
#[test]
fn what_is_missing_is_entered_where_it_is_owed() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), |home| {
        let words = shop::empty(home);
        let begun = json!([
            { "act": "press", "body": { "press": "hardener-in" } },
            { "act": "part", "body": { "mark": "P1" } },
            { "act": "joint", "body": { "part": "P1", "mark": "J" } },
        ]);
        shop::act(home, &begun);
        let asked = ["--json", "ask", r#"{"ask":"list","body":{"of":"batch"}}"#];
        let batch = shop::gluewright(home, &asked)["answer"]["list"][0]["id"].clone();
        let glued = json!([
            { "act": "bond", "body": { "batches": [batch], "parts": ["P1"], "place": "bench" } },
            { "act": "press", "body": { "press": "first-glue-on", "bond": "1" } },
            { "act": "press", "body": { "press": "all-tight", "bond": "1" } },
        ]);
        shop::act(home, &glued);
        words
    });
    window.enter("owed");
    let owed = "[data-owed='1 missing:together']";
    window.press(&format!("{owed} [data-press='enter-it']"));
    window.until(
        "the form with press and bond",
        "const value = name => document.querySelector(`main [data-field='${name}']`)?.value; \
         return value('press') === 'together' && value('bond') === '1' && document.activeElement?.dataset.field === 'happened'",
        vec![],
    );
    let now = window.js("return new Date().toTimeString().slice(0, 8)", vec![]);
    window.put("main [data-field='happened']", now.as_str().unwrap_or_default());
    window.press("main [data-press='late']");
    window.see("main[data-room='owed']");
    window.until("that it is owed no more", "return !document.querySelector(arguments[0])", vec![json!(owed)]);
    // The mix of a batch is entered in its own room, at that batch.
    window.press("[data-owed='1 missing:mix'] [data-press='enter-it']");
    window.see("main[data-room='mix'] [data-press='mix']");
}
