//! `record`: states in the book that a part's page is handed out, asks what stands on it, and writes it as PDF or JSON;
//! `page`: the same without stating anything.

use crate::args::Record;
use crate::door::{self, Doors};
use crate::output::{DONE, FAULT, Output};
use crate::page;
use crate::run::{disk, not_written};
use serde_json::{Value, json};
use std::path::Path;
use workshop::wire::WireError;

/// Hands out a page; gives the exit status.
pub fn run(doors: &mut Doors, what: &Record, output: &mut Output) -> u8 {
    let told = Told { wanted: what.progress };
    told.step(0, "Stating the issue in the record");
    let page = match gather(doors, &what.mark) {
        Ok(page) => page,
        Err(error) => return output.error(&error),
    };
    let Some(file) = what.out.as_deref() else {
        output.object(&page);
        return DONE;
    };
    let bytes = if is_pdf(file) {
        match page::pdf(&page, what.paper, |done, said| told.step(done, said)) {
            Ok(bytes) => bytes,
            Err(why) => return not_set(&why, output),
        }
    } else {
        format!("{page}\n").into_bytes()
    };
    match page::write(file, &bytes) {
        Ok(()) => {
            told.step(1_000_000, "Done");
            DONE
        }
        Err(why) => not_written(&disk(file, &why), output),
    }
}

/// States that the page is handed out, then asks; the instant of issue is that entry's.
fn gather(doors: &mut Doors, mark: &str) -> Result<Value, WireError> {
    // Only a book that is there can hand out a page; an act alone would make one.
    doors.question("checkpoint", json!({}))?;
    let issued = doors.issue(mark)?;
    drawn(doors, mark, &issued)
}

/// In this computer's zone and the reader's units, as all answers are.
fn drawn(doors: &Doors, mark: &str, issued: &Value) -> Result<Value, WireError> {
    let trace = doors.question("trace", json!({ "part": mark }))?;
    let answers = report::questions(&trace).into_iter().map(|asked| doors.ask(asked)).collect::<Result<_, _>>()?;
    Ok(report::part_page(&trace, issued, &report::Beside { answers, zone_min: door::zone_min(), reader: doors.reader }))
}

/// The page as it would be handed out at this moment; nothing is stated, so it has no instant of issue.
pub fn preview(doors: &Doors, mark: &str, output: &mut Output) -> u8 {
    match drawn(doors, mark, &Value::Null) {
        Ok(page) => {
            output.object(&page);
            DONE
        }
        Err(error) => output.error(&error),
    }
}

fn is_pdf(file: &Path) -> bool {
    file.extension().is_some_and(|end| end.eq_ignore_ascii_case("pdf"))
}

fn not_set(why: &str, output: &mut Output) -> u8 {
    let sentence = format!("The page could not be set: {why}.");
    output.error(&WireError::new("fault", sentence, "Write it as JSON instead: give --out a name that ends in .json."));
    FAULT
}

/// How far it is, for a window that waits: one line on standard error each step.
struct Told {
    wanted: bool,
}

impl Told {
    fn step(&self, done: u32, said: &str) {
        if self.wanted {
            eprintln!("{}", json!({ "done": done, "said": said }));
        }
    }
}
