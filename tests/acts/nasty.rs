//! Acts with one value spoilt, from a seed: each is done or refused in words of the set, never a fault, and nothing
//! refused leaves a trace.

use crate::shop::{Shop, card};
use serde_json::{Value, json};
use workshop::wire::CODES;

const NASTY: &[&str] = &[
    "",
    " ",
    "0",
    "-1",
    "1e400",
    "NaN",
    "0 g",
    "-40.0 g",
    "999999999999999 kg",
    "1/0 in",
    "1/3 in",
    "٣ g",
    "4-6 h",
    "6-4 h",
    "-",
    "/",
    ":",
    "::",
    "100:",
    ":83",
    "100:83:1",
    "1/2/3 g",
    "///",
    "12.4/52.4/",
    "bond:",
    "bond:1",
    "batch:",
    "Tue 1",
    "Tue 1 2026-11-24",
    "R1-L/",
    "/J1",
    "R1-L/J1/",
    "é/é",
    "2026-11-24T08:00:00Z",
    "9999-12-31T23:59:59Z",
    "-0001-01-01T00:00:00Z",
    "2026-11-24T24:00:00+99:00",
    "2026-11-24",
    "18446744073709551616",
    "18446744073709551615",
    "\u{0}",
    "\u{202E}x",
    "\u{FEFF}",
    "°C",
    "20 °",
    "20 º C",
    "µ",
    "\u{2212}5 C",
    "\u{1F600}",
    "a\u{301}\u{301}\u{301}",
    "/dev/null",
    "/proc/self/mem",
    ".",
    "..",
];

fn acts() -> Vec<Value> {
    let at = "2026-11-24T08:30:00Z";
    [
        ("person", json!({"name": "zoe"})),
        ("place", json!({"name": "attic", "feed": true})),
        ("instrument", json!({"name": "probe", "step": ["0.1 K", "1 %"], "accuracy": "0.5 K"})),
        ("card", card("green")),
        ("card", json!({"name": "blue", "class": "epoxy", "ratio": "2:1", "film_gel": {"at": "25 C", "time": "2-3 h"}, "glass": {"fresh": "-30 C", "full": "75 C"},
            "equivalents": {"resin": "187 g", "hardener": "60 g", "functionality": 4}, "limits": [{"clock": "pot", "points": [{"at": "25 C", "time": "40 min"}]}]})),
        ("lot", json!({"mark": "R-5", "card": "amber", "role": "resin", "received": "2026-11-01", "expires": "2027-01-01"})),
        ("container", json!({"mark": "r5", "lot": "R-1", "holds": "1 kg", "stored": "store", "opened": at})),
        ("kind", json!({"mark": "k", "presses": 2, "stages": [{"mark": "a", "joints": [{"mark": "x", "area": "1 cm2", "thickness": "1/8 in"}]}]})),
        ("set", json!({"kind": "rib", "marks": ["R8", "R9"], "assembly": "tail"})),
        ("joint", json!({"part": "R1-L", "mark": "J7", "sort": "lap"})),
        ("reading", json!({"place": "loft", "temperature": "20 C", "humidity": "50 %", "wood": "10 %", "lowest_since": at})),
        ("readings-file", json!({"place": "loft", "path": "/dev/null", "columns": {"time": "t"}})),
        ("vouch", json!({"place": "loft", "floor": "16 C", "until": "2026-11-25T08:00:00Z", "from": at})),
        ("forecast", json!({"place": "loft", "shape": "setback", "day": "20 C", "night": "12 C", "from": "22:00", "to": "06:00", "ramp": "1 h", "until": "2026-11-25T08:00:00Z"})),
        ("forecast", json!({"place": "loft", "shape": "cooling", "towards": "5 C", "time_constant": "4 h"})),
        ("forecast", json!({"place": "loft", "shape": "day", "mean": "15 C", "swing": "5 K", "warmest": "15:00"})),
        ("mix", json!({"card": "amber", "containers": ["r1", "h1"], "weighing": "12.4/52.4/85.6 g", "start_temperature": "20 C"})),
        ("top-up", json!({"batch": "Tue 1", "card": "amber", "resin": "10.0 g", "hardener": "8.3 g"})),
        ("filler", json!({"batch": "Tue 1", "lot": "F-1", "mass": "3 g"})),
        ("cup", json!({"batch": "Tue 1", "temperature": "38 C"})),
        ("throw-away", json!({"batch": "Tue 1", "mass": "3 g"})),
        ("bond", json!({"batches": [{"batch": "Tue 1", "from": "0 mm", "to": "1 m"}], "joints": ["R1-L/J3"], "moisture": "9 %"})),
        ("press", json!({"press": "squeeze-out", "bond": "1", "seen": "all-round"})),
        ("moved", json!({"bond": "1", "place": "store"})),
        ("surface", json!({"joints": ["R1-L/J1"], "parts": ["R1-R"], "how": "planed"})),
        ("sample", json!({"part": "R1-L", "load": "3500 N", "width": "38 mm", "length": "50 mm", "wood_failure": "80 %", "note": "n"})),
        ("reason", json!({"of": "bond 1: squeeze-out", "text": "x"})),
        ("decide", json!({"bond": "1", "verdict": "accepted", "why": "x"})),
        ("correct", json!({"entry": "2", "body": {"name": "ben"}, "why": "x"})),
        ("withdraw", json!({"entry": "22", "why": "x"})),
        ("issue", json!({"subject": "bond:1"})),
    ]
    .into_iter()
    .map(|(act, body)| json!({"act": act, "person": "ann", "happened": at, "why": "w", "body": body}))
    .collect()
}

/// Places of a value, as JSON pointers.
fn places(value: &Value, here: String, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => fields.iter().for_each(|(name, value)| places(value, format!("{here}/{name}"), found)),
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(at, value)| places(value, format!("{here}/{at}"), found))
        }
        _ => {}
    }
    found.push(here);
}

/// The act under names nobody bears yet.
fn fresh(act: &Value, at: usize) -> Value {
    let mut act = act.clone();
    for name in ["/body/name", "/body/mark", "/body/marks/0", "/body/marks/1"] {
        if act["act"] != "correct"
            && let Some(Value::String(text)) = act.pointer_mut(name)
        {
            text.push_str(&format!("-{at}"));
        }
    }
    act
}

#[test]
fn one_value_spoilt() {
    let mut shop = Shop::new();
    shop.bonded();
    let (mut seed, mut done, mut refused) = (0x1234_5678_9ABC_DEF0_u64, 0, 0);
    let mut next = |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % below
    };
    for (at, act) in acts().iter().cycle().take(800).enumerate() {
        let mut act = fresh(act, at);
        let mut found = Vec::new();
        places(&act, String::new(), &mut found);
        let place = found[next(found.len())].clone();
        let spoilt = match next(8) {
            0 => {
                [json!(null), json!([]), json!({}), json!(true), json!(-7), json!(1e300), json!([[]])][next(7)].clone()
            }
            _ => json!(NASTY[next(NASTY.len())]),
        };
        *act.pointer_mut(&place).unwrap() = spoilt;
        let (text, before) = (act.to_string(), shop.head());
        match shop.act(act) {
            Ok(receipt) => {
                done += 1;
                assert!(receipt.repeat || receipt.size > before.unwrap().0, "{text}");
            }
            Err(error) => {
                refused += 1;
                assert!(CODES.contains(&error.code) && error.exit() == 2, "{text}: {error:?}");
                assert!(error.field.is_some() || error.code == "bad-json", "{text}: {error:?}");
                assert_eq!(shop.head(), before, "{text}");
            }
        }
    }
    assert!(done > 100 && refused > 500, "{done} done, {refused} refused");
}
