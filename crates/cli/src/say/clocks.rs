//! Clocks as a table: whose, which, how it stands, how far, and the sentence that says what it means.

use super::{lines, rows, table, text, words};
use serde_json::Value;

/// The answer to `clocks`.
pub fn clocks(answer: &Value) -> String {
    let rows = rows(answer, "clocks", |clock| {
        let mut row = clock_row(clock);
        row.insert(1, words(&clock["parts"]));
        row
    });
    let table = table::table(&["of", "parts", "clock", "state", "progress", "in words"], &rows, "No clock runs.");
    format!("Clocks at {}, {} entries\n{table}", text(&answer["at"]), text(&answer["size"]))
}

/// The clocks of a bond whose parts are named already.
pub fn clock_table(answer: &Value) -> String {
    let rows = rows(answer, "clocks", clock_row);
    table::table(&["of", "clock", "state", "progress", "in words"], &rows, "No clock runs.")
}

fn clock_row(clock: &Value) -> Vec<String> {
    let names = ["of", "clock", "state"].map(|name| text(&clock[name]));
    names.into_iter().chain([progress(&clock["progress_ppm"]), text(&clock["said"])]).collect()
}

/// The answer to `bench`.
pub fn bench(answer: &Value) -> String {
    let mut said = clocks(answer);
    let readings = rows(answer, "strip", |place| {
        let cells = place["cells"].as_array().into_iter().flatten();
        std::iter::once(text(&place["place"])).chain(cells.map(|cell| text(&cell["value"]))).collect()
    });
    let heads = ["place", "air", "humidity", "wood would settle at", "above dew point", "reading"];
    said += "\nLast readings\n";
    said += &table::table(&heads, &readings, "No place is known.");
    for (heading, none, list) in [
        ("Alarms not answered", "None.", sentences(&answer["alarms"])),
        ("Owed", "Nothing.", lines(&answer["owed"], "  - ")),
    ] {
        said += &format!("\n{heading}\n{}", if list.is_empty() { format!("  {none}\n") } else { list });
    }
    said
}

fn sentences(alarms: &Value) -> String {
    let all = alarms.as_array().into_iter().flatten();
    all.map(|alarm| format!("  - {}: {} ({})\n", text(&alarm["due"]), text(&alarm["said"]), text(&alarm["id"])))
        .collect()
}

/// Low to high, in whole per cent, outwards.
fn progress(ppm: &Value) -> String {
    match (ppm["low"].as_i64(), ppm["high"].as_i64()) {
        (Some(low), Some(high)) => {
            let (low, high) = (low.div_euclid(10_000), -(-high).div_euclid(10_000));
            if low == high { format!("{low} %") } else { format!("{low}–{high} %") }
        }
        _ => "–".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn progress_is_rounded_outwards() {
        assert_eq!(progress(&json!({ "low": 439_999, "high": 600_001 })), "43–61 %");
        assert_eq!(progress(&json!({ "low": 0, "high": 0 })), "0 %");
        assert_eq!(progress(&json!({ "low": 999_999, "high": 1_000_000 })), "99–100 %");
    }
}
