//! A book that fails under the window or at its start: held by somebody, on a full disk, gone, damaged, newer. It is told
//! in words, and nothing is shown as saved that is not.

use super::shop;
use super::window::{Hand, Window};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// The next press of the topmost row.
const NEXT: &str = "main [data-row] [data-next]";

fn busy() -> Window {
    let mut window = Window::open(Hand::Pointer, (1280, 800), shop::busy);
    let home = window.home.path().to_owned();
    quiet(&mut window, &home);
    window
}

/// Answers the alarm, and waits until the bench shows all that the alarms wrote.
fn quiet(window: &mut Window, home: &Path) {
    window.press("[data-press='answer-alarm']");
    window.see_words("Alarm answered");
    let mut before = Value::Null;
    loop {
        let now = size(home);
        window.until(
            "all entries",
            "return Number(document.querySelector('main')?.dataset.size) >= arguments[0]",
            vec![now.clone()],
        );
        if now == before {
            return;
        }
        before = now;
        std::thread::sleep(Duration::from_millis(600));
    }
}

/// Entries in the book, as the command line counts them.
fn size(home: &Path) -> Value {
    shop::gluewright(home, &["--json", "ask", &json!({ "ask": "head", "body": {} }).to_string()])["answer"]["logs"][0]
        ["size"]
        .clone()
}

fn python(script: &str, file: &Path) -> Command {
    let mut command = Command::new("python3");
    command.args(["-c", script]).arg(file);
    command
}

/// Another program that keeps the book for itself until its input ends.
fn held(book: &Path) -> Child {
    let script = "import sqlite3, sys; c = sqlite3.connect(sys.argv[1], isolation_level=None, timeout=20); \
        c.execute('BEGIN IMMEDIATE'); print('held', flush=True); sys.stdin.read()";
    held_by(script, book)
}

/// A script that says when it holds the book.
fn held_by(script: &str, book: &Path) -> Child {
    let mut child = python(script, book).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("python3 starts");
    let mut line = String::new();
    let out = child.stdout.take().expect("a pipe");
    std::io::BufRead::read_line(&mut std::io::BufReader::new(out), &mut line).expect("it says that it holds it");
    assert_eq!(line.trim(), "held");
    child
}

/// What stands in the foot: the line that says what was saved, and the size of the book.
fn foot(window: &Window) -> Value {
    window.js("return [...document.querySelectorAll('[data-saved] p')].map(e => e.textContent)", vec![])
}

/// Presses, and shows that the trouble is told of in words and nothing is shown as recorded or saved.
fn told_not_saved(window: &mut Window, code: &str) -> String {
    let before = foot(window);
    window.press(NEXT);
    window.see(&format!("[data-trouble='{code}']"));
    let told = window.text(&format!("[data-trouble='{code}']"));
    assert!(told.contains("nothing was"), "it says that nothing was written or saved: {told}");
    assert_eq!(foot(window), before, "the foot says no more than before");
    let recorded = window.js("return document.querySelector('main .done')?.textContent ?? ''", vec![]);
    assert_eq!(recorded, "", "no button says that it was recorded");
    told
}

/// The next press is taken now, once.
fn saved_now(window: &mut Window, before: &Value) {
    window.press(NEXT);
    let more = before.as_u64().expect("a size") + 1;
    window.until(
        "the receipt",
        "return Number(document.querySelector('main')?.dataset.size) === arguments[0]",
        vec![json!(more)],
    );
    assert_eq!(size(window.home.path()), json!(more), "one press, one entry");
    window.until("that trouble is over", "return !document.querySelector('[data-trouble]')", vec![]);
}

#[test]
fn a_book_that_somebody_holds_takes_no_press_and_says_so() {
    let mut window = busy();
    let before = size(window.home.path());
    let mut holder = held(&shop::book(window.home.path()));
    told_not_saved(&mut window, "locked");
    // A form keeps what was typed and says the same at its foot.
    window.press("[data-press='new-reading']");
    window.put("[data-field='temperature']", "20.5");
    window.press("[data-press='reading']");
    window.see("dialog [role=alert]");
    let told = window.text("dialog [role=alert]");
    assert!(told.contains("nothing was written"), "{told}");
    assert_eq!(window.js("return document.querySelector('[data-field=temperature]').value", vec![]), "20.5");
    assert_eq!(size(window.home.path()), before);
    drop(holder.stdin.take());
    holder.wait().expect("it lets go");
    window.press("[data-press='reading']");
    window.until("the sheet closes", "return !document.querySelector('dialog')", vec![]);
    let now = size(window.home.path());
    assert_eq!(now.as_u64(), before.as_u64().map(|size| size + 1), "the reading that was typed, once");
    saved_now(&mut window, &now);
}

#[test]
fn a_book_held_whole_at_the_start_is_told_of_and_opened_when_it_is_let_go() {
    let script = "import sqlite3, sys; c = sqlite3.connect(sys.argv[1], isolation_level=None, timeout=20); \
        c.execute('PRAGMA locking_mode = EXCLUSIVE'); c.execute('BEGIN EXCLUSIVE'); print('held', flush=True); sys.stdin.read()";
    let mut holder = None;
    let window = Window::open(Hand::Pointer, (1280, 800), |home| {
        let words = shop::empty(home);
        holder = Some(held_by(script, &shop::book(home)));
        words
    });
    window.see_words("Somebody else has the book.");
    let rooms = window.js("return document.querySelectorAll('[data-go]').length", vec![]);
    assert_eq!(rooms, json!(0), "no room is shown");
    let mut holder = holder.expect("held");
    drop(holder.stdin.take());
    holder.wait().expect("it lets go");
    // The window looks again by itself once a second; whoever is quicker presses.
    window.js("document.querySelector(\"[data-press='again']\")?.click(); return true", vec![]);
    window.see("main[data-room='bench']");
    assert_eq!(size(window.home.path()), json!(3), "nothing was written meanwhile");
}

/// A pot that is nearly over within half a minute, in a book that holds nothing else.
fn short_pot(home: &Path) -> Vec<String> {
    let words = shop::empty(home);
    let limits = json!([{ "clock": "pot", "points": [{ "at": "25 C", "time": "4 min", "mass": "100 g" }] }]);
    let began = chrono::Utc::now() - chrono::Duration::seconds(80);
    let acts = json!([
        { "act": "card", "body": { "name": "quick", "class": "epoxy", "ratio": "100:50", "limits": limits } },
        { "act": "reading", "happened": began.to_rfc3339(), "body": { "place": "bench", "temperature": "24 C" } },
        { "act": "press", "happened": began.to_rfc3339(), "body": { "press": "hardener-in" } },
        { "act": "mix", "body": { "card": "quick", "resin": "60 g", "hardener": "30 g", "place": "bench" } },
        { "act": "reading", "body": { "place": "bench", "temperature": "24 C" } },
    ]);
    shop::act(home, &acts);
    words
}

#[test]
fn an_alarm_that_the_book_does_not_take_is_shown_all_the_same_and_saved_later() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), short_pot);
    window.see("main [data-row]");
    let none = window.js("return document.querySelectorAll('[data-alarms]').length", vec![]);
    assert_eq!(none, json!(0), "the pot is not nearly over yet");
    let mut holder = held(&shop::book(window.home.path()));
    let before = size(window.home.path());
    let start = std::time::Instant::now();
    while window.js("return !!document.querySelector('[data-alarms] [data-unsaved]')", vec![]) != json!(true) {
        assert!(start.elapsed().as_secs() < 90, "the alarm is shown though it cannot be saved");
        std::thread::sleep(Duration::from_millis(200));
    }
    assert_eq!(size(window.home.path()), before, "it is not in the book");
    drop(holder.stdin.take());
    holder.wait().expect("it lets go");
    window.until(
        "that it is saved",
        "return !!document.querySelector('[data-alarms]') && !document.querySelector('[data-unsaved]')",
        vec![],
    );
    let entries = json!({ "ask": "entries", "body": { "kind": "alarm" } }).to_string();
    let answer = shop::gluewright(window.home.path(), &["--json", "ask", &entries])["answer"].clone();
    assert_eq!(answer["entries"][0]["kind"], "alarm", "{answer}");
    window.press("[data-press='answer-alarm']");
    window.see_words("Alarm answered");
}

/// A small disk of its own below a folder; it goes when this does.
struct Disk(PathBuf);

impl Disk {
    /// None where this person may not mount one.
    fn mounted(at: &Path) -> Option<Disk> {
        std::fs::create_dir(at).expect("a folder for the disk");
        let done = Command::new("mount").args(["-t", "tmpfs", "-o", "size=6m", "tmpfs"]).arg(at).output();
        done.is_ok_and(|done| done.status.success()).then(|| Disk(at.to_owned()))
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(&self.0).status();
    }
}

/// Saves a reading by its sheet; gives what the sheet says where it is refused.
fn reading(window: &mut Window) -> Option<String> {
    window.press("[data-press='new-reading']");
    window.put("[data-field='temperature']", "20.5");
    window.press("[data-press='reading']");
    window.until(
        "an answer",
        "return !document.querySelector('dialog') || !!document.querySelector('dialog [role=alert]')",
        vec![],
    );
    let told = window.js("return document.querySelector('dialog [role=alert]')?.textContent ?? null", vec![]);
    told.as_str().map(str::to_owned)
}

#[test]
fn a_full_disk_takes_nothing_and_says_so() {
    let mut disk = None;
    let mut window = Window::open(Hand::Pointer, (1280, 800), |home| {
        let at = home.join("disk");
        disk = Disk::mounted(&at);
        shop::busy(&at)
    });
    let at = window.home.path().join("disk");
    let Some(disk) = disk else {
        println!("not run: a small disk can be mounted by root alone");
        return;
    };
    quiet(&mut window, &at);
    let filler = at.join("filler");
    let mut file = std::fs::File::create(&filler).expect("a file that fills the disk");
    std::io::Write::write_all(&mut file, &vec![7; 16 << 20]).expect_err("the disk is full");
    // The log beside the book has room for a few more where it was emptied before.
    let mut before = size(&at);
    let told = (0..60).find_map(|_| {
        let shown = foot(&window);
        let refused = reading(&mut window);
        let now = size(&at);
        let more = now.as_u64().zip(before.as_u64()).map(|(now, before)| now - before);
        assert_eq!(more, Some(u64::from(refused.is_none())), "what is shown as saved is in the book, and nothing else");
        assert!(refused.is_none() || foot(&window) == shown, "the foot says no more than before");
        before = now;
        refused
    });
    let told = told.expect("a full disk refuses at last");
    assert!(told.contains("space") && told.contains("nothing was written"), "{told}");
    drop(file);
    std::fs::remove_file(&filler).expect("room again");
    window.press("[data-press='reading']");
    window.until("the sheet closes", "return !document.querySelector('dialog')", vec![]);
    assert_eq!(size(&at).as_u64(), before.as_u64().map(|size| size + 1), "what was typed is saved, once");
    drop(disk);
}

#[test]
fn a_book_that_goes_away_under_the_window_is_missed_and_taken_up_again() {
    let mut window = busy();
    let book = shop::book(window.home.path());
    let away = book.with_extension("away");
    std::fs::rename(&book, &away).expect("moved");
    window.see_words("The book is not where it was.");
    window.see_words(&book.to_string_lossy());
    assert_eq!(
        window.js("return document.querySelector('[data-saved], [data-press=first]') === null", vec![]),
        json!(true)
    );
    assert!(!book.exists(), "no other book is made in its place");
    std::fs::rename(&away, &book).expect("brought back");
    // It is seen by itself; the button does no more.
    window.see("main[data-room='bench'] [data-row]");
    let before = size(window.home.path());
    saved_now(&mut window, &before);
}

#[test]
fn a_book_damaged_under_the_window_is_not_shown_as_if_it_were_whole() {
    let window = busy();
    let before = foot(&window);
    let book = shop::book(window.home.path());
    let length = std::fs::metadata(&book).expect("it is there").len();
    let file = std::fs::OpenOptions::new().write(true).open(&book).expect("opened");
    let noise: Vec<u8> = (0..length).map(|at| (at.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    std::os::unix::fs::FileExt::write_all_at(&file, &noise, 0).expect("overwritten");
    drop(file);
    window.until(
        "that it is told",
        "const t = document.body.innerText; return /cannot be read as it should be|damaged|not a book/i.test(t)",
        vec![],
    );
    let after = foot(&window);
    assert!(after == json!([]) || after == before, "{after}");
}

#[test]
fn a_damaged_and_a_newer_book_are_told_of_in_words_at_the_start() {
    let newer =
        "import sqlite3, sys; c = sqlite3.connect(sys.argv[1]); c.execute('PRAGMA user_version = 99'); c.commit()";
    type Spoil<'a> = &'a dyn Fn(&Path);
    let cases: [(&str, Spoil); 2] = [
        ("The book cannot be read as it should be.", &|book| {
            let mut bytes = std::fs::read(book).expect("read");
            let middle = bytes.len() / 2;
            bytes.truncate(middle);
            std::fs::write(book, bytes).expect("cut");
        }),
        ("The book was written by a newer Gluewright.", &|book| {
            assert!(python(newer, book).status().expect("python3").success());
        }),
    ];
    for (heading, spoil) in cases {
        let mut window = Window::open(Hand::Pointer, (1280, 800), |home| {
            let words = shop::empty(home);
            spoil(&shop::book(home));
            words
        });
        let bytes = std::fs::read(shop::book(window.home.path())).expect("read");
        window.see_words(heading);
        assert_eq!(
            window.js("return document.querySelectorAll('[data-go]').length", vec![]),
            json!(0),
            "no room is shown"
        );
        window.press("[data-press='again']");
        window.see_words(heading);
        let now = std::fs::read(shop::book(window.home.path())).expect("read");
        assert_eq!(now, bytes, "it is left as it is: {heading}");
    }
}
