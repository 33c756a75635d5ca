//! Each command: which act or question it stands for, and what is done with the answer.

use crate::args::{Amounts, Args, ClocksOf, Command, Entries, PostCure, Pour};
use crate::door::{self, Doors, Instants};
use crate::output::{DONE, FAULT, FOUND, Output};
use crate::{demo, figure, input, place, record, say, watch};
use serde_json::{Map, Value, json};
use std::path::{Path, PathBuf};
use workshop::reader::Reader;
use workshop::wire::WireError;

/// Runs a command; gives the exit status.
pub fn run(args: Args) -> u8 {
    let mut output = Output::new(args.json || args.command.always_json());
    let worst = match prepare(&args) {
        Ok((book, instants)) => {
            let reader = if args.units == "us" { Reader::US } else { Reader::default() };
            dispatch(args.command, &book, (instants, reader), &mut output)
        }
        Err(error) => output.error(&error),
    };
    output.status(worst)
}

/// The book and the instants, before anything is opened.
fn prepare(args: &Args) -> Result<(PathBuf, Instants), WireError> {
    if let (Some(word), true) = (args.command.without_instants(), args.at.is_some() || args.known_at.is_some()) {
        let sentence = format!("--at and --known-at do not go with `{word}`.");
        let advice = "A late act says in its field \"happened\" when it happened; it is judged then.";
        let field = if args.at.is_some() { "--at" } else { "--known-at" };
        return Err(WireError { field: Some(field.to_owned()), ..WireError::new("contradicts", sentence, advice) });
    }
    let instants = Instants {
        at_ms: instant("--at", args.at.as_deref())?,
        known_ms: instant("--known-at", args.known_at.as_deref())?,
    };
    let book = place::book(args.book.as_deref());
    if matches!(args.command, Command::Act(_)) {
        place::make_folder(&book, args.book.is_some()).map_err(|why| disk(&book, &why))?;
    }
    Ok((book, instants))
}

fn dispatch(command: Command, book: &Path, (instants, reader): (Instants, Reader), output: &mut Output) -> u8 {
    let mut doors = Doors::new(book, instants, reader);
    match command {
        Command::Act(given) => {
            each(given.input.as_deref(), output, |value| doors.act(value).map(|receipt| json!({ "receipt": receipt })))
        }
        Command::Ask(given) => {
            each(given.input.as_deref(), output, |value| doors.ask(value).map(|answer| json!({ "answer": answer })))
        }
        Command::Clocks(of) => answer(&doors, "clocks", clocks_body(of), output),
        Command::Trace { part } => answer(&doors, "trace", json!({ "part": part }), output),
        Command::WhereUsed { lot } => answer(&doors, "where-used", json!({ "lot": lot }), output),
        Command::Verify { depth, checkpoint } => verify(&doors, &depth, checkpoint.as_deref(), output),
        Command::Checkpoint { out } => checkpoint(&doors, out.as_deref(), output),
        Command::Record(what) => record::run(&mut doors, &what, output),
        Command::Page { part } => record::preview(&doors, &part, output),
        Command::Owed => answer(&doors, "owed", json!({}), output),
        Command::Bench => answer(&doors, "bench", json!({}), output),
        Command::Batch { name } => answer(&doors, "batch", json!({ "batch": name }), output),
        Command::Amounts(amounts) => answer(&doors, "amounts", amounts_body(amounts), output),
        Command::Pour(cup) => answer(&doors, "pour", pour_body(cup), output),
        Command::PostCure(tent) => answer(&doors, "post-cure", post_cure_body(tent), output),
        Command::List { noun } => answer(&doors, "list", json!({ "of": noun }), output),
        Command::Parts => answer(&doors, "parts", json!({}), output),
        Command::Stores => answer(&doors, "stores", json!({}), output),
        Command::Entries(page) => answer(&doors, "entries", entries_body(page), output),
        Command::Entry { id } => answer(&doors, "entry", entry_body(&id), output),
        Command::Figure(asked) => figure::run(&doors, &asked, output),
        Command::Schema => schema(output),
        Command::Demo { file, until } => demo(&file, until.as_deref(), output),
        Command::Watch(how) => watch::run(book, &how, reader, output),
    }
}

/// One line per element; nothing stops at a refusal. The worst exit status counts.
fn each(argument: Option<&str>, output: &mut Output, mut through: impl FnMut(Value) -> Result<Value, WireError>) -> u8 {
    let values = match input::objects(argument) {
        Ok(values) => values,
        Err(error) => return output.error(&error),
    };
    let mut worst = DONE;
    for value in values {
        match through(value) {
            Ok(line) => output.object(&line),
            Err(error) => worst = worst.max(output.error(&error)),
        }
    }
    worst
}

/// Asks a question and prints its answer.
fn answer(doors: &Doors, question: &str, body: Value, output: &mut Output) -> u8 {
    match doors.question(question, body) {
        Ok(answer) => {
            output.answer(&answer, || say::answer(question, &answer));
            DONE
        }
        Err(error) => output.error(&error),
    }
}

fn clocks_body(of: ClocksOf) -> Value {
    let mut body = Map::new();
    for (name, value) in [("bond", of.bond.or(of.of)), ("batch", of.batch), ("part", of.part)] {
        put(&mut body, name, value);
    }
    Value::Object(body)
}

fn amounts_body(amounts: Amounts) -> Value {
    let mut body = Map::new();
    put(&mut body, "card", Some(amounts.card));
    for (name, value) in
        [("resin", amounts.resin), ("hardener", amounts.hardener), ("total", amounts.total), ("cup", amounts.cup)]
    {
        put(&mut body, name, value);
    }
    Value::Object(body)
}

fn pour_body(cup: Pour) -> Value {
    let mut body = Map::new();
    let texts = [("place", cup.place), ("start_temperature", cup.start), ("vessel", cup.vessel)];
    for (name, value) in [("card", Some(cup.card)), ("mass", Some(cup.mass))].into_iter().chain(texts) {
        put(&mut body, name, value);
    }
    body.insert("containers".to_owned(), json!(cup.cans));
    Value::Object(body)
}

fn post_cure_body(tent: PostCure) -> Value {
    let mut body = Map::new();
    for (name, value) in [("bond", Some(tent.bond)), ("to", Some(tent.to)), ("service", tent.service)] {
        put(&mut body, name, value);
    }
    body.insert("faces".to_owned(), json!(if tent.one_face { 1 } else { 2 }));
    Value::Object(body)
}

fn entries_body(page: Entries) -> Value {
    let mut body = Map::new();
    for (name, value) in [("before", page.before), ("limit", page.limit)] {
        body.extend(value.map(|value| (name.to_owned(), json!(value))));
    }
    put(&mut body, "about", page.about);
    put(&mut body, "kind", page.kind);
    Value::Object(body)
}

fn put(body: &mut Map<String, Value>, name: &str, value: Option<String>) {
    if let Some(value) = value {
        body.insert(name.to_owned(), Value::String(value));
    }
}

/// A number means a place in the own log, anything else an id.
fn entry_body(id: &str) -> Value {
    match id.parse::<u64>() {
        Ok(seq) => json!({ "seq": seq }),
        Err(_) => json!({ "id": id }),
    }
}

fn verify(doors: &Doors, depth: &str, checkpoint: Option<&Path>, output: &mut Output) -> u8 {
    let mut body = json!({ "depth": depth });
    if let Some(file) = checkpoint {
        match std::fs::read_to_string(file) {
            Ok(text) => body["checkpoint"] = Value::String(text),
            Err(why) => {
                let sentence = format!("The checkpoint file {} cannot be read: {why}.", file.display());
                let advice = "It is a text of three lines: log, size, root.";
                return output.error(&WireError::new("not-found", sentence, advice));
            }
        }
    }
    match doors.question("verify", body) {
        Ok(answer) => {
            output.answer(&answer, || say::answer("verify", &answer));
            if answer["ok"] == Value::Bool(true) { DONE } else { FOUND }
        }
        Err(error) => output.error(&error),
    }
}

fn checkpoint(doors: &Doors, out: Option<&Path>, output: &mut Output) -> u8 {
    let answer = match doors.question("checkpoint", json!({})) {
        Ok(answer) => answer,
        Err(error) => return output.error(&error),
    };
    let text = say::checkpoint(&answer);
    match out.map(|file| write_file(file, &text)) {
        Some(Err(error)) => not_written(&error, output),
        Some(Ok(())) if !output.json() => DONE,
        _ => {
            output.answer(&answer, || text);
            DONE
        }
    }
}

/// The book is usable, so this is not its exit status.
pub fn not_written(error: &WireError, output: &mut Output) -> u8 {
    output.error(error);
    FAULT
}

fn schema(output: &mut Output) -> u8 {
    match serde_json::to_string_pretty(&door::schema()) {
        Ok(text) => {
            output.write(&format!("{text}\n"));
            DONE
        }
        Err(why) => output.error(&WireError::new("fault", format!("The schema cannot be written: {why}."), "")),
    }
}

fn write_file(file: &Path, text: &str) -> Result<(), WireError> {
    std::fs::write(file, text).map_err(|why| disk(file, &why))
}

pub fn disk(file: &Path, why: &std::io::Error) -> WireError {
    let sentence = format!("{} cannot be written: {why}.", file.display());
    WireError::new("disk", sentence, "Name a place that can be written.")
}

/// Strict RFC 3339 to milliseconds since 1970.
fn instant(name: &str, text: Option<&str>) -> Result<Option<i64>, WireError> {
    let Some(text) = text else { return Ok(None) };
    match chrono::DateTime::parse_from_rfc3339(text) {
        Ok(instant) => Ok(Some(instant.timestamp_millis())),
        Err(why) => {
            let sentence = format!("{name} \"{text}\" is not an instant: {why}.");
            let error = WireError::new(
                "out-of-range",
                sentence,
                "Write it like 2026-11-25T09:10:00Z or 2026-11-25T10:10:00+01:00.",
            );
            Err(WireError { field: Some(name.to_owned()), value: Some(text.to_owned()), ..error })
        }
    }
}

fn demo(file: &Path, until: Option<&str>, output: &mut Output) -> u8 {
    let written =
        instant("--until", until).and_then(|until_ms| demo::write(file, until_ms.unwrap_or_else(door::now_ms)));
    match written {
        Ok(made) => {
            output.answer(&made, || demo::said(&made));
            DONE
        }
        Err(error) => output.error(&error),
    }
}
