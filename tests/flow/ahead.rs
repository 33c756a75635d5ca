//! What somebody states the air will do, an evening on which a shop cools down, and a cold barn full of wood.

use super::{Dice, H, MIN, Plan, START, Step, instant};
use serde_json::{Value, json};

/// Forecasts of the places, some ended by an instant, some withdrawn.
pub fn stated(dice: &mut Dice, plan: &mut Plan) {
    for place in ["bench", "bench", "box", "barn"] {
        if !dice.percent(45) {
            continue;
        }
        let t = START + dice.whole(30, 30 * 60) * MIN + dice.whole(0, 59_999);
        let mut body = shape(dice);
        body["place"] = json!(place);
        if dice.percent(25) {
            body["until"] = json!(instant(t + dice.whole(60, 2_000) * MIN + dice.whole(0, 59_999)));
        }
        plan.push((t, plan.len(), Step::Act("forecast", body)));
        if dice.percent(10) {
            plan.push((t + dice.whole(1, 600) * MIN, plan.len(), Step::ForecastWithdrawn));
        }
    }
}

fn shape(dice: &mut Dice) -> Value {
    match dice.whole(0, 3) {
        0 => json!({"shape": "hold", "at": dice.celsius(5, 35)}),
        1 => {
            let (from, to) = (dice.whole(17, 23), dice.whole(3, 9));
            let mut body = json!({"shape": "setback", "day": dice.celsius(17, 24), "night": dice.celsius(4, 16),
                "from": format!("{from}:{:02}", dice.whole(0, 59)), "to": format!("{to:02}:{:02}", dice.whole(0, 59))});
            if dice.percent(50) {
                body["ramp"] = json!(format!("{} min", dice.whole(1, 180)));
            }
            body
        }
        2 => {
            let mut body = json!({"shape": "cooling", "towards": dice.celsius(-3, 12)});
            if dice.percent(40) {
                body["time_constant"] = json!(format!("{} min", dice.whole(20, 1_200)));
            }
            body
        }
        _ => json!({"shape": "day", "mean": dice.celsius(8, 24), "swing": format!("{} K", dice.whole(1, 9)),
            "warmest": format!("{}:{:02}", dice.whole(11, 18), dice.whole(0, 59))}),
    }
}

/// A logger's rows on an evening without a stove.
pub fn cool_down(dice: &mut Dice, plan: &mut Plan, place: &'static str) {
    let (start, end) = (dice.whole(160, 240) as f64 / 10.0, dice.whole(0, 100) as f64 / 10.0);
    let tau_min = dice.whole(40, 900) as f64;
    let from = START + dice.whole(60, 600) * MIN + dice.whole(0, 59_999);
    let every = dice.whole(2, 55);
    let rows: Vec<(i64, String)> = (0..=dice.whole(120, 600) / every)
        .map(|n| {
            let celsius = end + (start - end) * libm::exp(-((n * every) as f64) / tau_min);
            (from + n * every * MIN, format!("{celsius:.2} C"))
        })
        .collect();
    let last = rows.last().map_or(from, |row| row.0);
    plan.push((last + 5 * MIN, plan.len(), Step::Logger(place, rows)));
}

/// Readings of the barn over the days before, now and then with a hole.
pub fn barn(dice: &mut Dice, plan: &mut Plan) {
    let middle = dice.whole(0, 12);
    let mut t = START - dice.whole(6, 88) * H;
    while t < START + 14 * H {
        let body = json!({"place": "barn", "temperature": dice.celsius(middle - 4, middle + 5)});
        plan.push((t, plan.len(), Step::Act("reading", body)));
        t += if dice.percent(12) { dice.whole(121, 900) } else { dice.whole(20, 118) } * MIN + dice.whole(0, 59_999);
    }
}
