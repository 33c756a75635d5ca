//! Text of any kind at every reader: quantities, ratios, figures' inputs, lists of thousands.

use super::config;
use glue::figure::{self, Given, course, reckon};
use glue::unit::measure::{self, Measure};
use glue::unit::{DurationRange, RatioText, VolumeRatio, WeightRatio};
use proptest::prelude::*;

const MEASURES: [&Measure; 27] = [
    &measure::CELSIUS,
    &measure::KELVIN,
    &measure::MILLIMETRE,
    &measure::METRE,
    &measure::SQUARE,
    &measure::GRAM,
    &measure::MILLILITRE,
    &measure::DENSITY,
    &measure::SPREAD,
    &measure::PACE,
    &measure::MINUTE,
    &measure::HOUR,
    &measure::HECTOPASCAL,
    &measure::KILOPASCAL,
    &measure::PERCENT,
    &measure::SHARE,
    &measure::PLAIN,
    &measure::NEWTON,
    &measure::LINE_LOAD,
    &measure::STIFFNESS,
    &measure::ENERGY,
    &measure::RATE,
    &measure::HEAT_TRANSFER,
    &measure::EQUIVALENT,
    &measure::CELSIUS,
    &measure::GRAM,
    &measure::HOUR,
];

fn text() -> impl Strategy<Value = String> {
    let odd = [
        "NaN",
        "inf",
        "-0",
        "1e-99",
        "1e99",
        "0x10",
        "½",
        "٣",
        "−5",
        "1/0",
        "1/3in",
        "12:",
        ":",
        "1,5",
        "1.000,5",
        "99999999999999999999999999999999999999999",
        "0.00000000000000000000000000000000000000001",
        "\u{0}",
        "é",
        "1e",
        "--",
    ];
    prop_oneof![
        any::<String>(),
        "[-+]?[0-9]{0,40}[.,/]?[0-9]{0,40}(e[-+]?[0-9]{0,4})? ?[a-zA-Z%/0-9²]{0,6}",
        prop::sample::select(odd.to_vec()).prop_map(str::to_owned),
        ("[0-9]{1,5}", "[:/-]", "[0-9]{1,5}", "(g|ml|C|F|h|min|in|%)?")
            .prop_map(|(a, mark, b, unit)| format!("{a}{mark}{b}{unit}")),
    ]
}

proptest! {
    #![proptest_config(config(1_200))]

    #[test]
    fn what_is_read_is_a_number(text in text()) {
        for measure in MEASURES {
            if let Ok(value) = measure.read(&text) {
                prop_assert!(value.is_finite(), "{text} in {}: {value}", measure.unit);
            }
            let _ = (measure.knows(&text), measure.is_bare(&text));
        }
        let _ = (RatioText::parse(&text), WeightRatio::parse(&text).map(WeightRatio::parts));
        let _ = (VolumeRatio::parse(&text).map(VolumeRatio::parts), DurationRange::parse(&text));
    }
}

proptest! {
    #![proptest_config(config(300))]

    #[test]
    fn any_words_to_a_figure(at in 0..figure::ALL.len(), texts in prop::collection::vec(text(), 12), name in text()) {
        let known = figure::ALL[at];
        let typed = known.inputs.iter().map(|input| input.name).zip(texts.iter().map(String::as_str));
        if let Ok(given) = Given::read(known, typed.clone()) {
            courses(&given, &[0.0, 1.0, f64::NAN, f64::INFINITY]);
        }
        if let Err(refusal) = reckon(known.name, typed) {
            prop_assert!(!refusal.sentence.is_empty() && !refusal.sentence.contains('\n'), "{refusal:?}");
        }
        prop_assert!(reckon(&name, []).is_err() || figure::find(&name).is_some());
    }
}

/// What is drawn of a figure, whichever it is.
fn courses(given: &Given, at: &[f64]) {
    for minutes in at {
        let _ = course::pot(given, *minutes);
    }
    let _ = (course::cured(given), course::isothermal(given), course::network(given, at.iter().copied()));
    let _ = (course::sets(given), course::progress(given, at), course::lap(given), course::slope(given));
    let _ = (course::bent(given), course::assembly(given));
}

#[test]
fn what_is_drawn_of_any_figure_is_drawn_of_all() {
    let typed = [
        "mass=100g ambient=25C",
        "temperature=20C time=7d",
        "equivalents=0.8",
        "ea=55 point=20C:12h trace=0h:20C,9h:5C",
        "m=1 n=2 k1=1e-5 k2=2e-4 conversion=0.5",
        "slope=12 thickness=20mm",
    ];
    for known in figure::ALL {
        for line in typed {
            let words: Vec<(&str, &str)> = line.split(' ').filter_map(|word| word.split_once('=')).collect();
            if let Ok(given) = Given::read(known, words) {
                courses(&given, &[0.0, 30.0, -1.0, 1e9, f64::NAN, f64::INFINITY]);
            }
        }
        let listed = figure::listed::listed(known);
        assert!(!listed.inputs.is_empty() && !figure::words::title(known.name).is_empty());
    }
    let odd = "no such figure";
    let _ = (
        figure::words::family(odd),
        figure::words::title(odd),
        figure::words::of_input(odd, odd),
        figure::words::of_result(odd, odd),
    );
}

/// Every figure's inputs, one after the other, with a value from a list of edges; the rest as its help has it.
#[test]
fn every_input_of_every_figure_at_its_edges() {
    let edges = [
        "",
        " ",
        "0",
        "-0",
        "-1",
        "1e-99",
        "1e99",
        "1e-5",
        "99999999",
        "NaN",
        "0C",
        "1000000C",
        "0g",
        "0mm",
        "0%",
        "100%",
        "0.0000001%",
        "0:0",
        "1:100",
        "100:1",
        "0h:20C",
        "0h:20C,0h:21C",
        "1h:20C",
        "20C:1min,20C:2min",
        "20C:9h,30C:8h",
    ];
    for known in figure::ALL {
        for input in known.inputs {
            for edge in edges {
                let rest = known.inputs.iter().filter(|other| other.name != input.name).map(|other| (other.name, "20"));
                for outcome in
                    [reckon(known.name, [(input.name, edge)]), reckon(known.name, rest.chain([(input.name, edge)]))]
                {
                    match outcome {
                        Ok(answer) => assert!(answer.result.iter().all(|(_, out)| out.is_finite()), "{answer:?}"),
                        Err(refusal) => {
                            assert!(refusal.sentence.len() > 5 && refusal.sentence.len() < 2_000, "{refusal:?}")
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn lists_of_thousands_are_answered_or_refused() {
    let list = |one: fn(u32) -> String| (0..20_000).map(one).collect::<Vec<_>>().join(",");
    let trace = list(|i| format!("{i}h:{}C", 15 + i % 9));
    let values = list(|i| format!("{}", 9 + i % 3));
    let points = list(|i| format!("{}C:{}min", 1 + i % 200, 20_000 - i));
    for (name, typed) in [
        ("cure-finish", vec![("ea", "55"), ("point", "20C:12h"), ("trace", &trace)]),
        ("equivalent-age", vec![("ea", "55"), ("reference", "20C"), ("trace", &trace)]),
        ("individuals-chart", vec![("values", &values)]),
        ("cure-law", vec![("points", &points)]),
    ] {
        if let Err(refusal) = reckon(name, typed.iter().map(|(name, text)| (*name, text as &str))) {
            assert!(refusal.sentence.len() < 2_000, "{name}: {} characters", refusal.sentence.len());
        }
    }
}
