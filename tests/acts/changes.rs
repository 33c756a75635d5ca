//! Corrections, withdrawals, presses taken back: both entries stay.

use crate::shop::{MIN, Shop, T};
use logbook::entry::Body;
use serde_json::json;

#[test]
fn a_correction_replaces_the_whole_body_and_names_the_original() {
    let mut shop = Shop::new();
    let mix =
        shop.ann("mix", json!({"card": "amber", "containers": ["r1", "h1"], "resin": "40.0 g", "hardener": "38.2 g"}));
    let original = shop.entry(&mix, "mix");
    shop.clock.advance(MIN);
    let body = json!({"card": "amber", "containers": ["r1", "h1"], "resin": "40.0 g", "hardener": "33.2 g"});
    let first = shop.ann("correct", json!({"entry": original.id, "body": body, "why": "read upside down"}));
    let entry = shop.entry(&first, "mix");
    assert_eq!(entry.corrects.as_ref(), Some(&original.id));
    assert_eq!((entry.happened_ms, entry.entered_ms), (T, T + MIN), "the instant stays unless one is given");
    assert_eq!(entry.why.as_deref(), Some("read upside down"));
    assert_eq!(first.changed, ["batch:Tue 1", "lot:H-1", "lot:R-1"]);
    assert!(first.owed.is_empty(), "{:?}", first.owed);
    let Body::Mix(now) = &entry.body else { panic!("{entry:?}") };
    let Body::Mix(then) = &original.body else { panic!("{original:?}") };
    assert_eq!(now.batch, then.batch);
    let again = shop.done(json!({"act": "correct", "happened": "2026-11-24T08:30:00Z",
        "body": {"entry": entry.id, "body": body, "why": "earlier"}}));
    let again = shop.entry(&again, "mix");
    assert_eq!(again.corrects.as_ref(), Some(&original.id), "always the original");
    assert_eq!(again.happened_ms, T - 30 * MIN);
}

#[test]
fn names_and_numbers_survive_a_correction() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    let part = shop.done(json!({"act": "part", "body": {"mark": "nose"}}));
    let seq = shop.entry(&part, "part").seq.to_string();
    shop.ann("correct", json!({"entry": seq, "why": "misspelt", "body": {"mark": "tail"}}));
    assert_eq!(shop.refused(json!({"act": "joint", "body": {"part": "nose", "mark": "a"}})).code, "not-found");
    shop.ok("joint", json!({"part": "tail", "mark": "a"}));
    let made = shop.ann("bond", json!({"batches": ["Tue 1"], "joints": ["R1-L/J3"]}));
    let id = shop.entry(&made, "bond").id;
    let fixed = shop.ann(
        "correct",
        json!({"entry": id, "why": "wrong rib", "body": {"batches": ["Tue 1"], "joints": ["R1-R/J3"]}}),
    );
    assert_eq!(shop.body(&fixed, "bond")["number"], 2);
    assert!(
        fixed.changed.contains(&"part:R1-L".to_owned()) && fixed.changed.contains(&"part:R1-R".to_owned()),
        "{fixed:?}"
    );
    assert_eq!(bond, "1");
}

#[test]
fn corrections_are_checked_like_acts() {
    let mut shop = Shop::new();
    let reading = shop.ann("reading", json!({"place": "loft", "temperature": "19 C"}));
    let id = shop.entry(&reading, "reading").id;
    let correct = |body: serde_json::Value| json!({"act": "correct", "body": {"entry": id, "body": body, "why": "x"}});
    let error = shop.refused(correct(json!({"place": "loft", "temperature": "700 F"})));
    assert_eq!((error.code, error.field.as_deref()), ("out-of-range", Some("body.body.temperature")));
    assert!(error.sentence.contains("body.body.temperature") && error.sentence.contains("700 F"), "{error:?}");
    assert_eq!(shop.refused(correct(json!({"place": "loft"}))).field.as_deref(), Some("body.body.temperature"));
    let silent = json!({"act": "correct", "body": {"entry": id, "body": {"place": "loft", "temperature": "18 C"}}});
    assert_eq!(shop.refused(silent).field.as_deref(), Some("body.why"));
    let start = json!({"act": "correct", "body": {"entry": "0", "body": {}, "why": "x"}});
    assert_eq!(shop.refused(start).code, "contradicts");
    shop.done(json!({"act": "correct", "why": "from the other thermometer", "body": {"entry": id, "body": {"place": "loft", "temperature": "18 C"}}}));
}

#[test]
fn a_withdrawn_entry_stays_and_counts_no_more() {
    let mut shop = Shop::new();
    let part = shop.ok("part", json!({"mark": "spare"}));
    let id = shop.entry(&part, "part").id;
    let withdrawn = shop.ann("withdraw", json!({"entry": id, "why": "never made"}));
    assert_eq!(withdrawn.changed, ["part:spare"]);
    assert_eq!(shop.body(&withdrawn, "withdrawn"), json!({"entry": id}));
    assert_eq!(shop.by_id(&id).seq, shop.entry(&part, "part").seq, "the entry is still there");
    shop.ok("part", json!({"mark": "spare"}));
    let again = json!({"act": "withdraw", "body": {"entry": id, "why": "x"}});
    assert_eq!(shop.refused(again).code, "contradicts");
    let corrected = json!({"act": "correct", "body": {"entry": id, "why": "x", "body": {"mark": "y"}}});
    assert_eq!(shop.refused(corrected).code, "contradicts");
}

#[test]
fn what_others_name_is_not_withdrawn() {
    let mut shop = Shop::new();
    shop.bonded();
    let mix = json!({"act": "withdraw", "body": {"entry": "1", "why": "left the shop"}});
    shop.done(mix);
    let lot = shop.ok("lot", json!({"mark": "R-7", "card": "amber", "role": "resin"}));
    let id = shop.entry(&lot, "lot").id;
    shop.ok("container", json!({"mark": "r7", "lot": "R-7"}));
    let error = shop.refused(json!({"act": "withdraw", "body": {"entry": id, "why": "x"}}));
    assert_eq!((error.code, error.field.as_deref()), ("contradicts", Some("body.entry")));
}

#[test]
fn a_joint_that_was_glued_is_not_withdrawn() {
    let mut shop = Shop::new();
    let batch = shop.mixed();
    let joint = shop.ok("joint", json!({"part": "R1-L", "mark": "extra"}));
    let id = shop.entry(&joint, "joint").id;
    shop.ann("bond", json!({"batches": [batch], "joints": ["R1-L/extra"]}));
    assert_eq!(shop.refused(json!({"act": "withdraw", "body": {"entry": id, "why": "x"}})).code, "contradicts");
    let other = shop.ok("joint", json!({"part": "R1-L", "mark": "other"}));
    let id = shop.entry(&other, "joint").id;
    shop.ok("withdraw", json!({"entry": id, "why": "never glued"}));
}

#[test]
fn a_press_is_taken_back_within_ten_seconds() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    let press = shop.ann("press", json!({"press": "together", "bond": bond}));
    shop.clock.advance(10_000);
    let back = shop.ann("press", json!({"press": "taken-back", "bond": bond}));
    let entry = shop.entry(&back, "withdrawn");
    assert_eq!(entry.body.write().unwrap(), json!({"entry": shop.entry(&press, "press").id, "taken_back": true}));
    assert_eq!(entry.why, None, "no reason is asked");
    shop.ann("press", json!({"press": "together", "bond": bond}));
    shop.clock.advance(10_001);
    let error = shop.refused(json!({"act": "press", "body": {"press": "taken-back", "bond": bond}}));
    assert_eq!((error.code, error.field.as_deref()), ("contradicts", Some("body.press")));
    assert!(error.sentence.contains("10 s") && error.advice.contains("Withdraw"), "{error:?}");
}

#[test]
fn a_wall_clock_that_steps_does_not_lengthen_the_ten_seconds() {
    let mut shop = Shop::new();
    let bond = shop.bonded();
    shop.ann("press", json!({"press": "together", "bond": bond}));
    shop.clock.advance(20_000);
    shop.clock.step_wall(-20_000);
    assert_eq!(
        shop.refused(json!({"act": "press", "body": {"press": "taken-back", "bond": bond}})).code,
        "contradicts"
    );
}

#[test]
fn hardener_in_taken_back_takes_its_batch_along() {
    let mut shop = Shop::new();
    let press = shop.ann("press", json!({"press": "hardener-in"}));
    let entry = shop.entry(&press, "press").id;
    let back = shop.ann("press", json!({"press": "taken-back", "entry": entry}));
    assert_eq!(back.entries.len(), 2);
    assert_eq!(
        shop.refused(json!({"act": "press", "body": {"press": "pot-done", "batch": "Tue 1"}})).code,
        "not-found"
    );
    assert_eq!(shop.ann("press", json!({"press": "hardener-in"})).made["batch"], "Tue 1");
}
