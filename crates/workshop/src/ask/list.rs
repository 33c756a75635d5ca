//! Lists and single entries: names, bonds, what is owed, one entry, heads of logs.

use super::answer::{
    BondLine, BondsAnswer, CheckpointAnswer, EnterMissing, EntryAnswer, HeadAnswer, HeadLine, ListAnswer, Named,
    OwedAnswer, OwedBond, OwedFinding,
};
use super::question::{EntryAsked, List};
use super::{Asking, entries, sentence};
use crate::judge::findings::Finding;
use crate::judge::rest::Outline;
use crate::judge::words::instant;
use crate::wire::WireError;
use logbook::checkpoint::root_text;
use logbook::entry::{Body, Id};
use logbook::store::{Error, Head, Noun};

/// Nouns that can be listed.
const NOUNS: [(&str, Noun); 11] = [
    ("person", Noun::Person),
    ("place", Noun::Place),
    ("instrument", Noun::Instrument),
    ("card", Noun::Card),
    ("lot", Noun::Lot),
    ("container", Noun::Container),
    ("kind", Noun::Kind),
    ("set", Noun::Set),
    ("part", Noun::Part),
    ("batch", Noun::Batch),
    ("bond", Noun::Bond),
];

/// Answers `list`.
pub fn list(asking: &Asking, asked: &List) -> Result<ListAnswer, WireError> {
    let Some((_, noun)) = NOUNS.iter().find(|(word, _)| *word == asked.of) else {
        let words: Vec<&str> = NOUNS.iter().map(|one| one.0).collect();
        let error = WireError::new(
            "not-found",
            "body.of is no noun that can be listed.",
            format!("One of: {}.", words.join(", ")),
        );
        return Err(error.field("body.of").value(&asked.of).range(words.join(", ")));
    };
    let mut list = Vec::new();
    for (name, id) in asking.book.list(*noun)? {
        if asking.judge.in_force(&id)?.is_some() {
            list.push(Named { name, id });
        }
    }
    Ok(ListAnswer { of: asked.of.clone(), list })
}

/// Answers `owed`.
pub fn owed(asking: &Asking) -> Result<OwedAnswer, WireError> {
    let mut bonds = Vec::new();
    for (name, id) in asking.book.list(Noun::Bond)? {
        let owed = asking.judge.outline(&id)?.map(|one| one.owed).unwrap_or_default();
        if !owed.is_empty() {
            let mut findings = Vec::new();
            for one in owed {
                findings.push(owed_finding(asking, one, &name, &id)?);
            }
            bonds.push(OwedBond { bond: name, findings });
        }
    }
    let owed = bonds.iter().flat_map(|bond| bond.findings.iter().map(|one| one.sentence.clone())).collect();
    Ok(OwedAnswer { at: instant(asking.at_ms), owed, bonds })
}

/// What settles a finding. A mix or its amounts may still be entered; for all else that is missing a reason is asked.
fn owed_finding(asking: &Asking, (key, sentence): (String, String), bond: &str, id: &Id) -> Result<OwedFinding, Error> {
    let bare = key.split('@').next().unwrap_or(&key);
    let enter = match bare.strip_prefix("missing:") {
        Some(what) => Some(enter(asking, what, key.split_once('@').map(|(_, batch)| batch), bond, id)?),
        None => None,
    };
    let (settled_by, of) = match bare {
        "missing:mix" | "missing:amounts" => ("value", format!("{bond}: {key}")),
        _ if Finding::by_reason(&key) => ("reason", format!("{bond}: {key}")),
        _ => ("decide", bond.to_owned()),
    };
    Ok(OwedFinding { key, sentence, settled: false, settled_by: settled_by.to_owned(), of, enter })
}

/// Where the value that is missing is entered.
fn enter(asking: &Asking, what: &str, batch: Option<&str>, bond: &str, id: &Id) -> Result<EnterMissing, Error> {
    let mut enter = EnterMissing { act: "press".to_owned(), ..EnterMissing::default() };
    match what {
        "moisture" => {
            enter.act = "correct".to_owned();
            enter.entry = Some(id.clone());
            enter.field = Some(what.to_owned());
        }
        "mix" | "amounts" | "hardener-in" => {
            enter.batch = batch_of(asking, batch, id)?;
            if what == "hardener-in" {
                enter.press = Some(what.to_owned());
            } else {
                enter.act = "mix".to_owned();
            }
        }
        press => {
            enter.press = Some(press.to_owned());
            enter.bond = Some(bond.to_owned());
        }
    }
    Ok(enter)
}

/// The batch of a bond with this name, or its first.
fn batch_of(asking: &Asking, name: Option<&str>, bond: &Id) -> Result<Option<Id>, Error> {
    let one = asking.judge.in_force(bond)?;
    let Some(Body::Bond(bond)) = one.as_ref().map(|one| &one.body) else { return Ok(None) };
    for used in &bond.batches {
        if name.is_none() || Some(asking.judge.name(&used.batch)?.as_str()) == name {
            return Ok(Some(used.batch.clone()));
        }
    }
    Ok(None)
}

/// Answers `bonds`.
pub fn bonds(asking: &Asking) -> Result<BondsAnswer, WireError> {
    let line = |(entry, one): (Id, Outline)| BondLine {
        id: one.name,
        entry,
        state: one.state,
        parts: one.marks,
        batches: one.batches,
        last_press: one.last_press,
        owed: one.owed.into_iter().map(|(_, sentence)| sentence).collect(),
    };
    let bonds = asking.outlines()?.into_iter().map(line).collect();
    Ok(BondsAnswer { at: instant(asking.at_ms), bonds })
}

impl Asking<'_> {
    /// All bonds in order of making, each with what lists tell of it.
    pub(super) fn outlines(&self) -> Result<Vec<(Id, Outline)>, Error> {
        let mut all = Vec::new();
        for (_, id) in self.book.list(Noun::Bond)? {
            if let Some(one) = self.judge.outline(&id)? {
                all.push((id, one));
            }
        }
        Ok(all)
    }
}

/// Answers `entry`.
pub fn entry(asking: &Asking, asked: &EntryAsked) -> Result<EntryAnswer, WireError> {
    let found = match (&asked.id, asked.seq) {
        (Some(id), None) => asking.book.entry(id)?,
        (None, Some(seq)) => match asked.log.clone().or(asking.book.own()?.map(|head| head.log)) {
            Some(log) => asking.book.entry_at(&log, seq)?,
            None => None,
        },
        _ => {
            let sentence = "body names an entry by id or by seq: exactly one of them.";
            return Err(WireError::new("missing", sentence, "Add \"id\" or \"seq\".").field("body.id"));
        }
    };
    let shown = asked.id.clone().or(asked.seq.map(|seq| seq.to_string())).unwrap_or_default();
    let Some(entry) = found else {
        let field = if asked.id.is_some() { "body.id" } else { "body.seq" };
        let error = WireError::new(
            "not-found",
            format!("{field} names no entry of this book."),
            "Look the number up in a trace.",
        );
        return Err(error.field(field).value(&shown));
    };
    let versions = asking.book.versions(&entry.id)?;
    let amended_by =
        versions.iter().filter(|one| one.seq > entry.seq || one.log != entry.log).map(|one| one.id.clone());
    let value = entry
        .to_value()
        .map_err(|error| WireError::new("fault", format!("The entry could not be written: {error}."), ""))?;
    let act = entries::act(asking, &entry)?;
    Ok(EntryAnswer {
        entry: value,
        amended_by: amended_by.collect(),
        said: sentence::said(asking, &entry)?,
        fields: entries::fields(asking, &entry, act.as_ref())?,
        act,
    })
}

/// Answers `head`.
pub fn head(asking: &Asking) -> Result<HeadAnswer, WireError> {
    let mut logs: Vec<HeadLine> = asking.book.logs()?.iter().map(head_line).collect();
    logs.sort_by(|a, b| (a.standing != "own", &a.log).cmp(&(b.standing != "own", &b.log)));
    Ok(HeadAnswer { logs })
}

/// Answers `checkpoint`.
pub fn checkpoint(asking: &Asking) -> Result<CheckpointAnswer, WireError> {
    asking.book.own()?.map(|head| checkpoint_of(&head)).ok_or_else(|| {
        WireError::new("not-a-book", "This book is empty: it has no log yet.", "The first act begins its log.")
    })
}

/// A head as a checkpoint.
pub fn checkpoint_of(head: &Head) -> CheckpointAnswer {
    CheckpointAnswer { log: head.log.clone(), size: head.size, root: root_text(&head.root) }
}

/// A head as a line.
pub fn head_line(head: &Head) -> HeadLine {
    HeadLine { log: head.log.clone(), standing: head.standing.clone(), size: head.size, root: root_text(&head.root) }
}
