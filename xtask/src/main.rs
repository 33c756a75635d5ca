//! `cargo xtask …`: runs, tests, checks and measures this workspace. Plain std and no dependencies, so that it builds
//! on a machine where nothing else does yet.

mod check;
mod faults;
mod packages;
mod run;
mod shell;
mod suite;
mod ui;

use std::process::ExitCode;

const HELP: &str = "\
cargo xtask run            install what is missing, build, open the window on the shop's book or its first start
cargo xtask test [ARGS]    install what the suite needs and pass it all; ARGS go to cargo test
cargo xtask check          format, lints, tidy, generated files
cargo xtask bench [ROOM]   measure; prints ratios within one run; `science` beside NumPy, a Rust crate and CVODE
cargo xtask faults [NAME]  put each seeded fault into a copy of the tree and show that the suite turns red
cargo xtask screens [NAME] write the pictures of docs/screens/ from the real window on a made-up shop
cargo xtask packages       only install what `run` and `test` need
cargo xtask schema         write docs/schema.json and the front end's types anew";

/// What a step says when it cannot go on: one sentence for the person at the terminal.
pub type Step = Result<(), String>;

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let rest = args.get(1..).unwrap_or_default();
    let outcome = match args.first().map(String::as_str) {
        Some("run") => run::task(),
        Some("test") => suite::test(rest),
        Some("check") => check::check(),
        Some("bench") => suite::bench(rest),
        Some("faults") => faults::faults(rest),
        Some("screens") => suite::screens(rest),
        Some("packages") => packages::install(packages::ALL),
        Some("schema") => check::write_schema(),
        None | Some("help" | "--help" | "-h") => {
            println!("{HELP}");
            Ok(())
        }
        Some(other) => Err(format!("there is no task \"{other}\".\n{HELP}")),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(sentence) => {
            eprintln!("xtask: {sentence}");
            ExitCode::FAILURE
        }
    }
}
