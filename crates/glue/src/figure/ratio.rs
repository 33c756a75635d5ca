//! The ratio that was mixed, with the scale's own doubt: the same judgement as that of a recorded mix.

use super::shape::{self, RATIO};
use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::mix::{Judged, Nominal, Scale, Weighing, by_the_other, by_weight};
use crate::unit::Measure;
use crate::unit::measure::{DENSITY, GRAM, MILLILITRE, PERCENT};

const AMOUNT: &str = "0.01 to 50000 g, or 0.01 to 50000 ml by volume";
const STEP: &str = "0.0001 to 1000 g, or ml by volume";
const WEIGHINGS: &str = "retared, one-cup, or the running totals of cup, cup and resin, all: 12.4/52.4/60.7";
const RESOLUTION_ONLY: &str = "resolution only: no accuracy of the scale is given, so that it counts as perfect";

/// The ratio that was mixed.
pub static MIX_RATIO: Figure = Figure {
    name: "mix-ratio",
    about: "The ratio that was mixed against the sheet's, judged with the scale's own doubt",
    inputs: &[
        Input::preset("by", Kind::Word(&["weight", "volume"]), "weight", "what the sheet's ratio goes by"),
        Input::needed("nominal", Kind::Shape(RATIO), "the sheet's ratio"),
        Input::maybe("resin", Kind::Shape(AMOUNT), "running totals are needed", "net; a bare number: g, by volume ml"),
        Input::maybe("hardener", Kind::Shape(AMOUNT), "running totals are needed", "net, measured as the resin was"),
        Input::needed("resolution", Kind::Shape(STEP), "step of the display or the marks"),
        Input::maybe("accuracy", Kind::Shape(STEP), "resolution only", "half-width of the scale's error"),
        Input::preset("weighing", Kind::Shape(WEIGHINGS), "retared", "how it was weighed"),
        Input::maybe("tolerance", Kind::between(&PERCENT, 0.01, 50.0), "no verdict", "allowed deviation of the ratio"),
        Input::maybe("resin-density", Kind::between(&DENSITY, 0.5, 3.0), "no other measure", "to go from g to ml"),
        Input::maybe("hardener-density", Kind::between(&DENSITY, 0.5, 3.0), "no other measure", "to go from g to ml"),
    ],
    results: &[
        Field::new("error_pct", "%", "(hardener/resin)/nominal - 1; positive: too much hardener"),
        Field::new("uncertainty_pct", "%", "Expanded (k = 2) uncertainty of the error"),
        Field::new("verdict", "", "within, outside, cannot-tell, or none without a tolerance"),
        Field::new("swapped", "", "True when the inverse ratio fits and this one does not"),
    ],
    formula: "e = (h/r)/nominal - 1; U = 2 sqrt((u/r)² + (u/h)² + 2 (d²/12)/(r h) in one cup), u² = d²/6 + a²/3; within if \
        |e| <= tolerance - U, outside if |e| > tolerance + U",
    source: "JCGM 100:2008 (GUM) 4.3.7 and F.2.2.1; JCGM 106:2012 guard band w = U",
    compute: mix_ratio,
};

/// Amounts as measured.
struct Amounts {
    by_volume: bool,
    resin: f64,
    hardener: f64,
    weighing: Weighing,
}

fn mix_ratio(given: &Given) -> Result<Reckoned, Refusal> {
    let amounts = read(given)?;
    let measure = if amounts.by_volume { &MILLILITRE } else { &GRAM };
    let step = step(given, "resolution", measure)?.ok_or_else(|| given.missing("resolution"))?;
    let accuracy = self::step(given, "accuracy", measure)?;
    let tolerance = given.maybe("tolerance")?.map(|pct| pct / 100.0);
    let hardener_per_resin = shape::ratio(given, "nominal")?.ok_or_else(|| given.missing("nominal"))?;
    let (nominal, converted) = in_measure(given, Nominal { hardener_per_resin, tolerance }, amounts.by_volume)?;
    // The sums know no unit: millilitres are judged as grams are.
    let scale = Scale { step, accuracy };
    let judged = by_weight(nominal, amounts.resin, amounts.hardener, amounts.weighing, scale);
    let Judged { deviation: Some(error), uncertainty: Some(doubt), .. } = judged else {
        return Err(given.refuse("resin", "and the hardener give no ratio that can be judged"));
    };
    Ok(Reckoned::new()
        .number("error_pct", 100.0 * error)
        .number("uncertainty_pct", 100.0 * doubt)
        .with("verdict", Out::Word(judged.verdict.word().to_owned()))
        .with("swapped", Out::Flag(judged.swapped))
        .assuming_if(accuracy.is_none(), RESOLUTION_ONLY)
        .assuming_if(converted, "the sheet's ratio was turned into the measure of the amounts by the densities given")
        .assuming_if(tolerance.is_none(), "no tolerance given, so that there is no verdict"))
}

/// The sheet's ratio in the measure of the amounts.
fn in_measure(given: &Given, nominal: Nominal, by_volume: bool) -> Result<(Nominal, bool), Refusal> {
    if (given.text("by") == Some("volume")) == by_volume {
        return Ok((nominal, false));
    }
    let (Some(resin), Some(hardener)) = (given.maybe("resin-density")?, given.maybe("hardener-density")?) else {
        return Err(given.contradicts("by", "goes by one measure and the amounts by the other; give both densities"));
    };
    let turned =
        if by_volume { by_the_other(nominal, hardener, resin) } else { by_the_other(nominal, resin, hardener) };
    turned.map(|nominal| (nominal, true)).ok_or_else(|| given.refuse("nominal", "cannot be turned by these densities"))
}

fn read(given: &Given) -> Result<Amounts, Refusal> {
    let typed = given.text("weighing").unwrap_or("retared");
    let totals = typed.strip_prefix("one-cup").unwrap_or(typed).trim_start_matches([':', ' ', '=']);
    if totals.contains('/') {
        return from_totals(given, totals);
    }
    let weighing = match typed {
        "retared" => Weighing::Retared,
        "one-cup" => Weighing::OneCup,
        _ => return Err(given.refuse("weighing", "is no way of weighing")),
    };
    let (resin, resin_by_volume) = amount(given, "resin")?;
    let (hardener, by_volume) = amount(given, "hardener")?;
    if resin_by_volume != by_volume {
        return Err(given.contradicts("hardener", "is not measured as the resin is; give both in g or both in ml"));
    }
    Ok(Amounts { by_volume, resin, hardener, weighing })
}

fn from_totals(given: &Given, totals: &str) -> Result<Amounts, Refusal> {
    for name in ["resin", "hardener"] {
        if given.has(name) {
            return Err(
                given.contradicts(name, "stands beside running totals, which give it already; give one of them")
            );
        }
    }
    let parts: Vec<&str> = totals.split('/').map(str::trim).collect();
    let [cup, with_resin, all] = parts.as_slice() else {
        return Err(given.refuse("weighing", &format!("has {} totals instead of three", parts.len())));
    };
    let read = |text: &str| shape::part(given, "weighing", text, &GRAM, (0.0, 100_000.0));
    let (cup, with_resin, all) = (read(cup)?, read(with_resin)?, read(all)?);
    if !(with_resin > cup && all > with_resin) {
        return Err(given.refuse("weighing", "has totals that do not rise"));
    }
    Ok(Amounts { by_volume: false, resin: with_resin - cup, hardener: all - with_resin, weighing: Weighing::OneCup })
}

/// An amount, and whether it is a volume.
fn amount(given: &Given, name: &str) -> Result<(f64, bool), Refusal> {
    let text = given.text(name).ok_or_else(|| given.missing(name))?;
    let volume = if GRAM.is_bare(text) { given.text("by") == Some("volume") } else { MILLILITRE.knows(text) };
    let measure = if volume { &MILLILITRE } else { &GRAM };
    ranged(given, name, text, measure, (0.01, 50_000.0)).map(|amount| (amount, volume))
}

fn step(given: &Given, name: &str, measure: &Measure) -> Result<Option<f64>, Refusal> {
    let Some(text) = given.text(name) else { return Ok(None) };
    ranged(given, name, text, measure, (1e-4, 1_000.0)).map(Some)
}

fn ranged(given: &Given, name: &str, text: &str, measure: &Measure, ends: (f64, f64)) -> Result<f64, Refusal> {
    let value = measure.read(text).map_err(|why| given.refuse(name, &why.to_string()))?;
    if value >= ends.0 && value <= ends.1 { Ok(value) } else { Err(given.refuse(name, "is out of range")) }
}
