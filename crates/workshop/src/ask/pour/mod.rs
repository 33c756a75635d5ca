//! What a cup of glue will do, before it is poured: how long it can be worked, what a tray or two cups would give, how
//! hot it gets if it is forgotten. The heat model only shortens what the sheet allows (docs/science/pot.md).

mod asked;
mod cup;
mod said;

use super::Asking;
use super::answer::PourAnswer;
use super::question::Pour;
use crate::wire::WireError;

/// Answers `pour`.
pub fn pour(asking: &Asking, body: &Pour) -> Result<PourAnswer, WireError> {
    let asked = asked::asked(asking, body)?;
    let known = cup::known(asking, &asked)?;
    Ok(said::answer(asking, &asked, &known))
}
