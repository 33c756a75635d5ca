//! The window itself: built when it is wanted, destroyed when it is closed. Its page can reach nothing but the two
//! commands; files dropped on it are swallowed by the handler that listens for them, and nothing else hears of them.

use tauri::webview::NewWindowResponse;
use tauri::{AppHandle, Manager, Url, WebviewUrl, WebviewWindowBuilder};

/// Label of the only window; the capability names it.
pub const LABEL: &str = "bench";

/// Shows the window, building it when there is none. On the main thread only.
pub fn show(app: &AppHandle) {
    let shown = match app.get_webview_window(LABEL) {
        Some(window) => window.show().and_then(|()| window.unminimize()).and_then(|()| window.set_focus()),
        None => build(app),
    };
    if let Err(why) = shown {
        eprintln!("gluewright-window: the window cannot be shown: {why}");
    }
}

fn build(app: &AppHandle) -> tauri::Result<()> {
    WebviewWindowBuilder::new(app, LABEL, WebviewUrl::default())
        .title("Gluewright")
        .inner_size(1280.0, 860.0)
        .min_inner_size(360.0, 480.0)
        .on_navigation(own)
        .on_new_window(|_, _| NewWindowResponse::Deny)
        .build()?;
    Ok(())
}

/// The page's own origin.
fn own(url: &Url) -> bool {
    url.scheme() == "tauri" && url.host_str() == Some("localhost")
}
