//! The glue science beside general-purpose programs, all in one run: a year of readings beside NumPy, the pot matrix
//! beside a Rust crate for differential equations and beside CVODE, and what the rest costs. Nobody calls back into
//! another language: each peer does its whole computation by itself, is asked in turn with ours, and times itself.

mod chance;
mod points;
mod pots;
mod small;
mod year;

use std::io::{BufRead as _, BufReader, Write as _};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

/// Prints everything.
pub fn run() {
    let load = std::fs::read_to_string("/proc/loadavg").unwrap_or_default();
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    println!("load of the machine before: {} on {cores} cores", load.split(' ').take(3).collect::<Vec<_>>().join(" "));
    year::run();
    pots::run();
    small::run();
    chance::run();
    points::run();
}

/// What was built for the bench: the peers' environment.
fn peers(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../target/peers").join(name)
}

/// Another program that computes on demand: a line in, a line of numbers out, the first of them its own seconds.
struct Peer {
    child: Child,
    to: Option<ChildStdin>,
    from: BufReader<ChildStdout>,
}

impl Peer {
    fn start(mut command: Command) -> Peer {
        let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("start it by xtask");
        let from = BufReader::new(child.stdout.take().expect("its answers"));
        Peer { to: child.stdin.take(), from, child }
    }

    fn ask(&mut self, line: &str) -> Vec<f64> {
        let to = self.to.as_mut().expect("not stopped yet");
        writeln!(to, "{line}").and_then(|()| to.flush()).expect("it listens");
        let mut answer = String::new();
        self.from.read_line(&mut answer).expect("it answers");
        answer.split_whitespace().map(|word| word.parse().unwrap_or_else(|_| panic!("{word}"))).collect()
    }
}

impl Drop for Peer {
    fn drop(&mut self) {
        drop(self.to.take());
        let _ = self.child.wait();
    }
}

/// Seconds something takes, and what it gives.
#[expect(clippy::disallowed_methods, reason = "a benchmark measures, no shop time is read")]
fn timed<T>(run: impl FnOnce() -> T) -> (f64, T) {
    let began = Instant::now();
    let out = run();
    (began.elapsed().as_secs_f64(), out)
}

/// Shortest of several rounds, s.
fn shortest<T>(rounds: usize, mut run: impl FnMut() -> T) -> f64 {
    let times = (0..rounds).map(|_| timed(|| std::hint::black_box(run())).0);
    times.fold(Duration::MAX.as_secs_f64(), f64::min)
}
