//! `cargo xtask faults`: puts each seeded fault of `tests/faults/` into a copy of the tree and shows that the suite
//! turns red. A suite that stays green over a known fault proves nothing.
//!
//! A fault is a patch whose first lines may carry `# test: <arguments of cargo test>`, the tests meant to notice it.

use crate::Step;
use crate::packages::{self, ALL};
use crate::shell::{cargo, command, root, run};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

struct Fault {
    name: String,
    patch: PathBuf,
    test: String,
}

/// Runs the named faults, or all of them.
pub fn faults(wanted: &[String]) -> Step {
    packages::install(ALL)?;
    let faults: Vec<Fault> = read_faults()?
        .into_iter()
        .filter(|f| wanted.is_empty() || wanted.iter().any(|w| f.name.contains(w.as_str())))
        .collect();
    if faults.is_empty() {
        return Err("no such fault in tests/faults".to_owned());
    }
    let scratch = root().join("target/faults");
    let tree = scratch.join("tree");
    copy_tree(&tree)?;
    let tests: BTreeSet<&str> = faults.iter().map(|fault| fault.test.as_str()).collect();
    for test in tests {
        eprintln!("xtask: without a fault: cargo test {test}");
        if !passes(&tree, test)? {
            return Err(format!("`cargo test {test}` is red before any fault was put in"));
        }
    }
    let mut unseen = Vec::new();
    for fault in &faults {
        if !is_seen(&tree, fault)? {
            unseen.push(fault.name.as_str());
        }
    }
    println!("{} of {} faults turn the suite red", faults.len() - unseen.len(), faults.len());
    if unseen.is_empty() { Ok(()) } else { Err(format!("not noticed: {}", unseen.join(", "))) }
}

fn read_faults() -> Result<Vec<Fault>, String> {
    let folder = root().join("tests/faults");
    let listing = std::fs::read_dir(&folder).map_err(|why| format!("{}: {why}", folder.display()))?;
    let mut patches: Vec<PathBuf> = listing.filter_map(|item| item.ok().map(|item| item.path())).collect();
    patches.retain(|path| path.extension().is_some_and(|end| end == "patch"));
    patches.sort();
    patches.into_iter().map(read_fault).collect()
}

fn read_fault(patch: PathBuf) -> Result<Fault, String> {
    let text = std::fs::read_to_string(&patch).map_err(|why| format!("{}: {why}", patch.display()))?;
    let test = text.lines().find_map(|line| line.strip_prefix("# test:"));
    let test = test.ok_or_else(|| format!("{}: no line \"# test: …\"", patch.display()))?.trim().to_owned();
    let name = patch.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    Ok(Fault { name, patch, test })
}

/// Puts the fault in, tests, takes it out again. True when the tests turned red.
fn is_seen(tree: &Path, fault: &Fault) -> Result<bool, String> {
    let patch = fault.patch.to_string_lossy();
    apply(tree, &[&patch])?;
    let builds = run(&mut test_command(tree, &format!("{} --no-run", first_part(&fault.test))));
    let seen = match &builds {
        Ok(()) => passes(tree, &fault.test).map(|passes| !passes),
        Err(why) => Err(format!("with fault {} the tree does not build, which shows nothing: {why}", fault.name)),
    };
    apply(tree, &["--reverse", &patch])?;
    let seen = seen?;
    println!("{:<40} {}", fault.name, if seen { "noticed" } else { "NOT NOTICED" });
    Ok(seen)
}

/// The arguments that choose what is built, without those that go to the test program.
fn first_part(test: &str) -> &str {
    test.split(" -- ").next().unwrap_or(test)
}

/// `git apply`, kept from taking the surrounding repository for the tree's own.
fn apply(tree: &Path, args: &[&str]) -> Step {
    let mut git = Command::new("git");
    git.current_dir(tree).env("GIT_CEILING_DIRECTORIES", tree.parent().unwrap_or(tree)).arg("apply").args(args);
    run(&mut git)
}

fn test_command(tree: &Path, test: &str) -> Command {
    let mut cargo = Command::new(cargo());
    let build = tree.parent().unwrap_or(tree).join("build");
    cargo.current_dir(tree).env("CARGO_TARGET_DIR", build).args(["test", "--quiet"]).args(test.split_whitespace());
    cargo
}

/// Whether the tests pass. Tests that start the program bring it up to date themselves.
fn passes(tree: &Path, test: &str) -> Result<bool, String> {
    let outcome = test_command(tree, test).stdout(Stdio::null()).stderr(Stdio::null()).status();
    outcome.map(|status| status.success()).map_err(|why| format!("cargo test did not start: {why}"))
}

/// Copies every tracked file as it stands now. Unchanged files are left alone, so that what was built stays built;
/// a file that differs gets a new time and is built anew.
fn copy_tree(tree: &Path) -> Step {
    let listing = command("git", &["ls-files", "-z", "--cached", "--others", "--exclude-standard"]).output();
    let listing = listing.map_err(|why| format!("git ls-files: {why}"))?;
    for name in listing.stdout.split(|byte| *byte == 0).filter(|name| !name.is_empty()) {
        let name = String::from_utf8_lossy(name).into_owned();
        let (from, to) = (root().join(&name), tree.join(&name));
        let Ok(bytes) = std::fs::read(&from) else { continue };
        if std::fs::read(&to).is_ok_and(|there| there == bytes) {
            continue;
        }
        let folder = to.parent().unwrap_or(tree);
        let copied = std::fs::create_dir_all(folder).and_then(|()| std::fs::copy(&from, &to));
        copied.map_err(|why| format!("{}: {why}", to.display()))?;
    }
    Ok(())
}
