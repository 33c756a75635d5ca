//! Builds the page into the window, and says in one sentence when there is no page yet.

fn main() {
    println!("cargo::rerun-if-changed=../ui/dist");
    if std::path::Path::new("../ui/dist/index.html").is_file() {
        let commands = tauri_build::AppManifest::new().commands(&["act", "ask"]);
        if let Err(why) = tauri_build::try_build(tauri_build::Attributes::new().app_manifest(commands)) {
            println!("cargo::error=the window's configuration: {why:#}");
        }
    } else {
        println!(
            "cargo::error=ui/dist is missing: `npm --prefix ui ci && npm --prefix ui run build` builds the page, and `cargo xtask run` does it by itself"
        );
    }
}
