//! The alarm's sound: generated tones on a thread of their own, repeated until stopped.
//!
//! Four partials (520, 780, 1040 and 1560 Hz) of equal strength lie in the band where alarm standards put the
//! energy of a medical alarm (IEC 60601-1-8: fundamental 150–1000 Hz, at least four parts up to 4000 Hz within
//! 15 dB; second hand). The device is opened when a sound starts and closed when it stops; while a sound is wanted
//! and the device is gone, it is tried again every two seconds.

use super::voice::Pattern;
use rodio::{DeviceSinkBuilder, MixerDeviceSink, Player, Source, buffer::SamplesBuffer};
use std::num::NonZero;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

/// Partials, Hz.
const PARTIALS: [f32; 4] = [520.0, 780.0, 1040.0, 1560.0];
/// Samples a second.
const RATE: u32 = 44_100;
/// Strength of each partial; the four together stay below full scale.
const STRENGTH: f32 = 0.22;
/// Rise and fall of a pulse, ms: no click.
const RAMP_MS: u32 = 10;
/// Longest wait for the device to open.
const OPENS_WITHIN: Duration = Duration::from_millis(1_500);
/// How often a device that went away is tried again.
const AGAIN: Duration = Duration::from_secs(2);

enum Ask {
    Play(Pattern, Sender<Result<(), String>>),
    Probe(Sender<Result<(), String>>),
    Stop,
}

/// The speaker and its thread.
pub struct Speaker {
    ask: Sender<Ask>,
    trouble: Arc<Mutex<Option<String>>>,
}

impl Speaker {
    /// Starts the thread; no device is opened yet.
    pub fn new() -> Speaker {
        let (ask, asked) = channel();
        let trouble = Arc::new(Mutex::new(None));
        let shared = Arc::clone(&trouble);
        let _detached = std::thread::spawn(move || Thread { trouble: shared, ..Thread::default() }.serve(&asked));
        Speaker { ask, trouble }
    }

    /// Starts a pattern and says whether the device took it.
    pub fn play(&self, pattern: Pattern) -> Result<(), String> {
        self.asked(|tell| Ask::Play(pattern, tell))
    }

    /// Stops.
    pub fn stop(&self) {
        let _ = self.ask.send(Ask::Stop);
    }

    /// Tries the device without a sound; while one plays, what became of it.
    pub fn trouble(&self) -> Option<String> {
        if let Err(trouble) = self.asked(Ask::Probe) {
            return Some(trouble);
        }
        self.trouble.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    fn asked(&self, ask: impl FnOnce(Sender<Result<(), String>>) -> Ask) -> Result<(), String> {
        let (tell, told) = channel();
        self.ask.send(ask(tell)).map_err(|_| "the sound thread ended".to_owned())?;
        told.recv_timeout(OPENS_WITHIN).unwrap_or_else(|_| Err("the sound device does not answer".to_owned()))
    }
}

impl Default for Speaker {
    fn default() -> Self {
        Speaker::new()
    }
}

/// What the thread holds: the device is not `Send`, so it lives and dies here.
#[derive(Default)]
struct Thread {
    trouble: Arc<Mutex<Option<String>>>,
    wanted: Option<Pattern>,
    playing: Option<(Player, MixerDeviceSink)>,
    broken: Arc<AtomicBool>,
}

impl Thread {
    fn serve(mut self, asked: &Receiver<Ask>) {
        loop {
            match asked.recv_timeout(AGAIN) {
                Ok(Ask::Play(pattern, tell)) => {
                    self.wanted = self.wanted.max(Some(pattern));
                    let _ = tell.send(self.start());
                }
                Ok(Ask::Probe(tell)) => {
                    let _ = tell.send(self.probe());
                }
                Ok(Ask::Stop) => {
                    self.wanted = None;
                    self.playing = None;
                }
                Err(RecvTimeoutError::Timeout) => self.look_again(),
                Err(RecvTimeoutError::Disconnected) => return,
            }
        }
    }

    fn start(&mut self) -> Result<(), String> {
        self.playing = None;
        let Some(pattern) = self.wanted else { return Ok(()) };
        if pattern == Pattern::Low {
            self.wanted = None;
        }
        let started = self.open().map(|sink| {
            let player = Player::connect_new(sink.mixer());
            match pattern {
                Pattern::Low => player.append(samples(pattern)),
                _ => player.append(samples(pattern).repeat_infinite()),
            }
            self.playing = Some((player, sink));
        });
        self.note(started)
    }

    fn probe(&mut self) -> Result<(), String> {
        if self.playing.is_some() && !self.broken.load(Ordering::Relaxed) {
            return Ok(());
        }
        if self.wanted.is_some() {
            return self.start();
        }
        let opened = self.open().map(|_| ());
        self.note(opened)
    }

    fn look_again(&mut self) {
        let broken = self.broken.load(Ordering::Relaxed);
        if self.wanted.is_some() && (broken || self.playing.is_none()) {
            let _ = self.start();
        }
        if self.playing.as_ref().is_some_and(|(player, _)| player.empty()) {
            self.playing = None;
        }
    }

    fn open(&mut self) -> Result<MixerDeviceSink, String> {
        self.broken = Arc::new(AtomicBool::new(false));
        let broken = Arc::clone(&self.broken);
        // The sound library writes to standard error unless this thread takes its words; taken anew, they are dropped.
        let _kept_quiet = alsa::Output::local_error_handler();
        let said = |error: rodio::DeviceSinkError| format!("no sound device: {error}");
        let builder = DeviceSinkBuilder::from_default_device().map_err(said)?;
        let builder = builder.with_error_callback(move |_| broken.store(true, Ordering::Relaxed));
        let mut sink = builder.open_sink_or_fallback().map_err(said)?;
        sink.log_on_drop(false);
        Ok(sink)
    }

    fn note(&self, result: Result<(), String>) -> Result<(), String> {
        *self.trouble.lock().unwrap_or_else(PoisonError::into_inner) = result.clone().err();
        result
    }
}

/// One round of a pattern, its pause included.
fn samples(pattern: Pattern) -> SamplesBuffer {
    let (pulses, pulse_ms, gap_ms, pause_ms) = match pattern {
        Pattern::Low => (2, 200, 200, 0),
        Pattern::Medium => (3, 200, 200, 4_000),
        Pattern::High => (10, 150, 100, 2_000),
    };
    let mut samples = Vec::new();
    for _ in 0..pulses {
        let count = RATE * pulse_ms / 1_000;
        samples.extend((0..count).map(|at| tone(at, count)));
        silence(&mut samples, gap_ms);
    }
    silence(&mut samples, pause_ms);
    SamplesBuffer::new(NonZero::<u16>::MIN, NonZero::new(RATE).unwrap_or(NonZero::<u32>::MIN), samples)
}

fn silence(samples: &mut Vec<f32>, ms: u32) {
    let longer = samples.len() + (RATE * ms / 1_000) as usize;
    samples.resize(longer, 0.0);
}

/// Sample `at` of a pulse of `count` samples.
fn tone(at: u32, count: u32) -> f32 {
    let ramp = RATE * RAMP_MS / 1_000;
    let edge = at.min(count - 1 - at).min(ramp) as f32 / ramp as f32;
    let second = at as f32 / RATE as f32;
    let sum: f32 = PARTIALS.iter().map(|hertz| libm::sinf(std::f32::consts::TAU * hertz * second)).sum();
    sum * STRENGTH * edge
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_patterns_differ_and_do_not_clip() {
        let lengths: Vec<usize> =
            [Pattern::Low, Pattern::Medium, Pattern::High].map(|pattern| samples(pattern).count()).to_vec();
        assert_eq!(lengths, vec![35_280, 229_320, 198_450]);
        for pattern in [Pattern::Low, Pattern::Medium, Pattern::High] {
            let loudest = samples(pattern).fold(0.0_f32, |loudest, sample| loudest.max(sample.abs()));
            assert!((0.5..1.0).contains(&loudest), "{pattern:?}: {loudest}");
        }
    }
}
