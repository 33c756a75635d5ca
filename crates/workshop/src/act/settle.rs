//! What settles an owed reason or a broken limit.

use super::desk::Desk;
use super::{Enact, text};
use crate::judge::{Finding, Judge};
use crate::wire::{WireError, shown};
use logbook::entry::{Body, Id, settle};
use logbook::settled::Seen;
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Why something missing cannot be known.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Reason {
    /// The bond (all that is missing), the owed sentence itself, or `bond 47: squeeze-out`.
    pub of: String,
    /// The reason, at most 10 kB.
    pub text: String,
}

/// A bond's broken limits decided.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Decide {
    /// Bond.
    pub bond: String,
    /// `accepted`, `rejected` or `redo`.
    pub verdict: String,
    /// Why, at most 10 kB.
    pub why: String,
}

const VERDICTS: &[&str] = &["accepted", "rejected", "redo"];

impl Enact for Reason {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let text = text::said("body.text", &self.text)?;
        let (bond, word) = self.meant(desk)?;
        if let Some(of) = settled_then(desk, &bond, word.as_deref()) {
            let about = super::bond::subjects(desk, &bond)?;
            desk.put(Body::Reason(settle::Reason { bond, of, text }), about);
            return Ok(());
        }
        let missing: Vec<Finding> =
            findings(desk, &bond)?.into_iter().filter(|one| Finding::by_reason(&one.key)).collect();
        let fits = |one: &&Finding| word.as_ref().is_none_or(|word| named(&one.key, word));
        let of: Vec<String> = missing.iter().filter(fits).map(|one| one.key.clone()).collect();
        if of.is_empty() {
            let owed: Vec<String> = missing.iter().map(|one| one.key.clone()).collect();
            let range =
                if owed.is_empty() { "nothing that a reason settles is owed".to_owned() } else { owed.join(", ") };
            let sentence = format!("body.of is \"{}\", which is not among what is owed: {range}.", shown(&self.of));
            let error = WireError::new("not-found", sentence, "Look at what is owed; a broken limit takes a decision.");
            return Err(error.field("body.of").value(&self.of).range(range));
        }
        let about = super::bond::subjects(desk, &bond)?;
        desk.put(Body::Reason(settle::Reason { bond, of, text }), about);
        Ok(())
    }
}

impl Reason {
    /// The bond, and the word of what is owed where one is named.
    fn meant(&self, desk: &Desk) -> Result<(Id, Option<String>), WireError> {
        let of = self.of.trim();
        let bare = of.strip_prefix("bond ").or_else(|| of.strip_prefix("bond:")).unwrap_or(of);
        let (bond, rest) = bare.split_once(':').unwrap_or((bare, ""));
        let bond = desk.find(Noun::Bond, "body.of", bond)?;
        let rest = rest.trim();
        if rest.is_empty() {
            return Ok((bond, None));
        }
        let owed = findings(desk, &bond)?
            .into_iter()
            .find(|one| one.sentence.trim_end_matches('.') == of.trim_end_matches('.'));
        let word = rest.trim_end_matches('.').trim_end_matches(" not recorded").replace(' ', "-").to_lowercase();
        Ok((bond, Some(owed.map_or(word, |one| one.key))))
    }
}

/// What the reason under correction settled, when the correction means the same: that a value came later, or more was
/// found, takes nothing from it and adds nothing.
fn settled_then(desk: &Desk, bond: &str, word: Option<&str>) -> Option<Vec<String>> {
    let original = desk.replaces.as_ref()?;
    let Body::Reason(then) = &original.body else { return None };
    let same = match (word, then.of.as_slice()) {
        (None, [] | [_]) => false,
        (None, _) => true,
        (Some(word), [one]) => named(one, word),
        _ => false,
    };
    (then.bond == bond && same).then(|| then.of.clone())
}

/// A key as it may be named: whole, without its batch, or without its first word too.
fn named(key: &str, word: &str) -> bool {
    let bare = key.split('@').next().unwrap_or(key);
    key == word
        || key.replace(' ', "-").to_lowercase() == word
        || bare == word
        || bare.split_once(':').is_some_and(|(_, rest)| rest == word)
}

impl Enact for Decide {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let bond = desk.find(Noun::Bond, "body.bond", &self.bond)?;
        let verdict = text::word("body.verdict", &self.verdict, VERDICTS)?.to_owned();
        let why = text::said("body.why", &self.why)?;
        // A correction, or a decision entered late, has a why of its own, which stays the entry's.
        desk.why.get_or_insert_with(|| why.clone());
        let found = match found_then(desk, &bond) {
            Some(then) => then,
            None => {
                let keys = findings(desk, &bond)?.into_iter().map(|one| one.key);
                keys.filter(|key| !key.starts_with("decided:")).collect()
            }
        };
        let about = super::bond::subjects(desk, &bond)?;
        desk.put(Body::Decide(settle::Decide { bond, verdict, found, why: Some(why) }), about);
        Ok(())
    }
}

/// What was found when the decision under correction was taken: a correction of its words decides nothing new.
fn found_then(desk: &Desk, bond: &str) -> Option<Vec<String>> {
    let original = desk.replaces.as_ref().filter(|one| one.happened_ms == desk.happened_ms)?;
    match &original.body {
        Body::Decide(then) if then.bond == bond => Some(then.found.clone()),
        _ => None,
    }
}

/// What is found on a bond at the instant of this act, before it.
fn findings(desk: &Desk, bond: &str) -> Result<Vec<Finding>, WireError> {
    let seen = Seen { at_ms: desk.happened_ms, known_ms: i64::MAX };
    Ok(Judge::new(desk.book, seen, desk.axis).findings(bond)?)
}
