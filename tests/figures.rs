//! Calculations at the door and on the command line: no book, one shape, one sentence for what is wrong.

#[path = "figures/shown.rs"]
mod shown;

use proptest::prelude::*;
use serde_json::{Value, json};
use tests::binary::Shop;
use workshop::Workshop;
use workshop::clock::FixedClock;
use workshop::wire::{CODES, WireError};

/// A door to a book that is not there.
fn ask(question: Value) -> Result<Value, WireError> {
    let clock = FixedClock::at(1_795_510_800_000);
    let path = std::env::temp_dir().join("no such folder").join("no book");
    Workshop::new(&path, Box::new(clock), Box::new(String::new)).ask(None, None, question)
}

fn figure(name: &str, inputs: Value) -> Result<Value, WireError> {
    ask(json!({ "ask": "figure", "body": { "figure": name, "inputs": inputs } }))
}

#[test]
fn a_figure_is_answered_without_a_book() {
    let answer = figure("wood-moisture", json!({ "temperature": "70F", "humidity": 50 })).unwrap();
    let names: Vec<&str> = answer.as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(names, ["basis", "figure", "result"]);
    assert_eq!(answer["figure"], "wood-moisture");
    assert!((answer["result"]["wood_moisture_pct"].as_f64().unwrap() - 9.246).abs() < 5e-4);
    assert_eq!(answer["basis"]["inputs"], json!({ "temperature": "70F", "humidity": "50 %" }));
    for part in ["formula", "source"] {
        assert!(answer["basis"][part].as_str().unwrap().len() > 10, "{part}");
    }
    assert!(answer["basis"]["assumptions"].is_array());
}

#[test]
fn lists_and_missing_values_have_their_shapes() {
    let answer = figure("cure-law", json!({ "points": ["75F:240min", "90F:120min"], "at": ["80F", 30] })).unwrap();
    assert_eq!(answer["result"]["times_min"].as_array().unwrap().len(), 2);
    assert_eq!(answer["result"]["bands"], json!([null, null]));
    let three = json!({ "points": "10C:30h,15C:19h,20C:12h", "at": "15C" });
    assert_eq!(figure("cure-law", three).unwrap()["result"]["bands"][0].as_array().unwrap().len(), 2);
    let never = json!({ "ea": 55, "point": "20C:12h", "trace": "0h:5C", "minimum": "10C" });
    let answer = figure("cure-finish", never).unwrap();
    for field in ["finish_h", "earliest_h", "latest_h"] {
        assert_eq!(answer["result"][field], Value::Null);
    }
    let mix = json!({ "nominal": "2:1", "resin": "50g", "hardener": "100g", "resolution": "0.1g", "tolerance": "5%" });
    let answer = figure("mix-ratio", mix).unwrap();
    assert_eq!((&answer["result"]["verdict"], &answer["result"]["swapped"]), (&json!("outside"), &json!(true)));
    let odd = figure("individuals-chart", json!({ "values": [10, 10.2, 9.9, 10.1, 10, 14, 10.1, 9.9, 10, 10.1] }));
    assert_eq!(odd.unwrap()["result"]["out_of_control"], json!([6]));
}

#[test]
fn every_figure_is_listed_with_what_it_takes() {
    let answer = ask(json!({ "ask": "figures" })).unwrap();
    let figures = answer["figures"].as_array().unwrap();
    assert_eq!(figures.len(), glue::figure::ALL.len());
    for figure in figures {
        for part in ["name", "about", "formula", "source"] {
            assert!(!figure[part].as_str().unwrap().is_empty(), "{part} of {figure}");
        }
        for input in figure["inputs"].as_array().unwrap() {
            assert!(!input["help"].as_str().unwrap().is_empty() && !input["range"].as_str().unwrap().is_empty());
            assert_eq!(input["needed"].as_bool().unwrap(), input["without"].as_str().unwrap().is_empty(), "{input}");
        }
        assert!(!figure["result"].as_array().unwrap().is_empty(), "{figure}");
    }
}

#[track_caller]
fn one_sentence(error: &WireError) {
    assert!(CODES.contains(&error.code) && error.exit() == 2, "{error:?}");
    let said = &error.sentence;
    assert!(said.ends_with('.') && !said.contains('\n') && !said.chars().any(char::is_control), "{error:?}");
}

fn nonsense() -> impl Strategy<Value = Value> {
    let text = prop_oneof![
        any::<String>(),
        "[0-9.,:/@eE%CFKmin-]{0,24}",
        "-?[0-9]{1,6}(\\.[0-9]{1,4})?(C|F|%|mm|g|h|min|psi)?"
    ];
    prop_oneof![
        8 => text.prop_map(Value::String),
        2 => any::<f64>().prop_map(|x| json!(x)),
        1 => Just(Value::Null),
        1 => Just(json!({ "a": 1 })),
        1 => prop::collection::vec(any::<i32>(), 0..4).prop_map(|all| json!(all)),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(1_000) })]

    #[test]
    fn anything_at_the_door_is_answered_or_refused_in_one_sentence(
        at in 0..glue::figure::ALL.len(),
        values in prop::collection::vec(prop::option::weighted(0.9, nonsense()), 12),
        stranger in prop::option::weighted(0.1, (any::<String>(), nonsense())),
    ) {
        let known = glue::figure::ALL[at];
        let mut inputs = serde_json::Map::new();
        for (input, value) in known.inputs.iter().zip(values) {
            inputs.extend(value.map(|value| (input.name.to_owned(), value)));
        }
        inputs.extend(stranger);
        if let Err(error) = figure(known.name, Value::Object(inputs)) {
            one_sentence(&error);
        }
    }
}

#[test]
fn the_command_line_computes_lists_and_explains() {
    let shop = Shop::new();
    let done = shop.run(&["figure", "dew-point", "temperature=30C", "humidity=55%", "--json"]);
    assert_eq!(done.status, 0, "{done:?}");
    assert!((done.object()["result"]["dew_point_c"].as_f64().unwrap() - 20.0).abs() < 0.5);
    let done = shop.run(&["figure", "--list"]);
    assert_eq!(done.status, 0, "{done:?}");
    for known in glue::figure::ALL {
        assert!(done.out.contains(&format!("{}\n", known.name)) && done.out.contains(known.source), "{}", known.name);
    }
    let done = shop.run(&["figure", "scarf", "--help"]);
    assert_eq!(done.status, 0, "{done:?}");
    for part in ["slope=", "thickness=", "0.1 to 1000 mm", "gives length_mm", "formula:", "source:"] {
        assert!(done.out.contains(part), "{part}: {}", done.out);
    }
}

#[test]
fn the_command_line_refuses_in_one_sentence() {
    let shop = Shop::new();
    let rows: &[(&[&str], &str, &str)] = &[
        (&["wood-moisture", "temperature=70F", "humidity=140%"], "out-of-range", "humidity"),
        (&["wood-moisture", "temperature=70F", "humidity=NaN"], "out-of-range", "humidity"),
        (&["wood-moisture", "temperature=70F"], "missing", "humidity"),
        (&["wood-moisture", "temperature=70F", "humidity=40", "humidity=50"], "contradicts", "humidity"),
        (&["wood-moisture", "temperature=70F", "humidity"], "bad-json", "inputs"),
        (&["wood-moisture", "temperature=70F", "humidity=40", "wind=3"], "unknown-field", "wind"),
        (&["no-such-figure", "a=1"], "not-found", "figure"),
    ];
    for (words, code, field) in rows {
        let mut all = vec!["figure"];
        all.extend_from_slice(words);
        let plain = shop.run(&all);
        assert_eq!((plain.status, plain.out.as_str()), (2, ""), "{plain:?}");
        all.push("--json");
        let done = shop.run(&all);
        let error = &done.object()["error"];
        assert_eq!(
            (done.status, error["code"].as_str(), error["field"].as_str()),
            (2, Some(*code), Some(*field)),
            "{done:?}"
        );
        assert!(error["sentence"].as_str().unwrap().ends_with('.'), "{done:?}");
    }
}
