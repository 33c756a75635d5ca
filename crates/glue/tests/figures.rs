//! Every figure: what it refuses, what holds for all its inputs, and that nothing typed makes it panic.

use glue::figure::{Answer, Cause, Refusal, reckon};

/// `asked("dew-point temperature=70F humidity=50%")`.
fn asked(line: &str) -> Result<Answer, Refusal> {
    let mut words = line.split(' ');
    let name = words.next().unwrap();
    reckon(name, words.map(|word| word.split_once('=').unwrap()))
}

#[track_caller]
fn number(line: &str, field: &str) -> f64 {
    asked(line).unwrap().number(field).unwrap_or_else(|| panic!("{line}: no {field}"))
}

#[track_caller]
fn refused(line: &str, cause: Cause, field: &str) {
    let refusal = asked(line).expect_err(line);
    assert_eq!((refusal.cause, refusal.field.as_str()), (cause, field), "{refusal:?}");
    assert!(refusal.sentence.ends_with('.') && refusal.sentence.contains(field), "{refusal:?}");
}

#[test]
fn a_first_figure() {
    assert!((number("wood-moisture temperature=70F humidity=50%", "wood_moisture_pct") - 9.246).abs() < 5e-4);
    refused("wood-moisture temperature=70F humidity=140%", Cause::OutOfRange, "humidity");
    refused("wood-moisture temperature=70F", Cause::Missing, "humidity");
    refused("wood-moisture temperature=70F humidity=50% damp=1", Cause::UnknownField, "damp");
}
