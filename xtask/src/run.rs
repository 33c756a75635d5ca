//! `cargo xtask run`: from nothing to a window on the shop's book, or to its first start.

use crate::packages::{self, ALL, TO_RUN};
use crate::shell::{command, root, run, run_cargo};
use crate::{Step, ui};

/// The whole task. The two programs come to lie side by side: the window starts the other one for pages.
pub fn task() -> Step {
    display()?;
    packages::install(&ALL[..TO_RUN])?;
    ui::build()?;
    run_cargo(&["build", "--release", "--package", "gluewright", "--package", "gluewright-window"])?;
    eprintln!("xtask: opening the window; the first start offers a made-up shop to look around in");
    run(&mut command(&root().join("target/release/gluewright-window").to_string_lossy(), &[]))
}

/// Minutes of building for a window that cannot open would be a poor joke.
fn display() -> Step {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    if set("DISPLAY") || set("WAYLAND_DISPLAY") {
        return Ok(());
    }
    Err("there is no display here to open a window on (neither DISPLAY nor WAYLAND_DISPLAY is set). Without one: \
         `cargo run --release -- demo shop.book`, then `cargo run --release -- --book shop.book watch`"
        .to_owned())
}
