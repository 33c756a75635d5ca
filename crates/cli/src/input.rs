//! Reads JSON from an argument, a file or standard input. Strict: a name given twice in one object is refused, because
//! one of the two would be lost.

use serde::de::{Deserialize, Deserializer, Error as _, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Number, Value};
use std::fmt;
use std::io::Read;
use workshop::wire::WireError;

/// More than this is not an act: 64 MB.
const LARGEST: u64 = 64 << 20;

/// The objects given: one, or the elements of an array, and whether they came as an array.
pub fn objects(argument: Option<&str>) -> Result<Vec<Value>, WireError> {
    let text = text(argument)?;
    match parse(&text)? {
        Value::Array(elements) => Ok(elements),
        one => Ok(vec![one]),
    }
}

fn text(argument: Option<&str>) -> Result<String, WireError> {
    match argument {
        None | Some("-") => read(std::io::stdin(), "standard input"),
        Some(inline) if inline.trim_start().starts_with(['{', '[']) => Ok(inline.to_owned()),
        Some(file) => match std::fs::File::open(file) {
            Ok(open) => read(open, file),
            Err(why) => {
                let sentence = format!("\"{file}\" is neither JSON nor a file that can be read ({why}).");
                Err(WireError::new(
                    "bad-json",
                    sentence,
                    "Give an object in braces, the name of a file, or - for standard input.",
                ))
            }
        },
    }
}

/// Everything from a file or pipe, as text.
fn read(source: impl Read, name: &str) -> Result<String, WireError> {
    let mut bytes = Vec::new();
    let fault =
        |why: String| WireError::new("bad-json", format!("{name} cannot be read: {why}."), "Give JSON in UTF-8.");
    source.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|why| fault(why.to_string()))?;
    if bytes.len() as u64 > LARGEST {
        return Err(fault("it is longer than 64 MB".to_owned()));
    }
    String::from_utf8(bytes).map_err(|why| fault(format!("it is not UTF-8 ({})", why.utf8_error())))
}

/// JSON without repeated names.
pub fn parse(text: &str) -> Result<Value, WireError> {
    serde_json::from_str::<Once>(text).map(|once| once.0).map_err(|why| {
        let sentence =
            if text.trim().is_empty() { "No JSON was given.".to_owned() } else { format!("This is not JSON: {why}.") };
        WireError::new("bad-json", sentence, "Give one object, or an array of objects.")
    })
}

/// A JSON value in which no object has the same name twice.
struct Once(Value);

impl<'de> Deserialize<'de> for Once {
    fn deserialize<D: Deserializer<'de>>(source: D) -> Result<Once, D::Error> {
        source.deserialize_any(OnceVisitor).map(Once)
    }
}

struct OnceVisitor;

impl<'de> Visitor<'de> for OnceVisitor {
    type Value = Value;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_f64<E: serde::de::Error>(self, value: f64) -> Result<Value, E> {
        Number::from_f64(value).map(Value::Number).ok_or_else(|| E::custom("a number outside the range of numbers"))
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut access: A) -> Result<Value, A::Error> {
        let mut elements = Vec::new();
        while let Some(Once(element)) = access.next_element()? {
            elements.push(element);
        }
        Ok(Value::Array(elements))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Value, A::Error> {
        let mut object = Map::new();
        while let Some(name) = access.next_key::<String>()? {
            let Once(value) = access.next_value()?;
            if object.contains_key(&name) {
                return Err(A::Error::custom(format!("the name \"{name}\" stands twice in one object")));
            }
            object.insert(name, value);
        }
        Ok(Value::Object(object))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_given_twice_is_refused_at_any_depth() {
        let error = parse(r#"{"act":"press","body":[{"bond":"1","bond":"2"}]}"#).unwrap_err();
        assert_eq!(error.code, "bad-json");
        assert!(error.sentence.contains("\"bond\" stands twice"), "{}", error.sentence);
    }

    #[test]
    fn every_sort_of_value_comes_through_as_serde_json_reads_it() {
        let text = r#"{"a":[null,true,-1,18446744073709551615,0.5,1e3,"ü\u0000"],"b":{}}"#;
        assert_eq!(parse(text).unwrap(), serde_json::from_str::<Value>(text).unwrap());
    }

    #[test]
    fn what_follows_the_object_is_refused() {
        assert_eq!(parse("{} {}").unwrap_err().code, "bad-json");
        assert_eq!(parse("").unwrap_err().sentence, "No JSON was given.");
    }
}
