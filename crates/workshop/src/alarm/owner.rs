//! One owner of a book's alarms: a lock on a side file of this machine, which also keeps the heartbeat.

use crate::time::beat::{Beat, Side};
use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Seek, SeekFrom, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::Path;

/// The side file is written over in place, padded to this many bytes.
const BYTES: usize = 4_096;

/// The lock, held as long as this lives.
pub struct Owner {
    file: File,
    side: Side,
    /// What the last owner left.
    before: Side,
}

/// Why the alarms cannot be owned.
#[derive(Debug, thiserror::Error)]
pub enum Taken {
    /// Another process holds them.
    #[error("the alarms of this book belong to process {pid} of this computer")]
    By {
        /// Its process id as it wrote it.
        pid: u32,
    },
    /// The side file cannot be made or locked.
    #[error("the side file of the alarms cannot be used: {0}")]
    Disk(#[from] std::io::Error),
}

impl Owner {
    /// Takes the alarms of a book, if nobody has them.
    pub fn take(book: &Path) -> Result<Owner, Taken> {
        let path = Side::path(book);
        let file = OpenOptions::new().read(true).write(true).create(true).truncate(false).mode(0o600).open(&path)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                return Err(Taken::By { pid: Side::read(&path).pid });
            }
            Err(TryLockError::Error(error)) => return Err(Taken::Disk(error)),
        }
        let before = Side::read(&path);
        let side = Side { pid: std::process::id(), ended: false, beats: before.beats.clone() };
        let mut owner = Owner { file, side, before };
        owner.write()?;
        Ok(owner)
    }

    /// What the last owner left: its process, whether it ended as asked, its heartbeats.
    pub fn before(&self) -> &Side {
        &self.before
    }

    /// Heartbeats as they stand.
    pub fn beats(&self) -> &[Beat] {
        &self.side.beats
    }

    /// Alive. A side file that cannot be written says nothing later, which is the safe side.
    pub fn beat(&mut self, log: &str, size: u64, boot: &str, boot_ms: i64) {
        self.side.beat(log, size, boot, boot_ms);
        let _ = self.write();
    }

    fn write(&mut self) -> std::io::Result<()> {
        let mut bytes = serde_json::to_vec(&self.side)?;
        bytes.resize(bytes.len().max(BYTES), b' ');
        self.file.seek(SeekFrom::Start(0))?;
        self.file.write_all(&bytes)
    }
}

impl Drop for Owner {
    fn drop(&mut self) {
        self.side.ended = true;
        let _ = self.write();
    }
}
