//! A command line that cannot be understood: a refusal like every other, in the shape that was asked for.

use crate::output::{DONE, Output};
use clap::error::{ContextKind, ErrorKind};
use std::ffi::OsString;
use workshop::wire::WireError;

/// Prints help or version, or refuses; gives the exit status.
pub fn refuse(error: &clap::Error, words: &[OsString]) -> u8 {
    let mut output = Output::new(wants_json(words));
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => {
            output.write(&error.render().to_string());
            output.status(DONE)
        }
        ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand if !output.json() => {
            let _ = std::io::Write::write_all(&mut std::io::stderr(), error.render().to_string().as_bytes());
            2
        }
        kind => output.error(&wire(error, kind)),
    }
}

/// JSON when `--json` was given, or the command is one that always answers in JSON.
fn wants_json(words: &[OsString]) -> bool {
    let mut words = words.iter().skip(1).take_while(|word| *word != "--");
    words.any(|word| word == "--json" || word == "act" || word == "ask")
}

fn wire(error: &clap::Error, kind: ErrorKind) -> WireError {
    let code = match kind {
        ErrorKind::UnknownArgument => "unknown-field",
        ErrorKind::InvalidSubcommand => "not-found",
        ErrorKind::ArgumentConflict => "contradicts",
        ErrorKind::InvalidValue | ErrorKind::ValueValidation | ErrorKind::InvalidUtf8 => "out-of-range",
        _ => "missing",
    };
    let text = error.render().to_string();
    let first = text.split("\n\n").next().unwrap_or(&text).trim().trim_start_matches("error: ");
    let sentence = first.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut wire = WireError::new(code, format!("{sentence}."), "`gluewright --help` lists what can be given.");
    wire.field = error.get(ContextKind::InvalidArg).map(ToString::to_string);
    wire.value = error.get(ContextKind::InvalidValue).map(ToString::to_string);
    wire
}
