//! Small shops made up from a seed: any card, any air, any order of presses that a bench can give.

#[path = "ahead.rs"]
mod ahead;

pub use super::dice::Dice;

use super::bench::{Bench, H, MIN, id_of, instant};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Monday 2026-03-02, 06:00 UTC.
pub const START: i64 = 1_772_431_200_000;

/// Plays one small shop and asks it at several instants.
pub fn shop(seed: u64) -> Bench {
    let mut dice = Dice::of(seed.wrapping_mul(7919).wrapping_add(1));
    let mut bench = Bench::at(START - 90 * H, seed);
    bench.east(*dice.one(&[0, 60, -300, 345]));
    let card = card(&mut dice);
    stores(&mut bench, &mut dice, &card);
    let mut plan = plan(&mut dice);
    plan.sort_by_key(|(ms, n, _)| (*ms, *n));
    let asks: Vec<i64> = (0..6).map(|_| START + H + dice.whole(0, 40 * 60) * MIN + dice.whole(0, 59_999)).collect();
    let mut made = Made::default();
    for (ms, _, step) in plan {
        step.play(&mut bench, &mut made, ms);
    }
    bench.until(START + 80 * H);
    for at in asks {
        bench.ask(at, None);
    }
    bench
}

fn stores(bench: &mut Bench, dice: &mut Dice, card: &Value) {
    let t = START - 90 * H;
    for place in ["bench", "box", "barn"] {
        bench.act(t, "place", json!({"name": place}));
    }
    if dice.percent(30) {
        bench.act(t, "instrument", json!({"name": "good", "step": "0.1 K", "accuracy": "0.4 K"}));
    } else {
        bench.act(t, "instrument", json!({"name": "good", "step": "0.1 K"}));
    }
    bench.act(t, "card", card.clone());
    for role in ["resin", "hardener"] {
        bench.act(t, "lot", json!({"mark": role, "card": "glue", "role": role}));
        bench.act(t, "container", json!({"mark": format!("{role} can"), "lot": role}));
    }
    bench.act(t, "part", json!({"mark": "P"}));
    let mut joint = json!({"part": "P", "mark": "J"});
    if dice.percent(80) {
        joint["thickness"] = json!(format!("{} mm", dice.one(&[3, 6, 12, 20, 30, 40])));
    }
    bench.act(t, "joint", joint);
}

/// A card with two to eight limits.
fn card(dice: &mut Dice) -> Value {
    let class = *dice.one(&["epoxy", "epoxy", "epoxy", "resorcinol", "casein", "urea", "other"]);
    let mut limits = vec![];
    for (clock, short, long) in [
        ("pot", 15, 90),
        ("open", 8, 40),
        ("closed", 15, 60),
        ("clamp", 180, 900),
        ("machining", 600, 1800),
        ("full-cure", 2000, 9000),
    ] {
        if clock == "clamp" || dice.percent(80) {
            let minutes = dice.whole(short, long);
            limits.push(limit(dice, clock, minutes));
        }
    }
    let mut card = json!({"name": "glue", "class": class, "ratio": "100:50", "limits": limits});
    if class == "epoxy" && dice.percent(45) {
        let at = dice.celsius(15, 30);
        card["film_gel"] = json!({"at": at, "time": format!("{} min", dice.whole(60, 600))});
    }
    options(dice, &mut card);
    card
}

fn options(dice: &mut Dice, card: &mut Value) {
    if dice.percent(25) {
        card["origin"] = json!(*dice.one(&["handbook", "class"]));
    }
    if dice.percent(60) {
        // Three hundredths off what a thermometer shows: wood that creeps up to a border for ever decides nothing.
        card["minimum_cure"] = json!(format!("{}.{}3 C", dice.whole(5, 17), dice.whole(0, 9)));
    }
    if dice.percent(30) {
        card["together"] = json!(true);
    }
    if dice.percent(40) {
        card["application_maximum"] = json!(dice.celsius(26, 36));
        card["application_minimum"] = json!(dice.celsius(5, 17));
    }
    if dice.percent(30) {
        card["water_borne"] = json!(dice.percent(50));
    }
}

fn limit(dice: &mut Dice, clock: &str, minutes: i64) -> Value {
    let mut points = vec![];
    let (mut at, mut time) = (dice.whole(12, 22), minutes * 60);
    for _ in 0..*dice.one(&[1, 1, 1, 2, 2, 3, 4]) {
        let text = if dice.percent(25) { format!("{time}-{} s", time + time / 3) } else { format!("{time} s") };
        let mut point = json!({"at": format!("{at}.03 C"), "time": text});
        if clock == "pot" {
            point["mass"] = json!(*dice.one(&["100 g", "100 g", "100 g", "50 g", "250 g"]));
            if dice.percent(10) {
                point.as_object_mut().unwrap().remove("mass");
            }
        }
        points.push(point);
        // 5.6 to 9.5 % shorter a kelvin is 42 to 72 kJ/mol about 20 C: inside what is accepted.
        for _ in 0..dice.whole(5, 10) {
            at += 1;
            time = time * dice.whole(905, 944) / 1000;
        }
    }
    let mut limit = json!({"clock": clock, "points": points});
    let counted: &[&str] = match clock {
        "pot" => &["mixing"],
        "open" => &["mixing", "spreading"],
        "closed" => &["mixing", "spreading", "closing"],
        _ => &["pressure", "mixing"],
    };
    if dice.percent(85) {
        limit["counted_from"] = json!(*dice.one(counted));
    }
    limit
}

/// Names given by the doors while a plan is played.
#[derive(Default)]
struct Made {
    batches: Vec<String>,
    bonds: BTreeMap<usize, String>,
}

/// One thing to do, with what it needs from before.
enum Step {
    Act(&'static str, Value),
    HardenerIn,
    Mix(usize, Value),
    Bond(usize, Vec<usize>, Value),
    OnBond(usize, &'static str, Value),
    OnBatch(usize, &'static str),
    Logger(&'static str, Vec<(i64, String)>),
    ForecastWithdrawn,
}

impl Step {
    fn play(self, bench: &mut Bench, made: &mut Made, ms: i64) {
        match self {
            Step::Act(act, body) => {
                bench.act(ms, act, body);
            }
            Step::HardenerIn => {
                let receipt = bench.act(ms, "press", json!({"press": "hardener-in"}));
                made.batches.push(id_of(&receipt, "batch"));
            }
            Step::Mix(n, mut body) => {
                if let Some(batch) = made.batches.get(n) {
                    body["batch"] = json!(batch);
                    bench.act(ms, "mix", body);
                } else {
                    let receipt = bench.act(ms, "mix", body);
                    made.batches.push(id_of(&receipt, "batch"));
                }
            }
            Step::Bond(n, batches, mut body) => {
                body["batches"] = batches.iter().map(|n| json!(made.batches[*n])).collect();
                let receipt = bench.act(ms, "bond", body);
                made.bonds.insert(n, id_of(&receipt, "bond"));
            }
            Step::OnBond(n, act, mut body) => {
                body["bond"] = json!(made.bonds[&n]);
                bench.act(ms, act, body);
            }
            Step::OnBatch(n, press) => {
                bench.act(ms, "press", json!({"press": press, "batch": made.batches[n]}));
            }
            Step::Logger(place, rows) => logger(bench, ms, place, &rows),
            Step::ForecastWithdrawn => {
                let stated = bench.events.iter().rev().find(|event| event["act"]["act"] == "forecast");
                let entry = stated.map(|event| id_of(&event["receipt"], "forecast"));
                if let Some(entry) = entry {
                    bench.until(ms);
                    let body = json!({"entry": entry, "why": "it came otherwise"});
                    // One that is withdrawn already stays so.
                    bench.try_act(json!({"act": "withdraw", "body": body}));
                }
            }
        }
    }
}

/// Writes a logger's file and imports it.
pub fn logger(bench: &mut Bench, ms: i64, place: &str, rows: &[(i64, String)]) {
    let path = bench.dir.path().join(format!("log-{ms}.csv"));
    let mut file = String::from("time,temperature\n");
    for (at, celsius) in rows {
        file.push_str(&format!("{},{}\n", instant(*at), celsius.trim_end_matches(" C")));
    }
    std::fs::write(&path, file).unwrap();
    bench.act(ms, "readings-file", json!({"place": place, "path": path}));
    bench.rows(rows);
}

type Plan = Vec<(i64, usize, Step)>;

fn plan(dice: &mut Dice) -> Plan {
    let mut plan: Plan = vec![];
    air(dice, &mut plan);
    ahead::stated(dice, &mut plan);
    let t = START + dice.whole(60, 300) * MIN;
    let mut mixed = t + dice.whole(0, 5) * MIN;
    if dice.percent(80) {
        plan.push((t, plan.len(), Step::HardenerIn));
    } else {
        mixed = t;
    }
    plan.push((mixed, plan.len(), Step::Mix(0, mix(dice))));
    bond(dice, &mut plan, 0, vec![0], mixed);
    if dice.percent(35) {
        let again = mixed + dice.whole(2, 40) * MIN;
        bond(dice, &mut plan, 1, vec![0], again);
    }
    if dice.percent(15) {
        plan.push((mixed + dice.whole(20, 200) * MIN, plan.len(), Step::OnBatch(0, "pot-done")));
    }
    plan
}

fn mix(dice: &mut Dice) -> Value {
    let mut mix = json!({"card": "glue", "containers": ["resin can", "hardener can"], "place": "bench"});
    if dice.percent(85) {
        let grams = if dice.percent(25) { dice.whole(300, 1500) } else { dice.whole(20, 300) };
        mix["resin"] = json!(format!("{grams}.0 g"));
        mix["hardener"] = json!(format!("{}.{} g", grams / 2, grams % 2 * 5));
    }
    if dice.percent(40) {
        let warmed = dice.percent(30);
        mix["start_temperature"] = json!(if warmed { dice.celsius(30, 44) } else { dice.celsius(14, 30) });
    }
    mix
}

fn bond(dice: &mut Dice, plan: &mut Plan, n: usize, batches: Vec<usize>, mixed: i64) {
    let mut body = json!({"joints": ["P/J"], "place": "bench"});
    let two = dice.percent(12);
    if two {
        body["presses"] = json!(2);
    }
    if dice.percent(12) {
        body["bent"] = json!(true);
    }
    if dice.percent(40) {
        body["wood_temperature"] = json!(dice.celsius(5, 24));
    } else if dice.percent(60) {
        body["stored"] = json!("barn");
    }
    // A mix is spread at once, or late: then it is old.
    let mut t = mixed + if dice.percent(25) { dice.whole(9, 90) } else { dice.whole(1, 8) } * MIN;
    plan.push((t, plan.len(), Step::Bond(n, batches, body)));
    let press = |plan: &mut Plan, t: i64, word: &str| {
        plan.push((t, plan.len(), Step::OnBond(n, "press", json!({"press": word}))));
    };
    if dice.percent(92) {
        press(plan, t, "first-glue-on");
    }
    t += dice.whole(1, 25) * MIN + dice.whole(0, 59_999);
    if !two && dice.percent(90) {
        press(plan, t, "together");
    }
    t += dice.whole(1, 30) * MIN + dice.whole(0, 59_999);
    if dice.percent(94) {
        press(plan, t, "all-tight");
        after(dice, plan, n, t);
    }
}

/// What may happen while it is under pressure.
fn after(dice: &mut Dice, plan: &mut Plan, n: usize, t: i64) {
    let push = |plan: &mut Plan, t: i64, act: &'static str, body: Value| {
        plan.push((t, plan.len(), Step::OnBond(n, act, body)));
    };
    if dice.percent(15) {
        let lost = t + dice.whole(10, 200) * MIN;
        push(plan, lost, "press", json!({"press": "clamp-lost"}));
        if dice.percent(70) {
            push(plan, lost + dice.whole(1, 60) * MIN, "press", json!({"press": "re-tightened"}));
        }
    } else if dice.percent(15) {
        push(plan, t + dice.whole(5, 100) * MIN, "press", json!({"press": "re-tightened"}));
    }
    if dice.percent(35) {
        push(plan, t + dice.whole(20, 300) * MIN, "moved", json!({"place": "box"}));
    }
    if dice.percent(50) {
        push(plan, t + dice.whole(300, 2400) * MIN, "press", json!({"press": "first-clamp-off"}));
    }
    if dice.percent(25) {
        push(plan, t + dice.whole(2401, 3000) * MIN, "press", json!({"press": "used", "seen": "planed"}));
    }
}

/// Readings by hand with any gaps, a logger with holes, a min-max thermometer, a floor vouched for.
fn air(dice: &mut Dice, plan: &mut Plan) {
    let style = dice.whole(0, 9);
    if style >= 1 {
        by_hand(dice, plan, "bench", if style < 7 { 120 } else { 400 });
    }
    if dice.percent(60) {
        by_hand(dice, plan, "box", 100);
    }
    if (3..=6).contains(&style) {
        let rows = logged(dice);
        let last = rows.last().map_or(START, |r| r.0);
        plan.push((last + 5 * MIN, plan.len(), Step::Logger("bench", rows)));
    } else if dice.percent(60) {
        ahead::cool_down(dice, plan, "bench");
    }
    if dice.percent(75) {
        ahead::barn(dice, plan);
    }
    if dice.percent(15) {
        let from = START + dice.whole(120, 900) * MIN;
        let until = from + dice.whole(60, 900) * MIN;
        let body =
            json!({"place": "bench", "floor": dice.celsius(10, 20), "from": instant(from), "until": instant(until)});
        plan.push((until, plan.len(), Step::Act("vouch", body)));
    }
}

fn by_hand(dice: &mut Dice, plan: &mut Plan, place: &str, longest: i64) {
    let mut t = START + dice.whole(0, 90) * MIN;
    let end = START + dice.whole(6, 60) * H;
    let middle = if place == "box" { dice.whole(24, 38) } else { dice.whole(10, 26) };
    let instrument = dice.percent(25);
    let mut first = true;
    while t < end {
        let mut body = json!({"place": place, "temperature": dice.celsius(middle - 5, middle + 5)});
        if instrument {
            body["instrument"] = json!("good");
        }
        if !first && dice.percent(8) {
            body["lowest_since"] = json!(dice.celsius(middle - 8, middle - 5));
        }
        if dice.percent(5) {
            body["wood"] = json!(dice.celsius(middle - 6, middle));
        }
        plan.push((t, plan.len(), Step::Act("reading", body)));
        first = false;
        t += dice.whole(4, longest) * MIN + dice.whole(0, 59_999);
    }
}

fn logged(dice: &mut Dice) -> Vec<(i64, String)> {
    let mut rows = vec![];
    let mut hundredths = dice.whole(1200, 2500);
    let mut t = START + dice.whole(30, 120) * MIN;
    for _ in 0..dice.whole(200, 900) {
        hundredths += dice.whole(-12, 12);
        rows.push((t, format!("{}.{:02} C", hundredths / 100, hundredths % 100)));
        t += if dice.percent(1) { dice.whole(10, 200) * MIN } else { MIN };
    }
    rows
}
