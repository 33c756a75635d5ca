//! The head of the page: title, stamp, and the few facts somebody asks for first.

use crate::block::{Tone, fact};
use crate::changed::{changes, entries};
use crate::words::{Times, count, each, joined, said};
use serde_json::{Value, json};

/// Title: the mark, with the kind before it: "Rib R3-L".
pub fn title(part: &Value) -> String {
    let mark = part["mark"].as_str().unwrap_or_default();
    said(&part["kind"]).map_or_else(|| mark.to_owned(), |kind| format!("{} {mark}", crate::words::plain(&kind)))
}

/// "Left wing · 22 joints in 3 bonds".
pub fn subtitle(trace: &Value) -> String {
    let bonds = each(&trace["bonds"]).count();
    let own = format!("{}/", trace["part"]["mark"].as_str().unwrap_or_default());
    let mut joints: Vec<&str> =
        each(&trace["bonds"]).flat_map(|bond| each(&bond["joints"])).filter_map(Value::as_str).collect();
    joints.retain(|joint| joint.starts_with(&own));
    joints.sort_unstable();
    joints.dedup();
    let glued = if bonds == 0 {
        "no bond recorded".to_owned()
    } else {
        format!("{} in {}", count(joints.len(), "joint glued", "joints glued"), count(bonds, "bond", "bonds"))
    };
    [said(&trace["part"]["assembly"]), Some(glued)].into_iter().flatten().collect::<Vec<String>>().join(" · ")
}

/// What the page says at a glance. It states what is held or owed and gives no verdict of its own.
pub fn stamp(trace: &Value) -> Value {
    let (tone, word) = glance(trace);
    json!({ "tone": tone.word(), "word": word })
}

fn glance(trace: &Value) -> (Tone, String) {
    let bonds: Vec<&Value> = each(&trace["bonds"]).collect();
    let standing = |state: &str| bonds.iter().filter(|bond| bond["state"] == state).count();
    if bonds.is_empty() {
        return (Tone::Plain, "not glued yet".to_owned());
    }
    if standing("held") > 0 {
        return (Tone::Heat, format!("held: {}", owed(&bonds)));
    }
    match standing("running") {
        0 if each(&trace["not_recorded"]).next().is_some() => {
            (Tone::Doubt, "nothing held; not all recorded".to_owned())
        }
        0 => (Tone::Moss, "nothing held".to_owned()),
        running => (Tone::Plain, format!("running: {}", count(running, "bond", "bonds"))),
    }
}

/// What is owed on held bonds: a reason where something is missing, a decision where something went wrong.
fn owed(bonds: &[&Value]) -> String {
    let open = bonds.iter().flat_map(|bond| each(&bond["findings"])).filter(|finding| finding["settled"] != true);
    let keys: Vec<&str> = open.filter_map(|finding| finding["key"].as_str()).collect();
    let by_reason = |key: &&&str| {
        key.starts_with("missing:") || **key == "ratio:cannot-tell" || **key == "squeeze-out:not-all-round"
    };
    let rejected = keys.iter().filter(|key| key.starts_with("decided:")).count();
    let reasons = keys.iter().filter(by_reason).count();
    let decisions = keys.len() - reasons - rejected;
    let mut words = Vec::new();
    if rejected > 0 {
        words.push("rejected".to_owned());
    }
    if reasons > 0 {
        words.push(format!("{} owed", count(reasons, "reason", "reasons")));
    }
    if decisions > 0 {
        words.push(format!("{} owed", count(decisions, "decision", "decisions")));
    }
    if words.is_empty() { count(bonds.len(), "bond", "bonds") } else { words.join(", ") }
}

/// The facts under the title.
pub fn facts(trace: &Value, times: Times) -> Vec<Value> {
    let presses = |name: &'static str| {
        let all = each(&trace["bonds"]).flat_map(|bond| each(&bond["presses"]));
        let mut found: Vec<&Value> = all.filter(|press| press["press"] == name).map(|press| &press["at"]).collect();
        found.sort_by_key(|at| at.as_str().unwrap_or_default());
        found
    };
    let span = |found: Vec<&Value>| match (found.first(), found.last()) {
        (Some(first), Some(last)) if times.day(first) == times.day(last) => times.day(first),
        (Some(first), Some(last)) => Some(format!("{} to {}", times.day(first)?, times.day(last)?)),
        _ => None,
    };
    let mut people: Vec<&Value> = each(&trace["bonds"]).flat_map(|bond| each(&bond["people"])).collect();
    people.sort_by_key(|name| name.as_str().unwrap_or_default());
    people.dedup();
    let glued = presses("together").into_iter().chain(presses("all-tight")).collect::<Vec<&Value>>();
    let missing = each(&trace["not_recorded"]).count();
    let changed = changes(entries(trace)).len();
    vec![
        fact("Glued", span(sorted(glued)), Tone::Plain),
        fact("Clamps off", span(presses("first-clamp-off")), Tone::Plain),
        fact("People", joined(people.into_iter()), Tone::Plain),
        fact(
            "Not recorded",
            Some(count(missing, "value", "values")),
            if missing > 0 { Tone::Doubt } else { Tone::Plain },
        ),
        fact("Corrected or withdrawn", Some(count(changed, "entry", "entries")), Tone::Plain),
    ]
}

fn sorted(mut instants: Vec<&Value>) -> Vec<&Value> {
    instants.sort_by_key(|at| at.as_str().unwrap_or_default());
    instants
}
