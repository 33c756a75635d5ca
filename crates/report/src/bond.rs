//! One bond on the page: state and what it owes first, the glue line, what went in and how it stood, each limit beside
//! its value, the presses, what was settled and how, the alarms, the readings.

use crate::Beside;
use crate::block::{Tone, about, cell, fact, fact_of, facts, fine, heading, item, list, note, table, toned};
use crate::card::{self, cards};
use crate::changed::{changes, notes};
use crate::cured;
use crate::limits;
use crate::words::{Times, count, each, joined, plain, said};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use workshop::judge::words::percent;

/// One bond as data.
pub fn content(bond: &Value) -> Value {
    json!({
        "bond": bond["id"],
        "state": bond["state"],
        "owed": bond["owed"],
        "findings": bond["findings"],
        "decisions": bond["decisions"],
        "reasons": bond["reasons"],
        "joints": bond["joints"],
        "stage": bond["stage"],
        "people": bond["people"],
        "batches": bond["batches"],
        "conditions": {
            "places": bond["places"],
            "moisture": bond["moisture"],
            "pressure": bond["pressure"],
            "dry_run": bond["dry_run"],
            "surfaces": bond["surfaces"],
            "squeeze_out": bond["squeeze_out"],
            "readings": bond["readings"],
        },
        "presses": bond["presses"],
        "limits": each(&bond["clocks"]).map(limits::content).collect::<Value>(),
        "how_cured": cured::content(bond),
        "alarms": bond["alarms"],
        "entries": bond["entries"],
    })
}

/// What is found on a bond, under a heading that names the bond already.
fn bare(sentence: &str) -> &str {
    match sentence.split_once(": ") {
        Some((of, what)) if of.starts_with("bond ") => what,
        _ => sentence,
    }
}

/// One bond as blocks.
pub fn blocks(bond: &Value, mark: &str, beside: &Beside) -> Vec<Value> {
    let times = Times::new(beside.zone_min);
    let mut blocks = vec![heading(&format!("Bond {}", word(&bond["id"])), &sub(bond, mark, times))];
    let held = |sentence: &str| note("held", &format!("Held: {}.", bare(sentence)));
    blocks.extend(each(&bond["owed"]).filter_map(Value::as_str).map(held));
    let decided = each(&bond["findings"]).filter(|found| word(&found["key"]).starts_with("decided:"));
    blocks.extend(decided.map(|found| held(word(&found["sentence"]))));
    blocks.extend(notes(&changes(each(&bond["entries"])), beside));
    blocks.extend(each(&bond["lines"]).map(|line| json!({ "block": "line", "line": line })));
    blocks.push(facts(went_in(bond, beside)));
    blocks.push(facts(stood(bond, beside)));
    blocks.push(limits::block(bond));
    blocks.push(presses(bond, times));
    blocks.extend(settled(bond, times));
    blocks.extend(samples(bond, beside, times));
    blocks.extend(alarms(bond, times));
    blocks.push(about("Readings behind the clocks"));
    blocks.push(facts(readings(bond, beside)));
    blocks.extend(digest_of_blocks(&bond["readings"]).map(|line| fine(&line)));
    blocks.extend(cured::blocks(bond));
    blocks
}

fn word(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

/// "held · second face · joints a, b and 9 of other parts · batch Fri 3 · together Fri 13 Nov 2026 10:45".
fn sub(bond: &Value, mark: &str, times: Times) -> String {
    let own = format!("{mark}/");
    let (mine, others): (Vec<&str>, Vec<&str>) =
        each(&bond["joints"]).filter_map(Value::as_str).partition(|joint| joint.starts_with(&own));
    let mine: Vec<&str> = mine.iter().map(|joint| joint.strip_prefix(&own).unwrap_or(joint)).collect();
    let rest = if others.is_empty() { String::new() } else { format!(", with {} of other parts", others.len()) };
    let joints = format!("{} {}{rest}", if mine.len() == 1 { "joint" } else { "joints" }, mine.join(", "));
    let batches = joined(each(&bond["batches"]).map(|batch| &batch["name"]));
    let together = each(&bond["presses"]).find(|press| press["press"] == "together");
    let together = together.and_then(|press| times.time(&press["at"]));
    let words = [
        said(&bond["state"]),
        said(&bond["stage"]),
        Some(joints),
        batches.map(|names| format!("batch {names}")),
        together.map(|at| format!("together {at}")),
    ];
    words.into_iter().flatten().collect::<Vec<String>>().join(" · ")
}

/// Ratio and lots of each batch.
fn went_in(bond: &Value, beside: &Beside) -> Vec<Value> {
    let mut facts = Vec::new();
    if each(&bond["batches"]).next().is_none() {
        facts.push(fact("Batch", None, Tone::Doubt));
    }
    for batch in each(&bond["batches"]) {
        let name = word(&batch["name"]);
        let answer = beside.batch(&batch["id"]);
        let mixes: Vec<&Value> = answer.into_iter().flat_map(|answer| each(&answer["mixes"])).collect();
        if mixes.is_empty() {
            facts.push(fact(&format!("Ratio, batch {name}"), verdict(&batch["verdict"]), tone(&batch["verdict"])));
        }
        let card = answer.and_then(|answer| beside.entry(&answer["card"]["id"]));
        facts.extend(mixes.iter().map(|mix| ratio(name, mix, card)));
        let off = cured::off_ratio(batch).or_else(|| answer.and_then(cured::off_ratio));
        facts.extend(off.map(|off| fact(&format!("Off balance, batch {name}"), Some(off), Tone::Plain)));
        facts.extend(each(&batch["lots"]).map(|lot| lot_fact(name, lot)));
    }
    facts
}

/// What went in, as typed, with the verdict, its doubt, and the card's ratio.
fn ratio(batch: &str, mix: &Value, card: Option<&Value>) -> Value {
    let label = if mix["kind"] == "top-up" { "Topped up" } else { "Mixed" };
    let amount = |name: &str| said(&mix[name]).map(|amount| format!("{amount} {name}"));
    let amounts = amount("resin").zip(amount("hardener")).map(|(resin, hardener)| format!("{resin}, {hardener}"));
    let error = mix["error_ppm"].as_i64().map(|ppm| format!("hardener {}{}", sign(ppm), percent(ppm.abs())));
    let doubt = mix["uncertainty_ppm"].as_i64().map(|ppm| format!(" ± {}", percent(ppm))).unwrap_or_default();
    let limit = card.map(|card| card::ratio(card).unwrap_or_else(|| "the card states no ratio".to_owned()));
    let words = [verdict(&mix["verdict"]), error.map(|error| format!("{error}{doubt}")), limit];
    let words: Vec<String> = words.into_iter().flatten().collect();
    fact_of(&format!("{label}, batch {batch}"), amounts, tone(&mix["verdict"]), Some(words.join("; ")), &mix["seq"])
}

fn sign(ppm: i64) -> &'static str {
    if ppm < 0 { "\u{2212}" } else { "+" }
}

fn verdict(value: &Value) -> Option<String> {
    let words = match value.as_str()? {
        "within" => "within the ratio",
        "outside" => "outside the ratio",
        "cannot-tell" => "within or outside cannot be told",
        "none" => "the ratio was not judged",
        other => other,
    };
    Some(words.to_owned())
}

fn tone(verdict: &Value) -> Tone {
    match verdict.as_str() {
        Some("outside") => Tone::Heat,
        Some("cannot-tell" | "none") => Tone::Doubt,
        _ => Tone::Plain,
    }
}

fn lot_fact(batch: &str, lot: &Value) -> Value {
    let mut words = Vec::new();
    words.extend(joined(each(&lot["containers"])).map(|cans| format!("from {cans}")));
    let expired = lot["expired"] == Value::Bool(true);
    if expired {
        words.push("expired when mixed".to_owned());
    }
    if lot["other_adhesive"] == Value::Bool(true) {
        words.push("belongs to another adhesive".to_owned());
    }
    let tone = if words.iter().any(|word| !word.starts_with("from")) { Tone::Heat } else { Tone::Plain };
    let label = format!("{} lot, batch {batch}", plain(word(&lot["role"])));
    fact_of(&label, said(&lot["mark"]), tone, Some(words.join(", ")).filter(|text| !text.is_empty()), &Value::Null)
}

/// Wood, pressure, squeeze-out, place, people.
fn stood(bond: &Value, beside: &Beside) -> Vec<Value> {
    let times = Times::new(beside.zone_min);
    let cards = cards(bond, beside);
    let moisture = &bond["moisture"];
    let people = joined(each(&bond["people"]));
    let places = each(&bond["places"]).map(|stay| place(stay, times)).collect::<Vec<String>>();
    let surfaces = each(&bond["surfaces"]).map(|surface| {
        let when = times.time(&surface["at"]);
        fact_of("Fresh surface", said(&surface["how"]).map(|how| plain(&how)), Tone::Plain, when, &surface["seq"])
    });
    let squeezed = word(&bond["squeeze_out"]);
    let mut facts = vec![
        fact_of(
            "Wood moisture",
            said(&moisture["value"]),
            Tone::Plain,
            both(said(&moisture["said"]), card::range(&cards, "moisture")),
            &Value::Null,
        ),
        pressure(&bond["pressure"], card::range(&cards, "pressure")),
        fact(
            "Squeeze-out",
            said(&bond["squeeze_out"]).map(|seen| plain(&seen)),
            if squeezed == "all-round" { Tone::Plain } else { Tone::Doubt },
        ),
        fact("Stood at", (!places.is_empty()).then(|| places.join("; ")), Tone::Plain),
        fact("People", people, Tone::Plain),
    ];
    // Nobody is asked for it by a sheet: it stands here where somebody said it.
    facts.extend(bond["dry_run"].as_bool().map(|done| {
        fact("Dry run", Some(if done { "put together dry, clamps counted" } else { "none" }.to_owned()), Tone::Plain)
    }));
    facts.extend(surfaces);
    facts
}

fn place(stay: &Value, times: Times) -> String {
    let from = times.time(&stay["from"]).map(|at| format!(" from {at}")).unwrap_or_default();
    let source = said(&stay["source"]).map(|source| format!(" ({source})")).unwrap_or_default();
    format!("{}{from}{source}", word(&stay["place"]))
}

fn pressure(pressure: &Value, limit: Option<String>) -> Value {
    let planned = said(&pressure["planned"]);
    let value = said(&pressure["measured"]).or_else(|| {
        planned.clone().filter(|_| pressure["as_planned"] == Value::Bool(true)).map(|it| format!("{it}, as planned"))
    });
    let basis = if value.is_none() { planned.map(|it| format!("planned {it}, not confirmed")) } else { None };
    fact_of("Pressure", value, Tone::Plain, both(basis, limit), &Value::Null)
}

fn both(one: Option<String>, other: Option<String>) -> Option<String> {
    let words: Vec<String> = [one, other].into_iter().flatten().collect();
    (!words.is_empty()).then(|| words.join("; "))
}

fn presses(bond: &Value, times: Times) -> Value {
    let row = |press: &Value| {
        let seen = said(&press["seen"]).map(|seen| format!(": {}", seen.replace('-', " "))).unwrap_or_default();
        let late = if press["late"] == Value::Bool(true) { " (entered late)" } else { "" };
        vec![
            cell(times.time(&press["at"])),
            cell(Some(format!("{}{seen}{late}", plain(word(&press["press"]))))),
            cell(said(&press["person"])),
            cell(press["seq"].as_u64().map(|seq| seq.to_string())),
        ]
    };
    table(&["When", "What was done", "Who", "Entry"], &[30, 36, 24, 10], each(&bond["presses"]).map(row).collect())
}

/// Decisions and reasons, each with what it settled.
fn settled(bond: &Value, times: Times) -> Vec<Value> {
    let sentence = |key: &Value| {
        let found = each(&bond["findings"]).find(|finding| finding["key"] == *key);
        found.and_then(|finding| said(&finding["sentence"])).unwrap_or_else(|| plain(word(key)))
    };
    let of = |keys: &Value| each(keys).map(sentence).collect::<Vec<String>>().join("; ");
    let who = |line: &Value| said(&line["person"]).unwrap_or_else(|| "a person not recorded".to_owned());
    let at = |line: &Value| times.time(&line["at"]).unwrap_or_default();
    let why =
        |text: &Value| said(text).map_or_else(|| "no reason recorded".to_owned(), |it| format!("\u{201c}{it}\u{201d}"));
    let decided = each(&bond["decisions"]).map(|line| {
        let told = format!(
            "{} by {}, {}: {}. It concerned: {}.",
            plain(word(&line["verdict"])),
            who(line),
            at(line),
            why(&line["why"]),
            of(&line["found"])
        );
        item(&told, &line["seq"])
    });
    let reasons = each(&bond["reasons"]).map(|line| {
        let told = format!("{}: {}. Reason given by {}, {}.", of(&line["of"]), why(&line["text"]), who(line), at(line));
        item(&told, &line["seq"])
    });
    let items: Vec<Value> = decided.chain(reasons).collect();
    if items.is_empty() { Vec::new() } else { vec![about("Decisions and reasons"), list(items)] }
}

/// Sample joints that were broken for this bond, as they stand.
fn samples(bond: &Value, beside: &Beside, times: Times) -> Vec<Value> {
    let broken =
        each(&bond["entries"]).filter(|entry| entry["kind"] == "sample" && entry["withdrawn"] != Value::Bool(true));
    let items = broken.map(|entry| {
        let told = beside.entry(&entry["id"]).and_then(|answer| said(&answer["said"]));
        let told = told.unwrap_or_else(|| "Sample joint broken".to_owned());
        let at = times.time(&entry["happened"]).unwrap_or_default();
        item(
            &format!("{told}. {}, {at}.", said(&entry["person"]).unwrap_or_else(|| "Person not recorded".to_owned())),
            &entry["seq"],
        )
    });
    let items: Vec<Value> = items.collect();
    if items.is_empty() { Vec::new() } else { vec![about("Sample joints"), list(items)] }
}

fn alarms(bond: &Value, times: Times) -> Vec<Value> {
    let row = |alarm: &Value| {
        let answered = said(&alarm["answered_by"]);
        let answer = answered.map_or_else(|| toned("not answered".to_owned(), Tone::Heat), |name| cell(Some(name)));
        let entry = cell(alarm["seq"].as_u64().map(|seq| seq.to_string()));
        vec![cell(times.time(&alarm["due"])), cell(said(&alarm["said"])), answer, entry]
    };
    let rows: Vec<Vec<Value>> = each(&bond["alarms"]).map(row).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    vec![table(&["Alarm due", "What it said", "Answered by", "Entry"], &[30, 36, 24, 10], rows)]
}

fn readings(bond: &Value, beside: &Beside) -> Vec<Value> {
    let times = Times::new(beside.zone_min);
    let readings = &bond["readings"];
    let cards = cards(bond, beside);
    let gaps: Vec<String> = each(&readings["gaps"]).filter_map(|gap| times.span(&gap["from"], &gap["to"])).collect();
    let none = readings["lowest_mk"].is_null();
    let gap_words = if gaps.is_empty() { "none over two hours".to_owned() } else { gaps.join("; ") };
    let gap_tone = if gaps.is_empty() { Tone::Plain } else { Tone::Doubt };
    let extreme = |name: &str| readings[name].as_i64().map(|mk| beside.reader.temperature(mk));
    let least = card::temperature(&cards, "minimum_cure", "warmer", beside.reader);
    let most = card::temperature(&cards, "maximum_cure", "cooler", beside.reader);
    vec![
        fact_of("Lowest", extreme("lowest_mk"), Tone::Plain, least, &Value::Null),
        fact_of("Highest", extreme("highest_mk"), Tone::Plain, most, &Value::Null),
        fact("Gaps", (!none).then_some(gap_words), gap_tone),
        fact("Taken", Some(taken(readings)), Tone::Plain),
    ]
}

fn taken(readings: &Value) -> String {
    let by_hand = count(each(&readings["by_hand"]).count(), "reading", "readings");
    let blocks = count(each(&readings["blocks"]).count(), "block", "blocks");
    format!("{by_hand} by hand, {blocks} from instruments")
}

/// One digest stands for all: SHA-256 over the blocks' digests, each in hex with a line feed, in the order of the list.
fn digest_of_blocks(readings: &Value) -> Option<String> {
    let digests: Vec<&str> = each(&readings["blocks"]).filter_map(Value::as_str).collect();
    let mut hash = Sha256::new();
    for digest in &digests {
        hash.update(digest.as_bytes());
        hash.update(b"\n");
    }
    let digest = hex::encode(hash.finalize());
    (!digests.is_empty()).then(|| {
        format!("SHA-256 over the list of the blocks' digests, one a line, which is attached in full: {digest}")
    })
}
