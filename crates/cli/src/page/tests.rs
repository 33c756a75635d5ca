//! The drawing by itself: it stands up to many bonds, none, long words, letters that no font has, and gives the same
//! bytes each time.

use super::sample::page;
use super::{Paper, pdf};
use serde_json::{Value, json};

fn drawn(page: &Value, paper: Paper) -> Vec<u8> {
    pdf(page, paper, |_, _| ()).expect("the page can be set")
}

/// How many sheets it takes, as it tells while drawing.
fn sheets(page: &Value, paper: Paper) -> usize {
    let mut said = String::new();
    pdf(page, paper, |done, what| {
        if done == 600_000 {
            said = what.to_owned();
        }
    })
    .expect("the page can be set");
    said.split(' ').nth(1).and_then(|n| n.parse().ok()).expect("it tells how many")
}

#[test]
fn the_same_page_gives_the_same_bytes_and_the_paper_changes_them() {
    let page = page(2);
    let one = drawn(&page, Paper::A4);
    assert!(one.starts_with(b"%PDF-1.7"));
    assert!(one == drawn(&page, Paper::A4), "drawn twice, two files");
    assert!(one != drawn(&page, Paper::Letter));
}

#[test]
fn thirty_bonds_and_none_can_be_drawn() {
    assert!(sheets(&page(30), Paper::A4) >= 10);
    assert_eq!(sheets(&page(0), Paper::A4), 1);
    assert_eq!(sheets(&page(0), Paper::Letter), 1);
}

#[test]
fn what_no_font_has_and_what_has_no_end_can_be_drawn() {
    let mut page = page(1);
    page["title"] = json!("Нервюра 肋 \u{202e}\u{1f6e9} R7");
    let word = "Donaudampfschifffahrtsgesellschaft".repeat(40);
    let long = json!({ "block": "table", "heads": ["A", "B"], "widths": [1, 9], "rows": [
        [{ "text": word, "tone": "heat" }, { "text": null, "tone": "doubt" }],
        [{ "text": "very long ".repeat(1200), "tone": "plain" }, { "text": "x", "tone": "moss" }],
    ] });
    page["sections"][1]["blocks"] = json!([long]);
    drawn(&page, Paper::A4);
    drawn(&page, Paper::Letter);
}

#[test]
fn the_file_bears_the_instant_of_issue_and_a_page_without_one_is_no_file() {
    let bytes = drawn(&page(1), Paper::A4);
    assert!(String::from_utf8_lossy(&bytes).contains("D:20261125090000"));
    let mut looked_at = page(1);
    looked_at["issued"] = Value::Null;
    let why = pdf(&looked_at, Paper::A4, |_, _| ()).expect_err("a page that nobody handed out has no date");
    assert!(why.contains("date"), "{why}");
}

/// Name and value of each colour in the first block of the screen's style sheet: the light theme.
fn light(css: &str) -> Vec<(String, String)> {
    let block = css.split('}').next().expect("a block");
    let lines = block.lines().filter_map(|line| line.trim().strip_prefix("--")?.split_once(": #"));
    lines.map(|(name, rest)| (name.to_owned(), format!("#{}", rest.split(';').next().unwrap_or_default()))).collect()
}

#[test]
fn the_colours_on_paper_are_those_of_the_light_screen() {
    let tokens: Value = serde_json::from_str(include_str!("../../../../assets/tokens.json")).expect("JSON");
    let screen = light(include_str!("../../../../ui/src/look/tokens.css"));
    assert!(screen.len() > 15, "{screen:?}");
    for (name, value) in tokens.as_object().expect("names") {
        let same = screen.iter().find(|(known, _)| known == name).map(|(_, it)| it.as_str());
        assert_eq!(same, value.as_str(), "{name}");
    }
}
