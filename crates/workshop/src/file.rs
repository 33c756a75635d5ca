//! The book as a file: which file it is, and how a new one gets its name.

use crate::wire::WireError;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

/// Inode and birth time of a file; empty when there is none. A copy or a restored file has others.
pub(crate) fn identity(path: &Path) -> String {
    let Ok(about) = std::fs::metadata(path) else {
        return String::new();
    };
    let born = about.created().ok().and_then(|born| born.duration_since(UNIX_EPOCH).ok());
    let born = born.map_or_else(|| "unknown".to_owned(), |born| born.as_nanos().to_string());
    format!("{}:{born}", inode(&about))
}

#[cfg(unix)]
fn inode(about: &std::fs::Metadata) -> u64 {
    std::os::unix::fs::MetadataExt::ino(about)
}

#[cfg(not(unix))]
fn inode(_: &std::fs::Metadata) -> u64 {
    0
}

/// False when the file or its folder is marked read-only.
pub(crate) fn writable(path: &Path) -> bool {
    let marked = |at: &Path| std::fs::metadata(at).is_ok_and(|about| about.permissions().readonly());
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    !marked(path) && !marked(folder)
}

/// A name beside the book for a draft of it.
pub(crate) fn beside(path: &Path, digest: &[u8; 32]) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_os_string();
    name.push(format!(".first-{}-{}", std::process::id(), hex::encode(digest.get(..6).unwrap_or_default())));
    path.with_file_name(name)
}

/// Gives a finished draft its name, only if no file has it.
pub(crate) fn publish(draft: &Path, path: &Path) -> Result<(), WireError> {
    let refused = |error: std::io::Error| match error.kind() {
        ErrorKind::AlreadyExists => {
            let sentence = "Another program made a book at this path a moment ago.";
            WireError::new("locked", sentence, "Act again; nothing was written.")
        }
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => WireError::new(
            "read-only",
            format!("The book cannot be made here: {error}."),
            "Choose a folder you may write in.",
        ),
        _ => WireError::new(
            "disk",
            format!("The disk refused: {error}."),
            "Free some space or mend the disk, then act again.",
        ),
    };
    match std::fs::hard_link(draft, path) {
        Ok(()) => {}
        Err(error) if error.kind() == ErrorKind::AlreadyExists => return Err(refused(error)),
        // A file system without links: the name was free a moment ago.
        Err(_) => std::fs::rename(draft, path).map_err(refused)?,
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if let Ok(folder) = std::fs::File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}

/// Removes a draft and its side files.
pub(crate) fn discard(draft: &Path) {
    for suffix in ["", "-wal", "-shm"] {
        let mut name = draft.as_os_str().to_os_string();
        name.push(suffix);
        let _ = std::fs::remove_file(PathBuf::from(name));
    }
}
