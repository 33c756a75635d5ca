//! Checkpoints, pages, the schema, the guide, the made-up shop's file.

use super::shape::refused;
use super::shop::{told, with_a_bond};
use serde_json::{Value, json};
use tests::binary::Shop;

#[test]
fn a_checkpoint_is_three_lines_and_is_held_against_the_book() {
    let shop = with_a_bond();
    let answer = shop.run(&["checkpoint", "--json"]).object();
    let lines =
        format!("{}\n{}\n{}\n", answer["log"].as_str().unwrap(), answer["size"], answer["root"].as_str().unwrap());
    assert_eq!(shop.run(&["checkpoint"]).out, lines);
    let done = shop.run(&["checkpoint", "--out", "kept"]);
    assert_eq!((done.status, done.out.as_str()), (0, ""));
    assert_eq!(std::fs::read_to_string(shop.folder.path().join("kept")).unwrap(), lines);
    shop.act(&told("10:00", "place", json!({ "name": "loft" })));
    assert_eq!(shop.run(&["verify", "--checkpoint", "kept"]).status, 0, "grown since");
    let other = lines.replacen(&answer["root"].as_str().unwrap()[..4], "AAAA", 1);
    std::fs::write(shop.folder.path().join("other"), other).unwrap();
    let found = shop.run(&["verify", "--checkpoint", "other", "--json"]);
    assert_eq!(found.status, 3, "{found:?}");
    assert_eq!(found.object()["found"][0]["what"], "checkpoint");
    refused(&shop.run(&["verify", "--checkpoint", "nowhere", "--json"]), 2, "not-found");
}

#[test]
fn a_page_states_its_issue_once_and_then_repeats_byte_for_byte() {
    let shop = with_a_bond();
    let before = shop.ask("checkpoint", json!({}))["size"].as_u64().unwrap();
    let done = shop.run(&["record", "R3-L", "--json"]);
    assert_eq!(done.status, 0, "{done:?}");
    let page = done.object();
    assert_eq!((page["page"].as_str(), page["part"]["mark"].as_str()), (Some("part"), Some("R3-L")));
    assert_eq!(page["sections"][0]["section"], "look-at-first");
    assert_eq!(page["issued"]["seq"].as_u64(), Some(before), "the issue is the next entry");
    assert!(
        page["issued"]["at"].as_str().is_some_and(|at| at.ends_with("Z")),
        "its instant is told: {}",
        page["issued"]
    );
    let counts = page["issued"]["counts"].as_array().unwrap();
    let part = counts.iter().find(|count| count["id"] == page["part"]["id"]).expect("the part is counted");
    let about: usize = (0..before).filter(|seq| is_about(&shop, *seq, &page["part"]["id"])).count();
    assert_eq!(part["n"].as_u64(), Some(about as u64), "the count is that of the entries before it");
    let again = shop.run(&["record", "R3-L", "--out", "page.json"]);
    assert_eq!((again.status, again.out.as_str()), (0, ""), "{again:?}");
    assert_eq!(shop.ask("checkpoint", json!({}))["size"].as_u64(), Some(before + 1), "unchanged: issued once");
    let kept: Value = serde_json::from_slice(&std::fs::read(shop.folder.path().join("page.json")).unwrap()).unwrap();
    assert_eq!(kept["issued"], page["issued"]);
    refused(&shop.run(&["record", "no such part", "--json"]), 2, "not-found");
}

fn is_about(shop: &Shop, seq: u64, id: &Value) -> bool {
    let entry = shop.ask("entry", json!({ "seq": seq }))["entry"].clone();
    entry["about"].as_array().into_iter().flatten().any(|about| about["id"] == *id)
}

#[test]
fn the_guide_names_every_act_and_every_field() {
    let schema: Value = serde_json::from_str(&Shop::new().run(&["schema"]).out).unwrap();
    let guide = include_str!("../../docs/guide/command-line.md");
    let acts = schema["acts"].as_object().expect("acts");
    assert!(acts.len() > 25, "{} acts", acts.len());
    for (act, body) in acts {
        assert!(act == "envelope" || guide.contains(&format!("| `{act}` |")), "the guide has no act {act}");
        for field in body["properties"].as_object().into_iter().flatten().map(|(name, _)| name) {
            assert!(guide.contains(&format!("`{field}`")), "the guide does not name {act}.{field}");
        }
    }
}

#[test]
fn the_stored_schema_is_what_the_program_prints() {
    assert!(Shop::new().run(&["schema"]).out == include_str!("../../docs/schema.json"), "run `cargo xtask schema`");
}

#[test]
fn a_demo_never_replaces_a_file() {
    let shop = with_a_bond();
    let before = std::fs::read(shop.book()).unwrap();
    refused(&shop.run(&["--json", "demo", "shop.book"]), 2, "conflict");
    refused(&shop.run(&["--json", "demo", "new.book", "--until", "soon"]), 2, "out-of-range");
    assert_eq!(std::fs::read(shop.book()).unwrap(), before);
    assert!(!shop.folder.path().join("new.book").exists());
}
