//! Shapes and exit statuses.

use super::shop::{stores, told, with_a_bond};
use serde_json::{Value, json};
use tests::binary::{Done, Shop};

const CODES: &[&str] = &[
    "bad-json",
    "unknown-field",
    "missing",
    "out-of-range",
    "contradicts",
    "not-found",
    "ambiguous",
    "duplicate",
    "future",
    "conflict",
    "locked",
    "read-only",
    "newer",
    "not-a-book",
    "damaged",
    "disk",
    "fault",
];

/// The error of a refusal, with what every error must have.
pub fn refused(done: &Done, status: i32, code: &str) -> Value {
    assert_eq!(done.status, status, "{done:?}");
    let object = done.object();
    let error = object["error"].clone();
    assert_eq!(object.as_object().map(serde_json::Map::len), Some(1), "nothing beside the error: {done:?}");
    assert!(CODES.contains(&error["code"].as_str().unwrap()), "{done:?}");
    assert_eq!(error["code"], code, "{done:?}");
    for name in ["sentence", "advice"] {
        let sentence = error[name].as_str().unwrap();
        assert!(sentence.len() > 9 && sentence.ends_with(['.', '`', '!']), "{name} is a sentence: {done:?}");
    }
    assert_eq!(done.err, "", "nothing on standard error: {done:?}");
    error
}

#[test]
fn an_act_gives_one_receipt_with_sorted_names() {
    let shop = Shop::new();
    let done = shop.run(&["act", r#"{"act":"person","key":"k-1","body":{"name":"ann"}}"#]);
    assert_eq!((done.status, done.err.as_str()), (0, ""), "{done:?}");
    let receipt = &done.object()["receipt"];
    let names: Vec<&str> = receipt.as_object().unwrap().keys().map(String::as_str).collect();
    for name in ["changed", "entries", "log", "made", "owed", "repeat", "root", "size"] {
        assert!(names.contains(&name), "{name} in {names:?}");
    }
    let places: Vec<usize> = names.iter().map(|name| done.out.find(&format!("\"{name}\":")).unwrap()).collect();
    assert!(places.is_sorted(), "sorted: {}", done.out);
    assert_eq!(receipt["size"], 2, "log-start and the person");
    let last = receipt["entries"].as_array().unwrap().last().unwrap().clone();
    assert_eq!(
        (last["seq"].as_u64(), last["kind"].as_str(), last["leaf"].as_str().unwrap().len()),
        (Some(1), Some("person"), 64)
    );
    assert_eq!(receipt["repeat"], false);
}

#[test]
fn the_same_key_again_repeats_the_receipt_and_appends_nothing() {
    let shop = Shop::new();
    let act = r#"{"act":"person","key":"k-1","body":{"name":"ann"}}"#;
    let mut first = shop.run(&["act", act]).object()["receipt"].clone();
    shop.run(&["act", r#"{"act":"place","body":{"name":"bench"}}"#]);
    let again = shop.run(&["act", act]);
    first["repeat"] = json!(true);
    assert_eq!(again.object()["receipt"], first);
    assert_eq!(shop.ask("checkpoint", json!({}))["size"], 3);
    let other = shop.run(&["act", r#"{"act":"person","key":"k-1","body":{"name":"bob"}}"#]);
    refused(&other, 2, "conflict");
}

#[test]
fn a_refusal_leaves_size_and_root_and_says_which_field() {
    let shop = with_a_bond();
    let before = shop.ask("checkpoint", json!({}));
    for (act, code, field) in [
        (json!({ "act": "person", "body": { "name": "ann" } }), "duplicate", "body.name"),
        (json!({ "act": "person", "body": { "name": "bob", "age": "7" } }), "unknown-field", "body.age"),
        (json!({ "act": "person", "body": {} }), "missing", "body.name"),
        (json!({ "act": "person", "body": { "name": null } }), "bad-json", "body.name"),
        (told("09:30", "moved", json!({ "bond": "9", "place": "bench" })), "not-found", "body.bond"),
        (
            told("09:30", "reading", json!({ "place": "bench", "temperature": "700 F" })),
            "out-of-range",
            "body.temperature",
        ),
        (
            told("09:30", "reading", json!({ "place": "bench", "temperature": "20 C", "humidity": "140 %" })),
            "out-of-range",
            "body.humidity",
        ),
        (told("09:30", "throw-away", json!({ "batch": "Tue 1", "mass": "0 g" })), "out-of-range", "body.mass"),
        (json!({ "act": "place", "happened": "2199-01-01T00:00:00Z", "body": { "name": "x" } }), "future", "happened"),
        (
            json!({ "act": "place", "happened": "2026-02-30T00:00:00Z", "body": { "name": "x" } }),
            "out-of-range",
            "happened",
        ),
    ] {
        let done = shop.run(&["act", &act.to_string()]);
        let error = refused(&done, 2, code);
        assert_eq!(error["field"], field, "{act} {error}");
    }
    assert_eq!(shop.ask("checkpoint", json!({})), before);
}

#[test]
fn text_that_hides_or_floods_is_refused_without_being_echoed() {
    let shop = Shop::new();
    shop.act(&stores());
    let before = shop.ask("checkpoint", json!({}));
    for name in ["x".repeat(1_000_000), "R3\u{202e}L".to_owned(), "a\u{7}b".to_owned(), "a\nb".to_owned()] {
        let done = shop.run_with(&["act"], json!({ "act": "part", "body": { "mark": name } }).to_string().as_bytes());
        let error = refused(&done, 2, "out-of-range");
        assert_eq!(error["field"], "body.mark");
        assert!(done.out.len() < 2_000, "{} bytes of answer", done.out.len());
        assert!(!done.out.contains(['\u{202e}', '\u{7}']), "shown, not played: {}", done.out);
    }
    assert_eq!(shop.ask("checkpoint", json!({})), before);
}

#[test]
fn questions_are_byte_equal_on_repetition_and_change_no_byte() {
    let shop = with_a_bond();
    // SQLite's index of readers, and a write-ahead log without a single entry, belong to no record.
    let side = |name: &str, bytes: &[u8]| name.ends_with("-shm") || (name.ends_with("-wal") && bytes.is_empty());
    let files = || -> Vec<(String, Vec<u8>)> {
        let listing = std::fs::read_dir(shop.folder.path()).unwrap().map(|item| item.unwrap());
        let read =
            listing.map(|item| (item.file_name().to_string_lossy().into_owned(), std::fs::read(item.path()).unwrap()));
        let mut all: Vec<_> = read.filter(|(name, bytes)| !side(name, bytes)).collect();
        all.sort();
        all
    };
    let before = files();
    let later = super::shop::at("18:00");
    for words in [
        vec!["clocks"],
        vec!["clocks", "1"],
        vec!["clocks", "--batch", "Tue 1"],
        vec!["clocks", "--part", "R3-L"],
        vec!["trace", "R3-L"],
        vec!["where-used", "H-77"],
        vec!["owed"],
        vec!["bench"],
        vec!["batch", "Tue 1"],
        vec!["amounts", "invented epoxy", "--total", "60 g"],
        vec!["list", "lot"],
        vec!["entry", "3"],
        vec!["checkpoint"],
        vec!["verify", "--depth", "rebuild"],
    ] {
        let json: Vec<&str> = words.iter().copied().chain(["--json", "--at", &later]).collect();
        let (first, second) = (shop.run(&json), shop.run(&json));
        assert_eq!(first.status, 0, "{words:?}: {first:?}");
        first.object();
        assert_eq!(first.out, second.out, "{words:?}");
        let text = shop.run(&words);
        assert_eq!((text.status, text.err.as_str()), (0, ""), "{words:?}: {text:?}");
        assert!(text.out.len() > 9 && !text.out.starts_with('{'), "text for people: {text:?}");
    }
    assert!(files() == before, "a question changed a byte or left a file");
}

#[test]
fn ask_and_the_command_give_the_same_object() {
    let shop = with_a_bond();
    let later = super::shop::at("18:00");
    let command = shop.run(&["--at", &later, "--json", "clocks", "1"]).object();
    let asked = shop.run(&["ask", r#"{"ask":"clocks","body":{"bond":"1"}}"#, "--at", &later]).object();
    assert_eq!(asked["answer"], command);
    assert_eq!(command["at"], later);
    assert!(command["clocks"].as_array().unwrap().iter().any(|clock| clock["clock"] == "clamp"));
}

#[test]
fn a_command_line_that_is_not_understood_is_a_refusal_in_the_shape_asked_for() {
    let shop = Shop::new();
    for (words, code) in [
        (vec!["--json", "clocks", "--nonsense"], "unknown-field"),
        (vec!["--json", "nonsense"], "not-found"),
        (vec!["--json", "trace"], "missing"),
        (vec!["--json", "verify", "--depth", "deep"], "out-of-range"),
        (vec!["--json", "clocks", "--bond", "1", "--part", "x"], "contradicts"),
        (vec!["act", "--nonsense"], "unknown-field"),
    ] {
        refused(&shop.run(&words), 2, code);
    }
    let done = shop.run(&["trace"]);
    assert_eq!((done.status, done.out.as_str()), (2, ""), "{done:?}");
    assert!(done.err.starts_with("gluewright: ") && done.err.contains("--help"), "{done:?}");
    assert!(!shop.book().exists());
}

#[test]
fn help_lists_every_command() {
    let done = Shop::new().run(&["--help"]);
    assert_eq!((done.status, done.err.as_str()), (0, ""));
    for word in [
        "act",
        "ask",
        "clocks",
        "trace",
        "where-used",
        "verify",
        "checkpoint",
        "record",
        "owed",
        "bench",
        "batch",
        "amounts",
        "list",
        "entry",
        "schema",
        "demo",
        "watch",
        "--book",
        "--json",
        "--at",
        "--known-at",
        "GLUEWRIGHT_BOOK",
    ] {
        assert!(done.out.contains(word), "{word}");
    }
}

#[test]
fn a_sentence_and_advice_stand_on_standard_error_without_json() {
    let shop = with_a_bond();
    let done = shop.run(&["trace", "no such part"]);
    assert_eq!((done.status, done.out.as_str()), (2, ""), "{done:?}");
    assert!(
        done.err.starts_with("gluewright: ") && done.err.contains("no such part") && done.err.lines().count() == 2,
        "{done:?}"
    );
}
