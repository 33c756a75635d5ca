//! Every figure: what it refuses, what holds for all its inputs, and that nothing typed makes it panic.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "in a test, what cannot go on stops it and says where"
)]

mod fuzz;
mod held;
mod joints;
mod refused;

use glue::figure::{Answer, Cause, Refusal, reckon};

/// Asks `dew-point temperature=70F humidity=50%`.
fn asked(line: &str) -> Result<Answer, Refusal> {
    let mut words = line.split(' ');
    let name = words.next().unwrap();
    reckon(name, words.map(|word| word.split_once('=').unwrap()))
}

/// One number of the answer.
#[track_caller]
fn number(line: &str, field: &str) -> f64 {
    match asked(line) {
        Ok(answer) => answer.number(field).unwrap_or_else(|| panic!("{line}: no number {field}")),
        Err(refusal) => panic!("{line}: {}", refusal.sentence),
    }
}

/// Refused, and told in one sentence that names the field and, where there is one, the value and the range.
#[track_caller]
fn refused(line: &str, cause: Cause, field: &str) {
    let refusal = asked(line).expect_err(line);
    assert_eq!((refusal.cause, refusal.field.as_str()), (cause, field), "{line}: {refusal:?}");
    one_sentence(&refusal);
}

#[track_caller]
fn one_sentence(refusal: &Refusal) {
    let said = &refusal.sentence;
    assert!(said.ends_with('.') && !said.trim_end_matches('.').ends_with('.'), "{refusal:?}");
    assert!(!said.contains(['\n', '\r']) && said.chars().count() < 900, "{refusal:?}");
    assert!(
        said.contains(&glue::figure::outcome::quoted(&refusal.field)[1..].trim_end_matches('"').to_owned()),
        "{refusal:?}"
    );
    if matches!(refusal.cause, Cause::OutOfRange) {
        assert!(said.contains(&glue::figure::outcome::quoted(&refusal.value)), "names the value: {refusal:?}");
        let range = refusal.range.as_deref().unwrap_or("");
        assert!(!range.is_empty(), "names the range: {refusal:?}");
    }
    assert_ne!(refusal.cause, Cause::Fault, "{refusal:?}");
}
