//! The limits of a card that are no clocks: ratio, moisture, pressure, batch size, temperatures. Each is said with the
//! card's name and entry, to stand beside the value it limits.

use crate::Beside;
use crate::words::{each, said};
use serde_json::Value;
use workshop::reader::Reader;

/// Entries of the cards in force for a bond, as answered, once each.
pub fn cards<'a>(bond: &Value, beside: &'a Beside) -> Vec<&'a Value> {
    let mut found: Vec<&Value> = Vec::new();
    for id in each(&bond["clocks"]).map(|clock| &clock["limit"]["card"]) {
        if let Some(answer) = beside.entry(id).filter(|answer| !found.contains(answer)) {
            found.push(answer);
        }
    }
    found
}

/// "limit 100:44 by weight ± 5 %, made-up epoxy, entry 9"; none: the card states none.
pub fn ratio(card: &Value) -> Option<String> {
    let ratio = &card["entry"]["body"]["ratio"];
    let by = |name: &str| said(&ratio[name]["as"]).map(|stated| format!("{stated} by {name}"));
    let stated: Vec<String> = ["weight", "volume"].iter().filter_map(|name| by(name)).collect();
    let tolerance = said(&ratio["tolerance"]["as"]).map(|it| format!(" ± {it}")).unwrap_or_default();
    (!stated.is_empty()).then(|| sourced(&format!("limit {}{tolerance}", stated.join(", ")), card))
}

/// "limit 6 % to 14 %, made-up epoxy, entry 9" of a value with a least and a greatest.
pub fn range(cards: &[&Value], name: &str) -> Option<String> {
    let of = |card: &&Value, end: &str| said(&card["entry"]["body"][format!("{name}_{end}")]["as"]);
    let words = cards.iter().filter_map(|card| {
        let stated = match (of(card, "minimum"), of(card, "maximum")) {
            (Some(least), Some(most)) => format!("limit {least} to {most}"),
            (Some(least), None) => format!("limit at least {least}"),
            (None, Some(most)) => format!("limit at most {most}"),
            (None, None) => return None,
        };
        Some(sourced(&stated, card))
    });
    let words: Vec<String> = words.collect();
    (!words.is_empty()).then(|| words.join("; "))
}

/// A temperature limit by its field: "cures at 15 °C or warmer, made-up epoxy, entry 9".
pub fn temperature(cards: &[&Value], field: &str, after: &str, reader: Reader) -> Option<String> {
    let words = cards.iter().filter_map(|card| {
        let stated = reader.temperature(card["entry"]["body"][field]["mk"].as_i64()?);
        Some(sourced(&format!("cures at {stated} or {after}"), card))
    });
    let words: Vec<String> = words.collect();
    (!words.is_empty()).then(|| words.join("; "))
}

fn sourced(stated: &str, card: &Value) -> String {
    let name = said(&card["entry"]["body"]["name"]).unwrap_or_else(|| "card".to_owned());
    let entry = card["entry"]["seq"].as_u64().map(|seq| format!(", entry {seq}")).unwrap_or_default();
    format!("{stated}, {name}{entry}")
}
