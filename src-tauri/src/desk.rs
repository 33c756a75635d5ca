//! What the page asks of this computer, and has done on it: everything that says `"desk"`.

use crate::book;
use crate::host::Host;
use serde::Deserialize;
use serde_json::{Map, Value, json};
use std::path::PathBuf;
use std::sync::Arc;
use tauri::AppHandle;
use tauri::ipc::Channel;
use workshop::wire::WireError;

/// What can be asked.
#[derive(Debug, Deserialize)]
#[serde(tag = "desk", rename_all = "kebab-case", deny_unknown_fields)]
enum Question {
    State {},
    Follow {},
}

/// What can be done.
#[derive(Debug, Deserialize)]
#[serde(tag = "desk", rename_all = "kebab-case", deny_unknown_fields)]
enum Act {
    Open { path: PathBuf },
    Settings { settings: Map<String, Value> },
    Quit {},
}

fn read<T: for<'a> Deserialize<'a>>(value: Value) -> Result<T, WireError> {
    serde_json::from_value(value).map_err(|why| {
        let sentence = format!("The desk does not understand this: {why}.");
        WireError::new("unknown-field", sentence, "Nothing was done.").field("desk")
    })
}

/// Answers.
pub fn ask(host: &Host, question: Value, tell: Option<Channel<Value>>) -> Result<Value, WireError> {
    match (read(question)?, tell) {
        (Question::State {}, _) => Ok(state(host)),
        (Question::Follow {}, Some(tell)) => {
            host.tell.follow(tell);
            Ok(Value::Null)
        }
        (Question::Follow {}, None) => {
            Err(WireError::new("missing", "To follow, a channel is needed.", "").field("tell"))
        }
    }
}

/// Does it.
pub fn act(app: &AppHandle, host: &Arc<Host>, value: Value) -> Result<Value, WireError> {
    match read(value)? {
        Act::Open { path } => {
            host.use_book(&path)?;
            host.tell.tell(json!({ "tell": "state" }));
            Ok(Value::Null)
        }
        Act::Settings { settings } => {
            host.keep(|kept| {
                kept.settings = kept.settings.with(&settings)?;
                Ok(())
            })?;
            host.tell.tell(json!({ "tell": "state" }));
            Ok(Value::Null)
        }
        Act::Quit {} => {
            app.exit(0);
            Ok(Value::Null)
        }
    }
}

fn state(host: &Host) -> Value {
    let path = host.book();
    let (standing, sentence) = book::standing(host, path.as_deref());
    json!({
        "book": path,
        "standing": standing,
        "sentence": sentence.or_else(|| host.settings_trouble.clone()),
        "made_up": false,
        "settings": host.settings(),
        "sound": { "works": true, "said": "" },
        "alarms": { "here": false, "said": "" },
        "unsaved": 0,
        "tray": false,
        "suggested": host.folders.suggested(),
        "version": env!("CARGO_PKG_VERSION"),
        "pages": host.folders.pages(),
    })
}
