//! Canonical bytes: the writer against a general canonicalizer, that one against RFC 8785's pairs, the strict parser.

use logbook::canon::{DEEPEST, LARGEST, parse, write};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::path::PathBuf;

fn vectors(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/vectors/rfc8785").join(name)
}

/// The six pairs of the RFC's author, through the canonicalizer that `verify` compares with.
#[test]
fn published_pairs() {
    let mut pairs = 0;
    for file in std::fs::read_dir(vectors("input")).unwrap() {
        let path = file.unwrap().path();
        let input: Value = serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap();
        let due = std::fs::read(vectors("output").join(path.file_name().unwrap())).unwrap();
        let got = serde_json_canonicalizer::to_vec(&input).unwrap();
        assert_eq!(String::from_utf8(got), String::from_utf8(due), "{}", path.display());
        pairs += 1;
    }
    assert_eq!(pairs, 6);
}

/// Where a pair holds only what an entry may hold, our own writer gives the same bytes; else it refuses.
#[test]
fn published_pairs_through_our_writer() {
    let mut written = 0;
    for name in ["arrays", "french", "structures", "unicode", "values", "weird"] {
        let input = std::fs::read(vectors("input").join(format!("{name}.json"))).unwrap();
        let due = std::fs::read(vectors("output").join(format!("{name}.json"))).unwrap();
        let value: Value = serde_json::from_slice(&input).unwrap();
        let Ok(got) = write(&value) else {
            assert!(["arrays", "structures", "values"].contains(&name), "{name} holds neither null nor fraction");
            continue;
        };
        assert_eq!(String::from_utf8(got), String::from_utf8(due), "{name}");
        written += 1;
    }
    assert!(written >= 3, "{written}");
}

fn values() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        any::<bool>().prop_map(Value::from),
        (-LARGEST..=LARGEST).prop_map(Value::from),
        any::<String>().prop_map(Value::from),
        "[\\x00-\\x20\"\\\\/\u{7f}-\u{9f}\u{2028}\u{feff}]{0,8}".prop_map(Value::from),
    ];
    leaf.prop_recursive(4, 40, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::btree_map(
                "[a-c]{0,3}|\\PC{0,4}|[\u{e000}-\u{ffff}\u{10000}-\u{10ffff}]{1,2}",
                inner,
                0..6
            )
            .prop_map(|map| Value::Object(map.into_iter().collect())),
        ]
    })
}

proptest! {
    #[test]
    fn our_writer_agrees_with_the_general_one(value in values()) {
        let ours = write(&value).unwrap();
        let theirs = serde_json_canonicalizer::to_vec(&value).unwrap();
        prop_assert_eq!(String::from_utf8_lossy(&ours), String::from_utf8_lossy(&theirs));
        prop_assert_eq!(parse(&ours).unwrap(), value);
    }

    #[test]
    fn the_parser_never_panics(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        let _ = parse(&bytes);
    }
}

#[test]
fn keys_sort_by_utf16_units() {
    let value = json!({"\u{10000}": 1, "\u{e000}": 2, "a": 3});
    assert_eq!(String::from_utf8(write(&value).unwrap()).unwrap(), "{\"a\":3,\"\u{10000}\":1,\"\u{e000}\":2}");
}

#[test]
fn what_an_entry_may_not_hold() {
    for value in [json!(null), json!({"a": null}), json!(1.5), json!([1e300]), json!(LARGEST + 1), json!(u64::MAX)] {
        assert!(write(&value).is_err(), "{value}");
    }
    for text in [
        "null",
        "{\"a\":null}",
        "{\"a\":1,\"a\":1}",
        "{\"a\":{\"b\":1,\"b\":2}}",
        "{\"a\":1,\"\\u0061\":1}",
        "1.0",
        "1e3",
        "-0",
        "9007199254740992",
        "-9007199254740992",
        "18446744073709551616",
        "{} ",
        "{}{}",
        "[1,]",
        "{\"a\":1",
        "\"\\ud800\"",
        "NaN",
        "",
    ] {
        let strict = parse(text.as_bytes());
        let spaced = text.ends_with(' ');
        assert!(strict.is_err() || spaced, "{text}: {strict:?}");
    }
    assert!(parse(b"\"\xff\"").is_err());
    assert_eq!(parse(b"9007199254740991").unwrap(), json!(LARGEST));
    assert_eq!(parse(b"-9007199254740991").unwrap(), json!(-LARGEST));
}

#[test]
fn nesting_has_an_end() {
    let nested = |depth: usize| format!("{}1{}", "[".repeat(depth), "]".repeat(depth));
    assert!(parse(nested(DEEPEST).as_bytes()).is_ok());
    assert!(parse(nested(DEEPEST + 1).as_bytes()).is_err());
    assert!(parse(nested(100_000).as_bytes()).is_err());
    let mut value = json!(1);
    for _ in 0..DEEPEST {
        value = json!([value]);
    }
    assert!(write(&value).is_ok());
    assert!(write(&json!([value])).is_err());
}
