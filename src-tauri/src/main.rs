//! `gluewright-window`: the window on a shop's book. Two commands cross into the page, `act` and `ask`; everything else
//! here belongs to this computer: which book, the settings, the alarms, the tray, pages made by the command line.

mod ahead;
mod asked;
mod autostart;
mod awake;
mod book;
mod desk;
mod doors;
mod guard;
mod host;
mod jobs;
mod leave;
mod long;
mod news;
mod settings;
mod single;
mod tell;
mod tray;
mod voice;
mod window;

use asked::Asked;
use host::Host;
use single::Start;
use std::process::ExitCode;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::thread::JoinHandle;
use std::time::Duration;
use tauri::{AppHandle, RunEvent, WindowEvent};

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
    let host = Arc::new(Host::new(asked.book));
    let (lock, bell) = match single::start(&host.folders.own()) {
        Ok(Start::First(lock, bell)) => (Some(lock), bell),
        Ok(Start::Second { shown: true }) => {
            eprintln!("gluewright-window: it is open already and was shown; another book is opened in it");
            return ExitCode::SUCCESS;
        }
        Ok(Start::Second { shown: false }) => return refused("It is open already and does not answer."),
        Err(_) => (None, None),
    };
    let ended = run(&host, asked.hidden, bell);
    drop(lock);
    match ended {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => refused(&format!("The window cannot be opened: {error}.")),
    }
}

fn refused(sentence: &str) -> ExitCode {
    eprintln!("gluewright-window: {sentence}");
    ExitCode::FAILURE
}

fn run(host: &Arc<Host>, hidden: bool, bell: Option<std::os::unix::net::UnixListener>) -> tauri::Result<()> {
    let app = tauri::Builder::default()
        .manage(Arc::clone(host))
        .invoke_handler(tauri::generate_handler![doors::act, doors::ask])
        .build(context())?;
    let mut threads =
        vec![guard::start(Arc::clone(host), hidden), news::start(Arc::clone(host)), awake::start(Arc::clone(host))];
    threads.push(attend(app.handle().clone(), Arc::clone(host)));
    if let Some(bell) = bell {
        let handle = app.handle().clone();
        single::listen(bell, move || on_main(&handle, window::show));
    }
    if !hidden {
        window::show(app.handle());
    }
    let host = Arc::clone(host);
    app.run(move |app, event| match event {
        // Without a window the process goes on: closing decided so.
        RunEvent::ExitRequested { code: None, api, .. } => api.prevent_exit(),
        RunEvent::WindowEvent { event: WindowEvent::CloseRequested { api, .. }, .. } => {
            api.prevent_close();
            leave::close(app);
        }
        RunEvent::Exit => {
            // The alarms' side file says that they ended as asked only if their thread ends first.
            host.end();
            threads.drain(..).for_each(|thread| drop(thread.join()));
        }
        _ => {}
    });
    Ok(())
}

#[expect(clippy::disallowed_types, clippy::disallowed_methods, reason = "written by the framework's own macro")]
fn context() -> tauri::Context {
    tauri::generate_context!()
}

fn on_main(app: &AppHandle, work: impl FnOnce(&AppHandle) + Send + 'static) {
    let handle = app.clone();
    let _ = app.run_on_main_thread(move || work(&handle));
}

/// Looks for what only the main thread can do: a place for the tray, an alarm to come to the front for, the system's
/// request to end.
fn attend(app: AppHandle, host: Arc<Host>) -> JoinHandle<()> {
    let told = Arc::new(std::sync::atomic::AtomicBool::new(false));
    for signal in [signal_hook::consts::SIGTERM, signal_hook::consts::SIGINT] {
        let _ = signal_hook::flag::register(signal, Arc::clone(&told));
    }
    std::thread::spawn(move || {
        if tray::has_place() {
            let tray = Arc::clone(&host);
            on_main(&app, move |app| {
                tray::build(app, &tray);
            });
        }
        while !host.ending() {
            if host.raise.swap(false, Ordering::Relaxed) {
                on_main(&app, window::raise);
            }
            if told.load(Ordering::Relaxed) {
                app.exit(0);
                return;
            }
            std::thread::sleep(Duration::from_millis(100));
        }
    })
}
