//! Closing the window and quitting: what goes on, what ends, and when a person is asked first.

use crate::host::{Host, locked};
use crate::{tray, window};
use gtk::prelude::{DialogExt, GtkWindowExt, WidgetExt};
use std::sync::Arc;
use std::sync::atomic::Ordering;
use tauri::{AppHandle, Manager};

/// What closing the window means.
#[derive(Debug, PartialEq, Eq)]
pub enum Closing {
    /// Nothing runs that this program would have to tell of.
    Quit,
    /// The process stays, without a web view; the tray leads back.
    Stay,
    /// Clocks run and nothing would lead back: a person decides.
    Ask(String),
}

/// Decides. `running`: clocks whose alarms are given here.
pub fn closing(running: usize, sounding: bool, tray: bool) -> Closing {
    match (running, sounding, tray) {
        (0, false, _) => Closing::Quit,
        (_, _, true) => Closing::Stay,
        _ => Closing::Ask(ends(running)),
    }
}

/// What quitting would end.
fn ends(running: usize) -> String {
    match running {
        0 => "Closing ends the alarms. An alarm is not answered.".to_owned(),
        1 => "Closing ends the alarms. 1 clock runs.".to_owned(),
        many => format!("Closing ends the alarms. {many} clocks run."),
    }
}

/// Clocks whose alarms would end with this process, and whether one sounds.
fn at_stake(host: &Host) -> (usize, bool) {
    let seen = locked(&host.seen);
    if seen.here { (seen.running, seen.sounding) } else { (0, false) }
}

/// Right after the start the alarms have not looked at the book yet; whether one runs is known only then. Two seconds at
/// most.
fn looked(host: &Host) {
    for _ in 0..40 {
        if !locked(&host.seen).said.is_empty() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
}

/// The window was asked to close.
pub fn close(app: &AppHandle) {
    decided(app, |app, host, place| {
        let (running, sounding) = at_stake(host);
        let tray = place && tray::build(app, host);
        match closing(running, sounding, tray) {
            Closing::Quit => app.exit(0),
            Closing::Stay => window::destroy(app),
            Closing::Ask(sentence) => ask(app, host, &sentence),
        }
    });
}

/// Somebody asked to quit, from the page or the tray.
pub fn quit(app: &AppHandle) {
    decided(app, |app, host, _| match at_stake(host) {
        (0, false) => app.exit(0),
        (running, _) => ask(app, host, &ends(running)),
    });
}

/// Decides on the main thread, once it is known what runs and whether the tray has a place; both are waited for away from
/// it.
fn decided(app: &AppHandle, how: impl FnOnce(&AppHandle, &Arc<Host>, bool) + Send + 'static) {
    let app = app.clone();
    let host = Arc::clone(&app.state::<Arc<Host>>());
    std::thread::spawn(move || {
        let place = tray::has_place();
        looked(&host);
        crate::on_main(&app, move |app| how(app, &host, place));
    });
}

/// Asks with a dialog of the desktop, which works where the page does not. It waits beside the main loop, not in it.
fn ask(app: &AppHandle, host: &Arc<Host>, sentence: &str) {
    if host.asking.swap(true, Ordering::Relaxed) {
        return;
    }
    let parent = app.get_webview_window(window::LABEL).and_then(|window| window.gtk_window().ok());
    let dialog = gtk::MessageDialog::new(
        parent.as_ref(),
        gtk::DialogFlags::MODAL,
        gtk::MessageType::Warning,
        gtk::ButtonsType::None,
        sentence,
    );
    dialog.set_title("Gluewright");
    dialog.add_button("Keep it open", gtk::ResponseType::Cancel);
    dialog.add_button("Close, and end the alarms", gtk::ResponseType::Accept);
    dialog.set_default_response(gtk::ResponseType::Cancel);
    let (app, host) = (app.clone(), Arc::clone(host));
    dialog.connect_response(move |dialog, answer| {
        host.asking.store(false, Ordering::Relaxed);
        dialog.close();
        if answer == gtk::ResponseType::Accept {
            app.exit(0);
        }
    });
    dialog.show_all();
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closing_asks_only_where_alarms_would_end_unseen() {
        assert_eq!(closing(0, false, true), Closing::Quit);
        assert_eq!(closing(0, false, false), Closing::Quit);
        assert_eq!(closing(3, false, true), Closing::Stay);
        assert_eq!(closing(0, true, true), Closing::Stay);
        assert_eq!(closing(3, false, false), Closing::Ask("Closing ends the alarms. 3 clocks run.".to_owned()));
        assert_eq!(closing(1, true, false), Closing::Ask("Closing ends the alarms. 1 clock runs.".to_owned()));
        assert!(matches!(closing(0, true, false), Closing::Ask(_)));
    }
}
