//! Long questions under way: the page that asked is told how far they are, through a channel of its own, and can stop
//! them.

use crate::host::locked;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use tauri::ipc::Channel;

/// What is under way, by its id, with the sign to stop it.
#[derive(Default)]
pub struct Long {
    under_way: Mutex<BTreeMap<String, Arc<AtomicBool>>>,
}

/// One question on its way; it is forgotten when this ends.
pub struct Way<'a> {
    long: &'a Long,
    id: String,
    stop: Arc<AtomicBool>,
    tell: Channel<Value>,
}

impl Long {
    /// Begins one: its id is told first, so that it can be stopped from then on.
    pub fn begin(&self, tell: Channel<Value>) -> Way<'_> {
        let (id, stop) = (uuid::Uuid::new_v4().to_string(), Arc::new(AtomicBool::default()));
        locked(&self.under_way).insert(id.clone(), Arc::clone(&stop));
        let way = Way { long: self, id, stop, tell };
        let _ = way.come(0, "");
        way
    }

    /// Has one end at its next step; false: none such is under way.
    pub fn stop(&self, id: &str) -> bool {
        let stop = locked(&self.under_way).get(id).cloned();
        stop.map(|stop| stop.store(true, Ordering::Relaxed)).is_some()
    }
}

impl Way<'_> {
    /// Tells how far it has come, millionths and in words; `Break`: somebody stopped it.
    pub fn come(&self, done: u32, said: &str) -> ControlFlow<()> {
        let told = self.tell.send(json!({ "tell": "way", "job": self.id, "done": done, "said": said }));
        // A page that is gone waits for no answer.
        if told.is_err() || self.stop.load(Ordering::Relaxed) {
            ControlFlow::Break(())
        } else {
            ControlFlow::Continue(())
        }
    }
}

impl Drop for Way<'_> {
    fn drop(&mut self) {
        locked(&self.long.under_way).remove(&self.id);
    }
}
