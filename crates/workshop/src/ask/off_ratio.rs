//! What the ratio that was really mixed means for the network: gel point, highest cure, what is never bound in.

use crate::judge::BatchStory;
use crate::judge::batch::mass_mg;
use crate::judge::card::CardInForce;
use glue::card::Equivalents;
use glue::cure::network::Mix;

/// Hydrogens of one hardener molecule where the card does not say: a simple diamine.
const HYDROGENS: u32 = 4;
/// Where a sheet's own ratio lies outside, its equivalents are of another glue, or it is off balance on purpose; neither
/// says what an error means.
const BALANCED: (f64, f64) = (0.85, 1.15);

/// What all that went into a batch means, in one sentence; None: the card has no equivalents, or something was not
/// weighed.
pub(super) fn off_ratio(story: &BatchStory, card: Option<&CardInForce>) -> Option<String> {
    let card = card?;
    let equivalents = card.glue.equivalents?;
    let (mut resin, mut hardener) = (0, 0);
    for (_, one) in &story.mixes {
        resin += mass_mg(one.what.resin.as_ref()?, card.stored.resin_g_per_l)?;
        hardener += mass_mg(one.what.hardener.as_ref()?, card.stored.hardener_g_per_l)?;
    }
    if resin <= 0 || hardener <= 0 {
        return None;
    }
    let mix = of(&equivalents, resin as f64, hardener as f64);
    if let Some(sheet) = sheet(card, &equivalents).filter(|it| it.ratio < BALANCED.0 || it.ratio > BALANCED.1) {
        return Some(format!(
            "By the card's equivalents the sheet's own ratio is {:.2} hydrogens for each epoxide, far from one: what an \
             error of the ratio means is not said",
            sheet.ratio
        ));
    }
    Some(said(&mix))
}

fn of(equivalents: &Equivalents, resin: f64, hardener: f64) -> Mix {
    Mix {
        ratio: hardener / equivalents.ahew / (resin / equivalents.eew),
        functionality: equivalents.functionality.unwrap_or(HYDROGENS),
        eew: equivalents.eew,
        ahew: equivalents.ahew,
    }
}

/// The sheet's ratio by weight, else by volume and densities.
fn sheet(card: &CardInForce, equivalents: &Equivalents) -> Option<Mix> {
    let ratio = &card.stored.ratio;
    if let Some(parts) = &ratio.weight {
        return Some(of(equivalents, parts.resin_ppm as f64, parts.hardener_ppm as f64));
    }
    let parts = ratio.volume.as_ref()?;
    let (resin, hardener) = (card.stored.resin_g_per_l? as f64, card.stored.hardener_g_per_l? as f64);
    Some(of(equivalents, parts.resin_ppm as f64 * resin, parts.hardener_ppm as f64 * hardener))
}

/// "8 % too little hardener: no more than 92 % …; it gels at 55 % reacted instead of 58 %".
fn said(mix: &Mix) -> String {
    let balance = Mix { ratio: 1.0, ..*mix };
    let gel = match (mix.gel(), balance.gel()) {
        (Some(gel), Some(due)) if (mix.ratio - 1.0).abs() >= 0.005 => {
            format!(
                "; it gels when {:.0} % of the resin's groups have reacted, in balance {:.0} %",
                100.0 * gel,
                100.0 * due
            )
        }
        _ => String::new(),
    };
    format!("By the groups: {}{gel}", mix.said())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn by_the_groups() {
        // Macosko and Miller for f = 4 in closed form (docs/science/off-ratio.md): 3.4 % loose and gel at 51.6 % for 0.8.
        let equivalents = Equivalents { eew: 187.0, ahew: 60.0, functionality: None };
        let few = said(&of(&equivalents, 187.0, 48.0));
        assert!(few.contains("20 % too little hardener") && few.contains("80 %") && few.contains("52 %"), "{few}");
        assert!(few.contains("3.4") && few.contains("in balance 58 %"), "{few}");
        let even = said(&of(&equivalents, 187.0, 60.0));
        assert_eq!(even, format!("By the groups: {}", "in balance: everything can be bound in"));
        let never = said(&of(&equivalents, 187.0, 15.0));
        assert!(never.contains("never sets") && !never.contains("gels when"), "{never}");
    }
}
