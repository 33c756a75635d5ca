//! The voice of the alarms in the window: the desktop's own, and whether sound works is noted on the way.

use crate::host::locked;
use std::sync::{Arc, Mutex};
use workshop::alarm::voice::{Desktop, Note, Pattern, Taken, Voice};

/// What stands in the way of sound, as far as was last seen.
pub type SoundTrouble = Arc<Mutex<Option<String>>>;

/// The desktop, overheard.
pub struct Overheard {
    /// The desktop.
    pub desktop: Desktop,
    /// Where trouble is noted.
    pub trouble: SoundTrouble,
}

impl Voice for Overheard {
    fn notify(&mut self, note: Note) -> Taken {
        self.desktop.notify(note)
    }

    fn sound(&mut self, pattern: Pattern) -> Result<(), String> {
        let done = self.desktop.sound(pattern);
        *locked(&self.trouble) = done.as_ref().err().cloned();
        done
    }

    fn silence(&mut self) {
        self.desktop.silence();
    }

    fn sound_trouble(&mut self) -> Option<String> {
        let trouble = self.desktop.sound_trouble();
        locked(&self.trouble).clone_from(&trouble);
        trouble
    }

    fn note_trouble(&mut self) -> Taken {
        self.desktop.note_trouble()
    }
}
