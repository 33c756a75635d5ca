//! A broken sample joint in words, and back to the act that would say it.

use super::Asking;
use super::figure_shown::digits;
use crate::act::sample as told;
use glue::sample::shear_mpa;
use logbook::entry::sample::Sample;
use logbook::store::{Error, Noun};

/// The strength it broke at, MPa, as a text of four digits.
fn strength(it: &Sample) -> String {
    digits(shear_mpa(it.load.mn, it.width.um, it.length.um))
}

/// `Sample joint broke at 3500 N on 38 mm by 50.8 mm: 1.813 MPa; wood failure 80 %`.
pub(super) fn said(it: &Sample) -> String {
    let wood = it.wood_failure.as_ref().map_or_else(|| "not recorded".to_owned(), |share| share.typed.clone());
    let note = it.note.as_ref().map(|note| format!("; {note}")).unwrap_or_default();
    format!(
        "Sample joint broke at {} on {} by {}: {} MPa; wood failure {wood}{note}",
        it.load.typed,
        it.width.typed,
        it.length.typed,
        strength(it)
    )
}

/// The act's body.
pub(super) fn act(asking: &Asking, it: &Sample) -> Result<told::Sample, Error> {
    Ok(told::Sample {
        part: asking.called_if(Noun::Part, it.part.as_ref())?,
        bond: asking.called_if(Noun::Bond, it.bond.as_ref())?,
        load: it.load.typed.clone(),
        width: it.width.typed.clone(),
        length: it.length.typed.clone(),
        wood_failure: it.wood_failure.as_ref().map(|share| share.typed.clone()),
        note: it.note.clone(),
    })
}
