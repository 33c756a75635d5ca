//! Batch names: weekday and count of the local day; which batch a press or a mix means.

use crate::shop::{MIN, Shop};
use serde_json::json;

const H: i64 = 60 * MIN;

fn hardener(shop: &mut Shop) -> String {
    shop.ann("press", json!({"press": "hardener-in"})).made["batch"].clone()
}

#[test]
fn hardener_in_makes_a_batch_and_the_mix_joins_it() {
    let mut shop = Shop::new();
    let press = shop.ann("press", json!({"press": "hardener-in"}));
    assert_eq!(press.entries.iter().map(|made| made.kind.as_str()).collect::<Vec<_>>(), ["batch", "press"]);
    assert_eq!(press.made["batch"], "Tue 1");
    shop.clock.advance(2 * MIN);
    let mix =
        shop.ann("mix", json!({"card": "amber", "containers": ["r1", "h1"], "resin": "40.0 g", "hardener": "33.2 g"}));
    assert_eq!(mix.entries.len(), 1, "it names the batch that waits for its numbers");
    assert_eq!(mix.changed, ["batch:Tue 1", "lot:H-1", "lot:R-1"]);
    let twice =
        json!({"act": "mix", "body": {"batch": "Tue 1", "card": "amber", "resin": "1.0 g", "hardener": "0.8 g"}});
    assert_eq!(shop.refused(twice).code, "duplicate");
    assert_eq!(shop.mixed(), "Tue 2");
    let press = shop.ann("press", json!({"press": "hardener-in"}));
    assert_eq!(
        (press.entries.len(), press.changed),
        (1, vec!["batch:Tue 2".to_owned()]),
        "the mix that waits for its press"
    );
    assert_eq!(hardener(&mut shop), "Tue 3");
}

#[test]
fn a_batch_waits_four_hours() {
    let mut shop = Shop::new();
    assert_eq!(hardener(&mut shop), "Tue 1");
    shop.clock.advance(4 * H);
    assert_eq!(shop.mixed(), "Tue 2");
}

#[test]
fn the_count_begins_anew_at_local_midnight() {
    let mut shop = Shop::new();
    assert_eq!(hardener(&mut shop), "Tue 1");
    shop.clock.advance(14 * H + 59 * MIN);
    assert_eq!(hardener(&mut shop), "Tue 2", "23:59");
    shop.clock.advance(MIN);
    assert_eq!(hardener(&mut shop), "Wed 1", "00:00");
}

#[test]
fn the_day_is_the_shops_and_not_greenwichs() {
    let mut shop = Shop::new();
    shop.clock.set(|now| now.zone_min = 60);
    shop.clock.advance(14 * H + 30 * MIN);
    let receipt = shop.ann("press", json!({"press": "hardener-in"}));
    assert_eq!(receipt.made["batch"], "Wed 1", "00:30 in the shop, 23:30 in Greenwich");
    assert_eq!(shop.body(&receipt, "batch")["day"], "2026-11-25");
    shop.clock.set(|now| now.zone_min = -300);
    assert_eq!(hardener(&mut shop), "Tue 1", "18:30 in the shop");
}

#[test]
fn two_days_may_share_a_name() {
    let mut shop = Shop::new();
    assert_eq!(hardener(&mut shop), "Tue 1");
    shop.clock.advance(7 * 24 * H);
    assert_eq!(hardener(&mut shop), "Tue 1");
    let done = |name: &str| json!({"act": "press", "body": {"press": "pot-done", "batch": name}});
    let error = shop.refused(done("Tue 1"));
    assert_eq!((error.code, error.field.as_deref()), ("ambiguous", Some("body.batch")));
    shop.done(done("Tue 1 2026-11-24"));
    shop.done(done("batch:Tue 1 2026-12-01"));
    assert_eq!(shop.refused(done("Tue 1 2026-12-08")).code, "not-found");
}

#[test]
fn a_late_batch_counts_on_its_own_day() {
    let mut shop = Shop::new();
    assert_eq!(hardener(&mut shop), "Tue 1");
    let late = |at: &str| json!({"act": "press", "happened": at, "body": {"press": "hardener-in"}});
    assert_eq!(shop.done(late("2026-11-17T08:00:00Z")).made["batch"], "Tue 1");
    assert_eq!(shop.done(late("2026-11-17T07:00:00Z")).made["batch"], "Tue 2");
    assert_eq!(hardener(&mut shop), "Tue 2");
}

#[test]
fn bond_numbers_go_on_over_a_withdrawn_one() {
    let mut shop = Shop::new();
    assert_eq!(shop.bonded(), "1");
    let second = shop.ann("bond", json!({"batches": ["Tue 1"], "joints": ["R1-L/J3"]}));
    assert_eq!(second.made["bond"], "2");
    let id = shop.entry(&second, "bond").id;
    shop.ann("withdraw", json!({"entry": id, "why": "entered for the wrong rib"}));
    assert_eq!(shop.ann("bond", json!({"batches": ["Tue 1"], "joints": ["R1-R/J3"]})).made["bond"], "3");
}
