//! Starting other programs and saying so.

use crate::Step;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// The root of the workspace: this crate lies in `xtask/` below it.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_owned()
}

/// Cargo, as it was called.
pub fn cargo() -> String {
    std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned())
}

/// A program to be started at the root of the workspace.
pub fn command(program: &str, args: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.args(args).current_dir(root());
    command
}

/// Runs cargo and fails when it fails.
pub fn run_cargo(args: &[&str]) -> Step {
    run(&mut command(&cargo(), args))
}

/// Says what it starts, runs it to its end, fails when it fails.
pub fn run(command: &mut Command) -> Step {
    let said = said(command);
    eprintln!("xtask: {said}");
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(format!("`{said}` ended with {status}")),
        Err(error) => Err(format!("`{said}` did not start: {error}")),
    }
}

/// Runs it quietly: true when it started and succeeded.
pub fn works(program: &str, args: &[&str]) -> bool {
    let quiet = command(program, args).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).status();
    quiet.is_ok_and(|status| status.success())
}

/// True when a program of this name stands on the search path.
pub fn on_path(program: &str) -> bool {
    let path = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&path).any(|folder| folder.join(program).is_file())
}

fn said(command: &Command) -> String {
    let program = Path::new(command.get_program()).file_name().unwrap_or_default();
    let words = std::iter::once(program).chain(command.get_args());
    words.map(|word| word.to_string_lossy().into_owned()).collect::<Vec<_>>().join(" ")
}
