//! A session bus of its own for one test: a bus daemon without any service folder, and on it, if wanted, a service
//! for notifications that writes down what it is told, or one that owns the name and never answers.

use dbus::arg::{PropMap, RefArg};
use dbus::blocking::Connection;
use dbus::channel::{Channel, MatchingReceiver};
use dbus::message::MatchRule;
use dbus_crossroads::{Context, Crossroads};
use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::Duration;

const NAME: &str = "org.freedesktop.Notifications";
const PATH: &str = "/org/freedesktop/Notifications";

/// A notification as the service got it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Got {
    /// Program.
    pub program: String,
    /// Headline.
    pub title: String,
    /// Text.
    pub body: String,
    /// 0 low, 1 normal, 2 critical.
    pub urgency: u64,
    /// Milliseconds until it goes by itself; 0: never, -1: as the service likes.
    pub timeout: i32,
}

/// A bus daemon; it ends with this.
pub struct Bus {
    daemon: Child,
    _folder: tempfile::TempDir,
    /// Its address, for `DBUS_SESSION_BUS_ADDRESS`.
    pub address: String,
}

impl Default for Bus {
    fn default() -> Bus {
        Bus::new()
    }
}

impl Bus {
    /// Starts a daemon and waits until it says where it listens.
    pub fn new() -> Bus {
        let folder = tempfile::tempdir().expect("a folder for the bus");
        let config = folder.path().join("bus.conf");
        let text = format!(
            "<!DOCTYPE busconfig PUBLIC \"-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN\" \
             \"http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd\">\n\
             <busconfig><type>session</type><listen>unix:path={}</listen><auth>EXTERNAL</auth>\
             <policy context=\"default\"><allow send_destination=\"*\" eavesdrop=\"true\"/><allow eavesdrop=\"true\"/>\
             <allow own=\"*\"/></policy></busconfig>\n",
            folder.path().join("socket").display()
        );
        std::fs::write(&config, text).expect("the bus's configuration is written");
        let mut daemon = Command::new("dbus-daemon")
            .arg(format!("--config-file={}", config.display()))
            .args(["--nofork", "--print-address"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("dbus-daemon starts (Debian package dbus)");
        let mut address = String::new();
        let out = daemon.stdout.take().expect("a pipe");
        BufReader::new(out).read_line(&mut address).expect("the daemon says its address");
        Bus { daemon, _folder: folder, address: address.trim().to_owned() }
    }

    fn connect(&self) -> Connection {
        let mut channel = Channel::open_private(&self.address).expect("the bus answers");
        channel.register().expect("the bus lets us in");
        let connection = Connection::from(channel);
        connection.request_name(NAME, false, true, false).expect("the name is free");
        connection
    }

    /// A service that takes every notification and hands it to the test.
    pub fn service(&self) -> Service {
        let (tell, got) = channel();
        let connection = self.connect();
        let end = Arc::new(AtomicBool::new(false));
        let ended = Arc::clone(&end);
        let thread = std::thread::spawn(move || serve(&connection, tell, &ended));
        Service { got, seen: Vec::new(), end, thread: Some(thread) }
    }

    /// A service that owns the name, reads everything and answers nothing.
    pub fn silent_service(&self) -> Silent {
        let connection = self.connect();
        let asked = Arc::new(Mutex::new(0));
        let counted = Arc::clone(&asked);
        let count = move |message: dbus::Message, _: &Connection| {
            if message.interface().as_deref() == Some(NAME) {
                *counted.lock().expect("no panic before") += 1;
            }
            true
        };
        connection.start_receive(MatchRule::new_method_call(), Box::new(count));
        let end = Arc::new(AtomicBool::new(false));
        let ended = Arc::clone(&end);
        let thread = std::thread::spawn(move || turn(&connection, &ended));
        Silent { asked, end, thread: Some(thread) }
    }
}

impl Drop for Bus {
    fn drop(&mut self) {
        let _ = self.daemon.kill();
        let _ = self.daemon.wait();
    }
}

fn turn(connection: &Connection, ended: &AtomicBool) {
    while !ended.load(Ordering::Relaxed) {
        if connection.process(Duration::from_millis(20)).is_err() {
            return;
        }
    }
}

type Notify = (String, u32, String, String, String, Vec<String>, PropMap, i32);

fn serve(connection: &Connection, tell: Sender<Got>, ended: &AtomicBool) {
    let mut cross = Crossroads::new();
    let token = cross.register(NAME, move |service| {
        let mut id = 0_u32;
        let words = ("app", "replaces", "icon", "title", "body", "actions", "hints", "timeout");
        service.method("Notify", words, ("id",), move |_: &mut Context, _: &mut (), note: Notify| {
            let (program, _, _, title, body, _, hints, timeout) = note;
            let urgency = hints.get("urgency").and_then(|hint| hint.0.as_u64()).unwrap_or(1);
            let _ = tell.send(Got { program, title, body, urgency, timeout });
            id += 1;
            Ok((id,))
        });
        service.method("GetServerInformation", (), ("a", "b", "c", "d"), |_, (), (): ()| {
            Ok(("test service".to_owned(), "tests".to_owned(), "1".to_owned(), "1.2".to_owned()))
        });
        service.method("GetCapabilities", (), ("caps",), |_, (), (): ()| Ok((vec!["body".to_owned()],)));
        service.method("CloseNotification", ("id",), (), |_, (), (_,): (u32,)| Ok(()));
    });
    cross.insert(PATH, &[token], ());
    connection.start_receive(
        MatchRule::new_method_call(),
        Box::new(move |message, connection| {
            let _ = cross.handle_message(message, connection);
            true
        }),
    );
    turn(connection, ended);
}

/// A service at work.
pub struct Service {
    got: Receiver<Got>,
    seen: Vec<Got>,
    end: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
}

impl Service {
    /// Waits for the next notification that fits, at most so long.
    pub fn wait_for(&mut self, within: Duration, fits: impl Fn(&Got) -> bool) -> Option<Got> {
        loop {
            let got = self.got.recv_timeout(within).ok()?;
            self.seen.push(got.clone());
            if fits(&got) {
                return Some(got);
            }
        }
    }

    /// Everything that came so far.
    pub fn all(&mut self) -> Vec<Got> {
        self.seen.extend(self.got.try_iter());
        self.seen.clone()
    }
}

impl Drop for Service {
    fn drop(&mut self) {
        self.end.store(true, Ordering::Relaxed);
        let _ = self.thread.take().map(JoinHandle::join);
    }
}

/// A service that never answers.
pub struct Silent {
    asked: Arc<Mutex<usize>>,
    end: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
}

impl Silent {
    /// How often it was asked something.
    pub fn asked(&self) -> usize {
        *self.asked.lock().expect("no panic before")
    }
}

impl Drop for Silent {
    fn drop(&mut self) {
        self.end.store(true, Ordering::Relaxed);
        let _ = self.thread.take().map(JoinHandle::join);
    }
}
