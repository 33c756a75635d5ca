//! How an alarm reaches a person: a notification of the desktop and a sound. Neither is ever relied on to have been
//! noticed; each says what stands in its way.

use super::sound::Speaker;
use notify_rust::{Hint, Notification, Timeout, Urgency};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// How pressing a sound is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pattern {
    /// Two pulses, once.
    Low,
    /// Three pulses, repeated until answered.
    Medium,
    /// Ten pulses, repeated until answered.
    High,
}

/// What a notification says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// Headline.
    pub title: String,
    /// What happened and what to do, one line each.
    pub body: String,
    /// Loud alarms stay until closed.
    pub loud: bool,
}

/// Whether the desktop took a note; known a moment after it was handed over.
pub type Taken = Receiver<Result<(), String>>;

/// A way to reach a person.
pub trait Voice: Send {
    /// Hands a note to the desktop without waiting for it.
    fn notify(&mut self, note: Note) -> Taken;
    /// Starts a sound; a louder one replaces a softer one. Says what stands in the way.
    fn sound(&mut self, pattern: Pattern) -> Result<(), String>;
    /// Stops every sound.
    fn silence(&mut self);
    /// What stands in the way of the next sound, as far as the computer tells.
    fn sound_trouble(&mut self) -> Option<String>;
    /// Asks, without waiting, whether the desktop would take a note.
    fn note_trouble(&mut self) -> Taken;
}

/// Longest wait for the desktop to take a note, ms. A service that owns the name and never answers is given up by
/// the bus library after two seconds.
pub const NOTE_DEADLINE_MS: i64 = 2_500;

/// The desktop this program runs on.
pub struct Desktop {
    speaker: Option<Speaker>,
}

impl Desktop {
    /// With or without sound.
    pub fn new(sound: bool) -> Desktop {
        Desktop { speaker: sound.then(Speaker::new) }
    }
}

impl Voice for Desktop {
    fn notify(&mut self, note: Note) -> Taken {
        let (tell, taken) = channel();
        let _detached = std::thread::spawn(move || {
            let _ = tell.send(show(&note));
        });
        taken
    }

    fn sound(&mut self, pattern: Pattern) -> Result<(), String> {
        match &self.speaker {
            Some(speaker) => speaker.play(pattern),
            None => Err("sound is switched off".to_owned()),
        }
    }

    fn silence(&mut self) {
        if let Some(speaker) = &self.speaker {
            speaker.stop();
        }
    }

    fn sound_trouble(&mut self) -> Option<String> {
        match &self.speaker {
            Some(speaker) => speaker.trouble(),
            None => Some("sound is switched off".to_owned()),
        }
    }

    fn note_trouble(&mut self) -> Taken {
        let (tell, told) = channel();
        let _detached = std::thread::spawn(move || {
            let asked = notify_rust::get_server_information();
            let _ = tell.send(asked.map(|_| ()).map_err(|error| no_service(&error.to_string())));
        });
        told
    }
}

fn show(note: &Note) -> Result<(), String> {
    let (urgency, timeout) =
        if note.loud { (Urgency::Critical, Timeout::Never) } else { (Urgency::Normal, Timeout::Default) };
    Notification::new()
        .appname("Gluewright")
        .summary(&note.title)
        .body(&note.body)
        .urgency(urgency)
        .timeout(timeout)
        .hint(Hint::Resident(note.loud))
        .hint(Hint::SuppressSound(true))
        .show()
        .map(|_| ())
        .map_err(|error| no_service(&error.to_string()))
}

fn no_service(error: &str) -> String {
    let first = error.lines().next().unwrap_or_default();
    format!("no notification service took it: {first}")
}

/// What is known of a note so far: None while the desktop is still busy with it.
pub fn known(taken: &Taken) -> Option<Result<(), String>> {
    match taken.try_recv() {
        Ok(result) => Some(result),
        Err(TryRecvError::Empty) => None,
        Err(TryRecvError::Disconnected) => Some(Err("the notification was lost on its way".to_owned())),
    }
}
