//! Where JSON comes from, arrays, and readers that leave.

use super::shape::refused;
use super::shop::stores;
use serde_json::json;
use std::process::Stdio;
use tests::binary::{Done, Shop, gluewright};

#[test]
fn inline_file_and_standard_input_are_the_same() {
    let shop = Shop::new();
    let act = |name: &str| format!("  {{\"act\":\"place\",\"body\":{{\"name\":\"{name}\"}}}}\n");
    std::fs::write(shop.folder.path().join("act.json"), act("file")).unwrap();
    assert_eq!(shop.run(&["act", &act("inline")]).status, 0);
    assert_eq!(shop.run(&["act", "act.json"]).status, 0);
    assert_eq!(shop.run_with(&["act", "-"], act("dash").as_bytes()).status, 0);
    assert_eq!(shop.run_with(&["act"], act("nothing").as_bytes()).status, 0);
    let places = shop.ask("list", json!({ "of": "place" }));
    let names: Vec<&str> =
        places["list"].as_array().unwrap().iter().filter_map(|place| place["name"].as_str()).collect();
    assert_eq!(names, ["inline", "file", "dash", "nothing"]);
}

#[test]
fn an_array_is_one_line_and_one_transaction_each_and_stops_at_nothing() {
    let shop = Shop::new();
    let acts = json!([
        { "act": "place", "body": { "name": "bench" } },
        { "act": "place", "body": { "name": "bench" } },
        { "act": "no such act", "body": {} },
        "not even an object",
        { "act": "place", "body": { "name": "loft" } },
    ]);
    let done = shop.run_with(&["act"], acts.to_string().as_bytes());
    assert_eq!(done.status, 2, "the worst counts: {done:?}");
    let lines = done.objects();
    let kinds: Vec<&str> =
        lines.iter().filter_map(|line| line.as_object()?.keys().next().map(String::as_str)).collect();
    assert_eq!(kinds, ["receipt", "error", "error", "error", "receipt"]);
    assert_eq!(shop.ask("checkpoint", json!({}))["size"], 3);
    let none = shop.run(&["act", "[]"]);
    assert_eq!((none.status, none.out.as_str()), (0, ""), "an empty array is no act");
}

#[test]
fn what_is_not_json_is_refused_with_a_sentence() {
    let shop = Shop::new();
    for text in
        ["{", "{\"act\":1,\"act\":2}", "[1,", "{\"a\":1e999}", "", "no-such-file.json", "{\"a\":\"\u{1}\"}", "{} {}"]
    {
        let done = if text.is_empty() { shop.run_with(&["act"], b"") } else { shop.run(&["act", text]) };
        refused(&done, 2, "bad-json");
        refused(&shop.run_with(&["ask", "-"], text.as_bytes()), 2, "bad-json");
    }
    refused(&shop.run_with(&["act"], b"{\"act\":\"\xff\"}"), 2, "bad-json");
    refused(&shop.run_with(&["act"], "[".repeat(100_000).as_bytes()), 2, "bad-json");
    assert!(!shop.book().exists(), "nothing refused makes a book");
}

#[test]
fn a_reader_that_left_loses_no_act_and_makes_no_noise() {
    let shop = Shop::new();
    let mut command = shop.command(gluewright());
    command.args(["act", &stores().to_string()]).stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    drop(child.stdout.take());
    let done = Done::new(child.wait_with_output().unwrap());
    assert_eq!((done.status, done.err.as_str()), (0, ""), "{done:?}");
    assert_eq!(shop.ask("list", json!({ "of": "container" }))["list"].as_array().unwrap().len(), 2);
}

#[test]
fn an_answer_that_cannot_be_written_is_a_fault() {
    let shop = Shop::new();
    shop.act(&stores());
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = shop.command(gluewright()).args(["list", "lot"]).stdin(Stdio::null()).stdout(full).output().unwrap();
    let done = Done::new(output);
    assert_eq!(done.status, 1, "{done:?}");
    assert!(done.err.contains("could not be written"), "{done:?}");
}
