//! One week in a made-up wing shop: ribs, a spar of three pots, a cold night, a logger's file, a hot box, gussets.
//! Everything goes by names, so that the same week can be typed in again through the real program.

use super::bench::{Bench, H, MIN, instant};
use super::random::logger;
use serde_json::{Value, json};

/// Monday 2026-03-02, 06:00 UTC.
pub const MONDAY: i64 = 1_772_431_200_000;
const DAY: i64 = 24 * H;

/// The week's acts, written down story by story and lived in order of time.
#[derive(Default)]
struct Week(Vec<Planned>);

struct Planned {
    entered_ms: i64,
    happened_ms: i64,
    act: &'static str,
    body: Value,
}

impl Week {
    fn act(&mut self, ms: i64, act: &'static str, body: Value) {
        self.late(ms, ms, act, body);
    }

    fn late(&mut self, entered_ms: i64, happened_ms: i64, act: &'static str, body: Value) {
        self.0.push(Planned { entered_ms, happened_ms, act, body });
    }
}

/// Lives the week and returns the bench at its end (the Monday after).
pub fn lived() -> Bench {
    let mut week = Week::default();
    for story in [stores, kinds, ribs, cold_night, spar, gussets, annex, cold_resorcinol] {
        story(&mut week);
    }
    week.0.sort_by_key(|p| p.entered_ms);
    let mut bench = Bench::at(MONDAY, 42);
    for Planned { entered_ms, happened_ms, act, body } in week.0 {
        if act == "readings-file" {
            let rows: Vec<(i64, String)> = serde_json::from_value(body["rows"].clone()).unwrap();
            logger(&mut bench, entered_ms, body["place"].as_str().unwrap(), &rows);
        } else if happened_ms == entered_ms {
            bench.act(entered_ms, act, body);
        } else {
            bench.until(entered_ms);
            bench.late(happened_ms, act, body);
        }
    }
    bench.until(MONDAY + 7 * DAY);
    bench
}

fn stores(week: &mut Week) {
    let t = MONDAY;
    for name in ["ann", "ben"] {
        week.act(t, "person", json!({"name": name}));
    }
    week.act(t, "place", json!({"name": "shop", "feed": true}));
    week.act(t, "place", json!({"name": "hot box"}));
    week.act(t, "place", json!({"name": "wood store"}));
    week.act(t, "place", json!({"name": "annex"}));
    week.act(t, "instrument", json!({"name": "scale", "step": "0.1 g"}));
    week.act(t, "instrument", json!({"name": "wall thermometer", "step": "0.1 K", "accuracy": "0.5 K"}));
    cards(week, t);
    for (card, resin, hardener) in [("wing epoxy", "E-R1", "E-H1"), ("red glue", "R-R1", "R-H1")] {
        for (mark, role) in [(resin, "resin"), (hardener, "hardener")] {
            week.act(t, "lot", json!({"mark": mark, "card": card, "role": role, "expires": "2027-06-30"}));
            week.act(
                t,
                "container",
                json!({"mark": format!("can {mark}"), "lot": mark, "holds": "1 kg", "stored": "shop"}),
            );
        }
    }
}

fn cards(week: &mut Week, t: i64) {
    week.act(
        t,
        "card",
        json!({"name": "wing epoxy", "class": "epoxy", "ratio": "100:45", "tolerance": "5 %",
        "minimum_cure": "12 C", "together": true, "limits": [
        {"clock": "pot", "points": [{"at": "25 C", "time": "35 min", "mass": "100 g"}], "counted_from": "mixing"},
        {"clock": "open", "points": [{"at": "20 C", "time": "25 min"}], "counted_from": "spreading"},
        {"clock": "closed", "points": [{"at": "20 C", "time": "50 min"}], "counted_from": "closing"},
        {"clock": "fresh-surface", "points": [{"time": "8 h"}], "counted_from": "pressure"},
        {"clock": "clamp", "points": [{"at": "20 C", "time": "8-10 h"}], "counted_from": "pressure"},
        {"clock": "clamp", "bent": true, "points": [{"at": "20 C", "time": "16 h"}], "counted_from": "pressure"},
        {"clock": "machining", "points": [{"at": "15 C", "time": "36 h"}, {"at": "20 C", "time": "24 h"},
            {"at": "25 C", "time": "17 h"}], "counted_from": "pressure"},
        {"clock": "full-cure", "points": [{"at": "20 C", "time": "6 d"}, {"at": "30 C", "time": "3 d"}],
            "counted_from": "pressure"}]}),
    );
    week.act(t, "card", json!({"name": "red glue", "class": "resorcinol", "ratio": "100:20", "tolerance": "5 %",
        "application_minimum": "16 C", "application_maximum": "32 C", "limits": [
        {"clock": "pot", "points": [{"at": "20 C", "time": "150 min"}, {"at": "30 C", "time": "65 min"}], "counted_from": "mixing"},
        {"clock": "open", "points": [{"at": "20 C", "time": "10 min"}], "counted_from": "spreading"},
        {"clock": "closed", "points": [{"at": "20 C", "time": "45 min"}], "counted_from": "closing"},
        {"clock": "clamp", "points": [{"at": "70 F", "time": "10 h"}, {"at": "90 F", "time": "5 h"}], "counted_from": "pressure"},
        {"clock": "full-cure", "points": [{"at": "70 F", "time": "6 d"}], "counted_from": "pressure"}]}));
}

fn kinds(week: &mut Week) {
    let t = MONDAY;
    week.act(
        t,
        "kind",
        json!({"mark": "rib", "clamping": "3 min", "stages": [
        {"mark": "front face", "joints": [{"mark": "F1", "thickness": "12 mm"}, {"mark": "F2", "thickness": "14 mm"}]},
        {"mark": "back face", "joints": [{"mark": "B1", "thickness": "12 mm"}]}]}),
    );
    week.act(
        t,
        "kind",
        json!({"mark": "spar", "bent": true, "stages": [
        {"mark": "laminating", "joints": [{"mark": "S1", "thickness": "46 mm", "area": "0.4 m2"}]}]}),
    );
    week.act(
        t,
        "kind",
        json!({"mark": "gusset", "presses": 2, "stages": [
        {"mark": "nailing", "joints": [{"mark": "G", "thickness": "9 mm"}]}]}),
    );
    week.act(t, "set", json!({"kind": "rib", "marks": ["R1", "R2", "R3", "R4"], "assembly": "left wing"}));
    week.act(t, "set", json!({"kind": "spar", "marks": ["SP-L"], "assembly": "left wing"}));
    week.act(t, "set", json!({"kind": "gusset", "marks": ["GU-1", "GU-2", "GU-3"], "assembly": "left wing"}));
}

/// A mix that follows a press; the batch goes by name and day.
fn mix(week: &mut Week, t: i64, batch: &str, card: &str, cans: [&str; 2], amounts: [&str; 2]) {
    week.act(t, "press", json!({"press": "hardener-in"}));
    week.act(
        t + 2 * MIN,
        "mix",
        json!({"batch": batch, "card": card, "containers": cans, "resin": amounts[0],
        "hardener": amounts[1], "instrument": "scale", "start_temperature": "21.5 C", "place": "shop"}),
    );
}

const EPOXY: [&str; 2] = ["can E-R1", "can E-H1"];
const RED: [&str; 2] = ["can R-R1", "can R-H1"];

fn reading(week: &mut Week, t: i64, place: &str, celsius: &str) {
    week.act(t, "reading", json!({"place": place, "temperature": celsius, "instrument": "wall thermometer"}));
}

fn press(week: &mut Week, t: i64, bond: &str, word: &str) {
    week.act(t, "press", json!({"press": word, "bond": bond}));
}

/// Monday: three jigs from two pots; the second pot runs out before the third jig's glue is on.
fn ribs(week: &mut Week) {
    let t = MONDAY + 2 * H;
    week.act(MONDAY + H, "surface", json!({"parts": ["R1", "R2", "R3"], "how": "planed"}));
    reading(week, t, "shop", "19.5 C");
    reading(week, t + 10 * MIN, "shop", "20.0 C");
    week.act(t + 11 * MIN, "reading", json!({"place": "wood store", "temperature": "14.0 C", "wood": {"temperature": "13.5 C", "moisture": "10.1 %"}}));
    mix(week, t + 12 * MIN, "Mon 1 2026-03-02", "wing epoxy", EPOXY, ["80.0 g", "36.0 g"]);
    for (n, part) in ["R1", "R2"].into_iter().enumerate() {
        let (bond, t) = ((n + 1).to_string(), t + 16 * MIN + n as i64 * 12 * MIN);
        week.act(
            t,
            "bond",
            json!({"batches": ["Mon 1 2026-03-02"], "parts": [part], "stage": "front face",
            "place": "shop", "wood_temperature": "18.5 C"}),
        );
        press(week, t, &bond, "first-glue-on");
        press(week, t + 6 * MIN, &bond, "together");
        press(week, t + 10 * MIN, &bond, "all-tight");
        week.act(t + 11 * MIN, "press", json!({"press": "squeeze-out", "bond": bond, "seen": "all-round"}));
    }
    mix(week, t + 60 * MIN, "Mon 2 2026-03-02", "wing epoxy", EPOXY, ["60.0 g", "27.0 g"]);
    reading(week, t + 61 * MIN, "shop", "21.0 C");
    let t3 = t + 103 * MIN;
    week.act(
        t3,
        "bond",
        json!({"batches": ["Mon 2 2026-03-02"], "parts": ["R3"], "stage": "front face",
        "place": "shop", "stored": "wood store"}),
    );
    press(week, t3, "3", "first-glue-on");
    press(week, t3 + 9 * MIN, "3", "all-tight");
    for (n, celsius) in ["21.0 C", "20.5 C", "20.0 C", "20.0 C", "19.5 C", "19.0 C"].into_iter().enumerate() {
        reading(week, t3 + 30 * MIN + n as i64 * 100 * MIN, "shop", celsius);
    }
}

/// Minutes of the night from Monday 18:00: the heater fails at 22:30 and is lit again at 05:00.
fn night() -> Vec<(i64, String)> {
    let mut rows = vec![];
    let mut milli = 19_400_i64;
    for minute in 0..15 * 60 {
        let target = if (270..660).contains(&minute) { 3_000 } else { 20_500 };
        milli += (target - milli) / 180;
        // The logger forgets ten minutes at half past midnight and three hours from 02:00.
        if !(390..400).contains(&minute) && !(480..660).contains(&minute) {
            rows.push((MONDAY + 12 * H + minute * MIN, format!("{}.{:02} C", milli / 1000, milli % 1000 / 10)));
        }
    }
    rows
}

/// Clamps come off at 06:30 on the word of a hand reading; the file that arrives at 09:05 says it was cold.
fn cold_night(week: &mut Week) {
    let morning = MONDAY + DAY + 30 * MIN;
    reading(week, morning - 5 * MIN, "shop", "18.0 C");
    press(week, morning, "1", "first-clamp-off");
    week.act(MONDAY + DAY + 185 * MIN, "readings-file", json!({"place": "shop", "rows": night()}));
    reading(week, MONDAY + DAY + 200 * MIN, "shop", "20.0 C");
    press(week, MONDAY + DAY + 10 * H, "2", "first-clamp-off");
}

/// Tuesday: a bent spar from three pots, wood from the cold store, a clamp lost, then the hot box.
fn spar(week: &mut Week) {
    let t = MONDAY + DAY + 4 * H;
    week.act(t - 2 * H, "surface", json!({"parts": ["SP-L"], "how": "planed"}));
    for (n, at) in [0, 5, 10].into_iter().enumerate() {
        let name = format!("Tue {} 2026-03-03", n + 1);
        mix(week, t + at * MIN, &name, "wing epoxy", EPOXY, ["100.0 g", "45.0 g"]);
    }
    reading(week, t + 5 * MIN, "shop", "20.5 C");
    week.act(
        t + 13 * MIN,
        "bond",
        json!({"batches": ["Tue 1 2026-03-03", "Tue 2 2026-03-03", "Tue 3 2026-03-03"],
        "parts": ["SP-L"], "place": "shop", "wood_temperature": "11.0 C"}),
    );
    week.act(t + 14 * MIN, "coat", json!({"bond": "4", "batch": "Tue 1 2026-03-03"}));
    press(week, t + 16 * MIN, "4", "first-glue-on");
    press(week, t + 34 * MIN, "4", "together");
    press(week, t + 47 * MIN, "4", "all-tight");
    for n in 0..6 {
        reading(week, t + 50 * MIN + n * 45 * MIN, "shop", "20.5 C");
    }
    press(week, t + 150 * MIN, "4", "clamp-lost");
    press(week, t + 171 * MIN, "4", "re-tightened");
    for n in 0..40 {
        reading(week, t + 280 * MIN + n * 14 * MIN, "hot box", if n % 3 == 0 { "31.0 C" } else { "30.0 C" });
    }
    week.late(t + 13 * H, t + 285 * MIN, "moved", json!({"bond": "4", "place": "hot box"}));
    press(week, t + 15 * H, "4", "first-clamp-off");
}

/// Wednesday: three nailed gussets in one go, two presses; the pot is put down half full and topped up first.
fn gussets(week: &mut Week) {
    let t = MONDAY + 2 * DAY + 3 * H;
    reading(week, t, "shop", "22.5 C");
    mix(week, t, "Wed 1 2026-03-04", "wing epoxy", EPOXY, ["30.0 g", "13.5 g"]);
    week.act(
        t + 10 * MIN,
        "bond",
        json!({"batches": ["Wed 1 2026-03-04"], "parts": ["GU-1", "GU-2", "GU-3"], "place": "shop"}),
    );
    press(week, t + 10 * MIN, "5", "first-glue-on");
    press(week, t + 21 * MIN, "5", "all-tight");
    week.act(t + 24 * MIN, "press", json!({"press": "pot-done", "batch": "Wed 1 2026-03-04"}));
    reading(week, t + 14 * MIN, "shop", "22.5 C");
    for n in 1..30 {
        reading(week, t + 24 * MIN + n * 55 * MIN, "shop", if n > 12 && n < 20 { "17.0 C" } else { "21.0 C" });
    }
}

/// When the logger of the annex is read out, on Friday.
pub const ANNEX_FILE: i64 = MONDAY + 4 * DAY + 2 * H;

/// Thursday: a joint in the annex, where somebody reads 20.5 °C every hour and three quarters and takes the clamps off at
/// night; the logger, read out on Friday, knows that the stove was out for six hours in between.
fn annex(week: &mut Week) {
    let t = MONDAY + 3 * DAY + 2 * H;
    for n in 0..9 {
        reading(week, t + n * 105 * MIN, "annex", "20.5 C");
    }
    mix(week, t, "Thu 1 2026-03-05", "wing epoxy", EPOXY, ["40.0 g", "18.0 g"]);
    week.act(
        t + 5 * MIN,
        "bond",
        json!({"batches": ["Thu 1 2026-03-05"], "joints": ["R4/B1"], "place": "annex",
        "wood_temperature": "20.5 C"}),
    );
    for (minutes, word) in [(6, "first-glue-on"), (12, "together"), (20, "all-tight")] {
        press(week, t + minutes * MIN, "6", word);
    }
    week.act(t + 21 * MIN, "press", json!({"press": "squeeze-out", "bond": "6", "seen": "all-round"}));
    press(week, t + 14 * H, "6", "first-clamp-off");
    let celsius = |minute: i64| if (240..600).contains(&minute) { "8.50 C" } else { "20.50 C" };
    let rows: Vec<(i64, String)> = (0..860).map(|m| (t + m * MIN, celsius(m).to_owned())).collect();
    week.act(ANNEX_FILE, "readings-file", json!({"place": "annex", "rows": rows}));
}

/// Friday: a resorcinol joint whose shop goes below the lowest clamp point; a floor is vouched for the weekend.
fn cold_resorcinol(week: &mut Week) {
    let t = MONDAY + 4 * DAY + 3 * H;
    reading(week, t, "shop", "23.5 C");
    mix(week, t, "Fri 1 2026-03-06", "red glue", RED, ["50.0 g", "10.0 g"]);
    week.act(t + 12 * MIN, "bond", json!({"batches": ["Fri 1 2026-03-06"], "joints": ["R4/F1"], "place": "shop"}));
    reading(week, t + 12 * MIN, "shop", "23.5 C");
    press(week, t + 13 * MIN, "7", "first-glue-on");
    press(week, t + 22 * MIN, "7", "together");
    press(week, t + 40 * MIN, "7", "all-tight");
    for n in 0..20 {
        reading(week, t + 42 * MIN + n * 30 * MIN, "shop", if n < 11 { "24.0 C" } else { "19.0 C" });
    }
    let saturday = MONDAY + 5 * DAY;
    reading(week, saturday, "shop", "16.0 C");
    week.act(
        saturday + 13 * H,
        "vouch",
        json!({"place": "shop", "floor": "22.0 C",
        "from": instant(saturday + H), "until": instant(saturday + 13 * H)}),
    );
}

/// Instants of the week at which every clock is asked: each hour and odd minutes after the presses.
pub fn instants() -> Vec<i64> {
    let mut all: Vec<i64> = (2..166).step_by(7).map(|h| MONDAY + h * H + 17_123).collect();
    for (day, minutes) in [
        (0, vec![133, 145, 160, 171, 190, 215, 224, 231, 232, 240, 300]),
        (1, vec![25, 31, 184, 186, 240, 247, 252, 260, 275, 288, 300, 389, 391, 400, 412, 415, 520, 530, 600, 1141]),
        (2, vec![181, 189, 191, 195, 201, 203, 206, 230, 400]),
        (3, vec![124, 131, 135, 141, 300, 900, 959]),
        (4, vec![190, 194, 203, 215, 221, 230, 545, 900]),
    ] {
        all.extend(minutes.into_iter().map(|m| MONDAY + day * DAY + m * MIN + 250));
    }
    all.sort_unstable();
    all
}

/// One joint tight since 07:05 in a shop read at seven.
pub fn one_clamp(bench: &mut Bench) {
    let mut week = Week::default();
    stores(&mut week);
    kinds(&mut week);
    reading(&mut week, MONDAY + H, "shop", "20.5 C");
    mix(&mut week, MONDAY + H, "Mon 1 2026-03-02", "wing epoxy", EPOXY, ["80.0 g", "36.0 g"]);
    week.act(
        MONDAY + H + 3 * MIN,
        "bond",
        json!({"batches": ["Mon 1 2026-03-02"], "joints": ["R1/F1"], "place": "shop",
        "wood_temperature": "20.5 C"}),
    );
    for (minutes, word) in [(3, "first-glue-on"), (4, "together"), (5, "all-tight")] {
        press(&mut week, MONDAY + H + minutes * MIN, "1", word);
    }
    week.0.sort_by_key(|p| p.entered_ms);
    for Planned { entered_ms, act, body, .. } in week.0 {
        bench.act(entered_ms, act, body);
    }
}

/// The question that shows what was found about the release in the annex.
pub fn trace_of_r4() -> Value {
    json!({"ask": "trace", "body": {"part": "R4"}})
}

/// What a trace says about the joint in the annex.
#[derive(Debug)]
pub struct Release {
    /// State of the bond.
    pub state: String,
    /// State of its clamp clock.
    pub clamp: String,
    /// Keys of what is found and not settled.
    pub findings: Vec<String>,
    /// What the clocks said when the clamps came off.
    pub said_then: Value,
}

/// Reads the joint in the annex out of a trace of its part.
pub fn release_in_annex(trace: &Value) -> Release {
    let of = |list: &Value, key: &str, word: &str| {
        let found = list.as_array().unwrap().iter().find(|one| one[key] == word);
        found.unwrap_or_else(|| panic!("no {key} {word} in {list}")).clone()
    };
    let bond = of(&trace["bonds"], "id", "6");
    let findings = bond["findings"].as_array().unwrap();
    let open = findings.iter().filter(|f| f["settled"] == false).map(|f| f["key"].as_str().unwrap().to_owned());
    Release {
        state: bond["state"].as_str().unwrap().to_owned(),
        clamp: of(&bond["clocks"], "clock", "clamp")["state"].as_str().unwrap().to_owned(),
        findings: open.collect(),
        said_then: of(&bond["presses"], "press", "first-clamp-off")["said_then"].clone(),
    }
}
