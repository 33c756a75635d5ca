//! The window itself: built when it is wanted, destroyed when it is closed. Its page can reach nothing but the two
//! commands; files dropped on it are swallowed by the handler that listens for them, and nothing else hears of them.

use crate::ahead::Ahead;
use crate::host::Host;
use std::sync::Arc;
use tauri::webview::NewWindowResponse;
use tauri::{AppHandle, Manager, Url, UserAttentionType, WebviewUrl, WebviewWindowBuilder};
use webkit2gtk::{HardwareAccelerationPolicy, SettingsExt, WebViewExt};
use workshop::alarm::voice::{Desktop, Note, Voice};
use workshop::clock::{Clock, SystemClock};

/// Label of the only window; the capability names it.
pub const LABEL: &str = "bench";

/// Address of the page that is built in.
const HOME: &str = "tauri://localhost";

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
    let host = Arc::clone(&app.state::<Arc<Host>>());
    Ahead::ask(&host);
    let window = WebviewWindowBuilder::new(app, LABEL, WebviewUrl::default())
        .title("Gluewright")
        .inner_size(1280.0, 860.0)
        .min_inner_size(360.0, 480.0)
        .on_navigation(own)
        .on_new_window(|_, _| NewWindowResponse::Deny)
        .on_web_resource_request(move |request, response| {
            if ["", "/", "/index.html"].contains(&request.uri().path())
                && let Some(page) = host.ahead.put_into(response.body())
            {
                *response.body_mut() = page.into();
            }
        })
        .build()?;
    let app = app.clone();
    window.with_webview(move |view| {
        // A page of text and rules: drawn without the graphics stack it takes half the memory and is there sooner.
        if let Some(settings) = view.inner().settings() {
            settings.set_hardware_acceleration_policy(HardwareAccelerationPolicy::Never);
        }
        view.inner().connect_web_process_terminated(move |view, _| broken(&app, view));
    })
}

/// Takes the window and its web view away; the process and its alarms go on. On the main thread only.
pub fn destroy(app: &AppHandle) {
    app.state::<Arc<Host>>().tell.forget();
    if let Some(window) = app.get_webview_window(LABEL) {
        let _ = window.destroy();
    }
}

/// An alarm was given: a window that is there comes to the front. One that was closed stays closed.
pub fn raise(app: &AppHandle) {
    if let Some(window) = app.get_webview_window(LABEL) {
        let _ = window.show().and_then(|()| window.unminimize());
        let _ = window.request_user_attention(Some(UserAttentionType::Critical));
    }
}

/// At most so many new pages …
const PAGES: usize = 3;
/// … in so long, ms.
const PAGES_WITHIN_MS: i64 = 60_000;

/// The page's process ended by itself. The page is loaded anew; when that keeps happening, the window goes and the
/// desktop is told.
fn broken(app: &AppHandle, view: &webkit2gtk::WebView) {
    let host = Arc::clone(&app.state::<Arc<Host>>());
    host.tell.forget();
    if host.broke(SystemClock::new().now().boot_ms, PAGES_WITHIN_MS) <= PAGES {
        host.notice("The window's page broke and was loaded anew. The alarms went on meanwhile.".to_owned());
        // Not `reload`: a page that broke before it was there has nothing to load again.
        view.load_uri(HOME);
        return;
    }
    let app = app.clone();
    // Not inside the signal of the view that is destroyed.
    gtk::glib::idle_add_local_once(move || destroy(&app));
    let body = "Its page keeps breaking. The alarms go on; start Gluewright again to see the bench.".to_owned();
    let note = Note { title: "The window is closed".to_owned(), body, loud: true };
    let _taken = Desktop::new(false).notify(note);
}

/// The page's own origin.
fn own(url: &Url) -> bool {
    url.scheme() == "tauri" && url.host_str() == Some("localhost")
}
