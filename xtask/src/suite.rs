//! `cargo xtask test` and `cargo xtask bench`.

use crate::Step;
use crate::packages::{self, ALL, PEERS, TO_RUN};
use crate::shell::{command, root, run, run_cargo};
use crate::ui;

/// Measured beside this release.
const NUMPY: &str = "numpy==2.4.6";

/// Installs what the suite needs and passes all of it. Further arguments narrow it down as with cargo test.
pub fn test(args: &[String]) -> Step {
    packages::install(ALL)?;
    ui::build()?;
    let mut words = vec!["test"];
    if !args.iter().any(|arg| arg == "-p" || arg == "--package") {
        words.push("--workspace");
    }
    words.extend(args.iter().map(String::as_str));
    run_cargo(&words)
}

/// Release build of the bench, which prints ratios within one run. Never part of the suite.
pub fn bench(args: &[String]) -> Step {
    let window = args.is_empty() || args.iter().any(|arg| arg == "window");
    packages::install(if window { ALL } else { &ALL[..TO_RUN] })?;
    if args.is_empty() || args.iter().any(|arg| arg == "science") {
        peers()?;
    }
    if args != ["science"] {
        run_cargo(&["build", "--release", "--package", "gluewright"])?;
    }
    if window {
        ui::build()?;
        run_cargo(&["build", "--release", "--package", "gluewright-window", "--bins", "--examples"])?;
    }
    let mut words = vec!["bench", "--package", "tests", "--bench", "speed", "--"];
    words.extend(args.iter().map(String::as_str));
    run_cargo(&words)
}

/// NumPy in an environment of its own and the C program, both below `target/peers`, for the bench of the science.
fn peers() -> Step {
    packages::install(PEERS)?;
    if !root().join("target/peers/bin/pip").is_file() {
        run(&mut command("python3", &["-m", "venv", "target/peers"]))?;
    }
    run(&mut command("target/peers/bin/pip", &["install", "--quiet", NUMPY]))?;
    let mut compile = vec!["-O2", "-Wall", "-Wextra", "-o", "target/peers/pots", "tests/bench/science/pots.c"];
    compile.extend(["-lsundials_cvode", "-lsundials_nvecserial", "-lm"]);
    run(&mut command("cc", &compile))
}

/// The pictures of docs/screens/, all of them or those whose name contains a word given.
pub fn screens(args: &[String]) -> Step {
    packages::install(ALL)?;
    ui::build()?;
    let mut words = vec!["run", "--package", "tests", "--example", "screens", "--"];
    words.extend(args.iter().map(String::as_str));
    run_cargo(&words)
}
