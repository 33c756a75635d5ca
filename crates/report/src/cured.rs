//! How cured a bond is, as the model has it, and what the air of a heated place did to its wood. Facts with what they rest
//! on; no state follows from them.

use crate::block::{Tone, about, fact, facts, fine, note, text};
use crate::words::{each, first_up, said};
use serde_json::{Value, json};

/// Both as data.
pub fn content(bond: &Value) -> Value {
    json!({ "cured": bond["cured"], "dried": bond["dried"] })
}

/// The section; nothing where the answer has none.
pub fn blocks(bond: &Value) -> Vec<Value> {
    let cured = &bond["cured"];
    let mut blocks = Vec::new();
    if cured.is_object() {
        blocks.push(about("How cured, by model"));
        if cured["conversion_pct"].is_null() {
            blocks.extend(said(&cured["said"]).map(|sentence| text(&sentence)));
        } else {
            blocks.push(facts(state(cured)));
            blocks.extend(said(&cured["said"]).map(|sentence| text(&sentence)));
            blocks.extend(said(&cured["caution"]).map(|sentence| note("plain", &sentence)));
        }
        let rests: Vec<&str> = each(&cured["rests_on"]).filter_map(Value::as_str).collect();
        blocks.extend((!rests.is_empty()).then(|| fine(&format!("{}.", first_up(&rests.join("; "))))));
    }
    let stays: Vec<Value> = each(&bond["dried"]).flat_map(dried).collect();
    if !stays.is_empty() {
        blocks.push(about("What the heated air did to the wood"));
    }
    blocks.extend(stays);
    blocks
}

fn state(cured: &Value) -> Vec<Value> {
    let share = cured["conversion_pct"].as_i64().map(|pct| format!("about {pct} %"));
    let about = |name: &str| said(&cured[name]).map(|value| format!("about {value}"));
    let mut all = vec![
        fact("Share reacted", share, Tone::Plain),
        fact("Glass transition", about("glass"), Tone::Plain),
        fact("Warmest glue line", said(&cured["warmest"]), Tone::Plain),
    ];
    all.extend(said(&cured["service"]).map(|hot| fact("Hottest in service, as named", Some(hot), Tone::Plain)));
    all
}

fn dried(stay: &Value) -> Vec<Value> {
    let mut blocks: Vec<Value> = said(&stay["said"]).map(|sentence| text(&sentence)).into_iter().collect();
    blocks.extend(said(&stay["caution"]).map(|sentence| note("plain", &sentence)));
    blocks
}

/// What a ratio off balance does to a batch, in a sentence; none: the card gives no equivalents, or it is in balance.
pub fn off_ratio(batch: &Value) -> Option<String> {
    said(&batch["off_ratio"])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_told_stands_with_who_decides_and_what_cannot_be_told_says_why() {
        let told = json!({ "cured": {
            "conversion_pct": 75, "glass": "29 °C", "warmest": "20 °C", "service": null, "said": "Stalled.",
            "caution": "In the sun.", "rests_on": ["by model, not by test: the sample joint decides", "a glue line"],
        }, "dried": [{ "said": "In the tent.", "caution": null }] });
        let blocks = super::blocks(&told);
        let kinds: Vec<&str> = blocks.iter().filter_map(|block| block["block"].as_str()).collect();
        assert_eq!(kinds, ["about", "facts", "text", "note", "text", "about", "text"]);
        assert_eq!(blocks[4]["text"], "By model, not by test: the sample joint decides; a glue line.");
        assert_eq!(blocks[3]["tone"], "plain", "a caution is never an alarm");
        let not =
            json!({ "cured": { "conversion_pct": null, "said": "How cured cannot be told: why.", "rests_on": [] } });
        assert_eq!(super::blocks(&not).len(), 2);
        assert!(super::blocks(&json!({})).is_empty());
    }
}
