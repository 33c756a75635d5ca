//! A calculation asked again with one input changed: what lies beside the answer.

use glue::figure::{self, Answer, Given};

/// The answer with another text for one input; None: refused.
pub(super) fn with(name: &'static str, given: &Given, input: &str, text: &str) -> Option<Answer> {
    let known = figure::find(name)?;
    let kept = known.inputs.iter().filter(|one| one.name != input);
    let kept = kept.filter_map(|one| Some((one.name, given.text(one.name)?)));
    figure::reckon(name, kept.chain([(input, text)])).ok()
}

/// One number of it.
pub(super) fn number(name: &'static str, given: &Given, (input, value): (&str, f64), field: &str) -> Option<f64> {
    with(name, given, input, &value.to_string())?.number(field)
}
