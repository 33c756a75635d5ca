//! Every entry of the made-up shop gives back the act that made it: sent as its own correction it is accepted, and
//! nothing that is answered changes but that a correction stands there.

use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;
use tests::binary::gluewright;
use workshop::Workshop;
use workshop::clock::FixedClock;

/// A Wednesday, 11:45 in the made-up shop.
const DAY: &str = "2026-11-25T10:45:42.123Z";
/// The same, ms.
const DAY_MS: i64 = 1_795_603_542_123;

fn lived(folder: &Path) -> Workshop {
    let book = folder.join("demo.book");
    let made = Command::new(gluewright()).arg("demo").arg(&book).args(["--until", DAY]).output().expect("it starts");
    assert!(made.status.success(), "{made:?}");
    let mut next = 0_u64;
    let ids = move || {
        next += 1;
        format!("{next:08x}-0000-4000-9000-{next:012x}")
    };
    Workshop::new(&book, Box::new(FixedClock::at(DAY_MS + 3_600_000)), Box::new(ids))
}

fn ask(door: &Workshop, ask: &str, body: Value) -> Value {
    door.ask(Some(DAY_MS), None, json!({ "ask": ask, "body": body })).unwrap_or_else(|why| panic!("{ask}: {why:?}"))
}

/// Numbers of all entries that can be corrected, by kind.
fn correctable(door: &Workshop) -> BTreeMap<String, Vec<u64>> {
    let mut of_kind: BTreeMap<String, Vec<u64>> = BTreeMap::new();
    let mut before = Value::Null;
    loop {
        let mut body = json!({ "limit": 500 });
        if !before.is_null() {
            body["before"] = before;
        }
        let page = ask(door, "entries", body);
        for row in page["entries"].as_array().expect("entries").iter().filter(|row| row["can_correct"] == true) {
            let kind = row["kind"].as_str().expect("a kind").to_owned();
            of_kind.entry(kind).or_default().push(row["seq"].as_u64().expect("a number"));
        }
        before = page["next_before"].clone();
        if before.is_null() {
            return of_kind;
        }
    }
}

/// At most so many of a list, evenly.
fn spread(seqs: &[u64], most: usize) -> impl Iterator<Item = u64> {
    let step = seqs.len().div_ceil(most).max(1);
    seqs.iter().copied().step_by(step)
}

/// What may change with a correction and nothing else: lists of entries, what is said of corrections, sizes, counts.
fn settled(mut value: Value) -> Value {
    match &mut value {
        Value::Object(fields) => {
            for name in ["entries", "look_at_first", "checkpoint", "size", "corrections", "last_seq"] {
                fields.remove(name);
            }
            for field in fields.values_mut() {
                *field = settled(field.take());
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| *item = settled(item.take())),
        _ => {}
    }
    value
}

/// All that is judged at T: every bond and clock, and every fourth part, batch and lot by itself.
fn judged(door: &Workshop) -> Vec<(String, Value)> {
    let mut all = vec![];
    for question in ["clocks", "bonds", "owed", "parts", "work", "stores"] {
        all.push((question.to_owned(), settled(ask(door, question, json!({})))));
    }
    for noun in ["part", "batch", "lot"] {
        let (question, field) = match noun {
            "part" => ("trace", "part"),
            "batch" => ("batch", "batch"),
            _ => ("where-used", "lot"),
        };
        let list = ask(door, "list", json!({ "of": noun }))["list"].clone();
        for named in list.as_array().expect("a list").iter().step_by(4) {
            let name = format!("{question} {}", named["name"]);
            all.push((name, settled(ask(door, question, json!({ field: named["id"] })))));
        }
    }
    all
}

/// The body that stands for an entry: its original's last correction's.
fn in_force(door: &Workshop, entry: &Value) -> Value {
    let original = match &entry["entry"]["corrects"] {
        Value::Null => entry.clone(),
        id => ask(door, "entry", json!({ "id": id })),
    };
    let amended = original["amended_by"].as_array().expect("ids").iter();
    let corrections = amended.map(|id| ask(door, "entry", json!({ "id": id }))["entry"].clone());
    let last = corrections.filter(|one| one["kind"] != "withdrawn").last();
    last.unwrap_or_else(|| original["entry"].clone())["body"].clone()
}

/// About three entries of each kind; with GLUEWRIGHT_EVERY_ENTRY set all of them, which takes a minute, since every
/// receipt judges its bonds anew.
#[test]
fn an_entry_corrected_into_itself_changes_nothing() {
    let every = std::env::var_os("GLUEWRIGHT_EVERY_ENTRY").is_some();
    let most_of_a_kind = if every { usize::MAX } else { 3 };
    let folder = tempfile::tempdir().expect("a folder");
    let mut door = lived(folder.path());
    let before = judged(&door);
    let of_kind = correctable(&door);
    let all: usize = of_kind.values().map(Vec::len).sum();
    assert!(all > 400, "most entries of the made-up shop are made by people: {all}");
    for seq in of_kind.values().flat_map(|seqs| spread(seqs, most_of_a_kind)) {
        let entry = ask(&door, "entry", json!({ "seq": seq }));
        let (act, stood) = (&entry["act"], in_force(&door, &entry));
        assert_eq!(act["act"], entry["entry"]["kind"], "{entry}");
        let correct = json!({ "act": "correct", "body": { "entry": seq, "body": act["body"], "why": "tried" } });
        let receipt = door.act(correct).unwrap_or_else(|why| panic!("entry {seq}, {act}: {why:?}"));
        let made = ask(&door, "entry", json!({ "id": receipt.entries[0].id }));
        assert_eq!(made["entry"]["body"], stood, "entry {seq}: {act}");
    }
    let wanted =
        ["bond", "card", "container", "decide", "kind", "lot", "mix", "part", "press", "reading", "reason", "set"];
    assert!(wanted.iter().all(|kind| of_kind.contains_key(*kind)), "{:?}", of_kind.keys());
    for ((name, was), (_, is)) in before.iter().zip(judged(&door)) {
        assert_eq!(*was, is, "{name}");
    }
}
