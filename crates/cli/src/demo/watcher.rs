//! The made-up shop's alarms: the same loop as `gluewright watch`, driven at set instants, heard by a desktop that
//! takes every note and plays every sound in silence.

use std::path::Path;
use std::sync::mpsc::channel;
use workshop::alarm::judged::Judged;
use workshop::alarm::voice::{Note, Pattern, Taken, Voice};
use workshop::alarm::{Alarms, Options};
use workshop::clock::FixedClock;
use workshop::wire::WireError;

/// Most steps at one instant: what is rung is recorded once the desktop has taken the note, mostly at once.
const STEPS: usize = 3;

/// The alarms of the book being made.
pub struct Watcher {
    alarms: Alarms,
}

impl Watcher {
    /// Takes the alarms of a book that exists.
    pub fn new(book: &Path, clock: &FixedClock) -> Result<Watcher, WireError> {
        let (judged, voice) = (Box::new(Judged::default()), Box::new(Silent));
        let alarms = Alarms::new(book, Box::new(clock.clone()), judged, voice, Options::default());
        let fault = |why| WireError::new("fault", format!("The made-up shop's alarms do not start: {why}."), "");
        Ok(Watcher { alarms: alarms.map_err(fault)? })
    }

    /// Looks at the clocks now, and records what is due.
    pub fn look(&mut self) -> Result<(), WireError> {
        for _ in 0..STEPS {
            let step = self.alarms.step();
            if let Some(trouble) = step.trouble.first() {
                return Err(WireError::new("fault", format!("The made-up shop's alarms: {trouble}"), ""));
            }
            if step.unsaved == 0 && !self.alarms.busy() {
                return Ok(());
            }
        }
        Err(WireError::new("fault", "The made-up shop's alarms were not recorded.", ""))
    }
}

/// Takes everything, shows and plays nothing.
struct Silent;

impl Silent {
    fn taken() -> Taken {
        let (sender, taken) = channel();
        let _ = sender.send(Ok(()));
        taken
    }
}

impl Voice for Silent {
    fn notify(&mut self, _: Note) -> Taken {
        Silent::taken()
    }

    fn sound(&mut self, _: Pattern) -> Result<(), String> {
        Ok(())
    }

    fn silence(&mut self) {}

    fn sound_trouble(&mut self) -> Option<String> {
        None
    }

    fn note_trouble(&mut self) -> Taken {
        Silent::taken()
    }
}
