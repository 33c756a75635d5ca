//! Age along a long joint: the place that has waited longest when it is pressed, and the order that lowers it.

use super::{Field, Figure, Given, Input, Kind, Out, Reckoned, Refusal};
use crate::along::{self, Closing, Order, Work};
use crate::unit::measure::{METRE, MINUTE, PACE};

const TIME: Kind = Kind::between(&MINUTE, 0.0, 1_440.0);
const LIMIT: Kind = Kind::between(&MINUTE, 0.01, 10_080.0);
const ORDERS: &[&str] = &["one-way", "back", "from-middle", "from-ends"];

/// What waits longest.
pub static JOINT_AGE: Figure = Figure {
    name: "joint-age",
    about: "The place of a long joint whose glue is oldest when it is pressed, and the order of work that lowers it",
    inputs: &[
        Input::needed("length", Kind::between(&METRE, 0.01, 100.0), "of the joint"),
        Input::maybe("spread-time", TIME, "spread-pace is needed", "to spread all of it"),
        Input::maybe("spread-pace", Kind::between(&PACE, 0.001, 100.0), "spread-time is needed", "of spreading"),
        Input::preset("spread", Kind::Word(ORDERS), "one-way", "order of spreading"),
        Input::preset(
            "closing",
            Kind::Word(CLOSINGS),
            "at-once",
            "the faces meet all at once after it, or behind the brush",
        ),
        Input::preset("pause", TIME, "0min", "from the end of spreading until it is closed, or until the first clamp"),
        Input::needed("clamp-time", TIME, "to set all the clamps"),
        Input::preset("clamp", Kind::Word(ORDERS), "one-way", "order of clamping"),
        Input::maybe("open-limit", LIMIT, "the age alone is told", "longest open time on the sheet"),
        Input::maybe("closed-limit", LIMIT, "the age alone is told", "longest closed time on the sheet"),
    ],
    results: &[
        Field::new("worst_age_min", "min", "From its spreading to its pressure, at the worst place"),
        Field::new("worst_at_m", "m", "Of that place from the end where one-way begins"),
        Field::new("open_min", "min", "Open, at that place"),
        Field::new("closed_min", "min", "Closed, at that place"),
        Field::new("used_share", "", "Of the assembly time, at that place; nothing without the limits"),
        Field::new("best_spread", "", "Order of spreading that is kindest to the worst place"),
        Field::new("best_clamp", "", "Order of clamping that goes with it"),
        Field::new("best_age_min", "min", "At the worst place in that order"),
        Field::new("best_share", "", "Of the assembly time in that order; nothing without the limits"),
        Field::new("advice", "", "The same in words"),
    ],
    formula: "age at x = spreading + pause + clamping reached(x) - spreading reached(x); used = open/open-limit + \
        closed/closed-limit; the worst of both ends and the middle",
    source: "derived: straight lines between ends and middle; one minute open as two closed: ANC-19 (1944) table 5-12; \
        clamping from one end or from the middle: 5.421",
    compute: joint_age,
};

const CLOSINGS: &[&str] = &["at-once", "as-spread"];

fn joint_age(given: &Given) -> Result<Reckoned, Refusal> {
    let (work, length) = (work(given)?, given.number("length")?);
    let place = along::worst(&work);
    let (better, best) = along::kindest(&work);
    let reckoned = Reckoned::new()
        .number("worst_age_min", place.age)
        .number("worst_at_m", place.at * length)
        .number("open_min", place.open)
        .number("closed_min", place.closed)
        .with("used_share", Out::maybe(place.used))
        .with("best_spread", Out::Word(word(better.spread).to_owned()))
        .with("best_clamp", Out::Word(word(better.clamp).to_owned()))
        .number("best_age_min", best.age)
        .with("best_share", Out::maybe(best.used))
        .with("advice", Out::Word(advice(&work, &better, place, best)));
    Ok(reckoned
        .assuming("both works go on at an even pace; the time to set all the clamps is the same in every order")
        .assuming("turn by turn: from the middle or from both ends, one place on either side at a time")
        .assuming_if(
            work.clamp == Order::FromEnds,
            "clamped from both ends, a stack cannot slip and may stand off in the middle",
        )
        .assuming_if(work.limits.is_none(), "no limits given: the place of the greatest age is the worst"))
}

/// How the joint is spread and clamped.
pub(super) fn work(given: &Given) -> Result<Work, Refusal> {
    let spreading = match (given.maybe("spread-time")?, given.maybe("spread-pace")?) {
        (Some(_), Some(_)) => {
            return Err(given.contradicts("spread-pace", "stands beside a spread-time; give one of the two"));
        }
        (Some(time), None) => time,
        (None, Some(pace)) => given.number("length")? / pace,
        (None, None) => return Err(given.missing("spread-time")),
    };
    let limits = match (given.maybe("open-limit")?, given.maybe("closed-limit")?) {
        (Some(open), Some(closed)) => Some((open, closed)),
        (None, None) => None,
        (None, Some(_)) => return Err(given.missing("open-limit")),
        (Some(_), None) => return Err(given.missing("closed-limit")),
    };
    Ok(Work {
        spread: order(given, "spread"),
        spreading,
        closing: if given.text("closing") == Some("as-spread") { Closing::AsSpread } else { Closing::AtOnce },
        pause: given.number("pause")?,
        clamp: order(given, "clamp"),
        clamping: given.number("clamp-time")?,
        limits,
    })
}

fn order(given: &Given, name: &str) -> Order {
    match given.text(name) {
        Some("back") => Order::Back,
        Some("from-middle") => Order::FromMiddle,
        Some("from-ends") => Order::FromEnds,
        _ => Order::OneWay,
    }
}

fn word(order: Order) -> &'static str {
    match order {
        Order::OneWay => "one-way",
        Order::Back => "back",
        Order::FromMiddle => "from-middle",
        Order::FromEnds => "from-ends",
    }
}

/// An order as it is said of a work.
fn said(order: Order) -> &'static str {
    match order {
        Order::OneWay => "from the first end to the far one",
        Order::Back => "from the far end to the first",
        Order::FromMiddle => "from the middle to both ends",
        Order::FromEnds => "from both ends to the middle",
    }
}

fn advice(work: &Work, better: &Work, place: along::Place, best: along::Place) -> String {
    let minutes = |min: f64| format!("{} min", (min * 10.0).round() / 10.0);
    let at = match place.at {
        0.0 => "at the first end",
        1.0 => "at the far end",
        _ => "in the middle",
    };
    let age = minutes(place.age);
    let mut said = if (work.spread, work.clamp) == (better.spread, better.clamp) {
        format!("The worst place, {at}, is {age} old when it is pressed; no other order lowers that.")
    } else {
        let order = match (said(better.spread), said(better.clamp)) {
            (spread, clamp) if spread == clamp => format!("Spread and clamp {spread}"),
            (spread, clamp) => format!("Spread {spread} and clamp {clamp}"),
        };
        format!("The worst place, {at}, is {age} old when it is pressed. {order}: then it is {}.", minutes(best.age))
    };
    if best.used.is_some_and(|used| used > 1.0) {
        said.push_str(match work.closing {
            Closing::AtOnce => " Even so it is too late: close it behind the brush, or glue it in stretches.",
            Closing::AsSpread => " Even so it is too late: work faster, or glue it in stretches.",
        });
    }
    said
}
