//! What the window tells the page without being asked, through the channel that `follow` opened.

use serde_json::Value;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, PoisonError};
use tauri::ipc::Channel;

/// The page that follows; None: no window, or none that has asked yet.
#[derive(Default)]
pub struct Tell {
    follower: Mutex<Option<Channel<Value>>>,
    count: AtomicU64,
}

impl Tell {
    /// From now on this channel is told; an earlier one no more.
    pub fn follow(&self, channel: Channel<Value>) {
        *self.locked() = Some(channel);
        self.count.fetch_add(1, Ordering::Relaxed);
    }

    /// Nobody is told any more.
    pub fn forget(&self) {
        *self.locked() = None;
    }

    /// Which follower this is, counted from 1; 0: nobody follows.
    pub fn follower(&self) -> u64 {
        if self.locked().is_some() { self.count.load(Ordering::Relaxed) } else { 0 }
    }

    /// Tells; what nobody hears is lost, for the page asks anew when it opens.
    pub fn tell(&self, what: Value) {
        let follower = self.locked().clone();
        if let Some(channel) = follower {
            let _ = channel.send(what);
        }
    }

    fn locked(&self) -> std::sync::MutexGuard<'_, Option<Channel<Value>>> {
        self.follower.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
