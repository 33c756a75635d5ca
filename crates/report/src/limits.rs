//! The limits of a bond: what the sheet states, where that stands, what was reached, what it is counted from, and the
//! bound that was used.

use crate::block::{Tone, cell, table, toned};
use crate::words::{clock, count, counted_from, each, joined, said};
use serde_json::{Value, json};
use workshop::judge::words::stretch;

/// A limit beside its value, for checks that read the page as data.
pub fn content(clock: &Value) -> Value {
    let stated = &clock["limit"];
    json!({
        "clock": clock["clock"],
        "of": clock["of"],
        "direction": clock["direction"],
        "limit": { "stated": stated["stated"], "counted_from": stated["counted_from"], "law": stated["law"],
                   "energy_kj_mol": stated["energy_kj_mol"], "points": stated["points"], "band": stated["band"] },
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

/// The limits as a table, one row a clock.
pub fn block(bond: &Value) -> Value {
    let rows = each(&bond["clocks"]).map(|clock| row(bond, clock)).collect();
    table(&["Limit", "Stated", "Source", "What was reached", "Counted from, bound"], &[13, 17, 16, 28, 26], rows)
}

fn row(bond: &Value, one: &Value) -> Vec<Value> {
    let limit = &one["limit"];
    let name = clock(one["clock"].as_str().unwrap_or_default());
    let name = said(&one["batch"]).map_or(name.clone(), |batch| format!("{name}, {batch}"));
    let bound_to = if one["direction"] == "must-reach" { "at least" } else { "at most" };
    vec![
        cell(Some(format!("{name} ({bound_to})"))),
        cell(stated(limit)),
        cell(source(bond, limit)),
        toned(said(&one["said"]).unwrap_or_default(), tone(one)),
        cell(Some(rests_on(one))),
    ]
}

fn stated(limit: &Value) -> Option<String> {
    let lines: Vec<&str> = each(&limit["stated"]).filter_map(Value::as_str).collect();
    (!lines.is_empty()).then(|| lines.join("\n"))
}

/// Card and the entry it stands in: "made-up epoxy, entry 9, from the sheet".
fn source(bond: &Value, limit: &Value) -> Option<String> {
    let name = said(&limit["name"])?;
    let entry = each(&bond["entries"]).find(|entry| !limit["card"].is_null() && entry["id"] == limit["card"]);
    let place = entry.and_then(|entry| entry["seq"].as_u64()).map(|seq| format!("entry {seq}"));
    let origin = said(&limit["origin"]).map(|origin| format!("from the {origin}"));
    let words: Vec<String> = [Some(name), place, origin].into_iter().flatten().collect();
    Some(words.join(", "))
}

fn tone(one: &Value) -> Tone {
    match one["state"].as_str() {
        Some("over") => Tone::Heat,
        // A must-reach clock that ended was ended short of its limit.
        Some("ended") if one["direction"] == "must-reach" => Tone::Heat,
        Some("held" | "never") => Tone::Doubt,
        Some("reached") => Tone::Moss,
        _ => Tone::Plain,
    }
}

/// The law a limit stands on: "law of 1 temperature: 55 kJ/mol (45 to 65), class interval".
fn law(limit: &Value) -> Option<String> {
    let points = limit["points"].as_u64().filter(|n| *n > 0)?;
    let temperatures = count(usize::try_from(points).unwrap_or(usize::MAX), "temperature", "temperatures");
    let energy = |i: usize| limit["energy_kj_mol"][i].as_f64().map(|kj| format!("{kj:.0}"));
    match (energy(0), energy(1), energy(2)) {
        (Some(low), Some(middle), Some(high)) => {
            let band = said(&limit["band"]).map(|band| format!(", {band}")).unwrap_or_default();
            let span = if low == high { String::new() } else { format!(" ({low} to {high})") };
            Some(format!("law of {temperatures}: {middle} kJ/mol{span}{band}"))
        }
        _ => None,
    }
}

/// What it is counted from, the bound, the readings behind it, and what was taken for granted.
fn rests_on(one: &Value) -> String {
    let used = &one["used"];
    let from = one["limit"]["counted_from"].as_str();
    let mut words = vec![from.map_or_else(|| "counted from: the sheet does not say".to_owned(), counted_from)];
    words.extend(law(&one["limit"]));
    words.extend(said(&one["bound"]));
    words.extend(used["readings"].as_u64().filter(|n| *n > 0).map(|n| format!("{n} readings")));
    let lengths = [("no_credit_ms", "without credit"), ("gap_ms", "in gaps")];
    words.extend(lengths.iter().filter_map(|(field, what)| {
        let ms = used[*field].as_i64().filter(|ms| *ms > 0)?;
        Some(format!("{} {what}", stretch(ms)))
    }));
    words.extend(joined(each(&used["assumed"])).map(|assumed| format!("taken for granted: {assumed}")));
    words.join("; ")
}
