//! What no compiler and no lint looks at: headers, the arrows between crates, bans that differ from crate to crate,
//! words that no sentence may use, paths of one machine, unfinished code. Each rule is a function from files to
//! complaints, and each is shown to complain about a bad sample. Long because every rule stands beside its sample.

use std::path::Path;

/// One text file of the tree, its path from the root.
struct File {
    path: String,
    text: String,
}

impl File {
    fn new(path: &str, text: &str) -> File {
        File { path: path.to_owned(), text: text.to_owned() }
    }

    fn ends(&self, end: &str) -> bool {
        self.path.ends_with(end)
    }

    /// The crate a source file belongs to: `crates/glue/src/lib.rs` belongs to `glue`.
    fn room(&self) -> Option<&str> {
        self.path.strip_prefix("crates/")?.split('/').next().filter(|_| self.path.contains("/src/"))
    }

    /// Lines of code with their numbers: no comments, nothing from the file's own tests on.
    fn code(&self) -> impl Iterator<Item = (usize, &str)> {
        let lines =
            self.text.lines().enumerate().take_while(|(_, line)| !line.trim_start().starts_with("#[cfg(test)]"));
        lines.map(|(at, line)| (at + 1, line)).filter(|(_, line)| !line.trim_start().starts_with("//"))
    }
}

/// Every text file of the tree but what is built or fetched.
fn tree() -> Vec<File> {
    let mut files = Vec::new();
    walk(Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap(), "", &mut files);
    assert!(files.len() > 60, "the walk found the tree");
    files
}

fn walk(folder: &Path, name: &str, files: &mut Vec<File>) {
    let mut items: Vec<_> = std::fs::read_dir(folder).unwrap().map(|item| item.unwrap()).collect();
    items.sort_by_key(|item| item.file_name());
    for item in items {
        let own = item.file_name().to_string_lossy().into_owned();
        let path = if name.is_empty() { own.clone() } else { format!("{name}/{own}") };
        if item.file_type().unwrap().is_dir() {
            if !["target", ".git", "node_modules", "__pycache__"].contains(&own.as_str()) {
                walk(&item.path(), &path, files);
            }
        } else if let Ok(text) = std::fs::read_to_string(item.path()) {
            files.push(File { path, text });
        }
    }
}

type Rule = fn(&[File]) -> Vec<String>;

/// The tree gives no complaint, and the bad sample gives exactly one.
fn holds(rule: Rule, bad: &[File]) {
    let complaints = rule(&tree());
    assert!(complaints.is_empty(), "\n{}", complaints.join("\n"));
    assert_eq!(rule(bad).len(), 1, "the rule does not see the bad sample: {:?}", rule(bad));
}

// --- headers and length -------------------------------------------------------------------------------------------

fn headers(files: &[File]) -> Vec<String> {
    let missing = files.iter().filter(|file| !has_header(file));
    missing.map(|file| format!("{}: does not begin with what it is for", file.path)).collect()
}

fn has_header(file: &File) -> bool {
    let mut lines = file.text.lines().skip_while(|line| line.starts_with("#!"));
    let first = lines.next().unwrap_or_default();
    if file.ends(".rs") {
        first.starts_with("//! ")
    } else if file.ends(".py") {
        first.starts_with("# ") || first.starts_with("\"\"\"")
    } else if file.ends(".sql") {
        first.starts_with("-- ")
    } else if file.ends(".sh") || file.path.starts_with(".ci/") || file.ends(".md") {
        first.starts_with("# ")
    } else {
        true
    }
}

#[test]
fn every_file_begins_with_what_it_is_for() {
    holds(headers, &[File::new("a.rs", "use x;\n"), File::new("b.sql", "-- Bonds of a part.\n")]);
    holds(
        headers,
        &[File::new("a.sh", "#!/bin/sh\nls\n"), File::new("b.py", "#!/usr/bin/env python3\n\"\"\"Oracle.\n")],
    );
}

/// Past 400 lines a file says why.
fn length(files: &[File]) -> Vec<String> {
    let long = files.iter().filter(|file| file.ends(".rs") && file.text.lines().count() > 400);
    let silent = long.filter(|file| {
        !file.text.lines().take_while(|line| line.starts_with("//!")).any(|l| l.contains("Long because"))
    });
    silent.map(|file| format!("{}: over 400 lines, and its header has no \"Long because …\"", file.path)).collect()
}

#[test]
fn a_long_file_says_why() {
    let long = "x\n".repeat(401);
    let said = format!("//! Table. Long because it is one table.\n{long}");
    holds(length, &[File::new("a.rs", &long), File::new("b.rs", &said), File::new("c.rs", "x\n")]);
}

// --- arrows ---------------------------------------------------------------------------------------------------------

/// The rooms, and what each may lean on. No arrow runs back up.
const ARROWS: &[(&str, &[&str])] = &[
    ("crates/glue", &[]),
    ("crates/logbook", &["glue"]),
    ("crates/workshop", &["glue", "logbook"]),
    ("crates/report", &["workshop"]),
    ("crates/cli", &["workshop", "report"]),
    ("src-tauri", &["workshop", "report"]),
    ("xtask", &[]),
];
const ROOMS: &[&str] = &["glue", "logbook", "workshop", "report"];

fn arrows(files: &[File]) -> Vec<String> {
    let mut complaints = Vec::new();
    for (room, allowed) in ARROWS {
        let forbidden = ROOMS.iter().filter(|other| !allowed.contains(other) && !room.ends_with(**other));
        for other in forbidden {
            let inside = files.iter().filter(|file| file.path.starts_with(&format!("{room}/")));
            complaints.extend(inside.filter_map(|file| leans_on(file, other)));
        }
    }
    complaints
}

fn leans_on(file: &File, other: &str) -> Option<String> {
    let said = |line: &str| format!("{}: leans on `{other}`: {}", file.path, line.trim());
    if file.ends("Cargo.toml") {
        return dependencies(&file.text).find(|line| dependency(line) == other).map(said);
    }
    let path = format!("{other}::");
    file.code().find(|(_, line)| file.ends(".rs") && names_crate(line, &path)).map(|(_, line)| said(line))
}

fn names_crate(line: &str, path: &str) -> bool {
    line.match_indices(path).any(|(at, _)| !line[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':'))
}

/// Lines below a heading with `dependencies` in it.
fn dependencies(text: &str) -> impl Iterator<Item = &str> {
    let mut inside = false;
    text.lines().filter(move |line| {
        if line.starts_with('[') {
            inside = line.contains("dependencies");
        }
        inside && !line.starts_with('[') && !line.trim().is_empty()
    })
}

fn dependency(line: &str) -> &str {
    line.split(['.', ' ', '=']).next().unwrap_or_default()
}

#[test]
fn no_arrow_runs_back_up() {
    holds(arrows, &[File::new("crates/glue/src/lib.rs", "//! x\nuse logbook::entry::Id;\n")]);
    holds(arrows, &[File::new("crates/logbook/Cargo.toml", "[dependencies]\nworkshop.workspace = true\n")]);
    holds(
        arrows,
        &[File::new("crates/workshop/Cargo.toml", "[dev-dependencies]\nreport = { path = \"../report\" }\n")],
    );
    holds(arrows, &[File::new("crates/cli/src/main.rs", "//! x\nlet a = logbook::store::Book::open(p);\n")]);
}

/// Every crate takes the workspace's lints; xtask stands on nothing but std.
fn manifests(files: &[File]) -> Vec<String> {
    let mut complaints = Vec::new();
    for file in files.iter().filter(|file| file.ends("Cargo.toml") && file.path.contains('/')) {
        if !file.path.starts_with("tests/") && !file.text.contains("[lints]\nworkspace = true") {
            complaints.push(format!("{}: does not take the workspace's lints", file.path));
        }
        if file.path.starts_with("xtask/") && dependencies(&file.text).next().is_some() {
            complaints.push(format!("{}: xtask has dependencies", file.path));
        }
    }
    complaints
}

#[test]
fn manifests_take_the_lints_and_xtask_stands_alone() {
    holds(manifests, &[File::new("crates/glue/Cargo.toml", "[package]\n")]);
    holds(manifests, &[File::new("xtask/Cargo.toml", "[lints]\nworkspace = true\n[dependencies]\nserde = \"1\"\n")]);
}

// --- bans -------------------------------------------------------------------------------------------------------------

/// What the code of a room never says, and why. Searched as text, in lines of code outside its own tests.
const BANS: &[(&str, &str, &[&str])] = &[
    (
        "glue",
        "reads no file, clock, database or environment, and prints nothing",
        &[
            "std::fs",
            "std::env",
            "std::time",
            "std::io",
            "std::net",
            "std::process",
            "rusqlite",
            "chrono::",
            "println!",
            "print!(",
            "dbg!(",
        ],
    ),
    (
        "logbook",
        "reads no clock, no environment, and prints nothing",
        &[
            "SystemTime",
            "time::Instant",
            "chrono::",
            "std::env",
            "println!",
            "print!(",
            "dbg!(",
            "julianday",
            "CURRENT_TIMESTAMP",
            "'now'",
        ],
    ),
    ("logbook", "never changes or deletes an entry", &["UPDATE entry", "DELETE FROM entry", "REPLACE INTO entry"]),
    (
        "workshop",
        "knows no window, no page and no terminal",
        &[
            "tauri",
            "<html",
            "text/html",
            "typst",
            "krilla",
            "println!",
            "print!(",
            "dbg!(",
            "env::args",
            "is_terminal",
            "io::stdout",
            "clap",
        ],
    ),
    (
        "report",
        "queries nothing, reads no clock, opens no file",
        &[
            "std::fs",
            "std::env",
            "std::time",
            "std::io",
            "std::net",
            "chrono::",
            "Workshop",
            ".ask(",
            ".act(",
            "println!",
            "print!(",
            "dbg!(",
        ],
    ),
];

/// SQL stands in `logbook` alone.
const SQL: &[&str] =
    &["rusqlite", "SELECT ", "INSERT INTO", "DELETE FROM", "CREATE TABLE", "PRAGMA ", "BEGIN IMMEDIATE", " WHERE "];

fn bans(files: &[File]) -> Vec<String> {
    let mut complaints = Vec::new();
    for file in files {
        let Some(room) = file.room() else { continue };
        for (_, never, words) in BANS.iter().filter(|(of, ..)| *of == room) {
            complaints.extend(says(file, words).map(|line| format!("{line} — `{room}` {never}")));
        }
        if room != "logbook" && file.ends(".rs") {
            complaints.extend(says(file, SQL).map(|line| format!("{line} — SQL stands in `logbook` alone")));
        }
    }
    complaints
}

/// Places where a file's code says one of the words, one per line.
fn says<'a>(file: &'a File, words: &'a [&str]) -> impl Iterator<Item = String> + 'a {
    let hits =
        file.code().filter_map(|(at, line)| words.iter().find(|word| line.contains(**word)).map(|word| (at, word)));
    hits.map(|(at, word)| format!("{}:{at}: {word}", file.path))
}

#[test]
fn each_room_keeps_its_ban() {
    for (path, line) in [
        ("crates/glue/src/lib.rs", "let text = std::fs::read(path)?;"),
        ("crates/glue/src/lib.rs", "println!(\"{x}\");"),
        ("crates/logbook/src/store/a.rs", "let now = SystemTime::now();"),
        ("crates/logbook/src/store/a.sql", "UPDATE entry SET bytes = ?1;"),
        ("crates/workshop/src/act/mix.rs", "println!(\"{x}\");"),
        ("crates/workshop/src/act/mix.rs", "connection.execute(\"INSERT INTO bond VALUES (1)\")"),
        ("crates/report/src/lib.rs", "std::fs::write(path, page)?;"),
        ("crates/report/src/lib.rs", "let trace = doors.ask(question)?;"),
        ("crates/cli/src/main.rs", "use rusqlite::Connection;"),
    ] {
        holds(bans, &[File::new(path, line), File::new(path, &format!("// {line}\n#[cfg(test)]\n{line}"))]);
    }
}

// --- words ------------------------------------------------------------------------------------------------------------

/// Verdicts that only people give. Spelled in two pieces, so that this file does not accuse itself.
const VERDICTS: &[&str] = &[concat!("appr", "oved"), concat!("airw", "orth")];

fn verdicts(files: &[File]) -> Vec<String> {
    let spoken =
        files.iter().filter(|file| file.room().is_some() || file.path.starts_with("docs/") || file.path == "README.md");
    let lines = spoken.flat_map(|file| file.code().map(move |(at, line)| (file, at, line.to_lowercase())));
    let bad = lines.filter(|(_, _, line)| VERDICTS.iter().any(|word| line.contains(word)));
    bad.map(|(file, at, line)| format!("{}:{at}: a verdict that is not ours: {}", file.path, line.trim())).collect()
}

#[test]
fn no_sentence_gives_a_verdict_that_is_not_ours() {
    let bad = format!("let said = \"The bond is {}.\";", VERDICTS[0]);
    holds(verdicts, &[File::new("crates/workshop/src/judge/words.rs", &bad)]);
    holds(verdicts, &[File::new("docs/guide/a.md", &format!("# A\nThe part is {}y.", VERDICTS[1]))]);
}

/// Paths that exist on one machine only.
fn machine_paths(files: &[File]) -> Vec<String> {
    let roots = [concat!("/wo", "rk/"), concat!("/ro", "ot/"), concat!("/ho", "me/")];
    let lines = files.iter().flat_map(|file| file.text.lines().enumerate().map(move |(at, line)| (file, at + 1, line)));
    let bad = lines.filter(|(_, _, line)| roots.iter().any(|root| line.contains(root)));
    bad.map(|(file, at, line)| format!("{}:{at}: a path of one machine: {}", file.path, line.trim())).collect()
}

#[test]
fn no_path_of_one_machine_is_named() {
    holds(machine_paths, &[File::new("docs/a.md", concat!("# A\nsee /ro", "ot/notes"))]);
}

/// Unfinished code and silenced tests.
fn unfinished(files: &[File]) -> Vec<String> {
    let marks =
        [concat!("todo", "!("), concat!("unimplemented", "!("), concat!("#[ign", "ore"), concat!("#[all", "ow(")];
    let sources = files.iter().filter(|file| file.ends(".rs"));
    let lines = sources.flat_map(|file| file.text.lines().enumerate().map(move |(at, line)| (file, at + 1, line)));
    let bad = lines.filter(|(_, _, line)| marks.iter().any(|mark| line.contains(mark)));
    bad.map(|(file, at, line)| format!("{}:{at}: {}", file.path, line.trim())).collect()
}

#[test]
fn nothing_is_left_unfinished_or_silenced() {
    holds(unfinished, &[File::new("a.rs", concat!("//! x\nfn f() { todo", "!() }\n"))]);
    holds(unfinished, &[File::new("a.rs", concat!("//! x\n#[ign", "ore]\nfn f() {}\n"))]);
}

/// A seeded fault names the tests that are meant to notice it.
fn faults(files: &[File]) -> Vec<String> {
    let patches = files.iter().filter(|file| file.path.starts_with("tests/faults/") && file.ends(".patch"));
    let silent = patches.filter(|file| !file.text.lines().any(|line| line.starts_with("# test: ")));
    silent.map(|file| format!("{}: no line \"# test: …\"", file.path)).collect()
}

#[test]
fn every_seeded_fault_names_its_tests() {
    holds(faults, &[File::new("tests/faults/01-x.patch", "--- a\n+++ b\n")]);
}

/// Links between pages lead somewhere.
fn links(files: &[File]) -> Vec<String> {
    let mut complaints = Vec::new();
    for page in files.iter().filter(|file| file.ends(".md")) {
        let folder = Path::new(&page.path).parent().unwrap_or(Path::new(""));
        let targets = page.text.split("](").skip(1).filter_map(|rest| rest.split(')').next());
        let inner = targets.filter(|target| !target.contains("://") && !target.starts_with('#'));
        for target in inner.map(|target| target.split('#').next().unwrap_or(target)) {
            let wanted = plain(&folder.join(target));
            // A picture is no text, so it is not among the files read.
            let is_there = |wanted: &str| Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(wanted).is_file();
            let picture = wanted.ends_with(".png") && is_there(&wanted);
            if !picture && !files.iter().any(|file| file.path == wanted) {
                complaints.push(format!("{}: a link to {target}, which is not there", page.path));
            }
        }
    }
    complaints
}

/// A path without `..`.
fn plain(path: &Path) -> String {
    let mut parts: Vec<String> = Vec::new();
    for part in path.iter().map(|part| part.to_string_lossy().into_owned()) {
        if part == ".." {
            parts.pop();
        } else {
            parts.push(part);
        }
    }
    parts.join("/")
}

#[test]
fn every_link_between_pages_leads_somewhere() {
    let there = || File::new("docs/b.md", "# B\nsee [A](../a.md#top) and [far](https://example.org/)\n");
    holds(links, &[File::new("a.md", "# A\nsee [B](docs/b.md) and [C](docs/c.md)\n"), there()]);
}
