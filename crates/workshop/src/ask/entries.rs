//! Entries as they were made: newest first in sentences, page by page; and one of them field by field, with the act
//! that corrects it.

use super::answer::{EntriesAnswer, EntryAct, EntryField, EntryRow};
use super::question::EntriesAsked;
use super::{Asking, act_body, lines, sentence};
use crate::judge::words::instant;
use crate::wire::WireError;
use chrono::{DateTime, FixedOffset};
use logbook::entry::{Body, Entry, Id, KINDS};
use logbook::settled::{Settled, settle};
use logbook::store::{Error, Head, Noun, Wanted};
use serde_json::Value;

/// Entries on a page, unless asked otherwise; and the most.
const PAGE: u64 = 50;
const MOST: u64 = 500;

const NOUNS: [Noun; 11] = [
    Noun::Part,
    Noun::Bond,
    Noun::Batch,
    Noun::Lot,
    Noun::Container,
    Noun::Card,
    Noun::Place,
    Noun::Person,
    Noun::Instrument,
    Noun::Kind,
    Noun::Set,
];

/// Answers `entries`.
pub fn entries(asking: &Asking, asked: &EntriesAsked) -> Result<EntriesAnswer, WireError> {
    let most = limit(asked.limit)?;
    let kind = asked.kind.as_deref().map(kind).transpose()?;
    let about = asked.about.as_deref().map(|typed| about(asking, typed)).transpose()?;
    let logs = logs(asking)?;
    let at = match &asked.log {
        None => 0,
        Some(log) => logs.iter().position(|head| head.log == *log).ok_or_else(|| no_log(log))?,
    };
    let Some(head) = logs.get(at) else {
        return Ok(EntriesAnswer { log: None, entries: Vec::new(), total: 0, next_before: None, next_log: None });
    };
    let before = asked.before.unwrap_or(u64::MAX);
    let wanted = Wanted { about: about.as_deref(), kind, seen: asking.judge.seen, before, most };
    let page = asking.book.page(&head.log, wanted)?;
    let rows = page.entries.iter().map(|entry| row(asking, entry)).collect::<Result<_, _>>()?;
    let next_log = if page.next.is_none() { logs.get(at + 1).map(|head| head.log.clone()) } else { None };
    Ok(EntriesAnswer { log: Some(head.log.clone()), entries: rows, total: head.size, next_before: page.next, next_log })
}

fn limit(limit: Option<u64>) -> Result<u64, WireError> {
    match limit.unwrap_or(PAGE) {
        most @ 1..=MOST => Ok(most),
        other => {
            let error = WireError::new(
                "out-of-range",
                format!("body.limit is {other}; it takes 1 to {MOST}."),
                "Ask for the next page with \"before\".",
            );
            Err(error.field("body.limit").value(&other.to_string()).range(format!("1 to {MOST}")))
        }
    }
}

fn kind(word: &str) -> Result<&'static str, WireError> {
    KINDS.iter().find(|kind| **kind == word).copied().ok_or_else(|| {
        let kinds = KINDS.join(", ");
        let error = WireError::new("not-found", "body.kind is no kind of entry.", format!("One of: {kinds}."));
        error.field("body.kind").value(word).range(kinds)
    })
}

/// The thing meant: `bond:47`, a mark or name, or an id. A bare name is looked for among parts first.
fn about(asking: &Asking, typed: &str) -> Result<Id, WireError> {
    let field = "body.about";
    let (word, _) = typed.split_once(':').unwrap_or(("", typed));
    if let Some(noun) = NOUNS.into_iter().find(|noun| noun.word() == word.trim()) {
        return asking.find(noun, field, typed);
    }
    let mut first = None;
    for noun in NOUNS {
        match asking.find(noun, field, typed) {
            Err(error) if error.code == "not-found" => first = first.or(Some(error)),
            found => return found,
        }
    }
    let mut error = first.unwrap_or_else(|| WireError::new("not-found", "", ""));
    error.sentence = format!("{field} is \"{}\", but nothing of that name is in this book.", crate::wire::shown(typed));
    "a name in this book, or part:, bond:, batch:, lot:, card:, place: and a name"
        .clone_into(error.range.get_or_insert_default());
    Err(error)
}

fn no_log(log: &str) -> WireError {
    let error = WireError::new("not-found", "body.log is no log of this book.", "Ask for the heads of all logs.");
    error.field("body.log").value(log)
}

/// The log written now, then the others by id.
fn logs(asking: &Asking) -> Result<Vec<Head>, Error> {
    let own = asking.book.own()?.map(|head| head.log);
    let mut logs = asking.book.logs()?;
    logs.sort_by(|a, b| (Some(&a.log) != own.as_ref(), &a.log).cmp(&(Some(&b.log) != own.as_ref(), &b.log)));
    Ok(logs)
}

fn row(asking: &Asking, entry: &Entry) -> Result<EntryRow, Error> {
    let versions = asking.versions(&entry.id)?;
    let corrections = versions.iter().filter(|one| one.corrects.as_ref() == Some(&entry.id));
    let target = match (&entry.corrects, &entry.body) {
        (Some(original), _) => Some(original),
        (None, Body::Withdrawn(it)) => Some(&it.entry),
        _ => None,
    };
    Ok(EntryRow {
        seq: entry.seq,
        id: entry.id.clone(),
        log: entry.log.clone(),
        kind: entry.body.kind().to_owned(),
        happened: moment(asking, entry.happened_ms),
        entered: moment(asking, entry.entered_ms),
        late: lines::late(entry),
        person: asking.person(entry)?,
        said: sentence::said(asking, entry)?,
        corrects: target.map(|id| asking.book.seq(id)).transpose()?.flatten(),
        corrected_by: corrections.map(|one| one.seq).collect(),
        withdrawn: gone(&versions, &entry.id),
        why: entry.why.clone(),
        can_correct: corrected(asking, entry)?.is_some_and(|one| crate::act::WORDS.contains(&one.body.kind())),
    })
}

/// Withdrawn by a withdrawal that stands.
fn gone(versions: &[Entry], id: &str) -> bool {
    versions.iter().any(|one| matches!(&one.body, Body::Withdrawn(it) if it.entry == id) && !gone(versions, &one.id))
}

/// "Tue 24 Nov 14:31:05"; the year where it is another one.
fn moment(asking: &Asking, ms: i64) -> String {
    let local = |ms: i64| {
        let offset = FixedOffset::east_opt(asking.zone_min * 60)?;
        Some(DateTime::from_timestamp_millis(ms)?.with_timezone(&offset))
    };
    let (Some(at), Some(now)) = (local(ms), local(asking.at_ms)) else { return instant(ms) };
    let same_year = at.format("%Y").to_string() == now.format("%Y").to_string();
    at.format(if same_year { "%a %-d %b %H:%M:%S" } else { "%a %-d %b %Y %H:%M:%S" }).to_string()
}

/// What a correction of an entry would replace, as it is in force; None: it is another log's, or withdrawn.
fn corrected(asking: &Asking, entry: &Entry) -> Result<Option<Settled>, Error> {
    if asking.book.own()?.is_none_or(|head| head.log != entry.log) {
        return Ok(None);
    }
    let original = entry.corrects.as_ref().unwrap_or(&entry.id);
    let settled = settle(&asking.versions(original)?, asking.judge.seen);
    Ok(settled.into_iter().find(|one| one.entry.id == *original))
}

/// The act that corrects an entry, with the body now in force; None: it is not corrected by hand, or is withdrawn.
pub fn act(asking: &Asking, entry: &Entry) -> Result<Option<EntryAct>, Error> {
    let Some(one) = corrected(asking, entry)? else { return Ok(None) };
    let act = act_body::of(asking, &one)?;
    Ok(act.map(|(word, body)| EntryAct { act: word.to_owned(), body }))
}

/// The fields of an entry: those of its act where there is one, else those stored, in words.
pub fn fields(asking: &Asking, entry: &Entry, act: Option<&EntryAct>) -> Result<Vec<EntryField>, Error> {
    let body = match act {
        Some(act) => act.body.clone(),
        None => entry.body.write().unwrap_or_default(),
    };
    let mut fields = Vec::new();
    gather(asking, &body, "", "", &mut fields)?;
    Ok(fields)
}

fn gather(asking: &Asking, value: &Value, path: &str, label: &str, into: &mut Vec<EntryField>) -> Result<(), Error> {
    let value = value.get("as").unwrap_or(value);
    let text = match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                let path = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
                gather(asking, value, &path, &under(label, name), into)?;
            }
            return Ok(());
        }
        Value::Array(items) => {
            for (at, value) in items.iter().enumerate() {
                gather(asking, value, &format!("{path}[{at}]"), &nth(label, at), into)?;
            }
            return Ok(());
        }
        Value::String(text) if logbook::entry::read::is_id(text) => asking.judge.name(text)?,
        Value::String(text) => text.clone(),
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Value::Number(number) => match number.as_i64() {
            Some(ms) if path.ends_with("_ms") && ms > 631_152_000_000 => moment(asking, ms),
            _ => number.to_string(),
        },
        Value::Null => return Ok(()),
    };
    into.push(EntryField { path: path.to_owned(), label: label.to_owned(), value: text });
    Ok(())
}

/// "Limit 1, point 2, time".
fn under(label: &str, name: &str) -> String {
    let words = name.trim_end_matches("_ms").replace('_', " ");
    if !label.is_empty() {
        return format!("{label}, {words}");
    }
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().collect::<String>() + letters.as_str()).unwrap_or_default()
}

/// The nth of a list: "Limits" and 0 into "Limit 1".
fn nth(label: &str, at: usize) -> String {
    let one = label.strip_suffix("ches").map(|stem| format!("{stem}ch"));
    let one = one.unwrap_or_else(|| label.strip_suffix('s').unwrap_or(label).to_owned());
    format!("{one} {}", at + 1)
}

impl Asking<'_> {
    /// An entry with its corrections and withdrawals, as far as they are known at the moment asked about.
    fn versions(&self, id: &str) -> Result<Vec<Entry>, Error> {
        let mut versions = self.book.versions(id)?;
        versions.retain(|one| one.entered_ms <= self.judge.seen.known_ms);
        Ok(versions)
    }
}
