//! Figures against printed rows: each is asked by its name with inputs as typed, as a person would ask it.

mod air;
mod clamps;
mod cure;
mod joints;
mod mixing;
mod pot;
mod samples;
mod time;
mod wood;

use glue::figure::{Answer, Out, Refusal, reckon};

/// Asks `dew-point temperature=70F humidity=50%`.
fn asked(line: &str) -> Result<Answer, Refusal> {
    let mut words = line.split(' ');
    let name = words.next().unwrap();
    reckon(name, words.map(|word| word.split_once('=').unwrap_or_else(|| panic!("{line}: {word}"))))
}

/// One number of the answer.
#[track_caller]
fn number(line: &str, field: &str) -> f64 {
    match asked(line) {
        Ok(answer) => answer.number(field).unwrap_or_else(|| panic!("{line}: no number {field} in {answer:?}")),
        Err(refusal) => panic!("{line}: {}", refusal.sentence),
    }
}

/// A sentence of the answer; None where it says nothing.
#[track_caller]
fn word(line: &str, field: &str) -> Option<String> {
    match asked(line).map(|answer| answer.get(field).cloned()) {
        Ok(Some(Out::Word(word))) => Some(word),
        Ok(Some(Out::Nothing)) => None,
        other => panic!("{line}: {other:?}"),
    }
}

/// A list of numbers of the answer.
#[track_caller]
fn numbers(line: &str, field: &str) -> Vec<f64> {
    match asked(line).map(|answer| answer.get(field).cloned()) {
        Ok(Some(Out::Numbers(all))) => all,
        other => panic!("{line}: {other:?}"),
    }
}

#[track_caller]
fn near(value: f64, wanted: f64, half: f64) {
    assert!((value - wanted).abs() <= half, "{value} instead of {wanted} ± {half}");
}
