//! A part's story, beginning with what to look at first.

use super::clocks::clock_table;
use super::{lines, rows, table, text, words};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The answer to `trace`.
pub fn trace(answer: &Value) -> String {
    let part = &answer["part"];
    let mut said = format!("Part {}\n\nLook at first\n", text(&part["mark"]));
    said += &or_none(lines(&answer["look_at_first"], "  - "), "Nothing stands out in what was recorded.");
    said += "\nNot recorded\n";
    said += &or_none(lines(&answer["not_recorded"], "  - "), "Nothing that these bonds owe.");
    for bond in answer["bonds"].as_array().into_iter().flatten() {
        said += &self::bond(bond);
    }
    let others = answer["entries"].as_array().is_some_and(|entries| !entries.is_empty());
    if others {
        said += &format!("\nEntries about the part itself (instants are UTC)\n{}", entries(answer, &BTreeMap::new()));
    }
    let at = &answer["checkpoint"];
    let (log, size, root) = (text(&at["log"]), text(&at["size"]), text(&at["root"]));
    said + &format!("\nCheckpoint\n  log {log}\n  size {size}\n  root {root}\n")
}

fn or_none(list: String, none: &str) -> String {
    if list.is_empty() { format!("  {none}\n") } else { list }
}

fn bond(bond: &Value) -> String {
    let mut said = format!("\nBond {} — {}\n", text(&bond["id"]), text(&bond["state"]));
    said += &lines(&bond["owed"], "  owed: ");
    said += &format!("  joints: {}\n", words(&bond["joints"]));
    said += &format!("  people: {}\n", words(&bond["people"]));
    for batch in bond["batches"].as_array().into_iter().flatten() {
        said += &self::batch(batch);
    }
    said += &format!("  squeeze-out: {}\n", bond["squeeze_out"].as_str().unwrap_or("not recorded"));
    said += &format!("  {}\n", bond["moisture"]["said"].as_str().unwrap_or("moisture: not recorded"));
    said += &format!("  pressure: {}\n", pressure(&bond["pressure"]));
    said += &format!("  places: {}\n", places(&bond["places"]));
    said += &format!("  air: {}\n", readings(&bond["readings"]));
    said += &cured(bond);
    said += &settled(bond);
    said += &clock_table(bond);
    said += &assumed(&bond["clocks"]);
    said += "  entries (instants are UTC)\n";
    said + &entries(bond, &presses(&bond["presses"]))
}

fn pressure(pressure: &Value) -> String {
    let planned = pressure["planned"].as_str();
    match (pressure["measured"].as_str(), planned, pressure["as_planned"] == Value::Bool(true)) {
        (Some(measured), _, _) => format!("{measured}, measured"),
        (None, Some(planned), true) => format!("{planned}, as planned"),
        (None, None, true) => "as planned; the plan states none".to_owned(),
        (None, Some(planned), false) => format!("not recorded; planned {planned}"),
        (None, None, false) => "not recorded".to_owned(),
    }
}

fn places(places: &Value) -> String {
    let stays = places.as_array().into_iter().flatten().map(|stay| {
        let from = stay["from"].as_str().map(|from| format!(" from {from}")).unwrap_or_default();
        let source = stay["source"].as_str().map(|source| format!(" ({source})")).unwrap_or_default();
        format!("{}{from}{source}", stay["place"].as_str().unwrap_or("not recorded"))
    });
    let stays: Vec<String> = stays.collect();
    if stays.is_empty() { "not recorded".to_owned() } else { stays.join("; ") }
}

/// Decisions and reasons, each with who, why and its entry.
fn settled(bond: &Value) -> String {
    let by = |one: &Value| one["person"].as_str().map(|name| format!(" by {name}")).unwrap_or_default();
    let decisions = bond["decisions"].as_array().into_iter().flatten().map(|one| {
        let why = one["why"].as_str().map(|why| format!(": {why}")).unwrap_or_default();
        format!("  decided: {}{}{why} (entry {})\n", text(&one["verdict"]), by(one), text(&one["seq"]))
    });
    let reasons = bond["reasons"].as_array().into_iter().flatten().map(|one| {
        let of = words(&one["of"]);
        format!("  reason for {of}{}: {} (entry {})\n", by(one), text(&one["text"]), text(&one["seq"]))
    });
    decisions.chain(reasons).collect()
}

/// How cured, and what a heated place did to the wood.
fn cured(bond: &Value) -> String {
    let cured = &bond["cured"];
    let mut said = cured["said"].as_str().map(|it| format!("  how cured: {it}\n")).unwrap_or_default();
    said += &cured["caution"].as_str().map(|it| format!("  mind: {it}\n")).unwrap_or_default();
    said += &lines(&cured["rests_on"], "    ");
    for stay in bond["dried"].as_array().into_iter().flatten() {
        said += &format!("  air: {}\n", text(&stay["said"]));
        said += &stay["caution"].as_str().map(|it| format!("  mind: {it}\n")).unwrap_or_default();
    }
    said
}

/// What the clocks take for granted: it must not look like a measurement.
fn assumed(clocks: &Value) -> String {
    let mut all: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for clock in clocks.as_array().into_iter().flatten() {
        for sentence in clock["used"]["assumed"].as_array().into_iter().flatten() {
            let sentence = sentence.as_str().unwrap_or_default();
            all.entry(sentence).or_default().insert(clock["clock"].as_str().unwrap_or_default());
        }
    }
    let lines = all.into_iter().map(|(sentence, clocks)| {
        let clocks: Vec<&str> = clocks.into_iter().collect();
        format!("  taken for granted: {sentence} ({})\n", clocks.join(", "))
    });
    lines.collect()
}

/// What each press was, by its entry's number.
fn presses(presses: &Value) -> BTreeMap<u64, String> {
    let named = presses.as_array().into_iter().flatten().filter_map(|press| {
        let seen = press["seen"].as_str().map(|seen| format!(": {seen}")).unwrap_or_default();
        Some((press["seq"].as_u64()?, format!("{}{seen}", text(&press["press"]))))
    });
    named.collect()
}

fn batch(batch: &Value) -> String {
    let lots = batch["lots"].as_array().into_iter().flatten().map(|lot| {
        let expired = if lot["expired"] == Value::Bool(true) { ", EXPIRED" } else { "" };
        let other = if lot["other_adhesive"] == Value::Bool(true) { ", OF ANOTHER ADHESIVE" } else { "" };
        format!("{} ({}{expired}{other})", text(&lot["mark"]), text(&lot["role"]))
    });
    let lots: Vec<String> = lots.collect();
    let name = batch["name"].as_str().or(batch["id"].as_str()).unwrap_or_default();
    format!(
        "  batch {name} {}: ratio {}; lots {}\n",
        batch["day"].as_str().unwrap_or_default(),
        text(&batch["verdict"]),
        lots.join(", ")
    )
}

fn readings(readings: &Value) -> String {
    let range = match (readings["lowest"].as_str(), readings["highest"].as_str()) {
        (Some(low), Some(high)) => format!("{low} to {high}"),
        _ => return "no readings".to_owned(),
    };
    let gaps = readings["gaps"].as_array().into_iter().flatten();
    let gaps: String =
        gaps.map(|gap| format!("; nothing from {} to {}", text(&gap["from"]), text(&gap["to"]))).collect();
    range + &gaps
}

fn entries(answer: &Value, presses: &BTreeMap<u64, String>) -> String {
    let rows = rows(answer, "entries", |entry| {
        let mut marks = Vec::new();
        if entry["late"] == Value::Bool(true) {
            marks.push(format!("entered late, {}", text(&entry["entered"])));
        }
        if let Some(original) = entry["corrects"].as_str() {
            marks.push(format!("corrects {original}"));
        }
        if entry["withdrawn"] == Value::Bool(true) {
            marks.push("withdrawn".to_owned());
        }
        if let Some(why) = entry["why"].as_str() {
            marks.push(format!("why: {why}"));
        }
        let person = entry["person"].as_str().unwrap_or("nobody named").to_owned();
        let press = entry["seq"].as_u64().and_then(|seq| presses.get(&seq).cloned());
        let what = press.unwrap_or_else(|| text(&entry["kind"]));
        vec![text(&entry["seq"]), text(&entry["happened"]), what, person, marks.join("; ")]
    });
    table::table(&["entry", "happened", "what", "by", ""], &rows, "None.")
}
