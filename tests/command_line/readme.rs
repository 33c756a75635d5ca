//! The README's commands, run as they are printed, in the order they are printed.

use std::process::Stdio;
use tests::binary::{Done, Shop, gluewright};

const README: &str = include_str!("../../README.md");

/// The shell blocks of the part about the main job.
fn blocks() -> Vec<String> {
    let part = README.split("## The main job by hand").nth(1).expect("that part").split("\n## ").next().unwrap();
    part.split("```sh\n").skip(1).map(|rest| rest.split("```").next().unwrap().to_owned()).collect()
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
fn the_two_commands_are_printed() {
    for command in ["cargo xtask run", "cargo xtask test"] {
        assert!(README.contains(command), "{command}");
    }
}
