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
mod weather;

use calendar::{Calendar, written_utc};
use driver::Driver;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use workshop::wire::{Receipt, WireError};

/// Writes the demo book, ending at `until_ms` (ms UTC). Errors: `conflict` where a file stands already, `disk` where
/// it cannot be written.
pub fn write(file: &Path, until_ms: i64) -> Result<Value, WireError> {
    refuse_existing(file)?;
    let folder = folder_beside(file)?;
    let done = make(file, &folder, Calendar { until_ms });
    let cleared = std::fs::remove_dir_all(&folder).map_err(|why| disk(&folder, &why));
    let receipt = done?;
    cleared?;
    Ok(summary(file, until_ms, receipt.as_ref()))
}

/// Lives the book in a folder of its own; only a whole book gets the name asked for.
fn make(file: &Path, folder: &Path, calendar: Calendar) -> Result<Option<Receipt>, WireError> {
    let book = folder.join("made-up.book");
    let mut driver = Driver::new(folder, &book, calendar);
    let receipt = driver.live(&scenario::steps(calendar))?;
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

/// A folder beside the file, so that the finished book is moved within one file system.
fn folder_beside(file: &Path) -> Result<PathBuf, WireError> {
    let name = file
        .file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned());
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
