//! The window's program in a process of its own, on a virtual screen with a desktop that closes and minimises windows.

use crate::binary;
use crate::watching::{PATIENCE, RealShop, boot_ms};
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// A web process that has been there so long is past its start, ms.
const SETTLED_MS: i64 = 1_000;

/// Waits until it is true, at most as long as anybody has patience.
pub fn until(what: &str, mut is: impl FnMut() -> bool) -> i64 {
    let start = boot_ms();
    while !is() {
        assert!(boot_ms() - start < PATIENCE.as_millis() as i64, "never came: {what}");
        std::thread::sleep(Duration::from_millis(15));
    }
    boot_ms()
}

/// A virtual screen and a window manager on it.
pub struct Screen {
    display: String,
    children: Vec<Child>,
    /// Where the screen's picture lies, as a file.
    folder: tempfile::TempDir,
}

impl Default for Screen {
    fn default() -> Screen {
        Screen::new()
    }
}

impl Screen {
    /// Starts both and waits for them; begins anew where the window manager lost the race for a screen that was just
    /// made.
    pub fn new() -> Screen {
        (0..3).find_map(|_| Screen::tried()).expect("openbox manages the screen (Debian package openbox)")
    }

    fn tried() -> Option<Screen> {
        let folder = tempfile::tempdir().expect("a folder for the screen");
        let mut xvfb = Command::new("Xvfb")
            .args(["-displayfd", "1", "-nolisten", "tcp", "-screen", "0", "1400x950x24", "-fbdir"])
            .arg(folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb starts (Debian package xvfb)");
        let mut number = String::new();
        let mut out = BufReader::new(xvfb.stdout.take().expect("a pipe"));
        out.read_line(&mut number).expect("Xvfb says its number");
        std::thread::spawn(move || out.read_to_string(&mut String::new()));
        let mut screen = Screen { display: format!(":{}", number.trim()), children: vec![xvfb], folder };
        let manager = screen.command("openbox").stdout(Stdio::null()).stderr(Stdio::null()).spawn();
        screen.children.push(manager.expect("openbox starts (Debian package openbox)"));
        let start = boot_ms();
        while boot_ms() - start < 6_000 {
            if screen.says("wmctrl", &["-m"]).contains("Openbox") {
                return Some(screen);
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        None
    }

    fn command(&self, program: &str) -> Command {
        let mut command = Command::new(program);
        command.env("DISPLAY", &self.display).env_remove("DBUS_SESSION_BUS_ADDRESS").env_remove("XDG_CONFIG_HOME");
        command
    }

    /// The screen's picture as it is now, in the X window dump format.
    pub fn picture(&self) -> Vec<u8> {
        std::fs::read(self.folder.path().join("Xvfb_screen0")).unwrap_or_default()
    }

    /// Its name, for `DISPLAY`.
    pub fn name(&self) -> &str {
        &self.display
    }

    /// What a program says about this screen.
    pub fn says(&self, program: &str, words: &[&str]) -> String {
        let output = self.command(program).args(words).output().unwrap_or_else(|why| panic!("{program}: {why}"));
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    /// Windows on it, one a line: id, desktop, title.
    pub fn windows(&self) -> Vec<String> {
        self.says("wmctrl", &["-l"]).lines().filter(|line| line.ends_with("Gluewright")).map(str::to_owned).collect()
    }

    /// Waits for so many windows.
    pub fn wait_for_windows(&self, count: usize) -> Vec<String> {
        until(&format!("{count} windows"), || self.windows().len() == count);
        self.windows()
    }

    /// Asks a window to close, as its button does.
    pub fn close(&self, window: &str) {
        let id = window.split(' ').next().expect("an id");
        self.says("wmctrl", &["-i", "-c", id]);
    }

    /// Presses a key in the window in front.
    pub fn key(&self, window: &str, key: &str) {
        let id = window.split(' ').next().expect("an id");
        self.says("wmctrl", &["-i", "-a", id]);
        until("the window in front", || {
            let front = self.says("xdotool", &["getactivewindow"]);
            front.trim().parse::<u64>().is_ok_and(|front| i64::from_str_radix(&id[2..], 16) == Ok(front as i64))
        });
        self.says("xdotool", &["key", key]);
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        for child in self.children.iter_mut().rev() {
            let _ = child.kill();
            let _ = child.wait();
        }
    }
}

/// The program; it is killed when this goes.
pub struct App {
    child: Child,
    book: PathBuf,
}

impl App {
    /// Starts it on the shop's book; nothing is waited for.
    pub fn command(real: &RealShop, screen: &Screen, words: &[&str]) -> Command {
        let mut command = real.command(binary::window().to_str().expect("a path"));
        command.env("DISPLAY", &screen.display).env("GDK_BACKEND", "x11").env("NO_AT_BRIDGE", "1").args(words);
        command.stdin(Stdio::null()).stderr(Stdio::null());
        command
    }

    /// Starts it and waits until it owns the alarms.
    pub fn start(real: &RealShop, screen: &Screen, words: &[&str]) -> App {
        App::of(App::command(real, screen, words), &real.shop.book())
    }

    /// The same from a command of the test's own.
    pub fn of(mut command: Command, book: &Path) -> App {
        let child = command.spawn().expect("the window's program starts");
        let app = App { child, book: book.to_owned() };
        until("the alarms are the window's", || app.owns());
        app
    }

    /// What the side file of the alarms says.
    pub fn side(&self) -> serde_json::Value {
        let mut name = self.book.as_os_str().to_owned();
        name.push(".alarms");
        std::fs::read(name).ok().and_then(|bytes| serde_json::from_slice(&bytes).ok()).unwrap_or_default()
    }

    /// It has the alarms, and they beat.
    fn owns(&self) -> bool {
        let side = self.side();
        side["pid"] == self.child.id()
            && side["ended"] == false
            && side["beats"].as_array().is_some_and(|b| !b.is_empty())
    }

    /// Its process id.
    pub fn pid(&self) -> u32 {
        self.child.id()
    }

    /// It lives.
    pub fn lives(&mut self) -> bool {
        self.child.try_wait().expect("its state").is_none()
    }

    /// Waits for its end; gives the exit status.
    pub fn end(&mut self) -> Option<i32> {
        let mut status = None;
        until("the window's program ends", || {
            status = self.child.try_wait().expect("its state");
            status.is_some()
        });
        status.and_then(|status| status.code())
    }

    /// Its web processes.
    pub fn pages(&self) -> Vec<u32> {
        descendants(self.pid()).into_iter().filter(|pid| command_of(*pid).contains("WebKitWebProcess")).collect()
    }

    /// Waits for one web process that is not this one, until it has been there for a while: the web view's
    /// library ends the whole program when such a process dies in its first moments, before it has named itself.
    pub fn wait_for_page(&self, other_than: Option<u32>) -> u32 {
        let page = || self.pages().into_iter().find(|page| Some(*page) != other_than);
        until("a settled web process", || page().is_some_and(|page| age_ms(page) >= SETTLED_MS));
        page().expect("it was there a moment ago")
    }
}

impl Drop for App {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Sends a signal.
pub fn signal(pid: u32, name: &str) {
    let done = Command::new("kill").args([format!("-{name}"), pid.to_string()]).status();
    assert!(done.is_ok_and(|status| status.success()), "kill -{name} {pid}");
}

fn command_of(pid: u32) -> String {
    std::fs::read_to_string(format!("/proc/{pid}/cmdline")).unwrap_or_default()
}

/// Every process below this one.
pub fn descendants(of: u32) -> Vec<u32> {
    let children = |pid: u32| std::fs::read_to_string(format!("/proc/{pid}/task/{pid}/children")).unwrap_or_default();
    let own: Vec<u32> = children(of).split_whitespace().filter_map(|pid| pid.parse().ok()).collect();
    own.iter().flat_map(|pid| [vec![*pid], descendants(*pid)].concat()).collect()
}

/// User and system time of one process, in hundredths of a second (the kernel's unit on this system).
pub fn ticks(pid: u32) -> u64 {
    stat(pid, 11) + stat(pid, 12)
}

/// How long ago a process began, ms; 0 for one that is not there.
fn age_ms(pid: u32) -> i64 {
    let began = stat(pid, 19) as i64 * 10;
    if began == 0 { 0 } else { boot_ms() - began }
}

/// One number of a process's line in /proc, counted from its state on.
fn stat(pid: u32, at: usize) -> u64 {
    let text = std::fs::read_to_string(format!("/proc/{pid}/stat")).unwrap_or_default();
    let after = text.rsplit(')').next().unwrap_or_default();
    after.split_whitespace().nth(at).and_then(|one| one.parse::<u64>().ok()).unwrap_or_default()
}
