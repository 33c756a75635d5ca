//! What people see of a figure: pictures that stay inside their edges whatever was asked, the same each time, and sends
//! whose values the other room takes as they are.

use super::ask;
use glue::figure::{ALL, Figure, Input, Kind, Preset};
use serde_json::{Map, Value, json};
use workshop::Workshop;
use workshop::clock::FixedClock;
use workshop::wire::WireError;

fn shown(name: &str, inputs: &Value) -> Result<Value, WireError> {
    let question = json!({ "ask": "figure", "body": { "figure": name, "inputs": inputs, "show": true } });
    ask(question).map(|answer| answer["shown"].clone())
}

/// Every number of a picture lies between its edges, and every word is one.
#[track_caller]
fn sound(name: &str, inputs: &Value, shown: &Value) {
    let none = vec![];
    for picture in shown["pictures"].as_array().unwrap_or(&none) {
        let mut spots = vec![];
        for line in picture["lines"].as_array().unwrap() {
            assert!(!line["points"].as_array().unwrap().is_empty(), "{name} {inputs}: {line}");
            spots.extend(line["points"].as_array().unwrap().iter().flat_map(|at| at.as_array().unwrap()));
            spots.extend(line["word_at"].as_array().into_iter().flatten());
        }
        for mark in picture["marks"].as_array().unwrap() {
            spots.extend(mark["at"].as_array().unwrap());
            spoken(mark["word"].as_str().unwrap());
        }
        for axis in ["across", "up"] {
            let ticks = picture[axis]["ticks"].as_array().unwrap();
            assert!(!ticks.is_empty(), "{name} {inputs}: no tick {axis}");
            spots.extend(ticks.iter().map(|tick| &tick["at"]));
        }
        for spot in spots {
            assert!(spot.as_i64().is_some_and(|at| (0..=1_000_000).contains(&at)), "{name} {inputs}: {spot}");
        }
        let words = picture["words"].as_str().unwrap();
        assert!(words.ends_with('.') && words.len() > 20, "{name}: {words}");
        spoken(words);
    }
    for send in shown["sends"].as_array().unwrap_or(&none) {
        assert!(!send["fields"].as_array().unwrap().is_empty(), "{name} {inputs}");
        spoken(send["said"].as_str().unwrap());
    }
}

#[track_caller]
fn spoken(words: &str) {
    assert!(!words.contains("NaN") && !words.contains("inf ") && !words.chars().any(char::is_control), "{words}");
}

/// Numbers from a row that is the same every time.
struct Row(u64);

impl Row {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Often an end, else anywhere between, by powers where the range is wide.
    fn between(&mut self, min: f64, max: f64) -> f64 {
        match self.share() {
            low if low < 0.08 => min,
            high if high > 0.92 => max,
            _ if min > 0.0 && max / min > 1e3 => min * libm::pow(max / min, self.share()),
            _ => min + (max - min) * self.share(),
        }
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.share() * n as f64) as usize).min(n - 1)
    }

    fn value(&mut self, figure: &Figure, input: &Input) -> Value {
        match input.kind {
            Kind::Amount { min, max, .. } => json!(self.between(min, max)),
            Kind::Count { min, max } => json!(self.between(min as f64, (max as f64).min(2_000.0)) as u64),
            Kind::List { min, max, least, .. } => {
                let count = least + self.below(9);
                let (min, max) = (min.max(-300.0), max.min(300.0));
                Value::Array((0..count).map(|_| json!(self.between(min, max))).collect())
            }
            Kind::Word(words) => json!(words[self.below(words.len())]),
            Kind::Shape(_) => json!(self.shape(figure.name, input.name)),
        }
    }

    fn shape(&mut self, figure: &str, name: &str) -> String {
        let celsius = self.between(-40.0, 260.0);
        let minutes = self.between(0.001, 525_600.0);
        match name {
            "points" => {
                // Hotter is quicker, more or less.
                let count = 2 + self.below(4);
                let energy = self.between(20.0, 150.0);
                let at: Vec<f64> = (0..count).map(|_| self.between(-20.0, 120.0)).collect();
                let time = |c: f64| 240.0 * libm::exp(energy * 120.3 * (1.0 / (c + 273.15) - 1.0 / 293.15));
                at.iter().map(|c| format!("{c}C:{}min", time(*c).clamp(0.001, 525_600.0))).collect::<Vec<_>>().join(",")
            }
            "point" => format!("{celsius}C:{minutes}min"),
            "trace" => {
                let mut hours = 0.0;
                let mut knots = vec![format!("0h:{celsius}C")];
                for _ in 0..self.below(6) {
                    hours += self.between(0.0, 90.0);
                    knots.push(format!("{hours}h:{}C", self.between(-40.0, 120.0)));
                }
                knots.join(",")
            }
            "equivalents" => format!("{}:1", self.between(0.01, 100.0)),
            "vessel" if self.below(2) == 0 => "cup".to_owned(),
            "vessel" => format!("tray:{}mm", self.between(1.0, 100.0)),
            "pot-life" => {
                format!("{}g@{}C:{}min", self.between(20.0, 500.0), self.between(15.0, 30.0), self.between(5.0, 200.0))
            }
            "film-gel" => format!("{}C:{}min", self.between(15.0, 30.0), self.between(60.0, 900.0)),
            "then" => format!("{}C:{}h", self.between(-40.0, 150.0), self.between(0.001, 87_600.0)),
            "slope" => format!("1:{}", self.between(1.0, 100.0)),
            "parts" => format!("{}@{},5@-", self.between(1.0, 100.0), self.between(10.0, 100_000.0)),
            "weighing" => "retared".to_owned(),
            "nominal" => format!("100:{}", self.between(1.0, 10_000.0)),
            _ => format!("{}{figure}", self.between(0.0, 9.0)),
        }
    }

    fn inputs(&mut self, figure: &Figure) -> Value {
        let mut inputs = Map::new();
        for input in figure.inputs {
            if input.preset == Preset::Needed || self.share() < 0.5 {
                inputs.insert(input.name.to_owned(), self.value(figure, input));
            }
        }
        Value::Object(inputs)
    }
}

#[test]
fn pictures_hold_whatever_is_asked() {
    let mut row = Row(7);
    let (mut answered, mut drawn) = (0, std::collections::BTreeSet::new());
    for round in 0..2_000 {
        let figure = ALL[round % ALL.len()];
        let inputs = row.inputs(figure);
        let Ok(one) = shown(figure.name, &inputs) else { continue };
        answered += 1;
        sound(figure.name, &inputs, &one);
        if one["pictures"].is_array() {
            drawn.insert(figure.name);
        }
        if round % 50 == 0 {
            assert_eq!(shown(figure.name, &inputs), Ok(one), "{} {inputs}: not the same twice", figure.name);
        }
    }
    assert!(answered > 700, "only {answered} were answered");
    let wanted = [
        "basis-value",
        "bend-radius",
        "cure-finish",
        "cure-law",
        "cured-state",
        "dew-point",
        "glue-line-warmup",
        "heated-air",
        "individuals-chart",
        "isothermal-cure",
        "lap-stress",
        "off-ratio",
        "pot",
        "scarf",
        "spring-back",
        "wood-moisture",
    ];
    for name in wanted {
        assert!(drawn.contains(name), "{name} was never drawn");
    }
}

/// A figure, its inputs, and for each send the form with a box and its value.
type Sent = (&'static str, Value, Vec<(&'static str, &'static str, &'static str)>);

fn rows() -> Vec<Sent> {
    vec![
        (
            "hardener-per-hundred",
            json!({ "eew": 187, "ahew": 60 }),
            vec![("card", "ratio.weight", "100:32.09"), ("card", "equivalents.hardener", "60 g")],
        ),
        (
            "blend-equivalent",
            json!({ "parts": "80@189,10@183,10@-" }),
            vec![("card", "equivalents.resin", "209.2 g"), ("card", "equivalents.hardener", "209.2 g")],
        ),
        ("off-ratio", json!({ "equivalents": "0.9:1" }), vec![("card", "equivalents.resin", "187 g")]),
        (
            "cure-law",
            // By hand: 240 min x exp(ln 2 (1/301.15 - 1/297.0389)/(1/297.0389 - 1/305.3722)) = 169.7 min. The sheet does
            // not speak for 18 °C.
            json!({ "points": "75F:240min,90F:120min", "at": "18C, 28C" }),
            vec![
                ("card", "limits.pot.points[0].time", "169 min"),
                ("card", "limits.open.points[0].at", "28 °C"),
                ("card", "limits.closed.points[0].time", "169 min"),
                ("card", "limits.clamp.points[0].time", "170 min"),
                ("card", "limits.full-cure.points[0].time", "170 min"),
            ],
        ),
        (
            "glue-amount",
            json!({ "area": "400cm2", "spread": 150, "faces": 2, "waste": "10%" }),
            vec![("mix", "total", "13.2 g")],
        ),
        (
            "joint-area",
            json!({ "sort": "lap", "length": 40, "width": 20 }),
            vec![("kind", "stages[0].joints[0].area", "800 mm²")],
        ),
        (
            "weigh-limit",
            // By hand: 3 x 2 x 0.1/sqrt(6) x sqrt(1 + 1/0.44²)/0.05 = 12.16 g of resin, 17.52 g in all.
            json!({ "resolution": "0.1g", "nominal": "100:44", "tolerance": "5%" }),
            vec![("mix", "total", "17.6 g")],
        ),
        (
            "pot",
            json!({ "mass": 100, "ambient": 25, "vessel": "tray:6mm", "pot-life": "100g@25C:45min", "film-gel": "25C:3h" }),
            vec![("mix", "vessel", "tray:6 mm"), ("card", "film_gel.time", "3h")],
        ),
        (
            "clamp-force",
            json!({ "area": "10cm2", "pressure": "150psi", "clamps": 2 }),
            vec![("kind", "pressure", "150psi")],
        ),
        ("strap-pressure", json!({ "tension": 20, "radius": 100 }), vec![("kind", "pressure", "200 kPa")]),
        ("vacuum", json!({ "altitude": 0, "vacuum": 80 }), vec![("kind", "pressure", "81.06 kPa")]),
        (
            "block-shear",
            json!({ "load": "800lbf", "width": "2in", "length": "1.5in" }),
            vec![("sample", "load", "3559 N")],
        ),
        (
            "basis-value",
            json!({ "values": "10,10.5,9.7,11,10.2" }),
            vec![(
                "sample",
                "note",
                "From Figures: basis value 8.587, mean 10.28, standard deviation 0.497, in the unit of the values.",
            )],
        ),
    ]
}

#[test]
fn what_is_an_input_elsewhere_can_be_sent_there() {
    for (name, inputs, wanted) in rows() {
        let one = shown(name, &inputs).unwrap_or_else(|error| panic!("{name}: {error:?}"));
        let sends = one["sends"].as_array().unwrap_or_else(|| panic!("{name} sends nothing"));
        assert_eq!(sends.len(), wanted.len(), "{name}: {sends:?}");
        for (send, (to, field, value)) in sends.iter().zip(wanted) {
            assert_eq!(send["to"], to, "{name}");
            let box_of = send["fields"].as_array().unwrap().iter().find(|one| one["field"] == field);
            assert_eq!(box_of.map(|one| &one["value"]), Some(&json!(value)), "{name}: {send}");
            let said = send["said"].as_str().unwrap();
            assert!(said.starts_with("From Figures, ") && said.ends_with("until you save it."), "{said}");
        }
    }
    let cold = shown("cure-law", &json!({ "points": "75F:240min,90F:120min", "at": "18C" })).unwrap();
    assert!(cold["sends"].is_null(), "a sheet does not speak beyond its temperatures: {cold}");
    let none = shown("dew-point", &json!({ "temperature": 20, "humidity": 50 })).unwrap();
    assert!(none["sends"].is_null(), "a dew point is an input of nothing: {none}");
}

/// An act of the other room, complete but for what is sent.
fn unsent(to: &str, n: usize) -> Value {
    let point = json!({ "time": "30 min", "at": "20 C" });
    match to {
        "card" => json!({
            "name": format!("card {n}"), "class": "epoxy", "ratio": { "weight": "100:44" },
            "equivalents": { "resin": "190 g", "hardener": "50 g" },
            "limits": [{ "clock": "machining", "points": [point] }]
        }),
        "kind" => json!({ "mark": format!("kind {n}"), "stages": [{ "mark": "all", "joints": [{ "mark": "J" }] }] }),
        _ => json!({ "part": "P", "load": "9 N", "width": "9 mm", "length": "9 mm" }),
    }
}

/// Puts a value at `stages[0].joints[0].area`, or at a card's `limits.clamp.points[0].at`.
fn put(body: &mut Value, field: &str, value: &Value) {
    if let Some((clock, place)) = field.strip_prefix("limits.").and_then(|rest| rest.split_once(".points[")) {
        let limits = body["limits"].as_array_mut().unwrap();
        let at = limits.iter().position(|limit| limit["clock"] == clock).unwrap_or_else(|| {
            limits.push(json!({ "clock": clock, "points": [] }));
            limits.len() - 1
        });
        let (n, part) = place.split_once("].").unwrap();
        let (n, points) = (n.parse::<usize>().unwrap(), limits[at]["points"].as_array_mut().unwrap());
        points.resize(points.len().max(n + 1), json!({}));
        points[n][part] = value.clone();
        return;
    }
    let pointer = format!("/{}", field.replace("].", "/").replace(['[', '.'], "/"));
    let (parent, last) = pointer.rsplit_once('/').unwrap();
    let mut here = &mut *body;
    for step in parent.split('/').filter(|step| !step.is_empty()) {
        here = match step.parse::<usize>() {
            Ok(n) => &mut here[n],
            Err(_) => &mut here[step],
        };
    }
    here[last] = value.clone();
}

#[test]
fn the_other_room_takes_what_is_sent() {
    let dir = tempfile::tempdir().unwrap();
    let mut n = 0_u128;
    let ids = Box::new(move || {
        n += 1;
        format!("00000000-0000-4000-8000-{n:012}")
    });
    let clock = FixedClock::at(1_795_510_800_000);
    let mut door = Workshop::new(&dir.path().join("book"), Box::new(clock), ids);
    door.act(json!({ "act": "part", "body": { "mark": "P" } })).unwrap();
    let mut taken = 0;
    for (name, inputs, _) in rows() {
        let one = shown(name, &inputs).unwrap();
        for send in one["sends"].as_array().unwrap() {
            let act = send["to"].as_str().unwrap();
            if act == "mix" {
                continue;
            }
            taken += 1;
            let mut body = unsent(act, taken);
            for field in send["fields"].as_array().unwrap() {
                put(&mut body, field["field"].as_str().unwrap(), &field["value"]);
            }
            let done = door.act(json!({ "act": act, "body": body }));
            assert!(done.is_ok(), "{name} to {act}: {body} {done:?}");
        }
    }
    assert_eq!(taken, 17);
}

#[test]
fn sends_and_pictures_only_where_they_are_asked_for() {
    let plain =
        ask(json!({ "ask": "figure", "body": { "figure": "vacuum", "inputs": { "altitude": 0, "vacuum": 80 } } }));
    assert!(plain.unwrap().get("shown").is_none());
}
