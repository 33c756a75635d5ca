//! `gluewright watch`: stays, drives the alarms of one book and prints what they do, until it is told to end.

use crate::output::{DONE, Output};
use clap::Args;
use serde_json::{Value, json};
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use workshop::alarm::judged::Judged;
use workshop::alarm::owner::Taken;
use workshop::alarm::voice::Desktop;
use workshop::alarm::watched::Watched;
use workshop::alarm::{Alarms, Options, Refused, Step};
use workshop::clock::{Clock, SystemClock};
use workshop::judge::words::{instant, stretch};
use workshop::reader::Reader;
use workshop::wire::WireError;

/// While an alarm sounds, the terminal's bell rings this often, ms.
const BELL_MS: i64 = 3_000;

/// How to watch.
#[derive(Clone, Debug, Default, Args)]
pub struct Watch {
    /// Look once, give what is due, and end
    #[arg(long)]
    pub once: bool,
    /// End after so many seconds
    #[arg(long = "for", value_name = "SECONDS")]
    pub seconds: Option<f64>,
    /// Quiet notices at night (22 to 6 o'clock) too
    #[arg(long)]
    pub night: bool,
    /// Make no sound
    #[arg(long)]
    pub no_sound: bool,
}

/// Watches a book until a signal, `--for` or `--once` ends it. Gives the exit status.
pub fn run(book: &Path, how: &Watch, reader: Reader, output: &mut Output) -> u8 {
    let clock = SystemClock::new();
    let options = Options { night: how.night, command: command_file() };
    let voice = Box::new(Desktop::new(!how.no_sound));
    let judged = Box::new(Judged::for_reader(reader));
    let mut alarms = match Alarms::new(book, Box::new(clock.clone()), judged, voice, options) {
        Ok(alarms) => alarms.for_reader(reader),
        Err(refused) => return output.error(&refusal(refused)),
    };
    let mut screen = Screen::new(output);
    screen.began(book, alarms.gap());
    let end = told_to_end();
    let began_ms = clock.now().boot_ms;
    let until_ms = how.seconds.map(|seconds| began_ms + (seconds * 1000.0) as i64);
    loop {
        let step = alarms.step();
        screen.show(&step, &alarms.look().clocks, clock.now().boot_ms);
        let now_ms = clock.now().boot_ms;
        let settled = how.once && (step.unsaved == 0 && !alarms.busy() || now_ms - began_ms > ONCE_MS);
        if settled || end.load(Ordering::Relaxed) || until_ms.is_some_and(|until_ms| now_ms >= until_ms) {
            return DONE;
        }
        alarms.wait(&step);
    }
}

/// `--once` waits at most so long for the desktop and the disk, ms.
const ONCE_MS: i64 = 4_000;

/// Set by Ctrl-C and by the system's request to end. Where no handler can be set, the signal ends the process at once.
fn told_to_end() -> Arc<AtomicBool> {
    let end = Arc::new(AtomicBool::new(false));
    for signal in [signal_hook::consts::SIGTERM, signal_hook::consts::SIGINT] {
        let _ = signal_hook::flag::register(signal, Arc::clone(&end));
    }
    end
}

/// `gluewright/on-alarm` below the person's configuration folder.
fn command_file() -> Option<PathBuf> {
    let folder = |name: &str| std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    let config = folder("XDG_CONFIG_HOME").or_else(|| folder("HOME").map(|home| home.join(".config")))?;
    Some(config.join("gluewright/on-alarm"))
}

fn refusal(refused: Refused) -> WireError {
    match refused {
        Refused::Book(error) => WireError::from(error),
        Refused::Owner(taken @ Taken::By { .. }) => {
            WireError::new("conflict", format!("{taken}: one watch is enough."), "End that one first, or leave it.")
        }
        Refused::Owner(Taken::Disk(error)) => {
            let sentence = format!("The alarms' side file beside the book cannot be used: {error}.");
            WireError::new("disk", sentence, "The folder of the book must be writable for a watch.")
        }
    }
}

/// What is printed, as lines for people or one JSON object a line.
struct Screen<'a> {
    output: &'a mut Output,
    bell: bool,
    bell_ms: i64,
    shown: Option<Vec<String>>,
    elsewhere: bool,
    unsaved: usize,
}

impl Screen<'_> {
    fn new(output: &mut Output) -> Screen<'_> {
        let bell = !output.json() && std::io::stdout().is_terminal();
        Screen { output, bell, bell_ms: i64::MIN / 2, shown: None, elsewhere: false, unsaved: 0 }
    }

    fn line(&mut self, kind: &str, value: Value, text: &str) {
        if self.output.json() {
            self.output.object(&json!({ kind: value }));
        } else {
            self.output.write(&format!("{text}\n"));
        }
    }

    fn began(&mut self, book: &Path, gap: Option<(bool, Option<i64>)>) {
        let text = format!("Watching {}. Ctrl-C ends it.", book.display());
        self.line("watching", json!(book.display().to_string()), &text);
        let Some((false, gap_ms)) = gap else { return };
        let since = match gap_ms {
            Some(ms) => format!("nobody watched for {}", stretch(ms)),
            None => "the computer was started anew since".to_owned(),
        };
        let text = format!("The last watch did not end as asked (killed, or power lost): {since}.");
        self.line("gap", json!({ "gap_ms": gap_ms, "said": text }), &text);
    }

    fn show(&mut self, step: &Step, clocks: &[Watched], boot_ms: i64) {
        for trouble in &step.trouble {
            self.line("trouble", json!(trouble), &format!("!  {trouble}"));
        }
        if let Some(by_ms) = step.clock_set_ms {
            let text =
                format!("!  The wall clock was set by {}: no clock of the shop is moved by that.", stretch(by_ms));
            self.line("clock_set_ms", json!(by_ms), &text);
        }
        if std::mem::replace(&mut self.elsewhere, step.elsewhere) != step.elsewhere && step.elsewhere {
            let text = "This book was last written on another computer: its clocks are shown and give no alarm here \
                        until an act is made here.";
            self.line("elsewhere", json!(true), &format!("!  {text}"));
        }
        for rung in &step.rung {
            let text = format!("\n** {}\n   {}\n", rung.title, rung.lines.join("\n   "));
            let (title, lines, loud, ids) = (&rung.title, &rung.lines, rung.loud, &rung.ids);
            self.line("alarm", json!({ "title": title, "said": lines, "loud": loud, "ids": ids }), &text);
        }
        for id in &step.answered {
            self.line("answered", json!(id), "   answered");
        }
        self.saving(step);
        if step.looked {
            self.clocks(step, clocks);
        }
        self.ring_bell(step, boot_ms);
    }

    fn saving(&mut self, step: &Step) {
        for id in &step.saved {
            self.line("saved", json!(id), &format!("   recorded as {id}"));
        }
        if std::mem::replace(&mut self.unsaved, step.unsaved) < step.unsaved && self.output.json() {
            self.line("unsaved", json!(step.unsaved), "");
        }
    }

    fn clocks(&mut self, step: &Step, clocks: &[Watched]) {
        let said: Vec<String> = clocks.iter().map(said).collect();
        if self.shown.as_ref() == Some(&said) {
            return;
        }
        let text = if said.is_empty() { "No clock is running.".to_owned() } else { said.join("\n") };
        let values: Vec<Value> = clocks.iter().map(clock_value).collect();
        self.line("clocks", json!({ "at": instant(step.axis.now_ms), "clocks": values }), &text);
        self.shown = Some(said);
    }

    fn ring_bell(&mut self, step: &Step, boot_ms: i64) {
        let loud = step.rung.iter().any(|rung| rung.loud);
        if !step.rung.is_empty() || (step.sounding && boot_ms - self.bell_ms >= BELL_MS) {
            self.bell_ms = boot_ms;
            if self.bell && (loud || step.sounding) {
                self.output.write("\x07");
            }
        }
    }
}

/// A pot says its own name; the clocks of a bond do not say the bond's.
fn said(one: &Watched) -> String {
    match one.batch {
        Some(_) => one.said.clone(),
        None => format!("{}: {}", one.name, one.said),
    }
}

fn clock_value(one: &Watched) -> Value {
    json!({
        "of": one.name,
        "clock": one.clock.word(),
        "state": workshop::alarm::say::state(one.state),
        "earliest": one.earliest_ms.map(instant),
        "latest": one.latest_ms.map(instant),
        "said": one.said,
    })
}
