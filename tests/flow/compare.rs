//! Hands everything that went through the doors to the oracle, in one process, and compares every clock.

use super::bench::Bench;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::process::Command;

/// What was compared and how far apart it was.
#[derive(Debug, Default)]
pub struct Measured {
    /// Clocks compared.
    pub clocks: usize,
    /// Instants compared (both sides gave one).
    pub instants: usize,
    /// Largest difference of an estimate, ms.
    pub worst_ms: i64,
    /// Largest difference of a progress, ppm.
    pub worst_ppm: i64,
    /// Laws compared.
    pub laws: usize,
    /// Temperatures that would help, compared.
    pub helps: usize,
    /// How often a clock said that it rests on a forecast, on the pot's model, on the age of the mix.
    pub rests: BTreeMap<&'static str, usize>,
    /// How often each state was seen.
    pub states: BTreeMap<String, usize>,
    /// Everything that differs.
    pub wrong: Vec<String>,
}

/// An estimate may differ by a second.
const SECOND_MS: i64 = 1_000;
/// Progress is printed in ppm and rounded outward on one side: two apart is rounding.
const PPM: i64 = 2;

/// Runs the oracle over all benches and compares.
pub fn with_oracle(benches: &[Bench]) -> Measured {
    let cases: Vec<Value> = benches.iter().map(|b| json!({"events": b.events, "asks": asked(b)})).collect();
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("cases.json");
    std::fs::write(&file, json!({"cases": cases}).to_string()).unwrap();
    let oracle = concat!(env!("CARGO_MANIFEST_DIR"), "/oracle/oracle.py");
    let run = Command::new("python3").args(["-B", oracle]).arg(&file).output().expect("python3 runs");
    assert!(run.status.success(), "the oracle failed: {}", String::from_utf8_lossy(&run.stderr));
    let told: Value = serde_json::from_slice(&run.stdout).unwrap();
    let mut measured = Measured::default();
    for (n, bench) in benches.iter().enumerate() {
        for (k, ask) in bench.asks.iter().enumerate() {
            measured.ask(&format!("case {n} ask {k}"), bench, ask, &told["cases"][n]["asks"][k]["clocks"]);
        }
    }
    measured
}

fn asked(bench: &Bench) -> Vec<Value> {
    bench.asks.iter().map(|a| json!({"at": a["at"], "known": a["known"]})).collect()
}

impl Measured {
    /// Says what was measured (shown with --nocapture).
    pub fn print(&self, what: &str) {
        println!(
            "{what}: {} clocks, {} instants, worst {} ms and {} ppm, {} laws, {} helps, {:?}, {:?}",
            self.clocks, self.instants, self.worst_ms, self.worst_ppm, self.laws, self.helps, self.rests, self.states
        );
    }

    fn ask(&mut self, case: &str, bench: &Bench, ask: &Value, oracle: &Value) {
        let mut expected: BTreeMap<(String, String), &Value> = BTreeMap::new();
        for clock in oracle.as_array().unwrap() {
            expected.insert((text(&clock["of"]), text(&clock["clock"])), clock);
        }
        for (of, clocks) in ask["answers"].as_object().unwrap() {
            let door_name = &bench.names[of];
            // A bond shows the pots of its batches too; they are compared under their batches.
            let own = |c: &&Value| c["of"] == door_name.as_str() && (c["clock"] != "pot" || of.starts_with("batch"));
            for clock in clocks.as_array().unwrap().iter().filter(own) {
                let what = format!("{case} at {} {door_name} {}", ask["at"], text(&clock["clock"]));
                match expected.remove(&(of.clone(), text(&clock["clock"]))) {
                    Some(told) => self.clock(&what, clock, told),
                    None => self.wrong.push(format!("{what}: the oracle knows no such clock: {clock}")),
                }
            }
        }
        for ((of, clock), told) in expected {
            self.wrong.push(format!("{case} at {}: no {clock} of {of} from the door; oracle: {told}", ask["at"]));
        }
    }

    fn clock(&mut self, what: &str, door: &Value, oracle: &Value) {
        self.clocks += 1;
        let before = self.wrong.len();
        self.rests_on(door);
        *self.states.entry(text(&door["state"])).or_default() += 1;
        self.same(what, "state", &door["state"], &oracle["state"]);
        for field in ["started", "ended"] {
            let told = oracle[field].as_i64().map(super::bench::instant);
            self.same(what, field, &door[field], &json!(told));
        }
        for (n, field) in ["earliest", "expected", "latest"].into_iter().enumerate() {
            self.estimate(what, field, &door[field], &oracle["instants"][n]);
        }
        for (n, field) in ["low", "expected", "high"].into_iter().enumerate() {
            let Some(told) = oracle["progress"][n].as_f64() else { continue };
            let apart = (door["progress_ppm"][field].as_f64().unwrap() - told).abs().round() as i64;
            self.worst_ppm = self.worst_ppm.max(apart);
            if apart > PPM {
                self.wrong.push(format!("{what}: progress {field} {} not {told}", door["progress_ppm"][field]));
            }
        }
        self.helps(what, &door["helps"], &oracle["helps"]);
        if oracle["limit"].is_object() {
            self.law(what, &door["limit"], &oracle["limit"]);
        }
        if self.wrong.len() > before {
            self.wrong.push(format!("    door:   {door}\n    oracle: {oracle}"));
        }
    }

    /// Which law, how sure: energies are printed to a tenth of a kJ/mol.
    fn law(&mut self, what: &str, door: &Value, oracle: &Value) {
        self.same(what, "points", &door["points"], &oracle["points"]);
        self.same(what, "band", &door["band"], &oracle["band"]);
        let told: Option<Vec<f64>> = serde_json::from_value(oracle["energy"].clone()).unwrap();
        let said: Option<Vec<f64>> = serde_json::from_value(door["energy_kj_mol"].clone()).unwrap();
        let near = match (&told, &said) {
            (Some(told), Some(said)) => told.iter().zip(said).all(|(a, b)| (a - b).abs() <= 0.050_001),
            (told, said) => told.is_none() && said.is_none(),
        };
        self.laws += 1;
        if !near {
            self.wrong.push(format!("{what}: energies {said:?} not {told:?}"));
        }
    }

    /// What would help: the two coldest of the same temperatures, each finish within a second. What the oracle is not
    /// certain of may be there or not.
    fn helps(&mut self, what: &str, door: &Value, oracle: &Value) {
        let nothing = vec![];
        let mut said = door.as_array().unwrap_or(&nothing).iter().peekable();
        let mut same = true;
        for told in oracle.as_array().unwrap_or(&nothing) {
            let certain = told[2] == true;
            match said.peek() {
                Some(said_) if near_celsius(said_, &told[0]) => {
                    let apart = millis(&text(&said_["finish"])) - told[1].as_i64().unwrap_or_default();
                    same &= !certain || apart.abs() <= SECOND_MS;
                    self.helps += usize::from(certain);
                    said.next();
                }
                _ => same &= !certain || door.as_array().is_some_and(|all| all.len() == 2),
            }
        }
        if !same || said.next().is_some() {
            self.wrong.push(format!("{what}: helps {door} not {oracle}"));
        }
    }

    /// Counts what the door says it took for granted.
    fn rests_on(&mut self, door: &Value) {
        for said in door["used"]["assumed"].as_array().into_iter().flatten() {
            for word in ["forecast stated", "of its own heat", "old when spread"] {
                if text(said).contains(word) {
                    *self.rests.entry(word).or_default() += 1;
                }
            }
        }
    }

    fn same(&mut self, what: &str, field: &str, door: &Value, oracle: &Value) {
        if door != oracle {
            self.wrong.push(format!("{what}: {field} {door} not {oracle}"));
        }
    }

    fn estimate(&mut self, what: &str, field: &str, door: &Value, oracle: &Value) {
        match (door.as_str().map(millis), oracle.as_i64()) {
            (None, None) => {}
            (Some(door), Some(told)) => {
                self.instants += 1;
                let apart = (door - told).abs();
                self.worst_ms = self.worst_ms.max(apart);
                if apart > SECOND_MS {
                    self.wrong.push(format!("{what}: {field} {door} not {told}: {apart} ms apart"));
                }
            }
            (door, told) => self.wrong.push(format!("{what}: {field} {door:?} not {told:?}")),
        }
    }
}

/// True where a printed temperature is a number of kelvin, to what is printed.
fn near_celsius(said: &Value, kelvin: &Value) -> bool {
    let celsius: f64 = text(&said["at"]).trim_end_matches(" °C").parse().unwrap();
    (celsius + 273.15 - kelvin.as_f64().unwrap()).abs() < 0.06
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// Milliseconds since 1970 of a printed instant (`2026-11-24T08:00:00.000Z`).
pub fn millis(text: &str) -> i64 {
    let n = |from: usize, to: usize| text[from..to].parse::<i64>().unwrap();
    let (y, m, d) = (n(0, 4), n(5, 7), n(8, 10));
    let y = if m <= 2 { y - 1 } else { y };
    let era = y.div_euclid(400);
    let yoe = y.rem_euclid(400);
    let doy = (153 * (if m > 2 { m - 3 } else { m + 9 }) + 2) / 5 + d - 1;
    let days = era * 146_097 + yoe * 365 + yoe / 4 - yoe / 100 + doy - 719_468;
    ((days * 24 + n(11, 13)) * 60 + n(14, 16)) * 60_000 + n(17, 19) * 1_000 + n(20, 23)
}
