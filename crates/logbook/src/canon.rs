//! Canonical bytes: RFC 8785 JSON for the integers-only values of entries, and the strict way back.
//!
//! The writer knows only what an entry may hold: objects, lists, strings, booleans and integers within
//! ±(2^53−1). The parser refuses duplicate keys, null, fractions, larger integers and deep nesting.

use serde::de::{self, DeserializeSeed, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Number, Value};
use std::fmt;

/// Largest integer of an entry: 2^53 − 1, exact in every JSON reader.
pub const LARGEST: i64 = 9_007_199_254_740_991;

/// Deepest nesting of an entry, the envelope counted as 1.
pub const DEEPEST: usize = 32;

/// Why bytes are not an entry's JSON, or a value cannot be written as one.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Refused(pub String);

/// Writes a value as canonical bytes. Refuses null, fractions, integers beyond ±(2^53−1) and deep nesting.
pub fn write(value: &Value) -> Result<Vec<u8>, Refused> {
    let mut out = Vec::with_capacity(1024);
    write_value(value, DEEPEST, &mut out)?;
    Ok(out)
}

fn write_value(value: &Value, depth: usize, out: &mut Vec<u8>) -> Result<(), Refused> {
    match value {
        Value::Null => Err(Refused("null is refused: leave the field out".into())),
        Value::Bool(flag) => {
            out.extend_from_slice(if *flag { b"true" } else { b"false" });
            Ok(())
        }
        Value::Number(number) => {
            out.extend_from_slice(integer(number)?.to_string().as_bytes());
            Ok(())
        }
        Value::String(text) => {
            write_text(text, out);
            Ok(())
        }
        Value::Array(items) => write_list(items, deeper(depth)?, out),
        Value::Object(fields) => write_object(fields, deeper(depth)?, out),
    }
}

fn write_list(items: &[Value], depth: usize, out: &mut Vec<u8>) -> Result<(), Refused> {
    out.push(b'[');
    for (at, item) in items.iter().enumerate() {
        if at > 0 {
            out.push(b',');
        }
        write_value(item, depth, out)?;
    }
    out.push(b']');
    Ok(())
}

/// The map is sorted by UTF-8 bytes; RFC 8785 sorts by UTF-16 units. They differ only beyond ASCII.
fn write_object(fields: &Map<String, Value>, depth: usize, out: &mut Vec<u8>) -> Result<(), Refused> {
    let mut sorted: Vec<(&String, &Value)> = fields.iter().collect();
    if sorted.iter().any(|(key, _)| !key.is_ascii()) {
        sorted.sort_by(|a, b| a.0.encode_utf16().cmp(b.0.encode_utf16()));
    } else {
        sorted.sort_by(|a, b| a.0.cmp(b.0));
    }
    out.push(b'{');
    for (at, (key, item)) in sorted.into_iter().enumerate() {
        if at > 0 {
            out.push(b',');
        }
        write_text(key, out);
        out.push(b':');
        write_value(item, depth, out)?;
    }
    out.push(b'}');
    Ok(())
}

fn write_text(text: &str, out: &mut Vec<u8>) {
    out.push(b'"');
    for byte in text.bytes() {
        match byte {
            b'"' => out.extend_from_slice(b"\\\""),
            b'\\' => out.extend_from_slice(b"\\\\"),
            0x08 => out.extend_from_slice(b"\\b"),
            0x09 => out.extend_from_slice(b"\\t"),
            0x0a => out.extend_from_slice(b"\\n"),
            0x0c => out.extend_from_slice(b"\\f"),
            0x0d => out.extend_from_slice(b"\\r"),
            0x00..=0x1f => out.extend_from_slice(format!("\\u{byte:04x}").as_bytes()),
            _ => out.push(byte),
        }
    }
    out.push(b'"');
}

fn integer(number: &Number) -> Result<i64, Refused> {
    let whole = number.as_i64().ok_or_else(|| Refused(format!("{number} is not an integer within ±(2^53−1)")))?;
    within(whole)
}

fn within(whole: i64) -> Result<i64, Refused> {
    if (-LARGEST..=LARGEST).contains(&whole) {
        Ok(whole)
    } else {
        Err(Refused(format!("{whole} is beyond ±(2^53−1)")))
    }
}

fn deeper(depth: usize) -> Result<usize, Refused> {
    depth.checked_sub(1).ok_or_else(|| Refused(format!("nested deeper than {DEEPEST}")))
}

/// Reads bytes strictly. The order of keys and the spelling are not judged here: write the value again and compare.
pub fn parse(bytes: &[u8]) -> Result<Value, Refused> {
    let mut reader = serde_json::Deserializer::from_slice(bytes);
    let value = Strict(DEEPEST).deserialize(&mut reader).map_err(|error| Refused(error.to_string()))?;
    reader.end().map_err(|error| Refused(error.to_string()))?;
    Ok(value)
}

/// Reads one value with so many levels left.
struct Strict(usize);

impl<'de> DeserializeSeed<'de> for Strict {
    type Value = Value;

    fn deserialize<D: de::Deserializer<'de>>(self, reader: D) -> Result<Value, D::Error> {
        reader.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Strict {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("an object, list, string, boolean or whole number")
    }

    fn visit_bool<E: de::Error>(self, flag: bool) -> Result<Value, E> {
        Ok(Value::Bool(flag))
    }

    fn visit_i64<E: de::Error>(self, whole: i64) -> Result<Value, E> {
        within(whole).map(Value::from).map_err(E::custom)
    }

    fn visit_u64<E: de::Error>(self, whole: u64) -> Result<Value, E> {
        let whole = i64::try_from(whole).map_err(|_| E::custom(format!("{whole} is beyond ±(2^53−1)")))?;
        self.visit_i64(whole)
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<Value, E> {
        Err(E::custom(format!("{number} is not a whole number")))
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Value, E> {
        Ok(Value::String(text.to_owned()))
    }

    fn visit_unit<E: de::Error>(self) -> Result<Value, E> {
        Err(E::custom("null is refused"))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Value, A::Error> {
        let depth = deeper(self.0).map_err(de::Error::custom)?;
        let mut items = Vec::new();
        while let Some(item) = list.next_element_seed(Strict(depth))? {
            items.push(item);
        }
        Ok(Value::Array(items))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut object: A) -> Result<Value, A::Error> {
        let depth = deeper(self.0).map_err(de::Error::custom)?;
        let mut fields = Map::new();
        while let Some(key) = object.next_key::<String>()? {
            if fields.contains_key(&key) {
                return Err(de::Error::custom(format!("the key \"{key}\" stands twice")));
            }
            let item = object.next_value_seed(Strict(depth))?;
            fields.insert(key, item);
        }
        Ok(Value::Object(fields))
    }
}
