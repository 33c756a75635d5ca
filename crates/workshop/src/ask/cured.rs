//! How cured a bond is, on the wire.

use super::Asking;
use super::answer::CuredAnswer;
use crate::judge::BondStory;
use crate::judge::cured::{Cured, HowCured};
use crate::judge::cured_said;
use crate::judge::words::instant;
use logbook::store::Error;

/// How cured a bond is at the instant judged.
pub fn answer(asking: &Asking, story: &BondStory) -> Result<CuredAnswer, Error> {
    let on = asking.judge.cure_on(story)?;
    let told = on.tell(asking.at_ms);
    let cured = match &told {
        HowCured::Told(cured) => Some(cured),
        HowCured::CannotTell(_) => None,
    };
    let mk = |k: f64| libm::round(k * 1000.0) as i64;
    let of = |get: fn(&Cured) -> f64| cured.map(|cured| mk(get(cured)));
    Ok(CuredAnswer {
        at: cured.map(|cured| instant(cured.until_ms)),
        conversion_pct: cured.map(|cured| cured_said::percent_of(cured.conversion)),
        glass_low_mk: of(|cured| cured.glass_k.0),
        glass_high_mk: of(|cured| cured.glass_k.1),
        glass: cured.map(|cured| cured_said::glass(cured.glass_k, asking.judge.reader)),
        stalled: cured.is_some_and(|cured| cured.stalled),
        warmest: of(|cured| cured.highest_k).map(|mk| asking.judge.reader.temperature(mk)),
        service: on.service.as_ref().map(|(mk, _)| asking.judge.reader.temperature(*mk)),
        said: on.said(&told),
        caution: on.caution(&told),
        rests_on: on.rests_on(&told),
    })
}
