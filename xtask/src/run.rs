//! `cargo xtask run`: from nothing to a shop whose clocks run.

use crate::Step;
use crate::packages::{self, ALL, TO_RUN};
use crate::shell::{command, root, run, run_cargo};
use std::path::Path;

/// Installs, builds, writes the made-up shop if there is none, prints its live clocks and goes on as its watch.
fn run_demo(gluewright: &Path) -> Step {
    let program = gluewright.to_string_lossy();
    let folder = root().join("target/demo");
    std::fs::create_dir_all(&folder).map_err(|why| format!("{}: {why}", folder.display()))?;
    let book = folder.join("shop.book");
    let book_said = book.to_string_lossy();
    if book.is_file() {
        eprintln!("xtask: {book_said} is there already; delete that folder for a shop that is live now");
    } else {
        eprintln!("xtask: writing a made-up shop to {book_said}");
        run(&mut command(&program, &["demo", &book_said]))?;
    }
    run(&mut command(&program, &["--book", &book_said, "clocks"]))?;
    eprintln!("xtask: now watching; Ctrl-C ends it. The record stays, and its clocks go on without the program");
    run(&mut command(&program, &["--book", &book_said, "watch"]))
}

/// The whole task.
pub fn task() -> Step {
    packages::install(&ALL[..TO_RUN])?;
    run_cargo(&["build", "--release", "--package", "gluewright"])?;
    run_demo(&root().join("target/release/gluewright"))
}
