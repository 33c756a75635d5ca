//! What the made-up wing is made of: kinds with their stages and joints, and the parts made from them.

use super::book::ADA;
use crate::demo::calendar::{Calendar, MINUTE};
use crate::demo::step::Step;
use serde_json::{Value, json};

const LEFT: &str = "made-up two-seater, left wing";
const RIGHT: &str = "made-up two-seater, right wing";

/// Kinds, then the sets of parts.
pub fn steps(calendar: Calendar) -> Vec<Step> {
    let mut bodies: Vec<(&'static str, Value)> = kinds().into_iter().map(|body| ("kind", body)).collect();
    bodies.extend(sets().into_iter().map(|body| ("set", body)));
    let begin_ms = calendar.begin_ms() + 5 * MINUTE;
    bodies
        .into_iter()
        .zip(0i64..)
        .map(|((act, body), index)| Step::new(begin_ms + index * 11_000, ADA, act, body))
        .collect()
}

fn joint(mark: &str, sort: &str, area: &str, thickness: &str) -> Value {
    json!({ "mark": mark, "sort": sort, "area": area, "thickness": thickness })
}

fn kinds() -> Vec<Value> {
    vec![
        json!({ "mark": "rib", "clamping": "5 min", "stages": [rib_face("first face", 1), rib_face("second face", 2)] }),
        json!({ "mark": "main spar", "clamping": "12 min", "pressure": "1.0 MPa", "stages": [
            { "mark": "caps", "joints": [
                joint("upper cap", "lamination", "1900 cm2", "36 mm"), joint("lower cap", "lamination", "1500 cm2", "30 mm")] },
            { "mark": "web", "joints": [
                joint("web to upper cap", "web on cap", "1400 cm2", "40 mm"), joint("web to lower cap", "web on cap", "1400 cm2", "34 mm")] },
        ] }),
        json!({ "mark": "rear spar", "clamping": "8 min", "pressure": "1.0 MPa", "stages": [{ "mark": "web", "joints": [
            joint("upper", "web in slot", "480 cm2", "22 mm"), joint("lower", "web in slot", "480 cm2", "22 mm")] }] }),
        json!({ "mark": "tip bow", "clamping": "10 min", "bent": true, "stages": [{ "mark": "lamination", "joints": [
            joint("lamella 1-2", "bent lamination", "350 cm2", "16 mm"), joint("lamella 2-3", "bent lamination", "350 cm2", "16 mm"),
            joint("lamella 3-4", "bent lamination", "350 cm2", "16 mm")] }] }),
        json!({ "mark": "trailing edge", "presses": 2, "stages": [{ "mark": "gussets", "joints": [
            joint("gusset 1", "nailed gusset", "15 cm2", "9 mm"), joint("gusset 2", "nailed gusset", "15 cm2", "9 mm"),
            joint("gusset 3", "nailed gusset", "15 cm2", "9 mm"), joint("gusset 4", "nailed gusset", "15 cm2", "9 mm")] }] }),
        json!({ "mark": "root block", "clamping": "4 min", "stages": [{ "mark": "block", "joints": [
            joint("inner", "block", "60 cm2", "30 mm"), joint("outer", "block", "60 cm2", "30 mm")] }] }),
        json!({ "mark": "tip block", "clamping": "4 min", "stages": [{ "mark": "block", "joints": [
            joint("to bow", "block", "24 cm2", "20 mm"), joint("to spar", "block", "30 cm2", "24 mm")] }] }),
        json!({ "mark": "nose skin", "clamping": "15 min", "stages": [{ "mark": "skin", "joints": [
            joint("to spar", "plywood skin", "700 cm2", "20 mm"), joint("to ribs", "plywood skin", "900 cm2", "8 mm"),
            joint("to nose strip", "plywood skin", "420 cm2", "14 mm")] }] }),
    ]
}

/// Three joints on one face of a rib.
fn rib_face(mark: &str, face: u8) -> Value {
    json!({ "mark": mark, "joints": [
        joint(&format!("nose gusset {face}"), "gusset", "14 cm2", "8 mm"),
        joint(&format!("upright gussets {face}"), "gusset", "36 cm2", "8 mm"),
        joint(&format!("tail gusset {face}"), "gusset", "10 cm2", "8 mm"),
    ] })
}

fn sets() -> Vec<Value> {
    let ribs = |side: &str| (1..=10).map(|rib| format!("R{rib}-{side}")).collect::<Vec<_>>();
    let set =
        |kind: &str, marks: Vec<String>, assembly: &str| json!({ "kind": kind, "marks": marks, "assembly": assembly });
    let pair = [
        ("main spar", "SPAR"),
        ("rear spar", "REAR"),
        ("tip bow", "BOW"),
        ("trailing edge", "TE"),
        ("root block", "ROOT"),
        ("tip block", "TIP"),
        ("nose skin", "SKIN"),
    ];
    let mut sets = vec![set("rib", ribs("L"), LEFT), set("rib", ribs("R"), RIGHT)];
    for (kind, stem) in pair {
        sets.push(set(kind, vec![format!("{stem}-L")], LEFT));
        sets.push(set(kind, vec![format!("{stem}-R")], RIGHT));
    }
    sets
}
