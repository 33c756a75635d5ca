//! The door for acts: one JSON object in, one receipt or one error out. An act is one transaction of one or more
//! entries, or none; the same key again repeats the receipt.

use super::desk::Desk;
use super::written::Written;
use super::{Act, Enact, instant, names, read, receipt, text};
use crate::clock::Now;
use crate::time::{self, Axis};
use crate::wire::{Receipt, WireError, shown};
use crate::{Workshop, file};
use logbook::entry::{Id, Stamp};
use logbook::store::{Appended, Book, Error, Mode, Noun};
use serde_json::Value;
use sha2::{Digest, Sha256};
use unicode_normalization::UnicodeNormalization;

/// At most so many bonds and batches are looked at after an act, to put them to rest.
const RESTED: u32 = 4;

/// One act as asked, read as far as it can be without a book.
#[derive(Clone)]
struct Asked {
    key: String,
    key_given: bool,
    person: Option<String>,
    happened: Option<(i64, String)>,
    why: Option<String>,
    act: Act,
    digest: [u8; 32],
}

impl Asked {
    fn read(json: Value, ids: &mut Ids) -> Result<Asked, WireError> {
        let digest = digest(&json);
        let envelope = read::envelope(json)?;
        let happened = |typed: String| instant::any("happened", &typed).map(|at_ms| (at_ms, typed));
        let body = envelope.body.unwrap_or_else(|| Value::Object(serde_json::Map::new()));
        Ok(Asked {
            key_given: envelope.key.is_some(),
            key: envelope.key.map_or_else(|| Ok(ids()), |key| text::name("key", &key))?,
            person: envelope.person,
            happened: envelope.happened.map(happened).transpose()?,
            why: envelope.why.map(|why| text::note("why", &why)).transpose()?,
            act: Act::read(&envelope.act, body)?,
            digest,
        })
    }
}

/// Digest of everything asked but the key. Fields of a JSON object stand in order of their names.
fn digest(json: &Value) -> [u8; 32] {
    let mut asked = json.clone();
    if let Some(fields) = asked.as_object_mut() {
        fields.remove("key");
    }
    Sha256::digest(asked.to_string()).into()
}

/// Why a transaction is not kept: a refusal, or because the act said what an earlier one did.
enum Unkept {
    Refused(WireError),
    Same(Box<Receipt>),
}

impl From<WireError> for Unkept {
    fn from(error: WireError) -> Unkept {
        Unkept::Refused(error)
    }
}

impl From<Error> for Unkept {
    fn from(error: Error) -> Unkept {
        Unkept::Refused(error.into())
    }
}

type Ids = Box<dyn FnMut() -> String + Send>;

impl Workshop {
    /// Does one act: `{"act":"press","key":"…","person":"ann","happened":"…","why":"…","body":{…}}`. The first act on
    /// a path without a file makes the book. The same key again gives the same receipt and appends nothing.
    ///
    /// Errors: a refusal names field, value and range and leaves the book as it was; code 4 errors say what is wrong
    /// with the book.
    pub fn act(&mut self, json: Value) -> Result<Receipt, WireError> {
        let asked = Asked::read(json, &mut self.ids)?;
        let done = match self.writer() {
            Ok(book) => self.acted(book, &asked),
            Err(Error::Missing) => self.begun(&asked),
            Err(error) => Err(error.into()),
        };
        if done.as_ref().is_err_and(|error| error.exit() != 2) {
            self.book = None;
        }
        done
    }

    fn writer(&mut self) -> Result<Book, Error> {
        let identity = file::identity(&self.path);
        match self.book.take() {
            Some((same, book)) if same == identity && !identity.is_empty() && file::writable(&self.path) => Ok(book),
            _ => Book::open(&self.path, Mode::Write),
        }
    }

    fn acted(&mut self, mut book: Book, asked: &Asked) -> Result<Receipt, WireError> {
        let identity = file::identity(&self.path);
        let done = self.kept(&mut book, asked, &identity);
        // The act is kept by now: whatever comes of this changes nothing of it.
        let rested = match &done {
            Ok(receipt) if !receipt.repeat => self.round.go_on(&mut book, &self.clock.now(), RESTED),
            _ => Ok(()),
        };
        self.book = rested.is_ok().then_some((identity, book));
        done
    }

    /// The first act of a book. The file appears under its name with the act in it, or not at all.
    fn begun(&mut self, asked: &Asked) -> Result<Receipt, WireError> {
        let draft = file::beside(&self.path, &asked.digest);
        let receipt =
            Book::create(&draft).map_err(WireError::from).and_then(|mut book| self.kept(&mut book, asked, ""));
        let published = receipt.and_then(|receipt| file::publish(&draft, &self.path).map(|()| receipt));
        file::discard(&draft);
        published
    }

    fn kept(&mut self, book: &mut Book, asked: &Asked, identity: &str) -> Result<Receipt, WireError> {
        let (now, made_up) = (self.clock.now(), self.made_up);
        let ids = &mut self.ids;
        let kept = book.transact(|book| {
            let writing = Writing { book, now: &now, identity, made_up };
            writing.act(asked.clone(), ids)
        });
        match kept {
            Ok(receipt) => Ok(receipt),
            Err(Unkept::Same(receipt)) => Ok(*receipt),
            Err(Unkept::Refused(error)) => Err(error),
        }
    }
}

/// One act inside its transaction.
struct Writing<'a> {
    book: &'a Book,
    now: &'a Now,
    identity: &'a str,
    made_up: bool,
}

impl Writing<'_> {
    fn act(&self, asked: Asked, ids: &mut Ids) -> Result<Receipt, Unkept> {
        let (book, now) = (self.book, self.now);
        if let Some(before) = book.by_act(&asked.key)? {
            return Ok(self.repeated(&before, &asked)?);
        }
        let stamp = Stamp {
            act: asked.key.clone(),
            entered_ms: now.wall_ms,
            boot: now.boot.clone(),
            boot_ms: now.boot_ms,
            zone_min: now.zone_min,
        };
        let mut written = Written::new(book, &stamp);
        written.own_log(now, ids, self.identity, self.made_up)?;
        let axis = written.time(now, ids)?;
        if asked.key_given {
            book.note_asked(&asked.key, &asked.digest)?;
        }
        let mut desk = Desk::new(book, &axis, now, ids);
        lay(&mut desk, &asked)?;
        asked.act.enact(&mut desk)?;
        if let Some(same) = desk.same_as.take() {
            let before = book.by_act(&same)?.ok_or_else(|| WireError::new("fault", "An act has gone.", ""))?;
            return Err(Unkept::Same(Box::new(receipt::of(book, &before, &axis, true)?)));
        }
        let (drafts, blocks) = (std::mem::take(&mut desk.drafts), std::mem::take(&mut desk.blocks));
        drop(desk);
        written.append(drafts, &blocks)?;
        Ok(receipt::of(book, &written.done()?, &axis, false)?)
    }

    /// The same key again: the same receipt, if it is the same act.
    fn repeated(&self, before: &Appended, asked: &Asked) -> Result<Receipt, WireError> {
        if self.book.asked(&asked.key)?.is_some_and(|digest| digest != asked.digest) {
            let key = shown(&asked.key);
            let sentence = format!("key is \"{key}\", under which this book keeps a different act.");
            let error = WireError::new("conflict", sentence, "Use a fresh key for a new act.").field("key");
            return Err(error.value(&asked.key).range("a key not used for another act"));
        }
        let axis: Axis = time::axis(self.book, self.now)?;
        receipt::of(self.book, before, &axis, true)
    }
}

/// Lays person, instant and reason on the desk.
fn lay(desk: &mut Desk, asked: &Asked) -> Result<(), WireError> {
    if let Some((at_ms, typed)) = &asked.happened {
        instant::not_future("happened", typed, *at_ms, desk.latest_ms())?;
        desk.happened_ms = *at_ms;
        desk.typed_instant = true;
    }
    desk.why.clone_from(&asked.why);
    desk.person = person(desk, asked)?;
    Ok(())
}

/// Who acts. Somebody may enter their own name.
fn person(desk: &mut Desk, asked: &Asked) -> Result<Option<Id>, WireError> {
    let Some(typed) = &asked.person else { return Ok(None) };
    match (names::resolve(desk.book, Noun::Person, "person", typed), &asked.act) {
        (Err(error), Act::Person(new)) if error.code == "not-found" => {
            let same = typed.trim().nfc().eq(new.name.trim().nfc());
            desk.names_itself = same;
            if same { Ok(None) } else { Err(error) }
        }
        (found, _) => found.map(Some),
    }
}
