//! A real `gluewright watch` in a process of its own: its lines with the instant each came, its bus, its sound sink.

use crate::binary::{Shop, gluewright};
use logbook::entry::book::Alarm;
use logbook::entry::{Body, Entry};
use logbook::store::{Book, Mode};
use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::Duration;
use workshop::clock::{Clock, SystemClock};

/// Longest wait for anything.
pub const PATIENCE: Duration = Duration::from_secs(20);

/// Milliseconds on the boot clock.
pub fn boot_ms() -> i64 {
    SystemClock::new().now().boot_ms
}

/// An instant on the wire, ms.
pub fn ms(value: &Value) -> i64 {
    let text = value.as_str().unwrap_or_else(|| panic!("no instant: {value}"));
    chrono::DateTime::parse_from_rfc3339(text).expect("RFC 3339").timestamp_millis()
}

/// Where sound goes.
pub enum Sink {
    /// Into nothing, as fast as it comes.
    Null,
    /// Into a file, as fast as it comes.
    File,
    /// A card that is not there.
    Absent,
}

/// A shop with one card whose pot is good for `seconds` at 30 °C, the heat taken where nothing is read.
pub struct RealShop {
    /// Its folder, its book, the command line on it.
    pub shop: Shop,
    /// Address of its session bus.
    pub bus: String,
    sink: Sink,
}

impl RealShop {
    /// Furnished, with its sound going into the sink.
    pub fn new(seconds: u32, bus: &str, sink: Sink) -> RealShop {
        let shop = Shop::new();
        let points = json!([{ "at": "30 C", "time": format!("{seconds} s") }]);
        let limits = json!([{ "clock": "pot", "points": points, "counted_from": "mixing" }]);
        let card = json!({ "name": "Q", "class": "epoxy", "ratio": "1:1 by volume", "limits": limits });
        shop.act(&json!([
            { "act": "person", "body": { "name": "Ann" } },
            { "act": "place", "body": { "name": "bench" } },
            { "act": "card", "body": card },
            { "act": "lot", "body": { "mark": "R1", "card": "Q", "role": "resin" } },
            { "act": "lot", "body": { "mark": "H1", "card": "Q", "role": "hardener" } },
            { "act": "container", "body": { "mark": "can R", "lot": "R1" } },
            { "act": "container", "body": { "mark": "can H", "lot": "H1" } },
        ]));
        let real = RealShop { shop, bus: bus.to_owned(), sink };
        std::fs::write(real.sink_config(), real.sink_text()).expect("the sink's configuration");
        real
    }

    fn sink_config(&self) -> PathBuf {
        self.shop.folder.path().join("asound.conf")
    }

    /// Where the sound is written with [`Sink::File`].
    pub fn sound_file(&self) -> PathBuf {
        self.shop.folder.path().join("sound.raw")
    }

    fn sink_text(&self) -> String {
        match self.sink {
            Sink::Null => "pcm.!default { type null }\nctl.!default { type null }\n".to_owned(),
            Sink::File => format!(
                "pcm.!default {{ type file file \"{}\" format \"raw\" slave.pcm \"null\" }}\npcm.null {{ type null }}\n",
                self.sound_file().display()
            ),
            Sink::Absent => "pcm.!default { type hw card 99 }\nctl.!default { type hw card 99 }\n".to_owned(),
        }
    }

    /// Hardener in and the mix: the pot runs. Gives the boot clock just before.
    pub fn pot(&self) -> i64 {
        let before = boot_ms();
        let mix = json!({ "card": "Q", "containers": ["can R", "can H"], "place": "bench" });
        self.shop.act(&json!([
            { "act": "press", "person": "Ann", "body": { "press": "hardener-in" } },
            { "act": "mix", "person": "Ann", "body": mix },
        ]));
        before
    }

    /// The program with the shop's book, bus and sink.
    pub fn command(&self, program: &str) -> Command {
        let mut command = self.shop.command(program.as_ref());
        command.env("DBUS_SESSION_BUS_ADDRESS", &self.bus).env("ALSA_CONFIG_PATH", self.sink_config());
        command
    }

    /// Starts watching, and waits until it says so.
    pub fn watch(&self) -> Watching {
        let mut command = self.command(gluewright().to_str().expect("a path"));
        command.args(["--json", "watch", "--night", "--for", "25"]);
        Watching::start(command)
    }

    /// The one question of these tests: the limit of the newest pot, ms UTC.
    pub fn limit_ms(&self) -> i64 {
        let clocks = self.shop.ask("clocks", json!({}));
        let pot = clocks["clocks"].as_array().expect("clocks").last().expect("a pot").clone();
        ms(&pot["earliest"])
    }

    /// Every entry of the own log.
    pub fn entries(&self) -> Vec<Entry> {
        let book = Book::open(&self.shop.book(), Mode::Read).expect("the book opens");
        book.tail(u64::MAX).expect("the log reads")
    }

    /// Alarms recorded, of one word.
    pub fn alarms(&self, word: &str) -> Vec<Alarm> {
        let alarm = |entry: Entry| match entry.body {
            Body::Alarm(alarm) if alarm.alarm == word => Some(alarm),
            _ => None,
        };
        self.entries().into_iter().filter_map(alarm).collect()
    }
}

/// The process; it is killed when this goes.
pub struct Watching {
    child: Child,
    lines: Receiver<(i64, Value)>,
    /// Every line so far, with the boot clock when it came.
    pub seen: Vec<(i64, Value)>,
}

impl Watching {
    /// Starts it and waits for its first line.
    pub fn start(mut command: Command) -> Watching {
        let mut child = command.stdin(Stdio::null()).stdout(Stdio::piped()).spawn().expect("watch starts");
        let out = child.stdout.take().expect("a pipe");
        let (tell, lines) = channel();
        std::thread::spawn(move || {
            for line in BufReader::new(out).lines().map_while(Result::ok) {
                let value = serde_json::from_str(&line).unwrap_or_else(|why| json!({ "not json": why.to_string() }));
                if tell.send((boot_ms(), value)).is_err() {
                    return;
                }
            }
        });
        let mut watching = Watching { child, lines, seen: Vec::new() };
        watching.wait_for(|line| line.get("clocks").is_some());
        watching
    }

    /// Its process id.
    pub fn pid(&self) -> String {
        self.child.id().to_string()
    }

    /// Waits for a line that fits; gives the boot clock when it came.
    pub fn wait_for(&mut self, fits: impl Fn(&Value) -> bool) -> (i64, Value) {
        loop {
            match self.lines.recv_timeout(PATIENCE) {
                Ok(line) => {
                    self.seen.push(line.clone());
                    if fits(&line.1) {
                        return line;
                    }
                }
                Err(RecvTimeoutError::Timeout) => panic!("nothing that fits in {PATIENCE:?}: {:?}", self.seen),
                Err(RecvTimeoutError::Disconnected) => panic!("watch ended: {:?}", self.seen),
            }
        }
    }

    /// Waits for an alarm that says this.
    pub fn wait_for_alarm(&mut self, says: &str) -> (i64, Value) {
        self.wait_for(|line| line["alarm"]["said"].to_string().contains(says))
    }

    /// Waits until an alarm of this word is in the book.
    pub fn wait_for_record(&mut self, of: &RealShop, word: &str) -> Alarm {
        let end = boot_ms() + PATIENCE.as_millis() as i64;
        while boot_ms() < end {
            if let Some(alarm) = of.alarms(word).pop() {
                return alarm;
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        self.drain();
        panic!("no {word} was recorded: {:?}", self.seen)
    }

    /// Takes what lines there are.
    pub fn drain(&mut self) {
        self.seen.extend(self.lines.try_iter());
    }

    /// Sends it a signal.
    pub fn signal(&self, name: &str) {
        let done = Command::new("kill").args([format!("-{name}"), self.pid()]).status();
        assert!(done.is_ok_and(|status| status.success()), "kill -{name}");
    }

    /// Waits for its end and gives its exit status.
    pub fn end(mut self) -> Option<i32> {
        self.child.wait().expect("it ends").code()
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
