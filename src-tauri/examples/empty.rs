//! A window of the same framework with one line of text and nothing else: what the real window is measured against.

fn main() {
    let ended = tauri::Builder::<tauri::Wry>::default()
        .setup(|app| {
            tauri::WebviewWindowBuilder::new(app, "empty", tauri::WebviewUrl::default())
                .title("Gluewright")
                .inner_size(1280.0, 860.0)
                .build()?;
            Ok(())
        })
        .run(context());
    if let Err(why) = ended {
        eprintln!("empty: {why}");
    }
}

#[expect(clippy::disallowed_types, clippy::disallowed_methods, reason = "written by the framework's own macro")]
fn context() -> tauri::Context {
    tauri::generate_context!("examples/empty/tauri.conf.json")
}
