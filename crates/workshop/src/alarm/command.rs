//! An optional command of this machine, run on any alarm. It stands in a file only its owner may read and write,
//! one argument a line, and no shell reads it.

use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::{Command, Stdio};

/// The arguments in a command file; None: there is no such file.
pub fn read(path: &Path) -> Option<Result<Vec<String>, String>> {
    let meta = std::fs::metadata(path).ok()?;
    let mode = meta.permissions().mode() & 0o777;
    if mode & 0o077 != 0 {
        return Some(Err(format!("the alarm command is not run: its file has mode {mode:03o}, it must be 600")));
    }
    let text = match std::fs::read_to_string(path) {
        Ok(text) => text,
        Err(error) => return Some(Err(format!("the alarm command is not run: {error}"))),
    };
    let words: Vec<String> = text.lines().filter(|line| !line.is_empty()).map(str::to_owned).collect();
    if words.is_empty() { None } else { Some(Ok(words)) }
}

/// Starts it, with what was said in the environment, and does not wait for it.
pub fn run(words: &[String], title: &str, body: &str) -> Result<(), String> {
    let Some((program, arguments)) = words.split_first() else {
        return Ok(());
    };
    let mut child = Command::new(program)
        .args(arguments)
        .env("GLUEWRIGHT_ALARM", title)
        .env("GLUEWRIGHT_SAID", body)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .map_err(|error| format!("the alarm command did not start: {error}"))?;
    let _detached = std::thread::spawn(move || child.wait());
    Ok(())
}
