//! Parts, stores and entries for people.

use super::{lines, rows, table, text, words};
use serde_json::Value;

/// The answer to `parts`.
pub fn parts(answer: &Value) -> String {
    let mut said = format!("{}\n", text(&answer["said"]));
    for assembly in answer["assemblies"].as_array().into_iter().flatten() {
        let name = assembly["assembly"].as_str().unwrap_or("Of no assembly");
        let rows = rows(assembly, "parts", |part| {
            vec![text(&part["mark"]), text(&part["kind"]), text(&part["state"]), text(&part["said"])]
        });
        said += &format!("\n{name}\n{}", table::table(&["part", "kind", "state", "in words"], &rows, "No part."));
    }
    said
}

/// The answer to `stores`.
pub fn stores(answer: &Value) -> String {
    let mut said = String::new();
    for card in answer["cards"].as_array().into_iter().flatten() {
        said += &card_text(card);
    }
    let lots = rows(answer, "lots", |lot| {
        let cans = rows(lot, "containers", |can| vec![text(&can["mark"])]).concat().join(", ");
        vec![text(&lot["mark"]), text(&lot["card"]), text(&lot["expires"]), cans, text(&lot["said"])]
    });
    said += "Lots\n";
    said += &table::table(&["lot", "card", "good until", "cans", "in words"], &lots, "No lot yet.");
    let kinds = rows(answer, "kinds", |kind| vec![text(&kind["mark"]), words(&kind["stages"])]);
    said += &format!("\nKinds\n{}", table::table(&["kind", "stages"], &kinds, "No kind yet."));
    let instruments = rows(answer, "instruments", |one| vec![text(&one["name"]), text(&one["said"])]);
    said += &format!("\nInstruments\n{}", table::table(&["instrument", ""], &instruments, "No instrument yet."));
    let names = |list: &str| rows(answer, list, |one| vec![text(&one["name"])]).concat().join(", ");
    said + &format!("\nPlaces: {}\nPeople: {}\n", names("places"), names("people"))
}

/// A card: what is not the sheet's is marked.
fn card_text(card: &Value) -> String {
    let revision = card["revision"].as_u64().filter(|n| *n > 1).map(|n| format!(", revision {n}")).unwrap_or_default();
    let old = if card["revised_by"].is_null() { "" } else { " (revised since)" };
    let (name, class, ratio) = (text(&card["name"]), text(&card["class"]), text(&card["ratio"]));
    let mut said = format!("{name}, {class}, {ratio}, from the {}{revision}{old}\n", text(&card["origin"]));
    let mark = |one: &Value| if one["assumed"] == true { "not on the sheet" } else { "" }.to_owned();
    let mut facts = rows(card, "limits", |limit| {
        let bent = if limit["bent"] == true { ", bent joints" } else { "" };
        let value = format!("{}; {}", words(&limit["stated"]), text(&limit["counted_from"]));
        vec![format!("{}{bent}", text(&limit["word"])), value, String::new()]
    });
    facts.extend(rows(card, "facts", |fact| {
        vec![text(&fact["label"]), fact["value"].as_str().unwrap_or("not recorded").to_owned(), mark(fact)]
    }));
    let table = table::table(&["", "", ""], &facts, "Nothing more.");
    said += table.trim_start_matches('\n');
    said + &lines(&card["cautions"], "  - ") + "\n"
}

/// The answer to `entries`.
pub fn entries(answer: &Value) -> String {
    let rows = rows(answer, "entries", |entry| {
        let mut marks = Vec::new();
        if entry["withdrawn"] == true {
            marks.push("withdrawn".to_owned());
        }
        if entry["corrected_by"].as_array().is_some_and(|by| !by.is_empty()) {
            marks.push(format!("corrected by {}", words(&entry["corrected_by"])));
        }
        if entry["late"] == true {
            marks.push("late".to_owned());
        }
        let names = ["seq", "happened", "person", "said"].map(|name| text(&entry[name]));
        names.into_iter().chain([marks.join(", ")]).collect()
    });
    let table = table::table(&["entry", "happened", "who", "what", ""], &rows, "No entry on this page.");
    let next = answer["next_before"].as_u64().map(|n| format!("Earlier ones: --before {n}\n")).unwrap_or_default();
    format!("{table}{next}")
}
