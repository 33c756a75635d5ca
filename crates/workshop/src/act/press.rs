//! The presses at the bench.

use super::desk::Desk;
use super::{Enact, batch, bond as bonds, text};
use crate::judge;
use crate::wire::{WireError, shown};
use logbook::entry::{Body, Entry, Id, bond};
use logbook::settled::Seen;
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One press at the bench; it names a bond or a batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Press {
    /// `hardener-in`, `first-glue-on`, `together`, `all-tight`, `squeeze-out`, `first-clamp-off`, `pot-done`, `clamp-lost`, `re-tightened`, `used` or `taken-back`.
    pub press: String,
    /// Bond: `47`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bond: Option<String>,
    /// Batch: `Tue 3`. Hardener in without one takes the batch just mixed, else makes one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
    /// Squeeze-out: `all-round`, `not-all-round`, `cannot-see`. Used: `planed`, `loaded`, `shipped`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen: Option<String>,
    /// Taken back: the press itself, by id or place in the log.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<String>,
}

const PRESSES: &[&str] = &[
    "hardener-in",
    "first-glue-on",
    "together",
    "all-tight",
    "squeeze-out",
    "first-clamp-off",
    "pot-done",
    "clamp-lost",
    "re-tightened",
    "used",
    "taken-back",
];
const SQUEEZE_OUT: &[&str] = &["all-round", "not-all-round", "cannot-see"];
const USES: &[&str] = &["planed", "loaded", "shipped"];
/// A press may be taken back without a reason for this long, ms.
const TAKE_BACK_MS: i64 = 10_000;

impl Enact for Press {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let press = text::word("body.press", &self.press, PRESSES)?;
        if self.bond.is_some() && self.batch.is_some() {
            let sentence = "body.bond and body.batch are both given; a press names one of them.";
            let error = WireError::new("contradicts", sentence, "Leave one of them out.").field("body.batch");
            return Err(error.range("a bond or a batch"));
        }
        if press != "taken-back" && self.entry.is_some() {
            let sentence = format!("body.entry is given, but a press \"{press}\" names a bond or a batch.");
            let error = WireError::new("contradicts", sentence, "Leave the entry out.").field("body.entry");
            return Err(error.range("taken-back"));
        }
        match press {
            "taken-back" => self.take_back(desk),
            "hardener-in" => self.hardener_in(desk),
            "pot-done" => self.pot_done(desk),
            _ => self.on_bond(desk, press),
        }
    }
}

impl Press {
    /// *Hardener in* makes a batch, unless one is named or was just mixed without it.
    fn hardener_in(&self, desk: &mut Desk) -> Result<(), WireError> {
        self.nothing_seen("hardener-in")?;
        let named = match (&self.batch, &self.bond) {
            (None, None) => None,
            _ => Some(self.batch_meant(desk)?),
        };
        let batch = batch::for_hardener(desk, named)?;
        put(desk, "hardener-in", None, Some(batch), None)
    }

    fn pot_done(&self, desk: &mut Desk) -> Result<(), WireError> {
        self.nothing_seen("pot-done")?;
        let batch = self.batch_meant(desk)?;
        put(desk, "pot-done", None, Some(batch), None)
    }

    fn on_bond(&self, desk: &mut Desk, press: &str) -> Result<(), WireError> {
        let seen = self.seen(press)?;
        let bond = self.bond_meant(desk)?;
        put(desk, press, Some(bond), None, seen)
    }

    fn seen(&self, press: &str) -> Result<Option<String>, WireError> {
        let words = match press {
            "squeeze-out" => SQUEEZE_OUT,
            "used" => USES,
            _ => {
                self.nothing_seen(press)?;
                return Ok(None);
            }
        };
        match &self.seen {
            Some(seen) => Ok(Some(text::word("body.seen", seen, words)?.to_owned())),
            None if press == "used" => Ok(None),
            None => {
                let range = words.join(", ");
                let sentence = format!("body.seen is missing: {press} is one of {range}.");
                let error =
                    WireError::new("missing", sentence, "Look along the joint while it is wet, and say what you saw.");
                Err(error.field("body.seen").range(range))
            }
        }
    }

    fn nothing_seen(&self, press: &str) -> Result<(), WireError> {
        let Some(seen) = &self.seen else { return Ok(()) };
        let sentence = format!("body.seen is \"{}\", but nothing is looked at when {press} is pressed.", shown(seen));
        let error = WireError::new("contradicts", sentence, "Leave it out.").field("body.seen");
        Err(error.value(seen).range("squeeze-out and used"))
    }

    /// The bond named, or the only one of the batch named.
    fn bond_meant(&self, desk: &Desk) -> Result<Id, WireError> {
        if let Some(bond) = &self.bond {
            return desk.find(Noun::Bond, "body.bond", bond);
        }
        let Some(batch) = &self.batch else {
            return Err(nameless("body.bond", "bond"));
        };
        let batch = desk.find(Noun::Batch, "body.batch", batch)?;
        let bonds = desk.judge.batch(&batch)?.map(|story| story.bonds.clone()).unwrap_or_default();
        only("body.batch", "bond", bonds)
    }

    /// The batch named, or the only one of the bond named.
    fn batch_meant(&self, desk: &Desk) -> Result<Id, WireError> {
        if let Some(batch) = &self.batch {
            return desk.find(Noun::Batch, "body.batch", batch);
        }
        let Some(bond) = &self.bond else {
            return Err(nameless("body.batch", "batch"));
        };
        let bond = desk.find(Noun::Bond, "body.bond", bond)?;
        let story = desk.judge.bond(&bond)?;
        let batches = story.map(|story| story.bond.batches.iter().map(|used| used.batch.clone()).collect());
        only("body.bond", "batch", batches.unwrap_or_default())
    }

    /// Withdraws the newest press of a bond or batch, or the press named, within ten seconds of its making.
    fn take_back(&self, desk: &mut Desk) -> Result<(), WireError> {
        self.nothing_seen("taken-back")?;
        if desk.replaces.is_some() {
            let sentence = "body.press is \"taken-back\", which replaces no press.";
            return Err(WireError::new("contradicts", sentence, "Withdraw the entry instead.").field("body.press"));
        }
        let press = self.press_meant(desk)?;
        let age_ms = age_ms(desk, &press);
        if !(0..=TAKE_BACK_MS).contains(&age_ms) {
            let age = age_ms / 1_000;
            let sentence =
                format!("body.press is \"taken-back\", but that press was made {age} s ago; it takes 0 to 10 s.");
            let error = WireError::new("contradicts", sentence, "Withdraw the entry and say why.").field("body.press");
            return Err(error.value("taken-back").range("0 to 10 s after the press"));
        }
        let about: Vec<Id> = press.about.iter().map(|one| one.id.clone()).collect();
        super::correct::put_withdrawal(desk, &press.id, about.clone(), true);
        if let Some(batch) = batch::made_with(desk, &press)? {
            super::correct::put_withdrawal(desk, &batch, about, true);
        }
        Ok(())
    }

    fn press_meant(&self, desk: &Desk) -> Result<Entry, WireError> {
        if let Some(entry) = &self.entry {
            let entry = super::correct::own_entry(desk, "body.entry", entry)?;
            let standing = desk.in_force(&entry.id)?.is_some();
            return if standing && matches!(entry.body, Body::Press(_)) {
                Ok(entry)
            } else {
                Err(no_press("body.entry"))
            };
        }
        let (field, subject) = match (&self.bond, &self.batch) {
            (Some(bond), _) => ("body.bond", desk.find(Noun::Bond, "body.bond", bond)?),
            (_, Some(batch)) => ("body.batch", desk.find(Noun::Batch, "body.batch", batch)?),
            _ => return Err(nameless("body.bond", "bond, batch or entry")),
        };
        let of_subject =
            |press: &bond::Press| press.bond.as_ref() == Some(&subject) || press.batch.as_ref() == Some(&subject);
        let entries = desk.judge.subject(&subject)?;
        let presses = entries.into_iter().filter(|one| matches!(&one.body, Body::Press(press) if of_subject(press)));
        presses.map(|one| one.entry).max_by_key(|entry| (entry.order_ms, entry.seq)).ok_or_else(|| no_press(field))
    }
}

/// Since the press was made, by the boot clock where it is the same boot.
fn age_ms(desk: &Desk, press: &Entry) -> i64 {
    if press.boot == desk.now.boot && desk.now.boot_ms >= press.boot_ms {
        desk.now.boot_ms - press.boot_ms
    } else {
        desk.now.wall_ms - press.entered_ms
    }
}

fn put(
    desk: &mut Desk,
    press: &str,
    bond: Option<Id>,
    batch: Option<Id>,
    seen: Option<String>,
) -> Result<(), WireError> {
    let mut about = match &bond {
        Some(bond) => bonds::subjects(desk, bond)?,
        None => Vec::new(),
    };
    about.extend(batch.clone());
    let said = match (&bond, press) {
        (Some(bond), "first-clamp-off" | "used") => match said_then(desk, press, bond) {
            Some(then) => then,
            None => said(desk, bond)?,
        },
        _ => None,
    };
    desk.put(Body::Press(bond::Press { press: press.to_owned(), bond, batch, seen, said }), about);
    Ok(())
}

/// What the clocks said at a press that a correction leaves where it was: what was said then stays.
fn said_then(desk: &Desk, press: &str, bond: &str) -> Option<Option<Vec<bond::Said>>> {
    let original = desk.replaces.as_ref().filter(|one| one.happened_ms == desk.happened_ms)?;
    match &original.body {
        Body::Press(then) if then.press == press && then.bond.as_deref() == Some(bond) => Some(then.said.clone()),
        _ => None,
    }
}

/// What the clocks of a bond say at the instant of this act, before it.
fn said(desk: &Desk, bond: &str) -> Result<Option<Vec<bond::Said>>, WireError> {
    let seen = Seen { at_ms: desk.happened_ms, known_ms: i64::MAX };
    let clocks = judge::clocks_of_bond(desk.book, bond, seen, desk.axis)?;
    Ok(Some(clocks.iter().map(judge::Reckoned::stored).collect()))
}

fn only(field: &str, noun: &str, mut found: Vec<Id>) -> Result<Id, WireError> {
    match (found.pop(), found.is_empty()) {
        (Some(one), true) => Ok(one),
        (None, _) => {
            let error = WireError::new("not-found", format!("{field} names no {noun}."), format!("Name the {noun}."));
            Err(error.field(field).range(format!("one {noun}")))
        }
        (Some(_), false) => {
            let sentence = format!("{field} leads to more than one {noun}.");
            Err(WireError::new("ambiguous", sentence, format!("Name the {noun}."))
                .field(field)
                .range(format!("one {noun}")))
        }
    }
}

fn nameless(field: &str, noun: &str) -> WireError {
    let error = WireError::new("missing", format!("{field} is missing: name the {noun}."), format!("Name the {noun}."));
    error.field(field).range(format!("a {noun} in this book"))
}

fn no_press(field: &str) -> WireError {
    let sentence = format!("{field} leads to no press that could be taken back.");
    WireError::new("not-found", sentence, "Name the bond, batch or press.").field(field).range("a press that stands")
}
