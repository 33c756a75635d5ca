//! Two adhesive cards with invented numbers, their lots and cans. No real adhesive is meant.

use super::book::ADA;
use crate::demo::calendar::{Calendar, MINUTE};
use crate::demo::step::Step;
use serde_json::{Value, json};

/// A glue as it is taken: card and open cans.
#[derive(Clone, Copy, Debug)]
pub struct Glue {
    /// Name of the card.
    pub card: &'static str,
    /// Can of resin.
    pub resin_can: &'static str,
    /// Can of hardener.
    pub hardener_can: &'static str,
}

/// The epoxy.
pub const EPOXY: Glue = Glue { card: "made-up epoxy", resin_can: "can ER-1", hardener_can: "can EH-1" };
/// The epoxy with hardener from an old can found at the back of the shelf.
pub const EPOXY_OLD: Glue = Glue { card: "made-up epoxy", resin_can: "can ER-1", hardener_can: "can EH-0" };
/// The resorcinol.
pub const RESORCINOL: Glue = Glue { card: "made-up resorcinol", resin_can: "can RR-1", hardener_can: "can RH-1" };

/// The day after which the old hardener was no longer good, in days before T's own.
pub const OLD_HARDENER_EXPIRED: i64 = 6;

/// Cards, lots and cans.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    let mut bodies = vec![("card", epoxy()), ("card", resorcinol())];
    bodies.extend(lots(calendar).into_iter().map(|body| ("lot", body)));
    bodies.extend(cans().into_iter().map(|body| ("container", body)));
    let begin_ms = calendar.begin_ms() + 2 * MINUTE;
    bodies
        .into_iter()
        .zip(0i64..)
        .map(|((act, body), index)| Step::new(begin_ms + index * 9_000, ADA, act, body))
        .collect()
}

fn epoxy() -> Value {
    json!({
        "name": "made-up epoxy", "class": "epoxy", "ratio": "100:44", "tolerance": "5 %",
        "limits": [
            { "clock": "pot", "points": [{ "at": "20 C", "time": "45 min", "mass": "150 g" }], "counted_from": "mixing" },
            { "clock": "open", "points": [{ "at": "20 C", "time": "40 min" }], "counted_from": "spreading" },
            { "clock": "closed", "points": [{ "at": "20 C", "time": "60 min" }], "counted_from": "closing" },
            { "clock": "clamp", "points": [{ "at": "20 C", "time": "10 h" }, { "at": "30 C", "time": "5 h" }] },
            { "clock": "clamp", "bent": true, "points": [{ "at": "20 C", "time": "20 h" }, { "at": "30 C", "time": "10 h" }] },
            { "clock": "machining", "points": [{ "at": "20 C", "time": "24 h" }, { "at": "30 C", "time": "12 h" }] },
            { "clock": "full-cure", "points": [{ "at": "20 C", "time": "120 h" }, { "at": "30 C", "time": "60 h" }] },
            { "clock": "fresh-surface", "points": [{ "time": "48 h" }] },
        ],
        "minimum_cure": "15 C", "application_minimum": "16 C", "application_maximum": "28 C",
        "moisture_minimum": "6 %", "moisture_maximum": "14 %",
        "film_gel": { "at": "25 C", "time": "150 min" },
        "equivalents": { "resin": "150 g", "hardener": "66 g" },
        "note": "Invented numbers for a made-up adhesive. Never glue by them.",
    })
}

fn resorcinol() -> Value {
    json!({
        "name": "made-up resorcinol", "class": "resorcinol", "ratio": "100:20", "tolerance": "5 %",
        "limits": [
            { "clock": "pot", "points": [{ "at": "20 C", "time": "150 min", "mass": "250 g" }, { "at": "30 C", "time": "75 min", "mass": "250 g" }], "counted_from": "mixing" },
            { "clock": "open", "points": [{ "at": "20 C", "time": "25 min" }], "counted_from": "spreading" },
            { "clock": "closed", "points": [{ "at": "20 C", "time": "60 min" }], "counted_from": "closing" },
            { "clock": "clamp", "points": [{ "at": "20 C", "time": "12 h" }, { "at": "30 C", "time": "6 h" }] },
            { "clock": "machining", "points": [{ "at": "20 C", "time": "24 h" }, { "at": "30 C", "time": "12 h" }] },
            { "clock": "full-cure", "points": [{ "at": "20 C", "time": "36 h" }, { "at": "30 C", "time": "18 h" }] },
            { "clock": "fresh-surface", "points": [{ "time": "24 h" }] },
        ],
        "together": true, "minimum_cure": "15 C", "below_minimum": "fault",
        "application_minimum": "18 C", "application_maximum": "30 C",
        "moisture_minimum": "8 %", "moisture_maximum": "12 %",
        "pressure_minimum": "0.9 MPa", "pressure_maximum": "1.2 MPa",
        "note": "Invented numbers for a made-up adhesive. Never glue by them.",
    })
}

fn lots(calendar: Calendar) -> Vec<Value> {
    let lot = |mark: &str, card: &str, role: &str, expires: String| json!({ "mark": mark, "card": card, "role": role, "received": calendar.date(40), "expires": expires });
    let good = calendar.date(-200);
    vec![
        lot("MADE-UP-ER-7", EPOXY.card, "resin", good.clone()),
        lot("MADE-UP-EH-7", EPOXY.card, "hardener", good.clone()),
        lot("MADE-UP-EH-3", EPOXY.card, "hardener", calendar.date(OLD_HARDENER_EXPIRED)),
        lot("MADE-UP-RR-2", RESORCINOL.card, "resin", good.clone()),
        lot("MADE-UP-RH-2", RESORCINOL.card, "hardener", good.clone()),
        lot("MADE-UP-F-1", EPOXY.card, "filler", good),
    ]
}

fn cans() -> Vec<Value> {
    let can = |mark: &str, lot: &str, holds: &str| json!({ "mark": mark, "lot": lot, "holds": holds });
    vec![
        can(EPOXY.resin_can, "MADE-UP-ER-7", "5 kg"),
        can(EPOXY.hardener_can, "MADE-UP-EH-7", "2.5 kg"),
        can(EPOXY_OLD.hardener_can, "MADE-UP-EH-3", "1 kg"),
        can(RESORCINOL.resin_can, "MADE-UP-RR-2", "4 kg"),
        can(RESORCINOL.hardener_can, "MADE-UP-RH-2", "1 kg"),
    ]
}
