//! Answers as text for people at a terminal. The sentences in it come from the answers; here is only their order.

mod clocks;
mod outline;
mod rooms;
mod table;
mod trace;

use serde_json::Value;

/// The text of an answer, ending with a newline.
pub fn answer(question: &str, answer: &Value) -> String {
    match question {
        "clocks" => clocks::clocks(answer),
        "bench" => clocks::bench(answer),
        "trace" => trace::trace(answer),
        "where-used" => where_used(answer),
        "owed" => owed(answer),
        "list" => list(answer),
        "parts" => rooms::parts(answer),
        "stores" => rooms::stores(answer),
        "entries" => rooms::entries(answer),
        "verify" => verify(answer),
        "amounts" => amounts(answer),
        "post-cure" => post_cure(answer),
        "pour" => pour(answer),
        _ => outline::outline(answer),
    }
}

/// The three lines of a checkpoint file: log, size, root.
pub fn checkpoint(answer: &Value) -> String {
    format!("{}\n{}\n{}\n", text(&answer["log"]), text(&answer["size"]), text(&answer["root"]))
}

fn where_used(answer: &Value) -> String {
    let mut said = format!("Lot {}\n", text(&answer["lot"]));
    let rows = rows(answer, "parts", |part| vec![text(&part["mark"]), words(&part["bonds"]), text(&part["where"])]);
    said += &table::table(&["part", "bonds", "where"], &rows, "It went into no part.");
    let rows = self::rows(answer, "batches", |batch| {
        vec![text(&batch["name"]), text(&batch["day"]), words(&batch["by"]), words(&batch["bonds"])]
    });
    said += "\nBatches\n";
    said + &table::table(&["batch", "day", "by", "bonds"], &rows, "It went into no batch.")
}

fn owed(answer: &Value) -> String {
    let owed = lines(&answer["owed"], "  - ");
    if owed.is_empty() { "Nothing is owed.\n".to_owned() } else { format!("Owed at {}\n{owed}", text(&answer["at"])) }
}

fn list(answer: &Value) -> String {
    let rows = rows(answer, "list", |named| vec![text(&named["name"]), text(&named["id"])]);
    table::table(&["name", "id"], &rows, "None yet.")
}

fn amounts(answer: &Value) -> String {
    let (card, ratio, by) = (text(&answer["card"]["name"]), text(&answer["ratio"]), text(&answer["by"]));
    let mut said = format!("{card}, {ratio} by {by}\n");
    for name in ["resin", "hardener", "total"] {
        said += &format!("  {name:<9}{:>10}\n", text(&answer[name]));
    }
    said + &format!("{}\n", text(&answer["said"])) + &lines(&answer["stop_at"], "  - ")
}

fn pour(answer: &Value) -> String {
    let (card, what, headline) = (text(&answer["card"]["name"]), text(&answer["what"]), text(&answer["said"]));
    let mut said = format!("{card}, {what}\n{headline}\n") + &lines(&answer["because"], "  - ");
    for warning in answer["warnings"].as_array().into_iter().flatten() {
        said += &format!("! {}\n", text(&warning["said"]));
    }
    for line in [&answer["peak"]["said"], &answer["ways_said"]] {
        said += &line.as_str().map(|line| format!("{line}\n")).unwrap_or_default();
    }
    for way in answer["ways"].as_array().into_iter().flatten() {
        said += &format!("  - {}\n", text(&way["said"]));
    }
    said + &format!("{}\n", text(&answer["calibration"])) + &lines(&answer["rests_on"], "  - ")
}

fn post_cure(answer: &Value) -> String {
    let mut said = format!("Bond {}, post-cure at {}\n", text(&answer["bond"]), text(&answer["to"]));
    said += &lines(&answer["said"], "  ");
    let rows = rows(answer, "steps", |step| {
        let enough = step["enough"].as_bool().map_or("", |enough| if enough { "enough" } else { "not enough" });
        let share = format!("about {} %", text(&step["conversion_pct"]));
        vec![
            text(&step["soak"]),
            text(&step["total"]),
            share,
            format!("about {}", text(&step["glass"])),
            enough.to_owned(),
        ]
    });
    said += &table::table(&["soak", "in the tent", "reacted", "glass transition", "for the service"], &rows, "");
    said += &lines(&answer["cautions"], "  - ");
    said + "What it rests on\n" + &lines(&answer["rests_on"], "  - ")
}

fn verify(answer: &Value) -> String {
    let mut said = format!("Checked to the depth of {}.\n", text(&answer["depth"]));
    let logs = rows(answer, "logs", |log| {
        vec![text(&log["log"]), text(&log["standing"]), text(&log["size"]), text(&log["root"])]
    });
    said += &table::table(&["log", "standing", "size", "root"], &logs, "There is no log.");
    let found =
        rows(answer, "found", |found| vec![text(&found["seq"]), text(&found["what"]), text(&found["sentence"])]);
    said += if found.is_empty() { "\nNothing was found.\n" } else { "\nFound\n" };
    if !found.is_empty() {
        said += &table::table(&["entry", "what", "in words"], &found, "");
    }
    said += "\nWhat this cannot show\n";
    said + &lines(&answer["cannot_show"], "  - ")
}

/// A list of objects as rows.
fn rows(answer: &Value, name: &str, row: impl Fn(&Value) -> Vec<String>) -> Vec<Vec<String>> {
    answer[name].as_array().into_iter().flatten().map(row).collect()
}

/// A scalar as text; null is a dash.
fn text(value: &Value) -> String {
    match value {
        Value::Null => "–".to_owned(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

/// A list of scalars in one line.
fn words(value: &Value) -> String {
    let all: Vec<String> = value.as_array().into_iter().flatten().map(text).collect();
    if all.is_empty() { "–".to_owned() } else { all.join(", ") }
}

/// A list of sentences, one a line.
fn lines(value: &Value, before: &str) -> String {
    value.as_array().into_iter().flatten().map(|line| format!("{before}{}\n", text(line))).collect()
}
