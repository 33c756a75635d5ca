//! What the page cannot do, whatever script might come to run in it: reach a file or the network, call a plugin or a
//! third command, evaluate text, open a window, go elsewhere. The two commands, and what is refused even by them.

use super::shop;
use super::window::{Hand, Window};
use serde_json::{Value, json};
use std::io::Read;
use std::net::TcpListener;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A script that ends with `done(what came of it)`.
fn tried(window: &Window, script: &str, args: Vec<Value>) -> String {
    let whole = format!(
        "const done = arguments[arguments.length - 1]; \
         const no = why => done('refused: ' + (typeof why === 'string' ? why : JSON.stringify(why.sentence ? why : String(why)))); \
         try {{ {script} }} catch (why) {{ no(why) }}"
    );
    window.js_later(&whole, args).as_str().unwrap_or_default().to_owned()
}

/// A listener that counts who knocks.
fn listener() -> (u16, Arc<AtomicUsize>) {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = listener.local_addr().expect("its number").port();
    let knocks = Arc::new(AtomicUsize::new(0));
    let count = Arc::clone(&knocks);
    std::thread::spawn(move || {
        for mut stream in listener.incoming().flatten() {
            count.fetch_add(1, Ordering::Relaxed);
            let _ = stream.set_read_timeout(Some(std::time::Duration::from_millis(200)));
            let _ = stream.read(&mut [0; 512]);
        }
    });
    (port, knocks)
}

#[test]
fn the_page_reaches_no_file_no_network_no_plugin_and_evaluates_nothing() {
    let window = Window::open(Hand::Pointer, (1280, 800), shop::empty);
    window.see("body");
    let (port, knocks) = listener();
    let secret = window.home.path().join("secret.txt");
    std::fs::write(&secret, "a secret").expect("written");
    let far = format!("http://127.0.0.1:{port}/");
    let near = format!("file://{}", secret.display());
    for address in [&far, &near] {
        let came = tried(
            &window,
            "fetch(arguments[0]).then(r => r.text()).then(t => done('came: ' + t), no)",
            vec![json!(address)],
        );
        assert!(came.starts_with("refused"), "{address}: {came}");
        let script = "const i = new Image(); i.onload = () => done('came'); i.onerror = () => done('refused'); i.src = arguments[0]";
        assert_eq!(tried(&window, script, vec![json!(address)]), "refused", "an image from {address}");
        let script = "const s = document.createElement('script'); s.onload = () => done('came'); s.onerror = () => done('refused'); \
                      s.src = arguments[0]; document.head.append(s)";
        assert_eq!(tried(&window, script, vec![json!(address)]), "refused", "a script from {address}");
    }
    let socket = format!("ws://127.0.0.1:{port}/");
    let script =
        "const s = new WebSocket(arguments[0]); s.onopen = () => done('came'); s.onerror = () => done('refused')";
    assert!(tried(&window, script, vec![json!(socket)]).starts_with("refused"));
    assert_eq!(knocks.load(Ordering::Relaxed), 0, "nobody knocked");

    for script in ["done('came: ' + eval('1+1'))", "done('came: ' + new Function('return 1')())"] {
        assert!(tried(&window, script, vec![]).starts_with("refused"), "{script}");
    }
    let script = "window.ran = false; const s = document.createElement('script'); s.textContent = 'window.ran = true'; \
                  document.head.append(s); setTimeout(() => done(window.ran ? 'came' : 'refused'), 200)";
    assert_eq!(tried(&window, script, vec![]), "refused", "a script in the page's own text");
}

#[test]
fn the_page_has_two_commands_and_no_other() {
    let window = Window::open(Hand::Pointer, (1280, 800), shop::empty);
    window.see("body");
    let invoke = |command: &str, body: Value| {
        let script = "window.__TAURI_INTERNALS__.invoke(arguments[0], arguments[1]).then(v => done('came: ' + JSON.stringify(v)), no)";
        tried(&window, script, vec![json!(command), body])
    };
    let head = invoke("ask", json!({ "question": { "ask": "head", "body": {} } }));
    assert!(head.starts_with("came"), "the lever: this one is there: {head}");
    for command in [
        "plugin:fs|read_text_file",
        "plugin:shell|execute",
        "plugin:window|create",
        "plugin:window|close",
        "plugin:webview|create_webview_window",
        "plugin:event|listen",
        "plugin:event|emit",
        "plugin:path|resolve_directory",
        "plugin:app|version",
        "plugin:menu|new",
        "plugin:tray|new",
        "plugin:resources|close",
        "plugin:image|from_path",
        "open",
    ] {
        let came = invoke(
            command,
            json!({ "path": "/etc/hostname", "event": "x", "handler": 0, "target": { "kind": "Any" } }),
        );
        assert!(
            came.starts_with("refused") && (came.contains("not allowed") || came.contains("not found")),
            "{command}: {came}"
        );
    }
    assert_eq!(tried(&window, "done(typeof window.__TAURI__)", vec![]), "undefined");
}

#[test]
fn the_page_opens_no_window_and_goes_nowhere() {
    let window = Window::open(Hand::Pointer, (1280, 800), shop::empty);
    window.see("body");
    let here = window.js("return location.href", vec![]);
    let (port, knocks) = listener();
    let far = format!("http://127.0.0.1:{port}/");
    let opened = tried(&window, "const w = window.open(arguments[0]); done(w ? 'came' : 'refused')", vec![json!(far)]);
    assert_eq!(opened, "refused");
    for address in [far.as_str(), "file:///etc/hostname", "about:blank"] {
        let script = "location.href = arguments[0]; setTimeout(() => done(location.href), 500)";
        assert_eq!(json!(tried(&window, script, vec![json!(address)])), here, "{address}");
    }
    assert_eq!(knocks.load(Ordering::Relaxed), 0, "nobody knocked");
}

#[test]
fn the_desk_refuses_what_it_does_not_know_and_paths_that_lead_astray() {
    let window = Window::open(Hand::Pointer, (1280, 800), shop::empty);
    window.see("body");
    let act = |value: Value| {
        let script = "window.__TAURI_INTERNALS__.invoke('act', { value: arguments[0] }).then(v => done('came: ' + JSON.stringify(v)), no)";
        tried(&window, script, vec![value])
    };
    let refused = [
        (json!({ "desk": "delete", "path": "/x" }), "unknown variant"),
        (json!({ "desk": "quit", "now": true }), "unknown field"),
        (json!({ "desk": 7 }), "does not understand"),
        (json!({ "desk": "open", "path": "shop.book" }), "whole path"),
        (json!({ "desk": "open", "path": "/tmp/../etc/hostname" }), "whole path"),
        (json!({ "desk": "open", "path": "/etc/hostname" }), "book"),
        (json!({ "desk": "start", "path": "/etc/hostname" }), "already"),
        (json!({ "desk": "show", "file": "/etc/hostname" }), "no such page"),
        (json!({ "desk": "checkpoint-file", "path": "/etc/hostname" }), "cannot be written"),
        (json!({ "desk": "cancel", "job": "1" }), "not under way"),
        (json!({ "desk": "settings", "settings": { "theme": "pink" } }), "cannot be"),
        (json!({ "desk": "settings", "settings": { "command": "rm" } }), "no setting"),
        (json!({ "desk": "settings", "settings": { "mm_per_css_px": -1 } }), "cannot be"),
        (json!({ "desk": "page", "part": "R1", "paper": "a0" }), "unknown variant"),
    ];
    for (value, why) in refused {
        let came = act(value.clone());
        assert!(came.starts_with("refused") && came.contains(why), "{value}: {came}");
    }
    let set = act(json!({ "desk": "settings", "settings": { "theme": "dark", "mm_per_css_px": 0.27 } }));
    assert!(set.starts_with("came"), "{set}");
    let file = window.home.path().join(".config/gluewright/window.json");
    let kept: Value = serde_json::from_slice(&std::fs::read(&file).expect("kept")).expect("JSON");
    assert_eq!((&kept["settings"]["theme"], &kept["settings"]["mm_per_css_px"]), (&json!("dark"), &json!(0.27)));
    let mode = std::os::unix::fs::PermissionsExt::mode(&std::fs::metadata(&file).expect("it is there").permissions());
    assert_eq!(mode & 0o777, 0o600, "for its owner's eyes");
}
