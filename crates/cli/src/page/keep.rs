//! A file that is whole or not there: written beside its place, synced, then moved to it.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Writes a file so that a crash, a full disk or a kill leaves the old file or none, never half a one. What is there
/// and is no file (a pipe, a device) is written to as it is.
pub fn write(file: &Path, bytes: &[u8]) -> io::Result<()> {
    let real = fs::canonicalize(file).unwrap_or_else(|_| file.to_owned());
    let file = real.as_path();
    if file.exists() && !file.is_file() {
        return fs::write(file, bytes);
    }
    let beside = beside(file);
    let written = fill(&beside, bytes).and_then(|()| fs::rename(&beside, file));
    if written.is_err() {
        let _ = fs::remove_file(&beside);
        return written;
    }
    File::open(folder(file))?.sync_all()
}

fn fill(beside: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut out = File::create(beside)?;
    out.write_all(bytes)?;
    out.sync_all()
}

/// Name of the unfinished file; the process in it keeps two writers apart.
fn beside(file: &Path) -> PathBuf {
    let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    folder(file).join(format!(".{name}.{}.part", std::process::id()))
}

fn folder(file: &Path) -> &Path {
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}
