//! Sample joints that were broken: for a part or a bond, seen in the trace, corrected, and nothing settled by them.

use super::shop::Shop;
use serde_json::{Value, json};

fn said(shop: &Shop, id: &str) -> String {
    let answer = shop.door.ask(None, None, json!({ "ask": "entry", "body": { "id": id } })).unwrap();
    answer["said"].as_str().unwrap().to_owned()
}

fn sample(of: (&str, &str)) -> Value {
    let mut body = json!({"load": "800 lbf", "width": "2 in", "length": "1.5 in", "wood_failure": "80 %"});
    body[of.0] = json!(of.1);
    body
}

#[test]
fn a_sample_speaks_for_a_part_or_a_bond() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    let part = shop.ann("sample", sample(("part", "R1-L")));
    assert_eq!(part.changed, ["part:R1-L"]);
    let stored = shop.body(&part, "sample");
    assert_eq!((&stored["load"]["mn"], &stored["width"]["um"]), (&json!(3_558_577), &json!(50_800)));
    // 800 lbf on 2 in by 1.5 in are 266.7 psi: 1.8386 MPa.
    let entry = shop.entry(&part, "sample").id;
    assert_eq!(said(&shop, &entry), "Sample joint broke at 800 lbf on 2 in by 1.5 in: 1.839 MPa; wood failure 80 %");
    let before = shop.door.ask(None, None, json!({ "ask": "bonds" })).unwrap();
    let of_bond = shop.ann("sample", sample(("bond", &bond)));
    let about = &of_bond.changed;
    assert!(about.contains(&format!("bond:{bond}")) && about.contains(&"part:R1-L".to_owned()), "{about:?}");
    let state = |answer: &Value| answer["bonds"][0]["state"].clone();
    let after = shop.door.ask(None, None, json!({ "ask": "bonds" })).unwrap();
    assert_eq!(state(&after), state(&before), "a sample settles nothing and holds nothing");
    let trace = shop.door.ask(None, None, json!({ "ask": "trace", "body": { "part": "R1-L" } })).unwrap();
    let kinds = |entries: &Value| {
        let all = entries.as_array().unwrap().iter().filter(|entry| entry["kind"] == "sample");
        all.count()
    };
    assert_eq!((kinds(&trace["entries"]), kinds(&trace["bonds"][0]["entries"])), (1, 1), "{trace}");
}

#[test]
fn a_sample_is_corrected_as_it_was_told() {
    let mut shop = Shop::new();
    let receipt = shop.ann("sample", sample(("part", "R1-L")));
    let id = shop.entry(&receipt, "sample").id;
    let answer = shop.door.ask(None, None, json!({ "ask": "entry", "body": { "id": id } })).unwrap();
    assert_eq!(answer["act"], json!({ "act": "sample", "body": sample(("part", "R1-L")) }));
    let mut body = answer["act"]["body"].clone();
    body["load"] = json!("880 lbf");
    body["note"] = json!("glue failed at one end");
    let corrected = shop.ann("correct", json!({ "entry": id, "body": body, "why": "misread" }));
    let sentence = said(&shop, &shop.entry(&corrected, "sample").id);
    assert!(sentence.contains("880 lbf") && sentence.contains("2.022 MPa"), "{sentence}");
    assert!(sentence.ends_with("wood failure 80 %; glue failed at one end"), "{sentence}");
    let trace = shop.door.ask(None, None, json!({ "ask": "trace", "body": { "part": "R1-L" } })).unwrap();
    assert_eq!(trace["entries"].as_array().unwrap().iter().filter(|one| one["kind"] == "sample").count(), 2, "{trace}");
}

#[test]
fn a_sample_without_a_subject_or_with_two_is_refused() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    let mut both = sample(("bond", &bond));
    both["part"] = json!("R1-L");
    let rows = [
        (json!({"load": "800 lbf", "width": "2 in", "length": "1.5 in"}), "missing", "body.part"),
        (both, "contradicts", "body.part"),
        (json!({"part": "R1-L", "load": "800", "width": "2 in", "length": "1.5 in"}), "missing", "body.load"),
        (json!({"part": "R1-L", "load": "0 N", "width": "2 in", "length": "1.5 in"}), "out-of-range", "body.load"),
        (json!({"part": "R1-L", "load": "9 N", "width": "2 kg", "length": "1.5 in"}), "out-of-range", "body.width"),
        (
            json!({"part": "R1-L", "load": "9 N", "width": "2 mm", "length": "9 mm", "wood_failure": "101 %"}),
            "out-of-range",
            "body.wood_failure",
        ),
    ];
    for (body, code, field) in rows {
        let error = shop.refused(json!({ "act": "sample", "person": "ann", "body": body }));
        assert_eq!((error.code, error.field.as_deref()), (code, Some(field)), "{error:?}");
    }
}
