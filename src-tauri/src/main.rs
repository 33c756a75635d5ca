//! `gluewright-window`: the window on a shop's book. Two commands cross into the page, `act` and `ask`; everything else
//! here belongs to this computer: which book, the settings, the alarms, the tray, pages made by the command line.

mod asked;
mod book;
mod desk;
mod doors;
mod host;
mod settings;
mod tell;
mod window;

use asked::Asked;
use host::Host;
use std::process::ExitCode;
use std::sync::Arc;
use tauri::{Manager, RunEvent};

fn main() -> ExitCode {
    let asked = match Asked::read(std::env::args_os().skip(1)) {
        Ok(asked) => asked,
        Err(sentence) => return refused(&sentence),
    };
    if gtk::init().is_err() {
        return refused(
            "There is no display here to open a window on; `gluewright watch` gives the alarms in a terminal.",
        );
    }
    match run(asked) {
        Ok(status) => status,
        Err(error) => refused(&format!("The window cannot be opened: {error}.")),
    }
}

fn refused(sentence: &str) -> ExitCode {
    eprintln!("gluewright-window: {sentence}");
    ExitCode::FAILURE
}

fn run(asked: Asked) -> tauri::Result<ExitCode> {
    let hidden = asked.hidden;
    let host = Arc::new(Host::new(asked.book));
    let app = tauri::Builder::default()
        .manage(host)
        .invoke_handler(tauri::generate_handler![doors::act, doors::ask])
        .build(tauri::generate_context!())?;
    if !hidden {
        window::show(app.handle());
    }
    app.run(|app, event| match event {
        // Without a window the process goes on as long as it has a reason to.
        RunEvent::ExitRequested { code: None, api, .. } if app.webview_windows().is_empty() => api.prevent_exit(),
        _ => {}
    });
    Ok(ExitCode::SUCCESS)
}
