//! The ratio of a mix as judged when it is entered, stored with the model that judged it.

use super::desk::Desk;
use crate::wire::WireError;
use logbook::entry::mix::{Mix, RatioJudged};

/// The verdict on a mix.
pub(super) fn judged(desk: &Desk, mix: &Mix) -> Result<Option<RatioJudged>, WireError> {
    let _ = (desk, mix);
    Ok(None)
}
