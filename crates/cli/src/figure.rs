//! `gluewright figure`: one calculation by itself. It only carries words to the door and the answer to the terminal.

use crate::door::Doors;
use crate::output::{DONE, Output};
use clap::Args as Group;
use serde_json::{Map, Value, json};
use workshop::wire::WireError;

/// A calculation and what it is given.
#[derive(Debug, Group)]
pub struct Figure {
    /// Name of the calculation; without any, all are listed
    pub name: Option<String>,
    /// Inputs: humidity=65%, temperature=70F, thickness=1/8in
    #[arg(value_name = "KEY=VALUE")]
    pub inputs: Vec<String>,
    /// List every calculation with its inputs, units, ranges and source
    #[arg(long)]
    pub list: bool,
    /// What one calculation wants and gives
    #[arg(long, short = 'h')]
    pub help: bool,
}

/// Computes, lists or explains; gives the exit status.
pub fn run(doors: &Doors, asked: &Figure, output: &mut Output) -> u8 {
    let done = match &asked.name {
        Some(name) if asked.help => help(doors, name, output),
        Some(name) if !asked.list => compute(doors, name, &asked.inputs, output),
        _ => list(doors, output),
    };
    done.unwrap_or_else(|error| output.error(&error))
}

fn compute(doors: &Doors, name: &str, typed: &[String], output: &mut Output) -> Result<u8, WireError> {
    let answer = doors.question("figure", json!({ "figure": name, "inputs": inputs(typed)? }))?;
    output.answer(&answer, || said(&answer));
    Ok(DONE)
}

fn inputs(typed: &[String]) -> Result<Value, WireError> {
    let mut inputs = Map::new();
    for word in typed {
        let Some((key, value)) = word.split_once('=') else {
            let shown = workshop::wire::shown(word);
            let sentence = format!("\"{shown}\" is not KEY=VALUE, such as humidity=65%.");
            return Err(WireError::new("bad-json", sentence, "Write each input as its name, = and its value.")
                .field("inputs")
                .value(word));
        };
        if inputs.insert(key.to_owned(), Value::String(value.to_owned())).is_some() {
            let (key, shown) = (workshop::wire::shown(key), workshop::wire::shown(value));
            let sentence = format!("{key} is given twice, the second time as \"{shown}\"; give it once.");
            return Err(WireError::new("contradicts", sentence, "Leave one of the two out.").field(key).value(value));
        }
    }
    Ok(Value::Object(inputs))
}

fn list(doors: &Doors, output: &mut Output) -> Result<u8, WireError> {
    let answer = doors.question("figures", json!({}))?;
    output.answer(&answer, || all(&answer).into_iter().map(explained).collect::<Vec<_>>().join("\n"));
    Ok(DONE)
}

fn help(doors: &Doors, name: &str, output: &mut Output) -> Result<u8, WireError> {
    let answer = doors.question("figures", json!({}))?;
    let Some(figure) = all(&answer).into_iter().find(|figure| figure["name"] == name) else {
        // The door knows best how to refuse a name.
        return doors.question("figure", json!({ "figure": name })).map(|_| DONE);
    };
    output.answer(figure, || explained(figure));
    Ok(DONE)
}

fn all(answer: &Value) -> Vec<&Value> {
    answer["figures"].as_array().into_iter().flatten().collect()
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or("")
}

/// What a calculation wants, gives and stands on.
fn explained(figure: &Value) -> String {
    let mut said = format!("{}\n  {}\n", text(&figure["name"]), text(&figure["about"]));
    for input in figure["inputs"].as_array().into_iter().flatten() {
        let without = match text(&input["without"]) {
            "" => "needed".to_owned(),
            words => format!("without: {words}"),
        };
        said += &format!("  {}=  {} ({without})\n", text(&input["name"]), text(&input["help"]));
        let unit = match text(&input["unit"]) {
            "" => String::new(),
            unit => format!("; a bare number is in {unit}"),
        };
        said += &format!("      {}{unit}\n", text(&input["range"]));
    }
    for field in figure["result"].as_array().into_iter().flatten() {
        let unit = if text(&field["unit"]).is_empty() { String::new() } else { format!(" [{}]", text(&field["unit"])) };
        said += &format!("  gives {}{unit}: {}\n", text(&field["name"]), text(&field["help"]));
    }
    said + &format!("  formula: {}\n  source: {}\n", text(&figure["formula"]), text(&figure["source"]))
}

/// A result with its basis.
fn said(answer: &Value) -> String {
    let mut said = format!("{}\n", text(&answer["figure"]));
    for (name, value) in answer["result"].as_object().into_iter().flatten() {
        said += &format!("  {name}: {}\n", shown(value));
    }
    for (name, value) in answer["basis"]["inputs"].as_object().into_iter().flatten() {
        said += &format!("  from {name} {}\n", text(value));
    }
    for assumption in answer["basis"]["assumptions"].as_array().into_iter().flatten() {
        said += &format!("  assuming: {}\n", text(assumption));
    }
    said + &format!(
        "  formula: {}\n  source: {}\n",
        text(&answer["basis"]["formula"]),
        text(&answer["basis"]["source"])
    )
}

/// A value for people: numbers to six digits, `none` for nothing.
fn shown(value: &Value) -> String {
    match value {
        Value::Null => "none".to_owned(),
        Value::Array(all) if all.is_empty() => "none".to_owned(),
        Value::Array(all) => all.iter().map(shown).collect::<Vec<_>>().join(", "),
        Value::String(word) => word.clone(),
        Value::Number(number) => number.as_f64().map_or_else(|| number.to_string(), six_digits),
        other => other.to_string(),
    }
}

fn six_digits(x: f64) -> String {
    let rounded: f64 = format!("{x:.5e}").parse().unwrap_or(x);
    rounded.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_for_people_have_six_digits() {
        assert_eq!(six_digits(9.246_305_907), "9.24631");
        assert_eq!(six_digits(33_848.29), "33848.3");
        assert_eq!(shown(&json!([1.5, null, "x"])), "1.5, none, x");
        assert_eq!(shown(&json!([])), "none");
    }

    #[test]
    fn a_word_without_its_value_and_a_key_given_twice_are_refused() {
        let typed = |words: &[&str]| inputs(&words.iter().map(ToString::to_string).collect::<Vec<_>>());
        assert_eq!(typed(&["a=1", "b=x=y"]), Ok(json!({ "a": "1", "b": "x=y" })));
        assert_eq!(typed(&["humidity"]).map_err(|error| error.code), Err("bad-json"));
        assert_eq!(typed(&["a=1", "a=2"]).map_err(|error| error.code), Err("contradicts"));
    }
}
