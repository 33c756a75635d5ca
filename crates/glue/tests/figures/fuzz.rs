//! Anything typed: no panic, and a refusal is one sentence.

use super::one_sentence;
use glue::figure::{ALL, Cause, Out, reckon};
use proptest::prelude::*;

/// What somebody might type for a value, from plausible to nonsense.
fn typed() -> impl Strategy<Value = String> {
    let number = prop_oneof![
        (-1e6..1e6f64).prop_map(|x| x.to_string()),
        any::<f64>().prop_map(|x| x.to_string()),
        (-200i32..200).prop_map(|x| x.to_string()),
        Just("1/8".to_owned()),
        Just("99999999999999999999999999".to_owned()),
        Just("1e30".to_owned()),
    ];
    let units = prop::sample::select(vec![
        "", "C", "F", "K", "%", "mm", "in", "g", "ml", "min", "h", "psi", "kPa", "MPa", "N", "lb", "m", "kJ/mol", "x",
        "g/m2", "N/mm", "kg/l", "mm2", "d",
    ]);
    let quantity = (number, units).prop_map(|(number, unit)| format!("{number}{unit}")).boxed();
    let pair = (quantity.clone(), prop::sample::select(vec![":", "@", "/", "-", "="]), quantity.clone());
    let pair = pair.prop_map(|(a, mark, b)| format!("{a}{mark}{b}")).boxed();
    let list = prop::collection::vec(prop_oneof![quantity.clone(), pair.clone()], 0..6).prop_map(|all| all.join(","));
    prop_oneof![quantity, pair, list, any::<String>(), "\\PC{0,40}", "[0-9.,:/@eE+-]{0,30}"]
}

/// Inputs of more than one quantity, sound in their form and anywhere in their range.
fn shaped(name: &str, share: f64, bits: u16) -> String {
    let at = |n: u16| -40.0 + 300.0 * ((share * f64::from(n * 37 % 11 + 1)) % 1.0);
    let minutes = |n: u16| libm::exp(-6.0 + 19.0 * ((share * f64::from((bits ^ n) % 17 + 1)) % 1.0));
    match name {
        "points" => (0..2 + bits % 3).map(|n| format!("{}C:{}min", at(n), minutes(n))).collect::<Vec<_>>().join(","),
        "point" => format!("{}C:{}min", at(1), minutes(1)),
        "trace" => {
            let later = (1..2 + bits % 6).map(|n| format!(",{}h:{}C", f64::from(n) * minutes(9) / 60.0, at(n)));
            format!("0h:{}C{}", at(0), later.collect::<String>())
        }
        "nominal" => format!("{}:{}", 1.0 + 99.0 * share, 1.0 + f64::from(bits % 100)),
        "parts" => format!("{}@{},5@-", 1.0 + 99.0 * share, 10.0 + f64::from(bits)),
        "equivalents" => format!("{}:1", libm::exp(9.0 * share - 4.5)),
        "vessel" if bits & 1 == 0 => "cup".to_owned(),
        "vessel" => format!("tray:{}mm", 1.0 + 99.0 * share * share),
        "pot-life" => format!("{}g@{}C:{}min", 1.0 + 999.0 * share, bits % 60, libm::exp(9.0 * share)),
        "film-gel" => format!("{}C:{}min", bits % 50, libm::exp(10.0 * (1.0 - share))),
        "then" => format!("{}C:{}h", -40.0 + 190.0 * share, bits),
        "slope" => format!("1:{}", 1.0 + 99.0 * share),
        "weighing" if bits & 1 == 0 => "one-cup".to_owned(),
        "weighing" => format!("{}/{}/{}", 10.0 * share, 10.0 + 90.0 * share, 101.0 + f64::from(bits % 900)),
        _ => format!("{}g", 0.01 + share * f64::from(bits % 1_000)),
    }
}

#[track_caller]
fn holds(name: &str, inputs: &[(String, String)]) {
    match reckon(name, inputs.iter().map(|(key, value)| (key.as_str(), value.as_str()))) {
        Ok(answer) => assert!(answer.result.iter().all(|(_, out)| Out::is_finite(out)), "{answer:?}"),
        Err(refusal) => one_sentence(&refusal),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn arbitrary_names_and_inputs(
        name in prop_oneof![any::<String>(), prop::sample::select(ALL.iter().map(|f| f.name.to_owned()).collect::<Vec<_>>())],
        inputs in prop::collection::vec((any::<String>(), typed()), 0..4),
    ) {
        holds(&name, &inputs);
    }

    #[test]
    fn every_input_with_anything_in_it(
        at in 0..ALL.len(),
        values in prop::collection::vec(prop::option::weighted(0.9, typed()), 12),
    ) {
        let figure = ALL[at];
        let inputs = figure.inputs.iter().zip(values);
        let inputs: Vec<_> = inputs.filter_map(|(input, value)| Some((input.name.to_owned(), value?))).collect();
        holds(figure.name, &inputs);
    }

    /// Numbers in their input's range and unit: most of these are answered, at the ends of the ranges too.
    #[test]
    fn every_input_inside_its_range(at in 0..ALL.len(), shares in prop::collection::vec(0.0..=1.0f64, 12), ends in any::<u16>()) {
        use glue::figure::Kind;
        let figure = ALL[at];
        let mut inputs = vec![];
        for (index, (input, share)) in figure.inputs.iter().zip(shares).enumerate() {
            let share = if ends >> index & 1 == 1 { share.round() } else { share };
            let between = |min: f64, max: f64| min + (max - min) * share;
            let value = match input.kind {
                Kind::Amount { min, max, .. } => between(min, max).to_string(),
                Kind::Count { min, max } => ((between(min as f64, max as f64)) as u64).to_string(),
                Kind::List { min, max, .. } => format!("{min},{},{max}", between(min, max)),
                Kind::Word(words) => words[(share * (words.len() - 1) as f64) as usize].to_owned(),
                Kind::Shape(_) => shaped(input.name, share, ends),
            };
            inputs.push((input.name.to_owned(), value));
        }
        holds(figure.name, &inputs);
    }
}

#[test]
fn very_long_inputs_are_refused() {
    let long = "0h:20C,".repeat(100_000);
    let inputs = [("ea", "55"), ("reference", "20C"), ("trace", long.as_str())];
    let refusal = reckon("equivalent-age", inputs).unwrap_err();
    assert_eq!(refusal.cause, Cause::OutOfRange);
    one_sentence(&refusal);
}
