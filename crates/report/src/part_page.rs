//! The page of one part, in the order it is read: what to look at first, the story of each bond with every limit
//! beside its value and source, what is not recorded, corrections, the checkpoint, cautions.

use crate::cautions::cautions;
use serde_json::{Value, json};

/// The content of a part's page.
///
/// `trace` is the answer to the question `trace`; `issued` is the answer to `entry` for the entry that states this
/// issue: its instant is the instant of issue, its counts are what a checker demands. The same two values give the
/// same page, byte for byte.
pub fn part_page(trace: &Value, issued: &Value) -> Value {
    json!({
        "page": "part",
        "part": trace["part"],
        "issued": issue(issued, trace),
        "sections": [
            section("look-at-first", "What to look at first", trace["look_at_first"].clone()),
            section("bonds", "What was done, bond by bond", list(&trace["bonds"]).map(story).collect()),
            section("part", "Other entries about the part", trace["entries"].clone()),
            section("not-recorded", "Not recorded", trace["not_recorded"].clone()),
            section("corrections", "Corrections and withdrawals", corrections(trace)),
            section("checkpoint", "Checkpoint: what this page can be checked against", trace["checkpoint"].clone()),
            section("cautions", "Cautions", cautions()),
        ],
    })
}

fn section(name: &str, heading: &str, content: Value) -> Value {
    json!({ "section": name, "heading": heading, "content": content })
}

fn list(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

/// The statement of issue: the entry, its place in the log, when it was entered, the count of entries per subject.
fn issue(issued: &Value, trace: &Value) -> Value {
    let entry = &issued["entry"];
    let line = entries(trace).find(|line| line["id"] == entry["id"]);
    json!({
        "at": line.map(|line| line["entered"].clone()),
        "entry": entry["id"],
        "log": entry["log"],
        "seq": entry["seq"],
        "entered_ms": entry["entered_ms"],
        "counts": entry["body"]["counts"],
    })
}

/// Every entry of the trace, of the bonds first; one that concerns several bonds comes several times.
fn entries(trace: &Value) -> impl Iterator<Item = &Value> {
    list(&trace["bonds"]).flat_map(|bond| list(&bond["entries"])).chain(list(&trace["entries"]))
}

/// One bond: state and what it owes first, then what was done, then each limit beside its value.
fn story(bond: &Value) -> Value {
    json!({
        "bond": bond["id"],
        "state": bond["state"],
        "owed": bond["owed"],
        "findings": bond["findings"],
        "decisions": bond["decisions"],
        "reasons": bond["reasons"],
        "joints": bond["joints"],
        "stage": bond["stage"],
        "people": bond["people"],
        "batches": bond["batches"],
        "conditions": {
            "places": bond["places"],
            "moisture": bond["moisture"],
            "pressure": bond["pressure"],
            "surfaces": bond["surfaces"],
            "squeeze_out": bond["squeeze_out"],
            "readings": bond["readings"],
        },
        "presses": bond["presses"],
        "limits": list(&bond["clocks"]).map(limit).collect::<Value>(),
        "alarms": bond["alarms"],
        "entries": bond["entries"],
    })
}

/// A limit: what the sheet states and where that stands, beside what was reached and what it rests on.
fn limit(clock: &Value) -> Value {
    let stated = &clock["limit"];
    json!({
        "clock": clock["clock"],
        "of": clock["of"],
        "direction": clock["direction"],
        "limit": {
            "stated": stated["stated"],
            "counted_from": stated["counted_from"],
            "law": stated["law"],
        },
        "source": { "card": stated["name"], "entry": stated["card"], "origin": stated["origin"] },
        "value": {
            "state": clock["state"],
            "started": clock["started"],
            "ended": clock["ended"],
            "progress_ppm": clock["progress_ppm"],
            "said": clock["said"],
        },
        "rests_on": { "used": clock["used"], "bound": clock["bound"], "model": clock["model"] },
    })
}

/// Every entry that replaces or was withdrawn, once each, in the order of the log.
fn corrections(trace: &Value) -> Value {
    let changed =
        entries(trace).filter(|entry| !entry["corrects"].is_null() || entry["withdrawn"] == Value::Bool(true));
    let mut lines: Vec<&Value> = changed.collect();
    lines.sort_by_key(|entry| (entry["log"].as_str().unwrap_or_default(), entry["seq"].as_u64()));
    lines.dedup();
    lines.into_iter().cloned().collect()
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
        let page = part_page(&trace(), &issued());
        let names: Vec<&str> = list(&page["sections"]).filter_map(|section| section["section"].as_str()).collect();
        assert_eq!(names, ["look-at-first", "bonds", "part", "not-recorded", "corrections", "checkpoint", "cautions"]);
        assert_eq!(page["sections"][0]["content"], json!(["Bond 1 is held."]));
        assert_eq!(page["issued"]["at"], "2026-01-13T09:00:00.000Z");
        assert_eq!(page["issued"]["counts"], json!([{ "id": "p", "n": 3 }]));
    }

    #[test]
    fn a_limit_stands_beside_its_value_and_its_source() {
        let page = part_page(&trace(), &issued());
        let limit = &page["sections"][1]["content"][0]["limits"][0];
        assert_eq!(limit["limit"]["stated"], json!(["12 h at 20 °C"]));
        assert_eq!(limit["source"]["card"], "Epoxy");
        assert_eq!(limit["value"]["state"], "running");
    }

    #[test]
    fn a_correction_shared_by_two_bonds_is_told_once_and_in_order() {
        let page = part_page(&trace(), &issued());
        let told: Vec<u64> = list(&page["sections"][4]["content"]).filter_map(|entry| entry["seq"].as_u64()).collect();
        assert_eq!(told, [5, 9]);
    }

    #[test]
    fn the_same_record_gives_the_same_page_and_no_verdict() {
        let page = part_page(&trace(), &issued()).to_string();
        assert_eq!(page, part_page(&trace(), &issued()).to_string());
        assert!(!page.to_lowercase().contains("approved") && !page.to_lowercase().contains("airworthy"));
    }
}
