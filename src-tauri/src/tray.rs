//! The tray: Show and Quit, where a desktop has a place for it. Without one a closed window would be out of reach.

use crate::host::Host;
use crate::{leave, window};
use dbus::blocking::Connection;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::time::Duration;
use tauri::AppHandle;
use tauri::menu::MenuBuilder;
use tauri::tray::TrayIconBuilder;

/// Whether something on the session bus shows tray icons. Blocks for at most a second.
pub fn has_place() -> bool {
    let Ok(connection) = Connection::new_session() else { return false };
    let bus = connection.with_proxy("org.freedesktop.DBus", "/org/freedesktop/DBus", Duration::from_secs(1));
    let answer = bus.method_call("org.freedesktop.DBus", "NameHasOwner", ("org.kde.StatusNotifierWatcher",));
    matches!(answer, Ok((true,)))
}

/// Puts the icon there once. On the main thread only. False: the library behind it is not on this computer.
pub fn build(app: &AppHandle, host: &Arc<Host>) -> bool {
    if host.tray() {
        return true;
    }
    // The library is loaded at this moment, and its crate panics where there is none.
    let built = catch_unwind(AssertUnwindSafe(|| icon(app)));
    let there = matches!(built, Ok(Ok(())));
    host.set_tray(there);
    there
}

fn icon(app: &AppHandle) -> tauri::Result<()> {
    let menu = MenuBuilder::new(app).text("show", "Show the bench").text("quit", "Quit").build()?;
    let mut icon = TrayIconBuilder::with_id("gluewright").menu(&menu).tooltip("Gluewright").on_menu_event(
        |app, event| match event.id().as_ref() {
            "show" => window::show(app),
            "quit" => leave::quit(app),
            _ => {}
        },
    );
    if let Some(image) = app.default_window_icon() {
        icon = icon.icon(image.clone());
    }
    icon.build(app).map(drop)
}
