//! Where an answer is an input elsewhere: on a card, in a mix, of a part or its kind. Each send opens a form with the
//! value filled in; nothing is written until the person saves that form.

use super::figure_shown::{digits, minutes, with_unit};
use glue::figure::{Answer, Given, Out, shape, words};
use schemars::JsonSchema;
use serde::Serialize;

/// A send: one press.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FigureSend {
    /// The form that it opens: `card`, `mix`, `kind` or `sample`.
    pub to: String,
    /// What stands on the press.
    pub word: String,
    /// The room with the form.
    pub room: String,
    /// What in the room; empty: the room itself.
    pub thing: String,
    /// The boxes it fills.
    pub fields: Vec<FigureSent>,
    /// What the form says of them: `From Figures, …`.
    pub said: String,
}

/// A box and what is put into it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FigureSent {
    /// The box, by its place in the act's body: `ratio.weight`; of a card's times `limits.clamp.points[0].at`.
    pub field: String,
    /// As it would be typed, with its unit.
    pub value: String,
}

/// Every send of an answer.
pub(super) fn sends(answer: &Answer, given: &Given) -> Vec<FigureSend> {
    let sends = match answer.figure {
        "hardener-per-hundred" => hardener(answer, given),
        "blend-equivalent" => blend(answer),
        "off-ratio" => vec![equivalents(answer, given)],
        "cure-law" => law(answer, given),
        "glue-amount" | "joint-area" | "lamination" => vec![amount(answer), area(answer, given)],
        "weigh-limit" => vec![least(answer, given)],
        "pot" => vec![pot(answer, given), film_gel(answer, given)],
        "clamp-force" => vec![pressure(answer, text(given, "pressure"))],
        "strap-pressure" | "vacuum" => vec![pressure(answer, answer.number("pressure_kpa").map(kilopascal))],
        "block-shear" => vec![sample(answer, given)],
        "basis-value" => vec![basis(answer)],
        _ => vec![],
    };
    sends.into_iter().flatten().collect()
}

type Fields = Vec<(String, String)>;

/// A send to a form, with what it says of itself.
fn send(answer: &Answer, to: &str, word: &str, fields: Fields, told: &str) -> Option<FigureSend> {
    let (room, thing) = match to {
        "card" => ("stores", "cards"),
        "kind" => ("stores", "kinds"),
        "sample" => ("parts", ""),
        _ => ("mix", ""),
    };
    let figure = words::title(answer.figure);
    let sent = |(field, value)| FigureSent { field, value };
    (!fields.is_empty()).then(|| FigureSend {
        to: to.to_owned(),
        word: word.to_owned(),
        room: room.to_owned(),
        thing: thing.to_owned(),
        fields: fields.into_iter().map(sent).collect(),
        said: format!("From Figures, {figure}: {told}. It is not in the book until you save it."),
    })
}

fn field(name: &str, value: impl Into<String>) -> (String, String) {
    (name.to_owned(), value.into())
}

/// An input as it was typed or preset; None: it is left out.
fn text(given: &Given, name: &str) -> Option<String> {
    given.text(name).map(str::to_owned)
}

fn grams(value: f64) -> String {
    with_unit(value, "g")
}

fn kilopascal(value: f64) -> String {
    with_unit(value, "kPa")
}

fn hardener(answer: &Answer, given: &Given) -> Vec<Option<FigureSend>> {
    let ratio = answer.number("hardener_phr").map(|phr| format!("100:{}", digits(phr)));
    let ratio = ratio.and_then(|ratio| {
        let told =
            format!("ratio {ratio} by weight, one amine hydrogen for each epoxide; a maker's own ratio goes before");
        send(answer, "card", "Use as the card's ratio", vec![field("ratio.weight", ratio)], &told)
    });
    vec![ratio, equivalents(answer, given)]
}

/// Both equivalents, in grams for one group, as cards keep them.
fn equivalents(answer: &Answer, given: &Given) -> Option<FigureSend> {
    let both = [("equivalents.resin", "eew"), ("equivalents.hardener", "ahew")];
    let boxed = |(name, input): (&str, &str)| Some(field(name, grams(given.number(input).ok()?)));
    let fields: Option<Fields> = both.into_iter().map(boxed).collect();
    let fields = fields?;
    let told = fields.iter().map(|(_, value)| value.as_str()).collect::<Vec<_>>().join(" of resin for an epoxide, ");
    send(
        answer,
        "card",
        "Keep both equivalents on the card",
        fields,
        &format!("{told} of hardener for an amine hydrogen"),
    )
}

fn blend(answer: &Answer) -> Vec<Option<FigureSend>> {
    let Some(weight) = answer.number("equivalent_weight").map(grams) else { return vec![] };
    [("resin", "epoxide"), ("hardener", "amine hydrogen")]
        .map(|(side, group)| {
            let word = format!("Keep as the {side}'s equivalent on the card");
            let fields = vec![field(&format!("equivalents.{side}"), weight.clone())];
            send(answer, "card", &word, fields, &format!("{weight} of the blend for one {group}"))
        })
        .to_vec()
}

/// Clocks that the times of a law may belong to: the clock, the press, longest times are safe.
const CLOCKS: [(&str, &str, bool); 5] = [
    ("pot", "Use as the card's pot life", false),
    ("open", "Use as the card's open assembly times", false),
    ("closed", "Use as the card's closed assembly times", false),
    ("clamp", "Use as the card's clamp times", true),
    ("full-cure", "Use as the card's full cure times", true),
];
/// A temperature typed in another unit may miss the sheet's own by this, K.
const NOISE: f64 = 1e-9;
/// Most points that are sent.
const POINTS: usize = 12;

/// Only times between the sheet's temperatures are sent: on a card they would count as the sheet's own, and beyond them
/// the sheet does not speak.
fn law(answer: &Answer, given: &Given) -> Vec<Option<FigureSend>> {
    let (Ok(at), Some(Out::Numbers(times))) = (given.numbers("at"), answer.get("times_min")) else { return vec![] };
    let stated: Vec<f64> =
        shape::points(given, "points").unwrap_or_default().iter().map(|point| point.celsius).collect();
    let spoken = |c: f64| stated.iter().any(|it| *it <= c + NOISE) && stated.iter().any(|it| *it >= c - NOISE);
    let asked = at.into_iter().zip(times.iter().copied());
    let points: Vec<(f64, f64)> = asked.filter(|(celsius, _)| spoken(*celsius)).take(POINTS).collect();
    let all = points.iter().map(|(c, t)| format!("{} at {}", minutes(*t), with_unit(*c, "C"))).collect::<Vec<_>>();
    let told = format!(
        "{}, computed through {}; a sheet that states these times goes before",
        all.join(", "),
        given.text("points").unwrap_or("")
    );
    let to = |(clock, word, at_least): (&str, &str, bool)| {
        let boxed = points.iter().enumerate().flat_map(|(n, (celsius, time))| {
            let place = format!("limits.{clock}.points[{n}]");
            [(format!("{place}.time"), whole(*time, at_least)), (format!("{place}.at"), with_unit(*celsius, "C"))]
        });
        let note = [field("note", format!("Times of {clock} from Figures, cure law: {told}."))];
        let fields: Fields = boxed.chain(note).collect();
        if points.is_empty() { None } else { send(answer, "card", word, fields, &told) }
    };
    CLOCKS.map(to).to_vec()
}

/// A time in whole minutes, from a day on in tenths of hours, rounded to the safe side.
fn whole(time: f64, at_least: bool) -> String {
    let (unit, step, per) = if time >= 600.0 { ("h", 6.0, 60.0) } else { ("min", 1.0, 1.0) };
    let steps = time / step;
    let near = steps.round();
    // What lies on a step but for the last bits stays there.
    let safe = if (steps - near).abs() < 1e-9 * steps.abs().max(1.0) {
        near
    } else if at_least {
        steps.ceil()
    } else {
        steps.floor()
    };
    if safe <= 0.0 { format!("{} min", digits(time)) } else { format!("{} {unit}", digits(safe * step / per)) }
}

fn amount(answer: &Answer) -> Option<FigureSend> {
    let mixed = grams(answer.number("mixed_g")?);
    send(answer, "mix", "Mix this much", vec![field("total", mixed.clone())], &format!("{mixed} to mix"))
}

/// The glued area of one joint, for a kind.
fn area(answer: &Answer, given: &Given) -> Option<FigureSend> {
    let square = with_unit(answer.number("area_mm2")?, "mm2");
    let sort = given.text("sort")?.replace('-', " ");
    let fields =
        vec![field("stages[0].joints[0].area", square.clone()), field("stages[0].joints[0].sort", sort.clone())];
    send(answer, "kind", "Use as the joint's area in a new kind", fields, &format!("{sort}, {square}"))
}

/// The least mix that a scale can tell: three times the smallest, resin and hardener together.
fn least(answer: &Answer, given: &Given) -> Option<FigureSend> {
    let resin = answer.number("comfortable_resin_g")?;
    let ratio = shape::ratio(given, "nominal").ok()??;
    let total = grams((resin * (1.0 + ratio) * 10.0).ceil() / 10.0);
    let told = format!("{total}, from which the scale can comfortably tell the ratio");
    send(answer, "mix", "Mix at least this much", vec![field("total", total)], &told)
}

fn pot(answer: &Answer, given: &Given) -> Option<FigureSend> {
    let mass = grams(given.number("mass").ok()?);
    let vessel = vessel(given.text("vessel")?);
    let advised = answer.number("advised_min").map(|at| format!(", to be used up within {}", minutes(at)));
    let told = format!("{mass} in a {}{}", vessel.replace(':', " of "), advised.unwrap_or_default());
    send(answer, "mix", "Mix this pot", vec![field("total", mass), field("vessel", vessel)], &told)
}

/// `tray:6mm` as the choices of a mix write it: `tray:6 mm`.
fn vessel(typed: &str) -> String {
    let Some(depth) = typed.strip_prefix("tray:").map(str::trim) else { return typed.to_owned() };
    let unit = depth.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | ' '));
    let number = depth.strip_suffix(unit).unwrap_or(depth).trim();
    format!("tray:{number} {}", if unit.is_empty() { "mm" } else { unit })
}

/// The film gel time that was typed, for the card of that sheet.
fn film_gel(answer: &Answer, given: &Given) -> Option<FigureSend> {
    let (at, time) = given.text("film-gel")?.split_once(':')?;
    let (at, time) = (degrees(at.trim()), at_minutes(time.trim()));
    let told = format!("a thin film gels after {time} at {at}");
    let fields = vec![field("film_gel.time", time), field("film_gel.at", at)];
    send(answer, "card", "Keep the film gel time on the card", fields, &told)
}

/// A bare number with the unit that the figure reads it in.
fn degrees(typed: &str) -> String {
    if typed.ends_with(|c: char| c.is_ascii_digit()) { format!("{typed} C") } else { typed.to_owned() }
}

fn at_minutes(typed: &str) -> String {
    if typed.ends_with(|c: char| c.is_ascii_digit()) { format!("{typed} min") } else { typed.to_owned() }
}

fn pressure(answer: &Answer, pressure: Option<String>) -> Option<FigureSend> {
    let pressure = pressure?;
    let bare = pressure.ends_with(|c: char| c.is_ascii_digit());
    let pressure = if bare { format!("{pressure} kPa") } else { pressure };
    let told = format!("{pressure} on the glue line");
    send(answer, "kind", "Use as a kind's planned pressure", vec![field("pressure", pressure)], &told)
}

fn sample(answer: &Answer, given: &Given) -> Option<FigureSend> {
    let boxed = |name: &str, unit| Some(field(name, with_unit(given.number(name).ok()?, unit)));
    let fields = vec![boxed("load", "N")?, boxed("width", "mm")?, boxed("length", "mm")?];
    let told = format!("it broke at {}", with_unit(answer.number("shear_mpa")?, "MPa"));
    send(answer, "sample", "Record it as a sample of a part", fields, &told)
}

fn basis(answer: &Answer) -> Option<FigureSend> {
    let told = format!(
        "basis value {}, mean {}, standard deviation {}",
        digits(answer.number("basis_value")?),
        digits(answer.number("mean")?),
        digits(answer.number("sd")?)
    );
    let note = format!("From Figures: {told}, in the unit of the values.");
    send(answer, "sample", "Note it with a sample of a part", vec![field("note", note)], &told)
}

#[cfg(test)]
mod tests {
    use super::whole;

    #[test]
    fn times_are_rounded_to_the_safe_side() {
        for (time, at_least, said) in [
            (45.2, true, "46 min"),
            (45.2, false, "45 min"),
            (45.0, true, "45 min"),
            (0.4, false, "0.4 min"),
            (720.0, true, "12 h"),
            (727.0, true, "12.2 h"),
            (727.0, false, "12.1 h"),
        ] {
            assert_eq!(whole(time, at_least), said, "{time}");
        }
    }
}
