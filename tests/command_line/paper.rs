//! The page on paper, looked at with tools that share nothing with the typesetter: qpdf, poppler, a reader of squares.

use super::shape::refused;
use super::shop::{told, with_a_bond};
use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use tests::binary::{Shop, gluewright};

/// The page of R3-L as PDF.
fn handed_out(shop: &Shop, words: &[&str]) -> PathBuf {
    let mut all = vec!["record", "R3-L", "--out", "page.pdf"];
    all.extend(words);
    let done = shop.run(&all);
    assert_eq!((done.status, done.out.as_str(), done.err.as_str()), (0, "", ""), "{done:?}");
    shop.folder.path().join("page.pdf")
}

/// Standard output of a tool that must be there and must be content.
fn tool(name: &str, words: &[&str], file: &Path) -> Vec<u8> {
    let mut command = Command::new(name);
    command.args(
        words.iter().map(|word| if *word == "FILE" { file.as_os_str().into() } else { std::ffi::OsString::from(word) }),
    );
    let done = command.output().unwrap_or_else(|why| panic!("{name} is needed ({why}): cargo xtask test installs it"));
    assert!(done.status.success(), "{name}: {}", String::from_utf8_lossy(&done.stderr));
    done.stdout
}

fn words_on(file: &Path) -> String {
    let text = String::from_utf8(tool("pdftotext", &["-layout", "FILE", "-"], file)).expect("UTF-8");
    text.split_whitespace().collect::<Vec<&str>>().join(" ")
}

/// The attached page.
fn attached(file: &Path) -> Value {
    let out = file.with_extension("attached");
    let out = out.to_str().expect("a path in UTF-8").to_owned();
    tool("pdfdetach", &["-save", "1", "-o", &out, "FILE"], file);
    serde_json::from_slice(&std::fs::read(out).expect("it was saved")).expect("it is JSON")
}

#[test]
fn the_file_is_sound_archival_tagged_and_names_its_language() {
    let shop = with_a_bond();
    let file = handed_out(&shop, &[]);
    let checked = String::from_utf8(tool("qpdf", &["--check", "FILE"], &file)).expect("UTF-8");
    assert!(checked.contains("No syntax or stream encoding errors"), "{checked}");
    let info = String::from_utf8(tool("pdfinfo", &["FILE"], &file)).expect("UTF-8");
    let line = |name: &str| info.lines().find(|line| line.starts_with(name)).unwrap_or_default().to_owned();
    assert!(line("Tagged:").ends_with("yes"), "{info}");
    assert!(line("Page size:").contains("A4"), "{info}");
    let about = String::from_utf8_lossy(&tool("pdfinfo", &["-meta", "FILE"], &file)).into_owned();
    for claim in
        ["<pdfaid:part>3</pdfaid:part>", "<pdfaid:conformance>A</pdfaid:conformance>", "<pdfuaid:part>1</pdfuaid:part>"]
    {
        assert!(about.contains(claim), "{claim}: {about}");
    }
    let fonts = String::from_utf8(tool("pdffonts", &["FILE"], &file)).expect("UTF-8");
    for font in fonts.lines().skip(2) {
        assert!(font.contains("Atkinson") && font.contains(" yes yes yes "), "embedded, subset, with letters: {font}");
    }
}

#[test]
fn what_the_page_says_stands_on_the_paper() {
    let shop = with_a_bond();
    let file = handed_out(&shop, &[]);
    let (words, page) = (words_on(&file), attached(&file));
    for section in page["sections"].as_array().expect("sections") {
        let heading = section["heading"].as_str().expect("a heading");
        assert!(words.contains(heading), "{heading} is missing in {words}");
    }
    let first = page["sections"][0]["blocks"][0]["items"][0]["sentence"].as_str().expect("something to look at");
    assert!(words.contains(&plain(first)), "{first}");
    for known in ["Bond 1", "41.7 g resin, 18.3 g hardener", "Pot life", "not recorded", "Together", "page 1 of"] {
        assert!(words.contains(known), "{known} is missing in {words}");
    }
    for line in page["sections"][5]["blocks"][0]["lines"].as_array().expect("three lines") {
        assert!(words.contains(line.as_str().expect("text")), "the checkpoint can be copied off: {line} in {words}");
    }
    let low = words.to_lowercase();
    assert!(!low.contains("airworthy") && !low.contains("approved"), "{words}");
}

fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<&str>>().join(" ")
}

#[test]
fn the_same_record_gives_the_same_file_and_the_attached_page_is_the_page() {
    let shop = with_a_bond();
    let folder = shop.folder.path();
    // Clocks run on; judged at one instant, nothing does.
    let at = ["--at", "2199-01-01T00:00:00Z"];
    let write = |name: &str| {
        let done = shop.run(&[&at[..], &["record", "R3-L", "--out", name]].concat());
        assert_eq!(done.status, 0, "{done:?}");
        std::fs::read(folder.join(name)).expect("it was written")
    };
    let (one, other, page) = (write("page.pdf"), write("other.pdf"), write("page.json"));
    assert!(one == other, "two files");
    let file = folder.join("page.pdf");
    attached(&file);
    assert!(std::fs::read(file.with_extension("attached")).expect("it was saved") == page, "byte for byte");
    let list = String::from_utf8(tool("pdfdetach", &["-list", "FILE"], &file)).expect("UTF-8");
    assert!(list.contains("1 embedded files") && list.contains("page.json"), "{list}");
}

#[test]
fn the_squares_hold_the_checkpoint_that_verify_takes() {
    let shop = with_a_bond();
    let file = handed_out(&shop, &[]);
    let read = squares(&file);
    let checkpoint = &attached(&file)["sections"][5]["blocks"][0];
    assert_eq!(Some(read.as_str()), checkpoint["qr"].as_str());
    assert_eq!(read, shop.run(&["checkpoint"]).out, "the same three lines");
    std::fs::write(shop.folder.path().join("kept"), &read).expect("written");
    shop.act(&told("10:00", "place", json!({ "name": "loft" })));
    assert_eq!(shop.run(&["verify", "--checkpoint", "kept"]).status, 0);
}

/// Reads the squares off the grey sheets, as a flatbed would see them: at 150 dots to the inch a module is four dots wide,
/// and whether it is read depends on where on the sheet it falls.
fn squares(file: &Path) -> String {
    let sheets = String::from_utf8(tool("pdfinfo", &["FILE"], file)).expect("UTF-8");
    let last = sheets.lines().find_map(|line| line.strip_prefix("Pages:")).expect("pages").trim().to_owned();
    let found = (1..=last.parse::<u32>().expect("a number")).rev().find_map(|sheet| {
        let sheet = sheet.to_string();
        let image = tool("pdftoppm", &["-gray", "-r", "300", "-f", &sheet, "-l", &sheet, "FILE"], file);
        let (width, height, grey) = grey(&image);
        let mut prepared = rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| grey[y * width + x]);
        prepared.detect_grids().first().map(|grid| grid.decode().expect("the squares can be read").1)
    });
    found.expect("squares on one of the sheets")
}

/// Width, height and the pixels of a binary PGM.
fn grey(image: &[u8]) -> (usize, usize, Vec<u8>) {
    let mut fields = image.splitn(4, |byte| byte.is_ascii_whitespace());
    assert_eq!(fields.next(), Some(b"P5".as_slice()));
    let mut number =
        || std::str::from_utf8(fields.next().expect("a field")).expect("digits").parse::<usize>().expect("a number");
    let (width, height) = (number(), number());
    (width, height, image[image.len() - width * height..].to_vec())
}

#[test]
fn letter_paper_is_letter_and_progress_is_told_in_lines() {
    let shop = with_a_bond();
    let done = shop.run(&["record", "R3-L", "--out", "page.pdf", "--paper", "letter", "--progress"]);
    assert_eq!((done.status, done.out.as_str()), (0, ""), "{done:?}");
    let told: Vec<Value> = done.err.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    let steps: Vec<u64> = told.iter().map(|line| line["done"].as_u64().expect("millionths")).collect();
    assert!(steps.windows(2).all(|pair| pair[0] < pair[1]), "{steps:?}");
    assert_eq!((steps.first(), steps.last()), (Some(&0), Some(&1_000_000)));
    assert!(told.iter().all(|line| line["said"].as_str().is_some_and(|said| !said.is_empty())));
    let info = tool("pdfinfo", &["FILE"], &shop.folder.path().join("page.pdf"));
    assert!(String::from_utf8_lossy(&info).contains("612 x 792 pts (letter)"));
    refused(&shop.run(&["--json", "record", "R3-L", "--paper", "foolscap"]), 2, "out-of-range");
}

#[test]
fn a_page_that_cannot_be_written_or_is_cut_short_leaves_no_half_file() {
    let shop = with_a_bond();
    let folder = shop.folder.path();
    let done = shop.run(&["--json", "record", "R3-L", "--out", "no such folder/page.pdf"]);
    assert_eq!(done.status, 1, "{done:?}");
    assert!(!folder.join("no such folder").exists());
    std::fs::write(folder.join("page.pdf"), "kept").expect("written");
    for steps in 1..=5 {
        killed_after(&shop, steps);
        let left = std::fs::read(folder.join("page.pdf")).expect("the file is there");
        assert!(left == b"kept" || left.trim_ascii_end().ends_with(b"%%EOF"), "half a file after {steps} steps");
    }
    handed_out(&shop, &[]);
    tool("qpdf", &["--check", "FILE"], &folder.join("page.pdf"));
}

/// Kills the program as soon as it has told so many steps.
fn killed_after(shop: &Shop, steps: usize) {
    let mut command = shop.command(gluewright());
    command.args(["record", "R3-L", "--out", "page.pdf", "--progress"]).stderr(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    let told = BufReader::new(child.stderr.take().expect("a pipe")).lines().take(steps).count();
    assert_eq!(told, steps, "it tells its steps");
    let _ = child.kill();
    child.wait().expect("it ends");
}

#[test]
fn a_correction_stands_with_old_and_new_value_where_it_belongs() {
    let shop = with_a_bond();
    let trace = shop.ask("trace", json!({ "part": "R3-L" }));
    let entries = trace["bonds"][0]["entries"].as_array().expect("entries").clone();
    let mix = entries.iter().find(|entry| entry["kind"] == "mix").expect("a mix");
    let batch = trace["bonds"][0]["batches"][0]["id"].clone();
    shop.act(&json!([{
        "act": "correct", "person": "ann", "body": { "entry": mix["id"], "why": "digits swapped", "body": {
            "batch": batch, "card": "invented epoxy", "containers": ["can R", "can H"], "resin": "41.7 g",
            "hardener": "13.8 g", "instrument": "scale", "place": "bench",
        } },
    }]));
    let file = handed_out(&shop, &[]);
    let told = "Hardener 13.8 g, was 18.3 g";
    let page = attached(&file);
    let in_section = |n: usize| page["sections"][n]["blocks"].to_string();
    assert!(in_section(1).contains(told), "under its bond: {}", in_section(1));
    assert!(in_section(4).contains(told), "in its own section: {}", in_section(4));
    let words = words_on(&file);
    assert_eq!(words.matches(told).count(), 2, "{words}");
    assert!(words.contains("by ann") && words.contains("digits swapped"), "{words}");
}

#[test]
fn a_part_without_bonds_has_a_page_too() {
    let shop = Shop::new();
    shop.act(&json!([{ "act": "part", "body": { "mark": "W-1" } }]));
    let done = shop.run(&["record", "W-1", "--out", "page.pdf"]);
    assert_eq!(done.status, 0, "{done:?}");
    let words = words_on(&shop.folder.path().join("page.pdf"));
    assert!(words.contains("not glued yet") && words.contains("No bond of this part is recorded."), "{words}");
}

#[test]
fn every_time_on_the_page_is_in_one_zone_and_every_value_in_the_units_asked_for() {
    let shop = with_a_bond();
    let mut command = shop.command(gluewright());
    // West of Greenwich in the sign of these names is east: UTC+05:00.
    command.env("TZ", "Etc/GMT-5").args(["--units", "us", "record", "R3-L", "--out", "page.pdf"]);
    assert!(command.status().expect("it starts").success());
    let words = words_on(&shop.folder.path().join("page.pdf"));
    assert!(words.contains("Times are UTC+05:00."), "{words}");
    let words = words.replace('\u{a0}', " ");
    for known in
        ["14:15 Together", "together 14:15", "in time", "45 min at 68 \u{b0}F", "cures at 59 \u{b0}F or warmer"]
    {
        assert!(words.contains(known), "{known} is missing in {words}");
    }
    assert!(!words.contains("09:15"), "a time of another zone: {words}");
}
