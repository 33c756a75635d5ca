//! One window per person and settings folder: a second start shows the first and ends. A lock tells who is first, a
//! socket beside it is the doorbell. Another settings folder (another `XDG_CONFIG_HOME`) is another window.

use std::fs::{DirBuilder, File, OpenOptions};
use std::io::{Read, Write};
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt};
use std::os::unix::net::{UnixListener, UnixStream};
use std::path::Path;
use std::time::Duration;

/// What a second start says, and the answer.
const RING: &[u8] = b"show\n";

/// Who this process is.
pub enum Start {
    /// The first: it keeps the lock and hears the bell, if there is one.
    First(File, Option<UnixListener>),
    /// The second: the first was shown, or did not answer.
    Second { shown: bool },
}

/// Takes the lock, or rings at the one who has it. Without a folder to lock in, every start is the first.
pub fn start(folder: &Path) -> std::io::Result<Start> {
    DirBuilder::new().recursive(true).mode(0o700).create(folder)?;
    let (lock, bell) = (folder.join("window.lock"), folder.join("window.bell"));
    let lock = OpenOptions::new().create(true).truncate(false).write(true).mode(0o600).open(lock)?;
    match lock.try_lock() {
        Ok(()) => {
            let _ = std::fs::remove_file(&bell);
            Ok(Start::First(lock, UnixListener::bind(&bell).ok()))
        }
        Err(std::fs::TryLockError::WouldBlock) => Ok(Start::Second { shown: ring(&bell).is_ok() }),
        Err(std::fs::TryLockError::Error(why)) => Err(why),
    }
}

fn ring(bell: &Path) -> std::io::Result<()> {
    let mut stream = UnixStream::connect(bell)?;
    stream.set_read_timeout(Some(Duration::from_secs(5)))?;
    stream.write_all(RING)?;
    let mut answer = [0; RING.len()];
    stream.read_exact(&mut answer)
}

/// Waits at the bell on a thread of its own; answers each ring once the window was asked to show.
pub fn listen(bell: UnixListener, show: impl Fn() + Send + 'static) {
    std::thread::spawn(move || {
        for stream in bell.incoming().flatten() {
            let mut stream = stream;
            let _ = stream.set_read_timeout(Some(Duration::from_secs(1)));
            let mut asked = [0; RING.len()];
            if stream.read_exact(&mut asked).is_ok() && asked == RING {
                show();
                let _ = stream.write_all(RING);
            }
        }
    });
}
