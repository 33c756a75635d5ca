//! A verdict stored with a mix comes out again, or is found.

use super::*;
use logbook::entry::card::{Card, Parts, Ratio};
use logbook::entry::mix::{Mix, RatioJudged};
use logbook::entry::typed::{Amount, Mass, Share};

/// 100:50 by weight, 5 %. Every field the sheet does not state is absent.
fn card() -> Card {
    let typed = serde_json::json!({
        "name": "E", "class": "epoxy", "ratio": {}, "origin": "sheet", "limits": []
    });
    let mut card: Card = serde_json::from_value(typed).unwrap();
    card.ratio = Ratio {
        weight: Some(Parts { resin_ppm: 100_000_000, hardener_ppm: 50_000_000, typed: "100:50".into() }),
        volume: None,
        tolerance: Some(Share { ppm: 50_000, typed: "5 %".into(), step_ppm: None, by: None }),
    };
    card
}

/// 100.0 g and 50.0 g on a scale of 0.1 g: no deviation; u of a net amount 0.1/sqrt(6) g (GUM 4.3.7), so that
/// U = 2·(0.1/sqrt(6))·sqrt(1/100² + 1/50²) = 1826 ppm.
fn mixed(change: impl Fn(&mut RatioJudged)) -> Report {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mixed.glue");
    let mut book = book(&path);
    act(&mut book, &stamp(1, T0), vec![draft(id(2, 1), Body::Card(card()), &[], T0)], &[]).unwrap();
    let pot = id(4, 1);
    act(&mut book, &stamp(2, T0), vec![draft(pot.clone(), batch("Tue 1"), std::slice::from_ref(&pot), T0)], &[])
        .unwrap();
    let grams = |mg: i64, typed: &str| Amount::Mass(Mass { mg, typed: typed.into(), step_mg: Some(100), by: None });
    let mut judged = RatioJudged {
        verdict: "within".into(),
        error_ppm: Some(0),
        uncertainty_ppm: Some(1826),
        swapped: None,
        model: "ratio@1".into(),
    };
    change(&mut judged);
    let mix = Mix {
        batch: pot.clone(),
        card: id(2, 1),
        containers: vec![],
        containers_from: Default::default(),
        resin: Some(grams(100_000, "100.0 g")),
        hardener: Some(grams(50_000, "50.0 g")),
        weighing: None,
        totals: None,
        instrument: None,
        start_temperature: None,
        place: None,
        place_from: None,
        judged: Some(judged),
    };
    act(&mut book, &stamp(3, T0), vec![draft(id(5, 1), Body::Mix(mix), &[pot], T0)], &[]).unwrap();
    drop(book);
    look(&path, Depth::Meaning, None).unwrap()
}

#[test]
fn a_verdict_comes_out_again_or_is_found() {
    let sound = mixed(|_| {});
    assert_eq!(sound.found, []);
    assert!(!sound.cannot_show.iter().any(|said| said.contains("not recomputed")), "{:?}", sound.cannot_show);
    assert_eq!(found(&mixed(|judged| judged.verdict = "outside".into())), [(What::ReadModel, 3)]);
    assert_eq!(found(&mixed(|judged| judged.error_ppm = Some(1))), [(What::ReadModel, 3)]);
    assert_eq!(found(&mixed(|judged| judged.uncertainty_ppm = Some(1900))), [(What::ReadModel, 3)]);
    let other = mixed(|judged| judged.model = "ratio@0".into());
    assert_eq!(other.found, []);
    assert!(other.cannot_show.contains(&"1 values worked out by ratio@0 were not recomputed".to_owned()));
}
