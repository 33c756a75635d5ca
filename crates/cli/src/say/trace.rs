//! A part's story, beginning with what to look at first.

use super::clocks::{celsius, clock_table};
use super::{lines, rows, table, text, words};
use serde_json::Value;

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
        said += &format!("\nEntries about the part itself (instants are UTC)\n{}", entries(answer));
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
    said += &format!("  air: {}\n", readings(&bond["readings"]));
    said += &clock_table(bond);
    said += "  entries (instants are UTC)\n";
    said + &entries(bond)
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
    let range = match (readings["lowest_mk"].as_i64(), readings["highest_mk"].as_i64()) {
        (Some(low), Some(high)) => format!("{} to {}", celsius(low), celsius(high)),
        _ => return "no readings".to_owned(),
    };
    let gaps = readings["gaps"].as_array().into_iter().flatten();
    let gaps: String =
        gaps.map(|gap| format!("; nothing from {} to {}", text(&gap["from"]), text(&gap["to"]))).collect();
    range + &gaps
}

fn entries(answer: &Value) -> String {
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
        vec![text(&entry["seq"]), text(&entry["happened"]), text(&entry["kind"]), person, marks.join("; ")]
    });
    table::table(&["entry", "happened", "kind", "by", ""], &rows, "None.")
}
