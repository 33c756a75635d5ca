//! `gluewright demo`: a made-up shop that builds the wing of a made-up two-seat wooden training glider, lived for
//! fourteen days through the same doors as any other book. People, parts, glues and numbers are invented.
//!
//! The same T gives the same bytes: ids and keys are seeded, the clock is fixed, the boot invented.

mod calendar;
mod driver;
mod job;
mod scenario;
mod seed;
mod step;
mod watcher;
mod weather;

use calendar::{Calendar, written_utc};
use driver::Driver;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use workshop::wire::{Receipt, WireError};

/// Earliest last instant: 1991-01-01, UTC.
const EARLIEST_MS: i64 = 662_688_000_000;
/// Latest last instant: 2999-01-01, UTC.
const LATEST_MS: i64 = 32_472_144_000_000;

/// Writes the demo book, ending at `until_ms` (ms UTC). Errors: `conflict` where a file stands already, `disk` where
/// it cannot be written.
pub fn write(file: &Path, until_ms: i64) -> Result<Value, WireError> {
    refuse_existing(file)?;
    refuse_far(until_ms)?;
    let folder = folder_beside(file)?;
    let done = make(file, &folder, Calendar { until_ms });
    let cleared = std::fs::remove_dir_all(&folder).map_err(|why| disk(&folder, &why));
    let receipt = done?;
    cleared?;
    Ok(summary(file, until_ms, receipt.as_ref()))
}

/// What was written, in words.
pub fn said(made: &Value) -> String {
    let demo = &made["demo"];
    let text = |field: &str| demo[field].as_str().unwrap_or_default().to_owned();
    format!(
        "{}: a made-up shop, lived from {} until {}, {} entries. Everybody and everything in it is invented.\n",
        text("file"),
        text("from"),
        text("until"),
        demo["size"]
    )
}

/// Lives the book in a folder of its own; only a whole book gets the name asked for.
fn make(file: &Path, folder: &Path, calendar: Calendar) -> Result<Option<Receipt>, WireError> {
    let book = folder.join("made-up.book");
    let mut driver = Driver::new(folder, &book, calendar);
    let receipt = driver.live(&scenario::steps(calendar), &scenario::looks(calendar))?;
    drop(driver);
    refuse_existing(file)?;
    std::fs::rename(&book, file).map_err(|why| disk(file, &why))?;
    Ok(receipt)
}

fn refuse_existing(file: &Path) -> Result<(), WireError> {
    if !file.exists() {
        return Ok(());
    }
    let sentence = format!("{} exists already; a demo never replaces a file.", file.display());
    Err(WireError::new("conflict", sentence, "Name a file that does not exist."))
}

/// The story needs years that a book accepts.
fn refuse_far(until_ms: i64) -> Result<(), WireError> {
    if (EARLIEST_MS..=LATEST_MS).contains(&until_ms) {
        return Ok(());
    }
    let sentence = format!("--until is {}, outside the years a made-up shop can be lived in.", written_utc(until_ms));
    let range = format!("{} to {}", written_utc(EARLIEST_MS), written_utc(LATEST_MS));
    let error = WireError::new("out-of-range", sentence, "Name an instant within the range.");
    Err(WireError {
        field: Some("--until".to_owned()),
        value: Some(written_utc(until_ms)),
        range: Some(range),
        ..error
    })
}

/// A folder beside the file, so that the finished book is moved within one file system.
fn folder_beside(file: &Path) -> Result<PathBuf, WireError> {
    let name = file.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let folder = file.with_file_name(format!(".{name}.{}.making", std::process::id()));
    std::fs::create_dir(&folder).map_err(|why| disk(file, &why))?;
    Ok(folder)
}

fn summary(file: &Path, until_ms: i64, receipt: Option<&Receipt>) -> Value {
    json!({ "demo": {
        "file": file.display().to_string(),
        "made_up": true,
        "from": written_utc(Calendar { until_ms }.begin_ms()),
        "until": written_utc(until_ms),
        "size": receipt.map(|receipt| receipt.size),
        "root": receipt.map(|receipt| receipt.root.clone()),
    } })
}

fn disk(path: &Path, why: &std::io::Error) -> WireError {
    let sentence = format!("{} cannot be written: {why}.", path.display());
    WireError::new("disk", sentence, "Name a place that can be written.")
}
