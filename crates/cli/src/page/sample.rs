//! Pages made by hand for the tests of the drawing: glue lines of both stages, long words, letters without a glyph,
//! many bonds, none.

use serde_json::{Value, json};

/// A page with this many bonds; each has a line of both stages, facts, limits and presses.
pub fn page(bonds: usize) -> Value {
    let blocks: Vec<Value> = (1..=bonds).flat_map(bond).collect();
    let blocks =
        if bonds == 0 { vec![json!({ "block": "text", "text": "No bond of this part is recorded." })] } else { blocks };
    json!({
        "page": "part",
        "part": { "mark": "R7", "id": "9f3c51ad-0000-4000-8000-000000000001", "assembly": null, "kind": "rib" },
        "title": "Rib R7",
        "subtitle": "left wing · 22 joints glued",
        "stamp": { "tone": "heat", "word": "held: 2 reasons owed" },
        "summary": [fact("Glued", Some("Tue 24 Nov 2026"), "plain"), fact("Clamps off", None, "doubt")],
        "zone": "Times are UTC+01:00.",
        "issued": {
            "at": "2026-11-25T09:00:00.000Z", "said": "Wed 25 Nov 2026 10:00",
            "entry": "9f3c51ad-0000-4000-8000-000000000002", "seq": 812
        },
        "sections": [
            { "section": "look-at-first", "heading": "What to look at first", "content": [], "blocks": [
                { "block": "list", "items": [{ "sentence": "Bond 1 came together late.", "entry": 41 }] }
            ] },
            { "section": "bonds", "heading": "What was done, bond by bond", "content": [], "blocks": blocks },
            { "section": "checkpoint", "heading": "Checkpoint", "content": {}, "blocks": [checkpoint()] },
        ],
    })
}

fn fact(label: &str, value: Option<&str>, tone: &str) -> Value {
    json!({ "label": label, "value": value, "tone": tone, "basis": null, "entry": null })
}

fn checkpoint() -> Value {
    let lines = ["ba3503bb-dba4-4d24-a7b4-41d2859b317e", "813", "y3aFlJXeDmeMpMAd1id4L2W2ePoDlDtjV0/PxAQPCqk="];
    json!({ "block": "checkpoint", "lines": lines, "qr": format!("{}\n", lines.join("\n")) })
}

fn bond(number: usize) -> Vec<Value> {
    let row =
        |name: &str| json!([cell(name), cell("10 h at 20 °C"), cell("Clamps came off after the time was reached")]);
    vec![
        json!({ "block": "heading", "text": format!("Bond {number}"), "sub": "clear · first face · batch Tue 3" }),
        json!({ "block": "note", "tone": "correction", "text": "Mix of entry 31 corrected Tue 24 Nov 2026 15:02 by Ada: Hardener 36.2 g, was 63.2 g. Why: \u{201c}digits swapped\u{201d}" }),
        json!({ "block": "line", "line": assembly() }),
        json!({ "block": "line", "line": cure() }),
        json!({ "block": "facts", "facts": [fact("Resin lot", Some("R-31"), "plain"), fact("Pressure", None, "doubt")] }),
        json!({ "block": "table", "heads": ["Limit", "Stated", "What was reached"], "widths": [1, 2, 3],
                "rows": [row("Pot life"), row("Closed time"), row("Clamps"), row("Machining"), row("Full cure")] }),
    ]
}

fn cell(text: &str) -> Value {
    json!({ "text": text, "tone": "plain" })
}

/// Hardener in to all tight, with three walls.
pub fn assembly() -> Value {
    let mark = |sort: &str, at: u32, word: &str, lane: u8, anchor: &str| json!({ "sort": sort, "at": at, "word": word, "lane": lane, "anchor": anchor, "passed": true, "clock": null });
    json!({
        "stage": "assembly", "from": "2026-11-24T13:20:00.000Z", "to": "2026-11-24T14:10:00.000Z",
        "boxes": [{ "fill": "glue-2", "from": 0, "to": 620_000 }, { "fill": "over", "from": 620_000, "to": 700_000 },
                  { "fill": "rest", "from": 700_000, "to": 1_000_000 }],
        "marks": [
            mark("press", 0, "hardener in 14:20", 0, "start"),
            mark("press", 300_000, "glue on 14:27", 0, "middle"),
            mark("wall", 620_000, "tight by 14:47", 0, "end"),
            mark("press", 700_000, "all tight 14:51", 1, "middle"),
            mark("wall", 1_000_000, "pot until 15:10", 0, "end"),
        ],
        "now": null, "temperature": null,
        "words": "From hardener in at 14:20 to all tight at 14:51; the closed time ended at 14:47.",
    })
}

/// All tight to the gates, with a cold stretch, an uncertain one, a gap in the readings and the temperature below.
pub fn cure() -> Value {
    let points: Vec<[i64; 2]> = (0..=200_i64)
        .filter(|i| !(121..140).contains(i))
        .map(|i| [i * 5000, 300_000 + (i - 100).pow(2) * 40])
        .collect();
    let mark = |sort: &str, at: u32, word: &str, lane: u8, anchor: &str| json!({ "sort": sort, "at": at, "word": word, "lane": lane, "anchor": anchor, "passed": true, "clock": "clamp" });
    json!({
        "stage": "cure", "from": "2026-11-24T13:50:00.000Z", "to": "2026-11-25T13:50:00.000Z",
        "boxes": [{ "fill": "glue-3", "from": 0, "to": 250_000 }, { "fill": "glue-2", "from": 250_000, "to": 420_000 },
                  { "fill": "chill", "from": 420_000, "to": 560_000 }, { "fill": "glue-1", "from": 560_000, "to": 800_000 },
                  { "fill": "hatch", "from": 800_000, "to": 900_000 }, { "fill": "rest", "from": 900_000, "to": 1_000_000 }],
        "marks": [
            mark("press", 0, "all tight 14:51", 0, "start"),
            mark("gate", 800_000, "clamps off, earliest 06:35", 0, "end"),
            mark("gate", 900_000, "clamps off, latest 08:12", 1, "middle"),
        ],
        "now": null,
        "temperature": { "points": points, "low_line": 620_000, "high_line": null, "breaks": [[600_000, 700_000]],
                         "least_word": "15 °C least", "top_word": "24 °C", "bottom_word": "11 °C" },
        "words": "All tight at 14:51. Too cold to cure from 00:56 to 04:18; clamps could come off between 06:35 and 08:12.",
    })
}
