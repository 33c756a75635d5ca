//! One batch: verdict, balance, lots, its pot.

use super::answer::{Balance, BatchAnswer, MixLine, Named};
use super::off_ratio::off_ratio;
use super::question::BatchAsked;
use super::{Asking, lines};
use crate::act::session;
use crate::judge::BatchStory;
use crate::judge::batch::verdict_of;
use crate::judge::card::CardInForce;
use crate::judge::lots::typed;
use crate::judge::story::Fact;
use crate::judge::words::{capital, instant, list, percent};
use crate::reader::Reader;
use crate::wire::WireError;
use logbook::entry::mix::Mix;
use logbook::store::{Error, Noun};

/// Answers `batch`.
pub fn batch(asking: &Asking, asked: &BatchAsked) -> Result<BatchAnswer, WireError> {
    let id = asking.find(Noun::Batch, "body.batch", &asked.batch)?;
    let Some(story) = asking.judge.batch(&id)? else {
        let error = WireError::new(
            "not-found",
            "body.batch is not in the book at the moment asked about.",
            "Ask at a later instant.",
        );
        return Err(error.field("body.batch").value(&asked.batch));
    };
    let card = asking.judge.card_of(&story)?;
    let mut bonds = Vec::new();
    for bond in &story.bonds {
        bonds.extend(asking.judge.bond(bond)?.map(|it| it.name.clone()));
    }
    let reader = asking.judge.reader;
    let balance = balance(&story, card.as_deref(), reader);
    let mut about = asking.judge.overdrawn(&story)?;
    about.extend(unaccounted(&story, &balance, &bonds, reader));
    let pot = asking.judge.pot(&id)?;
    Ok(BatchAnswer {
        name: story.name.clone(),
        id,
        day: story.day.clone(),
        card: card.as_ref().map(|card| Named { name: card.stored.name.clone(), id: card.id.clone() }),
        hardener_in: story.hardener_in.as_ref().map(|it| instant(it.at_ms)),
        verdict: story.verdict().to_owned(),
        off_ratio: off_ratio(&story, card.as_deref()),
        mixes: story.mixes.iter().map(|(top_up, one)| mix_line(asking, *top_up, one)).collect::<Result<_, Error>>()?,
        lots: asking.lot_lines(&story)?,
        balance,
        bonds,
        this_session: begun(&story).is_some_and(|at_ms| at_ms > asking.at_ms - session::SESSION_MS),
        pot: pot.as_ref().map(lines::clock),
        asked: about,
    })
}

/// When a batch was begun: hardener in, else the first mix.
fn begun(story: &BatchStory) -> Option<i64> {
    story.hardener_in.as_ref().map(|it| it.at_ms).or_else(|| story.mixes.first().map(|(_, one)| one.at_ms))
}

fn mix_line(asking: &Asking, top_up: bool, one: &Fact<Mix>) -> Result<MixLine, Error> {
    let judged = one.what.judged.as_ref();
    Ok(MixLine {
        kind: if top_up { "top-up" } else { "mix" }.to_owned(),
        at: instant(one.at_ms),
        resin: one.what.resin.as_ref().map(|it| typed(it).to_owned()),
        hardener: one.what.hardener.as_ref().map(|it| typed(it).to_owned()),
        verdict: verdict_of(&one.what).to_owned(),
        error_ppm: judged.and_then(|it| it.error_ppm),
        uncertainty_ppm: judged.and_then(|it| it.uncertainty_ppm),
        swapped: judged.and_then(|it| it.swapped).unwrap_or(false),
        said: verdict_said(&one.what, asking.judge.card(&one.what.card)?.as_deref()),
        seq: one.entry.seq,
        person: asking.person(&one.entry)?,
    })
}

/// A ratio verdict in words: how far off, what the scale can tell, what the sheet allows, what to do.
fn verdict_said(mix: &Mix, card: Option<&CardInForce>) -> String {
    let Some((judged, error)) = mix.judged.as_ref().and_then(|it| Some((it, it.error_ppm?))) else {
        return "The ratio cannot be judged: the amounts are not recorded, or not of the sort the card gives."
            .to_owned();
    };
    if judged.swapped == Some(true) {
        return "Resin and hardener look swapped: the other way round the ratio fits. If only the numbers changed \
                places, correct them; if the pot is really so, throw it away."
            .to_owned();
    }
    let off = match error {
        0 => "exactly as the sheet says".to_owned(),
        more if more > 0 => format!("{} more hardener than the sheet says", percent(more)),
        less => format!("{} less hardener than the sheet says", percent(-less)),
    };
    let scale =
        judged.uncertainty_ppm.map_or(String::new(), |it| format!(", and the scale tells it to ±{}", percent(it)));
    let allowed = card.and_then(|card| card.stored.ratio.tolerance.as_ref()).map(|share| share.typed.clone());
    let Some(allowed) = allowed else {
        return format!("{}{scale}. The sheet gives no tolerance, so there is no verdict.", capital(&off));
    };
    match judged.verdict.as_str() {
        "within" => format!("{}{scale}; the sheet allows ±{allowed}.", capital(&off)),
        "cannot-tell" => format!(
            "{}{scale}; against the ±{allowed} of the sheet that cannot tell. A larger batch or a finer scale would.",
            capital(&off)
        ),
        _ => format!(
            "{}{scale}; the sheet allows ±{allowed}. A bond made with it is held: top up, or throw it away.",
            capital(&off)
        ),
    }
}

/// Mixed = on joints + thrown away; filler counts where it was weighed.
fn balance(story: &BatchStory, card: Option<&CardInForce>, reader: Reader) -> Balance {
    let mass = |mg| reader.mass(mg);
    let density = |of: fn(&CardInForce) -> Option<i64>| card.and_then(of);
    let mixed = story.mixed_mg(density(|card| card.stored.resin_g_per_l), density(|card| card.stored.hardener_g_per_l));
    let filler: i64 = story.fillers.iter().filter_map(|one| one.what.mass.as_ref().map(|it| it.mg)).sum();
    let mixed_mg = mixed.map(|mg| mg + filler);
    let thrown_away_mg =
        if story.thrown.is_empty() { None } else { Some(story.thrown.iter().map(|one| one.what).sum()) };
    let on_joints_mg = match (mixed_mg, thrown_away_mg) {
        (Some(mixed), Some(thrown)) => Some(mixed - thrown),
        _ => None,
    };
    let said = match (mixed_mg, thrown_away_mg, on_joints_mg) {
        (Some(mixed), Some(thrown), Some(on)) if on >= 0 => {
            format!("{} mixed, {} thrown away, {} on joints", mass(mixed), mass(thrown), mass(on))
        }
        (Some(mixed), Some(thrown), _) => format!("{} mixed but {} thrown away", mass(mixed), mass(thrown)),
        (Some(mixed), None, _) => format!("{} mixed; what was left over is not recorded", mass(mixed)),
        (None, Some(thrown), _) => format!("mass mixed is not recorded; {} thrown away", mass(thrown)),
        (None, None, _) => "mass mixed is not recorded".to_owned(),
    };
    Balance { mixed_mg, thrown_away_mg, on_joints_mg, said }
}

/// What is unaccounted and therefore asked about.
fn unaccounted(story: &BatchStory, balance: &Balance, bonds: &[String], reader: Reader) -> Vec<String> {
    let (name, mass) = (&story.name, |mg| reader.mass(mg));
    match (balance.mixed_mg, balance.on_joints_mg) {
        (Some(mixed), None) if bonds.is_empty() => {
            vec![format!("batch {name}: {} was mixed and no bond names it: where did it go?", mass(mixed))]
        }
        (Some(_), None) => vec![format!("batch {name}: how much was left over and thrown away?")],
        (Some(_), Some(on)) if on < 0 => {
            vec![format!("batch {name}: more was thrown away than mixed: correct one of them")]
        }
        (Some(_), Some(on)) if on > 0 && bonds.is_empty() => {
            vec![format!("batch {name}: {} is neither thrown away nor on any bond: where did it go?", mass(on))]
        }
        (None, _) if !story.mixes.is_empty() => {
            vec![format!("batch {name}: how much was mixed? It is on {}", said_bonds(bonds))]
        }
        _ => Vec::new(),
    }
}

fn said_bonds(bonds: &[String]) -> String {
    if bonds.is_empty() { "no bond".to_owned() } else { format!("bond {}", list(bonds)) }
}
