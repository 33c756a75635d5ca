//! A small book for the store's own tests: fixed ids, fixed instants.

use logbook::entry::book::LogStart;
use logbook::entry::{self, Body, Draft, Id, Stamp, typed};
use logbook::store::{Appended, Block, Book, Error};
use std::path::Path;

/// The n-th made-up id of a sort: a lower-case UUID that can be read at a glance.
pub fn id(sort: u8, n: u64) -> Id {
    format!("{sort:08x}-0000-4000-8000-{n:012x}")
}

/// 2026-11-24 08:00 UTC.
pub const T0: i64 = 1_795_593_600_000;

pub fn stamp(act: u64, at_ms: i64) -> Stamp {
    Stamp { act: id(0xac, act), entered_ms: at_ms, boot: "boot-1".into(), boot_ms: at_ms - T0, zone_min: 60 }
}

pub fn draft(id: Id, body: Body, about: &[Id], happened_ms: i64) -> Draft {
    Draft { id, body, about: about.to_vec(), happened_ms, corrects: None, why: None, person: None }
}

pub fn start() -> Draft {
    let body = Body::LogStart(LogStart { program: "0.1.0".into(), made_up: Some(true), continues: None });
    draft(id(1, 0), body, &[], T0)
}

/// A new book whose log has its first entry.
pub fn book(path: &Path) -> Book {
    let mut book = Book::create(path).unwrap();
    book.transact(|book| book.begin_log(&id(0, 1), &stamp(0, T0), start())).unwrap();
    book
}

/// Appends one act at the size the book has.
pub fn act(book: &mut Book, stamp: &Stamp, drafts: Vec<Draft>, blocks: &[Block]) -> Result<Appended, Error> {
    book.transact(|book| {
        let size = book.own()?.map_or(0, |head| head.size);
        book.append(size, stamp, drafts, blocks)
    })
}

pub fn kelvin(mk: i64) -> typed::Temperature {
    typed::Temperature { mk, typed: format!("{mk} mk"), step_mk: None, by: None }
}

pub fn place(name: &str) -> Body {
    Body::Place(entry::place::Place { name: name.into(), feed: None, heated_from: None })
}

pub fn part(mark: &str) -> Body {
    Body::Part(entry::part::Part { mark: mark.into(), assembly: None, kind: None, service: None })
}

pub fn batch(name: &str) -> Body {
    Body::Batch(entry::mix::Batch { name: name.into(), day: "2026-11-24".into() })
}

pub fn bond(number: u64, batch: &Id, part: &Id) -> Body {
    Body::Bond(entry::bond::Bond {
        number,
        batches: vec![entry::bond::BatchUse { batch: batch.clone(), from: None, to: None }],
        joints: vec![entry::part::JointRef { part: part.clone(), mark: "J1".into() }],
        stage: None,
        presses: 6,
        place: None,
        place_from: None,
        bent: None,
        moisture: None,
        moisture_from: None,
        wood_temperature: None,
        stored: None,
        layer_below: None,
        pressure: None,
        pressure_as_planned: None,
        dry_run: None,
        clamping_ms: None,
    })
}

pub fn press(word: &str, bond: Option<&Id>, batch: Option<&Id>) -> Body {
    Body::Press(entry::bond::Press {
        press: word.into(),
        bond: bond.cloned(),
        batch: batch.cloned(),
        seen: None,
        said: None,
    })
}

pub fn reading(place: &Id, mk: i64) -> Body {
    Body::Reading(entry::place::Reading {
        place: place.clone(),
        temperature: kelvin(mk),
        humidity: None,
        wood_temperature: None,
        wood_moisture: None,
        lowest: None,
        instrument: None,
    })
}

pub fn withdrawn(entry: &Id) -> Body {
    Body::Withdrawn(entry::settle::Withdrawn { entry: entry.clone(), taken_back: None })
}

/// A correction of an entry.
pub fn correction(new: Id, of: &Id, body: Body, about: &[Id], happened_ms: i64) -> Draft {
    Draft { corrects: Some(of.clone()), why: Some("misread".into()), ..draft(new, body, about, happened_ms) }
}
