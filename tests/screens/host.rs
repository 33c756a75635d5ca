//! What the window's host answers and does on this computer: how the book stands, beginning one, looking around, pages
//! made and ended, the sound, what it tells by itself. Asked through the page's own two commands.

use super::shop;
use super::window::{Hand, Window};
use serde_json::{Value, json};
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::Stdio;
use std::time::{Duration, Instant};
use tests::binary;

const PATIENCE: Duration = Duration::from_secs(60);

fn invoke(window: &Window, command: &str, message: Value) -> Result<Value, Value> {
    let script = "const done = arguments[arguments.length - 1]; \
        window.__TAURI_INTERNALS__.invoke(arguments[0], arguments[1]).then(v => done({ ok: v }), why => done({ why }))";
    let mut came = window.js_later(script, vec![json!(command), message]);
    if came["why"].is_null() { Ok(came["ok"].take()) } else { Err(came["why"].take()) }
}

fn act(window: &Window, value: Value) -> Result<Value, Value> {
    invoke(window, "act", json!({ "value": value }))
}

fn state(window: &Window) -> Value {
    invoke(window, "ask", json!({ "question": { "desk": "state" } })).expect("the host's state")
}

/// Opens the window and gives its state once its page is there.
fn opened(furnish: impl FnOnce(&Path) -> Vec<String>) -> (Window, Value) {
    let window = Window::open(Hand::Pointer, (1280, 800), furnish);
    window.see("main");
    let state = state(&window);
    (window, state)
}

/// Waits until the state is so.
fn until(window: &Window, what: &str, fits: impl Fn(&Value) -> bool) -> Value {
    let start = Instant::now();
    loop {
        let now = state(window);
        if fits(&now) {
            return now;
        }
        assert!(start.elapsed() < PATIENCE, "never came: {what}: {now:#}");
        std::thread::sleep(Duration::from_millis(60));
    }
}

/// From now on everything the host tells is kept in the page.
fn follow(window: &Window) {
    let script = "const done = arguments[arguments.length - 1]; window.heard = []; \
        const id = window.__TAURI_INTERNALS__.transformCallback(one => window.heard.push(one.message)); \
        window.__TAURI_INTERNALS__.invoke('ask', { question: { desk: 'follow' }, tell: '__CHANNEL__:' + id }) \
            .then(() => done(true), why => done(JSON.stringify(why)))";
    assert_eq!(window.js_later(script, vec![]), json!(true));
}

/// Waits for something told.
fn heard(window: &Window, what: &str, fits: impl Fn(&Value) -> bool) -> Value {
    let start = Instant::now();
    loop {
        let all = window.js("return window.heard", vec![]);
        if let Some(one) = all.as_array().and_then(|all| all.iter().find(|one| fits(one))) {
            return one.clone();
        }
        assert!(start.elapsed() < PATIENCE, "never told: {what}: {all:#}");
        std::thread::sleep(Duration::from_millis(60));
    }
}

#[test]
fn without_a_book_it_is_the_first_start_and_one_can_be_begun() {
    let (window, first) = opened(|_| Vec::new());
    assert_eq!((&first["standing"], &first["book"]), (&json!("none"), &json!(null)));
    let asked = invoke(&window, "ask", json!({ "question": { "ask": "head", "body": {} } }));
    assert!(asked.is_err_and(|why| why["sentence"] == "No book is open."));

    let path = window.home.path().join("new/shop.book");
    assert_eq!(first["suggested"], json!(window.home.path().join(".local/share/gluewright/shop.book")));
    act(&window, json!({ "desk": "start", "path": path })).expect("begun");
    let now = until(&window, "open", |now| now["standing"] == "open");
    assert_eq!((&now["book"], &now["made_up"]), (&json!(path), &json!(false)));
    let mode = |path: &Path| std::fs::metadata(path).expect("it is there").permissions().mode() & 0o777;
    assert_eq!((mode(&path), mode(path.parent().expect("a folder"))), (0o600, 0o700), "for its owner's eyes");
    let receipt = act(&window, json!({ "act": "person", "body": { "name": "ann" } })).expect("the first act");
    assert!(receipt["size"].as_u64() >= Some(2), "{receipt}");
    let kept = std::fs::read_to_string(window.home.path().join(".config/gluewright/window.json")).expect("kept");
    assert!(kept.contains("new/shop.book"), "the next start opens it: {kept}");
}

#[test]
fn looking_around_writes_a_made_up_shop_and_opens_it() {
    let (window, _) = opened(|_| Vec::new());
    follow(&window);
    let job = act(&window, json!({ "desk": "look-around" })).expect("under way")["job"].clone();
    let told = heard(&window, "finished", |one| one["tell"] == "page" && one["job"] == job && one["finished"] == true);
    assert_eq!((&told["error"], &told["done"]), (&json!(null), &json!(1_000_000)), "{told}");
    let now = until(&window, "open", |now| now["standing"] == "open" && now["made_up"] == true);
    assert_eq!(now["book"], told["file"]);
    heard(&window, "that the state is another", |one| one["tell"] == "state");
    until(&window, "alarms here", |now| now["alarms"]["here"] == true);
}

#[test]
fn a_book_that_cannot_be_used_is_told_of_in_words() {
    type Spoil = fn(&Path);
    let cases: [(&str, Spoil); 4] = [
        ("missing", |book| std::fs::remove_file(book).expect("gone")),
        ("damaged", |book| {
            let mut bytes = std::fs::read(book).expect("read");
            bytes.truncate(5_000);
            std::fs::write(book, bytes).expect("cut");
        }),
        ("newer", |book| {
            let newer = rusqlite_version(99);
            let output =
                std::process::Command::new("python3").args(["-c", &newer]).arg(book).output().expect("python3");
            assert!(output.status.success(), "{output:?}");
        }),
        ("read-only", |book| {
            std::fs::set_permissions(book, std::fs::Permissions::from_mode(0o400)).expect("set");
        }),
    ];
    for (word, spoil) in cases {
        let (window, now) = opened(|home| {
            let words = shop::empty(home);
            spoil(&shop::book(home));
            words
        });
        assert_eq!(now["standing"], word, "{now:#}");
        assert!(now["sentence"].as_str().is_some_and(|said| said.ends_with('.')), "{now:#}");
        let done = act(&window, json!({ "act": "person", "body": { "name": "bob" } }));
        assert!(done.is_err_and(|why| why["sentence"].is_string()), "nothing is written: {word}");
        assert!(word != "missing" || !shop::book(window.home.path()).exists(), "no other book is made in its place");
    }
}

fn rusqlite_version(version: u32) -> String {
    format!(
        "import sqlite3, sys; c = sqlite3.connect(sys.argv[1]); c.execute('PRAGMA user_version = {version}'); c.commit(); c.close()"
    )
}

#[test]
fn t18_alarms_that_did_not_end_as_asked_are_told_of_at_the_next_start() {
    let (_window, now) = opened(|home| {
        let words = shop::empty(home);
        let mut command = std::process::Command::new(binary::gluewright());
        command.arg("--book").arg(shop::book(home)).args(["watch", "--no-sound"]).env("HOME", home);
        let mut watch = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("watch starts");
        let side = home.join("shop.book.alarms");
        let start = Instant::now();
        while !std::fs::read_to_string(&side).is_ok_and(|text| text.contains("last_boot_ms")) {
            assert!(start.elapsed() < PATIENCE, "the watch never beat");
            std::thread::sleep(Duration::from_millis(20));
        }
        watch.kill().expect("killed");
        watch.wait().expect("ended");
        words
    });
    let now =
        if now["sentence"].is_null() { until(&_window, "a sentence", |now| now["sentence"].is_string()) } else { now };
    assert!(now["sentence"].as_str().is_some_and(|said| said.contains("did not end as asked")), "{now:#}");
}

#[test]
fn t20_a_sound_device_that_takes_it_is_said_to() {
    let (window, _) = opened(shop::empty);
    let test = act(&window, json!({ "desk": "sound-test" })).expect("tried");
    assert_eq!(test["works"], true, "{test}");
    let now = until(&window, "alarms here", |now| now["alarms"]["here"] == true);
    assert_eq!(now["sound"]["works"], true);
}

#[test]
fn what_somebody_else_writes_is_told_with_its_size_and_what_acts_here_change_by_name() {
    let (window, _) = opened(shop::empty);
    follow(&window);
    heard(&window, "the time", |one| one["tell"] == "beat" && one["at"].is_string());
    shop::act(window.home.path(), &json!([{ "act": "person", "body": { "name": "bob" } }]));
    let told = heard(&window, "a change", |one| one["tell"] == "changed");
    let head = invoke(&window, "ask", json!({ "question": { "ask": "head", "body": {} } })).expect("asked");
    assert_eq!((&told["size"], &told["changed"]), (&head["logs"][0]["size"], &json!([])));
    window.js("window.heard = []", vec![]);
    act(&window, json!({ "act": "part", "body": { "mark": "R1" } })).expect("acted");
    let told = heard(&window, "a change", |one| one["tell"] == "changed");
    assert!(told["changed"].as_array().is_some_and(|names| !names.is_empty()), "{told}");
}

#[test]
fn a_page_is_made_in_the_folder_of_pages_and_another_is_ended() {
    let (window, now) = opened(shop::busy);
    follow(&window);
    let part = "R1-L";
    let job = act(&window, json!({ "desk": "page", "part": part, "paper": "a4" })).expect("under way")["job"].clone();
    let told = heard(&window, "finished", |one| one["job"] == job && one["finished"] == true);
    assert_eq!(told["error"], json!(null), "{told}");
    let file = Path::new(told["file"].as_str().expect("a file"));
    assert!(file.starts_with(now["pages"].as_str().expect("a folder")), "{told}");
    assert!(std::fs::read(file).expect("the page").starts_with(b"%PDF-"));
    let steps = window.js("return window.heard.filter(one => one.tell === 'page' && !one.finished).length", vec![]);
    assert!(steps.as_u64() >= Some(2), "it says how far it is: {steps}");

    let job = act(&window, json!({ "desk": "page", "part": part })).expect("under way")["job"].clone();
    act(&window, json!({ "desk": "cancel", "job": job })).expect("ended");
    let told = heard(&window, "ended", |one| one["job"] == job && one["finished"] == true);
    assert!(
        told["file"].is_null() && told["error"]["sentence"].as_str().is_some_and(|said| said.contains("ended")),
        "{told}"
    );

    let job = act(&window, json!({ "desk": "page", "part": "no such part" })).expect("under way")["job"].clone();
    let told = heard(&window, "refused", |one| one["job"] == job && one["finished"] == true);
    assert_eq!(told["error"]["code"], "not-found", "the program's own words: {told}");
}
