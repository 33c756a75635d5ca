//! Bad input: a sentence that names the field, the value and the range, and nothing is lost. Long because every act's
//! fields are gone through one by one.

use crate::shop::Shop;
use serde_json::{Value, json};

/// Refuses `act`, and checks code, field and that the sentence names field, value and range.
fn refuse(shop: &mut Shop, act: Value, code: &str, field: &str, told: &[&str]) {
    let text = act.to_string();
    let error = shop.refused(act);
    assert_eq!((error.code, error.field.as_deref()), (code, Some(field)), "{text}: {error:?}");
    for part in told.iter().chain([&field]) {
        assert!(error.sentence.contains(part), "{text}: \"{part}\" is not in {error:?}");
    }
    assert!(error.range.is_some(), "{text}: {error:?}");
    assert!(error.value.as_ref().is_none_or(|value| value.chars().count() <= 201), "{text}");
}

#[test]
fn amounts_and_temperatures_out_of_range() {
    let mut shop = Shop::new();
    let mix = |resin: &str, hardener: &str| {
        json!({"act": "mix", "body": {"card": "amber", "containers": ["r1", "h1"],
        "resin": resin, "hardener": hardener}})
    };
    let mass = "0.05 g to 50 kg";
    refuse(&mut shop, mix("0 g", "33 g"), "out-of-range", "body.resin", &["0 g", mass]);
    refuse(&mut shop, mix("-40 g", "33 g"), "out-of-range", "body.resin", &["-40 g", mass]);
    refuse(&mut shop, mix("40 g", "0.0 g"), "out-of-range", "body.hardener", &["0.0 g", mass]);
    refuse(&mut shop, mix("60 kg", "33 g"), "out-of-range", "body.resin", &["60 kg", mass]);
    refuse(&mut shop, mix("0 ml", "33 g"), "out-of-range", "body.resin", &["0 ml", "0.05 ml to 50 l"]);
    refuse(&mut shop, mix("40", "33 g"), "missing", "body.resin", &["40", "no unit", mass]);
    refuse(&mut shop, mix("forty g", "33 g"), "out-of-range", "body.resin", &["forty g", mass]);
    refuse(&mut shop, mix("40 stones", "33 g"), "out-of-range", "body.resin", &["stones", mass]);
    refuse(&mut shop, mix("1,000 g", "33 g"), "ambiguous", "body.resin", &["1,000 g", "two ways", mass]);
    let reading = |body: Value| json!({"act": "reading", "body": body});
    let air = "-40 to 60 °C";
    refuse(
        &mut shop,
        reading(json!({"place": "loft", "temperature": "700 °F"})),
        "out-of-range",
        "body.temperature",
        &["700 °F", air],
    );
    refuse(
        &mut shop,
        reading(json!({"place": "loft", "temperature": "-41 C"})),
        "out-of-range",
        "body.temperature",
        &["-41 C", air],
    );
    refuse(
        &mut shop,
        reading(json!({"place": "loft", "temperature": "20 C", "humidity": "140 %"})),
        "out-of-range",
        "body.humidity",
        &["140 %", "0 to 100 %"],
    );
    refuse(
        &mut shop,
        reading(json!({"place": "loft", "temperature": "20 C", "wood": "101 %"})),
        "out-of-range",
        "body.wood",
        &["101 %", "0 to 100 %"],
    );
    refuse(
        &mut shop,
        reading(json!({"place": "loft", "temperature": "20 C", "lowest_since": "21 C"})),
        "contradicts",
        "body.lowest_since",
        &["21 C", "20 C"],
    );
    refuse(
        &mut shop,
        json!({"act": "throw-away", "body": {"batch": "Tue 1", "mass": "0 g"}}),
        "not-found",
        "body.batch",
        &["Tue 1"],
    );
}

#[test]
fn cards_that_cannot_be() {
    let mut shop = Shop::new();
    let mut with = |change: fn(&mut Value), code: &str, field: &str, told: &[&str]| {
        let mut body = crate::shop::card("new");
        change(&mut body);
        refuse(&mut shop, json!({"act": "card", "body": body}), code, field, told);
    };
    with(|it| it["ratio"] = json!("100:0"), "out-of-range", "body.ratio", &["100:0", "above 0"]);
    with(|it| it["ratio"] = json!("100:-83"), "out-of-range", "body.ratio", &["100:-83"]);
    with(|it| it["ratio"] = json!({"tolerance": "5 %"}), "missing", "body.ratio", &["100:83"]);
    with(|it| it["tolerance"] = json!("90 %"), "out-of-range", "body.tolerance", &["90 %", "0.01 to 50 %"]);
    with(|it| it["minimum_cure"] = json!("700 F"), "out-of-range", "body.minimum_cure", &["700 F", "260 °C"]);
    with(|it| it["below_minimum"] = json!("maybe"), "out-of-range", "body.below_minimum", &["maybe", "resumes, fault"]);
    with(|it| it["limits"] = json!([]), "missing", "body.limits", &["1 to 40"]);
    with(
        |it| it["limits"][0]["clock"] = json!("potlife"),
        "out-of-range",
        "body.limits[0].clock",
        &["potlife", "pot, open"],
    );
    with(|it| it["limits"][1]["clock"] = json!("pot"), "contradicts", "body.limits[1].clock", &["pot"]);
    with(
        |it| it["limits"][0]["points"][0]["time"] = json!("0 min"),
        "out-of-range",
        "body.limits[0].points[0].time",
        &["0 min", "1 s to 365 days"],
    );
    with(
        |it| it["limits"][0]["points"][0]["time"] = json!("6-4 h"),
        "out-of-range",
        "body.limits[0].points[0].time",
        &["6-4 h"],
    );
    with(
        |it| it["limits"][0]["points"][0] = json!({"time": "1 h"}),
        "missing",
        "body.limits[0].points[0].at",
        &["-40 to 260 °C"],
    );
    with(
        |it| it["limits"][3]["points"][1]["at"] = json!("20.0 C"),
        "contradicts",
        "body.limits[3].points[1]",
        &["5-6 h"],
    );
    with(
        |it| {
            it["application_minimum"] = json!("30 C");
            it["application_maximum"] = json!("10 C");
        },
        "contradicts",
        "body.application_minimum",
        &["30 C", "10 C"],
    );
    with(
        |it| it["film_gel"] = json!({"at": "25 C", "time": "3"}),
        "missing",
        "body.film_gel.time",
        &["1 s to 365 days"],
    );
    with(
        |it| it["equivalents"] = json!({"resin": "187 g", "hardener": "6 g"}),
        "out-of-range",
        "body.equivalents.hardener",
        &["6 g", "10 g to 10 kg"],
    );
    with(
        |it| it["equivalents"] = json!({"resin": "187 g", "hardener": "60 g", "functionality": 2}),
        "out-of-range",
        "body.equivalents.functionality",
        &["2", "3 to 12"],
    );
    with(
        |it| it["glass"] = json!({"fresh": "80 C", "full": "75 C"}),
        "contradicts",
        "body.glass.fresh",
        &["80 C", "75 C"],
    );
    with(
        |it| it["limits"][0]["points"][0]["colour"] = json!("red"),
        "unknown-field",
        "body.limits[0].points[0].colour",
        &["at, time, mass"],
    );
}

#[test]
fn instants_of_the_future_and_impossible_ones() {
    let mut shop = Shop::new();
    let at = |happened: &str| json!({"act": "reading", "happened": happened, "body": {"place": "loft", "temperature": "20 C"}});
    refuse(&mut shop, at("2026-11-24T09:00:03Z"), "future", "happened", &["2026-11-24T09:00:03Z", "1990-01-01 to now"]);
    refuse(&mut shop, at("2031-01-01T00:00:00Z"), "future", "happened", &["2031"]);
    refuse(
        &mut shop,
        at("2026-02-30T10:00:00Z"),
        "out-of-range",
        "happened",
        &["2026-02-30T10:00:00Z", "1990-01-01 to now"],
    );
    refuse(&mut shop, at("1989-12-31T23:59:59Z"), "out-of-range", "happened", &["1989", "1990-01-01"]);
    refuse(&mut shop, at("2026-11-24 09:00"), "out-of-range", "happened", &["2026-11-24 09:00"]);
    shop.done(at("2026-11-24T09:00:01.900Z"));
    let lot = |field: &str, day: &str| json!({"act": "lot", "body": {"mark": "X", "card": "amber", "role": "resin", field: day}});
    refuse(&mut shop, lot("received", "2026-12-24"), "future", "body.received", &["2026-12-24"]);
    refuse(&mut shop, lot("expires", "2026-13-01"), "out-of-range", "body.expires", &["2026-13-01"]);
    let vouch = |until: &str| json!({"act": "vouch", "body": {"place": "loft", "floor": "16 C", "until": until}});
    refuse(
        &mut shop,
        vouch("2026-11-24T08:00:00Z"),
        "out-of-range",
        "body.until",
        &["2026-11-24T08:00:00Z", "31 days"],
    );
    refuse(&mut shop, vouch("2027-11-24T08:00:00Z"), "out-of-range", "body.until", &["31 days"]);
}

#[test]
fn a_forecast_that_says_too_much_too_little_or_nonsense() {
    let mut shop = Shop::new();
    let forecast = |body: Value| {
        let mut all = json!({"place": "loft"});
        all.as_object_mut().unwrap().extend(body.as_object().unwrap().clone());
        json!({"act": "forecast", "body": all})
    };
    let setback = |from: &str, to: &str, ramp: &str| {
        forecast(json!({"shape": "setback", "day": "20 C", "night": "12 C", "from": from, "to": to, "ramp": ramp}))
    };
    let cases = [
        (forecast(json!({"shape": "draughty"})), "out-of-range", "body.shape", "draughty"),
        (forecast(json!({"shape": "hold"})), "missing", "body.at", "hold"),
        (forecast(json!({"shape": "hold", "at": "18 C", "night": "12 C"})), "contradicts", "body.night", "takes at"),
        (forecast(json!({"shape": "hold", "at": "180 C"})), "out-of-range", "body.at", "180 C"),
        (setback("22:00", "24:00", "1 h"), "out-of-range", "body.to", "24:00"),
        (setback("22:0", "06:00", "1 h"), "out-of-range", "body.from", "22:0"),
        (setback("22:00", "22:00", "1 h"), "contradicts", "body.to", "no night"),
        (setback("22:00", "02:00", "241 min"), "contradicts", "body.ramp", "240 min"),
        (setback("06:00", "02:00", "5 h"), "contradicts", "body.ramp", "the day from 02:00 to 06:00"),
        (
            forecast(json!({"shape": "cooling", "towards": "5 C", "time_constant": "9 min"})),
            "out-of-range",
            "body.time_constant",
            "10 min to 100 h",
        ),
        (
            forecast(json!({"shape": "day", "mean": "15 C", "swing": "31 K", "warmest": "15:00"})),
            "out-of-range",
            "body.swing",
            "0.1 to 30 K",
        ),
        (
            forecast(json!({"shape": "hold", "at": "18 C", "until": "2026-11-24T08:00:00Z"})),
            "out-of-range",
            "body.until",
            "2026-11-24T08:00:00Z",
        ),
        (
            json!({"act": "forecast", "body": {"place": "moon", "shape": "hold", "at": "18 C"}}),
            "not-found",
            "body.place",
            "moon",
        ),
    ];
    for (act, code, field, words) in cases {
        refuse(&mut shop, act, code, field, &[words]);
    }
    shop.done(setback("22:00", "02:00", "240 min"));
    shop.done(forecast(json!({"shape": "cooling", "towards": "5 C", "time_constant": "10 min"})));
}

#[test]
fn names_unknown_and_used_twice() {
    let mut shop = Shop::new();
    let person = json!({"act": "reading", "person": "zoe", "body": {"place": "loft", "temperature": "20 C"}});
    refuse(&mut shop, person, "not-found", "person", &["zoe"]);
    for (act, body, field) in [
        ("person", json!({"name": "ann"}), "body.name"),
        ("place", json!({"name": " loft "}), "body.name"),
        ("instrument", json!({"name": "scale", "step": "1 g"}), "body.name"),
        ("lot", json!({"mark": "R-1", "card": "amber", "role": "resin"}), "body.mark"),
        ("container", json!({"mark": "r1", "lot": "R-1"}), "body.mark"),
        ("kind", json!({"mark": "rib", "stages": [{"mark": "a", "joints": [{"mark": "x"}]}]}), "body.mark"),
        ("part", json!({"mark": "R1-L"}), "body.mark"),
        ("set", json!({"kind": "rib", "marks": ["R9", "R1-R"]}), "body.marks[1]"),
        ("set", json!({"kind": "rib", "marks": ["R9", "R9"]}), "body.marks[1]"),
        (
            "kind",
            json!({"mark": "k", "stages": [{"mark": "a", "joints": [{"mark": "x"}, {"mark": "x"}]}]}),
            "body.stages[0].joints[1].mark",
        ),
        (
            "kind",
            json!({"mark": "k", "stages": [{"mark": "a", "joints": [{"mark": "x"}]}, {"mark": "b", "joints": [{"mark": "x"}]}]}),
            "body.stages[1].joints[0].mark",
        ),
    ] {
        refuse(&mut shop, json!({"act": act, "body": body}), "duplicate", field, &[]);
    }
    for (act, body, field, name) in [
        ("reading", json!({"place": "attic", "temperature": "20 C"}), "body.place", "attic"),
        ("lot", json!({"mark": "n", "card": "green", "role": "resin"}), "body.card", "green"),
        ("container", json!({"mark": "n", "lot": "R-9"}), "body.lot", "R-9"),
        ("mix", json!({"card": "amber", "containers": ["r1", "r9"]}), "body.containers[1]", "r9"),
        ("press", json!({"press": "together", "bond": "48"}), "body.bond", "48"),
        ("press", json!({"press": "pot-done", "batch": "Wed 9"}), "body.batch", "Wed 9"),
        ("joint", json!({"part": "R7", "mark": "x"}), "body.part", "R7"),
        ("issue", json!({"subject": "part:R7"}), "body.subject", "R7"),
        ("issue", json!({"subject": "R7"}), "body.subject", "R7"),
        ("withdraw", json!({"entry": "9999", "why": "x"}), "body.entry", "9999"),
        ("readings-file", json!({"place": "loft", "path": "/nowhere/at/all.csv"}), "body.path", "/nowhere/at/all.csv"),
    ] {
        refuse(&mut shop, json!({"act": act, "body": body}), "not-found", field, &[name]);
    }
}

#[test]
fn names_compare_in_one_normal_form() {
    let mut shop = Shop::new();
    shop.ok("person", json!({"name": "Zo\u{e9}"}));
    refuse(
        &mut shop,
        json!({"act": "person", "body": {"name": "Zoe\u{301}"}}),
        "duplicate",
        "body.name",
        &["Zo\u{e9}"],
    );
    shop.done(json!({"act": "reading", "person": "Zoe\u{301}", "body": {"place": "loft", "temperature": "20 C"}}));
}

#[test]
fn long_texts_and_unseen_characters() {
    let mut shop = Shop::new();
    let megabyte = "x".repeat(1 << 20);
    let name = "1 to 200 characters";
    refuse(
        &mut shop,
        json!({"act": "person", "body": {"name": megabyte}}),
        "out-of-range",
        "body.name",
        &["1048576", name],
    );
    refuse(&mut shop, json!({"act": "part", "body": {"mark": "x".repeat(201)}}), "out-of-range", "body.mark", &[name]);
    shop.ok("part", json!({"mark": "é".repeat(200)}));
    refuse(&mut shop, json!({"act": "person", "body": {"name": "  "}}), "missing", "body.name", &[name]);
    refuse(
        &mut shop,
        json!({"act": "person", "body": {"name": "an\u{202E}n"}}),
        "out-of-range",
        "body.name",
        &["U+202E"],
    );
    refuse(&mut shop, json!({"act": "person", "body": {"name": "an\u{0}n"}}), "out-of-range", "body.name", &["U+0000"]);
    refuse(&mut shop, json!({"act": "person", "body": {"name": "an\nn"}}), "out-of-range", "body.name", &["U+000A"]);
    let reading = |field: &str, text: &str| json!({"act": "reading", field: text, "body": {"place": "loft", "temperature": "20 C"}});
    refuse(&mut shop, reading("why", &megabyte), "out-of-range", "why", &["10 kB"]);
    refuse(&mut shop, reading("why", "so\u{2067}so"), "out-of-range", "why", &["U+2067"]);
    refuse(&mut shop, reading("key", &megabyte), "out-of-range", "key", &[name]);
    refuse(&mut shop, reading("person", &megabyte), "not-found", "person", &["xxx"]);
    refuse(&mut shop, reading("happened", &megabyte), "out-of-range", "happened", &["xxx"]);
    let place = json!({"act": "reading", "body": {"place": "loft", "temperature": format!("20 {megabyte}")}});
    refuse(&mut shop, place, "out-of-range", "body.temperature", &["-40 to 60 °C"]);
    let error = shop.refused(json!({"act": "person", "body": {"name": "an\u{202E}n"}}));
    assert_eq!(error.value.as_deref(), Some("anU+202En"), "what is not seen is shown by its number");
    let error = shop.refused(json!({"act": "person", "body": {"name": "a".repeat(300)}}));
    assert_eq!(error.value.unwrap().chars().count(), 201, "cut, with a mark");
}

#[test]
fn shapes_that_do_not_fit() {
    let mut shop = Shop::new();
    refuse(&mut shop, json!({"act": "sing", "body": {}}), "not-found", "act", &["sing", "person, place"]);
    refuse(
        &mut shop,
        json!({"act": "person", "colour": "red", "body": {"name": "x"}}),
        "unknown-field",
        "colour",
        &["key"],
    );
    refuse(
        &mut shop,
        json!({"act": "person", "body": {"name": "x", "age": 40}}),
        "unknown-field",
        "body.age",
        &["name"],
    );
    refuse(&mut shop, json!({"act": "person"}), "missing", "body.name", &[]);
    refuse(&mut shop, json!({"body": {"name": "x"}}), "missing", "act", &[]);
    refuse(&mut shop, json!({"act": "person", "body": {"name": 7}}), "bad-json", "body.name", &["7"]);
    refuse(&mut shop, json!({"act": "set", "body": {"kind": "rib", "marks": "R9"}}), "bad-json", "body.marks", &["R9"]);
    refuse(&mut shop, json!({"act": "confirm-time", "body": {"now": true}}), "unknown-field", "body.now", &[]);
    assert_eq!(shop.refused(json!("press")).code, "bad-json");
    assert_eq!(shop.refused(json!(null)).code, "bad-json");
}

#[test]
fn presses_that_cannot_be_read() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    let mut press = |body: Value, code: &str, field: &str, told: &[&str]| {
        refuse(&mut shop, json!({"act": "press", "body": body}), code, field, told);
    };
    press(
        json!({"press": "clamps-off", "bond": bond}),
        "out-of-range",
        "body.press",
        &["clamps-off", "first-clamp-off"],
    );
    press(json!({"press": "together"}), "missing", "body.bond", &[]);
    press(json!({"press": "pot-done"}), "missing", "body.batch", &[]);
    press(json!({"press": "together", "bond": bond, "batch": "Tue 1"}), "contradicts", "body.batch", &[]);
    press(json!({"press": "together", "bond": bond, "seen": "all-round"}), "contradicts", "body.seen", &["all-round"]);
    press(
        json!({"press": "squeeze-out", "bond": bond}),
        "missing",
        "body.seen",
        &["all-round, not-all-round, cannot-see"],
    );
    press(json!({"press": "squeeze-out", "bond": bond, "seen": "planed"}), "out-of-range", "body.seen", &["planed"]);
    press(
        json!({"press": "used", "bond": bond, "seen": "all-round"}),
        "out-of-range",
        "body.seen",
        &["planed, loaded, shipped"],
    );
    press(json!({"press": "together", "bond": bond, "entry": "3"}), "contradicts", "body.entry", &[]);
    press(json!({"press": "taken-back", "bond": bond}), "not-found", "body.bond", &[]);
}

#[test]
fn bonds_that_name_nothing() {
    let mut shop = Shop::new();
    let batch = shop.mixed();
    let mut bond = |body: Value, code: &str, field: &str, told: &[&str]| {
        refuse(&mut shop, json!({"act": "bond", "body": body}), code, field, told);
    };
    bond(json!({"batches": [], "joints": ["R1-L/J1"]}), "missing", "body.batches", &[]);
    bond(json!({"batches": [batch]}), "missing", "body.joints", &["at least one joint"]);
    bond(json!({"batches": [batch, batch], "joints": ["R1-L/J1"]}), "duplicate", "body.batches[1]", &["Tue 1"]);
    bond(json!({"batches": [batch], "joints": ["R1-L/J1", "R1-L/J1"]}), "duplicate", "body.joints[1]", &["R1-L/J1"]);
    bond(json!({"batches": [batch], "joints": ["R1-L/J9"]}), "not-found", "body.joints[0]", &["R1-L/J9"]);
    bond(json!({"batches": [batch], "parts": ["R1-L"]}), "missing", "body.stage", &["first, second"]);
    bond(json!({"batches": [batch], "parts": ["R1-L"], "stage": "third"}), "not-found", "body.parts[0]", &["third"]);
    bond(
        json!({"batches": [batch], "joints": ["R1-L/J1"], "moisture": "140 %"}),
        "out-of-range",
        "body.moisture",
        &["140 %", "0 to 100 %"],
    );
    bond(
        json!({"batches": [batch], "joints": ["R1-L/J1"], "presses": 4}),
        "out-of-range",
        "body.presses",
        &["4", "6 presses"],
    );
    bond(
        json!({"batches": [batch], "joints": ["R1-L/J1"], "pressure": "0 psi"}),
        "out-of-range",
        "body.pressure",
        &["0 psi", "20 MPa"],
    );
}

#[test]
fn settling_what_is_not_there() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    refuse(
        &mut shop,
        json!({"act": "reason", "body": {"of": "bond 1: squeeze-out", "text": "x"}}),
        "not-found",
        "body.of",
        &["squeeze-out"],
    );
    refuse(&mut shop, json!({"act": "reason", "body": {"of": bond, "text": " "}}), "missing", "body.text", &[]);
    refuse(
        &mut shop,
        json!({"act": "decide", "body": {"bond": bond, "verdict": "fine", "why": "x"}}),
        "out-of-range",
        "body.verdict",
        &["fine", "accepted, rejected, redo"],
    );
    refuse(
        &mut shop,
        json!({"act": "decide", "body": {"bond": bond, "verdict": "accepted", "why": ""}}),
        "missing",
        "body.why",
        &[],
    );
}

#[test]
fn a_refused_first_act_leaves_no_file() {
    let mut shop = Shop::bare();
    shop.refused(json!({"act": "lot", "body": {"mark": "x", "card": "none", "role": "resin"}}));
    assert_eq!(std::fs::read_dir(shop.dir.path()).unwrap().count(), 0);
}
