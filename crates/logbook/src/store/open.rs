//! Making and opening a book: settings, each read back; format; last tile and edge.

use super::{Book, Error, Mode};
use rusqlite::config::DbConfig;
use rusqlite::limits::Limit;
use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};
use std::cell::{Cell, RefCell};
use std::fs::OpenOptions;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Marks the file as a Gluewright book: "GLUW" as a big-endian number.
pub const APPLICATION_ID: i64 = 0x474C_5557;

/// Each migration takes the book one format further; the format is `user_version`.
const MIGRATIONS: &[&str] = &[include_str!("migration/0001.sql"), include_str!("migration/0002.sql")];

/// The format this build writes.
pub const FORMAT: i64 = MIGRATIONS.len() as i64;

/// Oldest SQLite that runs here: 3.51.3 mended the bug by which two connections could spoil a WAL book.
const OLDEST_SQLITE: i32 = 3_051_003;

/// How long a writer waits for another, ms.
const BUSY_MS: i64 = 5_000;

/// Every setting and what it must read back as.
const SETTINGS: &[(&str, i64)] = &[
    ("busy_timeout", BUSY_MS),
    ("synchronous", 2),
    ("fullfsync", 1),
    ("checkpoint_fullfsync", 1),
    ("foreign_keys", 1),
    ("trusted_schema", 0),
    ("cell_size_check", 1),
    ("mmap_size", 0),
    ("temp_store", 2),
    ("cache_size", -16_384),
];

impl Book {
    /// Makes a new, empty book (no log yet). Fails if the file exists. The file appears under its name only once it
    /// is a whole book on disk.
    pub fn create(path: &Path) -> Result<Book, Error> {
        if path.exists() {
            return Err(Error::Fault(format!("there is a file at {} already", path.display())));
        }
        let draft = beside(path);
        let made = make(&draft).and_then(|()| publish(&draft, path));
        if made.is_err() {
            let _ = std::fs::remove_file(&draft);
        }
        made?;
        Book::open(path, Mode::Write)
    }

    /// Opens a book, checks its settings, its format, its last tile and edge.
    pub fn open(path: &Path, mode: Mode) -> Result<Book, Error> {
        let connection = connect(path, mode)?;
        let book = Book { connection, mode, lost: Cell::new(false), newest: RefCell::default() };
        match mode {
            Mode::Read => check_format(&book.connection)?,
            Mode::Write => bring_up(&book.connection)?,
        }
        set(&book.connection, mode)?;
        book.read(Book::check_end)?;
        Ok(book)
    }
}

/// Brings the tables of an older build up to this one's; the entries stay as they are.
fn bring_up(connection: &Connection) -> Result<(), Error> {
    if format_of(connection)? == FORMAT {
        return Ok(());
    }
    connection.busy_timeout(Duration::from_millis(BUSY_MS.unsigned_abs()))?;
    let transaction = Transaction::new_unchecked(connection, TransactionBehavior::Immediate)?;
    // Another process may have done it meanwhile.
    let found = format_of(&transaction)?;
    migrate(&transaction, usize::try_from(found).unwrap_or_default())?;
    transaction.pragma_update(None, "user_version", FORMAT)?;
    Ok(transaction.commit()?)
}

fn beside(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_os_string();
    name.push(format!(".new-{}", std::process::id()));
    path.with_file_name(name)
}

fn make(draft: &Path) -> Result<(), Error> {
    let _ = std::fs::remove_file(draft);
    for_owner_only(draft)?;
    let connection = Connection::open(draft).map_err(|error| refine(error, draft))?;
    set(&connection, Mode::Write).map_err(|error| as_read_only(error, draft))?;
    let transaction = connection.unchecked_transaction()?;
    migrate(&transaction, 0)?;
    transaction.pragma_update(None, "application_id", APPLICATION_ID)?;
    transaction.pragma_update(None, "user_version", FORMAT)?;
    transaction.commit()?;
    connection.close().map_err(|(_, error)| Error::from(error))
}

/// Makes the empty file so that nobody else can read it; SQLite gives its side files the same rights.
fn for_owner_only(draft: &Path) -> Result<(), Error> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(draft).map(drop).map_err(|error| match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => Error::ReadOnly,
        _ => Error::Disk(error.to_string()),
    })
}

/// Takes tables of an older format to this build's.
fn migrate(connection: &Connection, from: usize) -> Result<(), Error> {
    MIGRATIONS.iter().skip(from).try_for_each(|migration| Ok(connection.execute_batch(migration)?))
}

/// An empty set of tables as this build makes them, in memory, to compare with.
pub(crate) fn model_schema() -> Result<Connection, Error> {
    let model = Connection::open_in_memory()?;
    migrate(&model, 0)?;
    Ok(model)
}

/// A scratch file with this build's read models, empty, and the book attached read-only as `book`, so that `entry`,
/// `log`, `tile` and `block` are the book's.
pub(crate) fn scratch(path: &Path) -> Result<Connection, Error> {
    let scratch = Connection::open_with_flags("", OpenFlags::default() | OpenFlags::SQLITE_OPEN_URI)?;
    scratch.set_prepared_statement_cache_capacity(96);
    migrate(&scratch, 0)?;
    scratch.execute_batch("DROP TABLE entry; DROP TABLE log; DROP TABLE tile; DROP TABLE block;")?;
    let attach = |how: &str| -> Result<(), Error> {
        scratch.execute("ATTACH ?1 AS book", [uri(path, how)?])?;
        scratch.query_row("SELECT count(*) FROM book.sqlite_schema", [], |_| Ok(()))?;
        Ok(())
    };
    match attach("mode=ro") {
        Err(Error::Disk(_) | Error::ReadOnly) if !has_log(path) => {
            // Attached or not, depending on which of the two steps failed.
            let _ = scratch.execute_batch("DETACH book");
            attach("immutable=1")?;
        }
        other => other?,
    }
    Ok(scratch)
}

/// Gives the finished draft its name, only if no file has it, and makes that last.
fn publish(draft: &Path, path: &Path) -> Result<(), Error> {
    let disk = |error: std::io::Error| match error.kind() {
        std::io::ErrorKind::AlreadyExists => Error::Fault(format!("there is a file at {} already", path.display())),
        std::io::ErrorKind::PermissionDenied | std::io::ErrorKind::ReadOnlyFilesystem => Error::ReadOnly,
        _ => Error::Disk(error.to_string()),
    };
    std::fs::File::open(draft).and_then(|file| file.sync_all()).map_err(disk)?;
    match std::fs::hard_link(draft, path) {
        Ok(()) => std::fs::remove_file(draft).map_err(disk)?,
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => return Err(disk(error)),
        // A file system without links: the name was free a moment ago.
        Err(_) => std::fs::rename(draft, path).map_err(disk)?,
    }
    if let Ok(folder) = std::fs::File::open(folder_of(path)) {
        let _ = folder.sync_all();
    }
    Ok(())
}

fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_path_buf(),
        _ => PathBuf::from("."),
    }
}

/// A connection to an existing file. The file itself is never opened but by SQLite: closing it elsewhere in this
/// process would drop SQLite's locks.
pub(crate) fn connect(path: &Path, mode: Mode) -> Result<Connection, Error> {
    if rusqlite::version_number() < OLDEST_SQLITE {
        return Err(Error::Fault(format!("SQLite {} is too old: 3.51.3 at least", rusqlite::version())));
    }
    match std::fs::metadata(path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Err(Error::Missing),
        Err(error) => return Err(Error::Disk(error.to_string())),
        Ok(data) if !data.is_file() => return Err(Error::NotABook),
        Ok(_) => {}
    }
    match mode {
        Mode::Write => connect_for_writing(path),
        Mode::Read => connect_for_reading(path),
    }
}

fn connect_for_writing(path: &Path) -> Result<Connection, Error> {
    if marked_read_only(path) {
        return Err(Error::ReadOnly);
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(path, flags).map_err(|error| refine(error, path))?;
    connection.busy_timeout(std::time::Duration::from_millis(BUSY_MS as u64))?;
    if connection.is_readonly("main")? {
        return Err(Error::ReadOnly);
    }
    touch(&connection).map_err(|error| as_read_only(error, path))?;
    Ok(connection)
}

/// Where the folder takes no side files, a book closed cleanly is read as it lies; one with a write-ahead log beside
/// it is not, for that log may hold entries. A book closed cleanly in a folder that can be written is opened so that
/// the last to close takes its side files away again; [`set`] makes it refuse every change.
fn connect_for_reading(path: &Path) -> Result<Connection, Error> {
    if !has_log(path)
        && !marked_read_only(path)
        && let Ok(connection) = connect_for_writing(path)
    {
        return Ok(connection);
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(path, flags).map_err(|error| refine(error, path))?;
    connection.busy_timeout(std::time::Duration::from_millis(BUSY_MS as u64))?;
    match touch(&connection) {
        Err(Error::Disk(_) | Error::ReadOnly) if !has_log(path) => {}
        Err(other) => return Err(as_read_only(other, path)),
        Ok(()) => return Ok(connection),
    }
    drop(connection);
    let connection = Connection::open_with_flags(uri(path, "immutable=1")?, flags | OpenFlags::SQLITE_OPEN_URI)?;
    touch(&connection)?;
    Ok(connection)
}

fn marked_read_only(path: &Path) -> bool {
    let marked = |at: &Path| std::fs::metadata(at).is_ok_and(|data| data.permissions().readonly());
    marked(path) || marked(&folder_of(path))
}

fn has_log(path: &Path) -> bool {
    let mut name = path.as_os_str().to_os_string();
    name.push("-wal");
    std::fs::metadata(PathBuf::from(name)).is_ok_and(|data| data.len() > 0)
}

fn uri(path: &Path, how: &str) -> Result<String, Error> {
    let whole = std::path::absolute(path).map_err(|error| Error::Disk(error.to_string()))?;
    let text = whole.to_str().ok_or_else(|| Error::Fault("the path is not UTF-8".into()))?;
    let mut uri = String::from("file:");
    for byte in text.bytes() {
        match byte {
            b'/' | b'-' | b'_' | b'.' | b'0'..=b'9' | b'a'..=b'z' | b'A'..=b'Z' => uri.push(char::from(byte)),
            other => uri.push_str(&format!("%{other:02X}")),
        }
    }
    uri.push('?');
    uri.push_str(how);
    Ok(uri)
}

/// Makes SQLite read the file for the first time.
fn touch(connection: &Connection) -> Result<(), Error> {
    connection.query_row("SELECT count(*) FROM sqlite_schema", [], |_| Ok(()))?;
    Ok(())
}

fn refine(error: rusqlite::Error, path: &Path) -> Error {
    as_read_only(error.into(), path)
}

/// "Cannot open" for a file that is there means that no side file can be made beside it.
fn as_read_only(error: Error, path: &Path) -> Error {
    match error {
        Error::Disk(text) if text.contains("unable to open") && (path.exists() || folder_of(path).exists()) => {
            Error::ReadOnly
        }
        other => other,
    }
}

/// Only a book in this build's own format can be read: bringing an older one up to date would write.
pub(crate) fn check_format(connection: &Connection) -> Result<(), Error> {
    match format_of(connection)? {
        FORMAT => Ok(()),
        found => Err(Error::Older { found, known: FORMAT }),
    }
}

/// The format of a book's tables, from 1 to this build's.
fn format_of(connection: &Connection) -> Result<i64, Error> {
    let number = |name: &str| connection.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
    if number("application_id")? != APPLICATION_ID {
        return Err(Error::NotABook);
    }
    let found = number("user_version")?;
    if found > FORMAT {
        return Err(Error::Newer { found, known: FORMAT });
    }
    if found < 1 {
        return Err(Error::Damaged(format!("format {found} was never written")));
    }
    Ok(found)
}

/// Applies every setting and reads each back.
pub(crate) fn set(connection: &Connection, mode: Mode) -> Result<(), Error> {
    connection.set_prepared_statement_cache_capacity(96);
    connection.set_limit(Limit::SQLITE_LIMIT_LENGTH, 64 << 20)?;
    // A plan must not depend on bound values: else some statements are planned anew at every run.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_QPSG, true)?;
    if mode == Mode::Write {
        let now: String =
            connection.pragma_update_and_check(None, "journal_mode", "WAL", |row| row.get::<_, String>(0))?;
        if !now.eq_ignore_ascii_case("wal") {
            return Err(Error::Fault(format!("journal_mode is {now}, not WAL")));
        }
    } else {
        connection.pragma_update(None, "query_only", 1)?;
    }
    for (name, value) in SETTINGS {
        connection.pragma_update(None, name, value)?;
        // A build without memory mapping gives no row for mmap_size: then it is 0.
        let now = connection.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
        let now = match now {
            Err(rusqlite::Error::QueryReturnedNoRows) if *name == "mmap_size" => 0,
            other => other?,
        };
        if now != *value {
            return Err(Error::Fault(format!("{name} is {now}, not {value}")));
        }
    }
    Ok(())
}
