//! `cargo xtask check`: what must hold before anything is handed on, apart from the suite itself.

use crate::Step;
use crate::packages::{self, ALL, TO_RUN};
use crate::shell::{cargo, command, root, run, run_cargo};
use crate::ui;

const SCHEMA: &str = "docs/schema.json";

/// Format, lints, pages of the code, tidy, generated files.
pub fn check() -> Step {
    packages::install(&ALL[..TO_RUN])?;
    // The window's crate is built with the page inside it, so lints need the page.
    ui::build()?;
    run_cargo(&["fmt", "--all", "--check"])?;
    run_cargo(&["clippy", "--workspace", "--all-targets", "--", "--deny", "warnings"])?;
    let mut pages = command(&cargo(), &["doc", "--quiet", "--workspace", "--no-deps", "--exclude", "xtask"]);
    run(pages.env("RUSTDOCFLAGS", "--deny warnings"))?;
    run_cargo(&["test", "--quiet", "--package", "tests", "--test", "tidy"])?;
    let stored = std::fs::read(root().join(SCHEMA)).map_err(|why| format!("{SCHEMA}: {why}"))?;
    if stored != schema()? {
        return Err(format!(
            "{SCHEMA} is not what `gluewright schema` prints; write it anew with `cargo xtask schema`"
        ));
    }
    eprintln!("xtask: {SCHEMA} is what the program prints");
    ui::npm(&["run", "wire", "--", "--check"])?;
    ui::npm(&["run", "check"])?;
    ui::npm(&["test"])
}

/// Writes the generated files.
pub fn write_schema() -> Step {
    std::fs::write(root().join(SCHEMA), schema()?).map_err(|why| format!("{SCHEMA}: {why}"))?;
    ui::install()?;
    ui::npm(&["run", "wire"])
}

fn schema() -> Result<Vec<u8>, String> {
    run_cargo(&["build", "--quiet", "--package", "gluewright"])?;
    let output = command(&cargo(), &["run", "--quiet", "--package", "gluewright", "--", "schema"])
        .output()
        .map_err(|why| format!("gluewright schema did not start: {why}"))?;
    if output.status.success() {
        Ok(output.stdout)
    } else {
        Err(format!("gluewright schema ended with {}", output.status))
    }
}
