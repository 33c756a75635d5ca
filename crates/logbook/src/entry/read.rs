//! From bytes back to an entry, and which ids an entry names.

use super::{About, Body, Entry, Id, VERSION};
use crate::canon;
use serde::Deserialize;
use serde_json::Value;

/// Why stored bytes are not an entry this build reads.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unread {
    /// Its version is beyond this build's.
    #[error("the entry has version {0}; this program knows {VERSION}")]
    Newer(u32),
    /// It is not an entry at all.
    #[error("{0}")]
    Wrong(String),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Envelope {
    about: Vec<About>,
    act: String,
    body: Value,
    boot: String,
    boot_ms: i64,
    #[serde(default)]
    corrects: Option<Id>,
    entered_ms: i64,
    happened_ms: i64,
    id: Id,
    kind: String,
    log: Id,
    order_ms: i64,
    #[serde(default)]
    person: Option<Id>,
    seq: u64,
    #[serde(rename = "version")]
    _version: u32,
    #[serde(default)]
    why: Option<String>,
    zone_min: i32,
}

impl Entry {
    /// The canonical bytes.
    pub fn to_bytes(&self) -> Result<Vec<u8>, canon::Refused> {
        let value = self.to_value().map_err(|error| canon::Refused(error.to_string()))?;
        canon::write(&value)
    }

    /// Reads an entry from its bytes, strictly.
    pub fn from_bytes(bytes: &[u8]) -> Result<Entry, Unread> {
        let value = canon::parse(bytes).map_err(|error| Unread::Wrong(error.0))?;
        Entry::from_value(value)
    }

    /// Reads an entry from its parsed JSON.
    pub fn from_value(value: Value) -> Result<Entry, Unread> {
        if let Some(version) = value.get("version").and_then(Value::as_u64)
            && version > u64::from(VERSION)
        {
            return Err(Unread::Newer(u32::try_from(version).unwrap_or(u32::MAX)));
        }
        let wrong = |error: serde_json::Error| Unread::Wrong(error.to_string());
        let envelope: Envelope = serde_json::from_value(value).map_err(wrong)?;
        Ok(Entry {
            about: envelope.about,
            act: envelope.act,
            body: Body::read(&envelope.kind, envelope.body).map_err(wrong)?,
            boot: envelope.boot,
            boot_ms: envelope.boot_ms,
            corrects: envelope.corrects,
            entered_ms: envelope.entered_ms,
            happened_ms: envelope.happened_ms,
            id: envelope.id,
            log: envelope.log,
            order_ms: envelope.order_ms,
            person: envelope.person,
            seq: envelope.seq,
            why: envelope.why,
            zone_min: envelope.zone_min,
        })
    }
}

/// Ids that stand anywhere in a value: every string in the form of a lower-case UUID, each once, in order of place.
pub fn ids_in(value: &Value) -> Vec<Id> {
    let mut found = Vec::new();
    gather(value, &mut found);
    found
}

fn gather(value: &Value, found: &mut Vec<Id>) {
    match value {
        Value::String(text) if is_id(text) && !found.contains(text) => found.push(text.clone()),
        Value::Array(items) => items.iter().for_each(|item| gather(item, found)),
        Value::Object(fields) => fields.values().for_each(|item| gather(item, found)),
        _ => {}
    }
}

/// True for a lower-case UUID: 8-4-4-4-12 hexadecimal digits.
pub fn is_id(text: &str) -> bool {
    text.len() == 36
        && text.bytes().enumerate().all(|(at, byte)| match at {
            8 | 13 | 18 | 23 => byte == b'-',
            _ => matches!(byte, b'0'..=b'9' | b'a'..=b'f'),
        })
}
