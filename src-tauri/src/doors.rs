//! The two commands of the page. Each hands its value over to a thread that may block, so that the window never waits
//! for a disk. What concerns this computer says `"desk"`; everything else goes to the book.

use crate::desk;
use crate::host::Host;
use serde_json::Value;
use std::sync::Arc;
use tauri::ipc::JavaScriptChannelId;
use tauri::{AppHandle, State, Webview};
use workshop::wire::WireError;

/// Tells what happened, or has something done on this computer.
#[tauri::command(rename_all = "snake_case")]
pub async fn act(app: AppHandle, host: State<'_, Arc<Host>>, value: Value) -> Result<Value, WireError> {
    let host = Arc::clone(&host);
    away(move || if value.get("desk").is_some() { desk::act(&app, &host, value) } else { host.act(value) }).await
}

/// Asks the book, or this computer. `at` and `known_at` are RFC 3339.
#[tauri::command(rename_all = "snake_case")]
pub async fn ask(
    webview: Webview,
    host: State<'_, Arc<Host>>,
    question: Value,
    at: Option<String>,
    known_at: Option<String>,
    tell: Option<JavaScriptChannelId>,
) -> Result<Value, WireError> {
    let host = Arc::clone(&host);
    let tell = tell.map(|id| id.channel_on(webview));
    away(move || {
        if question.get("desk").is_some() {
            return desk::ask(&host, question, tell);
        }
        host.ask_telling(question, at.as_deref(), known_at.as_deref(), tell)
    })
    .await
}

async fn away<T: Send + 'static>(work: impl FnOnce() -> Result<T, WireError> + Send + 'static) -> Result<T, WireError> {
    let done = tauri::async_runtime::spawn_blocking(work).await;
    done.unwrap_or_else(|why| Err(WireError::new("fault", format!("The program stumbled: {why}."), "Try again.")))
}
