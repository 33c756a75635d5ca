//! What can go wrong with a book, and how SQLite's words map to it.

use crate::entry::read::Unread;
use rusqlite::ErrorCode;

/// What can go wrong with a book.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// There is no such file.
    #[error("there is no book at this path")]
    Missing,
    /// The file is something else.
    #[error("this file is not a Gluewright book")]
    NotABook,
    /// Written by a newer program.
    #[error("this book was written by a newer program (format {found}; this one knows {known})")]
    Newer {
        /// Format found.
        found: i64,
        /// Newest format known.
        known: i64,
    },
    /// Written by an older program, and only to be read: bringing it up to date would write.
    #[error("this book was written by an older program (format {found}; this one writes {known})")]
    Older {
        /// Format found.
        found: i64,
        /// Format of this build.
        known: i64,
    },
    /// Another process holds it.
    #[error("another program holds this book")]
    Locked,
    /// It cannot be written.
    #[error("this book cannot be written: the file or its folder is read-only")]
    ReadOnly,
    /// Its bytes are damaged.
    #[error("this book is damaged: {0}")]
    Damaged(String),
    /// The disk is full or fails.
    #[error("the disk refused: {0}")]
    Disk(String),
    /// Something else moved the log on between reading and writing.
    #[error("the log moved on from {expected} to {found} entries")]
    Moved {
        /// Size expected.
        expected: u64,
        /// Size found.
        found: u64,
    },
    /// Our own mistake.
    #[error("internal fault: {0}")]
    Fault(String),
}

impl From<rusqlite::Error> for Error {
    fn from(error: rusqlite::Error) -> Error {
        let Some(code) = error.sqlite_error_code() else {
            return without_code(error);
        };
        match code {
            ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => Error::Locked,
            ErrorCode::ReadOnly | ErrorCode::PermissionDenied => Error::ReadOnly,
            ErrorCode::NotADatabase => Error::NotABook,
            ErrorCode::DatabaseCorrupt => Error::Damaged(error.to_string()),
            ErrorCode::DiskFull | ErrorCode::SystemIoFailure | ErrorCode::CannotOpen => Error::Disk(error.to_string()),
            ErrorCode::Unknown if error.to_string().contains("no such") => missing_piece(&error),
            _ => Error::Fault(error.to_string()),
        }
    }
}

/// Errors of reading a row: a column that does not hold what the table promises.
fn without_code(error: rusqlite::Error) -> Error {
    use rusqlite::Error as Sql;
    match error {
        Sql::QueryReturnedNoRows
        | Sql::InvalidColumnType(..)
        | Sql::FromSqlConversionFailure(..)
        | Sql::IntegralValueOutOfRange(..)
        | Sql::Utf8Error(..) => Error::Damaged(error.to_string()),
        other => Error::Fault(other.to_string()),
    }
}

/// The tables were checked on opening, so a missing one was taken away.
fn missing_piece(error: &rusqlite::Error) -> Error {
    Error::Damaged(error.to_string())
}

impl From<Unread> for Error {
    fn from(error: Unread) -> Error {
        match error {
            Unread::Newer(version) => {
                Error::Newer { found: i64::from(version), known: i64::from(crate::entry::VERSION) }
            }
            Unread::Wrong(why) => Error::Damaged(format!("an entry cannot be read: {why}")),
        }
    }
}
