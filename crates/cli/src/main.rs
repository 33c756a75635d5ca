//! `gluewright`: the same acts and questions as behind every other door, on the command line. It knows terminals and
//! exit statuses and nothing about glue.

mod args;
mod demo;
mod door;
mod figure;
mod input;
mod output;
mod page;
mod place;
mod record;
mod run;
mod say;
mod usage;
mod watch;

use args::Args;
use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let words: Vec<std::ffi::OsString> = std::env::args_os().collect();
    let status = match Args::try_parse_from(&words) {
        Ok(args) => run::run(args),
        Err(error) => usage::refuse(&error, &words),
    };
    ExitCode::from(status)
}
