//! A voice that writes down what it was asked to say, and that can be made to fail.

use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, Mutex, MutexGuard};
use workshop::alarm::voice::{Note, Pattern, Taken, Voice};

/// How the desktop of a test behaves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Desk {
    /// It takes every note at once.
    #[default]
    Takes,
    /// There is no service.
    None,
    /// The service never answers.
    Silent,
}

/// Everything that was heard and seen.
#[derive(Default)]
pub struct Heard {
    /// Notes handed over, in order.
    pub notes: Vec<Note>,
    /// Sounds asked for, in order.
    pub sounds: Vec<Pattern>,
    /// How often silence was asked for.
    pub silences: usize,
    /// A sound is on.
    pub sounding: bool,
    /// No device: why.
    pub no_device: Option<String>,
    /// How the desktop behaves.
    pub desk: Desk,
    unanswered: Vec<Sender<Result<(), String>>>,
}

/// A shared ear.
#[derive(Clone, Default)]
pub struct Ear(Arc<Mutex<Heard>>);

impl Ear {
    /// What was heard so far.
    pub fn heard(&self) -> MutexGuard<'_, Heard> {
        self.0.lock().expect("no panic before")
    }
}

impl Heard {
    fn taken(&mut self) -> Taken {
        let (tell, taken) = channel();
        match self.desk {
            Desk::Takes => tell.send(Ok(())).expect("the receiver is here"),
            Desk::None => tell.send(Err("no notification service".to_owned())).expect("the receiver is here"),
            Desk::Silent => self.unanswered.push(tell),
        }
        taken
    }
}

impl Voice for Ear {
    fn notify(&mut self, note: Note) -> Taken {
        let mut heard = self.heard();
        heard.notes.push(note);
        heard.taken()
    }

    fn sound(&mut self, pattern: Pattern) -> Result<(), String> {
        let mut heard = self.heard();
        heard.sounds.push(pattern);
        if let Some(trouble) = &heard.no_device {
            return Err(trouble.clone());
        }
        heard.sounding |= pattern > Pattern::Low;
        Ok(())
    }

    fn silence(&mut self) {
        let mut heard = self.heard();
        heard.silences += 1;
        heard.sounding = false;
    }

    fn sound_trouble(&mut self) -> Option<String> {
        self.heard().no_device.clone()
    }

    fn note_trouble(&mut self) -> Taken {
        self.heard().taken()
    }
}
