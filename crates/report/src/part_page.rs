//! The page of one part, in the order it is read: what to look at first, the story of each bond with every limit
//! beside its value and source, what is not recorded, corrections, the checkpoint, cautions. Each section has blocks,
//! which the screen and the typesetter draw alike, and beside them its content as data, which outside checks read.

use crate::block::{self, cell, item, list, section, table, text};
use crate::cautions::cautions;
use crate::changed::{self, changes, entries};
use crate::words::{Times, each, first_up, plain, said};
use crate::{Beside, bond, summary};
use serde_json::{Value, json};

/// The page of a part.
///
/// `trace` is the answer to the question `trace`; `issued` is the answer to `entry` for the entry that states this
/// issue: its instant is the instant of issue, its counts are what a checker demands; null: a page looked at, not
/// handed out. `beside` holds the answers to [`crate::questions`]. The same values give the same page, byte for byte.
pub fn part_page(trace: &Value, issued: &Value, beside: &Beside) -> Value {
    let times = Times::new(beside.zone_min);
    json!({
        "page": "part",
        "part": trace["part"],
        "title": summary::title(&trace["part"]),
        "subtitle": summary::subtitle(trace),
        "stamp": summary::stamp(trace),
        "summary": summary::facts(trace, times),
        "zone": format!("Times are {}.", times.zone()),
        "issued": if issued.is_null() { Value::Null } else { issue(issued, trace, times) },
        "sections": sections(trace, beside, times),
    })
}

fn sections(trace: &Value, beside: &Beside, times: Times) -> Vec<Value> {
    let mark = trace["part"]["mark"].as_str().unwrap_or_default();
    let changed = changes(entries(trace));
    let own = &trace["entries"];
    vec![
        section(
            "look-at-first",
            "What to look at first",
            trace["look_at_first"].clone(),
            sentences(&trace["look_at_first"], "Nothing stands out in what is recorded."),
        ),
        section(
            "bonds",
            "What was done, bond by bond",
            each(&trace["bonds"]).map(bond::content).collect(),
            bonds(trace, mark, beside),
        ),
        section("part", "Other entries about the part", own.clone(), others(own, beside, times)),
        section(
            "not-recorded",
            "Not recorded",
            trace["not_recorded"].clone(),
            sentences(&trace["not_recorded"], "Nothing that this page asks for is missing."),
        ),
        section(
            "corrections",
            "Corrections and withdrawals",
            changed.iter().map(|entry| (*entry).clone()).collect(),
            changed::blocks(&changed, beside),
        ),
        section(
            "checkpoint",
            "Checkpoint: what this page can be checked against",
            trace["checkpoint"].clone(),
            vec![checkpoint(&trace["checkpoint"])],
        ),
        section(
            "cautions",
            "Cautions",
            cautions(),
            vec![list(each(&cautions()).take(ABOUT_THE_PAGE).map(caution).collect())],
        ),
    ]
}

fn bonds(trace: &Value, mark: &str, beside: &Beside) -> Vec<Value> {
    if each(&trace["bonds"]).next().is_none() {
        return vec![text("No bond of this part is recorded.")];
    }
    each(&trace["bonds"]).flat_map(|one| bond::blocks(one, mark, beside)).collect()
}

/// Sentences as a list; the number of an entry named at the end stands in its own field.
fn sentences(lines: &Value, none: &str) -> Vec<Value> {
    let items: Vec<Value> = each(lines).filter_map(Value::as_str).map(sentence).collect();
    if items.is_empty() { vec![text(none)] } else { vec![list(items)] }
}

fn sentence(line: &str) -> Value {
    let named = line.strip_suffix(')').and_then(|line| line.rsplit_once(" (entry "));
    let parsed = named.and_then(|(text, number)| Some((text, number.parse::<u64>().ok()?)));
    let (text, entry) = parsed.map_or((line, Value::Null), |(text, seq)| (text, json!(seq)));
    item(&first_up(text), &entry)
}

/// Entries about the part itself: when, what, who.
fn others(own: &Value, beside: &Beside, times: Times) -> Vec<Value> {
    let row = |entry: &Value| {
        let kind = plain(entry["kind"].as_str().unwrap_or_default());
        let told = beside.entry(&entry["id"]).and_then(|answer| said(&answer["said"]));
        let late = if entry["late"] == Value::Bool(true) { " (entered late)" } else { "" };
        vec![
            cell(times.time(&entry["happened"])),
            cell(Some(format!("{}{late}", told.unwrap_or(kind)))),
            cell(said(&entry["person"])),
            cell(entry["seq"].as_u64().map(|seq| seq.to_string())),
        ]
    };
    let rows: Vec<Vec<Value>> = each(own).map(row).collect();
    if rows.is_empty() {
        return vec![text("None.")];
    }
    vec![table(&["When", "What was entered", "Who", "Entry"], &[30, 36, 24, 10], rows)]
}

/// The three lines somebody keeps elsewhere; the squares hold the same three lines.
fn checkpoint(checkpoint: &Value) -> Value {
    let word = |name: &str| checkpoint[name].as_str().unwrap_or_default().to_owned();
    let size = checkpoint["size"].as_u64().map(|size| size.to_string()).unwrap_or_default();
    let lines = [word("log"), size, word("root")];
    json!({ "block": "checkpoint", "lines": lines, "qr": format!("{}\n", lines.join("\n")) })
}

/// How many of the cautions, the first ones, are about the page; the others are for the bench.
const ABOUT_THE_PAGE: usize = 2;

fn caution(caution: &Value) -> Value {
    let word = |name: &str| caution[name].as_str().unwrap_or_default();
    let text = format!("{}: {} Source: {}.", plain(word("about")), word("sentence"), word("source"));
    block::item(&text, &Value::Null)
}

/// The statement of issue: the entry, its place in the log, when it was entered, the count of entries per subject.
fn issue(issued: &Value, trace: &Value, times: Times) -> Value {
    let entry = &issued["entry"];
    let line = entries(trace).find(|line| line["id"] == entry["id"]);
    let at = line.map(|line| line["entered"].clone()).unwrap_or_default();
    json!({
        "at": at,
        "said": times.time(&at),
        "entry": entry["id"],
        "log": entry["log"],
        "seq": entry["seq"],
        "entered_ms": entry["entered_ms"],
        "counts": entry["body"]["counts"],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn trace() -> Value {
        let corrected = json!({ "log": "l", "seq": 9, "kind": "mix", "corrects": "e4", "withdrawn": false });
        let plain = json!({ "log": "l", "seq": 4, "kind": "mix", "corrects": null, "withdrawn": false });
        let issued =
            json!({ "log": "l", "seq": 10, "id": "i", "kind": "issued", "entered": "2026-01-13T09:00:00.000Z" });
        let taken_back = json!({ "log": "l", "seq": 5, "kind": "press", "corrects": null, "withdrawn": true });
        let bond = |id: &str| {
            json!({
                "id": id, "state": "held", "owed": ["bond 1: squeeze-out not recorded"],
                "clocks": [{
                    "clock": "clamp", "of": "bond:1", "state": "running", "said": "Clamps stay on until 09:10",
                    "limit": { "card": "c", "name": "Epoxy", "stated": ["12 h at 20 °C"], "law": "one-point", "origin": "sheet" }
                }],
                "entries": [plain.clone(), corrected.clone()],
            })
        };
        json!({
            "part": { "mark": "R3-L", "id": "p" }, "look_at_first": ["Bond 1 is held."], "not_recorded": ["bond 1: squeeze-out"],
            "bonds": [bond("1"), bond("2")], "entries": [taken_back, issued],
            "checkpoint": { "log": "l", "size": 10, "root": "r" },
        })
    }

    fn issued() -> Value {
        json!({ "entry": { "id": "i", "log": "l", "seq": 10, "entered_ms": 7, "body": { "counts": [{ "id": "p", "n": 3 }] } } })
    }

    #[test]
    fn the_page_begins_with_what_to_look_at_first_and_ends_with_cautions() {
        let page = part_page(&trace(), &issued(), &Beside::default());
        let names: Vec<&str> = each(&page["sections"]).filter_map(|section| section["section"].as_str()).collect();
        assert_eq!(names, ["look-at-first", "bonds", "part", "not-recorded", "corrections", "checkpoint", "cautions"]);
        assert_eq!(page["sections"][0]["content"], json!(["Bond 1 is held."]));
        assert_eq!(page["issued"]["at"], "2026-01-13T09:00:00.000Z");
        assert_eq!(page["issued"]["counts"], json!([{ "id": "p", "n": 3 }]));
    }

    #[test]
    fn a_limit_stands_beside_its_value_and_its_source() {
        let page = part_page(&trace(), &issued(), &Beside::default());
        let limit = &page["sections"][1]["content"][0]["limits"][0];
        assert_eq!(limit["limit"]["stated"], json!(["12 h at 20 °C"]));
        assert_eq!(limit["source"]["card"], "Epoxy");
        assert_eq!(limit["value"]["state"], "running");
    }

    #[test]
    fn a_correction_shared_by_two_bonds_is_told_once_and_in_order() {
        let page = part_page(&trace(), &issued(), &Beside::default());
        let told: Vec<u64> = each(&page["sections"][4]["content"]).filter_map(|entry| entry["seq"].as_u64()).collect();
        assert_eq!(told, [5, 9]);
    }

    #[test]
    fn the_same_record_gives_the_same_page_and_no_verdict() {
        let page = part_page(&trace(), &issued(), &Beside::default()).to_string();
        assert_eq!(page, part_page(&trace(), &issued(), &Beside::default()).to_string());
        assert!(!page.to_lowercase().contains("approved") && !page.to_lowercase().contains("airworthy"));
    }
}
