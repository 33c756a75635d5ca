//! A window under test: virtual display, session bus, driver, the program; and the two hands that press its controls.

use fantoccini::wd::{Capabilities, WebDriverCompatibleCommand};
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use std::future::Future;
use std::io::{BufRead, BufReader, Read};
use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use tests::binary;
use tests::bus::Bus;
use tokio::runtime::Runtime;

/// Longest wait for anything on the screen.
const PATIENCE: Duration = Duration::from_secs(25);

const TAB: char = '\u{e004}';
const ENTER: char = '\u{e007}';

/// Which hand presses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// A pointer clicks.
    Pointer,
    /// Tab, Enter, Space and letters; no pointer at all.
    Keyboard,
}

/// A window that is open; everything it started ends with it.
pub struct Window {
    runtime: Runtime,
    client: Client,
    children: Vec<Child>,
    _bus: Bus,
    /// Home of this window: settings, books, pages.
    pub home: tempfile::TempDir,
    hand: Hand,
    /// Clicks, and presses of Enter or Space, so far.
    pub presses: u32,
}

impl Window {
    /// Opens the window in a home that `furnish` may put things into first (settings, a book); gives the arguments.
    pub fn open(hand: Hand, size: (u32, u32), furnish: impl FnOnce(&Path) -> Vec<String>) -> Window {
        let home = tempfile::tempdir().expect("a home for the window");
        let args = furnish(home.path());
        let bus = Bus::new();
        let (display, name) = display(size);
        let port = free_port();
        let driver = Command::new("WebKitWebDriver")
            .arg(format!("--port={port}"))
            .env_clear()
            .env("PATH", std::env::var_os("PATH").unwrap_or_default())
            .env("HOME", home.path())
            .env("TZ", "UTC")
            .env("LANG", "C.UTF-8")
            .env("DISPLAY", &name)
            .env("DBUS_SESSION_BUS_ADDRESS", &bus.address)
            .env("TAURI_WEBVIEW_AUTOMATION", "true")
            .env("ALSA_CONFIG_PATH", silent_sound(home.path()))
            .env("NO_AT_BRIDGE", "1")
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("WebKitWebDriver starts (Debian package webkit2gtk-driver)");
        wait_for_port(port);
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
        let client = runtime.block_on(connect(port, binary::window(), &args));
        let mut window = Window { runtime, client, children: vec![driver, display], _bus: bus, home, hand, presses: 0 };
        window.resize(size);
        window
    }

    fn wait<T>(&self, what: &str, future: impl Future<Output = Result<T, fantoccini::error::CmdError>>) -> T {
        let outcome = self.runtime.block_on(async { tokio::time::timeout(PATIENCE, future).await });
        outcome.unwrap_or_else(|_| panic!("{what}: no answer within {PATIENCE:?}")).unwrap_or_else(|why| {
            panic!("{what}: {why}\n{}", self.visible_text());
        })
    }

    /// A picture of what a failed test saw last, in the folder of the build.
    fn last_picture(&self) {
        let picture = self.client.screenshot();
        let taken = self.runtime.block_on(async { tokio::time::timeout(Duration::from_secs(5), picture).await });
        let name = std::thread::current().name().unwrap_or("window").replace("::", "-");
        let file = Path::new(option_env!("CARGO_TARGET_TMPDIR").unwrap_or(".")).join(name).with_extension("png");
        if let Ok(Ok(bytes)) = taken
            && std::fs::write(&file, bytes).is_ok()
        {
            eprintln!("the window as it was: {}", file.display());
        }
    }

    /// What stands on the screen, for the message of a failed test.
    fn visible_text(&self) -> String {
        let text = self.client.execute("return document.body.innerText", vec![]);
        let answer = self.runtime.block_on(async { tokio::time::timeout(Duration::from_secs(5), text).await });
        answer.ok().and_then(Result::ok).map(|value| value.as_str().unwrap_or_default().to_owned()).unwrap_or_default()
    }

    /// Makes the page, not the window's frame, so large.
    pub fn resize(&mut self, (width, height): (u32, u32)) {
        let start = Instant::now();
        let mut more = (0, 0);
        loop {
            let (wide, high) = (i64::from(width) + more.0, i64::from(height) + more.1);
            self.wait("resize", self.client.set_window_rect(0, 0, wide as u32, high as u32));
            let inner = self.resized((width, height));
            if inner == (i64::from(width), i64::from(height)) {
                return self.drawn();
            }
            assert!(start.elapsed() < PATIENCE, "never came: {width} × {height}, but {inner:?}");
            // What the frame takes is added; it came only if the size stayed.
            more = (more.0 + i64::from(width) - inner.0, more.1 + i64::from(height) - inner.1);
        }
    }

    /// Waits a while for a size of the page; gives the one that it has then.
    fn resized(&self, wanted: (u32, u32)) -> (i64, i64) {
        let script = "const [wide, high, done] = arguments, start = performance.now(), look = () => \
            (innerWidth === wide && innerHeight === high) || performance.now() - start > 1500 ? done([innerWidth, innerHeight]) : setTimeout(look, 20); look()";
        let inner = self.js_later(script, vec![json!(wanted.0), json!(wanted.1)]);
        (inner[0].as_i64().unwrap_or_default(), inner[1].as_i64().unwrap_or_default())
    }

    /// Two turns of the page, so that what changed is measured and drawn.
    pub fn drawn(&self) {
        let script = "const done = arguments[arguments.length - 1]; requestAnimationFrame(() => requestAnimationFrame(() => done(true)))";
        assert_eq!(self.js_later(script, vec![]), json!(true));
    }

    /// Runs a script in the page.
    pub fn js(&self, script: &str, args: Vec<Value>) -> Value {
        self.wait("script", self.client.execute(script, args))
    }

    /// Runs a script that calls its last argument when it is done.
    pub fn js_later(&self, script: &str, args: Vec<Value>) -> Value {
        self.wait("script", self.client.execute_async(script, args))
    }

    /// Waits until a script gives true.
    pub fn until(&self, what: &str, script: &str, args: Vec<Value>) {
        let start = Instant::now();
        while self.js(script, args.clone()) != Value::Bool(true) {
            assert!(start.elapsed() < PATIENCE, "never came: {what}\n{}", self.visible_text());
            std::thread::sleep(Duration::from_millis(40));
        }
    }

    /// Waits until something of this selector is on the screen.
    pub fn see(&self, css: &str) {
        let script = "const e = document.querySelector(arguments[0]); return !!e && e.getClientRects().length > 0";
        self.until(css, script, vec![json!(css)]);
    }

    /// Waits until these words stand somewhere on the screen.
    pub fn see_words(&self, words: &str) {
        self.until(words, "return document.body.innerText.includes(arguments[0])", vec![json!(words)]);
    }

    /// Chooses a theme as the settings do.
    pub fn set_theme(&self, theme: &str) {
        let script = "const done = arguments[arguments.length - 1]; window.__TAURI_INTERNALS__.invoke('act', \
            { value: { desk: 'settings', settings: { theme: arguments[0] } } }).then(() => done(true), why => done(JSON.stringify(why)))";
        assert_eq!(self.js_later(script, vec![json!(theme)]), json!(true));
        self.until("theme", "return document.documentElement.dataset.theme === arguments[0]", vec![json!(theme)]);
    }

    /// Goes to a room and waits until its questions are answered.
    pub fn enter(&mut self, room: &str) {
        self.press(&format!("[data-go='{room}']"));
        self.see(&format!("main[data-room='{room}']"));
        self.settle();
    }

    /// Waits until nothing on the screen says that it is still being asked.
    pub fn settle(&self) {
        self.until("the room's answers", "return !document.querySelector('main [aria-busy=true]')", vec![]);
    }

    /// Text of an element.
    pub fn text(&self, css: &str) -> String {
        self.see(css);
        self.js("return document.querySelector(arguments[0]).innerText", vec![json!(css)])
            .as_str()
            .unwrap_or_default()
            .to_owned()
    }

    /// One press of a control, by the hand this window is driven with.
    pub fn press(&mut self, css: &str) {
        self.see(css);
        self.until(css, "const e = document.querySelector(arguments[0]); return !e.disabled && e.getAttribute('aria-disabled') !== 'true'", vec![json!(css)]);
        match self.hand {
            Hand::Pointer => self.click(css),
            Hand::Keyboard => {
                self.tab_to(css);
                let choice = self
                    .js("const e = document.activeElement; return e.type === 'radio' || e.type === 'checkbox'", vec![]);
                self.keys(if choice == Value::Bool(true) { ' ' } else { ENTER });
            }
        }
        self.presses += 1;
    }

    /// Enter in a field: sends its form.
    pub fn send(&mut self) {
        self.keys(ENTER);
        self.presses += 1;
    }

    /// Types into a field, reached by Tab where it is the next one or two, else by the hand.
    pub fn fill(&mut self, css: &str, text: &str) {
        self.see(css);
        if !self.has_focus(css) && !self.reach(css, 3) {
            match self.hand {
                Hand::Pointer => {
                    self.click(css);
                    self.presses += 1;
                }
                Hand::Keyboard => self.tab_to(css),
            }
        }
        self.js("const e = document.activeElement; if (e.select) e.select()", vec![]);
        for letter in text.chars() {
            self.keys(letter);
        }
    }

    /// Puts a text into a field at once, in place of what stands there, as if pasted.
    pub fn put(&self, css: &str, text: &str) {
        self.see(css);
        self.js(
            "const e = document.querySelector(arguments[0]); e.focus(); if (e.select) e.select(); \
             document.execCommand(arguments[1] === '' ? 'delete' : 'insertText', false, arguments[1])",
            vec![json!(css), json!(text)],
        );
    }

    /// A click in the middle of the control. A room that draws itself anew in that moment hands out another element, or
    /// one that is not laid out yet: a person would wait for it, and so does this. Nothing was clicked then.
    fn click(&self, css: &str) {
        let start = Instant::now();
        // What a room scrolls away a person scrolls back.
        self.js("document.querySelector(arguments[0])?.scrollIntoView({ block: 'nearest' })", vec![json!(css)]);
        loop {
            let tried = async { self.client.find(Locator::Css(css)).await?.click().await };
            let tried = self.runtime.block_on(async { tokio::time::timeout(PATIENCE, tried).await });
            let tried = tried.unwrap_or_else(|_| panic!("{css}: no answer within {PATIENCE:?}"));
            let Err(why) = tried else { return };
            let waits =
                why.is_stale_element_reference() || why.is_no_such_element() || why.is_element_not_interactable();
            assert!(waits && start.elapsed() < PATIENCE, "{css}: {why:?}\n{}", self.visible_text());
            std::thread::sleep(Duration::from_millis(40));
        }
    }

    fn has_focus(&self, css: &str) -> bool {
        let script = "const e = document.activeElement; return !!e && (e.matches(arguments[0]) || !!e.closest?.('label')?.matches(arguments[0]))";
        self.js(script, vec![json!(css)]) == Value::Bool(true)
    }

    fn reach(&self, css: &str, tabs: usize) -> bool {
        (0..tabs).any(|_| {
            self.keys(TAB);
            self.has_focus(css)
        })
    }

    fn tab_to(&self, css: &str) {
        assert!(
            self.has_focus(css) || self.reach(css, 400),
            "the keyboard never reaches {css}\n{}",
            self.visible_text()
        );
        let drawn = "const e = document.activeElement; return e.matches(':focus-visible')";
        assert_eq!(self.js(drawn, vec![]), Value::Bool(true), "the focus on {css} is not drawn");
    }

    /// Presses and lets go of one key.
    pub fn keys(&self, key: char) {
        let actions = json!({ "actions": [{ "type": "key", "id": "keys", "actions": [
            { "type": "keyDown", "value": key.to_string() }, { "type": "keyUp", "value": key.to_string() }] }] });
        self.wait("key", self.client.issue_cmd(Raw("actions", actions)));
    }

    /// The screen as a PNG. The driver waits for the next drawing, and a page that stands still draws none.
    pub fn screenshot(&self) -> Vec<u8> {
        self.js("window.stir = setInterval(() => { document.body.style.opacity = document.body.style.opacity ? '' : '0.9999' }, 50)", vec![]);
        let picture = self.wait("screenshot", self.client.screenshot());
        self.js("clearInterval(window.stir); document.body.style.opacity = ''", vec![]);
        picture
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        if std::thread::panicking() {
            self.last_picture();
        }
        let close = self.client.clone().close();
        let _ = self.runtime.block_on(async { tokio::time::timeout(Duration::from_secs(5), close).await });
        for child in &mut self.children {
            let _ = child.kill();
            let _ = child.wait();
        }
    }
}

/// A command of the driver that the library has no call for.
#[derive(Debug)]
struct Raw(&'static str, Value);

impl WebDriverCompatibleCommand for Raw {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/{}", session.unwrap_or_default(), self.0))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(self.1.to_string()))
    }
}

async fn connect(port: u16, program: &Path, args: &[String]) -> Client {
    let mut wanted = Capabilities::new();
    wanted.insert("webkitgtk:browserOptions".to_owned(), json!({ "binary": program, "args": args }));
    let address = format!("http://127.0.0.1:{port}");
    let mut builder = ClientBuilder::new(HttpConnector::new());
    let session = builder.capabilities(wanted).connect(&address);
    let client = tokio::time::timeout(Duration::from_secs(60), session).await;
    client.expect("the driver answers").unwrap_or_else(|why| panic!("no session with the window: {why}"))
}

/// A virtual display somewhat larger than the window, with a number that is free.
fn display((width, height): (u32, u32)) -> (Child, String) {
    let mut child = Command::new("Xvfb")
        .args(["-displayfd", "1", "-nolisten", "tcp", "-screen", "0"])
        .arg(format!("{}x{}x24", width + 60, height + 90))
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("Xvfb starts (Debian package xvfb)");
    let mut number = String::new();
    let mut out = BufReader::new(child.stdout.take().expect("a pipe"));
    out.read_line(&mut number).expect("Xvfb says its number");
    std::thread::spawn(move || out.read_to_string(&mut String::new()));
    (child, format!(":{}", number.trim()))
}

/// Sound that goes nowhere, so that a machine without a device has one.
fn silent_sound(home: &Path) -> PathBuf {
    let file = home.join("asound.conf");
    std::fs::write(&file, "pcm.!default { type null }\nctl.!default { type null }\n").expect("a sound configuration");
    file
}

fn free_port() -> u16 {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a free port");
    listener.local_addr().expect("its number").port()
}

fn wait_for_port(port: u16) {
    let start = Instant::now();
    while std::net::TcpStream::connect(("127.0.0.1", port)).is_err() {
        assert!(start.elapsed() < PATIENCE, "the driver never listened");
        std::thread::sleep(Duration::from_millis(30));
    }
}
