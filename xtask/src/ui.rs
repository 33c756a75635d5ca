//! The window's front end: its packages and its build, each only when something changed.

use crate::Step;
use crate::shell::{command, root, run};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// The oldest Node that the build tools take.
const OLDEST: (u32, u32) = (20, 19);
/// Debian 12 brings an older one; the npm registry has the same program as a package.
const NEWER: &str = "node@22.12.0";

/// Installs the packages if the lock changed, and builds if a source changed.
pub fn build() -> Step {
    install()?;
    let newest = newest_source(&root().join("ui"));
    if modified(&root().join("ui/dist/index.html")) < newest {
        npm(&["run", "build", "--", "--logLevel", "warn"])?;
    }
    Ok(())
}

/// The packages of the lock file, exactly.
pub fn install() -> Step {
    let installed = root().join("ui/node_modules/.package-lock.json");
    if modified(&installed) < modified(&root().join("ui/package-lock.json")) {
        npm(&["ci"])?;
    }
    Ok(())
}

/// npm in `ui/`, under a Node that is new enough.
pub fn npm(args: &[&str]) -> Step {
    let version = node_version().ok_or("there is no Node; install nodejs and npm")?;
    let mut words = vec!["--prefix", "ui"];
    words.extend(args);
    if version >= OLDEST {
        return run(&mut command("npm", &words));
    }
    eprintln!(
        "xtask: Node {}.{} is older than {}.{}; taking {NEWER} from npm",
        version.0, version.1, OLDEST.0, OLDEST.1
    );
    let mut through = vec!["exec", "--yes", "--package", NEWER, "--", "npm"];
    through.extend(words);
    run(&mut command("npm", &through))
}

/// Major and minor number of the Node on the search path.
fn node_version() -> Option<(u32, u32)> {
    let output = command("node", &["--version"]).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    let mut numbers = text.trim().trim_start_matches('v').split('.').map_while(|part| part.parse().ok());
    Some((numbers.next()?, numbers.next()?))
}

fn modified(file: &Path) -> Option<SystemTime> {
    file.metadata().and_then(|about| about.modified()).ok()
}

/// When a source of the front end was last changed.
fn newest_source(ui: &Path) -> Option<SystemTime> {
    let mut newest = None;
    let mut waiting: Vec<PathBuf> =
        ["src", "index.html", "package.json", "package-lock.json", "vite.config.ts", "svelte.config.js"]
            .iter()
            .map(|name| ui.join(name))
            .collect();
    while let Some(path) = waiting.pop() {
        newest = newest.max(modified(&path));
        if let Ok(folder) = std::fs::read_dir(&path) {
            waiting.extend(folder.filter_map(|item| item.ok().map(|item| item.path())));
        }
    }
    newest
}
