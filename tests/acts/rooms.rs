//! Every act, done once, and what it stores.

use crate::shop::{MIN, Shop, T};
use logbook::entry::{Body, Draft, Stamp};
use logbook::store::{Book, Mode, Noun};
use serde_json::json;
use std::collections::BTreeSet;

#[test]
fn the_first_act_makes_the_book_with_itself_in_it() {
    let mut shop = Shop::bare();
    let receipt = shop.done(json!({"act": "person", "person": "ann", "key": "k-1", "body": {"name": "ann"}}));
    let kinds: Vec<&str> = receipt.entries.iter().map(|made| made.kind.as_str()).collect();
    assert_eq!(kinds, ["log-start", "person"]);
    assert_eq!((receipt.size, receipt.repeat), (2, false));
    assert_eq!(receipt.made["person"], "ann");
    assert_eq!(receipt.changed, ["person:ann"]);
    let entry = shop.entry(&receipt, "person");
    assert_eq!(entry.person.as_ref(), Some(&entry.id), "a person may enter their own name");
    assert_eq!((entry.act.as_str(), entry.happened_ms, entry.seq), ("k-1", T, 1));
    assert_eq!(entry.body.write().unwrap(), json!({"name": "ann"}));
    let beside: Vec<_> = std::fs::read_dir(shop.dir.path()).unwrap().map(|file| file.unwrap().file_name()).collect();
    assert!(beside.iter().all(|name| name.to_string_lossy().starts_with("book")), "{beside:?}");
}

#[test]
fn quantities_keep_value_text_and_step() {
    let mut shop = Shop::new();
    let receipt = shop.ann(
        "reading",
        json!({"place": "loft", "temperature": "70 °F", "humidity": "55 %",
        "wood": {"temperature": "18,5 C", "moisture": "9.8 %"}}),
    );
    let loft = shop.entry(&receipt, "reading").body.write().unwrap()["place"].clone();
    assert_eq!(
        shop.body(&receipt, "reading"),
        json!({"place": loft,
        "temperature": {"mk": 294_261, "as": "70 °F", "step_mk": 556},
        "humidity": {"ppm": 550_000, "as": "55 %", "step_ppm": 10_000},
        "wood_temperature": {"mk": 291_650, "as": "18,5 C", "step_mk": 100},
        "wood_moisture": {"ppm": 98_000, "as": "9.8 %", "step_ppm": 1_000}})
    );
    assert_eq!(receipt.changed, ["place:loft"]);
    assert!(receipt.made.contains_key("entry"));
}

#[test]
fn a_card_keeps_the_sheet() {
    let mut shop = Shop::new();
    let receipt = shop.ok(
        "card",
        json!({"name": "brown", "class": "Resorcinol",
        "ratio": {"weight": "5:1", "volume": "2:1", "tolerance": "5 %"}, "origin": "handbook", "together": true,
        "minimum_cure": "70 F", "below_minimum": "fault", "maximum_cure": "120 C", "application_minimum": "15 C",
        "application_maximum": "30 C", "water_borne": true, "moisture_minimum": "6 %", "moisture_maximum": "15 %",
        "humidity_minimum": "30 %", "humidity_maximum": "80 %", "pressure_minimum": "100 psi",
        "pressure_maximum": "1.0 MPa", "largest_batch": "1 kg", "resin_density": "1.12 kg/l",
        "hardener_density": "950 g/l", "stirring": "3 min", "standing": "15 min", "spread": "250 g/m2",
        "film_gel": {"at": "25 C", "time": "150-160 min"}, "glass": {"fresh": "-30 C", "full": "75 C"},
        "equivalents": {"resin": "187 g", "hardener": "60 g", "functionality": 4},
        "note": "two lines\nof the sheet", "limits": [
            {"clock": "clamp", "points": [{"at": "20 C", "time": "4-6 h"}], "counted_from": "pressure", "bent": false,
             "judged_by": "block shear"},
            {"clock": "clamp", "points": [{"at": "20 C", "time": "10 h"}], "bent": true},
            {"clock": "fresh-surface", "points": [{"time": "24 h"}]}]}),
    );
    let body = shop.body(&receipt, "card");
    assert_eq!(body["class"], "resorcinol");
    assert_eq!(body["ratio"]["volume"], json!({"resin_ppm": 2_000_000, "hardener_ppm": 1_000_000, "as": "2:1"}));
    assert_eq!(body["limits"][0]["points"][0]["low_ms"], 4 * 60 * MIN);
    assert_eq!(body["limits"][0]["points"][0]["high_ms"], 6 * 60 * MIN);
    assert_eq!(body["limits"][2]["points"][0], json!({"low_ms": 86_400_000, "high_ms": 86_400_000, "as": "24 h"}));
    assert_eq!((&body["resin_g_per_l"], &body["hardener_g_per_l"]), (&json!(1_120), &json!(950)));
    assert_eq!((&body["pressure_minimum"]["pa"], &body["spread_mg_per_m2"]), (&json!(689_476), &json!(250_000)));
    let film = &body["film_gel"];
    assert_eq!(
        (&film["at"]["mk"], &film["low_ms"], &film["as"]),
        (&json!(298_150), &json!(150 * MIN), &json!("150-160 min"))
    );
    assert_eq!((&body["glass"]["fresh"]["mk"], &body["glass"]["full"]["mk"]), (&json!(243_150), &json!(348_150)));
    let equivalents = &body["equivalents"];
    assert_eq!((&equivalents["resin"]["mg"], &equivalents["functionality"]), (&json!(187_000), &json!(4)));
    let volume = shop.ok(
        "card",
        json!({"name": "plain", "class": "epoxy", "ratio": "1:1 by volume", "limits": [
        {"clock": "pot", "points": [{"at": "20 C", "time": "30 min"}]}]}),
    );
    let ratio = &shop.body(&volume, "card")["ratio"];
    assert!(ratio["weight"].is_null() && ratio["volume"]["as"] == "1:1", "{ratio}");
}

#[test]
fn a_revised_card_takes_the_name() {
    let mut shop = Shop::new();
    let mut second = crate::shop::card("amber");
    assert_eq!(shop.refused(json!({"act": "card", "body": second})).code, "duplicate");
    second["revises"] = json!("amber");
    let revised = shop.ok("card", second);
    let mix =
        shop.ann("mix", json!({"card": "amber", "containers": ["r1", "h1"], "resin": "10.0 g", "hardener": "8.3 g"}));
    assert_eq!(shop.body(&mix, "mix")["card"], json!(shop.entry(&revised, "card").id));
}

#[test]
fn stores_know_days_and_instants() {
    let mut shop = Shop::new();
    shop.clock.set(|now| now.zone_min = 60);
    let lot = shop.ok(
        "lot",
        json!({"mark": "R-2", "card": "amber", "role": "resin", "received": "2026-11-02", "expires": "2026-12-24"}),
    );
    let body = shop.body(&lot, "lot");
    assert_eq!(body["received_ms"], 1_793_574_000_000_i64, "2026-11-01T23:00Z");
    assert_eq!(body["expires_ms"], 1_798_153_199_999_i64, "the last millisecond of the day in the shop's zone");
    let can = shop.ok("container", json!({"mark": "r2", "lot": "R-2", "holds": "500 ml", "stored": "store", "opened": "2026-11-20T08:00:00+01:00"}));
    assert_eq!(shop.body(&can, "container")["holds"], json!({"ul": 500_000, "as": "500 ml", "step_ul": 1_000}));
    assert_eq!(can.changed, ["container:r2", "lot:R-2"]);
}

#[test]
fn instruments_measure_what_their_units_say() {
    let mut shop = Shop::new();
    let made = shop.ok("instrument", json!({"name": "station", "step": ["0.1 C", "1 %"], "accuracy": "0.5 K"}));
    let body = shop.body(&made, "instrument");
    assert_eq!(body["temperature_step"]["mk_wide"], 100);
    assert_eq!(body["share_step"]["ppm"], 10_000);
    assert_eq!(body["temperature_accuracy"]["mk_wide"], 500);
    assert!(body["mass_step"].is_null());
}

#[test]
fn parts_sets_and_joints() {
    let mut shop = Shop::new();
    let set = shop.ok("set", json!({"kind": "rib", "marks": ["R2-L", "R2-R", "R3-L"]}));
    assert_eq!(set.entries.len(), 4);
    assert_eq!(set.made["part"], "R2-L, R2-R, R3-L");
    assert_eq!(set.made["set"], shop.entry(&set, "set").id);
    assert!(set.changed.contains(&"part:R3-L".to_owned()));
    shop.ok("part", json!({"mark": "spar", "assembly": "wing"}));
    let joint = shop
        .ok("joint", json!({"part": "spar", "mark": "cap", "sort": "scarf", "area": "0.5 m2", "thickness": "24 mm"}));
    assert_eq!(joint.made["joint"], "spar/cap");
    assert_eq!(shop.refused(json!({"act": "joint", "body": {"part": "spar", "mark": "cap"}})).code, "duplicate");
    assert_eq!(shop.refused(json!({"act": "joint", "body": {"part": "R2-L", "mark": "J1"}})).code, "duplicate");
    shop.ok("joint", json!({"part": "spar", "mark": "cap2"}));
    let batch = shop.mixed();
    let bond = shop.ann(
        "bond",
        json!({"batches": [{"batch": batch, "from": "0 mm", "to": "1.6 m"}], "joints": ["spar/cap", {"part": "R2-L", "mark": "J3"}, "cap2"],
        "place": "loft"}),
    );
    assert_eq!(bond.made["bond"], "1");
}

#[test]
fn a_mark_that_two_parts_have_is_ambiguous() {
    let mut shop = Shop::new();
    let batch = shop.mixed();
    let error = shop.refused(json!({"act": "bond", "body": {"batches": [batch], "joints": ["J3"]}}));
    assert_eq!((error.code, error.field.as_deref()), ("ambiguous", Some("body.joints[0]")));
}

#[test]
fn a_bond_takes_what_its_kind_plans() {
    let mut shop = Shop::new();
    let batch = shop.mixed();
    let bond = shop.ann("bond", json!({"batches": [batch], "parts": ["R1-L", "R1-R"], "stage": "first", "moisture": "10 %",
        "wood_temperature": "17 C", "stored": "store", "pressure": "150 psi", "pressure_as_planned": true, "bent": false,
        "dry_run": true}));
    let (entry, body) = (shop.entry(&bond, "bond"), shop.body(&bond, "bond"));
    assert_eq!((&body["presses"], &body["clamping_ms"], &body["number"]), (&json!(6), &json!(6 * MIN), &json!(1)));
    assert_eq!(body["joints"].as_array().unwrap().len(), 4);
    assert_eq!(body["dry_run"], json!(true));
    assert_eq!(bond.changed, ["batch:Tue 1", "bond:1", "lot:H-1", "lot:R-1", "part:R1-L", "part:R1-R"]);
    assert_eq!(entry.about[0].id, entry.id);
    assert!(entry.about.iter().all(|one| one.n >= 1));
}

#[test]
fn presses_of_a_bond() {
    let mut shop = Shop::new();
    shop.ann("reading", json!({"place": "loft", "temperature": "22.0 C"}));
    let bond = shop.bonded();
    shop.ann("press", json!({"press": "hardener-in"}));
    for press in ["first-glue-on", "together", "all-tight"] {
        shop.clock.advance(2 * MIN);
        let receipt = shop.ann("press", json!({"press": press, "bond": bond}));
        assert_eq!(shop.body(&receipt, "press")["press"], press);
    }
    shop.ann("press", json!({"press": "squeeze-out", "bond": format!("bond:{bond}"), "seen": "all-round"}));
    let done = shop.ann("press", json!({"press": "pot-done", "bond": bond}));
    assert_eq!(done.changed, ["batch:Tue 1"], "the only batch of that bond");
    let bond_of = shop.ann("press", json!({"press": "re-tightened", "batch": "Tue 1"}));
    assert!(bond_of.changed.contains(&"bond:1".to_owned()), "the only bond of that batch");
    shop.ann("moved", json!({"bond": bond, "place": "store"}));
    shop.ann("press", json!({"press": "clamp-lost", "bond": bond}));
    shop.ann("press", json!({"press": "re-tightened", "bond": bond}));
    let off = shop.ann("press", json!({"press": "first-clamp-off", "bond": bond}));
    let said = shop.body(&off, "press")["said"].clone();
    let clamp = said.as_array().unwrap().iter().find(|one| one["clock"] == "clamp").expect("the clamp clock spoke");
    assert!(clamp["low_ppm"].as_i64().unwrap() < 1_000_000 && clamp["model"] == "cure@2", "{clamp}");
    assert!(off.owed.iter().any(|owed| owed.starts_with("bond 1: ")), "clamps came off early: {:?}", off.owed);
    let used = shop.ann("press", json!({"press": "used", "bond": bond, "seen": "planed"}));
    assert_eq!(shop.body(&used, "press")["seen"], "planed");
}

#[test]
fn the_smaller_acts() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    shop.ann("top-up", json!({"batch": "Tue 1", "card": "amber", "resin": "10.0 g", "hardener": "8.3 g"}));
    let filler = shop.ann("filler", json!({"batch": "Tue 1", "lot": "F-1", "mass": "3 g"}));
    assert_eq!(filler.changed, ["batch:Tue 1", "lot:F-1"]);
    shop.ann("throw-away", json!({"batch": "batch:Tue 1", "mass": "4.5 g"}));
    shop.ann("coat", json!({"bond": bond, "batch": "Tue 1"}));
    let surface = shop.ann("surface", json!({"joints": ["R1-L/J1"], "parts": ["R1-R"], "how": "scraped"}));
    assert_eq!(surface.changed, ["part:R1-L", "part:R1-R"]);
    let until = "2026-11-25T07:00:00+01:00";
    let vouch = shop.ann("vouch", json!({"place": "loft", "floor": "16 C", "until": until}));
    assert_eq!(shop.body(&vouch, "vouch")["from_ms"], T);
    let night = json!({"place": "loft", "shape": "setback", "day": "20 C", "night": "12 C", "from": "22:00", "to": "6:30", "until": until});
    let night = shop.ann("forecast", night);
    assert_eq!(night.changed, ["place:loft"]);
    let kept = shop.body(&night, "forecast");
    let setback = &kept["shape"]["setback"];
    assert_eq!(
        (&setback["from_min"], &setback["to_min"], &setback["day"]["mk"]),
        (&json!(1320), &json!(390), &json!(293_150))
    );
    assert!(setback.get("ramp").is_none() && kept["until_ms"].is_i64(), "{kept}");
    shop.ann("confirm-time", json!({}));
    let given = shop.ann("checkpoint-given", json!({"to": "the inspector"}));
    let before = shop.entry(&given, "checkpoint-given").seq;
    assert_eq!(shop.body(&given, "checkpoint-given")["checkpoint"]["size"], before);
}

#[test]
fn a_min_max_thermometer() {
    let mut shop = Shop::new();
    let reading = |shop: &mut Shop, lowest: serde_json::Value| {
        let receipt = shop.ann("reading", json!({"place": "loft", "temperature": "18.0 C", "lowest_since": lowest}));
        shop.body(&receipt, "reading")["lowest"].clone()
    };
    let since = reading(&mut shop, json!("2026-11-23T18:00:00Z"));
    assert_eq!((&since["temperature"]["mk"], &since["since_ms"]), (&json!(291_150), &json!(1_795_456_800_000_i64)));
    let before = reading(&mut shop, json!("14.5 C"));
    assert_eq!((&before["temperature"]["mk"], before["since_ms"].is_null()), (&json!(287_650), true));
    let both = reading(&mut shop, json!({"temperature": "13 C", "since": "2026-11-23T18:00:00Z"}));
    assert_eq!(both["temperature"]["mk"], 286_150);
}

#[test]
fn reasons_and_decisions_name_what_they_settle() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    shop.clock.advance(10 * MIN);
    let tight = shop.ann("press", json!({"press": "all-tight", "bond": bond}));
    assert!(tight.owed.iter().any(|owed| owed.contains("bond 1: ")), "{:?}", tight.owed);
    let reason = shop.ann("reason", json!({"of": "bond 1: hardener-in", "text": "nobody looked at the clock"}));
    assert_eq!(shop.body(&reason, "reason")["of"], json!(["missing:hardener-in"]));
    let rest = reason.owed.clone();
    assert!(rest.iter().all(|owed| !owed.contains("Hardener in")), "{rest:?}");
    let sentence = rest.iter().find(|owed| owed.contains("First glue on")).expect("first glue on is owed").clone();
    let reason = shop.ann("reason", json!({"of": sentence, "text": "same"}));
    assert_eq!(shop.body(&reason, "reason")["of"], json!(["missing:first-glue-on"]));
    let decide = shop.ann("decide", json!({"bond": bond, "verdict": "rejected", "why": "not good enough"}));
    let entry = shop.entry(&decide, "decide");
    assert_eq!(entry.why.as_deref(), Some("not good enough"));
    let corrected = shop.ann(
        "correct",
        json!({"entry": entry.id, "why": "a word was missing",
        "body": {"bond": bond, "verdict": "rejected", "why": "not nearly good enough"}}),
    );
    assert_eq!(shop.entry(&corrected, "decide").why.as_deref(), Some("a word was missing"));
    assert_eq!(shop.body(&corrected, "decide")["why"], "not nearly good enough");
    assert!(decide.owed.is_empty(), "a rejected bond owes nothing more: {:?}", decide.owed);
}

#[test]
fn an_unchanged_subject_is_issued_once() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    let first = shop.ann("issue", json!({"subject": "R1-L"}));
    let counts = shop.body(&first, "issued")["counts"].clone();
    let ids: BTreeSet<&str> = counts.as_array().unwrap().iter().map(|one| one["id"].as_str().unwrap()).collect();
    assert_eq!(ids.len(), 5, "the part, its bond, the batch, two lots: {counts}");
    let again = shop.ann("issue", json!({"subject": "part:R1-L"}));
    assert!(again.repeat && again.entries == first.entries && again.size == first.size, "{again:?}");
    shop.ann("press", json!({"press": "together", "bond": bond}));
    let third = shop.ann("issue", json!({"subject": "R1-L"}));
    assert!(!third.repeat && third.size > first.size);
    for subject in [format!("bond:{bond}"), "batch:Tue 1".to_owned(), "lot:R-1".to_owned()] {
        assert!(!shop.ann("issue", json!({"subject": subject})).repeat);
    }
}

/// Puts an alarm into the book as the alarm thread does.
fn ring(shop: &Shop, bond: &str, word: &str) -> String {
    let mut book = Book::open(&shop.path(), Mode::Write).unwrap();
    let bond = book.find(Noun::Bond, bond).unwrap().remove(0);
    let alarm = json!({"alarm": word, "clock": "open", "bond": bond, "due_ms": T, "noticed_ms": T,
        "notified": true, "sounded": true, "said": "Together by 09:30"});
    let id = uuid::Uuid::new_v4().to_string();
    let draft = Draft {
        id: id.clone(),
        body: Body::read("alarm", alarm).unwrap(),
        about: vec![bond],
        happened_ms: T,
        corrects: None,
        why: None,
        person: None,
    };
    let stamp = Stamp { act: id.clone(), entered_ms: T, boot: "boot-1".into(), boot_ms: 3_600_000, zone_min: 0 };
    let size = book.own().unwrap().unwrap().size;
    book.transact(|book| book.append(size, &stamp, vec![draft], &[])).unwrap();
    id
}

#[test]
fn an_alarm_is_answered_once() {
    let mut shop = Shop::new();
    let error = shop.refused(json!({"act": "answer-alarm", "body": {}}));
    assert_eq!((error.code, error.field.as_deref()), ("not-found", Some("body.alarm")));
    let bond = shop.bonded();
    let [first, second, third] = [(); 3].map(|()| ring(&shop, &bond, "nearly-over"));
    let quiet = ring(&shop, &bond, "reached");
    let one = shop.ann("answer-alarm", json!({"alarm": second}));
    assert_eq!(shop.body(&one, "alarm-answered"), json!({"alarm": second}));
    assert_eq!(one.changed, ["bond:1"]);
    assert_eq!(shop.refused(json!({"act": "answer-alarm", "body": {"alarm": second}})).code, "not-found");
    let rest = shop.ann("answer-alarm", json!({"loud": true}));
    let answered: Vec<_> = rest.entries.iter().map(|made| shop.by_id(&made.id).body.write().unwrap()).collect();
    assert_eq!(answered, [json!({"alarm": first}), json!({"alarm": third})]);
    assert_eq!(shop.refused(json!({"act": "answer-alarm", "body": {"loud": true}})).code, "not-found");
    let last = shop.ann("answer-alarm", json!({}));
    assert_eq!(shop.body(&last, "alarm-answered"), json!({"alarm": quiet}), "a quiet notice waits for its own answer");
    let fixed = json!({"act": "withdraw", "body": {"entry": first, "why": "x"}});
    assert_eq!(shop.refused(fixed).code, "contradicts", "an alarm stays");
}

#[test]
fn every_act_has_a_schema() {
    let schema = workshop::act::schema();
    for word in workshop::act::WORDS {
        assert_eq!(schema[word]["type"], "object", "{word}");
        assert_eq!(schema[word]["additionalProperties"], false, "{word}");
    }
    assert!(schema["envelope"]["properties"]["key"].is_object());
}
