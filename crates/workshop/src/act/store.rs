//! The stores: lots and the cans under them.

use super::desk::Desk;
use super::{Enact, instant, text, typed};
use crate::wire::WireError;
use logbook::entry::{Body, card};
use logbook::store::Noun;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A lot of one component of a card.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Lot {
    /// Unique in the shop.
    pub mark: String,
    /// Card.
    pub card: String,
    /// `resin`, `hardener` or `filler`.
    pub role: String,
    /// Received: a day or an instant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub received: Option<String>,
    /// Good until the end of this day, or this instant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expires: Option<String>,
}

/// A can under a lot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Container {
    /// Unique in the shop.
    pub mark: String,
    /// Lot.
    pub lot: String,
    /// What it held when new: `1 kg` or `500 ml`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds: Option<String>,
    /// Place where it stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stored: Option<String>,
    /// Opened: a day or an instant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened: Option<String>,
}

const ROLES: &[&str] = &["resin", "hardener", "filler"];

impl Enact for Lot {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let mark = desk.unused(Noun::Lot, "body.mark", &self.mark)?;
        let card = desk.find(Noun::Card, "body.card", &self.card)?;
        let role = text::word("body.role", &self.role, ROLES)?.to_owned();
        let latest_ms = desk.latest_ms();
        let received = |typed: &String| instant::past_day("body.received", typed, desk.now, latest_ms);
        let received_ms = self.received.as_ref().map(received).transpose()?;
        let expires = |typed: &String| instant::until_day("body.expires", typed, desk.now);
        let expires_ms = self.expires.as_ref().map(expires).transpose()?;
        let (id, subject) = desk.subject_id();
        desk.put_as(id, Body::Lot(card::Lot { mark, card, role, received_ms, expires_ms }), vec![subject]);
        Ok(())
    }
}

impl Enact for Container {
    fn enact(self, desk: &mut Desk) -> Result<(), WireError> {
        let mark = desk.unused(Noun::Container, "body.mark", &self.mark)?;
        let lot = desk.find(Noun::Lot, "body.lot", &self.lot)?;
        let holds = typed::maybe("body.holds", self.holds.as_deref(), typed::amount)?;
        let stored = desk.find_if(Noun::Place, "body.stored", self.stored.as_deref())?;
        let latest_ms = desk.latest_ms();
        let opened = |typed: &String| instant::past_day("body.opened", typed, desk.now, latest_ms);
        let opened_ms = self.opened.as_ref().map(opened).transpose()?;
        let about = vec![lot.clone()];
        desk.put(Body::Container(card::Container { mark, lot, holds, stored, opened_ms }), about);
        Ok(())
    }
}
