//! The README's commands, run as they are printed, in the order they are printed; then the inspector's, on what they made.

use std::process::Stdio;
use tests::binary::{Done, Shop, gluewright};

const README: &str = include_str!("../../README.md");
const INSPECTOR: &str = include_str!("../../docs/guide/reading-a-page.md");

/// The shell blocks of the part about the main job.
fn blocks() -> Vec<String> {
    let part = README.split("## The main job by hand").nth(1).expect("that part").split("\n## ").next().unwrap();
    shell_blocks(part)
}

fn shell_blocks(text: &str) -> Vec<String> {
    text.split("```sh\n").skip(1).map(|rest| rest.split("```").next().unwrap().to_owned()).collect()
}

fn there_is(program: &str) -> bool {
    std::process::Command::new(program).arg("-v").stdin(Stdio::null()).output().is_ok()
}

#[test]
fn the_main_job_goes_by_hand_as_the_readme_prints_it() {
    let blocks = blocks();
    assert!(blocks.len() >= 7, "{} blocks", blocks.len());
    let shop = Shop::new();
    let folder = gluewright().parent().unwrap();
    let path = format!("{}:{}", folder.display(), std::env::var("PATH").unwrap());
    let script = format!("set -eu\n{}", blocks.join("\n"));
    let mut shell = shop.command(std::path::Path::new("sh"));
    let output = shell.env("PATH", path).args(["-c", &script]).stdin(Stdio::null()).output().unwrap();
    let done = Done::new(output);
    assert_eq!((done.status, done.err.as_str()), (0, ""), "{done:?}");
    for said in ["\"made\":{\"bond\":\"1\"}", "clamp", "R3-L", "H-77", "Nothing was found"] {
        assert!(done.out.contains(said), "{said}\n{}", done.out);
    }
    let page = std::fs::read_to_string(shop.folder.path().join("R3-L.json")).unwrap();
    assert!(page.starts_with('{') && page.ends_with("}\n"));
}

#[test]
fn the_inspector_checks_a_page_as_the_guide_prints_it() {
    if !there_is("python3") || !there_is("pdfdetach") {
        return println!(
            "SKIPPED: python3 or pdfdetach (poppler-utils) is not here, so the guide's commands were not tried"
        );
    }
    let shop = Shop::new();
    let path = format!("{}:{}", gluewright().parent().unwrap().display(), std::env::var("PATH").unwrap());
    let docs = concat!(env!("CARGO_MANIFEST_DIR"), "/../docs");
    std::os::unix::fs::symlink(docs, shop.folder.path().join("docs")).unwrap();
    let run = |script: &str| {
        let mut shell = shop.command(std::path::Path::new("sh"));
        Done::new(shell.env("PATH", &path).args(["-c", script]).stdin(Stdio::null()).output().unwrap())
    };
    let made = format!("set -eu\n{}\ngluewright record R3-L --out R3-L.pdf", blocks().join("\n"));
    assert_eq!(run(&made).status, 0);
    let printed = shell_blocks(INSPECTOR);
    assert_eq!(printed.len(), 3, "take out, check, look an entry up");
    let done = run(&format!("set -eu\n{}", printed.join("\n")));
    assert_eq!((done.status, done.err.as_str()), (0, ""), "{done:?}");
    let checkpoint = std::fs::read_to_string(shop.folder.path().join("page.checkpoint")).unwrap();
    assert!(done.out.contains(&checkpoint) && done.out.contains("\"kind\":"), "{done:?}");
    let found = run(&format!("sed -i '2s/$/0/' page.checkpoint\n{}", printed[1]));
    assert!(found.status == 1 && found.out.contains("this book has fewer"), "{found:?}");
}

#[test]
fn the_two_commands_are_printed() {
    for command in ["cargo xtask run", "cargo xtask test"] {
        assert!(README.contains(command), "{command}");
    }
}
