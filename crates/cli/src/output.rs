//! What goes to standard output and standard error, and the exit status that goes with it.

use serde_json::{Value, json};
use std::io::{ErrorKind, Write};
use workshop::wire::WireError;

/// Exit status: done.
pub const DONE: u8 = 0;
/// Exit status: a fault of ours or of the computer's.
pub const FAULT: u8 = 1;
/// Exit status: verify found something.
pub const FOUND: u8 = 3;

/// Where answers go. A reader that left early (`… | head`) is no fault; a full disk is.
pub struct Output {
    json: bool,
    reader_left: bool,
    failed: bool,
}

impl Output {
    /// Output as JSON, or as text for people.
    pub fn new(json: bool) -> Output {
        Output { json, reader_left: false, failed: false }
    }

    /// True where one JSON object per answer is wanted.
    pub fn json(&self) -> bool {
        self.json
    }

    /// One object and a newline.
    pub fn object(&mut self, value: &Value) {
        self.write(&format!("{value}\n"));
    }

    /// An answer: the object, or the text that people read.
    pub fn answer(&mut self, value: &Value, text: impl FnOnce() -> String) {
        if self.json { self.object(value) } else { self.write(&text()) }
    }

    /// A refusal or fault, and its exit status.
    pub fn error(&mut self, error: &WireError) -> u8 {
        if self.json {
            self.object(&json!({ "error": error }));
        } else {
            let advice = if error.advice.is_empty() { String::new() } else { format!("\n{}", error.advice) };
            // Nothing is left to tell it to when standard error is closed as well.
            let _ = writeln!(std::io::stderr(), "gluewright: {}{advice}", error.sentence);
        }
        error.exit()
    }

    /// The exit status to leave with, given the worst so far.
    pub fn status(&self, worst: u8) -> u8 {
        if self.failed && worst == DONE { FAULT } else { worst }
    }

    /// Text as it is.
    pub fn write(&mut self, text: &str) {
        if self.reader_left || self.failed {
            return;
        }
        let mut out = std::io::stdout().lock();
        match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
            Ok(()) => {}
            Err(why) if why.kind() == ErrorKind::BrokenPipe => self.reader_left = true,
            Err(why) => {
                self.failed = true;
                let _ = writeln!(std::io::stderr(), "gluewright: the answer could not be written: {why}");
            }
        }
    }
}
